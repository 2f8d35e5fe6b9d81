// Every pattern on this very site and this very mass, small; a press takes it.
import { button, byId, draw, make } from "./nodes.js";
import { hear, next, tell } from "./wire.js";
import { goal, got, known, now, put, step, watch } from "./state.js";
import { rove } from "./rove.js";
import { shown, small } from "./stage.js";

const RIBS = ["web.rib", "goal.least_rib"]; // what is turned to the mass goes its own way
const WAIT = 600; // ms of stillness before thumbnails are drawn again
const picks = new Map();
let timer = 0;
let asked = 0;
let site = "";

/* Return what thumbnails depend on: all but the pattern, and the mass they are brought on. */
function siteOf() {
  const web = { ...now.data.web, rib: least() };
  const rest = { ...now.data, web, pattern: 0, goal: 0, load: 0, title: 0 };
  return JSON.stringify([rest, aim()]);
}

const least = () => got(["goal", "least_rib"]) ?? got(["web", "rib"]) ?? 2;
const aim = () => goal() ?? Number(shown.ring.mass.toFixed(1));

function take(name) {
  const found = picks.get(name).ring;
  step(`pattern ${name}`, () => {
    const lowest = least();
    now.data.pattern = table(name);
    now.held = found?.chosen ?? {};
    for (const { key, value } of found?.changes ?? []) {
      if (!RIBS.includes(key)) put(key.split("."), value ?? undefined);
    }
    if (found && now.tied) now.rib = found.turned;
    if (found && !now.tied) turned(found.turned, lowest);
  }, true);
}

function table(name) {
  const seed = got(["pattern", "seed"]);
  return seed === undefined ? { name } : { name, seed };
}

/* Write down the rib that brings the pattern on the mass, and below which none was asked for. */
function turned(rib, lowest) {
  if (rib === (got(["web", "rib"]) ?? lowest)) return;
  put(["web", "rib"], rib);
  if (rib > lowest) put(["goal", "least_rib"], lowest);
}

export function families() {
  const list = byId("families").querySelector("ol");
  list.dataset.row = "";
  for (const [name, summary] of Object.entries(known.patterns)) {
    const parts = [draw("svg", { viewBox: "0 0 1 1" }), make("b", {}, name), make("small", {}, "\u00a0")];
    const node = button(parts,
      { class: "pick", "data-family": name, title: summary, "aria-pressed": "false" }, () => take(name));
    picks.set(name, { node, site: "", seen: false, ring: null });
    list.append(make("li", {}, node));
  }
  const seen = new IntersectionObserver((all) => {
    for (const one of all) picks.get(one.target.dataset.family).seen = one.isIntersecting;
    soon();
  }, { rootMargin: "100px" });
  picks.forEach(({ node }) => seen.observe(node));
  rove(list);
}

export function soon() {
  clearTimeout(timer);
  timer = setTimeout(() => {
    if (!shown.ring) return;
    site = siteOf();
    const names = [...picks].filter(([, one]) => one.seen && one.site !== site).map(([name]) => name);
    if (!names.length) return;
    asked = next();
    const web = { ...now.data.web, rib: least() };
    const spec = { ...now.data, web, pattern: table(now.data.pattern.name) };
    tell({ thumbs: asked, spec, aim: aim(), names });
  }, WAIT);
}

hear("thumb", (said) => {
  if (said.thumb !== asked) return;
  const one = picks.get(said.family);
  if (!one) return;
  Object.assign(one, { site, ring: said.faults ? null : said });
  one.node.classList.toggle("none", Boolean(said.faults));
  one.node.classList.toggle("off", Boolean(said.off));
  one.node.lastChild.textContent = said.faults ? "not on this site" : `${said.mass.toFixed(1)} g`;
  if (!said.faults) one.node.firstChild.replaceWith(small(said, said.blank ?? shown.blank));
});

watch(() => {
  for (const [name, { node }] of picks) node.setAttribute("aria-pressed", name === now.data.pattern.name);
  soon();
});
