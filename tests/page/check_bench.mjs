// The lab bench: what a stage is asked changes what it gives, at once, and a detector of one's own is scored against the library's beats.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { assertNothingLeft, Bench, path, run, simulated } from "./page.mjs";

let bench;
before(async () => (bench = await Bench.open()));
after(async () => bench.close());

async function laid(page, name) {
  await page.setInputFiles("#choose-bench", path.join(simulated, name));
  await page.locator("#view-bench .result").nth(1).filter({ hasText: /\d/ }).waitFor({ timeout: 60000 });
}

/** Moves a slider as a hand does, and waits for the answer. */
async function turn(page, label, value) {
  const before = await page.evaluate(() => Number(document.querySelector("[data-turns]").dataset.turns));
  await page.getByLabel(new RegExp(`^${label}:`)).first().evaluate((input, to) => {
    input.value = to;
    input.dispatchEvent(new Event("input", { bubbles: true }));
  }, String(value));
  await page.waitForFunction((old) => Number(document.querySelector("[data-turns]").dataset.turns) > old, before, { timeout: 20000 });
}

test("as it is, the bench finds the program's beats", async () => {
  const page = await bench.page({ view: "bench" });
  await laid(page, "heron_rest_ecg.csv");
  const { beats } = JSON.parse(run(simulated, "beats", "heron_rest_ecg.csv", "--end", "300", "--format", "json").stdout);
  const count = beats.filter(({ verdict }) => verdict === "accepted").length;
  assert.equal(await page.locator("#view-bench .result").first().innerText(),
    `With these settings ${count} beats are found; as it is, the library finds ${count}. Lost against that: 0; extra: 0.`);
  assert.equal(await page.locator("#view-bench svg.plot").count(), 5);
  assertNothingLeft(page);
  await page.context().close();
});

test("a refractory time of more than an interval loses beats, at once", async () => {
  const page = await bench.page({ view: "bench" });
  await laid(page, "heron_rest_ecg.csv");
  await turn(page, "No second beat within", 1.2);
  const [, lost] = (await page.locator("#view-bench .result").first().innerText()).match(/Lost against that: (\d+)/);
  assert.ok(Number(lost) > 10, lost);
  await page.context().close();
});

test("the pupil's own detector answers to its three sliders", async () => {
  const page = await bench.page({ view: "bench" });
  await laid(page, "heron_rest_ecg.csv");
  const found = async () => Number((await page.locator("#view-bench .result").nth(1).innerText()).match(/finds (\d+) beats/)[1]);
  await turn(page, "Smooth over", 0.02);
  const fine = await found();
  const [, extra] = (await page.locator("#view-bench .result").nth(1).innerText()).match(/, (\d+) extra/);
  assert.ok(fine > 100 && Number(extra) <= 2, `${fine} beats, ${extra} extra: R peaks stand out`);
  await turn(page, "Threshold", 0.05);
  assert.ok((await found()) >= fine);
  assertNothingLeft(page);
  await page.context().close();
});
