// A range of one figure, between two handles.
import { draw, make } from "./nodes.js";
import { figureOf, made, number, shown, withUnit } from "./read.js";
import { changed, follow, state } from "./state.js";

const stroke = (x) => draw("line", { x1: x, x2: x, y1: 0, y2: 1 });

/* A range between two handles, over a stroke for each ring. */
export function range(key) {
  const { label } = figureOf.get(key);
  const values = made.map((ring) => number(ring, key)).filter(Number.isFinite);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  if (!values.length || shown(key, least) === shown(key, most)) return null;
  const steps = 200;
  const at = (step) => least + ((most - least) * step) / steps;
  const handle = (name, value) =>
    make("input", { type: "range", min: 0, max: steps, value, "aria-label": `${name} ${label}` });
  const [low, high] = [handle("Least", 0), handle("Most", steps)];
  const words = make("output", {});
  const strokes = values.map((value) => stroke((100 * (value - least)) / (most - least)));
  const rug = draw("svg", { class: "rug", viewBox: "0 0 100 1", preserveAspectRatio: "none",
    "aria-hidden": "true" }, ...strokes);
  const set = (moved) => () => {
    if (Number(low.value) > Number(high.value)) {
      const other = moved === low ? high : low;
      moved.value = other.value;
    }
    const [from, to] = [Number(low.value), Number(high.value)];
    if (from === 0 && to === steps) state.ranges.delete(key);
    else state.ranges.set(key, [at(from), to === steps ? most : at(to)]);
    changed();
  };
  low.addEventListener("input", set(low));
  high.addEventListener("input", set(high));
  follow(() => {
    if (!state.ranges.has(key)) [low.value, high.value] = [0, steps];
    const [from, to] = state.ranges.get(key) || [least, most];
    words.textContent = `${shown(key, from)} – ${withUnit(key, to)}`;
    low.setAttribute("aria-valuetext", withUnit(key, from));
    high.setAttribute("aria-valuetext", withUnit(key, to));
    strokes.forEach((one, k) =>
      one.classList.toggle("out", values[k] < from || values[k] > to));
  });
  return make("div", { class: "range", "data-key": key },
    make("div", { class: "row" }, make("span", {}, label), words),
    make("div", { class: "slide" }, rug, low, high));
}
