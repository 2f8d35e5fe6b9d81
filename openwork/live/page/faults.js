// What is wrong, in words, and a button for each thing that would work.
import { button, byId, make } from "./nodes.js";
import { put, step } from "./state.js";
import { toml } from "./toml.js";

export const say = (words) => { byId("said").textContent = words; };

export const pathOf = (key) => key.split(".").map((part) => (/^\d+$/.test(part) ? Number(part) : part));

/* Put several keys at once, as one step. */
export function apply(changes, name) {
  step(`apply ${name}`, () => changes.forEach(({ key, value }) =>
    put(pathOf(key), value === null ? undefined : value)), true);
}

export function fault(lines, offers = [], acts = []) {
  const buttons = offers.map((offer) => button(`${offer.key} = ${toml(offer.value)}`,
    { class: "offer" }, () => apply([offer], offer.key)));
  const others = acts.map(([words, act]) => button(words, { class: "offer" }, act));
  byId("faults").replaceChildren(...lines.map((line) => make("p", {}, line)),
    ...(buttons.length || others.length ? [make("div", { class: "offers" }, ...buttons, ...others)] : []));
  document.querySelectorAll(".line").forEach((node) =>
    node.classList.toggle("bad", lines.some((line) => about(line, node.dataset.key))));
}

const about = (line, key) => new RegExp(`(^|[^\\w.])${key.replaceAll(".", "\\.")}(?![\\w.])`).test(line);

export const clear = () => fault([]);
