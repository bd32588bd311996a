"use strict";
// Paging through the strip, sorting of tables, slips, marks hidden by their legend, a read-out under the pointer, and zoom. Without this script everything is still there to read.

// ---- the strip: one page at a time
for (const strip of document.querySelectorAll(".strip")) {
  const list = strip.querySelector(".strip-pages");
  for (const template of strip.querySelectorAll("template.strip-page")) list.append(template.content);
  const pages = [...list.children].sort((a, b) => Number(a.dataset.start) - Number(b.dataset.start));
  const pager = strip.querySelector(".pager");
  const { earlier, later, position, chosen } = pager.elements;
  let shown = 0;

  const show = (index) => {
    shown = Math.min(Math.max(index, 0), pages.length - 1);
    list.replaceChildren(pages[shown]);
    position.value = String(shown);
    position.setAttribute("aria-valuetext", pages[shown].querySelector(".when").textContent);
    earlier.disabled = shown === 0;
    later.disabled = shown === pages.length - 1;
    chosen.value = pages[shown].dataset.why ? String(shown) : "";
  };

  pages.forEach((page, index) => {
    if (!page.dataset.why) return;
    const when = page.querySelector(".when").textContent;
    chosen.add(new Option(`${when}: ${page.dataset.why}`, String(index)));
  });
  position.max = String(pages.length - 1);
  earlier.addEventListener("click", () => show(shown - 1));
  later.addEventListener("click", () => show(shown + 1));
  position.addEventListener("input", () => show(Number(position.value)));
  chosen.addEventListener("change", () => chosen.value !== "" && show(Number(chosen.value)));
  pager.addEventListener("submit", (event) => event.preventDefault());
  list.setAttribute("aria-live", "polite");
  pager.hidden = false;
  strip.querySelector(".without-scripts").hidden = true;
  show(pages.findIndex((page) => page.dataset.why));

  // On paper stand the chosen excerpts, as without a script.
  addEventListener("beforeprint", () => list.replaceChildren(...pages.filter((page) => page.dataset.why)));
  addEventListener("afterprint", () => show(shown));

  // A place in the overview leads to its page.
  const overview = document.querySelector("#figure-overview svg.plot");
  overview?.addEventListener("click", (event) => {
    const time = valueUnder(overview, event);
    let index = pages.findIndex((page) => Number(page.dataset.start) > time);
    show((index < 0 ? pages.length : index) - 1);
  });
}

// ---- legends: pressing an entry hides the marks that it stands for, pressing it again shows them
const sheet = document.styleSheets[0];
for (const legend of document.querySelectorAll("ul.legend")) {
  if (legend.children.length < 2) continue;
  const scope = legend.closest("figure, .strip, section");
  for (const entry of legend.children) {
    const hidden = `without-${sheet.cssRules.length}`;
    sheet.insertRule(`.${hidden} svg:not(.swatch) ${entry.dataset.marks} { display: none; }`, sheet.cssRules.length);
    const button = document.createElement("button");
    button.type = "button";
    button.className = "series";
    button.setAttribute("aria-pressed", "true");
    button.append(...entry.childNodes);
    button.addEventListener("click", () => {
      button.setAttribute("aria-pressed", String(!scope.classList.toggle(hidden)));
    });
    entry.append(button);
  }
}

// The value of the horizontal axis under the pointer.
function valueUnder(plot, event) {
  const box = plot.getBoundingClientRect();
  const low = Number(plot.dataset.low), high = Number(plot.dataset.high);
  return low + ((event.clientX - box.left) / box.width) * (high - low);
}

// ---- tables: sorted by the column whose head is pressed, cells without a value last
for (const table of document.querySelectorAll("table.sortable")) {
  const body = table.tBodies[0];
  const heads = [...table.tHead.rows[0].cells];
  const order = new Intl.Collator(document.documentElement.lang, { numeric: true });
  heads.forEach((head, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "sort";
    button.textContent = head.textContent;
    head.replaceChildren(button);
    const number = head.classList.contains("number");
    const keyOf = (row) => (number ? row.cells[column].dataset.value : row.cells[column].textContent);
    button.addEventListener("click", () => {
      const turn = head.getAttribute("aria-sort") === "ascending" ? -1 : 1;
      for (const other of heads) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", turn > 0 ? "ascending" : "descending");
      const rows = [...body.rows].map((row) => ({ row, key: keyOf(row) }));
      rows.sort((a, b) => {
        if (!a.key || !b.key) return (a.key ? 0 : 1) - (b.key ? 0 : 1);
        return turn * (number ? Number(a.key) - Number(b.key) : order.compare(a.key, b.key));
      });
      body.append(...rows.map(({ row }) => row));
    });
  });
}

// ---- slips: printed without the rest
const slipsNote = document.getElementById("slips-note");
if (slipsNote) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = slipsNote.dataset.print;
  button.addEventListener("click", () => {
    document.body.classList.add("slips-alone");
    print();
  });
  addEventListener("afterprint", () => document.body.classList.remove("slips-alone"));
  const line = document.createElement("p");
  line.className = "screen-only";
  line.append(button);
  slipsNote.after(line);
}

// ---- figures over time: a read-out of the row of data under the pointer, and zoom
function rowsOf(link) {
  const text = decodeURIComponent(link.getAttribute("href").replace(/^[^,]*,/, ""));
  const lines = text.trimEnd().split("\n");
  const separator = lines[0].includes(";") ? ";" : ",";
  const cells = lines.map((line) => line.split(separator));
  const number = (cell) => Number(cell.replace(",", "."));
  return {
    names: cells[0],
    rows: cells.slice(1).map((row) => ({ cells: row, middle: (number(row[0]) + number(row[1])) / 2 })),
  };
}

// What the figure says of a row: its sentence with the cells put in, times as on a stop watch, heart rates in whole beats.
function sentence(plot, names, cells) {
  const clock = (cell) => {
    const time = Math.round(Number(cell.replace(",", ".")));
    const two = (number) => String(number).padStart(2, "0");
    const hours = Math.floor(time / 3600), minutes = Math.floor(time / 60) % 60;
    return hours > 0 ? `${hours}:${two(minutes)}:${two(time % 60)}` : `${minutes}:${two(time % 60)}`;
  };
  const fill = (text, missing) =>
    text.replace(/\{(\w+)\}/g, (_, name) => {
      const cell = cells[names.indexOf(name)];
      if (cell === "") missing();
      if (/(^|_)bpm$/.test(name)) return cell && String(Math.round(Number(cell.replace(",", "."))));
      return name.endsWith("_s") ? clock(cell) : cell;
    });
  let complete = true;
  const full = fill(plot.dataset.readout, () => (complete = false));
  return complete ? full : fill(plot.dataset.missing, () => {});
}

for (const id of ["figure-rate", "figure-overview"]) {
  const figure = document.getElementById(id);
  const link = figure?.querySelector("a.data");
  if (!link) continue;
  const plot = figure.querySelector("svg.plot");
  const tools = document.createElement("div");
  tools.className = "tools";
  const readout = document.createElement("output");
  readout.className = "readout";
  let zoom = 1;
  const buttons = [["−", 0.5], ["+", 2]].map(([sign, factor]) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = sign;
    button.setAttribute("aria-label", `${sign} ${figure.querySelector("h3").textContent}`);
    button.addEventListener("click", () => {
      const pane = plot.parentElement;
      const middle = (pane.scrollLeft + pane.clientWidth / 2) / pane.scrollWidth;
      zoom = Math.min(Math.max(zoom * factor, 1), 16);
      plot.style.width = `${100 * zoom}%`;
      pane.scrollLeft = middle * pane.scrollWidth - pane.clientWidth / 2;
      buttons[0].disabled = zoom === 1;
      buttons[1].disabled = zoom === 16;
    });
    return button;
  });
  buttons[0].disabled = true;
  tools.append(...buttons, readout);
  figure.querySelector(".frame").after(tools);

  let data = null;
  plot.addEventListener("pointermove", (event) => {
    data ??= rowsOf(link);
    const value = valueUnder(plot, event);
    let nearest = data.rows[0];
    for (const row of data.rows)
      if (Math.abs(row.middle - value) < Math.abs(nearest.middle - value)) nearest = row;
    if (nearest) readout.textContent = sentence(plot, data.names, nearest.cells);
  });
  plot.addEventListener("pointerleave", () => (readout.textContent = ""));
}
