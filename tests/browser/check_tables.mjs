// Reports with tables, of a batch and of a study: sorting, widths, scripts off, hostile names, an accessibility checker, paper.
import assert from "node:assert/strict";
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { after, before, test } from "node:test";
import { axePath, Bench, run, widths } from "./browser.mjs";

const source = process.env.PULSEWRIGHT_SOURCE ?? ".";
const simulated = path.join(source, "datasets/simulated");
const hostile = "<b onload=alert(1)>&\"'.csv";

let bench, batch, study, people;
before(async () => {
  bench = await Bench.open();
  const folder = bench.file("club");
  mkdirSync(folder);
  copyFileSync(path.join(simulated, "wren_stair_climb.csv"), path.join(folder, "wren.csv"));
  copyFileSync(path.join(simulated, "wren_stair_climb.csv"), path.join(folder, "again.csv"));
  copyFileSync(path.join(simulated, "heron_rest_ecg.csv"), path.join(folder, "heron.csv"));
  writeFileSync(path.join(folder, hostile), "no recording\n");
  for (const seed of [1, 2, 3])
    writeFileSync(path.join(folder, `plover${seed}.csv`), run("simulate", "--scenario", "rest", "--person", "plover", "--kind", "pulse",
      "--duration", "60", "--seed", String(seed)));
  batch = bench.file("batch.html");
  study = bench.file("study.html");
  try {
    run("batch", folder, "--age", "15", "--report", batch);
  } catch (failure) {
    assert.equal(failure.status, 1); // one record is none
  }
  run("compare", "rate", path.join(simulated, "wren_stair_climb_truth_rate.csv"), path.join(simulated, "wren_stair_climb.csv"), "--report", study);
  // Of few people the interval of a limit reaches much farther out than in.
  const sheet = bench.file("people.csv");
  people = bench.file("people.html");
  const pair = (who, i) =>
    `${path.resolve(simulated, "club", who)}.csv,${path.resolve(simulated, "club_truth", who)}_truth_rate.csv,${who},climb ${i % 2},pulse ${i}`;
  const gone = "gone.csv,gone_too.csv,lark,climb 1,a device with a long name";
  writeFileSync(sheet, ["test,reference,person,condition,device", ...["wren", "heron", "plover"].map(pair), gone].join("\n") + "\n");
  run("compare", "rate", sheet, "--kind", "pulse", "--report", people);
});
after(async () => bench.close());

const names = (page, id) => page.locator(`#${id} tbody th`).allInnerTexts();

test("a press on the head of a column sorts by it, a second one the other way, cells without a value last", async () => {
  const page = await bench.page(batch);
  const head = page.locator("#records").getByRole("button", { name: "mean rate, beats/min" });
  const values = () => page.$$eval("#records tbody tr", (rows) => rows.map((row) => row.cells[5].dataset.value).map((v) => (v ? Number(v) : null)));
  await head.click();
  let sorted = await values();
  const present = sorted.filter((v) => v !== null);
  assert.deepEqual(present, [...present].sort((a, b) => a - b));
  assert.equal(sorted.at(-1), null);
  assert.equal(await page.locator("#records th[aria-sort]").getAttribute("aria-sort"), "ascending");
  await head.press("Enter");
  sorted = await values();
  assert.deepEqual(sorted.filter((v) => v !== null), [...present].sort((a, b) => b - a));
  assert.equal(sorted.at(-1), null);
  await page.locator("#records").getByRole("button", { name: "record", exact: true }).click();
  assert.equal((await names(page, "records"))[1], "again.csv");
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test("bias and limits of agreement are named at their lines", async () => {
  const page = await bench.page(people);
  const middles = (selector) => page.$$eval(`#figure-differences ${selector}`, (all) =>
    all.map((one) => one.getBoundingClientRect()).map((box) => (box.top + box.bottom) / 2).sort((a, b) => a - b));
  const lines = await middles("line:is(.rate, .target)"), texts = await middles("svg.right text");
  assert.equal(texts.length, 3);
  for (let i = 0; i < 3; ++i) assert.ok(Math.abs(lines[i] - texts[i]) < 8, `${lines[i]} and ${texts[i]}`);
  await page.context().close();
});

test("paper shows every column of a table", async () => {
  const paper = 703; // px between the margins of A4
  for (const file of [batch, people]) {
    const page = await bench.page(file, { width: paper, media: "print" });
    const cut = await page.$$eval("table", (all) => all.filter((table) => table.getBoundingClientRect().right > innerWidth + 1)
      .map((table) => `${table.caption.textContent} reaches ${table.getBoundingClientRect().right}`));
    assert.deepEqual(cut, [], file);
    await page.context().close();
  }
});

test("names of files are text, whatever is in them", async () => {
  const page = await bench.page(batch);
  assert.ok((await names(page, "failures")).includes(hostile));
  assert.equal(await page.locator("[onload]").count(), 0);
  assert.match(await page.locator("#summary").innerText(), /again\.csv, wren\.csv/);
  await page.context().close();
});

test("nothing overflows at any width, and without scripts everything reads", async () => {
  for (const file of [batch, study])
    for (const width of widths)
      for (const scripts of [true, false]) {
        const page = await bench.page(file, { width, scripts });
        if (scripts) assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `${file} at ${width}`);
        assert.ok((await page.locator("tbody tr").count()) > 5);
        assert.ok((await page.locator("figure").count()) > 2);
        assert.deepEqual(page.complaints, []);
        await page.context().close();
      }
});

test("the checker finds nothing serious, in light and in dark", async () => {
  const checker = readFileSync(axePath, "utf8");
  for (const file of [batch, study])
    for (const scheme of ["light", "dark"]) {
      const page = await bench.page(file, { scheme });
      await page.evaluate(checker);
      const { violations } = await page.evaluate(() => axe.run(document, { resultTypes: ["violations"] }));
      const serious = violations.filter((violation) => ["serious", "critical"].includes(violation.impact));
      assert.deepEqual(serious.map((violation) => `${violation.id}: ${violation.nodes[0].html.slice(0, 200)}`), [], file);
      await page.context().close();
    }
});

test("the study says its numbers with their intervals and what the rules make of them", async () => {
  const page = await bench.page(study);
  assert.match(await page.locator("#summary").innerText(), /mean absolute error is \d/);
  assert.deepEqual(await names(page, "verdicts"), ["EC13", "CTA-2065"]);
  for (const id of ["differences", "scatter", "error_over_time"]) {
    const box = await page.locator(`#figure-${id} svg.plot`).boundingBox();
    assert.ok(box.width > 200 && box.height > 100, id);
  }
  await page.context().close();
});
