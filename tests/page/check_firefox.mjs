// The page in Debian's Firefox, opened from its file: what needs no devices works there too, with the program's numbers.
import assert from "node:assert/strict";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { built, path, run, simulated } from "./page.mjs";

const firefox = ["/usr/bin/firefox-esr", "/usr/bin/firefox"].find((file) => existsSync(file));
const skip = !firefox && "Firefox is not installed";
const require = createRequire(path.resolve(process.env.PULSEWRIGHT_BROWSER_FOLDER ?? "build/tests/browser", "package.json"));

let browser, home;
before(async () => {
  if (skip) return;
  const { default: puppeteer } = await import(pathToFileURL(require.resolve("puppeteer-core")));
  home = mkdtempSync(path.join(tmpdir(), "pulsewright_firefox_"));
  browser = await puppeteer.launch({ browser: "firefox", executablePath: firefox, headless: true, env: { ...process.env, HOME: home } });
});
after(async () => {
  await browser?.close();
  if (home) rmSync(home, { recursive: true, force: true });
});

/** The page, its complaints gathered, and what it saves kept for reading. */
async function open(view) {
  const page = await browser.newPage();
  page.complaints = [];
  page.on("console", (message) => ["error", "warn"].includes(message.type()) && page.complaints.push(message.text()));
  page.on("pageerror", (error) => page.complaints.push(error.message));
  await page.evaluateOnNewDocument(() => {
    const made = URL.createObjectURL.bind(URL);
    URL.createObjectURL = (blob) => {
      window.lastBlob = blob;
      return made(blob);
    };
  });
  await page.goto(`${pathToFileURL(built).href}#${view}`);
  // In English, whatever the system speaks.
  await page.select("#language", "en");
  return page;
}

const button = (label) => `::-p-xpath(//button[normalize-space()="${label}"])`;

test("a recording: its numbers are the program's, and its report is shown whole", { skip }, async () => {
  const page = await open("recording");
  await (await page.waitForSelector("#choose-recording")).uploadFile(path.join(simulated, "heron_rest_ecg.csv"));
  await (await page.waitForSelector(button("Work out the report"), { timeout: 60000 })).click();
  await page.waitForSelector("iframe.report", { timeout: 60000 });
  await (await page.waitForSelector(button("Save all numbers (JSON)"))).click();
  await page.waitForFunction(() => window.lastBlob?.type === "application/json");
  const own = await page.evaluate(() => window.lastBlob.text());
  assert.equal(own, run(simulated, "analyze", "heron_rest_ecg.csv", "--format", "json").stdout);
  const [inside, outside] = await page.evaluate(() => {
    const frame = document.querySelector("iframe.report");
    return [frame.contentDocument.documentElement.scrollHeight, frame.clientHeight];
  });
  assert.ok(outside >= inside - 2, `${outside} px show ${inside} px`);
  assert.deepEqual(page.complaints, []);
  await page.close();
});

test("a class from dropped files, and a count by hand", { skip }, async () => {
  const page = await open("class");
  const files = ["club_roster.csv", "club_sheet.csv", "club/wren.csv", "club/heron.csv", "club/plover.csv"].map((name) => path.join(simulated, name));
  await (await page.waitForSelector("#choose-class")).uploadFile(...files);
  await page.waitForFunction(() => document.querySelectorAll("#view-class tbody tr").length >= 6, { timeout: 60000 });
  await (await page.waitForSelector(button("Work out the report of the class"))).click();
  await page.waitForSelector("#view-class iframe.report", { timeout: 60000 });
  await page.evaluate(() => (location.hash = "count"));
  await page.type("#view-count input.beats", "21");
  await page.waitForFunction(() => document.querySelector("#view-count td strong")?.textContent === "84 beats/min");
  assert.deepEqual(page.complaints, []);
  await page.close();
});

test("live: it is said that belts cannot be connected there", { skip }, async () => {
  const page = await open("live");
  assert.match(await page.$eval("#view-live", (view) => view.innerText), /This browser has no Web Bluetooth, so belts cannot be connected here\.|This browser connects no sensors/);
  await page.close();
});
