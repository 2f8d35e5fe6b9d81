// Sorting and filtering.
const tools = byId("tools");

const group = (title, ...children) =>
  make("fieldset", {}, make("legend", {}, title), ...children);

const sortable = sheet.figures.filter(({ key }) =>
  new Set(made.map((ring) => shown(key, number(ring, key)))).size > 1);

function sorting() {
  const first = [MASS, SHARE, RIB, STIFF, RATIO, "openings"];
  const option = ({ key, label }) => make("option", { value: key }, label);
  const often = sortable.filter(({ key }) => first.includes(key));
  const others = sortable.filter(({ key }) => !first.includes(key));
  const select = make("select", { id: "sort", "aria-label": "Sort by" },
    make("option", { value: "" }, "place on the sheet"), ...often.map(option),
    make("optgroup", { label: "other figures" }, ...others.map(option)));
  const way = button("", { id: "way" }, () => { state.down = !state.down; changed(); });
  select.addEventListener("change", () => {
    state.sort = select.value;
    state.down = Boolean(state.sort) && figureOf.get(state.sort).better > 0;
    changed();
  });
  follow(() => {
    const [up, down] = state.sort ? ["least first", "most first"] : ["first to last", "last to first"];
    way.textContent = state.down ? `↓ ${down}` : `↑ ${up}`;
    select.value = state.sort;
  });
  return group("Sort by", make("div", { class: "pair" }, select, way));
}

function families() {
  const counts = new Map();
  for (const ring of rings) counts.set(ring.family, (counts.get(ring.family) || 0) + 1);
  const boxes = [...counts.keys()].sort().map((family) => {
    const box = make("input", { type: "checkbox", value: family });
    box.addEventListener("change", () => {
      if (box.checked) state.families.add(family);
      else state.families.delete(family);
      changed();
    });
    follow(() => { box.checked = state.families.has(family); });
    return make("label", { class: "tick" }, box, make("span", {}, family),
      make("span", { class: "soft" }, String(counts.get(family))));
  });
  const only = (names) => () => { state.families = new Set(names); changed(); };
  return group("Families", make("div", { class: "pair quiet" },
    button("All families", {}, only(counts.keys())), button("None", {}, only([]))),
  make("div", { class: "ticks" }, ...boxes));
}

/* A range between two handles, over a stroke for each ring. */
function range(key) {
  const { label } = figureOf.get(key);
  const values = made.map((ring) => number(ring, key)).filter(Number.isFinite);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  if (!values.length || shown(key, least) === shown(key, most)) return null;
  const steps = 200;
  const at = (step) => least + ((most - least) * step) / steps;
  const handle = (name, value) =>
    make("input", { type: "range", min: 0, max: steps, value, "aria-label": `${name} ${label}` });
  const [low, high] = [handle("Least", 0), handle("Most", steps)];
  const words = make("output", {});
  const strokes = values.map((value) => {
    const x = (100 * (value - least)) / (most - least);
    return draw("line", { x1: x, x2: x, y1: 0, y2: 1 });
  });
  const rug = draw("svg", { class: "rug", viewBox: "0 0 100 1", preserveAspectRatio: "none",
    "aria-hidden": "true" }, ...strokes);
  const set = (moved) => () => {
    if (Number(low.value) > Number(high.value)) {
      const other = moved === low ? high : low;
      moved.value = other.value;
    }
    const [from, to] = [Number(low.value), Number(high.value)];
    if (from === 0 && to === steps) state.ranges.delete(key);
    else state.ranges.set(key, [at(from), to === steps ? most : at(to)]);
    changed();
  };
  low.addEventListener("input", set(low));
  high.addEventListener("input", set(high));
  follow(() => {
    if (!state.ranges.has(key)) [low.value, high.value] = [0, steps];
    const [from, to] = state.ranges.get(key) || [least, most];
    words.textContent = `${shown(key, from)} – ${withUnit(key, to)}`;
    low.setAttribute("aria-valuetext", withUnit(key, from));
    high.setAttribute("aria-valuetext", withUnit(key, to));
    strokes.forEach((stroke, k) =>
      stroke.classList.toggle("out", values[k] < from || values[k] > to));
  });
  return make("div", { class: "range", "data-key": key },
    make("div", { class: "row" }, make("span", {}, label), words),
    make("div", { class: "slide" }, rug, low, high));
}

function onlyCircled() {
  const box = make("input", { type: "checkbox", id: "only-circled" });
  box.addEventListener("change", () => { state.onlyCircled = box.checked; changed(); });
  follow(() => { box.checked = state.onlyCircled; });
  return make("label", { class: "tick" }, box, make("span", {}, "only circled rings"));
}

function showAll() {
  state.families = new Set(rings.map((ring) => ring.family));
  state.ranges.clear();
  state.onlyCircled = false;
  changed();
}

byId("all").addEventListener("click", () => {
  showAll();
  list.focus();
});

byId("unfold").addEventListener("click", () => {
  const open = tools.classList.toggle("open");
  byId("unfold").setAttribute("aria-expanded", open);
});

follow(() => {
  const count = rings.filter(passes).length;
  const empty = rings.length - made.length;
  const total = `${rings.length} ${rings.length === 1 ? "ring" : "rings"}`;
  const words = count === rings.length ? total : `${count} of ${total}`;
  byId("count").textContent = words + (empty ? `, ${empty} cannot be made` : "");
  byId("all").hidden = count === rings.length;
  byId("nothing").hidden = count > 0;
});

const RANGED = [MASS, RIB, figureOf.has(STIFF) ? STIFF : SHARE];
