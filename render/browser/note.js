// A word to the reader at the foot of the page.
import { make } from "./nodes.js";

export const note = make("p", { role: "status", class: "note" });

export function say(words) {
  note.textContent = words;
}
