// A line of the spec: key = value # meaning, with a slider under a number; the old value struck out.
import { button, make } from "./nodes.js";
import { got, put, same, step, told } from "./state.js";
import { choice, isChosen, number, value, words, yes } from "./inputs.js";
import { toml } from "./toml.js";

const KINDS = { number, choice, words, yes, value };

export function line(path, control, remark) {
  const one = { path, control, id: path.join("."), name: path.at(-1) };
  const made = (KINDS[control.kind] ?? value)(one);
  const was = make("s", { "aria-hidden": "true" });
  const back = button(was,
    { class: "back", hidden: true, "aria-label": `${one.name}: back to what the file says` },
    () => step(`back ${one.id}`, () => put(path, structuredClone(told(path))), true));
  const help = make("p", { class: "help", id: `h-${one.id}` }, `# ${remark?.beside || control.help}`);
  const labelled = control.kind === "choice" && control.values.length <= 5;
  const key = labelled ? make("span", { class: "key" }, one.name)
    : make("label", { class: "key", for: `c-${one.id}` }, one.name);
  const above = (remark?.above ?? []).map((said) => make("p", { class: "remark" }, said));
  const sign = make("span", { "aria-hidden": "true" }, "=");
  const node = make("div", { class: "line", "data-key": one.id }, ...above,
    make("div", { class: "told" }, key, sign, ...made.nodes, back, help), ...(made.below ?? []));
  const sync = () => {
    made.sync();
    const [is, before] = [got(path), told(path)];
    const other = !same(is, before);
    node.classList.toggle("changed", other);
    node.classList.toggle("chosen", isChosen(one));
    back.hidden = !other;
    was.textContent = before === undefined ? "left out" : toml(before);
  };
  return { node, sync };
}
