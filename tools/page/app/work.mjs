// Work that takes a while: what is being done, for how long, a way to stop it, and what went wrong.
import { button, el } from "./dom.mjs";
import { engine } from "./engine.mjs";
import { clock, known, t } from "./words.mjs";

/** What an error says to a person. Messages of the library are its own, in English, as in the program. */
export function said(error) {
  if (error.code === "stopped") return t("work.stopped");
  if (error.code === "memory") return t("work.memory");
  if (error.code === "fault") return t("work.fault", { message: error.message });
  return error.message;
}

export function problem(error) {
  const calm = error.code === "stopped";
  return el("p", { class: calm ? "quiet" : "problem", role: calm ? "status" : "alert", lang: ["usage", "unreadable"].includes(error.code) ? "en" : null }, said(error));
}

/**
 * Runs `work(onProgress)` and shows how far it is in `place`. The result, or nothing after an error, which is then shown there.
 */
export async function during(place, work) {
  const began = performance.now();
  const step = el("span", {}, t("work.reading"));
  const time = el("span", { class: "readout", "aria-hidden": "true" }, "0:00");
  const line = el("p", { class: "work" }, el("progress", { "aria-label": t("work.label") }), " ", el("span", { role: "status" }, step), " ", time, " ",
    button(t("work.stop"), () => engine.stop()));
  place.replaceChildren(line);
  const ticking = setInterval(() => (time.textContent = clock((performance.now() - began) / 1000)), 500);
  try {
    const result = await work((word, detail) => (step.textContent = t(known(`work.${word}`) ? `work.${word}` : "work.going", { detail })));
    place.replaceChildren();
    return result;
  } catch (error) {
    place.replaceChildren(problem(error));
    return null;
  } finally {
    clearInterval(ticking);
  }
}
