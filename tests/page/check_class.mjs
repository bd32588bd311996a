// A lesson of the science club, from dropped files and from typing alone: the program's numbers, report, targets and lists.
import assert from "node:assert/strict";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { assertNothingLeft, Bench, path, run, saved, simulated } from "./page.mjs";

let bench;
before(async () => (bench = await Bench.open()));
after(async () => bench.close());

const recordings = readdirSync(path.join(simulated, "club")).filter((name) => name.endsWith(".csv")).map((name) => path.join(simulated, "club", name));
const lists = ["club_roster.csv", "club_sheet.csv"].map((name) => path.join(simulated, name));

async function work(page) {
  await page.getByRole("button", { name: "Work out the report of the class" }).click();
  await page.locator("#view-class iframe.report").waitFor({ timeout: 120000 });
}

test("dropped together, roster, sheet and recordings give the program's class", async () => {
  const page = await bench.page({ view: "class" });
  await page.setInputFiles("#choose-class", [...lists, ...recordings]);
  await page.getByRole("textbox", { name: "code, row 3" }).first().waitFor();
  await work(page);
  const own = JSON.parse(await saved(page, () => page.locator("#view-class").getByRole("button", { name: "Save all numbers (JSON)" }).click()));
  const { stdout } = run(simulated, "class", "club_sheet.csv", "--roster", "club_roster.csv", "--format", "json");
  const program = JSON.parse(stdout);
  // The lists were written anew by the page; only their bytes differ.
  for (const document of [own, program]) {
    delete document.provenance.sha256;
    delete document.provenance.input;
    delete document.provenance.options.roster_sha256;
  }
  assert.deepEqual(own, program);
  const frame = page.frameLocator("#view-class iframe.report");
  assert.equal(await frame.locator(".slip").count(), 3);
  assertNothingLeft(page);
  await page.context().close();
});

test("the lists that the page saves are those that the program reads", async () => {
  const page = await bench.page({ view: "class" });
  await page.setInputFiles("#choose-class", [...lists, ...recordings]);
  await page.getByRole("textbox", { name: "code, row 3" }).first().waitFor();
  for (const [label, name] of [["Save the roster (CSV)", "roster.csv"], ["Save the sheet (CSV)", "sheet.csv"]])
    writeFileSync(path.join(bench.folder, name), await saved(page, () => page.getByRole("button", { name: label }).click()));
  const folder = path.join(simulated);
  const { stdout, status } = run(folder, "target", bench.file("roster.csv"), "--format", "csv");
  assert.equal(status, 0);
  assert.equal(stdout, run(folder, "target", "club_roster.csv", "--format", "csv").stdout);
  assert.match(readFileSync(bench.file("sheet.csv"), "utf8"), /^code,file,file_begins,activity,exertion,laps\nwren,club\/wren\.csv,10:05:00,stair-climb,11,9\n/);
  await page.context().close();
});

test("recordings alone are given to the codes that their names begin with", async () => {
  const page = await bench.page({ view: "class" });
  await page.setInputFiles("#choose-class", [lists[0]]);
  await page.getByText("The roster has 3 people.").waitFor();
  await page.setInputFiles("#choose-class", recordings);
  const sheet = page.getByRole("region", { name: "Whose recording is whose" });
  await sheet.getByRole("textbox", { name: "code, row 3" }).waitFor();
  const rows = await sheet.locator("tbody tr").evaluateAll((all) => all.map((row) => [...row.querySelectorAll("input")].slice(0, 2).map((input) => input.value)));
  assert.deepEqual(rows.sort(), [["heron", "heron.csv"], ["plover", "plover.csv"], ["wren", "wren.csv"]]);
  await work(page);
  await page.context().close();
});

test("a roster typed by keyboard alone gives everybody's target, plan and card, as the program says them", async () => {
  const page = await bench.page({ view: "class" });
  await page.getByRole("textbox", { name: "code, row 1" }).first().focus();
  const people = [["wren", "15", "f", "66"], ["heron", "14", "m", ""]];
  for (const [index, [code, age, sex, resting]] of people.entries()) {
    if (index > 0) {
      await page.getByRole("button", { name: "Add a row" }).first().focus();
      await page.keyboard.press("Enter");
    }
    for (const text of [code, age]) {
      await page.keyboard.type(text);
      await page.keyboard.press("Tab");
    }
    await page.keyboard.press(sex);
    await page.keyboard.press("Tab");
    await page.keyboard.type(resting);
  }
  await page.getByRole("button", { name: "Show targets and cards" }).focus();
  await page.keyboard.press("Enter");
  await page.locator(".target-card").nth(1).waitFor();
  writeFileSync(bench.file("typed.csv"), await saved(page, () => page.getByRole("button", { name: "Save the roster (CSV)" }).click()));
  const whole = (rate) => Math.floor(rate + 0.5 + 1e-9);
  const { people: rows } = JSON.parse(run(bench.folder, "target", "typed.csv", "--format", "json").stdout);
  const plan = JSON.parse(run(bench.folder, "target", "typed.csv", "--plan", "5-3x4/2-5", "--format", "json").stdout);
  const cards = await page.locator(".target-card").allInnerTexts();
  rows.forEach((row, i) => {
    assert.ok(cards[i].includes(row.code));
    assert.ok(cards[i].includes(`${whole(row.target.low_bpm)} to ${whole(row.target.high_bpm)} beats/min`), cards[i]);
    for (const phase of plan.people[i].phases) assert.ok(cards[i].includes(`${whole(phase.low_bpm)}–${whole(phase.high_bpm)}`), cards[i]);
  });
  assertNothingLeft(page);
  await page.context().close();
});

test("what is wrong with a list is told all at once, as by the program, and stays there to be mended", async () => {
  writeFileSync(bench.file("wrong.csv"), "code,age_years,resting_bpm\nwren,old,66\nwren,15,12\n");
  const page = await bench.page({ view: "class" });
  await page.setInputFiles("#choose-class", bench.file("wrong.csv"));
  const problem = page.locator("#view-class .problem");
  await problem.waitFor();
  const { stderr } = run(bench.folder, "target", "wrong.csv");
  assert.equal((await problem.innerText()).trim(), stderr.replace("pulsewright: error: ", "").trim());
  assert.equal(await page.getByRole("textbox", { name: "age, years, row 1" }).inputValue(), "old");
  await page.context().close();
});

test("rows pasted from a spreadsheet fill the table", async () => {
  const page = await bench.page({ view: "class" });
  await page.getByRole("textbox", { name: "code, row 1" }).first().evaluate((input) => {
    const data = new DataTransfer();
    data.setData("text/plain", "wren\t15\theron\nplover\t14\t\n".replace("\theron", ""));
    input.dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }));
  });
  assert.equal(await page.getByRole("textbox", { name: "code, row 2" }).first().inputValue(), "plover");
  assert.equal(await page.getByRole("textbox", { name: "age, years, row 2" }).inputValue(), "14");
  await page.context().close();
});
