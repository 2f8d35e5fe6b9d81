// Sets all parts in their places, and passes on what the server tells.
import { byId } from "./nodes.js";
import { asked, connect, fetched, hear } from "./wire.js";
import { file, goal, got, known, now, opened, put, step, steps, unsaved, watch, wish } from "./state.js";
import { ask, isLatest, reset, taken } from "./ask.js";
import { apply, clear, fault, say } from "./faults.js";
import { circled, picture, shown } from "./stage.js";
import { ribbed, spoken, stiff, weighed } from "./readings.js";
import { families, soon } from "./families.js";
import { refill, shelf } from "./shelf.js";
import { lost, reread, save, shop } from "./save.js";
import { keys } from "./keys.js";
import { drop } from "./drop.js";
import { synced } from "./panel.js";

taken((said) => {
  byId("ring").classList.toggle("stale", Boolean(said.faults));
  byId("keep").disabled = Boolean(said.faults);
  if (said.faults) { fault(said.faults, said.offers); return; }
  picture(said);
  weighed(said);
  if (said.off) fault([said.off], [], [["Turn the whole ring to it", tuned]]);
  else clear();
  synced();
  soon();
});

async function tuned() {
  const found = await asked("tune", { ...wish(), aim: goal() });
  if (found.faults) { fault(found.faults, found.offers); return; }
  now.tied = false;
  apply(found.changes, "tune");
  say(`${found.mass.toFixed(2)} g: ${found.words.join(", ")}`);
}

hear("ribs", (said) => {
  if (!isLatest(said.ribs) || said.rib === undefined) return;
  ribbed(said.rib, shown.ring);
  spoken(said.rib, shown.ring);
  circled(said.ends);
});

hear("weighed", (said) => {
  if (!isLatest(said.weighed)) return;
  if (said.quality) stiff(said);
  if (said.broken?.length) fault(said.broken);
});

/* While tied the rib is turned to the mass; let go, it stays where it was turned to. */
function tie() {
  step("tie", () => {
    now.tied = byId("tied").checked;
    if (now.tied && !goal()) put(["goal", "mass"], Number(shown.ring.mass.toFixed(1)));
    if (now.tied || !now.rib) return;
    const least = got(["goal", "least_rib"]) ?? got(["web", "rib"]) ?? shown.ring.least;
    put(["web", "rib"], now.rib);
    if (now.rib > least) put(["goal", "least_rib"], least);
    now.rib = null;
  }, true);
}

watch(() => {
  const { past, future } = steps();
  byId("undo").disabled = !past;
  byId("redo").disabled = !future;
  byId("save").disabled = !unsaved();
  byId("tied").checked = now.tied;
  byId("title").textContent = now.data.title ?? "Untitled";
  byId("where").textContent = `${file.folder}/${file.name}`;
  document.title = `${now.data.title ?? "Untitled"} · openwork`;
  ask();
});

async function begin() {
  const start = await fetched("start.json");
  Object.assign(known, { tables: start.tables, patterns: start.patterns, per_bolt: start.per_bolt,
    formats: start.formats, caution: start.caution });
  byId("caution").textContent = known.caution;
  keys();
  drop();
  shelf();
  families();
  shop();
  byId("tied").addEventListener("change", tie);
  byId("save").addEventListener("click", save);
  if (start.faults) fault(start.faults, [], [["Read it again", () => reread(false)]]);
  else opened(start, false);
  connect(() => { if (file.name) reset(); refill(); }, lost);
}

begin();
