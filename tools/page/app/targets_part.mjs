// What everybody aims for, a plan in phases, and cards to cut off and to carry.
import { button, el, field } from "./dom.mjs";
import { engine } from "./engine.mjs";
import { save } from "./files.mjs";
import { during } from "./work.mjs";
import { clock, t } from "./words.mjs";

const whole = (rate) => Math.floor(rate + 0.5 + 1e-9);

/** `roster()` gives the roster as a file. */
export function targetsPart({ roster }) {
  const low = el("input", { type: "number", min: "0", max: "100", step: "any", value: "60" });
  const high = el("input", { type: "number", min: "0", max: "100", step: "any", value: "85" });
  const plan = el("input", { type: "text", value: "5-3x4/2-5", spellcheck: "false", autocomplete: "off" });
  const outcome = el("div", { class: "outcome" });
  let reply = null;

  function options() {
    const asked = {};
    if (low.value !== "" && Number(low.value) !== 60) asked.low_percent = Number(low.value);
    if (high.value !== "" && Number(high.value) !== 85) asked.high_percent = Number(high.value);
    return asked;
  }

  async function work() {
    const file = roster();
    reply = await during(outcome, () => engine.call("targets", { roster: file.path, options: options(), plan: plan.value.trim() }, { files: [file] }));
    if (reply) show();
  }

  const band = ({ low_bpm, high_bpm }) => t("targets.band", { low: whole(low_bpm), high: whole(high_bpm) });

  function card(person) {
    const phases = (reply.plan?.people ?? []).find((other) => other.code === person.code)?.phases ?? [];
    const target = person.target;
    return el("article", { class: "target-card" },
      el("h4", {}, person.code),
      target ? el("p", { class: "band" }, el("strong", {}, band(target))) : el("p", { lang: "en" }, person.reasons?.target ?? ""),
      phases.length > 0 && el("table", {},
        el("caption", { class: "unseen" }, t("targets.plan_of", { code: person.code })),
        el("thead", {}, el("tr", {}, ["time", "phase", "rate"].map((key) => el("th", { scope: "col" }, t(`targets.${key}`))))),
        el("tbody", {}, phases.map((phase) => el("tr", {}, el("td", {}, `${clock(phase.start_s)}–${clock(phase.end_s)}`), el("td", {}, t(`phase.${phase.kind}`)),
          el("td", {}, `${whole(phase.low_bpm)}–${whole(phase.high_bpm)}`))))),
      el("p", { class: "quiet" }, t("targets.card_note")));
  }

  function show() {
    const people = reply.targets.people;
    const warnings = reply.targets.warnings.map((warning) => el("p", { class: "note", lang: "en" }, warning.message));
    outcome.replaceChildren(
      ...warnings,
      el("p", { class: "tools" }, button(t("targets.print"), printCards), button(t("targets.save"), () => save("targets.csv", reply.csv, "text/csv")),
        reply.plan_csv && button(t("targets.save_plan"), () => save("plan.csv", reply.plan_csv, "text/csv"))),
      el("div", { class: "target-cards" }, people.map(card)));
  }

  function printCards() {
    document.body.classList.add("cards-alone");
    addEventListener("afterprint", () => document.body.classList.remove("cards-alone"), { once: true });
    print();
  }

  const element = () => el("section", {},
    el("h3", {}, t("targets.title")), el("p", { class: "quiet" }, t("targets.lead")),
    el("div", { class: "fields" }, field(t("targets.low"), low, t("targets.low.note")), field(t("targets.high"), high), field(t("targets.plan"), plan, t("targets.plan.note"))),
    el("p", { class: "tools" }, button(t("targets.work"), work)), outcome);

  return { element, options, stale: () => { reply = null; outcome.replaceChildren(); }, redraw: () => reply && show() };
}
