// The page's numbers are the program's, digit for digit: of every simulated recording, and of open recordings where they are there.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { existsSync, readdirSync } from "node:fs";
import { assertNothingLeft, Bench, data, hasData, path, report, run, saved, simulated } from "./page.mjs";

let bench;
before(async () => (bench = await Bench.open()));
after(async () => bench.close());

const person = { Code: "wren", "Age, years": "15", "Resting heart rate, beats/min": "66" };
const words = ["--code", "wren", "--age", "15", "--resting", "66"];

/** What differs, place by place, so that a failure names it. */
function differences(page, program, place = "") {
  if (typeof page !== "object" || page === null || typeof program !== "object" || program === null) return Object.is(page, program) ? [] : [`${place}: ${JSON.stringify(page)} where the program says ${JSON.stringify(program)}`];
  const keys = new Set([...Object.keys(page), ...Object.keys(program)]);
  return [...keys].flatMap((key) => differences(page[key], program[key], `${place}.${key}`));
}

async function compare(files, input, more = [], reading = {}) {
  const page = await bench.page();
  await report(page, files, person, reading);
  const own = await saved(page, () => page.getByRole("button", { name: "Save all numbers (JSON)" }).click());
  const { stdout } = run(path.dirname(input), "analyze", path.basename(input), ...words, ...more, "--format", "json");
  assert.deepEqual(differences(JSON.parse(own), JSON.parse(stdout)).slice(0, 10), [], `of ${path.basename(input)}`);
  assert.equal(own, stdout, `of ${path.basename(input)}, byte for byte`);
  assertNothingLeft(page);
  await page.context().close();
}

const recordings = ["wren_stair_climb.csv", "heron_rest_ecg.csv", "club/wren.csv", "club/heron.csv", "club/plover.csv"];
for (const name of recordings) test(`${name} has the program's numbers`, async () => compare([path.join(simulated, name)], path.join(simulated, name)));

test("a record of the open format has the program's numbers", async () => {
  const record = path.join(simulated, "wren_stair_climb_chest");
  await compare([`${record}.hea`, `${record}.dat`], `${record}.hea`);
});

test("a list of beats has the program's numbers", async () => {
  const beats = path.join(simulated, "wren_stair_climb_truth_beats.csv");
  await compare([beats], beats, ["--input", "beats"]);
});

// Of each way of storing that the open data have, some records: folder, which files, how many.
const kinds = [
  ["arrhythmia", /^\d+\.hea$/, 4], ["noise_stress", /\.hea$/, 2], ["many_sources", /\.hea$/, 3], ["twelve_leads", /\.hea$/, 2], ["anaesthesia_pulse", /^\d+\.csv$/, 3],
  ["bedside", /_Signals\.csv$/, 2], ["treadmill_pulse", /^data_\d+_type\d+\.csv$/, 2], ["treadmill_wrist", /^[a-z]+_\d+\.csv$/, 2], ["exercise_wrist", /\.edf$/, 2],
];

function openRecords() {
  return kinds.flatMap(([folder, which, count]) => {
    const place = path.join(data, folder);
    if (!existsSync(place)) return [];
    return readdirSync(place).filter((name) => which.test(name)).sort().slice(0, count).map((name) => path.join(place, name));
  });
}

/** What belongs to a record: of a header its signal files, of anything else itself. */
function filesOf(record) {
  const stem = path.basename(record).replace(/\.hea$/, "");
  if (stem === path.basename(record)) return [record];
  const folder = path.dirname(record);
  return readdirSync(folder).filter((name) => name.startsWith(`${stem}.`)).map((name) => path.join(folder, name));
}

test("open records have the program's numbers", { skip: !hasData && "no open recordings" }, async (t) => {
  const records = openRecords();
  assert.ok(records.length >= 20, `${records.length} records`);
  for (const record of records)
    await t.test(path.basename(record), async () => compare(filesOf(record), record, ["--end", "120"], { "To second": "120" }));
});
