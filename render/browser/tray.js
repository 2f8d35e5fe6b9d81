// What is circled and what will lie side by side, at the foot of the page.
import { button, byId, make } from "./nodes.js";
import { note, say } from "./note.js";
import { choose, follow, state } from "./state.js";
import { list } from "./grid.js";
import { saveMarks } from "./save.js";
import { compare } from "./compare.js";

const tray = byId("tray");
const circledPart = make("div", { class: "part" });
const besidePart = make("div", { class: "part" });
tray.append(circledPart, besidePart, note);

function circledWords() {
  const count = state.circled.size;
  if (!count) return [];
  return [make("span", {}, `${count} circled`), button("Save the list", { id: "save-marks" }, saveMarks)];
}

function besideWords() {
  if (!state.beside.length) return [];
  const chips = state.beside.map((ring) =>
    button([ring.mark, make("span", { "aria-hidden": "true" }, " ×")],
      { class: "chip", "aria-label": `Take ${ring.mark} away` }, () => choose(ring)));
  const go = button(`Compare ${state.beside.length}`, { id: "compare", class: "main" }, compare);
  go.disabled = state.beside.length < 2;
  return [...chips, go];
}

follow(() => {
  const held = tray.contains(document.activeElement);
  circledPart.replaceChildren(...circledWords());
  besidePart.replaceChildren(...besideWords());
  say(state.beside.length === 1 ? "one more to compare" : "");
  tray.hidden = !state.circled.size && !state.beside.length;
  if (held && !tray.contains(document.activeElement)) (tray.querySelector("button") || list).focus();
});
