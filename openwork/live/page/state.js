// What is wished for, and every step that led there.
const ONE = 800; // ms within which presses of a key are one step

/* `data` has the keys of the file; `held` is what the pattern chose, kept while something else is
   turned; while `tied`, the rib is turned to the mass, and is `rib`. */
export const now = { data: {}, held: {}, rib: null, tied: false };
export const file = { told: {}, remarks: [], stamp: "", name: "", folder: "" };
export const known = { tables: [], patterns: {}, per_bolt: {}, formats: {}, caution: "" };

const past = [];
const future = [];
const watchers = [];
let open = null; // the key of the step that is being made
let last = 0;
let pressed = false;

/* Acts are called with whether the lines of the panel may be others than before. */
export const watch = (act) => watchers.push(act);
export const changed = (anew) => watchers.forEach((act) => act(anew));

export const got = (path, from = now.data) =>
  path.reduce((one, part) => (one === undefined || one === null ? undefined : one[part]), from);

export function put(path, value) {
  const parts = path.slice(0, -1);
  const name = path.at(-1);
  const table = parts.reduce((one, part) => (one[part] ??= {}), now.data);
  if (value !== undefined) table[name] = value;
  else if (Array.isArray(table)) table.splice(name, 1);
  else delete table[name];
}

const snapshot = () => structuredClone({ ...now });

/* Make a change that can be undone; those of one drag, or of one key in quick order, are one. */
export function step(key, change, anew = false) {
  const time = performance.now();
  if (open !== key || (!pressed && time - last > ONE)) {
    past.push(snapshot());
    future.length = 0;
    open = key;
  }
  last = time;
  change();
  changed(anew);
}

function go(from, to) {
  if (!from.length) return;
  to.push(snapshot());
  Object.assign(now, from.pop());
  open = null;
  changed(true);
}

export const undo = () => go(past, future);
export const redo = () => go(future, past);
export const steps = () => ({ past: past.length, future: future.length });

export function pressing(down) {
  pressed = down;
  open = null;
}

/* Take the file as it is now; what was wished before is a step back. */
export function opened(found, keep) {
  Object.assign(file, { told: found.told, remarks: found.remarks, stamp: found.stamp, name: found.name,
    folder: found.folder });
  if (!keep && Object.keys(now.data).length) past.push(snapshot());
  now.data = structuredClone(found.told);
  now.data.pattern ??= {};
  now.data.pattern.name ??= "honeycomb";
  if (!keep) Object.assign(now, { held: {}, rib: null, tied: false });
  open = null;
  changed(true);
}

export const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);
export const told = (path) => {
  const found = got(path, file.told);
  return path.join(".") === "pattern.name" ? found ?? "honeycomb" : found;
};
export const unsaved = () => now.tied || !same(sorted(now.data), sorted({ ...file.told,
  pattern: { name: "honeycomb", ...file.told.pattern } }));

function sorted(one) {
  if (one === null || typeof one !== "object" || Array.isArray(one)) return one;
  const keys = Object.keys(one).filter((key) => one[key] !== undefined).sort();
  return Object.fromEntries(keys.map((key) => [key, sorted(one[key])])
    .filter(([, value]) => !same(value, {})));
}

export function goal() {
  const mass = got(["goal", "mass"]);
  return Array.isArray(mass) ? (mass[0] + mass[1]) / 2 : mass;
}

export const wish = () => ({
  spec: now.data,
  held: now.held,
  ...(now.tied && goal() ? { aim: goal(), ...(now.rib ? { rib: now.rib } : {}) } : {}),
});
