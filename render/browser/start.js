// All parts in their places.
for (const ring of rings) cells.set(ring, ring.values ? cell(ring) : emptyCell(ring));
tools.append(...[sorting(), made.length ? plot() : null,
  RANGED.length ? group("Between", ...RANGED.map(range).filter(Boolean)) : null,
  families(), group("Favourites", onlyCircled())].filter(Boolean));
changed();
