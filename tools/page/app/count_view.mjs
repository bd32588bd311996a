// A pulse counted by hand, by one person or a class at once: the clock, the rate, how far rounding alone may be off, and the target beside it.
import { button, choice, el, field } from "./dom.mjs";
import { csvOf } from "./csv.mjs";
import { engine } from "./engine.mjs";
import { t } from "./words.mjs";

const lengths = [10, 15, 20, 30, 60];
const whole = (rate) => Math.floor(rate + 0.5 + 1e-9);

/** `people` is the roster of the class view; counted rates can be taken over into it. */
export function countView({ people, ontaken }) {
  const element = el("div", {});
  const note = el("div", { role: "status" });
  const rounding = el("p", { class: "quiet", role: "status" });
  let rows = [{ code: "", age_years: "" }];
  let seconds = 15, from = "moment", running = null;

  const face = el("output", { class: "face", role: "timer" });
  const spoken = el("p", { class: "unseen", role: "status" });

  function stopClock(text) {
    cancelAnimationFrame(running?.frame);
    running = null;
    face.textContent = String(seconds);
    spoken.textContent = text;
    starter.textContent = t("count.start");
  }

  const starter = button("", () => {
    if (running) {
      stopClock(t("count.broken_off"));
      return;
    }
    running = { until: performance.now() + seconds * 1000 };
    starter.textContent = t("count.stop");
    spoken.textContent = t("count.now");
    face.classList.remove("done");
    const tick = () => {
      const left = (running.until - performance.now()) / 1000;
      face.textContent = String(Math.max(0, Math.ceil(left)));
      if (left > 0) {
        running.frame = requestAnimationFrame(tick);
        return;
      }
      stopClock(t("count.over"));
      face.textContent = t("count.over");
      face.classList.add("done");
      element.querySelector("input.beats")?.focus();
    };
    tick();
  }, { class: "main" });

  async function work(row) {
    const { beats } = row;
    row.result.replaceChildren();
    row.target.replaceChildren();
    row.bpm = null;
    if (beats === "" || beats === undefined) return;
    try {
      const counted = await engine.call("counted", { beats: Number(beats), seconds, from });
      row.bpm = counted.bpm;
      const key = counted.bias_bpm === 0 ? "count.result" : "count.result_biased";
      row.result.replaceChildren(el("strong", {}, t("count.rate", { bpm: whole(counted.bpm) })));
      // It depends on the clock alone, so that it is said once for all.
      rounding.textContent = t(key, { per_beat: counted.per_beat_bpm, rms: counted.rms_error_bpm.toFixed(1), bias: Math.abs(counted.bias_bpm) });
      await aim(row);
    } catch (error) {
      row.result.replaceChildren(el("span", { class: "problem", lang: "en" }, error.message));
    }
  }

  /** The target of someone whose age is known, with the counted rate as resting rate. */
  async function aim(row) {
    if (!row.age_years) return;
    const roster = csvOf(["code", "age_years", "resting_bpm"], [{ code: row.code || "one", age_years: row.age_years, resting_bpm: String(row.bpm) }]);
    try {
      const { targets } = await engine.call("targets", { roster: "roster.csv" }, { files: [{ path: "roster.csv", file: new Blob([roster]) }] });
      const { target, reasons } = targets.people[0];
      row.target.replaceChildren(target ? t("targets.band", { low: whole(target.low_bpm), high: whole(target.high_bpm) }) : el("span", { lang: "en" }, reasons?.target ?? ""));
    } catch (error) {
      row.target.replaceChildren(el("span", { class: "problem", lang: "en" }, error.message));
    }
  }

  const workAll = () => rows.forEach(work);

  function line(row, index) {
    const label = (key) => t("table.cell", { column: t(`count.${key}`), row: index + 1 });
    const input = (key, more = {}) => el("input", { type: "text", value: row[key] ?? "", "aria-label": label(key), autocomplete: "off",
      oninput: (event) => {
        row[key] = event.target.value.trim();
        work(row);
      }, ...more });
    row.result = el("td", {});
    row.target = el("td", {});
    return el("tr", {}, el("td", {}, input("code", { spellcheck: "false" })), el("td", {}, input("age_years", { inputmode: "decimal" })),
      el("td", {}, input("beats", { inputmode: "numeric", class: "beats" })), row.result, row.target);
  }

  function draw() {
    const seconds_ = choice(lengths.map((one) => [String(one), t("count.seconds_of", { seconds: one })]), String(seconds), (event) => {
      seconds = Number(event.target.value);
      if (!running) face.textContent = String(seconds);
      workAll();
    });
    const from_ = choice([["moment", t("count.from.moment")], ["beat", t("count.from.beat")]], from, (event) => {
      from = event.target.value;
      workAll();
    });
    starter.textContent = t(running ? "count.stop" : "count.start");
    if (!running) face.textContent = String(seconds);
    const body = el("tbody", {}, rows.map(line));
    element.replaceChildren(
      el("h2", {}, t("count.title")), el("p", {}, t("count.lead")),
      el("div", { class: "fields" }, field(t("count.seconds"), seconds_, t("count.seconds.note")), field(t("count.from"), from_, t("count.from.note"))),
      el("p", { class: "clock" }, face), spoken, el("p", { class: "tools" }, starter),
      el("div", { class: "wide-table edited", role: "region", tabIndex: 0, "aria-label": t("count.table") }, el("table", {}, el("caption", {}, t("count.table")),
        el("thead", {}, el("tr", {}, ["code", "age_years", "beats", "rate_column", "target"].map((key) => el("th", { scope: "col" }, t(`count.${key}`))))), body)),
      rounding,
      el("p", { class: "tools" },
        button(t("count.add"), () => { rows.push({}); draw(); }),
        button(t("count.of_class"), () => { rows = people.filter(({ code }) => code).map(({ code, age_years }) => ({ code, age_years })); if (rows.length === 0) rows = [{}]; draw(); }),
        button(t("count.take_over"), takeOver)), note);
    workAll();
  }

  function takeOver() {
    let taken = 0;
    for (const row of rows) {
      if (!row.bpm || !row.code) continue;
      let person = people.find(({ code }) => code === row.code);
      if (!person) people.push((person = { code: row.code, age_years: row.age_years }));
      person.resting_bpm = String(row.bpm);
      ++taken;
    }
    note.replaceChildren(el("p", { class: "quiet" }, t("count.taken_over", { count: taken })));
    ontaken();
  }

  return { element, draw, redraw: draw };
}
