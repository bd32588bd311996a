// What is known of the person of a recording: the same few things as in a roster.
import { choice, el, field } from "./dom.mjs";
import { t } from "./words.mjs";

const number = (low, high, value) => el("input", { type: "number", min: String(low), max: String(high), step: "any", inputmode: "decimal", value: value ?? null });

/** A form, filled with what is `known`; `values()` is what stands in it, `read()` the options as the library takes them, or null after telling the first fault. */
export function personForm(known = {}) {
  const parts = {
    code: el("input", { type: "text", pattern: "[A-Za-z0-9_\\-]{1,40}", autocomplete: "off", spellcheck: "false", value: known.code ?? null }),
    age_years: number(1, 120, known.age_years),
    resting_bpm: number(25, 150, known.resting_bpm),
    maximum_bpm: number(60, 250, known.maximum_bpm),
    ceiling_bpm: number(25, 250, known.ceiling_bpm),
    sex: choice([["", t("person.sex.unstated")], ["female", t("person.sex.female")], ["male", t("person.sex.male")]], known.sex ?? ""),
    exercise: choice(["legs", "arms", "wheelchair"].map((word) => [word, t(`person.exercise.${word}`)]), known.exercise ?? "legs"),
  };
  const usual = ["code", "age_years", "resting_bpm"].map((key) => field(t(`person.${key}`), parts[key], t(`person.${key}.note`)));
  const more = ["maximum_bpm", "ceiling_bpm", "sex", "exercise"].map((key) => field(t(`person.${key}`), parts[key], t(`person.${key}.note`)));
  const element = el("form", { class: "fields", onsubmit: (event) => event.preventDefault() }, usual, el("details", {}, el("summary", {}, t("person.more")), el("div", { class: "fields" }, more)));
  const read = () => {
    if (!element.reportValidity()) return null;
    const options = {};
    for (const [key, input] of Object.entries(parts)) {
      const value = input.value.trim();
      if (value === "" || (key === "exercise" && value === "legs")) continue;
      options[key] = input.type === "number" ? Number(value) : value;
    }
    return options;
  };
  const values = () => Object.fromEntries(Object.entries(parts).map(([key, input]) => [key, input.value]));
  return { element, read, values };
}
