// Drop a recording, read what it is, get its report.
import { el } from "./dom.mjs";
import { chooser } from "./files.mjs";
import { recordingCard } from "./recording_card.mjs";
import { t } from "./words.mjs";

/** The files that are read together: an open record is a header with its signal files, everything else stands alone. */
export function bundles(files) {
  const headers = files.filter(({ path }) => /\.hea$/i.test(path));
  const base = (path) => path.replace(/.*\//, "");
  if (headers.length === 0) return files.map((entry) => ({ name: base(entry.path), bundle: [{ path: base(entry.path), file: entry.file }] }));
  // Signals stand in .dat files of any name, annotations in files of the record's.
  const stem = (path) => base(path).replace(/\.[^.]*$/, "");
  const stems = new Set(headers.map(({ path }) => stem(path)));
  const beside = files.filter(({ path }) => !/\.hea$/i.test(path) && (/\.dat$/i.test(path) || stems.has(stem(path))));
  const flat = (entries) => entries.map(({ path, file }) => ({ path: base(path), file }));
  const records = headers.map((header) => ({ name: base(header.path), bundle: flat([header, ...beside]) }));
  const alone = files.filter((entry) => !headers.includes(entry) && !beside.includes(entry));
  return [...records, ...alone.map((entry) => ({ name: base(entry.path), bundle: flat([entry]) }))];
}

export function recordingView({ toClass }) {
  const list = el("div", {});
  const intro = el("div", {});
  const element = el("div", {}, intro, list);
  let cards = [];

  function draw() {
    intro.replaceChildren(
      el("h2", {}, t("recording.title")),
      el("p", {}, t("recording.lead")),
      el("p", { class: "tools" }, chooser(t("recording.choose"), take, { id: "choose-recording" })),
      el("p", { class: "quiet" }, t("recording.formats")));
  }

  /** Takes files; `known` is what is known of the person. */
  async function take(files, known = {}) {
    cards = bundles(files).map((one) => ({ ...one, known, card: null }));
    const made = cards.map((one) => (one.card = recordingCard({ ...one, onopen: () => cards.forEach((other) => other !== one && other.card.close()) })));
    list.replaceChildren(...made.map((card) => card.element));
    made[0]?.heading.focus();
    const forms = [];
    for (const one of cards) {
      const found = await one.card.look();
      forms.push({ ...one, form: found?.form ?? null });
    }
    const lists = forms.filter(({ form }) => form === "sheet" || form === "roster");
    if (lists.length > 0) toClass(files, lists);
  }

  return { element, draw, take, redraw: () => { draw(); cards.forEach(({ card }) => card.redraw()); }, clear: () => list.replaceChildren() };
}
