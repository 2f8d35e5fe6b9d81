// Rings kept, and rings brought along from a sheet: a press takes one back, two can be compared.
import { button, byId, make } from "./nodes.js";
import { asked, hear, next, tell } from "./wire.js";
import { now, step, wish } from "./state.js";
import { fault, say } from "./faults.js";
import { outline, shown, small, view } from "./stage.js";

const chosen = []; // the rings to compare, the older first
let listed = 0;

function taken(name, told) {
  step(`kept ${name}`, () => {
    now.data = structuredClone(told);
    now.data.pattern ??= { name: "honeycomb" };
    Object.assign(now, { held: {}, rib: null, tied: false });
  }, true);
}

function added(ring) {
  const list = byId("shelf").querySelector("ol");
  const pick = button([small(ring, ring.blank), make("b", {}, ring.name), make("small", {}, `${ring.mass.toFixed(1)} g`)],
    { class: "pick" }, () => taken(ring.name, ring.told));
  const tick = make("input", { type: "checkbox", class: "tick", "aria-label": `compare ${ring.name}` });
  tick.addEventListener("change", () => compared(ring, tick));
  list.append(make("li", {}, pick, make("label", { class: "pair" }, tick, "compare")));
  byId("shelf").hidden = false;
}

function compared(ring, tick) {
  const at = chosen.findIndex((one) => one.ring === ring);
  if (at >= 0) chosen.splice(at, 1);
  if (tick.checked) chosen.push({ ring, tick });
  if (chosen.length > 2) chosen.shift().tick.checked = false;
  byId("compare").disabled = chosen.length < 2;
}

function caption(ring, name) {
  return make("p", { class: name }, make("b", {}, ring.name), ` ${ring.told.pattern?.name ?? "honeycomb"}, `
    + `${ring.mass.toFixed(1)} g, ${ring.count} openings, ribs of ${ring.turned.toFixed(2)} mm`);
}

function overlaid() {
  const [one, other] = chosen.map(({ ring }) => ring);
  const svg = small({ ...one, tip: Math.max(one.tip, other.tip), openings: "", fold: 1 }, "");
  svg.setAttribute("viewBox", view(Math.max(one.tip, other.tip)));
  svg.replaceChildren(outline(one, "first"), outline(other, "second"));
  byId("overlay").replaceChildren(svg, caption(one, "first"), caption(other, "second"));
  byId("beside").showModal();
}

export async function keep() {
  const found = await asked("keep", wish());
  if (found.faults) { fault(found.faults); return; }
  say(`kept as ${found.written[0]}`);
  added({ ...shown.ring, name: found.name, told: found.told });
}

export function refill() {
  listed = next();
  chosen.length = 0;
  byId("compare").disabled = true;
  byId("shelf").querySelector("ol").replaceChildren();
  tell({ shelf: listed });
}

hear("shelf", (said) => {
  if (said.shelf !== listed) return;
  if (said.faults) say(`${said.name}: ${said.faults[0]}`);
  else added(said);
});

export function shelf() {
  byId("keep").addEventListener("click", keep);
  byId("compare").addEventListener("click", overlaid);
  byId("beside-close").addEventListener("click", () => byId("beside").close());
}
