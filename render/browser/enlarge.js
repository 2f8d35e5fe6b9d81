// One ring at large, with all its figures.
import { button, byId, make } from "./nodes.js";
import { MASS, named, number, RIB, SHARE, sheet, STIFF, withUnit,  } from "./read.js";
import { large } from "./picture.js";
import { choose, circle, MOST, state, visible } from "./state.js";
import { cells, list } from "./grid.js";
import { saveOutline, saveSpec } from "./save.js";

const largeDialog = byId("large");
let enlarged = null;
let opener = null;

export function opened(dialog) {
  if (!dialog.open) {
    opener = document.activeElement;
    dialog.showModal();
  }
}

/* Give the focus back to where it came from, or to the ring that was looked at last. */
export function closed(dialog, ring) {
  dialog.addEventListener("close", () => {
    const cell_ = ring() && cells.get(ring());
    if (cell_ && cell_.isConnected && list.contains(opener)) cell_.querySelector(".picture").focus();
    else if (opener && opener.isConnected) opener.focus();
    dialog.replaceChildren();
  });
  dialog.addEventListener("click", (event) => { if (event.target === dialog) dialog.close(); });
}

function toggles(ring) {
  const mark = button("", { class: "word" }, () => circle(ring));
  const beside = button("", { class: "word" }, () => choose(ring));
  const show = () => {
    const [circled, chosen] = [state.circled.has(ring.mark), state.beside.includes(ring)];
    mark.textContent = circled ? "Circled" : "Circle";
    mark.setAttribute("aria-pressed", circled);
    beside.textContent = chosen ? "Beside others" : "Lay beside others";
    beside.setAttribute("aria-pressed", chosen);
    beside.disabled = !chosen && state.beside.length === MOST;
  };
  show();
  mark.addEventListener("click", show);
  beside.addEventListener("click", show);
  return [mark, beside];
}

function figureRow(ring, figure) {
  const value = withUnit(figure.key, number(ring, figure.key));
  return make("tr", {}, make("th", { scope: "row" }, figure.label,
    make("small", {}, figure.meaning)), make("td", {}, value));
}

function figureTable(ring, title, chosen) {
  const known = chosen.filter(({ key }) => Number.isFinite(number(ring, key)));
  if (!known.length) return null;
  return make("table", { class: "figures" }, make("caption", {}, title),
    make("tbody", {}, ...known.map((figure) => figureRow(ring, figure))));
}

function figureTables(ring) {
  const strong = sheet.figures.filter(({ key }) => key.startsWith("strength."));
  const others = sheet.figures.filter((figure) => !strong.includes(figure));
  const notes = [sheet.caution, ...(ring.notes || []).map((at) => sheet.notes[at])];
  return [figureTable(ring, "Figures", others), figureTable(ring, "Strength", strong),
    make("p", { class: "soft" }, `Openings by area: ${ring.sizes}.`),
    ...notes.map((words) => make("p", { class: "soft" }, words))];
}

function leading(ring) {
  return [[MASS, "mass"], [SHARE, "solid share"], [RIB, "least rib"], [STIFF, "stiffness"]]
    .filter(([key]) => Number.isFinite(number(ring, key)))
    .map(([key, words]) => make("div", {}, make("dt", {}, words),
      make("dd", {}, withUnit(key, number(ring, key)))));
}

export function enlarge(ring) {
  enlarged = ring;
  const order = visible().filter((one) => one.values);
  const at = order.indexOf(ring);
  const step = (words, by) => {
    const node = button(words, { class: "step word", "aria-label": by < 0 ? "Previous ring" : "Next ring" },
      () => go(by));
    node.disabled = !order[at + by] || at < 0;
    return node;
  };
  const head = make("header", { class: "top" },
    make("h2", { id: "large-title" }, make("b", {}, ring.mark), ` ${named(ring)}`),
    step("←", -1), step("→", 1),
    button("Close", { class: "close" }, () => largeDialog.close()));
  const files = make("div", { class: "files" }, ...toggles(ring),
    button("Save spec, TOML", { class: "word" }, () => saveSpec(ring)),
    button("Save outline, SVG", { class: "word" }, () => saveOutline(ring)));
  largeDialog.replaceChildren(head, make("div", { class: "split", tabindex: 0, role: "group",
    "aria-label": "Picture and figures" },
  make("div", { class: "view" }, large(ring), files),
  make("div", { class: "sayings" }, make("dl", { class: "leading" }, ...leading(ring)),
    ...figureTables(ring).filter(Boolean))));
  opened(largeDialog);
}

function go(by) {
  const order = visible().filter((one) => one.values);
  const next = order[order.indexOf(enlarged) + by];
  if (!next) return;
  const label = document.activeElement && document.activeElement.getAttribute("aria-label");
  enlarge(next);
  const same = [...largeDialog.querySelectorAll(".step:not(:disabled)")];
  (same.find((one) => one.getAttribute("aria-label") === label) ||
    largeDialog.querySelector(".close")).focus();
}

largeDialog.addEventListener("keydown", (event) => {
  const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  if (!by || event.ctrlKey || event.altKey || event.metaKey) return;
  event.preventDefault();
  go(by);
});
closed(largeDialog, () => enlarged);
