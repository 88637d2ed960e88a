// Lengths for reading, equal to what the program itself writes.

export const MM_PER_INCH = 25.4;

function halfEven(value) {
  const low = Math.floor(value);
  const rest = value - low;
  if (rest !== 0.5) return Math.round(value);
  return low % 2 === 0 ? low : low + 1;
}

function eighths(mm) {
  const total = halfEven((Math.abs(mm) / MM_PER_INCH) * 8);
  const whole = Math.floor(total / 8);
  let part = total % 8;
  let below = 8;
  while (part && part % 2 === 0) { part /= 2; below /= 2; }
  const words = whole || !part ? [String(whole)] : [];
  if (part) words.push(`${part}/${below}`);
  return (mm < 0 && total ? "-" : "") + words.join(" ");
}

function tenths(mm) {
  const size = Math.abs(mm / 10);
  // Only a quarter lies exactly between two tenths; it goes to the even one, as the program rounds.
  const text = size % 1 === 0.25 ? (Math.floor(size) + 0.2).toFixed(1) : size.toFixed(1);
  return (mm < 0 && Number(text) !== 0 ? "-" : "") + text;
}

/** A length in mm as "87.5 cm" or "34 1/2 in". */
export const showLength = (mm, unit = "cm") => (unit === "in" ? `${eighths(mm)} in` : `${tenths(mm)} cm`);

/** A change with its sign, "+1.2 cm"; "" when it cannot be seen in that unit. */
export function showChange(mm, unit = "cm") {
  const text = showLength(mm, unit);
  if (text === showLength(0, unit)) return "";
  return mm > 0 ? `+${text}` : text;
}

const CM = [1, 5, 10, 50, 100, 200, 500, 1000].map((mm, i) => [mm, mm, [5, 5, 5, 5, 5, 4, 5, 5][i]]);
const INCH = [1 / 8, 1 / 2, 1, 2, 6, 12, 36].map((inches, i) => [inches * MM_PER_INCH, inches, [2, 4, 8, 4, 6, 4, 3][i]]);

/**
 * Sensible marks of a ruler: {step, parts, name}, mm between numbers, parts between them, and the number at k steps.
 * `scale` is px per mm; numbers stand at least `room` px apart.
 */
export function marks(unit, scale, room = 44) {
  const rows = unit === "in" ? INCH : CM;
  const [step, value, parts] = rows.find(([mm]) => mm * scale >= room) ?? rows[rows.length - 1];
  const each = unit === "in" ? value : value / 10;
  return { step, parts, name: (k) => String(Math.round(k * each * 1000) / 1000) };
}
