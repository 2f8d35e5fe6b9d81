// The conversation with the server: whole messages there, whole messages back.
const AGAIN = 1000; // ms until the server is looked for again
const base = location.pathname.replace(/[^/]*$/, "");
const hearers = new Map();
const waiting = new Map();
let socket = null;
let number = 0;

export const next = () => { number += 1; return number; };
export const hear = (kind, act) => hearers.set(kind, act);
export const fetched = async (name) => (await fetch(name, { cache: "no-store" })).json();

/* Return what the server makes of a file. */
export async function posted(name, file) {
  try {
    const sent = await fetch(`${name}?name=${encodeURIComponent(file.name)}`, { method: "POST", body: file });
    return await sent.json();
  } catch {
    return { faults: [LOST] };
  }
}

export function tell(said) {
  if (socket && socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(said));
}

/* Return what the server answers to an errand. */
export function asked(kind, said = {}) {
  const n = next();
  return new Promise((done) => {
    if (!socket || socket.readyState !== WebSocket.OPEN) done({ faults: [LOST] });
    waiting.set(n, { kind, done });
    tell({ [kind]: n, ...said });
  });
}

const LOST = "the server has ended; openwork hone starts it again";

function heard(said) {
  for (const [kind, act] of hearers) if (said[kind] !== undefined) { act(said); return; }
  const kind = Object.keys(said).find((one) => waiting.get(said[one])?.kind === one);
  if (kind === undefined) return;
  const { done } = waiting.get(said[kind]);
  waiting.delete(said[kind]);
  done(said);
}

export function connect(opened, closed) {
  socket = new WebSocket(`ws://${location.host}${base}talk`);
  socket.addEventListener("open", () => { document.body.dataset.open = ""; opened(); });
  socket.addEventListener("message", ({ data }) => heard(JSON.parse(data)));
  socket.addEventListener("close", () => {
    delete document.body.dataset.open;
    for (const { done } of waiting.values()) done({ faults: [LOST] });
    waiting.clear();
    closed();
    setTimeout(() => connect(opened, closed), AGAIN);
  });
}
