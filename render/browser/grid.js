// The grid of the rings, and the buttons of each of its cells.
import { byId } from "./nodes.js";

export const list = byId("rings");
export const cells = new Map();
export const controls = (node) => [...node.querySelectorAll("button")];
