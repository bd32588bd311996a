// The page: its views, the language, and which view is shown. A view is drawn anew when the language changes.
import { benchView } from "./bench_view.mjs";
import { classView } from "./class_view.mjs";
import { countView } from "./count_view.mjs";
import { choice, el } from "./dom.mjs";
import { engine } from "./engine.mjs";
import { dropAnywhere } from "./files.mjs";
import { liveView } from "./live_view.mjs";
import { recordingView } from "./recording_view.mjs";
import { language, languages, speak, t } from "./words.mjs";

const places = {};
const views = {};

function shownName() {
  const asked = location.hash.slice(1);
  return asked in views ? asked : Object.keys(views)[0];
}

function header() {
  document.title = t("page.title");
  const links = Object.keys(views).map((name) =>
    el("li", {}, el("a", { href: `#${name}`, "aria-current": name === shownName() ? "page" : null }, t(`view.${name}`))));
  const tongue = choice(languages.map((tag) => [tag, t(`language.${tag}`)]), language(), (event) => {
    speak(event.target.value);
    drawAll();
    document.getElementById("language").focus();
  });
  tongue.id = "language";
  document.querySelector("body > header").replaceChildren(
    el("div", { class: "top" }, el("h1", {}, t("page.heading")), el("p", { class: "tongue" }, el("label", { for: "language", class: "quiet" }, t("page.language")), " ", tongue)),
    el("p", { class: "lead" }, t("page.lead")),
    el("nav", { "aria-label": t("page.views") }, el("ul", { class: "ways" }, links)));
  document.querySelector(".skip").textContent = t("page.skip");
  document.querySelector("body > footer").replaceChildren(
    el("h2", {}, t("section.cautions")),
    el("ul", {}, ["device", "stop", "formula", "doubt", "private"].map((key) => el("li", {}, t(`caution.${key}`)))));
}

function show() {
  const name = shownName();
  for (const [other, place] of Object.entries(places)) place.hidden = other !== name;
  header();
}

function drawAll() {
  header();
  for (const view of Object.values(views)) view.redraw();
}

function add(name, view) {
  views[name] = view;
  places[name] = el("section", { id: `view-${name}`, "aria-label": t(`view.${name}`) }, view.element);
  document.querySelector("main").append(places[name]);
}

speak(language());
const lesson = classView();
const recording = recordingView({
  toClass(files) {
    location.hash = "class";
    recording.clear();
    lesson.take(files);
  },
});
add("recording", recording);
add("class", lesson);
add("count", countView({ people: lesson.people, ontaken: () => lesson.redraw() }));
add("bench", benchView());
add("live", liveView({
  toRecording(files, known) {
    location.hash = "recording";
    recording.take(files, known);
  },
  toClass(files, people) {
    location.hash = "class";
    lesson.takeLesson(files, people);
  },
}));
for (const view of Object.values(views)) view.draw();
addEventListener("hashchange", () => {
  show();
  document.querySelector("main").focus();
});
dropAnywhere((files) => {
  const view = views[shownName()];
  (view.take ? view : recording).take(files);
});
show();
engine.warm().catch(() => {
  document.querySelector("main").prepend(el("p", { class: "problem", role: "alert" }, t("page.too_old")));
});
