// What the reader has chosen. Favourites outlive the page where the browser lets it remember.
import { byMark, number, rings, sheet } from "./read.js";
import { say } from "./note.js";

export const state = {
  circled: new Set(),
  beside: [],
  sort: "",
  down: false,
  patterns: new Set(rings.map((ring) => ring.pattern)),
  ranges: new Map(),
  onlyCircled: false,
};
export const MOST = 4;
const followers = [];

export const follow = (follower) => followers.push(follower);

export function changed() {
  for (const follower of followers) follower();
}

function remembered() {
  try {
    const marks = JSON.parse(localStorage.getItem(`openwork ${sheet.key}`)) || [];
    return marks.filter((mark) => byMark.has(mark) && byMark.get(mark).values);
  } catch {
    return []; // no storage here: the marks last as long as the page
  }
}

function remember() {
  try {
    localStorage.setItem(`openwork ${sheet.key}`, JSON.stringify([...state.circled]));
  } catch {
    // as above
  }
}

state.circled = new Set(remembered());

export function circle(ring) {
  if (!state.circled.delete(ring.mark)) state.circled.add(ring.mark);
  remember();
  changed();
}

export function choose(ring) {
  const at = state.beside.indexOf(ring);
  if (at >= 0) state.beside.splice(at, 1);
  else if (state.beside.length < MOST) state.beside.push(ring);
  else {
    say(`${MOST} rings at most lie beside each other; take one away first`);
    return;
  }
  changed();
}

export function passes(ring) {
  if (!state.patterns.has(ring.pattern)) return false;
  if (state.onlyCircled && !state.circled.has(ring.mark)) return false;
  return [...state.ranges].every(([key, [least, most]]) => {
    const value = number(ring, key);
    return value >= least && value <= most;
  });
}

function sorted(list) {
  if (!state.sort) return state.down ? [...list].reverse() : list;
  const sign = state.down ? -1 : 1;
  const known = list.filter((ring) => Number.isFinite(number(ring, state.sort)));
  const rest = list.filter((ring) => !Number.isFinite(number(ring, state.sort)));
  known.sort((a, b) => sign * (number(a, state.sort) - number(b, state.sort)));
  return [...known, ...rest];
}

export const visible = () => sorted(rings.filter(passes));
