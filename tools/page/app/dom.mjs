// Elements, made in one line. Texts become text nodes, so that nothing that a file holds is ever read as markup.

/** An element with attributes (`on...` are listeners, null and false are left out) and children. */
export function el(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name in element && typeof value !== "string") element[name] = value;
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

const svgSpace = "http://www.w3.org/2000/svg";

/** The same for SVG. */
export function svg(tag, attributes = {}, ...children) {
  const element = document.createElementNS(svgSpace, tag);
  for (const [name, value] of Object.entries(attributes)) if (value !== null && value !== undefined) element.setAttribute(name, value);
  element.append(...children.flat());
  return element;
}

/** A field with its label and, below it, what belongs to it. */
export function field(label, input, note = null) {
  input.id ||= `field-${(field.count = (field.count ?? 0) + 1)}`;
  const said = note === null ? null : el("span", { class: "quiet", id: `${input.id}-note` }, note);
  if (said) input.setAttribute("aria-describedby", said.id);
  return el("p", { class: "field" }, el("label", { for: input.id }, label), input, said);
}

/** A choice of `[value, label]` pairs. */
export function choice(pairs, chosen, onchange = null) {
  return el("select", { onchange: onchange ?? (() => {}) },
    pairs.map(([value, label]) => el("option", { value, selected: value === chosen }, label)));
}

export function button(label, onclick, attributes = {}) {
  return el("button", { type: "button", onclick, ...attributes }, label);
}
