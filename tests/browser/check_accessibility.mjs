// An accessibility checker finds nothing serious, in light and in dark.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { axePath, Bench } from "./browser.mjs";

let bench, files;
before(async () => {
  bench = await Bench.open();
  files = [bench.wren(), bench.heron()];
});
after(async () => bench.close());

const checker = readFileSync(axePath, "utf8");

for (const scheme of ["light", "dark"])
  test(`the checker finds nothing serious in ${scheme} colours`, async () => {
    for (const { report, workings } of files)
      for (const file of [report, workings]) {
        const page = await bench.page(file, { scheme });
        await page.evaluate(checker);
        await page.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
        // The colours are all that differs in the dark.
        const rules = scheme === "dark" ? { runOnly: { type: "rule", values: ["color-contrast"] } } : {};
        const { violations, passes } = await page.evaluate((options) => axe.run(document, { resultTypes: ["violations"], ...options }), rules);
        assert.ok(passes.length > (scheme === "dark" ? 0 : 20), "the checker ran");
        const serious = violations.filter((violation) => ["serious", "critical"].includes(violation.impact));
        assert.deepEqual(serious.map((violation) => `${violation.id}: ${violation.nodes[0].html.slice(0, 200)}`), [], file);
        await page.context().close();
      }
  });

test("headings go down one step at a time, landmarks and the language are there", async () => {
  for (const { report, workings } of files)
    for (const file of [report, workings]) {
      const page = await bench.page(file);
      const levels = await page.$$eval("h1, h2, h3, h4, h5, h6", (all) => all.map((heading) => Number(heading.tagName[1])));
      assert.equal(levels.filter((level) => level === 1).length, 1);
      levels.forEach((level, i) => assert.ok(i === 0 || level <= levels[i - 1] + 1, `heading ${i} skips a level`));
      for (const landmark of ["header", "main", "footer"]) assert.equal(await page.locator(`body > ${landmark}`).count(), 1, landmark);
      assert.equal(await page.getAttribute("html", "lang"), "en");
      assert.equal(await page.locator("th:not([scope])").count(), 0);
      await page.context().close();
    }
});
