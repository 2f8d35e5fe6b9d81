// Values as TOML has them on one line, and a whole spec without its comments.
const bare = (key) => (/^[\w-]+$/.test(key) ? key : JSON.stringify(key));

export function toml(value) {
  if (value === undefined || value === null) return "";
  if (Array.isArray(value)) return `[${value.map(toml).join(", ")}]`;
  if (typeof value === "object") {
    const inner = Object.entries(value).map(([key, one]) => `${bare(key)} = ${toml(one)}`);
    return inner.length ? `{ ${inner.join(", ")} }` : "{}";
  }
  return typeof value === "string" ? JSON.stringify(value) : String(value);
}

export function spec(data) {
  const isTable = (one) => one !== null && typeof one === "object" && !Array.isArray(one);
  const lines = (table) => Object.entries(table).map(([key, one]) => `${bare(key)} = ${toml(one)}`);
  const root = lines(Object.fromEntries(Object.entries(data).filter(([, one]) => !isTable(one))));
  const tables = Object.entries(data).filter(([, one]) => isTable(one))
    .flatMap(([key, one]) => ["", `[${bare(key)}]`, ...lines(one)]);
  return `${[...root, ...tables].join("\n")}\n`;
}
