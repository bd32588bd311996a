// Opens the page in headless Chromium from its file, as a double click does, and watches that nothing leaves it.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";

const program = path.resolve(process.env.PULSEWRIGHT_PROGRAM ?? "build/pulsewright");
export const source = path.resolve(process.env.PULSEWRIGHT_SOURCE ?? ".");
export const built = path.resolve(process.env.PULSEWRIGHT_PAGE ?? "build/pulsewright.html");
const require = createRequire(path.resolve(process.env.PULSEWRIGHT_BROWSER_FOLDER ?? "build/tests/browser", "package.json"));
const { chromium } = require("playwright-core");

export const axePath = require.resolve("axe-core/axe.min.js");
export const simulated = path.join(source, "datasets/simulated");
export const data = process.env.PULSEWRIGHT_DATA ?? path.resolve(source, "../shared/datasets");
export const hasData = existsSync(data);

/** What the program prints when it is run in `folder`. */
export function run(folder, ...words) {
  const { stdout, stderr, status } = spawnSync(program, words, { cwd: folder, maxBuffer: 1 << 28, encoding: "utf8" });
  return { stdout, stderr, status };
}

export class Bench {
  static async open() {
    const bench = new Bench();
    bench.folder = mkdtempSync(path.join(tmpdir(), "pulsewright_page_"));
    bench.chromium = await chromium.launch({ executablePath: "/usr/bin/chromium", args: process.getuid() === 0 ? ["--no-sandbox"] : [] });
    return bench;
  }

  file(name) {
    return path.join(this.folder, name);
  }

  /** The page, with its complaints and everything it asked for gathered. `before` is run in the page before its own scripts. */
  async page({ width = 1280, scheme = "light", language = "en-GB", view = "", before = null, file = built, context: given = null } = {}) {
    const context = given ?? await this.chromium.newContext({ viewport: { width, height: 900 }, colorScheme: scheme, locale: language, acceptDownloads: true });
    const page = await context.newPage();
    page.complaints = [];
    page.asked = [];
    page.on("console", (message) => ["error", "warning"].includes(message.type()) && page.complaints.push(message.text()));
    page.on("pageerror", (error) => page.complaints.push(error.message));
    page.on("request", (request) => page.asked.push(request.url()));
    if (before) await page.addInitScript(before);
    await page.goto(pathToFileURL(file).href + (view && `#${view}`));
    return page;
  }

  async close() {
    await this.chromium?.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** What a page may ask for: itself, and what it made itself. */
export function assertNothingLeft(page) {
  const out = page.asked.filter((address) => !/^(file:\/\/.*\/pulsewright\.html|blob:|data:)/.test(address));
  assert.deepEqual(out, [], "nothing but the page itself was asked for");
  assert.deepEqual(page.complaints, [], "no complaints");
}

/** The text of what a click saves. */
export async function saved(page, click) {
  const [download] = await Promise.all([page.waitForEvent("download"), click()]);
  return readFileSync(await download.path(), "utf8");
}

/** Chooses files and has the report of the first made. `person` by label; `reading` by label, inside the form on how to read it. */
export async function report(page, files, person = {}, reading = {}) {
  await page.setInputFiles("#choose-recording", files);
  const button = page.getByRole("button", { name: "Work out the report" }).first();
  await button.waitFor({ timeout: 60000 });
  for (const [label, value] of Object.entries(person)) await page.locator("#view-recording").getByLabel(label, { exact: true }).fill(value);
  if (Object.keys(reading).length > 0) await page.getByText("How to read this file").first().click();
  for (const [label, value] of Object.entries(reading)) {
    const input = page.locator("#view-recording").getByLabel(label, { exact: true });
    if ((await input.evaluate((element) => element.tagName)) === "SELECT") await input.selectOption(value);
    else await input.fill(value);
  }
  await button.click();
  await page.locator("iframe.report, .outcome .problem").first().waitFor({ timeout: 120000 });
}

export { path };
