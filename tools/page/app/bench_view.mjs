// The lab bench: what each stage of the pipeline does to a recording, and a detector of one's own beside the library's.
import { choice, el, field } from "./dom.mjs";
import { engine } from "./engine.mjs";
import { chooser } from "./files.mjs";
import { timePlot } from "./plot.mjs";
import { bundles } from "./recording_view.mjs";
import { during } from "./work.mjs";
import { clock, t } from "./words.mjs";

/** More than this is not laid on the bench, so that a turn of a slider shows at once. */
const longest_s = 300;
const view_s = 10;

/** A slider with its value beside it. `stages` and `own` name what it sets. */
function slider({ key, low, high, step, value, unit }, onturn) {
  const input = el("input", { type: "range", min: String(low), max: String(high), step: String(step), value: String(value) });
  const shown = el("output", {}, `${value} ${unit}`);
  input.addEventListener("input", () => {
    shown.textContent = `${input.value} ${unit}`;
    onturn();
  });
  const row = field(t(`bench.${key}`), input, t(`bench.${key}.note`));
  row.firstChild.append(": ", shown);
  return { row, read: () => Number(input.value) };
}

export function benchView() {
  const element = el("div", {});
  const note = el("div", {});
  const bench = el("div", {});
  let laid = null, controls = {}, turning = false, again = false;

  function draw() {
    element.replaceChildren(el("h2", {}, t("bench.title")), el("p", {}, t("bench.lead")),
      el("p", { class: "tools" }, chooser(t("bench.choose"), take, { id: "choose-bench" })), note, bench);
    if (laid) drawBench();
  }

  async function take(files) {
    const { name, bundle } = bundles(files)[0];
    const found = await during(note, (onProgress) => engine.call("bench_open", { file: name, options: { end_s: longest_s } }, { files: bundle, onProgress }));
    if (!found) return;
    laid = { ...found, name, view: { start_s: Math.max(0, found.start_s), end_s: Math.max(0, found.start_s) + view_s } };
    drawBench();
  }

  function drawBench() {
    const wave = laid.kind === "ecg" ? "ecg" : "pulse";
    const group = (sliders) => Object.fromEntries(sliders.map((one) => [one.key, slider(one, turn)]));
    const mains = choice([["auto", t("bench.mains.auto")], ["none", t("bench.mains.none")], ["50", "50 Hz"], ["60", "60 Hz"]], "auto", turn);
    const place = el("input", { type: "range", min: String(laid.start_s), max: String(Math.max(laid.start_s, laid.duration_s - view_s)), step: "1", value: String(laid.view.start_s), "aria-label": t("bench.place"),
      oninput: () => {
        laid.view = { start_s: Number(place.value), end_s: Number(place.value) + view_s };
        turn();
      } });
    const filter = group(wave === "ecg"
      ? [{ key: "ecg_baseline_hz", low: 0.05, high: 5, step: 0.05, value: 0.65, unit: "Hz" }]
      : [{ key: "pulse_baseline_hz", low: 0.1, high: 2, step: 0.1, value: 0.4, unit: "Hz" }, { key: "pulse_top_hz", low: 1.5, high: 15, step: 0.5, value: 8, unit: "Hz" }]);
    const find = group([{ key: "refractory_s", low: 0.2, high: 1.2, step: 0.05, value: wave === "ecg" ? 0.2 : 0.25, unit: "s" }]);
    const rate = group([{ key: "window_s", low: 4, high: 60, step: 1, value: 8, unit: "s" }, { key: "least_confidence", low: 0, high: 1, step: 0.05, value: 0.5, unit: "" }]);
    const own = group([{ key: "smooth_s", low: 0, high: 0.5, step: 0.01, value: 0.1, unit: "s" }, { key: "threshold", low: 0.05, high: 0.95, step: 0.05, value: 0.5, unit: "" }, { key: "own_refractory_s", low: 0.1, high: 1.2, step: 0.05, value: 0.3, unit: "s" }]);
    controls = { stages: { ...filter, ...find, ...rate }, own, mains };
    const stage = (key, inputs, plots) => el("section", { class: "stage" }, el("h3", {}, t(`bench.stage.${key}`)), el("p", { class: "quiet" }, t(`bench.stage.${key}.note`)),
      el("div", { class: "fields" }, inputs), plots);
    const plots = Object.fromEntries(["raw", "conditioned", "found", "rate", "own"].map((key) => [key, el("div", { "aria-live": "off" })]));
    controls.plots = plots;
    controls.sum = el("p", { class: "result", role: "status" });
    controls.ownSum = el("p", { class: "result", role: "status" });
    const rows = (set) => Object.values(set).map(({ row }) => row);
    bench.replaceChildren(
      el("p", {}, t("bench.laid", { name: laid.name, channel: laid.channel, kind: t(`kind.${laid.kind}`), length: clock(Math.min(laid.duration_s, longest_s)), beats: laid.beats })),
      el("p", { class: "field" }, el("span", { class: "quiet" }, t("bench.place")), place),
      stage("1", [], plots.raw),
      stage("2", [...rows(filter), field(t("bench.mains"), mains)], plots.conditioned),
      stage("3", rows(find), [plots.found, controls.sum]),
      stage("5", rows(rate), plots.rate),
      stage("own", rows(own), [plots.own, controls.ownSum]));
    turn();
  }

  /** One answer at a time; the newest turn is the one that counts. */
  async function turn() {
    if (turning) {
      again = true;
      return;
    }
    turning = true;
    do {
      again = false;
      const stages = Object.fromEntries(Object.entries(controls.stages).map(([key, { read }]) => [key, read()]));
      if (laid.kind === "ecg" && stages.ecg_baseline_hz === 0.65) delete stages.ecg_baseline_hz;
      stages.mains = controls.mains.value;
      const own = { smooth_s: controls.own.smooth_s.read(), threshold: controls.own.threshold.read(), refractory_s: controls.own.own_refractory_s.read() };
      try {
        show(await engine.call("bench_turn", { view: laid.view, stages, own }));
        bench.dataset.turns = String(Number(bench.dataset.turns ?? 0) + 1);
        note.replaceChildren();
      } catch (error) {
        note.replaceChildren(el("p", { class: "problem", role: "alert", lang: "en" }, error.message));
      }
    } while (again);
    turning = false;
  }

  function show(reply) {
    const { plots } = controls;
    const width = Math.max(320, Math.min(1100, bench.clientWidth - 8));
    const plot = (options) => timePlot({ view: laid.view, width, ...options });
    const accepted = reply.beats.filter(({ verdict }) => verdict === "accepted").map(({ time_s: time }) => time);
    const rejected = reply.beats.filter(({ verdict }) => verdict !== "accepted").map(({ time_s: time }) => time);
    const unit = laid.unit || t("bench.no_unit");
    plots.raw.replaceChildren(plot({ title: t("bench.raw"), unit, alt: t("bench.raw.alt"), layers: [{ type: "line", series: reply.raw, class: "signal" }] }));
    plots.conditioned.replaceChildren(plot({ title: t("bench.conditioned"), unit, alt: t("bench.conditioned.alt"), layers: [{ type: "line", series: reply.conditioned, class: "signal" }] }),
      el("p", { class: "quiet" }, t("bench.quality", { list: reply.quality.map(({ index }) => index.toFixed(1)).join("  ") }), " ", reply.mains_hz ? t("bench.mains_found", { hz: reply.mains_hz }) : t("bench.mains_not_found")));
    plots.found.replaceChildren(plot({
      title: t("bench.function"), alt: t("bench.function.alt", { accepted: accepted.length, rejected: rejected.length }),
      layers: [{ type: "marks", times: accepted, class: "beat" }, { type: "marks", times: rejected, class: "flagged" }, { type: "line", series: reply.trace.function, class: "function" }],
    }), el("p", { class: "quiet" }, t("bench.function.legend")));
    const { agreement } = reply;
    controls.sum.textContent = t("bench.sum", { count: reply.count, usual: laid.beats, missed: agreement.missed, extra: agreement.extra });
    const whole = { start_s: 0, end_s: Math.min(laid.duration_s, longest_s) };
    const band = (key) => reply.rates.map((window) => [window.time_s, window[key]]);
    plots.rate.replaceChildren(plot({
      view: whole, title: t("bench.rate"), unit: t("unit.bpm"), alt: t("bench.rate.alt", { measured: reply.rates.filter(({ bpm }) => bpm !== null).length, count: reply.rates.length }),
      layers: [{ type: "course", points: band("low_bpm"), class: "middle" }, { type: "course", points: band("high_bpm"), class: "middle" }, { type: "course", points: band("bpm"), class: "rate" }],
    }));
    plots.own.replaceChildren(plot({
      title: t("bench.own"), unit, alt: t("bench.own.alt", { count: reply.own.beats.length }),
      layers: [{ type: "marks", times: accepted, class: "beat" }, { type: "line", series: reply.own.smoothed, class: "signal" }, { type: "line", series: reply.own.threshold, class: "diagonal" },
        { type: "points", points: reply.own.beats.map((time) => [time, valueAt(reply.own.smoothed, time)]).filter(([, value]) => value !== null), class: "symbol rejected" }],
    }), el("p", { class: "quiet" }, t("bench.own.legend")));
    const score = reply.own.agreement;
    const percent = (value) => (value === null ? "–" : `${value.toFixed(1)} %`);
    controls.ownSum.textContent = t("bench.own.sum", { count: reply.own.count, found: score.found, missed: score.missed, extra: score.extra, sensitivity: percent(score.sensitivity_percent), predictivity: percent(score.positive_predictivity_percent) });
  }

  const valueAt = ({ start_s: start, rate_hz: rate, values }, time) => values[Math.min(values.length - 1, Math.max(0, Math.round((time - start) * rate)))] ?? null;

  return { element, draw, take, redraw: draw };
}
