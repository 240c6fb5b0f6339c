// What the service answers, in the words and the figures of this shop.

import type { components } from "./contract.js";

type Schemas = components["schemas"];

/** What a customer would want to know of what was assumed, in the shop's words; all else is the workroom's. */
const WORDS: Record<string, (figure: string) => string> = {
  "rod/draw": (figure) => (figure === "pair" ? "A pair, parting in the middle" : `Drawn: ${figure}`),
  "rod/overlap": (figure) => `In the middle they cross by ${figure}`,
  "rod/return": (figure) => `At the ends they turn back to the wall by ${figure}`,
  "hang/to": (figure) => `They hang to the ${figure}`,
  "hang/clearance": (figure) => `They end ${figure} short of it`,
  fullness: (figure) => `Cloth ${figure} times as wide as the finished curtain`,
  lining: (figure) => (figure === "none" ? "No lining" : `Lined with ${figure}`),
};

/** What the range of a price may come from. */
const MATTERS: Record<string, string> = {
  fullness: "how full the curtains are",
  return: "how far they turn back to the wall",
  lining: "whether they are lined",
};

/** Money is an exact text, and is formatted as that: as a float it might not be what the service said. */
export function money(amount: string, currency: string): string {
  const format = new Intl.NumberFormat(document.documentElement.lang, { style: "currency", currency });
  return format.format(amount as Intl.StringNumericLiteral);
}

export function range({ range, currency }: Schemas["Price"]): string {
  return range ? `Between ${money(range.least, currency)} and ${money(range.most, currency)}` : "";
}

export function depends({ range }: Schemas["Price"]): string {
  const matters = (range?.because ?? []).map(({ at }) => MATTERS[at] ?? at);
  const all = new Intl.ListFormat(document.documentElement.lang).format(matters);
  return all && `Where between the two it comes out depends on ${all}.`;
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
  const measured = measure === "length" ? `${figure}\u00a0${units}` : figure;
  const words = WORDS[place];
  return { text: words?.(measured) ?? `${place.replace(/[/_]/g, " ")}: ${measured}`, theirs: words !== undefined };
}
