// Undo, redo and save by keyboard; presses of a pointer, which make a drag one step.
import { byId } from "./nodes.js";
import { pressing, redo, undo } from "./state.js";

const TYPED = "input[type=text]";

function pressed(event) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const act = { s: () => byId("save").click(), y: redo, z: event.shiftKey ? redo : undo }[key];
  if (!act || (key !== "s" && event.target.matches(TYPED))) return;
  event.preventDefault();
  act();
}

export function keys() {
  byId("undo").addEventListener("click", undo);
  byId("redo").addEventListener("click", redo);
  addEventListener("keydown", pressed);
  addEventListener("pointerdown", () => pressing(true), true);
  for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => pressing(false), true);
}
