// Ways to make the same window, side by side.

import { cloth, label, placeIn } from "./asking.js";
import { button, labelled, make, named, table } from "./dom.js";
import { figure, whole } from "./lengths.js";
import { own } from "./pointers.js";
import { telling } from "./progress.js";
import { money } from "./price.js";
import { worded } from "./words.js";

/**
 * Put what compares on the page.
 * @param {{contract: any, service: any, styles: Map<string, any>, now: () => {job: any, index: number},
 *   take: (changes: [string, any][]) => void}} given
 * @returns {() => void} what takes the ways away: they are of one window as it was
 */
export function comparing(holder, { contract, service, styles, now, take }) {
  const most = contract.property("CompareRequest", "styles").maxItems ?? 8;
  const installed = Object.keys(contract.property("Window", "heading").discriminator.mapping);
  const boxes = installed.map((style) => ({
    style,
    name: styles.get(style)?.label ?? worded(style),
    box: make("input", { type: "checkbox" }),
  }));
  const widths = make("input", { type: "text", autocomplete: "off" });
  const said = make("div", { role: "status" });
  const result = make("div");
  const limit = () => {
    const full = boxes.filter(({ box }) => box.checked).length >= most;
    for (const { box } of boxes) box.disabled = full && !box.checked;
  };
  const choice = make(
    "fieldset",
    {},
    make("legend", {}, `Other styles, up to ${most}`),
    make("div", { class: "boxes" }, ...boxes.map(({ name, box }) => make("label", { class: "switch" }, box, name))),
  );
  choice.addEventListener("change", limit);
  let round = 0;
  const forget = () => {
    round += 1;
    said.textContent = "";
    result.replaceChildren();
  };
  const compare = async () => {
    forget();
    const [mine, { job, index }] = [round, now()];
    said.textContent = "Comparing…";
    try {
      const body = asked(
        job,
        index,
        boxes.filter(({ box }) => box.checked),
        widths.value,
      );
      const reply = await service.told("v1/compare", body, telling(said));
      if (mine !== round) return;
      result.replaceChildren(...shown(reply, styles, take));
      said.textContent = "";
    } catch (error) {
      if (mine === round) said.replaceChildren(...wrong(error, job, index));
    }
  };
  holder.append(
    choice,
    labelled("Other widths of the cloth, with ; between them", widths),
    button("Compare ways to make this window", compare, { class: "main" }),
    said,
    result,
  );
  return forget;
}

function asked(job, index, chosen, widths) {
  const window = { ...job.windows[index], label: label(job, index) };
  const fabrics = {};
  const face = cloth(job, window.fabric);
  if (face !== undefined && Object.keys(face).length) own(fabrics, window.fabric, face);
  const body = { units: job.units, window, fabrics, styles: chosen.map(({ style }) => ({ style })) };
  if (job.pricing !== undefined) body.pricing = job.pricing;
  const others = widths
    .split(";")
    .map((each) => each.trim())
    .filter(Boolean);
  return { ...body, cloth_widths: others };
}

function shown(reply, styles, take) {
  const rows = reply.ways.map((way, index) => {
    const widths = way.window.panels.reduce((sum, panel) => sum + panel.widths, 0);
    const asTyped = way.change === "as-asked" ? make("b", {}, " This is the window as typed.") : "";
    return [
      make("div", {}, make("p", {}, `${index + 1}. ${way.reason}`, asTyped), taking(way, index + 1, take)),
      way.total === null ? "not priced" : money(way.total, way.price?.currency ?? ""),
      whole(way.window.cuts.order.quantity),
      figure(widths, 1),
      figure(way.fullness, 2),
      String(way.seams_not_hidden),
      styles.get(way.style)?.label ?? worded(way.style),
    ];
  });
  const columns = ["Way", "Total", "Cloth", "Widths", "Fullness", "Seams not hidden", "Style"];
  const cannot = reply.impossible.map((each) => make("li", {}, `${each.what}: ${each.why}.`));
  return [
    make(
      "div",
      { class: "wide", tabindex: "0", role: "region", "aria-label": "Ways to make this window" },
      table("Best first", columns, rows),
    ),
    ...(cannot.length ? [make("h3", {}, "What cannot be made"), make("ul", {}, ...cannot)] : []),
  ];
}

/** Return a button that has the window made in a way; "" for the way it is, and where the cloth would be another. */
function taking(way, place, take) {
  const changes = changesOf(way);
  return changes ? button("Make it so", () => take(changes), { "aria-label": `Make it so: way ${place}` }) : "";
}

/** Return what a way changes of a window, by pointers within it; undefined for what is no matter of the window. */
function changesOf({ change, style, window }) {
  const one = (of) => {
    const found = new Set(window.panels.map(of));
    return found.size === 1 ? [...found][0] : undefined;
  };
  if (change === "style")
    return [
      ["/heading", { style }],
      ["/pleat_count", undefined],
    ];
  const [at, value] =
    {
      "half-width-more": ["/make_up/width_count", one((panel) => panel.widths)],
      "half-width-less": ["/make_up/width_count", one((panel) => panel.widths)],
      "pleat-count": ["/pleat_count", one((panel) => panel.pleats.pleat_count)],
    }[change] ?? [];
  return value === undefined ? undefined : [[at, value]];
}

function wrong(error, job, index) {
  if (!error.errors?.length) return [make("p", { class: "fault" }, error.message)];
  const rows = error.errors.map((fault) => {
    const pointer = fault.pointer.replace(/^\/window(?=\/|$)/, `/windows/${index}`);
    return make("li", { class: "fault" }, named(placeIn(job, pointer)), `: ${fault.detail}.`);
  });
  return [make("ul", {}, ...rows)];
}
