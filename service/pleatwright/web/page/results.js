// All that is told of the window at hand and of the job, with its cautions and what was assumed.

import { inJob } from "./asking.js";
import { make, named } from "./dom.js";
import { cures, list, onTheWall, orderTable, panelTable, worksheet } from "./figures.js";
import { figure, length, whole } from "./lengths.js";
import { steps } from "./pointers.js";
import { money, priceLines, rangeOf, workroomLines } from "./price.js";
import { title, worded } from "./words.js";

/** Say the few figures that a maker asks for first. */
export function tally(holder, reply, window) {
  const { units, price, materials } = reply;
  const widths = window.panels.reduce((sum, panel) => sum + panel.widths, 0);
  const lengths = [...new Set(window.panels.map((panel) => length(panel.cut_length, units)))];
  const order = materials.fabrics.find((each) => each.fabric === window.fabric);
  // Among several windows it is to be plain which figures are of all of them.
  const [ofJob, ofWindow] = reply.windows.length > 1 ? [", whole job", ", this window"] : ["", ""];
  const entries = [
    [`Price${ofJob}`, price ? money(price.total, price.currency) : "not priced", "price"],
    [`Order${ofJob}`, order ? whole(order.quantity) : "", "order"],
    [`Widths${ofWindow}`, figure(widths, 1), "widths"],
    [`Cut length${ofWindow}`, lengths.join(", "), "cut"],
  ];
  holder.replaceChildren(
    ...entries.map(([name, value, kind]) => make("div", { class: kind }, make("dt", {}, name), make("dd", {}, value))),
  );
}

/** Say in a line what was worked out, for who does not see it. */
export function spoken(reply, window) {
  const widths = window.panels.reduce((sum, panel) => sum + panel.widths, 0);
  const price = reply.price ? `, ${money(reply.price.total, reply.price.currency)}` : "";
  return `${window.label}: ${figure(widths, 1)} widths${price}.`;
}

/** Show what a window is, what its price may come to, and what to look at before its cloth is cut. */
export function showHeadline(holder, { price, cautions: all }, window, styles) {
  const why = all.find((each) => each.kind === "not-priced")?.detail ?? "There is no rate book here, and so no price.";
  const range = price ? rangeOf(price) : why;
  holder.replaceChildren(
    make(
      "p",
      { class: "what" },
      named(window.label),
      ": ",
      styles.get(window.style)?.label ?? worded(window.style),
      ", ",
      named(window.fabric),
      `, to the ${window.hang_to}`,
    ),
    ...(range ? [make("p", { class: "range" }, range)] : []),
    ...(window.cautions.length ? [cautions("Look at this before cutting", window.cautions, "look")] : []),
    ...cures(window),
  );
}

/** Show the figures of a window of a reply. */
export function showResults(holder, { reply, at, index, places }) {
  const window = reply.windows[at];
  const { units, price } = reply;
  const assumed = reply.assumed
    .map((each) => ({ ...each, way: steps(inJob(each.at, places)) }))
    .filter(({ way }) =>
      way[0] === "windows" ? way[1] === String(index) : way[0] !== "fabrics" || way[1] === window.fabric,
    );
  holder.replaceChildren(
    panelTable(window, units),
    orderTable(reply.materials, units),
    ...(price ? [priceLines(price)] : []),
    ...(price && reply.workroom ? [workroomLines(reply.workroom, price.currency)] : []),
    onTheWall(window, units),
    ...worksheet(reply.worksheet),
    make("h3", {}, "Assumed, since the job does not say"),
    make(
      "ul",
      { class: "assumed" },
      ...assumed.map((each) => make("li", {}, `${placed(each.way)}: `, make("b", {}, valued(each, units)))),
    ),
    cautions("Cautions", reply.cautions, "general"),
  );
}

function cautions(heading, given, kind) {
  return make("div", { class: `cautions ${kind}` }, make("h3", {}, heading), list(given.map((each) => each.detail)));
}

function placed(way) {
  const names = way[0] === "fabrics" ? ["cloth", ...way.slice(2)] : way.slice(2);
  return worded(names.map((step) => title(step).toLowerCase()).join(", "));
}

function valued({ value, measure }, units) {
  if (typeof value === "string") return value;
  if (measure === "length") return length(value, units);
  return measure === "grams-per-square-metre" ? `${figure(value)} g/m²` : figure(value);
}
