// Four readings under the ring; grey until they are measured again.
import { byId, make, typeset } from "./nodes.js";
import { got } from "./state.js";

const nodes = new Map();

function reading(key, label, words, note) {
  if (!nodes.has(key)) {
    const node = make("div", { "data-key": key }, make("dt", {}, label), make("dd"));
    nodes.set(key, node);
    byId("readings").append(node);
  }
  const node = nodes.get(key);
  node.classList.remove("old");
  node.firstChild.textContent = label;
  node.lastChild.replaceChildren(`${words} `, make("small", {}, note));
}

const wordsOf = (value, places, unit) =>
  (Number.isFinite(value) ? `${typeset(value.toFixed(places))}\u00a0${unit}` : "–");

export function weighed(ring) {
  const goal = got(["goal", "mass"]);
  const wanted = Array.isArray(goal) ? goal.join("–") : goal;
  const share = `${(100 * ring.share).toFixed(0)}\u00a0% solid`;
  reading("mass", "mass", wordsOf(ring.mass, 1, "g"), wanted ? `of ${wanted}` : share);
  const deep = ring.deep ? `and ${ring.deep} pockets, ` : "";
  reading("count", "openings", String(ring.count), deep + (wanted ? share : ""));
  for (const key of ["rib", "stiff"]) {
    if (!nodes.has(key)) reading(key, key === "rib" ? "least rib" : "stiffness", "–", "");
    nodes.get(key).classList.add("old");
  }
}

export function ribbed(rib, ring) {
  reading("rib", "least rib", wordsOf(rib, 2, "mm"), `of ${ring.least.toFixed(2)}`);
}

export function stiff({ stiffness, on_spider: hung, quality, bias }) {
  const about = quality === "search" ? "≈ " : "";
  if (stiffness === null) { reading("stiff", "stiffness", "–", "cannot be meshed"); return; }
  reading("stiff", `stiffness, ${bias}`, `${about}${typeset(String(stiffness))}`,
    `N m/°, ${typeset(String(hung))} on its spider`);
}

/* Say the readings once it is still, for those who hear the page. */
export function spoken(rib, ring) {
  byId("heard").textContent =
    `${ring.mass.toFixed(1)} gram, ${ring.count} openings, least rib ${rib.toFixed(2)} millimetres`;
}
