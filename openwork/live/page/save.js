// The spec into its file, never over what was changed elsewhere; the files for the shop.
import { button, byId, make } from "./nodes.js";
import { asked } from "./wire.js";
import { file, known, now, opened, wish } from "./state.js";
import { clear, fault, say } from "./faults.js";
import { spec } from "./toml.js";

export async function save() {
  const found = await asked("save", { ...wish(), stamp: file.stamp });
  if (found.conflict) conflict(found);
  else if (found.faults) fault(found.faults, found.offers, [["Save beside it", beside]]);
  else {
    await reread(true);
    say(`saved ${found.written[0]}`);
  }
}

function conflict({ conflict: name, gone }) {
  const words = gone ? `${name} is gone from its folder.` : `${name} was changed outside this page.`;
  const again = ["Read it again", () => reread(false)];
  const anew = ["Write it again", () => { file.stamp = ""; save(); }];
  fault([`${words} Nothing was written.`], [], [gone ? anew : again, ["Save mine beside it", beside]]);
}

async function beside() {
  const found = await asked("beside", wish());
  if (found.faults) fault(found.faults);
  else {
    clear();
    say(`saved beside it as ${found.written[0]}`);
  }
}

/* Take the file as it is on disk; what was on the page is one step back. */
export async function reread(keep) {
  const found = await asked("open");
  if (found.faults) { fault(found.faults, [], [["Read it again", () => reread(keep)]]); return; }
  clear();
  opened(found, keep);
}

export function lost() {
  const act = ["Take the spec with you", () => {
    const address = URL.createObjectURL(new Blob([spec(now.data)], { type: "application/toml" }));
    make("a", { href: address, download: file.name }).click();
    setTimeout(() => URL.revokeObjectURL(address), 10000);
  }];
  const words = "The server has ended. What is on this page is still here; openwork hone starts it again.";
  fault([words], [], [act]);
}

export function shop() {
  const boxes = Object.entries(known.formats).map(([value, missing]) =>
    make("input", { type: "checkbox", class: "tick", value, checked: value === "svg", disabled: missing }));
  const act = button("Write the files", {}, async () => {
    act.disabled = true;
    say("The files are being written and read back.");
    const formats = boxes.filter((one) => one.checked).map((one) => one.value);
    const found = await asked("export", { ...wish(), formats });
    act.disabled = false;
    say("");
    if (found.faults) fault(found.faults);
    else say(`wrote ${found.written.join(", ")}`);
  });
  byId("formats").append(...boxes.map((box) => make("label", { class: "pair",
    title: box.disabled ? "its packages are not installed" : "" }, box, box.value)), act);
}
