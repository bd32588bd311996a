// A table to type into. Rows can be added, taken away, and pasted from a spreadsheet.
import { button, choice, el } from "./dom.mjs";
import { pastedRows } from "./csv.mjs";
import { t } from "./words.mjs";

/**
 * `columns`: `{key, label, words, list}`; with `words` ([value, label] pairs) a choice, with `list` a text with suggestions. `rows`: objects by key, changed in
 * place. `onchange` is told of every change.
 */
export function editableTable({ caption, columns, rows, onchange }) {
  const body = el("tbody");
  const table = el("table", {},
    el("caption", {}, caption),
    el("thead", {}, el("tr", {}, columns.map(({ label }) => el("th", { scope: "col" }, label)), el("th", { scope: "col" }, el("span", { class: "unseen" }, t("table.remove"))))),
    body);

  function input(row, column, index) {
    const label = t("table.cell", { column: column.label, row: index + 1 });
    const changed = (event) => {
      row[column.key] = event.target.value.trim();
      onchange();
    };
    if (column.words) {
      const select = choice(column.words, row[column.key] ?? "", changed);
      select.setAttribute("aria-label", label);
      return select;
    }
    return el("input", {
      type: "text", "aria-label": label, value: row[column.key] ?? "", list: column.list ?? null, autocomplete: "off", spellcheck: "false",
      inputmode: column.number ? "decimal" : null, oninput: changed, onpaste: (event) => paste(event, index, columns.indexOf(column)),
    });
  }

  function paste(event, from, first) {
    const cells = pastedRows(event.clipboardData.getData("text/plain"));
    if (cells.length === 1 && cells[0].length === 1) return;
    event.preventDefault();
    cells.forEach((line, down) => {
      while (rows.length <= from + down) rows.push({});
      line.forEach((text, right) => {
        if (columns[first + right]) rows[from + down][columns[first + right].key] = text.trim();
      });
    });
    draw();
    onchange();
  }

  function remove(index) {
    rows.splice(index, 1);
    draw();
    onchange();
    (body.querySelectorAll("tr")[Math.min(index, rows.length - 1)]?.querySelector("input, select") ?? adding).focus();
  }

  function draw() {
    body.replaceChildren(...rows.map((row, index) => el("tr", {},
      columns.map((column) => el("td", {}, input(row, column, index))),
      el("td", {}, button("×", () => remove(index), { "aria-label": t("table.remove_row", { row: index + 1 }) })))));
  }

  const adding = button(t("table.add"), () => {
    rows.push({});
    draw();
    onchange();
    body.lastElementChild.querySelector("input, select").focus();
  });

  draw();
  return { element: el("div", { class: "wide-table edited", role: "region", tabIndex: 0, "aria-label": caption }, table), adding, draw };
}
