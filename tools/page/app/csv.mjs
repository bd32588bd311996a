// Tables as the program reads them: commas, a header, quotes where a cell needs them (RFC 4180).

const cell = (text) => (/[",\n\r]/.test(text) || text !== text.trim() ? `"${text.replaceAll('"', '""')}"` : text);

/** `rows` are objects by column; columns that are empty all the way down are left out, but for those of `needed`. */
export function csvOf(columns, rows, needed = ["code"]) {
  const used = columns.filter((column) => needed.includes(column) || rows.some((row) => (row[column] ?? "") !== ""));
  const lines = [used, ...rows.map((row) => used.map((column) => row[column] ?? ""))];
  return lines.map((line) => line.map((text) => cell(String(text))).join(",")).join("\n") + "\n";
}

/** Rows of a clipboard: lines of cells parted by tabs, as spreadsheets give them. */
export function pastedRows(text) {
  return text.replace(/\r\n?/g, "\n").replace(/\n$/, "").split("\n").map((line) => line.split("\t"));
}
