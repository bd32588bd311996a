"use strict";
(() => {
  const words = JSON.parse(document.getElementById("words").textContent);
  const svg = document.getElementById("axis");
  const make = (name, parent, attributes = {}) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    return parent.appendChild(made);
  };
  const filled = (text, values) => text.replace(/\{(\w+)\}/g, (_, key) => values[key]);
  const clock = (s) => {
    const whole = Math.max(0, Math.round(s)), two = (n) => String(n).padStart(2, "0");
    const hours = Math.floor(whole / 3600), minutes = Math.floor(whole / 60) % 60;
    return hours ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
  };

  // Per cent of the reserve that the axis shows; what lies beyond stands at its end.
  const lowest = 0, highest = 100;
  // The trail: where the person was, every other second.
  const trailEvery = 2, trailLength = 7;
  const lanes = new Map();
  let order = "", place = null;

  function layOut(people) {
    const { width, height } = svg.getBoundingClientRect();
    svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
    svg.replaceChildren();
    lanes.clear();
    const top = 34, bottom = 30;
    const pitch = Math.min(72, (height - top - bottom) / Math.max(1, people.length));
    const size = Math.max(9, Math.min(22, 0.62 * pitch));
    const left = Math.min(0.18 * width, 10 + 0.62 * size * Math.max(4, ...people.map((p) => p.code.length)));
    const right = width - Math.min(0.26 * width, 16 + 0.52 * Math.max(13, size) * 22);
    const x = (percent) => left + (right - left) * (Math.min(highest, Math.max(lowest, percent)) - lowest) / (highest - lowest);
    place = { x, right };
    const end = top + pitch * people.length;
    for (let percent = lowest; percent <= highest; percent += 20) {
      make("line", svg, { class: "rule", x1: x(percent), x2: x(percent), y1: top - 6, y2: end });
      make("text", svg, { class: "quiet", x: x(percent), y: top - 12, "text-anchor": "middle", "font-size": 15 }).textContent = `${percent} %`;
    }
    make("text", svg, { class: "quiet", x: x(50), y: Math.min(height - 8, end + 22), "text-anchor": "middle", "font-size": 15 }).textContent = words.axis;
    make("text", svg, { class: "quiet", x: right + 14, y: top - 12, "font-size": 15 }).textContent = words.unmeasured;
    people.forEach((person, i) => {
      const y = top + pitch * (i + 0.5);
      const lane = make("g", svg, { "data-code": person.code });
      make("line", lane, { class: "lane", x1: left, x2: right, y1: y, y2: y });
      const band = make("rect", lane, { class: "band", y: y - 0.3 * pitch, height: 0.6 * pitch, rx: 2 });
      make("text", lane, { x: left - 12, y: y + 0.35 * size, "text-anchor": "end", "font-size": size }).textContent = person.code;
      const past = Array.from({ length: trailLength }, (_, k) =>
        make("circle", lane, { class: "past", cy: y, r: 0.13 * pitch * (1 - k / (trailLength + 2)), opacity: 0.8 * (1 - k / trailLength) }));
      const now = make("circle", lane, { class: "now", cy: y, r: Math.max(4, 0.24 * pitch) });
      const why = make("text", lane, { class: "why", x: right + 14, y: y + 0.35 * size, "font-size": Math.max(12, 0.8 * size) });
      lanes.set(person.code, { lane, band, past, now, why, trail: [], trailAt: -Infinity });
    });
  }

  function show(person, seconds) {
    const lane = lanes.get(person.code);
    const away = person.reserve_percent === null;
    lane.lane.classList.toggle("away", away);
    lane.why.textContent = away ? words.signal[person.why] : "";
    const target = person.target_percent;
    lane.band.setAttribute("visibility", target ? "visible" : "hidden");
    if (target) {
      lane.band.setAttribute("x", place.x(target[0]));
      lane.band.setAttribute("width", place.x(target[1]) - place.x(target[0]));
    }
    if (away) {
      lane.trail = [];
      return;
    }
    if (seconds - lane.trailAt >= trailEvery) {
      lane.trail.unshift(person.reserve_percent);
      lane.trail.length = Math.min(lane.trail.length, trailLength + 1);
      lane.trailAt = seconds;
    }
    lane.past.forEach((dot, k) => {
      const was = lane.trail[k + 1];
      dot.setAttribute("visibility", was === undefined ? "hidden" : "visible");
      if (was !== undefined) dot.setAttribute("cx", place.x(was));
    });
    lane.now.style.transform = `translateX(${place.x(person.reserve_percent)}px)`;
    lane.now.classList.toggle("inside", Boolean(target) && person.reserve_percent >= target[0] && person.reserve_percent <= target[1]);
  }

  let state = null, cameAt = 0;
  function draw() {
    if (!state) return;
    const codes = JSON.stringify(state.people.map((p) => p.code));
    if (codes !== order) {
      order = codes;
      layOut(state.people);
    }
    for (const person of state.people) show(person, state.elapsed_s);
    const step = state.step;
    document.getElementById("clock").textContent = clock(state.elapsed_s);
    document.getElementById("step").textContent = step
      ? filled(step.of > 1 ? words.numbered : "{name}", { name: words.step[step.kind], number: step.number, of: step.of }) +
        (step.left_s === null ? "" : `  ${filled(words.left, { time: clock(step.left_s) })}`)
      : words.title;
    document.getElementById("prompt").textContent = step
      ? (step.count_left_s === null ? words.prompt[step.kind] : filled(words.count, { time: Math.ceil(step.count_left_s) })) : "";
    const measured = state.people.filter((p) => p.reserve_percent !== null).length;
    document.getElementById("summary").textContent = filled(words.summary, { people: state.people.length, measured });
  }

  const source = new EventSource("course" + location.search);
  source.onmessage = (message) => {
    state = JSON.parse(message.data);
    cameAt = performance.now();
    document.getElementById("trouble").textContent = "";
    draw();
  };
  // What is old is not shown as if it were now.
  setInterval(() => {
    if (performance.now() - cameAt < 4000) return;
    document.getElementById("trouble").textContent = words.lost;
    if (!state) return;
    for (const person of state.people) Object.assign(person, { reserve_percent: null, why: "nothing_comes" });
    draw();
  }, 1000);
  addEventListener("resize", () => {
    order = "";
    draw();
  });
})();
