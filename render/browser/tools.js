// Sorting and filtering.
import { button, byId, group, make } from "./nodes.js";
import { ASIDE, figureOf, made, MASS, number, RATIO, RIB,
  rings, SHARE, sheet, shown, STIFF } from "./read.js";
import { changed, follow, passes, state } from "./state.js";
import { list } from "./grid.js";

export const tools = byId("tools");

const sortable = sheet.figures.filter(({ key }) =>
  new Set(made.map((ring) => shown(key, number(ring, key)))).size > 1);

export function sorting() {
  const first = [MASS, SHARE, RIB, ASIDE, RATIO, STIFF, "openings"];
  const option = ({ key, label }) => make("option", { value: key }, label);
  const often = sortable.filter(({ key }) => first.includes(key));
  const others = sortable.filter(({ key }) => !first.includes(key));
  const select = make("select", { id: "sort", "aria-label": "Sort by" },
    make("option", { value: "" }, "sheet order"), ...often.map(option),
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

export function patterns() {
  const counts = new Map();
  for (const ring of rings) counts.set(ring.pattern, (counts.get(ring.pattern) || 0) + 1);
  const boxes = [...counts.keys()].sort().map((pattern) => {
    const box = make("input", { type: "checkbox", value: pattern });
    box.addEventListener("change", () => {
      if (box.checked) state.patterns.add(pattern);
      else state.patterns.delete(pattern);
      changed();
    });
    follow(() => { box.checked = state.patterns.has(pattern); });
    return make("label", { class: "tick" }, box, make("span", {}, pattern),
      make("span", { class: "soft" }, String(counts.get(pattern))));
  });
  const only = (names) => () => { state.patterns = new Set(names); changed(); };
  return group("Patterns", make("div", { class: "pair quiet" },
    button("All patterns", {}, only(counts.keys())), button("None", {}, only([]))),
  make("div", { class: "ticks" }, ...boxes));
}

export function onlyCircled() {
  const box = make("input", { type: "checkbox", id: "only-circled" });
  box.addEventListener("change", () => { state.onlyCircled = box.checked; changed(); });
  follow(() => { box.checked = state.onlyCircled; });
  return make("label", { class: "tick" }, box, make("span", {}, "only circled rings"));
}

function showAll() {
  state.patterns = new Set(rings.map((ring) => ring.pattern));
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

export const RANGED = [MASS, RIB, figureOf.has(STIFF) ? STIFF : SHARE];
