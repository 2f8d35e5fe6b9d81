// Bevels as lit facets: strips of one tone along an opening, by where the bevel faces.
import { sheet } from "./read.js";
import { MICRO } from "./outline.js";

const LIGHT = sheet.light; // where it comes from, an angle on the page

/* Return the number of the tone of a bevel that faces away, 0 where it is turned from the light. */
function toneOf(angle, count) {
  const off = angle - LIGHT;
  const away = Math.PI - Math.abs(Math.atan2(Math.sin(off), Math.cos(off)));
  return Math.min(count - 1, Math.floor((away * count) / Math.PI));
}

/* Return where an arc, 0 to 1, changes its tone: its bevel faces first and turns by so much. */
function cuts(first, turn, count) {
  const sector = Math.PI / count;
  const [low, high] = [first - LIGHT, first - LIGHT + turn].sort((a, b) => a - b);
  const found = [];
  for (let k = Math.ceil(low / sector + 1e-6); k * sector < high - 1e-6; k += 1) found.push(k * sector);
  return found.map((at) => (at - (first - LIGHT)) / turn).sort((a, b) => a - b);
}

/* Return a line or an arc as parts of one tone each; an opening lies to the left of its outline. */
function parts(start, { arc, end }, count) {
  const [dx, dy] = [end[0] - start[0], end[1] - start[1]];
  const along = Math.atan2(dy, dx);
  if (!arc) return [{ tone: toneOf(along - Math.PI / 2, count), start, end, radius: 0 }];
  const turn = 4 * Math.atan(arc.bulge) * (arc.sweep ? 1 : -1);
  const radius = Math.hypot(dx, dy) / (2 * Math.sin(turn / 2)); // negative to the left
  const heading = along - turn / 2;
  const centre = [start[0] - radius * Math.sin(heading), start[1] + radius * Math.cos(heading)];
  const at = (share) => {
    const angle = heading + turn * share;
    return [centre[0] + radius * Math.sin(angle), centre[1] - radius * Math.cos(angle)];
  };
  const facing = heading - Math.PI / 2;
  const stops = [0, ...cuts(facing, turn, count), 1];
  return stops.slice(1).map((stop, k) => ({
    tone: toneOf(facing + (turn * (stops[k] + stop)) / 2, count),
    start: at(stops[k]), end: at(stop), radius: Math.abs(radius), sweep: arc.sweep,
    large: Math.abs(turn) * (stop - stops[k]) > Math.PI ? 1 : 0,
  }));
}

/* Return path data of the strips of each tone, in mm. */
export function facets(contours, count) {
  const found = Array.from({ length: count }, () => "");
  const mm = (point) => point.map((one) => (one / MICRO).toFixed(3));
  for (const { start, pieces } of contours) {
    const all = pieces.flatMap((piece, k) => parts(k ? pieces[k - 1].end : start, piece, count));
    const first = Math.max(0, all.findIndex((one, k) => one.tone !== all.at(k - 1).tone));
    let before = null;
    for (const one of [...all.slice(first), ...all.slice(0, first)]) {
      if (one.tone !== before) found[one.tone] += `M${mm(one.start)}`;
      const size = (one.radius / MICRO).toFixed(3);
      found[one.tone] += one.radius
        ? `A${size},${size} 0 ${one.large} ${one.sweep} ${mm(one.end)}` : `L${mm(one.end)}`;
      before = one.tone;
    }
  }
  return found;
}
