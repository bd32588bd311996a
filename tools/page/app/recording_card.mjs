// One file in plain words, what is unclear about it, and the way to its report.
import { button, choice, el, field } from "./dom.mjs";
import { engine } from "./engine.mjs";
import { personForm } from "./person_form.mjs";
import { printFrame, reportFrame, savers } from "./report_frame.mjs";
import { during } from "./work.mjs";
import { clock, language, t } from "./words.mjs";

const waves = ["ecg", "pulse", "other"];

function channelWords(channel) {
  const rate = Number(channel.rate_hz.toPrecision(4));
  return t("file.channel", { name: channel.name, kind: t(`kind.${channel.kind}`), rate });
}

/** What a file is, in a sentence or two. */
function inWords(found) {
  if (found.form !== "recording") return [el("p", {}, t(`file.${found.form}`, { count: found.beats ?? "", length: clock(found.duration_s ?? 0) }))];
  const recording = found.recording;
  const many = recording.channels.length;
  const words = [el("p", {}, t(many === 1 ? "file.recording.one" : "file.recording", { count: many, length: clock(recording.duration_s) }))];
  words.push(el("ul", { class: "plain" }, recording.channels.slice(0, 12).map((channel) => el("li", {}, channelWords(channel)))));
  if (many > 12) words.push(el("p", { class: "quiet" }, t("file.more_channels", { count: many - 12 })));
  for (const warning of recording.warnings) words.push(el("p", { class: "note", lang: "en" }, warning.message));
  return words;
}

/** How to read it, where the file leaves something open; filled with `known`. */
function readingForm(found, known = {}) {
  const inputs = {};
  const rows = [];
  if (found?.form === "recording") {
    const usable = found.recording.channels.map((channel, index) => [channel, String(index + 1)]).filter(([channel]) => waves.includes(channel.kind));
    if (usable.length > 1) {
      inputs.channels = choice([["", t("reading.all_channels")], ...usable.map(([channel, place]) => [`#${place}`, channel.name])], known.channels ?? "");
      rows.push(field(t("reading.channels"), inputs.channels, t("reading.channels.note")));
    }
    inputs.kind = choice([["", t("reading.kind.auto")], ["ecg", t("kind.ecg")], ["pulse", t("kind.pulse")]], known.kind ?? "");
    rows.push(field(t("reading.kind"), inputs.kind, t("reading.kind.note")));
  }
  if (!found || found.form === "recording") {
    for (const key of ["rate_hz", "start_s", "end_s"]) {
      inputs[key] = el("input", { type: "number", min: "0", step: "any", inputmode: "decimal", value: known[key] ?? null });
      rows.push(field(t(`reading.${key}`), inputs[key], t(`reading.${key}.note`)));
    }
  }
  const read = () => {
    const options = {};
    for (const [key, input] of Object.entries(inputs)) {
      if (input.value === "") continue;
      options[key] = input.type === "number" ? Number(input.value) : key === "channels" ? [input.value] : input.value;
    }
    if (found && ["beats", "intervals"].includes(found.form)) options.input = found.form;
    return options;
  };
  const values = () => Object.fromEntries(Object.entries(inputs).map(([key, input]) => [key, input.value]));
  return { element: rows.length > 0 ? el("div", { class: "fields" }, rows) : null, read, values };
}

const results = ["report.html", "workings.html", "analysis.json", "beats.csv", "intervals.csv", "rate.csv", "summary.txt"];

/**
 * A card for the file that the module knows as `name`. `bundle` are the files it needs there, `onopen` is told when its session is opened,
 * so that others know theirs is closed, `known` what is known of the person.
 */
export function recordingCard({ name, bundle, known = {}, onopen = () => {} }) {
  const about = el("div", {});
  const forms = el("div", {});
  const outcome = el("div", { class: "outcome" });
  const heading = el("h3", { tabIndex: -1 }, name);
  const card = el("section", { class: "card" }, heading, about, forms, outcome);
  let open = null, drawn = null;

  async function look(options = {}) {
    const found = await during(about, (onProgress) => engine.call("inspect", { file: name, options }, { files: bundle, onProgress }));
    if (!found && !about.textContent.includes(t("work.stopped"))) return mend(null);
    if (found) {
      about.replaceChildren(...inWords(found));
      mend(found, options);
    }
    return found;
  }

  /** The forms below the words: whose it is, and what the file leaves open. */
  function mend(found, before = {}, typed = { person: known }) {
    if (found && !["recording", "beats", "intervals"].includes(found.form)) return null;
    const reading = readingForm(found, typed.reading);
    drawn = { found, before, reading, person: null };
    if (!found) {
      forms.replaceChildren(el("details", { open: true }, el("summary", {}, t("reading.title")), reading.element,
        button(t("reading.again"), () => look(reading.read()))));
      return null;
    }
    const person = (drawn.person = personForm(typed.person));
    const details = reading.element && el("details", {}, el("summary", {}, t("reading.title")), reading.element);
    forms.replaceChildren(el("h4", {}, t("person.title")), person.element, details ?? "",
      el("p", { class: "tools" }, button(t("file.analyse"), () => analyse(person, { ...before, ...reading.read() }), { class: "main" })));
    return null;
  }

  async function analyse(person, reading) {
    const known = person.read();
    if (!known) return;
    onopen();
    const options = { ...reading, ...known };
    const found = await during(outcome, (onProgress) => engine.call("analyze", { file: name, options }, { files: bundle, onProgress }));
    if (!found) return;
    open = { found, options };
    await show();
  }

  const fetch = async (what) => (await during(outcomeNote, () => engine.call("session_file", { what, language: language() })))?.taken[what];
  const outcomeNote = el("div", { class: "note-place" });

  async function show() {
    const { found } = open;
    outcome.replaceChildren(outcomeNote);
    const bytes = await fetch("report.html");
    if (!bytes) return;
    const frame = reportFrame(bytes, t("report.session_title", { name }));
    const offered = results.filter((what) => what !== "workings.html" || found.signals).map((what) => [what, t(`save.${what}`)]);
    const stem = name.replace(/.*\//, "").replace(/\.[^.]*$/, "");
    const note = el("p", { class: "result", role: "status" }, t(found.exit_code === 0 ? "report.ready" : "report.no_value"));
    outcome.replaceChildren(note, el("p", { class: "tools" }, button(t("report.print"), () => printFrame(frame)), savers(offered, fetch, stem, outcomeNote)), outcomeNote, frame);
    note.scrollIntoView({ block: "start" });
  }

  /** The same in another language; what was typed stays. */
  function redraw() {
    if (!drawn) return;
    const { found, before, reading, person } = drawn;
    if (found) about.replaceChildren(...inWords(found));
    mend(found, before, { reading: reading.values(), person: person?.values() });
    if (open) show();
  }

  return { element: card, look, heading, redraw, close: () => { open = null; outcome.querySelectorAll(".tools").forEach((tools) => tools.remove()); } };
}
