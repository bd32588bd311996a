// Nothing overflows or overlaps at the width of a telephone, a tablet and a desk; on paper it takes the stated number of pages.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { Bench, widths } from "./browser.mjs";

// Pages of a report with its six figures and chosen excerpts, and of the workings, on either paper.
const mostReportPages = 7, mostWorkingsPages = 6;

let bench, files;
before(async () => {
  bench = await Bench.open();
  files = [bench.wren(), bench.plover(), bench.heron()];
});
after(async () => bench.close());

// Elements that stick out of the window, unless they are inside something that scrolls, and texts of one figure that lie on each other.
function findFaults() {
  const faults = [];
  const wide = document.documentElement.clientWidth;
  const scrolls = (element) => element.closest(".pane, .wide-table, .skip, .definitions, template");
  for (const element of document.querySelectorAll("body *")) {
    const box = element.getBoundingClientRect();
    if (box.width === 0 || scrolls(element)) continue;
    if (box.right > wide + 1 || box.left < -1)
      faults.push(`<${element.tagName} class="${element.getAttribute("class")}"> reaches from ${box.left} to ${box.right}`);
  }
  const shown = (element) => getComputedStyle(element).display !== "none" && element.getBoundingClientRect().width > 0;
  for (const svg of document.querySelectorAll("svg.plot, svg.left, svg.right")) {
    const texts = [...svg.querySelectorAll("text")].filter(shown).map((text) => [text.textContent, text.getBoundingClientRect()]);
    for (let i = 0; i < texts.length; ++i)
      for (let j = i + 1; j < texts.length; ++j) {
        const [a, b] = [texts[i][1], texts[j][1]];
        const over = Math.min(a.right, b.right) - Math.max(a.left, b.left), under = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (over > 1 && under > 4) faults.push(`'${texts[i][0]}' lies on '${texts[j][0]}' in ${svg.getAttribute("aria-label")}`);
      }
  }
  for (const selector of ["main > section", "section figure, .strip > *", ".frame > *"]) {
    const boxes = [...document.querySelectorAll(selector)].filter(shown).map((e) => [e, e.getBoundingClientRect()]);
    for (let i = 0; i < boxes.length; ++i)
      for (let j = i + 1; j < boxes.length; ++j) {
        const [[first, a], [second, b]] = [boxes[i], boxes[j]];
        if (first.contains(second) || second.contains(first)) continue;
        if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1)
          faults.push(`<${first.tagName} id="${first.id}"> and <${second.tagName} id="${second.id}"> overlap`);
      }
  }
  return faults;
}

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

// Counts the pages of a PDF document by its page objects.
const pagesOf = (bytes) => bytes.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g).length;

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
