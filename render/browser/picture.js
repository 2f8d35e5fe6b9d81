// Pictures of rings: one for a cell, one at large with lit bevels, one of two rings laid over.
import { byId, draw } from "./nodes.js";
import { sheet } from "./read.js";
import { face, MICRO, openings, pockets, written } from "./outline.js";
import { facets } from "./facets.js";

const ROOM = 1.5; // mm round the tips
const DEEP = 0.065; // luminance of metal that has less than twice the contrast of dark paper

function metals() {
  return sheet.blanks.map(({ bore, shroud, tip, plate, band }, at) => {
    const stops = [[bore, plate[0]], [shroud - 0.25, plate[1]], [shroud, band[0]], [tip, band[1]]];
    return draw("radialGradient",
      { id: `metal-${at}`, gradientUnits: "userSpaceOnUse", cx: 0, cy: 0, r: tip },
      ...stops.map(([radius, colour]) => draw("stop", { offset: radius / tip, "stop-color": colour })));
  });
}

byId("shared").append(...metals());

function frame(radius, name, ...children) {
  const half = radius + ROOM;
  return draw("svg", { class: name, viewBox: `${-half} ${-half} ${2 * half} ${2 * half}`,
    "aria-hidden": "true", focusable: "false" }, ...children);
}

/* Return the relative luminance of #rrggbb, as WCAG 2 defines it. */
function luminance(colour) {
  const linear = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16) / 255)
    .map((one) => (one <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4));
  return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
}

/* Return a ground for metal that would be lost on dark paper. */
function ground(ring) {
  const { plate, tip } = sheet.blanks[ring.blank];
  return luminance(plate[0]) > DEEP ? [] : [draw("circle", { class: "ground", r: tip + ROOM })];
}

const seen = (ring) => (ring.sunk?.seen ? pockets(ring) : []);
const mouths = (ring) => seen(ring).map((one) => written(one, 2)).join("");

/* Return the metal and, on it, floors, those of counterbores in shade, what is lit, and marks. */
function metal(ring) {
  const { floors, floor, shades, facets: [shade], lit } = sheet.blanks[ring.blank];
  const scale = { transform: `scale(${1 / MICRO})` };
  const whole = draw("path", { d: face(ring), "fill-rule": "evenodd", class: "metal",
    fill: `url(#metal-${ring.blank})` });
  const sunk = ring.sunk?.seen ? [draw("path", { d: mouths(ring), fill: floor, class: "metal" })] : [];
  const bored = !floors ? [] : [
    draw("path", { d: floors, "fill-rule": "evenodd", fill: floor, class: "metal", ...scale }),
    draw("path", { d: shades, fill: shade, ...scale })];
  const cut = (ring.engraved || []).filter(({ group }) => group === "engrave")
    .map(({ lines: d, width, tone }) => draw("path", { d, fill: "none", stroke: tone,
      "stroke-width": width * MICRO, "stroke-linecap": "round", "stroke-linejoin": "round",
      class: "engraved", ...scale }));
  return [whole, ...sunk, ...bored, ...lit.map(([fill, d]) => draw("path", { d, fill, ...scale })), ...cut];
}

// One scale for all rings of the sheet, as on paper.
const widest = Math.max(...sheet.blanks.map((blank) => blank.tip));
export const small = (ring) => frame(widest, "ring", ...ground(ring), ...metal(ring));

/* A bevel is a stroke round its opening, of which only the half that lies on the metal shows. */
function bevels(ring) {
  const { bevels: widths } = ring; // one for all, or one for each opening of a sector, pockets last
  if (!widths.some(Boolean)) return [];
  const clip = draw("clipPath", { id: "on-metal" },
    draw("path", { d: face(ring) + mouths(ring), "clip-rule": "evenodd" }));
  const colours = sheet.blanks[ring.blank].facets;
  const [cut, sunk] = [openings(ring), seen(ring)];
  const first = cut.length / ring.fold; // of the widths that belong to pockets
  const each = (some, own) => some.map((_, k) => own[k % own.length]);
  const of = widths.length > 1
    ? [...each(cut, widths.slice(0, first)), ...each(sunk, widths.slice(first))] : null;
  const all = [...cut, ...sunk];
  const wide = (width) => draw("g", { "stroke-width": 2 * width },
    ...facets(all.filter((_, k) => (of ? of[k] : widths[0]) === width), colours.length)
      .map((d, tone) => draw("path", { d, stroke: colours[tone] })));
  return [clip, draw("g", { "clip-path": "url(#on-metal)", fill: "none" },
    ...[...new Set(widths)].filter(Boolean).map(wide))];
}

export const large = (ring) =>
  frame(sheet.blanks[ring.blank].tip, "ring", ...ground(ring), ...metal(ring),
    ...bevels(ring));

export function overlaid(first, second) {
  const tip = Math.max(...[first, second].map((ring) => sheet.blanks[ring.blank].tip));
  const layer = (ring, name) => draw("path", { d: face(ring), "fill-rule": "evenodd", class: name });
  return frame(tip, "ring overlaid", layer(first, "first"), layer(second, "second"));
}

export const compareIcon = () =>
  draw("svg", { class: "icon", viewBox: "0 0 24 24", "aria-hidden": "true" },
    draw("circle", { cx: 9, cy: 12, r: 6 }), draw("circle", { cx: 15, cy: 12, r: 6 }));

// Drawn as with a pencil: the line overruns its start.
export const pencil = () =>
  draw("svg", { class: "pencil", viewBox: "0 0 48 32", preserveAspectRatio: "none",
    "aria-hidden": "true" },
  draw("path", { pathLength: 1,
    d: "M33 4C21 1 4 4 3 16c-1 10 12 14 24 13 11-1 19-6 18-14C44 6 30 2 17 5" }));
