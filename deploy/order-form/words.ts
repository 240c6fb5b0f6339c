// What the service answers, in the words and the figures of this shop.

import type { components } from "./contract.js";

type Schemas = components["schemas"];

/** What a customer would want to know of what was assumed, in the shop's words; all else is the workroom's. */
const WORDS: Record<string, (figure: string) => string> = {
  "rod/draw": (figure) => (figure === "pair" ? "A pair, parting in the middle" : `Drawn: ${figure}`),
  "rod/overlap": (figure) => `The two cross by ${figure} in the middle`,
  "rod/return": (figure) => `They turn back ${figure} to the wall at the ends`,
  "hang/to": (figure) => `They hang to the ${figure}`,
  "hang/clearance": (figure) => `They end ${figure} short of it`,
  fullness: (figure) => `Cloth ${figure} times as wide as the finished curtain`,
  lining: (figure) => (figure === "none" ? "No lining" : `Lined with ${figure}`),
};

/** Money is an exact text, and is formatted as that: as a float it might not be what the service said. */
export function money(amount: string, currency: string): string {
  const format = new Intl.NumberFormat(document.documentElement.lang, { style: "currency", currency });
  return format.format(amount as Intl.StringNumericLiteral);
}

export function range({ range, currency }: Schemas["Price"]): string {
  if (!range) return "";
  const moved = range.because.map((each) => `${each.at}, ${each.least} to ${each.most}`).join("; ");
  const [least, most] = [range.least, range.most].map((amount) => money(amount, currency));
  return `Between ${least} and ${most}, once these are settled: ${moved}.`;
}

export function tax({ tax, currency }: Schemas["Price"]): string {
  return tax ? `${tax.name} of ${money(tax.amount, currency)} is in it.` : "";
}

/** What was assumed, and whether it is for the customer to know or the workroom's usual figure. */
export function assumedInWords(
  { at, value, measure }: Schemas["Assumed"],
  units: Schemas["Units"],
): { text: string; theirs: boolean } {
  const place = at.replace("/windows/0/", "");
  const figure = typeof value === "number" ? String(Number(value.toFixed(3))) : value;
  const measured = measure === "length" ? `${figure} ${units}` : figure;
  const words = WORDS[place];
  return { text: words?.(measured) ?? `${place.replace(/[/_]/g, " ")}: ${measured}`, theirs: words !== undefined };
}
