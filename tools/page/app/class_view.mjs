// A class: who is in it, which recording is whose, what to aim for, and the report of everybody with slips to cut off.
import { button, choice, el, field } from "./dom.mjs";
import { csvOf } from "./csv.mjs";
import { editableTable } from "./editable_table.mjs";
import { engine } from "./engine.mjs";
import { chooser, save } from "./files.mjs";
import { printFrame, reportFrame, savers } from "./report_frame.mjs";
import { targetsPart } from "./targets_part.mjs";
import { during } from "./work.mjs";
import { language, t } from "./words.mjs";

export const rosterColumns = ["code", "age_years", "sex", "resting_bpm", "maximum_bpm", "ceiling_bpm", "exercise"];
const sheetColumns = ["code", "file", "channel", "from", "to", "file_begins", "activity", "exertion", "marks"];
const performances = ["laps", "distance_m", "score", "place", "time_s"];
const results = ["class.html", "class.json", "class.csv", "class.txt"];
const sortings = ["effort", "target", "moderate", "load", "peak", "recovery", "performance", "code"];

const base = (path) => path.replace(/.*[\\/]/, "");

/** The file that a sheet means by `written`: the same path, else the only one that ends in it, else the only one of that name. */
export function fileFor(written, files) {
  const wanted = written.replaceAll("\\", "/");
  const exact = files.find(({ path }) => path === wanted);
  if (exact) return exact;
  for (const fits of [({ path }) => path.endsWith(`/${wanted}`), ({ path }) => base(path) === base(wanted), ({ path }) => base(path).replace(/\.hea$/i, "") === base(wanted)]) {
    const found = files.filter(fits);
    if (found.length === 1) return found[0];
  }
  return null;
}

/** The code that a file's name begins with, whole: `wren.csv`, `wren_2.csv` for wren. The longest that fits. */
export function codeFor(path, codes) {
  const name = base(path).toLowerCase();
  return codes.filter((code) => code && name.startsWith(code.toLowerCase()) && !/[a-z0-9]/.test(name[code.length] ?? "")).sort((a, b) => b.length - a.length)[0] ?? "";
}

export function classView() {
  const people = [{}];
  const lines = [];
  const files = [];
  let performance = "laps";
  const element = el("div", {});
  const outcome = el("div", { class: "outcome" });
  const note = el("div", { class: "note-place", role: "status" });
  let shown = null;

  const rosterText = () => csvOf(rosterColumns, people.filter((person) => person.code));
  const usedSheetColumns = () => [...sheetColumns, performance];
  const sheetText = () => csvOf(usedSheetColumns(), lines.filter((line) => line.code || line.file), ["code", "file"]);
  const encoded = (name, text) => ({ path: name, file: new Blob([text]) });

  const targets = targetsPart({ roster: () => encoded("roster.csv", rosterText()), people });

  /** Takes files that were dropped or chosen: lists into the tables, recordings into the sheet. */
  async function take(given) {
    for (const entry of given) {
      const found = await during(note, () => engine.call("inspect", { file: base(entry.path) }, { files: [{ path: base(entry.path), file: entry.file }] }).catch(() => ({ form: "unknown" })));
      if (found?.form === "roster") await takeRoster(entry);
      else if (found?.form === "sheet") await takeSheet(entry);
      else if (found) files.push(entry);
    }
    for (const entry of files) {
      if (/\.(dat|atr)$/i.test(entry.path) || lines.some((line) => line.file && fileFor(line.file, files) === entry)) continue;
      lines.push({ code: codeFor(entry.path, people.map((person) => person.code ?? "")), file: entry.path });
    }
    draw();
  }

  async function takeRoster(entry) {
    const name = base(entry.path);
    const bundle = [{ path: name, file: entry.file }];
    const read = await during(note, () => engine.call("roster_people", { roster: name }, { files: bundle }).catch((error) => ({ error })));
    if (!read) return;
    if (read.people) {
      people.splice(0, people.length, ...read.people.map((person) => Object.fromEntries(Object.entries(person).map(([key, value]) => [key, value === null ? "" : String(value)]))));
      say(t("class.roster_taken", { count: people.length }));
      return;
    }
    const table = await during(note, () => engine.call("table", { file: name }, { files: bundle }));
    if (table) people.splice(0, people.length, ...table.rows.map((row) => Object.fromEntries(row.map((cell, k) => [table.columns[k], cell]))));
    say(read.error.message, true);
  }

  async function takeSheet(entry) {
    const name = base(entry.path);
    const table = await during(note, () => engine.call("table", { file: name }, { files: [{ path: name, file: entry.file }] }));
    if (!table) return;
    performance = performances.find((column) => table.columns.includes(column)) ?? performance;
    lines.splice(0, lines.length, ...table.rows.map((row) => Object.fromEntries(row.map((cell, k) => [table.columns[k], cell]))));
  }

  function say(text, wrong = false) {
    note.replaceChildren(el("p", { class: wrong ? "problem" : "quiet", lang: wrong ? "en" : null }, text));
  }

  /** Every file that the sheet names and that is here, at the place where the sheet looks for it. */
  function bundle() {
    const placed = [encoded("roster.csv", rosterText()), encoded("sheet.csv", sheetText())];
    const missing = [];
    for (const line of lines) {
      for (const written of [line.file, line.marks].filter(Boolean)) {
        const found = fileFor(written, files);
        if (!found) {
          missing.push(written);
          continue;
        }
        if (!placed.some(({ path }) => path === written)) placed.push({ path: written, file: found.file });
        // A record's signals stand beside its header.
        if (/\.hea$/i.test(found.path))
          for (const beside of files.filter(({ path }) => /\.dat$/i.test(path))) placed.push({ path: written.replace(/[^/]*$/, "") + base(beside.path), file: beside.file });
      }
    }
    return { placed, missing };
  }

  async function study() {
    const { placed, missing } = bundle();
    if (missing.length > 0) say(t("class.missing", { names: [...new Set(missing)].join(", ") }));
    const asked = { roster: "roster.csv", sheet: "sheet.csv", sort: sorting.value, options: targets.options() };
    const found = await during(outcome, (onProgress) => engine.call("study_class", asked, { files: placed, onProgress }));
    if (!found) return;
    shown = found;
    await show();
  }

  const fetch = async (what) => (await during(note, () => engine.call("class_file", { what, language: language() })))?.taken[what];

  async function show() {
    const bytes = await fetch("class.html");
    if (!bytes) return;
    const frame = reportFrame(bytes, t("report.class_title"));
    const said = el("p", { class: "result", role: "status" }, shown.failures.length === 0 ? t("report.ready") : t("class.failures", { count: shown.failures.length }));
    const faults = shown.failures.map(({ code, message }) => el("p", { class: "note", lang: "en" }, `${code}: ${message}`));
    outcome.replaceChildren(said, ...faults, el("p", { class: "tools" }, button(t("report.print"), () => printFrame(frame)),
      savers(results.map((what) => [what, t(`save.${what}`)]), fetch, "session", note)), el("p", { class: "quiet" }, t("class.slips")), frame);
    said.scrollIntoView({ block: "start" });
  }

  let sorting = choice([["effort", ""]], "effort");

  function draw() {
    const before = sorting.value;
    sorting = choice(sortings.map((word) => [word, t(`sort.${word}`)]), before);
    const words = (prefix, list) => [["", "–"], ...list.map((word) => [word, t(`${prefix}.${word}`)])];
    const label = (key) => t(`roster.${key}`);
    const roster = editableTable({
      caption: t("class.people"), rows: people, onchange: () => targets.stale(),
      columns: [
        { key: "code", label: label("code") }, { key: "age_years", label: label("age_years"), number: true },
        { key: "sex", label: label("sex"), words: words("person.sex", ["female", "male"]) }, { key: "resting_bpm", label: label("resting_bpm"), number: true },
        { key: "maximum_bpm", label: label("maximum_bpm"), number: true }, { key: "ceiling_bpm", label: label("ceiling_bpm"), number: true },
        { key: "exercise", label: label("exercise"), words: [["legs", t("person.exercise.legs")], ["arms", t("person.exercise.arms")], ["wheelchair", t("person.exercise.wheelchair")]] },
      ],
    });
    const names = el("datalist", { id: "names-of-files" }, files.map(({ path }) => el("option", { value: path })));
    const sheet = editableTable({
      caption: t("class.sheet"), rows: lines, onchange: () => {},
      columns: [...usedSheetColumns().map((key) => ({ key, label: t(`sheet.${key}`), list: key === "file" ? "names-of-files" : null, number: key === "exertion" || performances.includes(key) }))],
    });
    const measure = choice(performances.map((word) => [word, t(`sheet.${word}`)]), performance, (event) => {
      for (const line of lines) {
        line[event.target.value] = line[performance] ?? "";
        if (event.target.value !== performance) delete line[performance];
      }
      performance = event.target.value;
      draw();
    });
    element.replaceChildren(
      el("h2", {}, t("class.title")), el("p", {}, t("class.lead")),
      el("p", { class: "tools" }, chooser(t("class.choose"), take, { id: "choose-class" })), note,
      el("section", {}, el("h3", {}, t("class.people")), el("p", { class: "quiet" }, t("class.people_note")), roster.element,
        el("p", { class: "tools" }, roster.adding, button(t("class.save_roster"), () => saveText("roster.csv", rosterText())))),
      targets.element(),
      el("section", {}, el("h3", {}, t("class.sheet")), el("p", { class: "quiet" }, t("class.sheet_note")), names, sheet.element,
        el("p", { class: "tools" }, sheet.adding, button(t("class.save_sheet"), () => saveText("sheet.csv", sheetText()))),
        el("div", { class: "fields" }, field(t("class.performance"), measure, t("class.performance_note")), field(t("class.sort"), sorting, t("class.sort_note"))),
        el("p", { class: "tools" }, button(t("class.study"), study, { class: "main" }))),
      outcome);
  }

  function saveText(name, text) {
    save(name, text, "text/csv");
    say(t("files.saved", { name }));
  }

  /** What a live lesson leaves: its people, each with a recording. */
  async function takeLesson(given, known) {
    for (const person of known) {
      const before = people.find(({ code }) => code === person.code);
      if (before) Object.assign(before, Object.fromEntries(Object.entries(person).filter(([, value]) => value)));
      else people.push(person);
    }
    people.splice(0, people.length, ...people.filter(({ code }) => code));
    await take(given);
    await study();
  }

  return { element, draw, take, takeLesson, redraw: () => { draw(); targets.redraw(); if (shown) show(); }, people };
}
