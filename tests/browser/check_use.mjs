// Paging, zoom and the read-out work with mouse and keys; without scripts everything still reads.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { Bench } from "./browser.mjs";

let bench, report;
before(async () => {
  bench = await Bench.open();
  report = bench.plover().report;
});
after(async () => bench.close());

const shownPages = (page) => page.locator(".strip-pages > li:visible");
const when = (page) => shownPages(page).locator(".when").innerText();

test("the strip is paged through by buttons, by keys, and by a list of chosen excerpts", async () => {
  const page = await bench.page(report);
  assert.equal(await shownPages(page).count(), 1);
  await page.getByRole("slider").press("Home");
  assert.equal(await when(page), "0:00 to 0:10");
  assert.ok(await page.getByRole("button", { name: "Earlier", exact: true }).isDisabled());
  await page.getByRole("button", { name: "Later", exact: true }).click();
  assert.equal(await when(page), "0:10 to 0:20");
  await page.getByRole("slider").press("End");
  assert.equal(await when(page), "2:50 to 3:00");
  assert.ok(await page.getByRole("button", { name: "Later", exact: true }).isDisabled());
  const choices = await page.locator(".pager option").allInnerTexts();
  const hardest = choices.find((choice) => choice.includes("highest rate"));
  await page.getByRole("combobox").selectOption({ label: hardest });
  assert.ok(hardest.startsWith(await when(page)));
  await page.context().close();
});

test("every ten seconds of the recording are there, in order", async () => {
  const page = await bench.page(report);
  await page.getByRole("slider").press("Home");
  const seen = [await when(page)];
  for (let i = 1; i < 18; ++i) {
    await page.getByRole("button", { name: "Later", exact: true }).click();
    seen.push(await when(page));
  }
  const clock = (s) => `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
  assert.deepEqual(seen, [...Array(18).keys()].map((k) => `${clock(10 * k)} to ${clock(10 * k + 10)}`));
  await page.context().close();
});

test("a place in the overview leads to its page of the strip", async () => {
  const page = await bench.page(report);
  const plot = page.locator("#figure-overview svg.plot");
  const box = await plot.boundingBox();
  await plot.click({ position: { x: box.width * 0.5 + 2, y: 40 } });
  assert.equal(await when(page), "1:30 to 1:40");
  await page.context().close();
});

test("zoom widens the plot and keeps its axis", async () => {
  const page = await bench.page(report);
  const plot = page.locator("#figure-rate svg.plot");
  const before = (await plot.boundingBox()).width;
  await page.locator("#figure-rate .tools button").nth(1).click();
  assert.ok(Math.abs((await plot.boundingBox()).width / before - 2) < 0.1);
  assert.ok(await page.locator("#figure-rate svg.left").isVisible());
  await page.locator("#figure-rate .tools button").nth(0).click();
  assert.ok(Math.abs((await plot.boundingBox()).width / before - 1) < 0.05);
  await page.context().close();
});

test("pressing an entry of a legend hides its marks, pressing it again shows them", async () => {
  const page = await bench.page(report);
  for (const section of await page.locator("figure:has(ul.legend), .strip").all())
    for (const entry of await section.locator("ul.legend li:has(button)").all()) {
      const marks = section.locator(`svg:not(.swatch) ${await entry.getAttribute("data-marks")}`);
      const said = await entry.innerText();
      const shown = () => marks.evaluateAll((all) => all.filter((mark) => getComputedStyle(mark).display !== "none").length);
      const before = await shown();
      const button = entry.getByRole("button", { name: said, pressed: true });
      await button.click();
      assert.equal(await shown(), 0, said);
      await entry.getByRole("button", { name: said, pressed: false }).click();
      assert.equal(await shown(), before, said);
    }
  const rate = page.locator("#figure-rate");
  assert.ok((await rate.locator("svg.plot .rate").count()) > 0 && (await rate.locator("button.series").count()) > 1);
  await page.context().close();
});

test("the read-out names the row of data under the pointer", async () => {
  const page = await bench.page(report);
  const plot = page.locator("#figure-rate svg.plot");
  const box = await plot.boundingBox();
  await plot.hover({ position: { x: (box.width * 20) / 180, y: 100 } });
  const said = await page.locator("#figure-rate .readout").innerText();
  assert.match(said, /^0:1[4-8] to 0:2[2-6]: (\d+ beats\/min, with 95 % probability between \d+ and \d+|not measured)$/);
  await page.context().close();
});

test("the data of a figure is one click away, as a file with a name", async () => {
  const page = await bench.page(report);
  await page.locator("#figure-rate summary").click();
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator("#figure-rate a.data").click()]);
  assert.equal(download.suggestedFilename(), "rate.csv");
  const rows = readFileSync(await download.path(), "utf8").trimEnd().split("\n");
  assert.equal(rows[0], "start_s,end_s,bpm,low_bpm,high_bpm,confidence,method,guess_bpm,guess_low_bpm,guess_high_bpm,guess_confidence,guess_method");
  assert.equal(rows.length, 1 + (180 - 8) / 2 + 1);  // full windows of 8 s every 2 s
  await page.context().close();
});

test("without scripts the chosen excerpts stand one after the other and no dead controls are shown", async () => {
  const page = await bench.page(report, { scripts: false });
  const pages = await shownPages(page).count();
  assert.ok(pages >= 3 && pages <= 7, `${pages} excerpts`);
  assert.equal(await page.locator(".pager").isVisible(), false);
  assert.ok(await page.getByText("Without scripts this page shows chosen excerpts").isVisible());
  assert.ok(await page.getByRole("heading", { name: "Summary" }).isVisible());
  assert.ok(await page.locator("#figure-rate svg.plot").isVisible());
  await page.context().close();
});

test("the keyboard reaches every control, and its place can be seen", async () => {
  const page = await bench.page(report);
  await page.keyboard.press("Tab");
  assert.equal(await page.evaluate(() => document.activeElement.className), "skip");
  const reached = new Set();
  for (let i = 0; i < 60; ++i) {
    await page.keyboard.press("Tab");
    reached.add(await page.evaluate(() => document.activeElement.name || document.activeElement.className || document.activeElement.tagName));
    const outline = await page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle);
    if (await page.evaluate(() => document.activeElement !== document.body)) assert.notEqual(outline, "none");
  }
  for (const control of ["later", "position", "chosen", "see", "SUMMARY"]) assert.ok(reached.has(control), control);
  await page.context().close();
});
