// What the page holds, and how an element is made. Words from a spec only ever become text nodes.
const sheet = JSON.parse(document.getElementById("sheet").textContent);
const rings = sheet.variants;
const made = rings.filter((ring) => ring.values);
const byMark = new Map(rings.map((ring) => [ring.mark, ring]));
const column = new Map(sheet.figures.map((figure, at) => [figure.key, at]));
const figureOf = new Map(sheet.figures.map((figure) => [figure.key, figure]));
const MASS = "mass", SHARE = "solid_share", RIB = "rib.least", STIFF = "strength.stiffness";
const RATIO = "strength.stiffness_vs_plate";

const byId = (id) => document.getElementById(id);

function filled(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== false && value !== null) node.setAttribute(name, value === true ? "" : value);
  }
  node.append(...children.filter((child) => child !== null));
  return node;
}

const make = (tag, attributes = {}, ...children) =>
  filled(document.createElement(tag), attributes, children);

const draw = (tag, attributes = {}, ...children) =>
  filled(document.createElementNS("http://www.w3.org/2000/svg", tag), attributes, children);

function button(words, attributes, pressed) {
  const node = make("button", { type: "button", ...attributes }, ...[words].flat());
  node.addEventListener("click", pressed);
  return node;
}

function number(ring, key) {
  const value = ring.values ? ring.values[column.get(key)] : null;
  return typeof value === "number" ? value : NaN;
}

/* Return digits as they are set: five and more before the point in threes, as in ISO 80000-1. */
function typeset(digits) {
  const [whole, ...rest] = digits.replace("-", "\u2212").split(".");
  const spaced = /\d{5}/.test(whole) ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole;
  return [spaced, ...rest].join(".");
}

const shown = (key, value) =>
  (Number.isFinite(value) ? typeset(value.toFixed(figureOf.get(key).places)) : "–");

function withUnit(key, value) {
  const { unit } = figureOf.get(key);
  return unit && Number.isFinite(value) ? `${shown(key, value)}\u00a0${unit}` : shown(key, value);
}

const differs = (ring) => ring.changes.map((part) => part.replace(" -", " \u2212")).join(", ");
