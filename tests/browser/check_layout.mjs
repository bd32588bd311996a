// Nothing overflows or overlaps at the width of a telephone, a tablet and a desk; on paper it takes the stated number of pages.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { Bench, widths } from "./browser.mjs";
import { findFaults, pagesOf } from "./layout_faults.mjs";

// Pages of a report with its six figures and chosen excerpts, and of the workings, on either paper.
const mostReportPages = 7, mostWorkingsPages = 6;

let bench, files;
before(async () => {
  bench = await Bench.open();
  files = [bench.wren(), bench.plover(), bench.heron()];
});
after(async () => bench.close());

for (const width of widths)
  test(`nothing sticks out or lies on something else at ${width} px`, async () => {
    for (const { report, workings } of files)
      for (const file of [report, workings]) {
        const page = await bench.page(file, { width });
        assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), width, file);
        assert.deepEqual(await page.evaluate(findFaults), [], `${file} at ${width} px`);
        await page.context().close();
      }
  });

test("a German report fits as well", async () => {
  const page = await bench.page(bench.wren("de").report, { width: 360 });
  assert.deepEqual(await page.evaluate(findFaults), []);
  await page.context().close();
});

for (const format of ["A4", "Letter"])
  test(`prints on ${format} in at most ${mostReportPages} pages`, async () => {
    for (const { report, workings } of files) {
      for (const [file, most] of [[report, mostReportPages], [workings, mostWorkingsPages]]) {
        const page = await bench.page(file);
        const pages = pagesOf(await page.pdf({ format, printBackground: true }));
        assert.ok(pages >= 2 && pages <= most, `${file}: ${pages} pages`);
        await page.context().close();
      }
    }
  });

test("paper shows the chosen excerpts, and no controls", async () => {
  const page = await bench.page(files[1].report, { media: "print" });
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  assert.ok((await page.locator(".strip-pages > li:visible").count()) >= 3);
  for (const control of [".pager", ".tools", "details"]) assert.equal(await page.locator(control).first().isVisible(), false, control);
  await page.context().close();
});
