// Money as the reply has it: exact texts, written as the reader's own country writes them.

import { disclosure, make, named, table } from "./dom.js";
import { title, worded } from "./words.js";

/** Write an amount with its currency. */
export function money(amount, currency) {
  try {
    return new Intl.NumberFormat(undefined, { style: "currency", currency, currencyDisplay: "narrowSymbol" }).format(
      amount,
    );
  } catch {
    return `${currency} ${amount}`;
  }
}

/** Say between what the price may come out, and why. */
export function rangeOf(price) {
  if (!price.range) return "";
  const because = price.range.because.map((each) => title(each.at).toLowerCase()).join(", ");
  return `From ${money(price.range.least, price.currency)} to ${money(price.range.most, price.currency)}, by what is assumed: ${because}.`;
}

/** Return how a price is made up, to be opened. */
export function priceLines(price) {
  const rows = price.lines.map((line) => [
    make("span", {}, `${worded(line.kind)}: `, named(line.what), line.window ? ", " : "", named(line.window ?? "")),
    `${line.quantity} ${line.unit}`,
    line.rate,
    money(line.amount, price.currency),
  ]);
  if (price.tax) {
    const included = price.tax.included ? ", included" : "";
    rows.push([
      `${price.tax.name}${included}`,
      `${price.tax.percent} percent`,
      "",
      money(price.tax.amount, price.currency),
    ]);
  }
  rows.push(["Total", "", "", money(price.total, price.currency)]);
  const lines = table("Price of the whole job", ["What", "Quantity", "Rate", "Amount"], rows);
  const ifOther = price.range?.because.map((each) => [
    title(each.at),
    `${each.least}: ${each.total_at_least === null ? "cannot be made" : money(each.total_at_least, price.currency)}`,
    `${each.most}: ${each.total_at_most === null ? "cannot be made" : money(each.total_at_most, price.currency)}`,
  ]);
  return disclosure(
    "How the price is made up",
    lines,
    ifOther && table("If what is assumed were other", ["Assumed", "At the least", "At the most"], ifOther),
    make("p", { class: "hint" }, `Rate book: ${price.edition}`),
  );
}

/** Return what the job costs the workroom, when its own view was asked for. */
export function workroomLines(workroom, currency) {
  const rows = workroom.lines.map((line) => [
    make("span", {}, `${worded(line.kind)}: `, named(line.what)),
    money(line.cost, currency),
    line.hours,
  ]);
  rows.push(["Cost, and hours", money(workroom.cost, currency), workroom.hours]);
  const percent = workroom.margin_percent === null ? "" : `${workroom.margin_percent} percent`;
  rows.push(["Margin", money(workroom.margin, currency), percent]);
  return disclosure("For the workroom: cost and margin", table("Cost", ["What", "Cost", "Hours"], rows));
}
