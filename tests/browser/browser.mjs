// Opens reports in headless Chromium. Reports are made once a suite, by the program under test, of invented recordings.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";

const program = process.env.PULSEWRIGHT_PROGRAM ?? "build/pulsewright";
const source = process.env.PULSEWRIGHT_SOURCE ?? ".";
const require = createRequire(path.join(process.env.PULSEWRIGHT_BROWSER_FOLDER ?? "build/tests/browser", "package.json"));
const { chromium } = require("playwright-core");

export const axePath = require.resolve("axe-core/axe.min.js");
export const widths = [360, 768, 1440];

export function run(...words) {
  return execFileSync(program, words, { stdio: ["ignore", "pipe", "pipe"], maxBuffer: 1 << 28, encoding: "utf8" });
}

// A folder with the reports that the suites look at, and a browser to do it.
export class Bench {
  static async open() {
    const bench = new Bench();
    bench.folder = mkdtempSync(path.join(tmpdir(), "pulsewright_browser_"));
    bench.chromium = await chromium.launch({
      executablePath: "/usr/bin/chromium",
      args: process.getuid() === 0 ? ["--no-sandbox"] : [],
    });
    return bench;
  }

  file(name) {
    return path.join(this.folder, name);
  }

  // Wren's stair-climb: a clean finger clip and a whole person.
  wren(language = "en") {
    const [report, workings] = [this.file(`wren_${language}.html`), this.file(`wren_workings_${language}.html`)];
    run("analyze", path.join(source, "datasets/simulated/wren_stair_climb.csv"), "--code", "wren", "--age", "15", "--resting", "66",
      "--report", report, "--workings", workings, "--language", language);
    return { report, workings };
  }

  // Plover's clip comes off now and then, and the noise is three times the usual.
  plover() {
    run("simulate", "--scenario", "stair-climb", "--person", "plover", "--kind", "pulse", "--losses", "1.5", "--noise", "3", "--duration",
      "180", "--out", this.folder, "--overwrite", "--name", "plover");
    const [report, workings] = [this.file("plover.html"), this.file("plover_workings.html")];
    run("analyze", this.file("plover.csv"), "--code", "plover", "--age", "14", "--report", report, "--workings", workings);
    return { report, workings };
  }

  // Heron's chest ECG with early beats; nothing is known of the person.
  heron() {
    run("simulate", "--scenario", "early-beats", "--person", "heron", "--kind", "ecg", "--duration", "120", "--out", this.folder,
      "--overwrite", "--name", "heron");
    const [report, workings] = [this.file("heron.html"), this.file("heron_workings.html")];
    run("analyze", this.file("heron.csv"), "--report", report, "--workings", workings);
    return { report, workings };
  }

  // A page with its complaints gathered in `complaints`.
  async page(file, { width = 1440, media, scheme = "light", scripts = true } = {}) {
    const context = await this.chromium.newContext({
      viewport: { width, height: 900 }, colorScheme: scheme, javaScriptEnabled: scripts, offline: true });
    const page = await context.newPage();
    page.complaints = [];
    page.on("console", (message) => ["error", "warning"].includes(message.type()) && page.complaints.push(message.text()));
    page.on("pageerror", (error) => page.complaints.push(error.message));
    page.on("request", (request) => request.url().startsWith("file:") || page.complaints.push(`asked for ${request.url().slice(0, 80)}`));
    if (media) await page.emulateMedia({ media });
    await page.goto(pathToFileURL(file).href);
    return page;
  }

  async close() {
    await this.chromium?.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
