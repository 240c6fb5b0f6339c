// The figures of one window, in the words of the bench.

import { disclosure, make, named, table } from "./dom.js";
import { between, figure, length, whole } from "./lengths.js";
import { worded } from "./words.js";

const HIDDEN = ["beside-pleat", "in-gathers", "in-back-fold", "in-surplus"];
const PLACES = {
  "beside-pleat": "beside a pleat",
  "inside-pleat": "inside a pleat",
  "in-space": "in a space, where it shows",
  "in-gathers": "among the gathers",
  "in-back-fold": "in a fold to the back",
  "in-front-fold": "in a fold to the front, where it shows",
  "at-point": "in the way of a point",
  "between-points": "between two points",
  "in-surplus": "in cloth that comes off",
};

/** Say whether the seams of a panel show. */
export function seamsOf(seams) {
  if (!seams.length) return "none";
  const counts = new Map();
  for (const { place } of seams) counts.set(place, (counts.get(place) ?? 0) + 1);
  const where = [...counts].map(
    ([place, count]) => `${counts.size > 1 ? `${count} ` : ""}${PLACES[place] ?? worded(place)}`,
  );
  const all = seams.every(({ place }) => HIDDEN.includes(place)) ? "hidden" : "not all hidden";
  return `${seams.length}, ${all}: ${where.join("; ")}`;
}

/** Return the figures of the panels as a table, with one column for panels that are alike. */
export function panelTable(window, units) {
  const of = (panel) => rowsOf(panel, units);
  const alike =
    window.panels.length > 1 && window.panels.every((panel) => text(of(panel)) === text(of(window.panels[0])));
  const shown = alike ? window.panels.slice(0, 1) : window.panels;
  const columns = [
    "Figure",
    ...shown.map((panel) => (alike ? `Each of ${window.panels.length} panels` : `${worded(panel.side)} panel`)),
  ];
  const rows = of(shown[0]).map(([name], row) => [name, ...shown.map((panel) => of(panel)[row]?.[1] ?? "")]);
  return table("The panels", columns, rows);
}

const text = (rows) => JSON.stringify(rows);

function rowsOf(panel, units) {
  const { pleats, pins } = panel;
  const size = (value) => length(value, units);
  return [
    ["Widths", figure(panel.widths, 1)],
    [
      "Cut length",
      panel.raised_cut_length === panel.cut_length
        ? size(panel.cut_length)
        : `${size(panel.cut_length)}, raised to ${size(panel.raised_cut_length)}`,
    ],
    ["Finished length", size(panel.finished_length)],
    ["Finished width", size(panel.finished_width)],
    ["Flat width", size(panel.flat_width)],
    ["Fullness", figure(panel.fullness, 2)],
    ...layoutRows(pleats, units),
    ["Seams", seamsOf(pleats.seams)],
    ["Pin depth", pins.pin_depth === null ? "not pinned" : `${size(pins.pin_depth)}, ${pins.pin_count} pins`],
    ["Overlap, return", `${size(panel.overlap)}, ${size(panel.return)}`],
  ];
}

/** Return the rows that say how a heading is laid out. */
export function layoutRows(pleats, units) {
  if (pleats.layout === "pleats") {
    return [
      ["Pleats", String(pleats.pleat_count)],
      ["Spaces", `${pleats.space_count} of ${length(pleats.space, units)}`],
      ["Take-up", between(pleats.take_up.least, pleats.take_up.most, units)],
    ];
  }
  if (pleats.layout === "points") {
    const { word, count, gap, finished_gap: closed } = pleats.points;
    return [[`${worded(word)}s`, `${count}, ${length(gap, units)} apart flat, ${length(closed, units)} as it hangs`]];
  }
  return [["Gathered", "evenly from edge to edge"]];
}

/** Return what would hide the seams that show. */
export function cures(window) {
  const found = window.panels.flatMap((panel) =>
    panel.pleats.cures.map((cure) => `${worded(panel.side)}: ${cure.detail}`),
  );
  return found.length
    ? [make("div", { class: "cures" }, make("h3", {}, "What would hide every seam"), list(found))]
    : [];
}

/** Return a list of texts. */
export function list(texts) {
  return make("ul", {}, ...texts.map((each) => make("li", {}, each)));
}

const OUTCOMES = {
  proved: "the best plan there is",
  "best-found": "the best plan found",
  short: "the shelf is short",
  undecided: "no plan found in the work allowed",
};

/** Say what comes of the pieces on the shelf. */
function fromShelf(shelf) {
  if (!shelf) return "";
  const short = shelf.shortfall ? `, a piece of ${whole(shelf.shortfall.quantity)} is missing` : "";
  return `; from ${shelf.bolts.length} pieces on the shelf: ${OUTCOMES[shelf.outcome] ?? shelf.outcome}${short}`;
}

/** Return what to order for the whole job. */
export function orderTable(materials, units) {
  const rows = [
    ...materials.fabrics.map((each) => [
      named(each.fabric),
      whole(each.quantity),
      `${each.cuts} cuts, a run of ${length(each.run_length, units)}${fromShelf(each.shelf)}`,
    ]),
    ...materials.layers.map((each) => [
      make("span", {}, worded(each.layer), each.cloth ? ": " : "", named(each.cloth ?? "")),
      whole(each.quantity),
      `${each.cuts} cuts`,
    ]),
    ...materials.sundries.map((each) => [
      worded(each.kind),
      whole(each.quantity),
      each.size ? between(each.size.least, each.size.most, units) : "",
    ]),
    ["Pins or hooks", String(materials.pins), ""],
  ];
  return table("To order, for the whole job", ["What", "Order", "Of it"], rows);
}

/** Return heights, stack and weight, to be opened. */
export function onTheWall(window, units) {
  const { hang, rod, weight } = window;
  const size = (value) => length(value, units);
  const heights = hang.heights.map((each) => [worded(each.point), size(each.height)]);
  const stacks = rod.stacks.map((each) => [
    `${worded(each.side)} stack`,
    size(each.stack) + (each.glass_covered ? `, covers ${size(each.glass_covered)} of the glass` : ""),
  ]);
  const weights = weight ? [["Weight, all panels", `${figure(weight.total, 2)} ${weight.units}`]] : [];
  return disclosure(
    "On the wall: heights, stack and weight",
    table(`Heights above the ${hang.measured_from}`, null, heights),
    table("The rod", null, [["Face", size(rod.width)], ["With its returns", size(rod.length)], ...stacks, ...weights]),
  );
}

/** Return how each figure was reached, when that was asked. */
export function worksheet(steps) {
  if (!steps) return [];
  const rows = steps.map((step) => [
    step.name,
    step.formula,
    Object.entries(step.figures)
      .map(([name, value]) => `${name} ${figure(value)}`)
      .join(", "),
    figure(step.result),
  ]);
  return [
    disclosure("How each figure was reached", table("Worksheet", ["Figure", "Formula", "Put in", "Result"], rows)),
  ];
}
