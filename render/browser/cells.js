// The rings in their grid: one stop of the Tab key, arrows lead from ring to ring.
import { button, make } from "./nodes.js";
import { ASIDE, differs, figureOf, made, MASS, named, number,
  RATIO, RIB, SHARE, withUnit } from "./read.js";
import { compareIcon, pencil, small } from "./picture.js";
import { choose, circle, follow, state, visible } from "./state.js";
import { cells, controls, list } from "./grid.js";
import { point } from "./plot.js";
import { enlarge } from "./enlarge.js";

let current = null;

const heading = (ring) =>
  make("div", { class: "row strong" }, make("span", {}, ring.pattern),
    make("span", {}, ring.values ? withUnit(MASS, number(ring, MASS)) : ""));

export function cell(ring) {
  const mark = button([pencil(), ring.mark],
    { class: "mark", "aria-label": `Circle ${ring.mark}`, title: `Circle ${ring.mark}` },
    () => circle(ring));
  const beside = button([compareIcon()],
    { class: "beside", "aria-label": `Lay ${ring.mark} beside others`,
      title: `Lay ${ring.mark} beside others` },
    () => choose(ring));
  const words = `${ring.mark}, ${named(ring)}, ${withUnit(MASS, number(ring, MASS))}: enlarge`;
  const picture = button([small(ring)], { class: "picture", "aria-label": words },
    () => enlarge(ring));
  const node = make("li", { class: "cell", "data-mark": ring.mark },
    make("div", { class: "row" }, mark, beside), picture, heading(ring),
    make("div", { class: "amount" }), make("p", { class: "detail" }),
    make("p", { class: "small" }, differs(ring)));
  controls(node).forEach((one) => { one.tabIndex = -1; });
  node.addEventListener("focusin", () => settle(ring));
  node.addEventListener("pointerenter", () => point(ring, true));
  node.addEventListener("pointerleave", () => point(ring, false));
  return node;
}

export function emptyCell(ring) {
  return make("li", { class: "cell empty", "data-mark": ring.mark },
    make("div", { class: "row" }, make("span", { class: "mark" }, ring.mark)),
    make("div", { class: "reason" }, make("strong", {}, "cannot be made"),
      ...ring.reason.split("\n").map((line) => make("p", {}, line))),
    heading(ring), make("p", { class: "small" }, differs(ring)));
}

/* Make the buttons of one ring the only ones of the grid that Tab stops at. */
function settle(ring) {
  if (current) controls(cells.get(current)).forEach((one) => { one.tabIndex = -1; });
  current = ring;
  if (current) controls(cells.get(current)).forEach((one) => { one.tabIndex = 0; });
}

function arrange() {
  const held = list.contains(document.activeElement);
  const kept = document.activeElement;
  const now = visible();
  list.className = now.length > 12 ? "" : now.length > 6 ? "few" : "fewer";
  list.replaceChildren(...now.map((ring) => cells.get(ring)));
  const standing = now.filter((ring) => ring.values);
  if (!standing.includes(current)) settle(standing[0] || null);
  if (held) (list.contains(kept) ? kept : current ? controls(cells.get(current))[2] : list).focus();
}

let amount = null;

function amounts() {
  const key = state.sort;
  if (key === amount) return;
  amount = key;
  const values = made.map((ring) => Math.abs(number(ring, key))).filter(Number.isFinite);
  const most = Math.max(...values, 0);
  for (const ring of made) {
    const node = cells.get(ring);
    const value = number(ring, key);
    node.querySelector(".detail").textContent = detail(ring, key);
    const part = key && most && Number.isFinite(value) ? Math.abs(value) / most : 0;
    node.querySelector(".amount").style.setProperty("--part", part);
  }
}

function detail(ring, key) {
  if (![MASS, SHARE, RIB, ASIDE, RATIO, ""].includes(key)) {
    return `${figureOf.get(key).label} ${withUnit(key, number(ring, key))}`;
  }
  const [aside, plane] = [number(ring, ASIDE), number(ring, RATIO)];
  return [
    Number.isFinite(plane) ? `×\u202f${aside.toFixed(1)} · ${plane.toFixed(2)}` : "",
    `${number(ring, SHARE).toFixed(0)}\u00a0%`,
    withUnit(RIB, number(ring, RIB)),
  ].filter(Boolean).join(" · ");
}

function pressed() {
  for (const ring of made) {
    const node = cells.get(ring);
    const [mark, beside] = node.querySelectorAll(".mark, .beside");
    mark.setAttribute("aria-pressed", state.circled.has(ring.mark));
    beside.setAttribute("aria-pressed", state.beside.includes(ring));
    node.classList.toggle("chosen", state.beside.includes(ring));
  }
}

function across() {
  const tops = [...list.children].map((node) => node.offsetTop);
  return Math.max(1, tops.filter((top) => top === tops[0]).length);
}

const STEPS = {
  ArrowLeft: () => -1, ArrowRight: () => 1, ArrowUp: () => -across(), ArrowDown: () => across(),
};

/* Go to the same button of another ring; places where nothing could be made are passed over. */
list.addEventListener("keydown", (event) => {
  const here = event.target.closest(".cell");
  if (!here || event.ctrlKey || event.altKey || event.metaKey) return;
  const nodes = [...list.children];
  const step = STEPS[event.key] ? STEPS[event.key]() : 0;
  let at = nodes.indexOf(here) + step;
  if (event.key === "Home") at = nodes.findIndex((node) => !node.matches(".empty"));
  else if (event.key === "End") at = nodes.findLastIndex((node) => !node.matches(".empty"));
  else if (!step) return;
  while (nodes[at] && nodes[at].matches(".empty")) at += step;
  event.preventDefault();
  if (nodes[at]) controls(nodes[at])[controls(here).indexOf(event.target)].focus();
});

let before = null;
follow(() => {
  // Only what changes the order or the choice of rings moves them.
  const now = visible();
  const order = now.map((ring) => ring.mark).join(" ");
  if (order !== before) arrange();
  before = order;
});
follow(amounts);
follow(pressed);
