// Outlines: path data in whole micrometres about the axis, one symmetry sector of the openings.
import { sheet } from "./read.js";

export const MICRO = 1000;

/* Return the tangent of a quarter of an arc's sweep, from its chord. */
function bulge(chord, radius, large) {
  const sine = Math.min(1, chord / (2 * radius));
  const cosine = Math.sqrt(1 - sine * sine);
  return (large ? 1 + cosine : 1 - cosine) / sine;
}

/* Return contours as { start, pieces }, corners absolute, from relative path data. */
function parsed(path) {
  const found = [];
  for (const part of path.match(/M[^M]+/g) || []) {
    const steps = part.match(/[Mla][^Mlaz]+/g).map((step) => ({
      kind: step[0],
      numbers: step.slice(1).match(/-?\d+(?:\.\d+)?/g).map(Number),
    }));
    let [x, y] = steps.shift().numbers;
    const start = [x, y];
    const pieces = steps.map(({ kind, numbers }) => {
      const [dx, dy] = numbers.slice(-2);
      [x, y] = [x + dx, y + dy];
      if (kind === "l") return { arc: null, end: [x, y] };
      const [radius, , , large, sweep] = numbers;
      return { arc: { bulge: bulge(Math.hypot(dx, dy), radius, large), large, sweep }, end: [x, y] };
    });
    found.push({ start, pieces });
  }
  return found;
}

function turned({ start, pieces }, angle) {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const turn = ([x, y]) => [c * x - s * y, s * x + c * y];
  return {
    start: turn(start),
    pieces: pieces.map(({ arc, end }) => ({ arc, end: turn(end) })),
  };
}

/* Return one contour as absolute path data in mm, its axis at the point (middle, middle).
   An open line ends without coming back. */
export function written({ start, pieces }, places, middle = 0, end = "Z") {
  const rounded = (point) => point.map((one) => Number((one / MICRO + middle).toFixed(places)) + 0);
  const last = pieces.length - 1;
  let here = rounded(start);
  const parts = pieces.map(({ arc, end: there }, k) => {
    const before = here;
    here = rounded(there);
    if (!arc) return k === last && end ? "" : `L${here}`;
    // Rounded ends change the chord, and a near half circle lives by the ratio of chord and radius.
    const chord = Math.hypot(here[0] - before[0], here[1] - before[1]);
    const radius = Number(((chord * (1 + arc.bulge ** 2)) / (4 * arc.bulge)).toFixed(7));
    return `A${radius},${radius} 0 ${arc.large} ${arc.sweep} ${here}`;
  });
  return `M${rounded(start)}${parts.join("")}${end}`;
}

/* Return the contours of a sector in all symmetry sectors of a ring. */
function around(ring, path) {
  const sector = parsed(path);
  const turns = Array.from({ length: ring.fold }, (_, k) => (2 * Math.PI * k) / ring.fold);
  return turns.flatMap((angle) => sector.map((one) => turned(one, angle)));
}

/* Return every opening of a ring that is cut through, and every one that keeps a floor. */
export const openings = (ring) => around(ring, ring.openings);
export const pockets = (ring) => (ring.sunk ? around(ring, ring.sunk.path) : []);

/* Return the lines of a ring's marks, one face of them. */
export function engraved(ring, group) {
  const marks = (ring.engraved || []).filter((one) => one.group === group);
  return marks.flatMap(({ lines }) => parsed(lines));
}

export function blankContours(ring) {
  const { outline, edge, bolts } = sheet.blanks[ring.blank];
  return { outline: parsed(outline), edge: parsed(edge), bolts: parsed(bolts) };
}

const faces = new Map();

/* Return the metal of a ring as path data for even-odd filling, to a hundredth of a mm. */
export function face(ring) {
  if (!faces.has(ring)) {
    const { outline, edge, bolts } = blankContours(ring);
    const all = [...outline, ...edge, ...bolts, ...openings(ring)];
    faces.set(ring, all.map((one) => written(one, 2)).join(""));
  }
  return faces.get(ring);
}
