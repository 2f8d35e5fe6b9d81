// Two to four rings side by side, the best of each row marked; any two of them laid over.
import { button, byId, make } from "./nodes.js";
import { ASIDE, byMark, differs, figureOf, MASS, number, RATIO,
  RIB, SHARE, sheet, shown, STIFF } from "./read.js";
import { overlaid, small } from "./picture.js";
import { state } from "./state.js";
import { closed, opened } from "./enlarge.js";

const besideDialog = byId("beside");

/* Return the columns that are best in a row: none where all are alike or nothing is better. */
function best(figure, values) {
  const known = values.filter(Number.isFinite);
  if (!figure.better || new Set(known.map((value) => shown(figure.key, value))).size < 2) return [];
  const first = figure.better > 0 ? Math.max(...known) : Math.min(...known);
  const words = shown(figure.key, first);
  return values.flatMap((value, at) => (shown(figure.key, value) === words ? [at] : []));
}

function comparedRow(figure, chosen) {
  const values = chosen.map((ring) => number(ring, figure.key));
  if (!values.some(Number.isFinite)) return null;
  const winners = best(figure, values);
  const words = figure.unit ? `${figure.label}, ${figure.unit}` : figure.label;
  return make("tr", { role: "row" },
    make("th", { scope: "row", role: "rowheader", title: figure.meaning }, words),
    ...values.map((value, at) => make("td", { role: "cell", class: winners.includes(at) ? "best" : "" },
      shown(figure.key, value),
      winners.includes(at) ? make("span", { class: "unseen" }, " best") : null)));
}

/* Return the rows that tell the rings apart, then those in which they are alike. */
function comparedRows(chosen) {
  const words = (figure) => new Set(chosen.map((ring) => shown(figure.key, number(ring, figure.key))));
  const first = [MASS, SHARE, RIB, ASIDE, RATIO, STIFF].map((key) => figureOf.get(key)).filter(Boolean);
  const order = [...new Set([...first, ...sheet.figures])];
  const apart = order.filter((figure) => words(figure).size > 1);
  const alike = order.filter((figure) => words(figure).size === 1);
  const row = (figure) => comparedRow(figure, chosen);
  const title = make("tr", { role: "row", class: "title" },
    make("th", { role: "rowheader", scope: "row", colspan: chosen.length + 1 }, "Alike in all"));
  const same = alike.map(row).filter(Boolean);
  return [...apart.map(row), ...(same.length ? [title, ...same] : [])];
}

function comparedHead(chosen) {
  return make("tr", { role: "row" }, make("td", { role: "cell", class: "corner" }),
    ...chosen.map((ring) => make("th", { scope: "col", role: "columnheader" }, small(ring),
      make("b", {}, ring.mark), make("span", {}, ring.pattern),
      make("small", {}, differs(ring)))));
}

function overlay(chosen) {
  const picture = make("div", { class: "view" });
  const select = (words, at) => {
    const node = make("select", { "aria-label": words },
      ...chosen.map((ring) => make("option", { value: ring.mark }, `${ring.mark} ${ring.pattern}`)));
    node.selectedIndex = at;
    node.addEventListener("change", show);
    return node;
  };
  const pair = [select("First ring", 0), select("Second ring", 1)];
  function show() {
    const [first, second] = pair.map((one) => byMark.get(one.value));
    picture.replaceChildren(overlaid(first, second));
    picture.setAttribute("aria-label", `${first.mark} and ${second.mark} laid over each other`);
  }
  picture.setAttribute("role", "img");
  show();
  const swatch = (name) => make("span", { class: `swatch ${name}`, "aria-hidden": "true" });
  const keys = make("div", { class: "legend" },
    make("label", {}, swatch("first"), pair[0]), make("label", {}, swatch("second"), pair[1]),
    make("span", {}, swatch("both"), "metal of both"));
  return make("div", { class: "overlay", hidden: true }, picture, keys);
}

export function compare() {
  const chosen = [...state.beside];
  if (chosen.length < 2) return;
  const table = make("table", { class: `compared of-${chosen.length}`, role: "table",
    "aria-labelledby": "beside-title" },
  make("thead", { role: "rowgroup" }, comparedHead(chosen)),
  make("tbody", { role: "rowgroup" },
    ...comparedRows(chosen)));
  const over = overlay(chosen);
  const off = { class: "word", id: "overlay", "aria-pressed": "false" };
  const swap = button("Lay two over", off, () => {
    over.hidden = !over.hidden;
    swap.setAttribute("aria-pressed", !over.hidden);
  });
  const marks = chosen.map((ring) => ring.mark).join(", ");
  besideDialog.replaceChildren(
    make("header", { class: "top" },
      make("h2", { id: "beside-title" }, make("b", {}, marks), " side by side"),
      swap, button("Close", { class: "close" }, () => besideDialog.close())),
    make("div", { class: "scroll", tabindex: 0, role: "group", "aria-label": "Comparison" },
      over, table, make("p", { class: "soft" },
        `A dot marks the best of a row, where one is better. ${sheet.caution}`)));
  opened(besideDialog);
}

closed(besideDialog, () => null);
