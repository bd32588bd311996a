// A report inside the page: the very file that the program would write, shown, printed and saved.
import { button, el } from "./dom.mjs";
import { save, typeOf } from "./files.mjs";
import { t } from "./words.mjs";

/**
 * A frame that is as high as what it shows, so that the page scrolls as one. The report stands in the frame itself, not at an address: of a page that was opened from a
 * file no address would count as its own.
 */
export function reportFrame(bytes, title) {
  const frame = el("iframe", { class: "report", title, srcdoc: new TextDecoder().decode(bytes) });
  frame.addEventListener("load", () => {
    const report = frame.contentDocument;
    const fit = () => (frame.style.height = `${Math.ceil(report.documentElement.getBoundingClientRect().height) + 2}px`);
    new ResizeObserver(fit).observe(report.body);
    fit();
    // Without an address of its own the report has no places either that a link could name.
    report.addEventListener("click", (event) => {
      const link = event.target.closest?.('a[href^="#"]');
      if (!link) return;
      event.preventDefault();
      const place = report.getElementById(link.getAttribute("href").slice(1));
      place?.scrollIntoView();
      place?.setAttribute("tabindex", "-1");
      place?.focus({ preventScroll: true });
    });
  });
  return frame;
}

/** Prints what a frame shows, alone. */
export function printFrame(frame) {
  frame.contentWindow.focus();
  frame.contentWindow.print();
}

/** Buttons that save results; `fetch(name)` gives their bytes. */
export function savers(names, fetch, stem, place) {
  return names.map(([name, label]) =>
    button(label, async (event) => {
      event.target.disabled = true;
      const bytes = await fetch(name);
      event.target.disabled = false;
      if (!bytes) return;
      save(`${stem}_${name}`, bytes, typeOf(name));
      place.replaceChildren(el("p", { class: "quiet", role: "status" }, t("files.saved", { name: `${stem}_${name}` })));
    }));
}
