// A drawing of one's own, dropped on the page or chosen by the button, becomes the pattern.
import { byId } from "./nodes.js";
import { posted } from "./wire.js";
import { now, step } from "./state.js";
import { clear, fault, say } from "./faults.js";

const LARGEST = 1 << 20; // bytes; the server takes no more

async function read(file) {
  clear();
  if (file.size > LARGEST) { fault([`${file.name}: over ${LARGEST} bytes; simplify the outlines`]); return; }
  say(`${file.name} is being read.`);
  const found = await posted("drawing", file);
  say("");
  if (found.faults) { fault(found.faults); return; }
  step(`drawing ${file.name}`, () => {
    const own = now.data.pattern.name === "motif" ? now.data.pattern : { name: "motif" };
    now.data.pattern = { ...own, outlines: found.outlines };
    now.held = {};
  }, true);
  say(`${file.name} is the pattern now.`);
}

const hasFile = ({ dataTransfer }) => dataTransfer.types.includes("Files");
const over = (is) => { if (is) document.body.dataset.drop = ""; else delete document.body.dataset.drop; };

export function drop() {
  const chosen = byId("drawing");
  byId("own").addEventListener("click", () => chosen.click());
  chosen.addEventListener("change", () => {
    if (chosen.files.length) read(chosen.files[0]);
    chosen.value = ""; // the same file, drawn anew, may be chosen again
  });
  addEventListener("dragover", (event) => {
    if (!hasFile(event)) return;
    event.preventDefault();
    over(true);
  });
  addEventListener("dragleave", (event) => { if (!event.relatedTarget) over(false); });
  addEventListener("drop", (event) => {
    if (!hasFile(event)) return;
    event.preventDefault();
    over(false);
    read(event.dataTransfer.files[0]);
  });
}
