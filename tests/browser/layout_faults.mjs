// Elements that stick out of the window, unless they are inside something that scrolls, texts of one figure that lie on each other, and short words of tables
// that are broken.
export function findFaults() {
  const faults = [];
  const wide = document.documentElement.clientWidth;
  const scrolls = (element) => element.closest(".pane, .wide-table, .skip, .definitions, template");
  for (const element of document.querySelectorAll("body *")) {
    const box = element.getBoundingClientRect();
    if (box.width === 0 || scrolls(element)) continue;
    if (box.right > wide + 1 || box.left < -1)
      faults.push(`<${element.tagName} class="${element.getAttribute("class")}"> reaches from ${box.left} to ${box.right}`);
  }
  const shown = (element) => getComputedStyle(element).display !== "none" && element.getBoundingClientRect().width > 0;
  for (const svg of document.querySelectorAll("svg.plot, svg.left, svg.right")) {
    const texts = [...svg.querySelectorAll("text")].filter(shown).map((text) => [text.textContent, text.getBoundingClientRect()]);
    for (let i = 0; i < texts.length; ++i)
      for (let j = i + 1; j < texts.length; ++j) {
        const [a, b] = [texts[i][1], texts[j][1]];
        const over = Math.min(a.right, b.right) - Math.max(a.left, b.left), under = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (over > 1 && under > 4) faults.push(`'${texts[i][0]}' lies on '${texts[j][0]}' in ${svg.getAttribute("aria-label")}`);
      }
  }
  const longestShortWord = 12;
  const range = document.createRange();
  for (const cell of [...document.querySelectorAll("th, td")].filter(shown)) {
    const text = [...cell.childNodes].find((node) => node.nodeType === Node.TEXT_NODE);
    for (const word of text?.data.matchAll(/[\p{L}\p{N}]+/gu) ?? []) {
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      const lines = new Set([...range.getClientRects()].map((box) => Math.round(box.top)));
      if (word[0].length <= longestShortWord && lines.size > 1) faults.push(`'${word[0]}' is broken in a table`);
    }
  }
  for (const selector of ["main > section", "section figure, .strip > *", ".frame > *"]) {
    const boxes = [...document.querySelectorAll(selector)].filter(shown).map((e) => [e, e.getBoundingClientRect()]);
    for (let i = 0; i < boxes.length; ++i)
      for (let j = i + 1; j < boxes.length; ++j) {
        const [[first, a], [second, b]] = [boxes[i], boxes[j]];
        if (first.contains(second) || second.contains(first)) continue;
        if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1)
          faults.push(`<${first.tagName} id="${first.id}"> and <${second.tagName} id="${second.id}"> overlap`);
      }
  }
  return faults;
}

// Counts the pages of a PDF document by its page objects.
export const pagesOf = (bytes) => bytes.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g).length;
