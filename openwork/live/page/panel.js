// The spec file as it is written: its tables, lines, order and comments, each line a control.
import { button, byId, make } from "./nodes.js";
import { file, got, known, now, put, step, watch } from "./state.js";
import { line } from "./line.js";
import { rove } from "./rove.js";

let lines = [];
let layout = "";
const GENERIC = { kind: "value", help: "", default: null };

const remarkOf = (path) => file.remarks.find((one) => one.path.join(".") === path.join("."));
const remarks = (path) => (remarkOf(path)?.above ?? []).map((words) => make("p", { class: "remark" }, words));

function lineOf(path, control) {
  const one = line(path, control, remarkOf(path));
  lines.push(one);
  return one.node;
}

/* Return the controls of a table: those of the file in its order, then what it leaves out. */
function parted(path, fields) {
  const given = Object.keys(got(path) ?? {});
  const order = file.remarks.map((one) => one.path).filter((one) => one.length === path.length + 1
    && one.slice(0, -1).join(".") === path.join(".")).map((one) => one.at(-1));
  const names = [...new Set([...order, ...given])].filter((name) => name !== undefined);
  const byKey = new Map(fields.map((one) => [one.key, one]));
  const first = names.map((key) => byKey.get(key) ?? { ...GENERIC, key });
  return [first, fields.filter((one) => !names.includes(one.key))];
}

function entry(path, control) {
  const here = [...path, control.key];
  if (control.kind === "table" && typeof got(here) !== "string") return nested(here, control);
  if (control.kind === "tables") return several(here, control);
  if (control.kind === "named") return named(here, control);
  return lineOf(here, control);
}

const adding = (path, words, value) => button(words, { class: "add", "aria-label": `${words} ${path.join(".")}` },
  () => step(`add ${path.join(".")}`, () => put(path, value), true));

function headed(path, control, ...rest) {
  return make("div", { class: "line", "data-key": path.join(".") }, ...remarks(path),
    make("div", { class: "told" }, make("span", { class: "key" }, path.at(-1)), ...rest,
      control.help ? make("p", { class: "help" }, `# ${control.help}`) : ""));
}

function nested(path, control) {
  if (got(path) === undefined) return headed(path, control, adding(path, "Add", {}));
  const [first, rest] = parted(path, control.fields);
  return make("div", { class: "inner", role: "group", "aria-label": path.join(".") },
    headed(path, control, adding(path, "Take out", undefined)),
    ...[...first, ...rest].map((one) => entry(path, one)));
}

function several(path, control) {
  const rows = got(path) ?? [];
  return make("div", { class: "inner", role: "group", "aria-label": path.join(".") },
    headed(path, control, adding([...path], "Add one", [...rows, {}])),
    ...rows.map((row, at) => nested([...path, at], { help: "", ...control })));
}

/* Entries under names of the maker's own; a new one is asked for its name. */
function named(path, control) {
  const names = Object.keys(got(path) ?? {});
  const name = make("input", { type: "text", class: "value", value: `${path.at(-1)}${names.length + 1}`,
    "aria-label": `name of a new ${path.join(".")}` });
  const begun = control.item.kind === "table" ? {} : control.item.low || 1;
  const add = button("Add", { class: "add", "aria-label": `Add ${path.join(".")}` },
    () => step(`add ${path.join(".")}`, () => put([...path, name.value.trim()], begun), true));
  return make("div", { class: "inner", role: "group", "aria-label": path.join(".") },
    headed(path, control, name, add),
    ...names.map((key) => entry(path, { ...control.item, key })));
}

function folded(path, rest, words) {
  if (!rest.length) return [];
  const node = make("details", { "data-fold": path.join(".") }, make("summary", {}, words));
  node.addEventListener("toggle", () => {
    if (node.open && node.children.length === 1) filled(node, path, rest);
  });
  return [node];
}

/* The lines of a fold are made when it is opened: most never are. */
function filled(node, path, rest) {
  const before = lines.length;
  node.append(...rest.map((one) => entry(path, one)));
  lines.slice(before).forEach((one) => one.sync());
  rove(node.closest(".table"));
}

function fieldsOf(control) {
  if (control.key !== "pattern") return control.fields ?? [];
  const [name, ...others] = control.fields;
  return [name, ...(control.patterns[now.data.pattern.name] ?? []), ...others];
}

function table(control) {
  const path = [control.key];
  if (control.kind !== "table") return [grouped(control)];
  const [first, rest] = parted(path, fieldsOf(control));
  const own = control.key === "pattern" ? rest.filter((one) => one.key !== "seed") : [];
  const left = rest.filter((one) => !own.includes(one));
  return [framed(path, ...remarks(path), ...[...first, ...own].map((one) => entry(path, one)),
    ...folded(path, left, `${left.length} more at their defaults`))];
}

function framed(path, ...nodes) {
  const beside = remarkOf(path)?.beside;
  const words = beside ? make("span", { class: "help" }, ` # ${beside}`) : "";
  const legend = make("legend", {}, `[${path[0]}]`, words);
  return make("fieldset", { class: "table", id: `t-${path[0]}` }, legend, ...nodes);
}

/* A table whose keys are not known beforehand is one all the same. */
function grouped(control) {
  const node = entry([], control);
  return node.classList.contains("line") ? node : framed([control.key], node);
}

function index(names) {
  const links = names.map((key) => make("a", { href: `#t-${key}` }, key));
  return make("nav", { class: "index", "aria-label": "Tables of the spec" }, ...links);
}

function built() {
  lines = [];
  const order = file.remarks.filter((one) => one.path.length === 1).map((one) => one.path[0]);
  const place = ({ key }) => (order.includes(key) ? order.indexOf(key) : order.length);
  const isIn = ({ key }) => key === "title" || key === "pattern" || order.includes(key) || got([key]);
  const shown = known.tables.filter(isIn).sort((a, b) => place(a) - place(b));
  const absent = known.tables.filter((one) => !isIn(one) && one.kind !== "value");
  const form = byId("form");
  const opens = [...form.querySelectorAll("details[open]")].map((one) => one.dataset.fold);
  const [focus, scroll] = [document.activeElement?.id, byId("panel").scrollTop];
  const tables = [...shown, ...absent].filter((one) => one.fields || one.item);
  const nav = index(tables.map((one) => one.key));
  form.replaceChildren(nav, ...[...shown, ...absent].flatMap(table), ...remarks([]));
  form.querySelectorAll("details").forEach((one) => { one.open = opens.includes(one.dataset.fold); });
  form.querySelectorAll(".table").forEach(rove);
  synced();
  if (focus) document.getElementById(focus)?.focus();
  byId("panel").scrollTop = scroll;
}

/* Tell what the lines depend on: the pattern, and which tables are there. */
const shape = () => JSON.stringify([now.data.pattern.name, file.stamp,
  Object.keys(now.data).flatMap((key) => keysOf([key]))]);

function keysOf(path) {
  const value = got(path);
  if (value === null || typeof value !== "object") return [path.join(".")];
  return [path.join("."), ...Object.keys(value).flatMap((key) => keysOf([...path, key]))];
}

watch((anew) => {
  if (!anew || shape() === layout) { synced(); return; }
  layout = shape();
  built();
});

export const synced = () => lines.forEach((one) => one.sync());
