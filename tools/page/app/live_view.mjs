// A lesson while it runs: sensors are connected, everybody stands on one axis with their own target, the plan leads through the phases, and at the end there is a report. Every
// second is kept on this device before it is shown.
import { button, choice, el, field, svg } from "./dom.mjs";
import { Engine } from "./engine.mjs";
import { canBluetooth, canSerial, openBelt, openSerial } from "./live_sources.mjs";
import { eraseAll, keepPieces, keepSession, kept, piecesOf, unended } from "./live_store.mjs";
import { said } from "./work.mjs";
import { clock, t } from "./words.mjs";

const whole = (rate) => Math.floor(rate + 0.5 + 1e-9);
/** Beats/min at the ends of the common axis. */
const axis = { low: 40, high: 220 };
const place = (bpm) => ((Math.min(axis.high, Math.max(axis.low, bpm)) - axis.low) / (axis.high - axis.low)) * 100;
/** A rate older than this is none any more, in ms. */
const stale_ms = 10000;

/** A person's line on the common axis: target, 95 % interval, rate. */
function axisLine(sensor) {
  const drawing = svg("svg", { class: "live-axis", width: "100%", height: 28, role: "img",
    "aria-label": sensor.bpm === null ? t("live.no_rate") : t("live.axis_alt", { bpm: whole(sensor.bpm), target: sensor.target ? t("targets.band", sensor.target) : "–" }) });
  drawing.append(svg("rect", { class: "rail", x: 0, y: 8, width: "100%", height: 12 }));
  if (sensor.target) drawing.append(svg("rect", { class: "shade-5", x: `${place(sensor.target.low)}%`, y: 8, width: `${place(sensor.target.high) - place(sensor.target.low)}%`, height: 12 }));
  if (sensor.bpm === null) return drawing;
  if (sensor.low_bpm !== null) drawing.append(svg("line", { class: "whisker", x1: `${place(sensor.low_bpm)}%`, x2: `${place(sensor.high_bpm)}%`, y1: 14, y2: 14 }));
  drawing.append(svg("circle", { class: "symbol", cx: `${place(sensor.bpm)}%`, cy: 14, r: 6 }));
  return drawing;
}

export function liveView({ toRecording, toClass }) {
  const engine = new Engine();
  const element = el("div", {});
  const note = el("div", { role: "status" });
  const rows = el("tbody");
  const lesson = el("div", { class: "lesson", role: "status" });
  let session = null, sensors = [], plan = null, planText = "5-3x4/2-5", waiting = [], busy = false;

  const say = (text, wrong = false) => note.replaceChildren(el("p", { class: wrong ? "problem" : "quiet" }, text));

  // ---- who is connected

  async function begin() {
    if (session) return;
    session = { id: `${Date.now()}`, begun: new Date().toISOString().slice(0, 19), sensors: [] };
    await keepSession(session);
  }

  async function open(sensor) {
    await engine.call("live_open", { sensor: sensor.number, kind: sensor.kind, form: sensor.form, code: sensor.code, begun: session.begun });
    sensor.target = await targetOf(sensor);
  }

  /** The target of someone whose age is known. */
  async function targetOf({ code, age_years: age, resting_bpm: resting }) {
    if (!age) return null;
    const roster = `code,age_years,resting_bpm\n${code || "one"},${age},${resting ?? ""}\n`;
    const { targets } = await engine.call("targets", { roster: "roster.csv" }, { files: [{ path: "roster.csv", file: new Blob([roster]) }] });
    const { target } = targets.people[0];
    return target && { low: whole(target.low_bpm), high: whole(target.high_bpm) };
  }

  async function connect(source) {
    const known = Object.fromEntries(["code", "age_years", "resting_bpm", "kind"].map((key) => [key, form[key].value.trim()]));
    if (!/^[A-Za-z0-9_-]*$/.test(known.code)) return say(t("person.code.note"), true);
    const sensor = { ...known, number: sensors.length, form: "automatic", bpm: null, low_bpm: null, high_bpm: null, advice: "looking", seen: 0 };
    const onbytes = (bytes) => waiting.push({ sensor: sensor.number, arrived_us: Math.round(performance.timeOrigin * 1000 + performance.now() * 1000), bytes: bytes.slice().buffer });
    const onend = () => { sensor.gone = true; drawRows(); };
    try {
      sensor.source = await (source === "serial" ? openSerial({ baud: Number(form.baud.value), onbytes, onend }) : openBelt({ onbytes, onend }));
    } catch (error) {
      return say(error.name === "NotFoundError" ? t("live.none_chosen") : t("live.not_opened", { message: error.message }), error.name !== "NotFoundError");
    }
    try {
      sensor.form = sensor.source.form;
      await begin();
      await open(sensor);
      sensors.push(sensor);
      session.sensors = sensors.map(({ number, code, age_years, resting_bpm, kind, form: how }) => ({ number, code, age_years, resting_bpm, kind, form: how }));
      await keepSession(session);
    } catch (error) {
      await sensor.source.close();
      return say(said(error), true);
    }
    form.code.value = "";
    say(t("live.connected", { code: sensor.code || "–" }));
    drawTable();
    drawRows();
  }

  // ---- every second: keep first, then show

  async function second() {
    drawLesson();
    if (busy || waiting.length === 0) {
      drawRows();
      return;
    }
    busy = true;
    const pieces = await joined(waiting.splice(0));
    try {
      await keepPieces(session.id, pieces);
      for (const piece of pieces) await show(piece);
    } catch (error) {
      say(t("live.not_kept", { message: said(error) }), true);
    }
    busy = false;
    drawRows();
  }

  /** What came of one sensor within a second is one piece. */
  function joined(pieces) {
    const bySensor = new Map();
    for (const piece of pieces) {
      const before = bySensor.get(piece.sensor);
      if (!before) bySensor.set(piece.sensor, { ...piece, parts: [piece.bytes] });
      else Object.assign(before, { arrived_us: piece.arrived_us }).parts.push(piece.bytes);
    }
    return Promise.all([...bySensor.values()].map(async ({ parts, ...piece }) => ({ ...piece, bytes: await new Blob(parts).arrayBuffer() })));
  }

  async function show({ sensor: number, arrived_us, bytes, interrupted }) {
    const sensor = sensors.find((one) => one.number === number);
    const asked = { sensor: number, file: "piece", arrived_us, ...(interrupted ? { interrupted: true } : {}) };
    const reply = await engine.call("live_push", asked, { files: [{ path: "piece", file: new Blob([bytes]) }] });
    sensor.seen = performance.now();
    sensor.reply = reply;
    const rate = reply.second ?? { bpm: reply.packet?.bpm || null, low_bpm: null, high_bpm: null, advice: reply.packet?.contact === false ? "no_contact" : "good" };
    Object.assign(sensor, { bpm: rate.bpm, low_bpm: rate.low_bpm, high_bpm: rate.high_bpm, advice: rate.advice });
  }

  /** The table and its end are there once somebody is connected. */
  const running = el("div", {});

  function drawTable() {
    if (sensors.length === 0) return running.replaceChildren();
    const scale = el("div", { class: "live-scale", "aria-hidden": "true" }, [60, 100, 140, 180].map((bpm) => el("span", { style: `left: ${place(bpm)}%` }, String(bpm))));
    const head = (text, more = {}) => el("th", { scope: "col", ...more }, text);
    return running.replaceChildren(
      el("div", { class: "wide-table", role: "region", tabIndex: 0, "aria-label": t("live.table") }, el("table", { class: "live" }, el("caption", {}, t("live.table")),
        el("thead", {}, el("tr", {}, head(t("roster.code")), head(t("unit.bpm"), { class: "number" }), head(t("count.target")), el("th", { scope: "col" }, scale, el("span", { class: "unseen" }, t("live.axis"))), head(t("live.advice")))), rows)),
      el("p", { class: "tools" }, button(t("live.end"), end)));
  }

  function drawRows() {
    rows.replaceChildren(...sensors.map((sensor) => {
      const silent = performance.now() - sensor.seen > stale_ms;
      if (silent) sensor.bpm = null;
      const advice = sensor.gone ? "gone" : silent ? "nothing_comes" : sensor.advice;
      const state = sensor.bpm === null || !sensor.target ? "" : sensor.bpm < sensor.target.low ? t("live.below") : sensor.bpm > sensor.target.high ? t("live.above") : t("live.in");
      return el("tr", {}, el("th", { scope: "row" }, sensor.code || "–"), el("td", { class: "number live-rate" }, sensor.bpm === null ? "–" : String(whole(sensor.bpm))),
        el("td", {}, state), el("td", { class: "live-place" }, axisLine(sensor)), el("td", {}, t(`advice.${advice}`)));
    }));
  }

  // ---- the plan

  async function startPlan() {
    try {
      const roster = "code,age_years\none,15\n";
      const { plan: made } = await engine.call("targets", { roster: "roster.csv", plan: planText }, { files: [{ path: "roster.csv", file: new Blob([roster]) }] });
      plan = { began: Date.now(), phases: made.people[0].phases };
    } catch (error) {
      say(said(error), true);
    }
    drawLesson();
  }

  function drawLesson() {
    if (!plan) return;
    const now = (Date.now() - plan.began) / 1000;
    const phase = plan.phases.find(({ start_s: start, end_s: end }) => start <= now && now < end);
    const text = phase ? t("live.phase", { phase: t(`phase.${phase.kind}`), left: clock(phase.end_s - now) }) : t("live.plan_over");
    if (lesson.textContent !== text) lesson.textContent = text;
  }

  // ---- the end

  async function end() {
    await second();
    for (const { source } of sensors) await source?.close().catch(() => {});
    await handOver();
  }

  /** The files of a session go where recordings are read; then nothing of it is kept here any more. */
  async function handOver() {
    const files = [], people = [];
    try {
      for (const sensor of sensors) {
        const { taken } = await engine.call("live_file", { sensor: sensor.number });
        const [[name, bytes]] = Object.entries(taken);
        const code = sensor.code || `sensor_${sensor.number + 1}`;
        files.push({ path: `${code}${name.replace(/^[a-z]+/, "")}`, file: new File([bytes], `${code}${name.replace(/^[a-z]+/, "")}`) });
        people.push({ code, age_years: sensor.age_years, resting_bpm: sensor.resting_bpm });
      }
    } catch (error) {
      return say(said(error), true);
    }
    const many = sensors.length > 1;
    session = null;
    sensors = [];
    plan = null;
    await eraseAll();
    draw();
    (many ? toClass : toRecording)(files, many ? people : people[0]);
  }

  /** Goes on with a session that was not ended: everything that was kept is read again. */
  async function goOn(old) {
    session = old;
    sensors = old.sensors.map((sensor) => ({ ...sensor, bpm: null, low_bpm: null, high_bpm: null, advice: "nothing_comes", seen: 0, gone: true }));
    try {
      for (const sensor of sensors) await open(sensor);
      for (const piece of await piecesOf(old.id)) await show(piece);
    } catch (error) {
      return say(said(error), true);
    }
    draw();
    say(t("live.gone_on"));
  }

  const form = {
    code: el("input", { type: "text", autocomplete: "off", spellcheck: "false" }), age_years: el("input", { type: "number", min: "1", max: "120", step: "any" }),
    resting_bpm: el("input", { type: "number", min: "25", max: "150", step: "any" }), kind: choice([["pulse", ""], ["ecg", ""]], "pulse"),
    baud: choice([9600, 57600, 115200, 230400].map((baud) => [String(baud), String(baud)]), "115200"),
  };

  async function drawKept(where) {
    if (session) return where.replaceChildren();
    const old = await unended().catch(() => []);
    if (old.length === 0) return where.replaceChildren();
    const { bytes } = await kept();
    where.replaceChildren(el("div", { class: "card" },
      el("h3", {}, t("live.kept")), el("p", {}, t("live.kept_what", { count: old.length, begun: old.map(({ begun }) => begun.replace("T", " ")).join(", "), codes: old.flatMap((one) => one.sensors.map(({ code }) => code || "–")).join(", "), size: Math.ceil(bytes / 1000) })),
      el("p", { class: "tools" }, old.flatMap((one) => [button(t("live.go_on"), () => goOn(one)), button(t("live.report_of_kept"), async () => { await goOn(one); await handOver(); })]),
        button(t("live.erase"), async () => { await eraseAll(); draw(); say(t("live.erased")); }))));
  }

  function draw() {
    const ways = [canSerial && button(t("live.serial"), () => connect("serial"), { class: "main" }), canBluetooth && button(t("live.belt"), () => connect("belt"), { class: "main" })].filter(Boolean);
    form.kind.options[0].textContent = t("kind.pulse");
    form.kind.options[1].textContent = t("kind.ecg");
    const planField = el("input", { type: "text", value: planText, spellcheck: "false", oninput: (event) => (planText = event.target.value.trim()) });
    const keptPlace = el("div", {});
    element.replaceChildren(
      el("h2", {}, t("live.title")), el("p", {}, t("live.lead")), el("p", { class: "note" }, t("live.safety")), keptPlace,
      ways.length === 0
        ? el("p", { class: "problem" }, t("live.cannot"))
        : el("section", {}, el("h3", {}, t("live.connect")), el("div", { class: "fields" },
          field(t("person.code"), form.code, t("person.code.note")), field(t("person.age_years"), form.age_years), field(t("person.resting_bpm"), form.resting_bpm),
          field(t("live.kind"), form.kind), canSerial && field(t("live.baud"), form.baud, t("live.baud.note"))), el("p", { class: "tools" }, ways), !canBluetooth && el("p", { class: "quiet" }, t("live.no_bluetooth")), !canSerial && el("p", { class: "quiet" }, t("live.no_serial"))),
      note,
      el("section", {}, el("h3", {}, t("live.now")), el("div", { class: "fields" }, field(t("targets.plan"), planField, t("targets.plan.note"))),
        el("p", { class: "tools" }, button(t("live.start_plan"), startPlan)), lesson,
        running));
    drawTable();
    drawRows();
    drawLesson();
    drawKept(keptPlace);
  }

  setInterval(() => session && second(), 1000);
  addEventListener("beforeunload", (event) => session && event.preventDefault());

  return { element, draw, redraw: draw };
}
