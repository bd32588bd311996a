// The count by hand: the clock, the rate, its rounding error, the target, and the way into the roster.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { assertNothingLeft, Bench, run } from "./page.mjs";

let bench;
before(async () => (bench = await Bench.open()));
after(async () => bench.close());

test("the clock runs for as long as was chosen and says when it is over", async () => {
  const context = await bench.chromium.newContext({ locale: "en-GB" });
  const page = await bench.page({ context, view: "count" });
  await page.clock.install();
  await page.getByLabel("For how long").selectOption("10");
  await page.getByRole("button", { name: "Start the clock" }).click();
  await page.clock.runFor(5000);
  assert.equal(await page.getByRole("timer").innerText(), "5");
  await page.clock.runFor(5100);
  assert.equal(await page.getByRole("timer").innerText(), "Stop counting");
  assert.ok(await page.getByRole("textbox", { name: "beats counted, row 1" }).evaluate((input) => input === document.activeElement));
  await context.close();
});

// A beat over 15 s is worth 4 beats/min. Rounding from any moment is the difference of two uniform errors: 4 / sqrt 6; from a beat it is one, with its mean at half a beat: 4 / sqrt 3.
test("21 beats in 15 s are 84 beats/min, with the rounding error in closed form", async () => {
  const page = await bench.page({ view: "count" });
  await page.getByRole("textbox", { name: "beats counted, row 1" }).fill("21");
  await page.getByText("84 beats/min", { exact: true }).waitFor();
  assert.ok(await page.getByText(`One beat is worth 4 beats/min; rounding alone is off by ${(4 / Math.sqrt(6)).toFixed(1)} beats/min`).isVisible());
  await page.getByLabel("The clock was started").selectOption("beat");
  await page.getByText(`reads 2 beats/min too low on average, and is off by ${(4 / Math.sqrt(3)).toFixed(1)}`).waitFor();
  assertNothingLeft(page);
  await page.context().close();
});

test("with an age the target stands beside it, as the program gives it", async () => {
  const page = await bench.page({ view: "count" });
  await page.getByLabel("For how long").selectOption("60");
  await page.getByRole("textbox", { name: "age, years, row 1" }).fill("15");
  await page.getByRole("textbox", { name: "beats counted, row 1" }).fill("66");
  const { low_whole_bpm: low, high_whole_bpm: high } = JSON.parse(run(".", "target", "--age", "15", "--resting", "66", "--format", "json").stdout);
  await page.locator("#view-count").getByText(`${low} to ${high} beats/min`).waitFor();
  await page.context().close();
});

test("a class counts at once, and the rates go into the roster", async () => {
  const page = await bench.page({ view: "class" });
  await page.getByRole("textbox", { name: "code, row 1" }).first().fill("wren");
  await page.getByRole("textbox", { name: "age, years, row 1" }).fill("15");
  await page.getByRole("link", { name: "Count by hand" }).click();
  await page.getByRole("button", { name: "Take the people of the class" }).click();
  await page.getByLabel("For how long").selectOption("30");
  await page.getByRole("textbox", { name: "beats counted, row 1" }).fill("35");
  await page.getByText("70 beats/min", { exact: true }).waitFor();
  await page.getByRole("button", { name: "Take the rates over as resting rates of the class" }).click();
  await page.getByRole("link", { name: "A class" }).click();
  assert.equal(await page.getByRole("textbox", { name: "resting, beats/min, row 1" }).inputValue(), "70");
  await page.context().close();
});

test("a count that no heart can have is refused with the program's rule", async () => {
  const page = await bench.page({ view: "count" });
  await page.getByRole("textbox", { name: "beats counted, row 1" }).fill("200");
  await page.locator("#view-count .problem").waitFor();
  assert.match(await page.locator("#view-count .problem").innerText(), /20 (and|to) 250/);
  await page.context().close();
});
