// All parts in their places.
for (const ring of rings) cells.set(ring, ring.values ? cell(ring) : emptyCell(ring));
const ranges = made.length ? RANGED.map(range).filter(Boolean) : [];
tools.append(...[sorting(), made.length ? plot() : null,
  ranges.length ? group("Between", ...ranges) : null,
  families(), group("Favourites", onlyCircled())].filter(Boolean));
changed();
