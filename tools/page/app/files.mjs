// Files into the page and out of it. Nothing is sent anywhere: what is chosen is read here, what is saved goes to the user's own folder.
import { el } from "./dom.mjs";

/** Lets a person save bytes or text under a name. */
export function save(name, content, type = "application/octet-stream") {
  const address = URL.createObjectURL(content instanceof Blob ? content : new Blob([content], { type }));
  const link = el("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

const kinds = { html: "text/html", json: "application/json", csv: "text/csv", txt: "text/plain", svg: "image/svg+xml" };

export function typeOf(name) {
  return kinds[name.split(".").pop()] ?? "application/octet-stream";
}

/** All files of what was dropped, folders with their contents, as `{path, file}`. */
export async function dropped(transfer) {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  if (entries.length === 0) return [...transfer.files].map((file) => ({ path: file.name, file }));
  const all = [];
  const walk = async (entry) => {
    if (entry.isFile) {
      const file = await new Promise((resolve, reject) => entry.file(resolve, reject));
      all.push({ path: entry.fullPath.replace(/^\//, ""), file });
      return;
    }
    const reader = entry.createReader();
    for (;;) {
      const some = await new Promise((resolve, reject) => reader.readEntries(resolve, reject));
      if (some.length === 0) return;
      for (const inner of some) await walk(inner);
    }
  };
  for (const entry of entries) await walk(entry);
  return all;
}

/** A button that opens the browser's own choice of files, and tells `onfiles`. */
export function chooser(label, onfiles, { multiple = true, accept = null, id = null } = {}) {
  const input = el("input", {
    type: "file", multiple, accept, id, class: "unseen",
    onchange: () => {
      const files = [...input.files].map((file) => ({ path: file.webkitRelativePath || file.name, file }));
      input.value = "";
      if (files.length > 0) onfiles(files);
    },
  });
  return el("label", { class: "choose" }, input, el("span", {}, label));
}

/** Files may be dropped anywhere on the page. */
export function dropAnywhere(onfiles) {
  const mark = (on) => document.body.classList.toggle("over", on);
  addEventListener("dragover", (event) => {
    event.preventDefault();
    mark(true);
  });
  addEventListener("dragleave", (event) => event.relatedTarget === null && mark(false));
  addEventListener("drop", async (event) => {
    event.preventDefault();
    mark(false);
    onfiles(await dropped(event.dataTransfer));
  });
}
