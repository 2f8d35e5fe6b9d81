// How an element is made and digits are set. Words from a spec only ever become text nodes.
export const byId = (id) => document.getElementById(id);

function filled(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== false && value !== null) node.setAttribute(name, value === true ? "" : value);
  }
  node.append(...children.filter((child) => child !== null));
  return node;
}

export const make = (tag, attributes = {}, ...children) =>
  filled(document.createElement(tag), attributes, children);

export const draw = (tag, attributes = {}, ...children) =>
  filled(document.createElementNS("http://www.w3.org/2000/svg", tag), attributes, children);

export const group = (title, ...children) =>
  make("fieldset", {}, make("legend", {}, title), ...children);

export function button(words, attributes, pressed) {
  const node = make("button", { type: "button", ...attributes }, ...[words].flat());
  node.addEventListener("click", pressed);
  return node;
}

/* Return digits as they are set: five and more before the point in threes, as in ISO 80000-1. */
export function typeset(digits) {
  const [whole, ...rest] = digits.replace("-", "\u2212").split(".");
  const spaced = /\d{5}/.test(whole) ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole;
  return [spaced, ...rest].join(".");
}
