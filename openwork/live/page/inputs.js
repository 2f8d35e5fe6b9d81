// The inputs of a line, one kind each; every one is { nodes, sync }, made from a control.
import { button, make } from "./nodes.js";
import { got, known, now, put, step } from "./state.js";
import { asked } from "./wire.js";
import { fault } from "./faults.js";
import { scope, tidy } from "./scope.js";
import { shown } from "./stage.js";
import { toml } from "./toml.js";

const RIB = "web.rib";

/* Return the value of a line as it counts: given, turned or chosen, or by default. */
export function counts({ path, control }) {
  if (path.join(".") === RIB && now.tied && now.rib) return now.rib;
  const chosen = path[0] === "pattern" && path.length === 2 ? now.held[path[1]] : undefined;
  return got(path) ?? chosen ?? control.default ?? undefined;
}

export const isChosen = ({ path }) => (path.join(".") === RIB && now.tied)
  || (got(path) === undefined && path[0] === "pattern" && now.held[path[1]] !== undefined);

const change = (line, value, anew) => step(line.id, () => {
  put(line.path, value);
  if (value === undefined && line.path[0] === "pattern") delete now.held[line.path[1]];
}, anew);

const unitOf = ({ path }) => {
  const counted = known.per_bolt[now.data.pattern.name] ?? [];
  return path[0] === "pattern" && counted.includes(path[1]) ? shown.ring?.fold ?? 1 : 1;
};

/* Read what was typed: a number, a word, or whatever TOML has. */
async function typed(line, said) {
  if (said === "") return change(line, undefined, true);
  const figure = Number(said.replace(",", "."));
  if (line.control.kind === "number" && Number.isFinite(figure)) return change(line, figure);
  const isPlain = line.control.kind === "words" ? !/^[[{"']/.test(said) : line.control.words?.includes(said);
  if (isPlain) return change(line, said);
  const found = await asked("parse", { text: said });
  return found.faults ? fault([`${line.id} = ${found.faults[0]}`]) : change(line, found.value, true);
}

function field(line, kind) {
  const node = make("input", { type: "text", id: `c-${line.id}`, class: "value", spellcheck: "false",
    "aria-describedby": `h-${line.id}`, ...kind });
  node.addEventListener("input", () => { node.dataset.typing = ""; });
  node.addEventListener("change", () => {
    delete node.dataset.typing;
    typed(line, node.value.trim());
  });
  node.addEventListener("blur", () => { delete node.dataset.typing; });
  return node;
}

export function number(line) {
  const exact = field(line, { inputmode: "decimal", placeholder: line.control.words[0] ?? "none" });
  const range = make("input", { type: "range", id: `r-${line.id}`, "aria-label": line.name,
    "aria-describedby": `h-${line.id}` });
  let within = null;
  const fit = (at, anew) => {
    const unit = unitOf(line);
    if (!anew && within?.unit === unit && at >= within.from && at <= within.to) return;
    within = { ...scope(line.control, at, unit), unit };
    Object.assign(range, { step: within.step, min: within.from, max: within.to });
  };
  const sync = () => {
    const counted = counts(line);
    const isNumber = typeof counted === "number";
    const plain = isNumber ? counted : line.control.low ?? 0;
    fit(plain);
    range.value = plain;
    if (!isTyped(exact)) exact.value = isNumber ? +counted.toPrecision(8) : text(counted);
    range.disabled = (line.id === RIB && now.tied) || typeof counted === "object";
    exact.readOnly = line.id === RIB && now.tied;
    range.setAttribute("aria-valuetext", text(counted) || "none");
  };
  range.addEventListener("input", () => {
    exact.value = range.value;
    change(line, tidy(range.value, within.step));
  });
  range.addEventListener("change", () => { fit(Number(range.value), true); sync(); });
  return { nodes: [exact], below: [range], sync };
}

export function choice(line) {
  if (line.control.values.length > 5) return select(line);
  const group = make("span", { class: "ways", role: "radiogroup", "aria-label": line.name });
  for (const one of line.control.values) {
    const input = make("input", { type: "radio", name: line.id, value: one });
    input.addEventListener("change", () => change(line, one));
    group.append(make("label", {}, input, one));
  }
  const sync = () => {
    for (const one of group.querySelectorAll("input")) one.checked = one.value === counts(line);
  };
  const none = button("none", { class: "back", "aria-label": `${line.name} none` },
    () => change(line, undefined));
  return { nodes: line.control.optional ? [group, none] : [group], sync };
}

function select(line) {
  const node = make("select", { id: `c-${line.id}`, class: "value", "aria-describedby": `h-${line.id}` },
    ...line.control.values.map((one) => make("option", {}, one)));
  node.addEventListener("change", () => change(line, node.value, true));
  return { nodes: [node], sync: () => { node.value = counts(line); } };
}

export function words(line) {
  const list = `l-${line.id}`;
  const ways = (line.control.values ?? []).map((one) => make("option", { value: one }));
  const node = field(line, { class: "value wide", list: ways.length ? list : false });
  const sync = () => { if (!isTyped(node)) node.value = text(counts(line)); };
  return { nodes: ways.length ? [node, make("datalist", { id: list }, ...ways)] : [node], sync };
}

export function yes(line) {
  const node = make("input",
    { type: "checkbox", id: `c-${line.id}`, class: "tick", "aria-describedby": `h-${line.id}` });
  node.addEventListener("change", () => change(line, node.checked));
  return { nodes: [node], sync: () => { node.checked = Boolean(counts(line)); } };
}

export const value = (line) => words({ ...line, control: { ...line.control, values: [] } });

/* What is being typed is not written over. */
const isTyped = (node) => node.dataset.typing !== undefined;
const text = (one) => (typeof one === "string" ? one : toml(one));
