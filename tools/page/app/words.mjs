// The page's texts in three languages. One file a language in tools/page/words, built into the page.

const texts = JSON.parse(document.getElementById("words").textContent);
export const languages = Object.keys(texts);

let current = languages.includes(navigator.language.slice(0, 2)) ? navigator.language.slice(0, 2) : "en";

export function language() {
  return current;
}

/** Changes the language and tells the document; views draw themselves anew. */
export function speak(tag) {
  current = languages.includes(tag) ? tag : "en";
  document.documentElement.lang = current;
}

/** The text of a key with its `{values}` put in. A key that is missing is a fault of ours and shows as itself. */
export function t(key, values = {}) {
  const text = texts[current][key] ?? key;
  return text.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? String(values[name]) : whole));
}

export function known(key) {
  return key in texts[current];
}

/** A length as on a stop watch: 4:32, 1:04:32. */
export function clock(seconds) {
  const whole = Math.floor(Math.max(0, seconds) + 0.5);
  const two = (number) => String(number).padStart(2, "0");
  const [hours, minutes] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60];
  return hours > 0 ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}
