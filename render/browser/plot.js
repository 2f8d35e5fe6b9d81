// One figure against another, both chosen by the reader among those in which the rings differ.
import { draw, group, make, typeset } from "./nodes.js";
import { byMark, figureOf, made, MASS, number, RIB, SHARE, sheet, shown, STIFF, withUnit,  } from "./read.js";
import { follow, passes, state } from "./state.js";
import { cells } from "./grid.js";
import { enlarge } from "./enlarge.js";

const PLOT = { width: 280, height: 224, left: 46, right: 8, top: 24, bottom: 34 };
const points = new Map();
const varied = sheet.figures.filter(({ key }) =>
  new Set(made.map((ring) => shown(key, number(ring, key)))).size > 1);
const figures = varied.length > 1 ? varied : sheet.figures;
const TELLING = 0.01; // of a figure: rings brought on one mass differ by less

function ticks(least, most) {
  const power = 10 ** Math.floor(Math.log10(most - least || 1));
  const step = [2, 1, 0.5, 0.2, 0.1].map((one) => one * power).find((one) => (most - least) / one >= 4);
  const found = [];
  for (let k = Math.ceil(least / step); k * step <= most + 1e-9; k += 1) found.push(k * step);
  return found.map((value) => Number(value.toPrecision(12)));
}

function axis(known, key, from, to) {
  const values = known.map((ring) => number(ring, key));
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const pad = 0.06 * (most - least) || 1;
  const [low, high] = [least - pad, most + pad];
  const at = (value) => from + ((to - from) * (value - low)) / (high - low);
  return { at, ticks: ticks(low, high), ...figureOf.get(key), key };
}

function scales(x, y) {
  const { width, height, right, bottom } = PLOT;
  const base = height - bottom;
  const named = ({ label, unit }) => (unit ? `${label}, ${unit}` : label);
  const line = (from, to) => draw("line", { x1: from[0], x2: to[0], y1: from[1], y2: to[1] });
  const word = (at, words, attributes = {}) =>
    draw("text", { x: at[0], y: at[1], ...attributes }, words);
  return draw("g", { class: "scales" },
    ...x.ticks.map((value) => line([x.at(value), PLOT.top], [x.at(value), base])),
    ...y.ticks.map((value) => line([PLOT.left, y.at(value)], [width - right, y.at(value)])),
    ...x.ticks.map((value) =>
      word([x.at(value), base + 13], typeset(String(value)), { "text-anchor": "middle" })),
    ...y.ticks.map((value) =>
      word([PLOT.left - 5, y.at(value) + 3.5], typeset(String(value)), { "text-anchor": "end" })),
    word([width - right, base + 29], named(x), { "text-anchor": "end", class: "name" }),
    word([0, 11], named(y), { class: "name" }));
}

function dot(ring, x, y) {
  const at = [x.at(number(ring, x.key)), y.at(number(ring, y.key))];
  const words = [ring.mark, ring.pattern, ...[x, y].map(({ key }) => withUnit(key, number(ring, key)))];
  const node = draw("g", { class: "dot", role: "button", tabindex: -1, "data-mark": ring.mark,
    "aria-label": `${words.join(", ")}: enlarge`, transform: placed(at) },
  draw("circle", { class: "reach", r: 9 }), draw("circle", { class: "spot", r: 3.5 }));
  node.addEventListener("click", () => enlarge(ring));
  node.addEventListener("pointerenter", () => point(ring, true));
  node.addEventListener("pointerleave", () => point(ring, false));
  node.addEventListener("focus", () => { halt(ring); point(ring, true); });
  node.addEventListener("blur", () => point(ring, false));
  points.set(ring, { node, at, words: words.join(" · ") });
  return node;
}

const placed = (at) => `translate(${at.map((one) => one.toFixed(2)).join(" ")})`;
const lamp = draw("g", { class: "lamp", "aria-hidden": "true" }, draw("circle", { r: 5.5 }));
const readout = make("p", { class: "readout", "aria-hidden": "true" });

/* Show which point is which cell, and what it says. */
export function point(ring, on) {
  cells.get(ring).classList.toggle("near", on);
  const found = points.get(ring);
  lamp.classList.toggle("on", on && Boolean(found));
  readout.textContent = on && found ? found.words : "";
  if (on && found) lamp.setAttribute("transform", placed(found.at));
}

let stop = null;

/* Make one point the only one that Tab stops at. */
function halt(ring) {
  points.get(stop)?.node.setAttribute("tabindex", -1);
  stop = ring;
  if (stop) points.get(stop).node.setAttribute("tabindex", 0);
}

/* Lead from point to point: left and right by one figure, up and down by the other. */
function lead(event) {
  const ring = byMark.get(event.target.dataset.mark);
  if (event.key === "Enter" || event.key === " ") enlarge(ring);
  const step = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
  if (event.key === "Enter" || event.key === " " || step) event.preventDefault();
  if (!step) return;
  const by = /Left|Right/.test(event.key) ? 0 : 1;
  const sense = by ? -1 : 1; // y runs downwards
  const order = [...points.keys()].filter(passes)
    .sort((a, b) => sense * (points.get(a).at[by] - points.get(b).at[by]));
  const next = order[order.indexOf(ring) + step];
  if (next) points.get(next).node.focus();
}

function telling(key) {
  const values = made.map((ring) => number(ring, key)).filter(Number.isFinite);
  return Math.max(...values) - Math.min(...values) > TELLING * Math.max(...values);
}

/* Return the first of the figures wanted in which the rings differ enough to tell, not the taken. */
function differing(wanted, taken) {
  const keys = figures.map(({ key }) => key).filter((key) => key !== taken);
  return wanted.find((key) => keys.includes(key) && telling(key)) || keys.find(telling) || keys[0];
}

function chooser(name, key, choose) {
  const select = make("select", { "aria-label": name },
    ...figures.map((one) => make("option", { value: one.key }, one.label)));
  select.value = key;
  select.addEventListener("change", () => choose(select.value));
  return select;
}

function mark() {
  for (const [ring, { node }] of points) {
    node.classList.toggle("out", !passes(ring));
    node.classList.toggle("circled", state.circled.has(ring.mark));
  }
  const first = [...points.keys()].find(passes) || null;
  if (!stop || !points.has(stop) || !passes(stop)) halt(first);
}

export function plot() {
  const upwards = differing([STIFF, SHARE, RIB], "");
  const axes = { x: differing([MASS, "openings", RIB, "machining.cut_length"], upwards), y: upwards };
  const svg = draw("svg", { id: "plot", role: "group", viewBox: `0 0 ${PLOT.width} ${PLOT.height}` });
  const show = () => {
    const known = made.filter((ring) =>
      [axes.x, axes.y].every((key) => Number.isFinite(number(ring, key))));
    const [x, y] = [axis(known, axes.x, PLOT.left, PLOT.width - PLOT.right),
      axis(known, axes.y, PLOT.height - PLOT.bottom, PLOT.top)];
    halt(null);
    points.clear();
    const dots = draw("g", { class: "dots" }, ...known.map((ring) => dot(ring, x, y)));
    dots.addEventListener("keydown", lead);
    svg.setAttribute("aria-label",
      `Each point is a ring: ${x.label} to the right, ${y.label} upwards`);
    svg.replaceChildren(scales(x, y), dots, lamp);
    mark();
  };
  const chosen = (name) => (key) => { axes[name] = key; show(); };
  show();
  follow(mark);
  return group("Figure against figure", make("div", { class: "pair" },
    chooser("Figure to the right", axes.x, chosen("x")),
    chooser("Figure upwards", axes.y, chosen("y"))), svg, readout);
}
