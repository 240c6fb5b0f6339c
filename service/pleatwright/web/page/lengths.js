// Lengths as a maker reads them, and what becomes of typed ones when the job's units change.

const PLAIN = /^ *([0-9]+)(?:\.([0-9]+))? *$/;
// A figure, its fraction and its unit never part at the end of a line: 9 and 1/2 in would be read for 9 1/2 in.
const SPACE = "\u00a0";
const ENDS_IN_UNIT = /(?:[a-z"″”'′’]) *$/i;

/** Write a figure without digits that say nothing. */
export function figure(value, places = 3) {
  return String(Number(value.toFixed(places)));
}

/** Write a number as a whole and a fraction, to the nearest of so many parts. */
export function fraction(value, parts = 16) {
  let over = Math.round(Math.abs(value) * parts);
  const whole = Math.floor(over / parts);
  over -= whole * parts;
  let below = parts;
  while (over && over % 2 === 0) {
    over /= 2;
    below /= 2;
  }
  const text = [whole || !over ? whole : "", over ? `${over}/${below}` : ""].filter((part) => part !== "").join(SPACE);
  return value < 0 && text !== "0" ? `-${text}` : text;
}

/** Write a length of a reply: fractions of an inch to 1/16, thin cloth to 1/64, or metric to a tenth of a millimetre. */
export function length(value, units) {
  if (units === "in") return `${fraction(value, Math.abs(value) < 1 / 8 ? 64 : 16)}${SPACE}in`;
  return `${figure(value, units === "cm" ? 2 : 1)}${SPACE}${units}`;
}

/** Keep a quantity, such as 16 7/8 yd, on one line. */
export function whole(quantity) {
  return quantity.replaceAll(" ", SPACE);
}

/** Write two lengths as from and to, once where they come to the same. */
export function between(least, most, units) {
  const [low, high] = [length(least, units), length(most, units)];
  return low === high ? low : `${low.slice(0, low.lastIndexOf(SPACE))} to ${high}`;
}

/**
 * Return a typed length for a job in other units: the same length, and as it was typed but where that is plain.
 * Centimetres and millimetres differ by a point; anything else keeps the unit that it was typed in.
 */
export function carried(typed, from, to) {
  const text = String(typed);
  if (from === to || text.trim() === "") return typed;
  if (ENDS_IN_UNIT.test(text)) {
    const own = text.trimEnd();
    const bare = own.slice(0, -to.length).trimEnd();
    return own.endsWith(` ${to}`) && !ENDS_IN_UNIT.test(bare) ? bare : typed;
  }
  const found = PLAIN.exec(text);
  if (found && from !== "in" && to !== "in") return shifted(found[1], found[2] ?? "", from === "cm" ? 1 : -1);
  return `${text.trim()} ${from}`;
}

function shifted(whole, over, places) {
  const digits = places > 0 ? whole + over.padEnd(1, "0") : whole.padStart(2, "0") + over;
  const point = places > 0 ? whole.length + 1 : Math.max(whole.length, 2) - 1;
  const before = digits.slice(0, point).replace(/^0+(?=[0-9])/, "");
  const after = digits.slice(point).replace(/0+$/, "");
  return after ? `${before}.${after}` : before;
}
