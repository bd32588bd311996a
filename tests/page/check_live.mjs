// A lesson live, with stand-ins for the serial port and the belt that speak the real protocols: rates appear, everything is kept every second, a crash loses
// at most a second, and the report at the end is that of the samples that were sent.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { assertNothingLeft, Bench, path, simulated } from "./page.mjs";

let bench;
before(async () => (bench = await Bench.open()));
after(async () => bench.close());

const samples = readFileSync(path.join(simulated, "wren_stair_climb.csv"), "utf8").trim().split("\n").slice(1, 6001).map((row) => Number(row.split(",")[1]));

/** A finger clip on a wire, ten times as quick as time: lines as in tools/firmware/PROTOCOL.md. */
function serialStandIn(values) {
  const encoder = new TextEncoder();
  window.sent = 0;
  const port = {
    async open({ baudRate }) {
      if (baudRate !== 115200) throw new Error("wrong speed");
      this.readable = new ReadableStream({
        start(controller) {
          const timer = setInterval(() => {
            let text = "";
            for (let i = 0; i < 100 && window.sent < values.length; ++i, ++window.sent) text += `seq=${window.sent},t_us=${window.sent * 10000},v=${values[window.sent]}\n`;
            if (text) controller.enqueue(encoder.encode(text));
          }, 100);
          window.unplug = () => {
            clearInterval(timer);
            controller.close();
          };
        },
      });
    },
    async close() {},
  };
  Object.defineProperty(navigator, "serial", { value: { requestPort: async () => port } });
}

/** A belt: heart-rate measurements of the open service, 0x2A37, with two intervals of 0.8 s (819 ticks of 1/1024 s) each. */
function beltStandIn() {
  const measurement = new EventTarget();
  measurement.startNotifications = async () => {
    setInterval(() => {
      measurement.value = new DataView(Uint8Array.from([0x16, 75, 0x33, 0x03, 0x33, 0x03]).buffer);
      measurement.dispatchEvent(new Event("characteristicvaluechanged"));
    }, 100);
  };
  const device = new EventTarget();
  device.gatt = { disconnect() {}, connect: async () => ({ getPrimaryService: async (name) => name === "heart_rate" && { getCharacteristic: async (which) => which === "heart_rate_measurement" && measurement } }) };
  Object.defineProperty(navigator, "bluetooth", { value: { requestDevice: async ({ filters }) => filters[0].services[0] === "heart_rate" && device } });
}

async function connectClip(page) {
  await page.locator("#view-live").getByLabel("Code", { exact: true }).fill("wren");
  await page.locator("#view-live").getByLabel("Age, years", { exact: true }).fill("15");
  await page.locator("#view-live").getByLabel("Resting heart rate, beats/min", { exact: true }).fill("66");
  await page.getByRole("button", { name: "Connect a sensor on a wire" }).click();
  await page.locator("#view-live").getByText("Connected: wren").waitFor();
}

const withSerial = `(${serialStandIn})(${JSON.stringify(samples)})`;

test("a clip on a wire: its rate on the common axis, and at the end the report of what was sent", async () => {
  const page = await bench.page({ view: "live", before: withSerial });
  await connectClip(page);
  await page.waitForFunction(() => /^\d+$/.test(document.querySelector(".live-rate")?.textContent), null, { timeout: 30000 });
  assert.equal(await page.locator(".live-axis rect.shade-5").count(), 1, "the target is drawn");
  await page.waitForFunction(() => window.sent >= 6000, null, { timeout: 30000 });
  await page.waitForTimeout(2500);
  await page.getByRole("button", { name: "End, and make the report" }).click();
  await page.getByText("A recording of 1:00 (minutes and seconds) with one channel:").waitFor({ timeout: 20000 });
  assert.equal(await page.locator("#view-recording").getByLabel("Age, years", { exact: true }).inputValue(), "15");
  await page.getByRole("button", { name: "Work out the report" }).click();
  await page.locator("iframe.report").waitFor({ timeout: 60000 });
  assert.deepEqual(await page.evaluate(async () => (await indexedDB.databases()).length), 0, "nothing is kept after the end");
  assertNothingLeft(page);
  await page.context().close();
});

test("a crash loses at most a second: the next opening offers to go on, or to make the report", async () => {
  const context = await bench.chromium.newContext({ locale: "en-GB" });
  const page = await bench.page({ context, view: "live", before: withSerial });
  await connectClip(page);
  await page.waitForFunction(() => window.sent >= 3000, null, { timeout: 30000 });
  const sent = await page.evaluate(() => window.sent);
  await page.close();  // without a word, as when a browser dies
  const again = await bench.page({ context, view: "live", before: withSerial });
  await again.getByText("A session that was not ended").waitFor();
  await again.getByRole("button", { name: "Make its report" }).click();
  await again.getByText(/A recording of 0:\d\d/).waitFor({ timeout: 30000 });
  const [, seconds] = (await again.getByText(/A recording of 0:\d\d/).innerText()).match(/0:(\d\d)/);
  // A second of the stand-in holds ten seconds of samples.
  assert.ok(Number(seconds) >= sent / 100 - 12, `${seconds} s of ${sent / 100} s`);
  assertNothingLeft(again);
  await context.close();
});

test("what is kept can be erased by one button", async () => {
  const context = await bench.chromium.newContext({ locale: "en-GB" });
  const page = await bench.page({ context, view: "live", before: withSerial });
  await connectClip(page);
  await page.waitForFunction(() => window.sent >= 1500, null, { timeout: 30000 });
  await page.close();
  const again = await bench.page({ context, view: "live" });
  await again.getByRole("button", { name: "Erase everything that is kept" }).click();
  await again.getByText("Everything that was kept is erased.").waitFor();
  assert.deepEqual(await again.evaluate(async () => (await indexedDB.databases()).length), 0);
  await context.close();
});

test("a belt: the open heart-rate service gives rates, and its intervals a report", async () => {
  const page = await bench.page({ view: "live", before: `(${beltStandIn})()` });
  await page.getByRole("button", { name: "Connect a belt over Bluetooth" }).click();
  await page.waitForFunction(() => document.querySelector(".live-rate")?.textContent === "75", null, { timeout: 15000 });
  await page.waitForTimeout(4000);
  await page.getByRole("button", { name: "End, and make the report" }).click();
  await page.getByText(/A list of intervals between \d+ beats/).waitFor({ timeout: 20000 });
  assertNothingLeft(page);
  await page.context().close();
});

test("without either way it is said, with what works instead", async () => {
  const page = await bench.page({ view: "live", before: () => { delete Navigator.prototype.serial; delete Navigator.prototype.bluetooth; } });
  assert.ok(await page.getByText("This browser connects no sensors").isVisible());
  assertNothingLeft(page);
  await page.context().close();
});

test("a plan leads through its phases", async () => {
  const context = await bench.chromium.newContext({ locale: "en-GB" });
  const page = await bench.page({ context, view: "live", before: withSerial });
  await page.locator("#view-live").getByLabel("Plan, minutes").fill("5-2x3/1-5");
  await page.getByRole("button", { name: "Start the plan" }).click();
  await page.locator("#view-live").getByText(/^warm-up: [45]:\d\d left$/).waitFor();
  await context.close();
});
