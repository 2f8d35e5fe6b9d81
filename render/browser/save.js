// Files to take away: the spec of a ring, its outline, the list of circled marks.
import { make } from "./nodes.js";
import { MASS, named, number, rings, sheet, withUnit } from "./read.js";
import { blankContours, engraved, openings, pockets, written } from "./outline.js";
import { state } from "./state.js";

const SVG = "http://www.w3.org/2000/svg";

function save(name, type, text) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  make("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
}

export const saveSpec = (ring) => save(`${ring.mark}.toml`, "application/toml", ring.spec);
export const saveOutline = (ring) => save(`${ring.mark}.svg`, "image/svg+xml", outlineOf(ring));

/* Return the outline in mm, a unit a mm, to the micrometre, with the recipe it was made from. */
function outlineOf(ring) {
  const middle = Math.ceil(sheet.blanks[ring.blank].tip + 1);
  const size = 2 * middle;
  const page = document.implementation.createDocument(SVG, "svg");
  const add = (parent, name, attributes, words) => {
    const node = page.createElementNS(SVG, name);
    Object.entries(attributes).forEach(([key, value]) => node.setAttribute(key, value));
    if (words) node.textContent = words;
    parent.append("\n", node);
    return node;
  };
  const root = page.documentElement;
  const pen = { fill: "none", stroke: "#000", "stroke-width": 0.1, "fill-rule": "evenodd" };
  const box = { width: `${size}mm`, height: `${size}mm`, viewBox: `0 0 ${size} ${size}` };
  Object.entries({ ...box, ...pen }).forEach(([key, value]) => root.setAttribute(key, value));
  add(root, "title", {}, `${sheet.title}, ${ring.mark}`);
  add(root, "desc", {}, `Nominal contours in mm, no cutter or kerf compensation. ${sheet.caution}`);
  const recipe = page.createElementNS(sheet.recipe, "recipe");
  recipe.setAttribute("version", sheet.version);
  recipe.textContent = ring.spec;
  add(root, "metadata", {}).append(recipe);
  const { outline, edge, bolts } = blankContours(ring);
  const sunk = ring.sunk ? { [ring.sunk.group]: pockets(ring) } : {};
  const all = { teeth: outline, edge, bolts, openings: openings(ring), ...sunk };
  for (const [id, contours] of Object.entries(all)) {
    const part = add(root, "g", { id });
    contours.forEach((one) => add(part, "path", { d: written(one, 3, middle) }));
  }
  for (const id of ["engrave", "engrave-back"]) {
    const lines = engraved(ring, id);
    const part = lines.length ? add(root, "g", { id }) : null;
    lines.forEach((one) => add(part, "path", { d: written(one, 3, middle, "") }));
  }
  return `<?xml version="1.0" encoding="UTF-8"?>\n${new XMLSerializer().serializeToString(page)}\n`;
}

/* Return the circled marks as a list to read, and as the options that pick them again. */
function listed() {
  const marks = rings.filter((ring) => state.circled.has(ring.mark));
  const lines = marks.map((ring) =>
    `${ring.mark.padEnd(5)} ${withUnit(MASS, number(ring, MASS))}  ${named(ring)}`);
  const picks = marks.map((ring) => `--pick ${ring.mark}`).join(" ");
  return [`${sheet.title}: circled rings`, sheet.line, "", ...lines, "", picks, ""].join("\n");
}

export const saveMarks = () => save("marks.txt", "text/plain", listed());
