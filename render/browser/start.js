// All parts in their places.
import { group } from "./nodes.js";
import { made, rings } from "./read.js";
import { changed } from "./state.js";
import { cells } from "./grid.js";
import { plot } from "./plot.js";
import { cell, emptyCell } from "./cells.js";
import { range } from "./range.js";
import { patterns, onlyCircled, RANGED, sorting, tools } from "./tools.js";
import "./tray.js";

for (const ring of rings) cells.set(ring, ring.values ? cell(ring) : emptyCell(ring));
const ranges = made.length ? RANGED.map(range).filter(Boolean) : [];
tools.append(...[sorting(), made.length ? plot() : null,
  ranges.length ? group("Between", ...ranges) : null,
  patterns(), group("Favourites", onlyCircled())].filter(Boolean));
changed();
