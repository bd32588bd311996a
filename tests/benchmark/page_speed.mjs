// How long the page takes beside the program, both in one run, as a table. Needs the page, the program and the packages of tests/browser:
//
//   PULSEWRIGHT_PAGE=build/pulsewright.html node tests/benchmark/page_speed.mjs
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { Bench, path, report, run } from "../page/page.mjs";

const repeats = 3;
const bench = await Bench.open();
const minutes = (count) => String(count * 60);

function simulate(name, ...words) {
  const { status, stderr } = run(bench.folder, "simulate", "--out", ".", "--overwrite", "--name", name, ...words);
  if (status !== 0) throw new Error(stderr);
}

/** The shortest of some runs, in seconds. */
async function shortest(work, times = repeats) {
  let best = Infinity;
  for (let i = 0; i < times; ++i) {
    const began = performance.now();
    await work();
    best = Math.min(best, (performance.now() - began) / 1000);
  }
  return best;
}

/** What the browser's processes hold, in MB. */
function memory() {
  let sum = 0;
  for (const pid of readdirSync("/proc").filter((name) => /^\d+$/.test(name))) {
    try {
      if (!readFileSync(`/proc/${pid}/cmdline`, "utf8").includes("--type=renderer")) continue;
      sum = Math.max(sum, Number(readFileSync(`/proc/${pid}/status`, "utf8").match(/VmRSS:\s+(\d+)/)[1]) / 1024);
    } catch {
      // Ended meanwhile.
    }
  }
  return Math.round(sum);
}

const rows = [];
function row(what, page, program) {
  rows.push([what, `${page.toFixed(2)} s`, program === null ? "" : `${program.toFixed(2)} s`, program === null ? "" : (page / program).toFixed(1), `${memory()} MB`]);
  console.log(rows.at(-1).join(" | "));
}

const first = await shortest(async () => {
  const page = await bench.page();
  await page.getByRole("heading", { name: "A recording and its report" }).waitFor();
  await page.context().close();
});
row("first view", first, null);

async function recording(what, name, times) {
  const program = await shortest(async () => run(bench.folder, "analyze", `${name}.csv`, "--report", `${name}.html`, "--format", "json"), times);
  const page = await bench.page();
  await page.setInputFiles("#choose-recording", bench.file(`${name}.csv`));
  const button = page.getByRole("button", { name: "Work out the report" });
  await button.waitFor({ timeout: 300000 });
  const own = await shortest(async () => {
    await page.evaluate(() => document.querySelector(".outcome").replaceChildren());
    await button.click();
    await page.locator("iframe.report").waitFor({ timeout: 600000 });
  }, times);
  row(what, own, program);
  await page.context().close();
}

simulate("clip", "--scenario", "stair-climb", "--person", "wren", "--kind", "pulse", "--duration", minutes(30));
await recording("half an hour of finger clip, 100 Hz", "clip");
simulate("chest", "--scenario", "early-beats", "--person", "heron", "--kind", "ecg", "--duration", minutes(30));
await recording("half an hour of ECG", "chest");

const codes = Array.from({ length: 30 }, (_, i) => `p${String(i + 1).padStart(2, "0")}`);
for (const [i, code] of codes.entries()) simulate(code, "--scenario", "stair-climb", "--person", "plover", "--kind", "pulse", "--duration", minutes(10), "--seed", String(i + 1));
writeFileSync(bench.file("roster.csv"), `code,age_years,resting_bpm\n${codes.map((code) => `${code},14,70\n`).join("")}`);
writeFileSync(bench.file("sheet.csv"), `code,file\n${codes.map((code) => `${code},${code}.csv\n`).join("")}`);
const program = await shortest(async () => run(bench.folder, "class", "sheet.csv", "--roster", "roster.csv", "--report", "class.html", "--format", "json"), 1);
const page = await bench.page({ view: "class" });
await page.setInputFiles("#choose-class", ["roster.csv", "sheet.csv", ...codes.map((code) => `${code}.csv`)].map((name) => bench.file(name)));
await page.getByRole("textbox", { name: "code, row 30" }).nth(1).waitFor({ timeout: 120000 });
row("a class of 30, ten minutes each", await shortest(async () => {
  await page.getByRole("button", { name: "Work out the report of the class" }).click();
  await page.locator("#view-class iframe.report").waitFor({ timeout: 600000 });
}, 1), program);
await page.context().close();

if (process.argv.includes("--day")) {
  simulate("day", "--scenario", "stair-climb", "--person", "wren", "--kind", "pulse", "--rate", "50", "--duration", minutes(24 * 60));
  await recording("a day of finger clip, 50 Hz", "day", 1);
}

await bench.close();
console.log("\n| | page | program | ratio | memory |\n| --- | --- | --- | --- | --- |");
for (const cells of rows) console.log(`| ${cells.join(" | ")} |`);
