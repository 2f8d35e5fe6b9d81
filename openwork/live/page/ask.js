// Asks for the ring as it is wished: at once, or when the one asked for before has been shown.
import { hear, next, tell } from "./wire.js";
import { now, wish } from "./state.js";

const PATIENCE = 2000; // ms; then it is asked for all the same
const SLOW = 150; // ms after which the page shows that it is at work
const takers = [];
let asking = 0;
let wished = 0;
let latest = 0;
let busy = 0;

export const taken = (act) => takers.push(act);
export const isLatest = (n) => n === latest;

export function ask() {
  wished = performance.now();
  if (!asking || wished - asking > PATIENCE) send();
}

export function reset() {
  asking = 0;
  ask();
}

function send() {
  asking = performance.now();
  wished = 0;
  clearTimeout(busy);
  busy = setTimeout(() => { document.body.dataset.busy = ""; }, SLOW);
  tell({ draw: next(), ...wish() });
}

/* The picture is on its way to the screen: what was turned meanwhile comes next. */
function free() {
  asking = 0;
  if (wished) send();
}

hear("ring", (said) => {
  if (said.ring < latest) return;
  latest = said.ring;
  clearTimeout(busy);
  delete document.body.dataset.busy;
  if (said.chosen) {
    now.held = said.chosen;
    now.rib = now.tied ? said.turned : null;
  }
  takers.forEach((act) => act(said));
  requestAnimationFrame(free);
});
