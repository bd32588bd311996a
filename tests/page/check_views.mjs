// Every view in every language and width: nothing overflows, an accessibility checker finds nothing serious, keys alone reach everything, and no text is missing.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { axePath, Bench, path, simulated, source } from "./page.mjs";

let bench;
before(async () => (bench = await Bench.open()));
after(async () => bench.close());

const checker = readFileSync(axePath, "utf8");
const locales = { en: "en-GB", de: "de-DE", es: "es-ES" };

/** Fills a view with what it shows in use. */
const filled = {
  async recording(page) {
    await page.setInputFiles("#choose-recording", path.join(simulated, "heron_rest_ecg.csv"));
    await page.locator(".card button.main").click({ timeout: 60000 });
    await page.locator("iframe.report").waitFor({ timeout: 60000 });
  },
  async class(page) {
    await page.setInputFiles("#choose-class", [path.join(simulated, "club_roster.csv"), path.join(simulated, "club_sheet.csv"), path.join(simulated, "club/wren.csv")]);
    await page.locator("#view-class tbody tr").nth(5).waitFor();
    await page.locator("#view-class section .tools button").nth(2).click();
    await page.locator(".target-card").first().waitFor();
  },
  async count(page) {
    await page.locator("#view-count input.beats").fill("18");
    await page.locator("#view-count td strong").waitFor();
  },
  async bench(page) {
    await page.setInputFiles("#choose-bench", path.join(simulated, "wren_stair_climb.csv"));
    await page.locator("#view-bench .result").nth(1).filter({ hasText: /\d/ }).waitFor({ timeout: 60000 });
  },
};

for (const [view, fill] of Object.entries(filled))
  test(`the view ${view}: accessible in light and dark, and inside its width from 360 px to a projector`, async () => {
    for (const [tag, locale] of Object.entries(locales)) {
      const page = await bench.page({ view, language: locale, scheme: tag === "de" ? "dark" : "light" });
      await fill(page);
      assert.equal(await page.getAttribute("html", "lang"), tag);
      // A key of a text that is missing would show as itself.
      const shown = await page.locator("body").innerText();
      assert.doesNotMatch(shown, /\b[a-z]+\.[a-z_]+\.[a-z_]+\b/);
      for (const width of [360, 768, 1920]) {
        await page.setViewportSize({ width, height: 800 });
        await page.waitForTimeout(100);
        const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
        assert.ok(over <= 0, `${view} in ${tag} at ${width} px is ${over} px too wide`);
      }
      await page.setViewportSize({ width: 1280, height: 800 });
      await page.evaluate(checker);
      await page.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
      const { violations, passes } = await page.evaluate(() => axe.run(document, { resultTypes: ["violations"], iframes: false, runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"] } }));
      assert.ok(passes.length > 15, "the checker ran");
      assert.deepEqual(violations.map((violation) => `${violation.id}: ${violation.nodes[0].html.slice(0, 160)}`), [], `${view} in ${tag}`);
      assert.deepEqual(page.complaints, []);
      await page.context().close();
    }
  });

test("keys alone lead through the page, and what has the focus shows it", async () => {
  const page = await bench.page();
  await page.keyboard.press("Tab");
  assert.equal(await page.evaluate(() => document.activeElement.className), "skip");
  const seen = new Set();
  for (let i = 0; i < 12; ++i) {
    await page.keyboard.press("Tab");
    const { name, outlined } = await page.evaluate(() => {
      const element = document.activeElement;
      const marked = element.closest(".choose") ?? element;
      if (element === document.body) return { name: "" };
      return { name: element.id || element.textContent.trim().slice(0, 30), outlined: getComputedStyle(marked).outlineStyle !== "none" };
    });
    if (name === "") break;  // past the last one
    assert.ok(outlined, `${name} shows its focus`);
    seen.add(name);
  }
  for (const name of ["language", "A class", "choose-recording"]) assert.ok(seen.has(name), `${name} is reached: ${[...seen]}`);
  await page.getByRole("link", { name: "The lab bench" }).press("Enter");
  assert.ok(await page.getByRole("heading", { name: "The lab bench" }).isVisible());
  await page.context().close();
});

test("the three files of words have the same keys and values", () => {
  const wordsOf = (tag) => Object.fromEntries(readFileSync(path.join(source, `tools/page/words/${tag}.txt`), "utf8").split("\n")
    .filter((line) => line && !line.startsWith("#")).map((line) => [line.slice(0, line.indexOf(" = ")), line.slice(line.indexOf(" = ") + 3)]));
  const english = wordsOf("en");
  const values = (text) => (text.match(/\{\w+\}/g) ?? []).sort().join();
  for (const tag of ["de", "es"]) {
    const other = wordsOf(tag);
    assert.deepEqual(Object.keys(other), Object.keys(english), tag);
    for (const [key, text] of Object.entries(english)) assert.equal(values(other[key]), values(text), `${tag}: ${key}`);
  }
});
