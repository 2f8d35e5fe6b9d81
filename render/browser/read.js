// What the page holds.
import { typeset } from "./nodes.js";

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
export const ASIDE = "strength.lateral_between_vs_plate";
export const RATIO = "strength.stiffness_vs_plate";

export function number(ring, key) {
  const value = ring.values ? ring.values[column.get(key)] : null;
  return typeof value === "number" ? value : NaN;
}

export const shown = (key, value) =>
  (Number.isFinite(value) ? typeset(value.toFixed(figureOf.get(key).places)) : "–");

export function withUnit(key, value) {
  const { unit } = figureOf.get(key);
  return unit && Number.isFinite(value) ? `${shown(key, value)}\u00a0${unit}` : shown(key, value);
}

export const differs = (ring) => ring.changes.map((part) => part.replace(" -", " \u2212")).join(", ");

export const named = (ring) => [ring.pattern, differs(ring)].filter(Boolean).join(", ");
