// One stop for the Tab key in a group; arrows up and down lead from one control to the next.
const STOPS = "input:not(:disabled), select, button:not(:disabled), summary";

const stopsOf = (group) => [...group.querySelectorAll(STOPS)]
  .filter((one) => one.checkVisibility() && (one.type !== "radio" || isStop(one)));

/* Of the ways of a choice the one that is chosen is the stop, or else the first. */
function isStop(radio) {
  const ways = [...radio.closest(".ways").querySelectorAll("input")];
  return radio === (ways.find((one) => one.checked) ?? ways[0]);
}

export function rove(group) {
  const stops = stopsOf(group);
  const at = stops.find((one) => one === document.activeElement) ?? stops[0];
  group.querySelectorAll(STOPS).forEach((one) => { one.tabIndex = one === at ? 0 : -1; });
  if (group.dataset.roves) return;
  group.dataset.roves = "";
  group.addEventListener("focusin", ({ target }) => {
    group.querySelectorAll(STOPS).forEach((one) => { one.tabIndex = one === target ? 0 : -1; });
  });
  group.addEventListener("keydown", (event) => moved(group, event));
}

function moved(group, event) {
  const across = group.dataset.row === undefined ? {} : { ArrowRight: 1, ArrowLeft: -1 };
  const ways = { ArrowDown: 1, ArrowUp: -1, ...across };
  const way = event.altKey || event.ctrlKey || event.metaKey ? 0 : ways[event.key] ?? 0;
  if (!way) return;
  const stops = stopsOf(group);
  const next = stops[stops.indexOf(document.activeElement) + way];
  event.preventDefault();
  next?.focus();
}
