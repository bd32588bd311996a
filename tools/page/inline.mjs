// Puts the page together: one file with its styles, scripts, words and the compiled module inside, and a policy that lets nothing in or out.
//
//   node inline.mjs --source ROOT --build FOLDER --out FILE.html
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";
import { gzipSync } from "node:zlib";

const { values } = parseArgs({ options: { source: { type: "string" }, build: { type: "string" }, out: { type: "string" } } });
const page = path.join(values.source, "tools/page");
const reports = path.join(values.source, "dsp/8_report/page");
const read = (...parts) => readFileSync(path.join(...parts), "utf8");

/** A file of words: one `key = text` a line, as those of the reports. */
function wordsOf(file) {
  const words = {};
  for (const line of readFileSync(file, "utf8").split("\n")) {
    if (line.trim() === "" || line.startsWith("#")) continue;
    const mark = line.indexOf(" = ");
    if (mark < 0) throw new Error(`${file}: no ' = ' in: ${line}`);
    words[line.slice(0, mark)] = line.slice(mark + 3);
  }
  return words;
}

/** The cautions stand in the page in the words of the reports. */
function withCautions(name, words) {
  const reports = wordsOf(path.join(values.source, "dsp/8_report/words", name));
  const taken = Object.entries(reports).filter(([key]) => key.startsWith("caution.") || key === "section.cautions");
  return { ...Object.fromEntries(taken), ...words };
}

const languages = Object.fromEntries(
  readdirSync(path.join(page, "words")).sort((a, b) => (a === "en.txt" ? -1 : b === "en.txt" ? 1 : a < b ? -1 : 1))
    .map((name) => [name.replace(".txt", ""), withCautions(name, wordsOf(path.join(page, "words", name)))]));

// No text inside may end the element that holds it.
const held = (text) => text.replaceAll("</", "<\\/").replaceAll("<!--", "<\\!--");
const hash = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

const main = held(read(values.build, "main.js"));
const policy = [
  "default-src 'none'",
  // The page's own script, that of the reports it shows, and compiled code; nothing else runs.
  `script-src ${hash(main)} ${hash(read(reports, "page.js"))} 'wasm-unsafe-eval'`,
  "style-src 'unsafe-inline'",
  "img-src data: blob:",
  "worker-src blob:",
  "connect-src 'none'",
  "form-action 'none'",
  "base-uri 'none'",
].join("; ");

const sheets = [[reports, "theme.css"], [reports, "figure.css"], [reports, "page.css"], [page, "app/app.css"]];
const parts = {
  policy,
  styles: sheets.map(([folder, name]) => `<style>\n${read(folder, name)}</style>`).join("\n"),
  words: held(JSON.stringify(languages)),
  module: gzipSync(readFileSync(path.join(values.build, "pulsewright_module.wasm")), { level: 9 }).toString("base64"),
  worker: held(read(values.build, "worker.js")),
  main,
};
const html = read(page, "app/page.html").replace(/\{\{(\w+)\}\}/g, (_, name) => parts[name]);
writeFileSync(values.out, html);
console.log(`${values.out}: ${(html.length / 1e6).toFixed(2)} MB`);
