// The ring: one sector of its openings, repeated; the blank only when it changes.
import { byId, draw } from "./nodes.js";

const UNIT = 0.01; // mm
const EDGE = 1.5; // mm round the teeth
const LOUPE = 3.2; // mm, radius of the circle round the least rib

export const shown = { blank: "", ring: null };
let parts = null;

export function view(tip) {
  const half = (tip + EDGE) / UNIT;
  return `${-half} ${-half} ${2 * half} ${2 * half}`;
}

const turns = (fold) => Array.from({ length: fold }, (_, k) => `rotate(${(-360 * k) / fold})`);

function begun() {
  parts = {
    metal: draw("path", { class: "metal", "fill-rule": "evenodd" }),
    bevel: draw("path", { id: "bevel", class: "bevel" }),
    hole: draw("path", { id: "hole", class: "hole" }),
    floors: draw("path", { class: "floor", "fill-rule": "evenodd" }),
    pocket: draw("path", { id: "pocket", class: "floor" }), engraved: draw("g", { class: "engraved" }),
    below: draw("g"), sunk: draw("g"), sectors: draw("g"),
    marks: draw("g", { class: "marks", visibility: "hidden" }),
    line: draw("path"), loupe: draw("circle", { r: LOUPE / UNIT }),
    fold: 0,
  };
  parts.marks.append(parts.line, parts.loupe);
  parts.svg = draw("svg", { role: "img", "aria-labelledby": "title" },
    parts.metal, parts.floors, parts.below, parts.sunk, parts.sectors, parts.engraved, parts.marks);
  byId("ring").replaceChildren(parts.svg);
}

function repeated(fold) {
  const [, ...rest] = turns(fold);
  const copies = (href) => rest.map((transform) => draw("use", { href, transform }));
  parts.sectors.replaceChildren(parts.hole, ...copies("#hole"));
  parts.below.replaceChildren(parts.bevel, ...copies("#bevel"));
  parts.sunk.replaceChildren(parts.pocket, ...copies("#pocket"));
  parts.fold = fold;
}

export function picture(ring) {
  if (ring.blank !== undefined) shown.blank = ring.blank;
  shown.ring = { ...ring, blank: shown.blank };
  if (!parts) begun();
  parts.svg.setAttribute("viewBox", view(ring.tip));
  if (parts.metal.getAttribute("d") !== shown.blank) parts.metal.setAttribute("d", shown.blank);
  if (parts.fold !== ring.fold) repeated(ring.fold);
  parts.marks.setAttribute("visibility", "hidden");
  parts.bevel.setAttribute("stroke-width", (2 * ring.bevel) / UNIT);
  parts.bevel.setAttribute("d", ring.openings + (ring.pockets ?? ""));
  parts.hole.setAttribute("d", ring.openings);
  parts.pocket.setAttribute("d", ring.pockets ?? "");
  parts.floors.setAttribute("d", ring.floors ?? "");
  parts.engraved.replaceChildren(...(ring.marks ?? []).map(([width, d]) =>
    draw("path", { d, "stroke-width": width / UNIT })));
  toned(ring.tones);
}

function toned([plate, shade, floor, line]) {
  parts.metal.style.fill = plate;
  parts.bevel.style.stroke = shade;
  parts.floors.style.fill = floor;
  parts.pocket.style.fill = floor;
  parts.engraved.style.stroke = line;
}

/* Circle with the red pencil where the least rib is; y runs downwards on the page. */
export function circled([[x, y], [u, v]]) {
  parts.line.setAttribute("d", `M${x / UNIT} ${-y / UNIT}L${u / UNIT} ${-v / UNIT}`);
  parts.loupe.setAttribute("cx", (x + u) / 2 / UNIT);
  parts.loupe.setAttribute("cy", -(y + v) / 2 / UNIT);
  parts.marks.removeAttribute("visibility");
}

export const small = (ring, blank) => draw("svg", { viewBox: view(ring.tip), "aria-hidden": "true" },
  draw("path", { class: "metal", "fill-rule": "evenodd", d: blank }),
  ...turns(ring.fold).flatMap((transform) => [
    draw("path", { class: "hole", d: ring.openings, transform }),
    draw("path", { class: "floor", d: ring.pockets ?? "", transform })]));

export const outline = (ring, name) => draw("g", { class: name },
  draw("path", { d: ring.blank }),
  ...turns(ring.fold).map((transform) =>
    draw("path", { d: ring.openings + (ring.pockets ?? ""), transform })));
