// The report of a class, of three and of forty: sorting, courses, slips, widths, paper, scripts off, hostile codes, an accessibility checker.
import assert from "node:assert/strict";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { after, before, test } from "node:test";
import { axePath, Bench, run, widths } from "./browser.mjs";
import { findFaults, pagesOf } from "./layout_faults.mjs";
import { madeUpClass } from "./made_up_class.mjs";

const simulated = path.join(process.env.PULSEWRIGHT_SOURCE ?? ".", "datasets/simulated");
const large = 40;

let bench, three, forty, hostile;
// A class in which somebody has no result ends with 1.
function report(file, sheet, roster, ...more) {
  try {
    run("class", sheet, "--roster", roster, "--report", file, ...more);
  } catch (failure) {
    assert.equal(failure.status, 1, failure.stderr);
  }
  return file;
}
before(async () => {
  bench = await Bench.open();
  three = report(bench.file("three.html"), path.join(simulated, "club_sheet.csv"), path.join(simulated, "club_roster.csv"));
  const made = madeUpClass(bench.file("forty"), large);
  forty = report(bench.file("forty.html"), made.sheet, made.roster);
  const folder = bench.file("hostile");
  mkdirSync(folder);
  writeFileSync(path.join(folder, "roster.csv"), "code,age_years\nwren,15\n");
  writeFileSync(path.join(folder, "sheet.csv"),
    'code,file,activity,laps\n"wren","<b onload=alert(1)>.csv","<script>alert(1)</script>",3\nheron,"\'""><svg onload=alert(2)>.csv",</p>,4\n');
  hostile = report(bench.file("hostile.html"), path.join(folder, "sheet.csv"), path.join(folder, "roster.csv"));
});
after(async () => bench.close());

test("everybody has a line, a course and a slip", async () => {
  for (const [file, count] of [[three, 3], [forty, large]]) {
    const page = await bench.page(file);
    const codes = (await page.locator("#people table.sortable").first().locator("tbody th").allInnerTexts()).map((code) => code.split("\u00a0")[0]);
    assert.equal(new Set(codes).size, count);
    assert.deepEqual(await page.locator(".glance strong").allInnerTexts(), codes);
    assert.deepEqual(await page.locator("#courses h3").allInnerTexts(), codes);
    assert.deepEqual(await page.locator(".slip h3").allInnerTexts(), codes);
    for (const plot of await page.locator("#courses svg.plot").all()) {
      const box = await plot.boundingBox();
      assert.ok(box.width > 150 && box.height > 100);
    }
    assert.ok((await page.locator("#courses path.rate").count()) >= count - 1);
    assert.deepEqual(page.complaints, []);
    await page.context().close();
  }
});

test("a press on a head sorts by it and takes the drawn lines along; who has no value comes last", async () => {
  const page = await bench.page(forty);
  await page.locator("#people").getByRole("button", { name: "mean effort, % of reserve" }).click();
  const rows = await page.$$eval("#people > .wide-table tbody tr", (all) => all.map((row) => {
    const cell = row.cells[1], mark = cell.querySelector("use");
    return { value: cell.dataset.value && Number(cell.dataset.value), mark: mark && Number.parseFloat(mark.getAttribute("x")), said: cell.textContent };
  }));
  const present = rows.filter((row) => row.value !== undefined);
  assert.ok(present.length > 30 && present.length < large);
  for (let i = 1; i < present.length; ++i) {
    assert.ok(present[i].value >= present[i - 1].value);
    assert.ok(present[i].mark >= present[i - 1].mark, "the mark goes with its value");
  }
  for (const row of rows.slice(present.length)) assert.match(row.said, /^(not measured|nothing is said|no resting rate)$/); // in words, not blank and not 0
  await page.context().close();
});

test("all lines and courses are on one scale", async () => {
  const page = await bench.page(forty);
  const ticks = await page.$$eval("#courses figure", (all) => all.map((f) => [...f.querySelectorAll("text.tick")].map((t) => t.textContent).join(" ")));
  assert.equal(new Set(ticks).size, 1);
  const bands = await page.$$eval("#courses rect.shade-3", (all) => all.map((band) => band.getAttribute("y")));
  assert.ok(new Set(bands).size > 5, "everybody has a target of their own");
  await page.context().close();
});

test("what could not be measured is said, with its reason, and drawn as missing", async () => {
  const page = await bench.page(forty);
  assert.match(await page.locator("#unmeasured").innerText(), /curlew:.*curlew\.csv/);
  assert.match(await page.locator("#courses figure").filter({ has: page.locator("h3", { hasText: /^curlew$/ }) }).innerText(), /not measured/);
  assert.ok((await page.locator("#courses rect.missing").count()) > 3);
  assert.match(await page.locator(".slip").filter({ has: page.locator("h3", { hasText: /^curlew$/ }) }).innerText(), /a matter of the sensor, not of you/);
  await page.context().close();
});

test("effort stands beside performance with intervals, and names do not lie on each other", async () => {
  for (const file of [three, forty]) {
    const page = await bench.page(file);
    assert.equal(await page.locator("#figure-performance path.whisker").count(), 1);
    assert.ok((await page.locator("#figure-performance use.symbol").count()) >= 3);
    await page.context().close();
  }
});

test("a slip speaks of one person only", async () => {
  const page = await bench.page(forty);
  const codes = await page.locator(".slip h3").allInnerTexts();
  for (const slip of (await page.locator(".slip").all()).slice(0, 6)) {
    const text = await slip.innerText();
    assert.equal(codes.filter((code) => new RegExp(`\\b${code}\\b`).test(text)).length, 1, text);
    assert.doesNotMatch(text, /place/);
  }
  await page.context().close();
});

test("nothing sticks out or lies on something else at any width, and without scripts everything reads", async () => {
  for (const file of [three, forty, hostile])
    for (const width of widths) {
      const page = await bench.page(file, { width });
      assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), width, `${file} at ${width}`);
      assert.deepEqual(await page.evaluate(findFaults), [], `${file} at ${width}`);
      await page.context().close();
    }
  const page = await bench.page(forty, { scripts: false });
  assert.equal(await page.locator("#people > .wide-table tbody tr").count(), large);
  assert.equal(await page.locator(".slip").count(), large);
  await page.context().close();
});

test("codes, names and notes are text, whatever is in them", async () => {
  const page = await bench.page(hostile);
  assert.equal(await page.locator("[onload]").count(), 0);
  assert.equal(await page.locator("script").count(), 1);
  assert.match(await page.locator("#unmeasured").innerText(), /<b onload=alert\(1\)>\.csv/);
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

for (const format of ["A4", "Letter"])
  test(`slips are printed four on a page of ${format}, alone when that is asked for`, async () => {
    for (const [file, count] of [[three, 3], [forty, large]]) {
      const page = await bench.page(file);
      const whole = pagesOf(await page.pdf({ format, printBackground: true }));
      await page.evaluate(() => document.body.classList.add("slips-alone"));
      const slips = pagesOf(await page.pdf({ format, printBackground: true }));
      assert.equal(slips, Math.ceil(count / 4));
      assert.ok(whole - slips >= 2 && whole - slips <= 8, `${file}: ${whole} pages with ${slips} of slips`);
      await page.context().close();
    }
  });

test("a slip has room for all it says, on paper", async () => {
  for (const language of ["en", "de", "es"]) {
    const made = madeUpClass(bench.file("forty"), large);
    const page = await bench.page(report(bench.file(`forty_${language}.html`), made.sheet, made.roster, "--language", language), { width: 703, media: "print" });
    const cut = await page.$$eval(".slip", (all) => all.filter((slip) => slip.scrollHeight > slip.clientHeight + 1).length);
    assert.equal(cut, 0, language);
    await page.context().close();
  }
});

test("the checker finds nothing serious, in light and in dark", async () => {
  const checker = readFileSync(axePath, "utf8");
  for (const file of [three, forty])
    for (const scheme of ["light", "dark"]) {
      const page = await bench.page(file, { scheme });
      await page.evaluate(checker);
      // The colours are all that differs in the dark.
      const rules = scheme === "dark" ? { runOnly: { type: "rule", values: ["color-contrast"] } } : {};
      const { violations } = await page.evaluate((options) => axe.run(document, { resultTypes: ["violations"], ...options }), rules);
      const serious = violations.filter((violation) => ["serious", "critical"].includes(violation.impact));
      assert.deepEqual(serious.map((violation) => `${violation.id}: ${violation.nodes[0].html.slice(0, 200)}`), [], file);
      await page.context().close();
    }
});
