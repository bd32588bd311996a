// Every figure is there, says what it shows, and has something in it; nothing complains; hostile texts stay texts.
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { Bench, run } from "./browser.mjs";

let bench;
before(async () => (bench = await Bench.open()));
after(async () => bench.close());

const reportFigures = ["rate", "intensity", "target", "overview", "histogram", "neighbours", "spectrum"];
const workingsFigures = ["stored", "filtered", "detection", "beats", "cleaning", "windows"];

// What each figure draws: how many marks, how long its text alternative is, how many rows its data has.
async function contents(page) {
  return page.$$eval("figure[id]", (figures) =>
    Object.fromEntries(figures.map((figure) => {
      const plot = figure.querySelector("svg.plot");
      const box = plot.getBoundingClientRect();
      const link = figure.querySelector("a.data");
      const rows = link ? decodeURIComponent(link.href).trim().split("\n").length - 1 : 0;
      return [figure.id.replace("figure-", ""), {
        marks: plot.querySelectorAll("path, rect, use").length, alt: plot.getAttribute("aria-label").length,
        rows, width: box.width, height: box.height }];
    })));
}

async function expectFigures(file, names) {
  const page = await bench.page(file);
  const found = await contents(page);
  for (const name of names) {
    assert.ok(found[name], `${file}: figure ${name}`);
    assert.ok(found[name].marks > 0, `${name} draws nothing`);
    assert.ok(found[name].alt > 20, `${name} has no text alternative`);
    assert.ok(found[name].rows > 0, `${name} offers no data`);
    assert.ok(found[name].width > 150 && found[name].height > 80, `${name} has no room`);
  }
  assert.deepEqual(page.complaints, []);
  await page.context().close();
  return found;
}

test("a report has every figure, each with marks, words and data, in every language", async () => {
  for (const language of ["en", "de", "es"]) {
    const { report, workings } = bench.wren(language);
    await expectFigures(report, reportFigures);
    await expectFigures(workings, workingsFigures);
  }
});

test("somebody unknown gets the figures that need no person, and no empty ones", async () => {
  const { report, workings } = bench.heron();
  const found = await expectFigures(report, ["rate", "overview", "histogram", "neighbours"]);
  assert.ok(!found.intensity && !found.target);
  await expectFigures(workings, workingsFigures);
});

test("time that was not measured is hatched and named", async () => {
  const page = await bench.page(bench.plover().report);
  assert.ok((await page.locator("#figure-rate svg.plot rect.missing").count()) > 0);
  assert.match(await page.locator("#figure-rate .legend").innerText(), /not measured/);
  await page.context().close();
});

test("a legend explains what is drawn, and nothing else", async () => {
  for (const { report, workings } of [bench.wren(), bench.plover(), bench.heron()])
    for (const file of [report, workings]) {
      const page = await bench.page(file);
      const idle = await page.$$eval("figure[id]:has(ul.legend)", (figures) => figures.flatMap((figure) =>
        [...figure.querySelectorAll("ul.legend li")]
          .filter((entry) => !figure.querySelector(`svg:not(.swatch) ${entry.dataset.marks}`))
          .map((entry) => `${figure.id}: ${entry.textContent}`)));
      assert.deepEqual(idle, [], file);
      await page.context().close();
    }
});

test("hostile names and codes stay texts", async () => {
  const hostile = `</script><script>window.broken=1</script>"'><img src=x onerror=window.broken=1>`;
  const samples = readFileSync(bench.file("plover.csv"), "utf8").split("\n");
  const header = samples.findIndex((line) => line.startsWith("time_s"));
  samples[header] = `time_s,"${hostile.replaceAll('"', '""')}"`;
  writeFileSync(bench.file("hostile.csv"), samples.join("\n"));
  const [report, workings] = [bench.file("hostile.html"), bench.file("hostile_workings.html")];
  run("analyze", bench.file("hostile.csv"), "--kind", "pulse", "--channel", "1", "--code", hostile, "--report", report, "--workings", workings);
  for (const file of [report, workings]) {
    const page = await bench.page(file);
    assert.equal(await page.evaluate(() => window.broken), undefined);
    assert.equal(await page.locator("img").count(), 0);
    assert.equal(await page.locator("script").count(), 1);
    assert.ok((await page.locator("main").innerText()).includes("<img src=x"), "the name is shown as it is");
    assert.deepEqual(page.complaints, []);
    await page.context().close();
  }
});
