// Where a slider runs, in what steps, and how its values are written.
const SHORT = 12; // a range up to this is shown whole
const STEPS = 250; // about as many on a slider
const COUNTS = 40; // whole numbers shown at once

/* Return where a slider runs round `value`: the whole range where that is short, else from half to
   twice the value. A `unit` above 1 is what a count must be a multiple of. */
export function scope({ whole, low, high }, value, unit = 1) {
  const [least, most] = [low ?? -1e9, high ?? 1e9];
  const long = whole ? (most - least) / unit > COUNTS : most - least > SHORT;
  let [from, to] = [least, most];
  if (long && value) {
    [from, to] = [value / 2, value * 2].sort((a, b) => a - b);
    [from, to] = [Math.max(least, from), Math.min(most, to)];
  } else if (long) {
    [from, to] = [Math.max(least, -SHORT), Math.min(most, SHORT)];
  }
  if (whole) return { from: Math.ceil(from / unit) * unit, to: Math.floor(to / unit) * unit, step: unit };
  const fine = stepOf((to - from) / STEPS);
  return { from: Math.floor(from / fine + 1e-9) * fine, to: Math.ceil(to / fine - 1e-9) * fine, step: fine };
}

function stepOf(raw) {
  const ten = 10 ** Math.floor(Math.log10(raw));
  return Number((ten * [1, 2, 5, 10].find((one) => one * ten >= raw * 0.999)).toPrecision(1));
}

export const tidy = (value, step) =>
  Number(Number(value).toFixed(Math.max(0, Math.ceil(-Math.log10(step) - 1e-9))));
