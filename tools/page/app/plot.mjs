// Small plots over time in the look of the reports' figures: their style sheet colours the same classes.
import { el, svg } from "./dom.mjs";
import { clock } from "./words.mjs";

const left = 48, right = 12, top = 8, bottom = 22;

/** Steps of 1, 2, 5 times a power of ten, about `wanted` of them. */
export function ticks(low, high, wanted) {
  const span = high - low;
  if (!(span > 0)) return [low];
  const raw = span / wanted;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((one) => one >= raw);
  const list = [];
  for (let value = Math.ceil(low / step) * step; value <= high + step * 1e-9; value += step) list.push(Number(value.toPrecision(12)));
  return list;
}

/** Lowest and highest of numbers, nulls left out; never the same. */
export function reach(lists) {
  let [low, high] = [Infinity, -Infinity];
  for (const list of lists)
    for (const value of list) {
      if (value === null) continue;
      if (value < low) low = value;
      if (value > high) high = value;
    }
  if (!(low <= high)) return [0, 1];
  return low === high ? [low - 1, high + 1] : [low, high];
}

/**
 * A plot. `layers` are `{type: "line", series: {start_s, rate_hz, values}, class}`, `{type: "points", points: [[t, y]], class}`, `{type: "course", points, class}` (a line through
 * points, broken at nulls), `{type: "marks", times, class}` (vertical lines). `range` overrides the reach of the values.
 */
export function timePlot({ title, alt, unit, view, layers, height = 150, range = null, width = 640 }) {
  const valued = layers.flatMap((layer) => (layer.type === "line" ? [layer.series.values] : layer.points ? [layer.points.map(([, y]) => y)] : []));
  const [low, high] = range ?? reach(valued);
  const x = (time) => left + ((time - view.start_s) / (view.end_s - view.start_s)) * (width - left - right);
  const y = (value) => top + (1 - (value - low) / (high - low)) * (height - top - bottom);
  const at = (number) => number.toFixed(1);

  function pathOf(points) {
    let path = "", pen = "M";
    for (const [time, value] of points) {
      if (value === null) {
        pen = "M";
        continue;
      }
      path += `${pen}${at(x(time))} ${at(y(value))}`;
      pen = "L";
    }
    return path;
  }

  const drawing = svg("svg", { class: "plot", viewBox: `0 0 ${width} ${height}`, width, height, role: "img", "aria-label": alt });
  for (const value of ticks(low, high, 3)) {
    drawing.append(svg("path", { class: "grid", d: `M${left} ${at(y(value))}H${width - right}` }));
    drawing.append(svg("text", { class: "tick", x: left - 6, y: at(y(value) + 4), "text-anchor": "end" }, String(value)));
  }
  for (const time of ticks(view.start_s, view.end_s, Math.max(2, Math.floor(width / 120)))) {
    drawing.append(svg("text", { class: "tick", x: at(x(time)), y: height - 6, "text-anchor": "middle" }, view.end_s - view.start_s > 120 ? clock(time) : `${Number(time.toFixed(2))}`));
  }
  for (const layer of layers) {
    if (layer.type === "line") {
      const { start_s: start, rate_hz: rate, values } = layer.series;
      drawing.append(svg("path", { class: layer.class, d: pathOf(values.map((value, i) => [start + i / rate, value])) }));
    } else if (layer.type === "course") {
      drawing.append(svg("path", { class: layer.class, d: pathOf(layer.points) }));
    } else if (layer.type === "points") {
      for (const [time, value] of layer.points) drawing.append(svg("circle", { class: layer.class, cx: at(x(time)), cy: at(y(value)), r: 3.5 }));
    } else {
      for (const time of layer.times) drawing.append(svg("path", { class: layer.class, d: `M${at(x(time))} ${top}V${height - bottom}` }));
    }
  }
  return el("figure", { class: "time-plot" }, el("figcaption", {}, title, unit ? ` (${unit})` : ""), el("div", { class: "pane-of-plot" }, drawing));
}
