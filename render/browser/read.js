// What the page holds, and how an element is made. Words from a spec only ever become text nodes.
export const sheet = JSON.parse(document.getElementById("sheet").textContent);
export const rings = sheet.variants;
export const made = rings.filter((ring) => ring.values);
export const byMark = new Map(rings.map((ring) => [ring.mark, ring]));
const column = new Map(sheet.figures.map((figure, at) => [figure.key, at]));
export const figureOf = new Map(sheet.figures.map((figure) => [figure.key, figure]));
export const MASS = "mass";
export const SHARE = "solid_share";
export const RIB = "rib.least";
export const STIFF = "strength.stiffness";
export const RATIO = "strength.stiffness_vs_plate";

export const byId = (id) => document.getElementById(id);

function filled(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== false && value !== null) node.setAttribute(name, value === true ? "" : value);
  }
  node.append(...children.filter((child) => child !== null));
  return node;
}

export const make = (tag, attributes = {}, ...children) =>
  filled(document.createElement(tag), attributes, children);

export const draw = (tag, attributes = {}, ...children) =>
  filled(document.createElementNS("http://www.w3.org/2000/svg", tag), attributes, children);

export const group = (title, ...children) =>
  make("fieldset", {}, make("legend", {}, title), ...children);

export function button(words, attributes, pressed) {
  const node = make("button", { type: "button", ...attributes }, ...[words].flat());
  node.addEventListener("click", pressed);
  return node;
}

export function number(ring, key) {
  const value = ring.values ? ring.values[column.get(key)] : null;
  return typeof value === "number" ? value : NaN;
}

/* Return digits as they are set: five and more before the point in threes, as in ISO 80000-1. */
export function typeset(digits) {
  const [whole, ...rest] = digits.replace("-", "\u2212").split(".");
  const spaced = /\d{5}/.test(whole) ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole;
  return [spaced, ...rest].join(".");
}

export const shown = (key, value) =>
  (Number.isFinite(value) ? typeset(value.toFixed(figureOf.get(key).places)) : "–");

export function withUnit(key, value) {
  const { unit } = figureOf.get(key);
  return unit && Number.isFinite(value) ? `${shown(key, value)}\u00a0${unit}` : shown(key, value);
}

export const differs = (ring) => ring.changes.map((part) => part.replace(" -", " \u2212")).join(", ");

export const named = (ring) => [ring.pattern, differs(ring)].filter(Boolean).join(", ");
