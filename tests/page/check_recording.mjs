// A recording dropped on the page: told in plain words, its report the program's own file, printed and saved; damaged files end as in the program.
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { assertNothingLeft, Bench, path, report, run, saved, simulated } from "./page.mjs";

let bench;
before(async () => (bench = await Bench.open()));
after(async () => bench.close());

const heron = path.join(simulated, "heron_rest_ecg.csv");

test("a dropped recording is told in plain words before anything is computed", async () => {
  const page = await bench.page();
  const text = readFileSync(path.join(simulated, "wren_stair_climb.csv"), "utf8");
  await page.evaluate((content) => {
    const transfer = new DataTransfer();
    transfer.items.add(new File([content], "wren_stair_climb.csv"));
    document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: transfer, bubbles: true, cancelable: true }));
  }, text);
  await page.getByText("A recording of 8:00 (minutes and seconds) with one channel:").waitFor();
  assert.ok(await page.getByText("pulse_counts: an optical pulse, 100 samples a second").isVisible());
  assert.equal(await page.locator("iframe.report").count(), 0);
  assertNothingLeft(page);
  await page.context().close();
});

test("report, workings and tables are the program's files, byte for byte", async () => {
  const page = await bench.page();
  await report(page, [heron], { Code: "heron", "Age, years": "15" });
  const words = ["--code", "heron", "--age", "15"];
  run(simulated, "analyze", "heron_rest_ecg.csv", ...words, "--report", bench.file("report.html"), "--workings", bench.file("workings.html"), "--out", bench.file("out"));
  const pairs = [["Save the report", "report.html"], ["Save how it was computed", "workings.html"], ["Save beats (CSV)", "out/beats.csv"], ["Save intervals (CSV)", "out/intervals.csv"],
    ["Save heart rates (CSV)", "out/rate.csv"], ["Save the summary (text)", "out/summary.txt"]];
  for (const [label, file] of pairs)
    assert.equal(await saved(page, () => page.getByRole("button", { name: label }).click()), readFileSync(bench.file(file), "utf8"), label);
  assertNothingLeft(page);
  await page.context().close();
});

test("the report is shown whole, its scripts run, its links lead inside it, and it prints alone", async () => {
  const context = await bench.chromium.newContext({ viewport: { width: 1280, height: 900 }, locale: "en-GB" });
  await context.addInitScript(() => (window.print = () => (top.printed = (top.printed ?? 0) + (window === top ? 100 : 1))));
  const page = await bench.page({ context });
  await report(page, [heron]);
  const frame = page.frameLocator("iframe.report");
  assert.equal(await frame.locator("h1").innerText(), "Session report");
  await frame.getByRole("button", { name: "Later", exact: true }).click();
  await frame.locator('a[href="#rate"], .see').first().click();
  assert.equal(await frame.locator("h1").count(), 1);
  const [inside, outside] = await page.evaluate(() => {
    const element = document.querySelector("iframe.report");
    return [element.contentDocument.documentElement.scrollHeight, element.clientHeight];
  });
  assert.ok(outside >= inside - 2, `${outside} px show ${inside} px`);
  await page.getByRole("button", { name: "Print the report" }).click();
  assert.equal(await page.evaluate(() => window.printed), 1);
  assertNothingLeft(page);
  await context.close();
});

test("another language gives the same numbers in other words, and what was typed stays", async () => {
  const page = await bench.page();
  await report(page, [heron], { Code: "heron", "Age, years": "15" });
  await page.getByLabel("Language", { exact: true }).selectOption("de");
  await page.frameLocator("iframe.report").getByRole("heading", { level: 1, name: /Bericht/ }).waitFor();
  assert.equal(await page.locator("#view-recording").getByLabel("Alter, Jahre", { exact: true }).inputValue(), "15");
  assert.equal(await page.getAttribute("html", "lang"), "de");
  assertNothingLeft(page);
  await page.context().close();
});

// What the program says of each, the page says too, and goes on.
const damaged = {
  "nothing.csv": "",
  "words.csv": "to be or not to be\nthat is the question\n",
  "broken.csv": `time_s,pulse\n${Array.from({ length: 50 }, (_, i) => `${i / 50},${i === 20 || i === 22 || i === 24 ? "x" : 500 + (i % 7)}`).join("\n")}\n`,
  "lost.hea": "lost 1 100 1000\nlost.dat 16 200 12 0 0 0 0 ECG\n",
  "half.edf": "0       ".padEnd(184, " ") + "512     ".padEnd(60) + "1       1   ",
};

test("damaged files end with the program's message, and the page goes on", async () => {
  const page = await bench.page();
  for (const [name, content] of Object.entries(damaged)) {
    writeFileSync(bench.file(name), content);
    const { stderr, status } = run(bench.folder, "inspect", name);
    assert.ok(status >= 2, name);
    const message = stderr.trim().split("\n").at(-1).replace(/^pulsewright: error: /, "");
    await page.setInputFiles("#choose-recording", bench.file(name));
    await page.locator(".card .problem").waitFor();
    assert.equal(await page.locator(".card .problem").innerText(), message, name);
  }
  await report(page, [heron]);
  assert.equal(await page.locator("iframe.report").count(), 1);
  assertNothingLeft(page);
  await page.context().close();
});

test("a table without times is read once its rate is given", async () => {
  const rows = readFileSync(path.join(simulated, "wren_stair_climb.csv"), "utf8").trim().split("\n").slice(0, 6001);
  writeFileSync(bench.file("no_times.csv"), rows.map((row) => row.split(",")[1]).join("\n"));
  const page = await bench.page();
  await page.setInputFiles("#choose-recording", bench.file("no_times.csv"));
  await page.locator(".card .problem").waitFor();
  await page.getByLabel("Samples a second", { exact: true }).fill("100");
  await page.getByRole("button", { name: "Read it this way" }).click();
  await page.getByText("A recording of 1:00").waitFor();
  await page.getByRole("button", { name: "Work out the report" }).click();
  await page.locator("iframe.report").waitFor();
  const own = JSON.parse(await saved(page, () => page.getByRole("button", { name: "Save all numbers (JSON)" }).click()));
  assert.deepEqual(own.provenance.options, { rate_hz: 100 });
  await page.context().close();
});

test("long work can be stopped, and the page goes on", async () => {
  run(bench.folder, "simulate", "--scenario", "stair-climb", "--person", "plover", "--kind", "pulse", "--duration", "5400", "--out", ".", "--overwrite", "--name", "long");
  const page = await bench.page();
  await page.setInputFiles("#choose-recording", bench.file("long.csv"));
  await page.getByRole("button", { name: "Work out the report" }).waitFor({ timeout: 60000 });
  await page.getByRole("button", { name: "Work out the report" }).click();
  await page.getByText(/looking for beats|following the heart rate/).waitFor();
  await page.getByRole("button", { name: "Stop" }).click();
  await page.getByText("Stopped. Nothing was changed.").waitFor();
  await report(page, [heron]);
  assert.equal(await page.locator("iframe.report").count(), 1);
  assertNothingLeft(page);
  await page.context().close();
});
