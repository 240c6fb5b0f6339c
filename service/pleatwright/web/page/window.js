// The form of one window: the few fields that a price needs, and the rest behind what opens.

import { cloth } from "./asking.js";
import { labelled, make, select } from "./dom.js";
import { Form } from "./form.js";
import { pointer } from "./pointers.js";
import { glyph } from "./styles.js";
import { told } from "./words.js";

const SAID_FIRST = ["label", "rod", "hang", "heading", "fabric", "fullness", "lining"];
const SAID_APART = ["make_up", "interlining", "blackout", "pin"];
const WITH_THE_DROP = ["drop", "carrying_height", "to", "to_height"];

/**
 * Make the form of a window, and put it on the page.
 * @param {{contract: any, sheet: any, index: number, styles: Map<string, any>, cloths: any[], changed: () => void}} given
 * @returns {Form}
 */
export function windowForm(holder, given) {
  const { contract, sheet, index, styles } = given;
  const units = sheet.root.units;
  const form = new Form(contract, sheet, given.changed, units);
  const base = { pointer: pointer("windows", index) };
  const of = (name, field) => contract.kind(contract.property(name, field));
  const inside = (name, way, without) => form.inside(contract.schema(name), base, way, without);

  const style = form.part(contract.property("Window", "heading"), base, "/heading", {
    label: "Heading style",
    hint: "",
    called: (tag) => styles.get(tag)?.label ?? tag,
  });
  const options = style.querySelector(".inner");
  const shape = make("div", { class: "shape" });
  const showShape = () => {
    shape.replaceChildren(...glyph(styles.get(sheet.get(`${base.pointer}/heading/style`))));
    optionsFold.hidden = !options.childElementCount;
  };
  const optionsFold = form.foldedAway("Options of this style", options);
  style.querySelector("select").addEventListener("change", showShape);
  style.append(shape, optionsFold);
  showShape();

  const lining = form.part(contract.property("Window", "lining"), base, "/lining", {
    label: "Lining",
    hint: "",
    yes: "Lined",
  });
  const face = clothFields(form, given, base);
  holder.replaceChildren(
    make(
      "div",
      { class: "first" },
      form.single(of("Window", "label"), base, "/label", { label: "Name of the window", hint: "" }).element,
      form.single(of("Rod", "width"), base, "/rod/width", {
        label: "Rod width",
        hint: "Face of the rod, from return to return or end to end.",
      }).element,
      ...heights(form, contract, base, sheet),
      style,
      ...face.first,
      form.single(of("Window", "fullness"), base, "/fullness", {
        label: "Fullness",
        hint: "Flat width divided by finished width, as 2.5. Left empty: the style's usual.",
      }).element,
      lining,
    ),
    form.foldedAway("Rod: return, overlap and draw", ...inside("Rod", "/rod", ["width"])),
    form.foldedAway(
      "Heights, mount and pins",
      ...inside("Hang", "/hang", WITH_THE_DROP),
      form.part(contract.property("Window", "pin"), base, "/pin"),
    ),
    face.rest,
    form.foldedAway("Hems, seams and widths", ...inside("MakeUp", "/make_up")),
    form.foldedAway(
      "Lining, interlining and blackout: widths and turnings",
      lining.querySelector(".inner"),
      form.part(contract.property("Window", "interlining"), base, "/interlining"),
      form.part(contract.property("Window", "blackout"), base, "/blackout"),
    ),
    form.foldedAway("More of this window", ...inside("Window", "", [...SAID_FIRST, ...SAID_APART])),
  );
  return form;
}

/** How high it hangs: a drop, or the height of what carries it. */
function heights(form, contract, base, sheet) {
  const ways = [
    ["/hang/drop", "Drop", "From the eye of ring or carrier down to what it hangs to."],
    [
      "/hang/carrying_height",
      "Carrying height",
      "From the floor to the eye of ring or carrier; the rod's top where it goes through.",
    ],
  ];
  let way = sheet.get(`${base.pointer}/hang/carrying_height`) === undefined ? ways[0] : ways[1];
  const kind = (name) => contract.kind(contract.property("Hang", name));
  const measured = make("div");
  const below = make("div");
  const show = () => {
    const [place, words, hint] = way;
    measured.replaceChildren(form.single(kind(place.split("/").pop()), base, place, { label: words, hint }).element);
    const onWall = ["sill", "apron"].includes(to.sheet.get(to.pointer)) && way === ways[1];
    below.replaceChildren(...(onWall ? [form.single(kind("to_height"), base, "/hang/to_height").element] : []));
  };
  const choose = (chosen) => {
    const typed = sheet.get(base.pointer + way[0]);
    sheet.set(base.pointer + way[0], undefined);
    way = ways.find(([place]) => place === chosen);
    sheet.set(base.pointer + way[0], typed);
    show();
    form.changed();
  };
  const to = form.single(kind("to"), base, "/hang/to", { hint: "" });
  const chooser = select(
    ways.map(([place, words]) => [place, words]),
    way[0],
    choose,
  );
  to.control.addEventListener("change", show);
  show();
  return [measured, labelled("Measured as", chooser), to.element, below];
}

/** The cloth is the job's, by its name: renamed with the one window that has it, or taken from another. */
function clothFields(form, { contract, sheet, index, cloths, changed }, base) {
  const job = sheet.root;
  const face = { pointer: pointer("fabrics", job.windows[index].fabric ?? "") };
  const kind = contract.kind(contract.property("Fabric", "width"));
  const width = form.single(kind, face, "/width", {
    label: "Cloth width",
    hint: "Of the bolt, selvages included. Left empty: all of this cloth as the rate book has it.",
  });
  const inner = make("div", { class: "inner" });
  const fill = () => inner.replaceChildren(...form.inside(contract.schema("Fabric"), face, "", ["width"]));
  const naming = {
    get: (at) => sheet.get(at),
    set: (at, name = "") => {
      const before = sheet.get(at);
      const alone = job.windows.filter((each) => each.fabric === before).length === 1;
      const own = cloth(job, before);
      sheet.set(at, name);
      if (alone && own !== undefined && cloth(job, name) === undefined) {
        sheet.set(pointer("fabrics", before), undefined);
        sheet.set(pointer("fabrics", name), own);
      }
      face.pointer = pointer("fabrics", name);
      width.refresh();
      fill();
    },
  };
  const booked = cloths.map((each) => [each.name, each.name]);
  const choice = select([["", "Choose a cloth"], ...booked], job.windows[index].fabric, (chosen) => {
    if (!chosen) return;
    name.control.value = chosen;
    name.control.dispatchEvent(new Event("input", { bubbles: true }));
    name.control.dispatchEvent(new Event("change", { bubbles: true }));
  });
  const names = make(
    "datalist",
    { id: "cloths" },
    ...[...new Set([...cloths.map((each) => each.name), ...Object.keys(job.fabrics ?? {})])].map((value) =>
      make("option", { value }),
    ),
  );
  const name = new Form(contract, naming, changed).single(
    contract.kind(contract.property("Window", "fabric")),
    base,
    "/fabric",
    {
      label: "Cloth",
      hint: "As the rate book has it, to be priced; or a name of your own.",
      settled: true,
    },
  );
  name.control.setAttribute("list", "cloths");
  // The name that is there to begin with is to be typed over.
  name.control.addEventListener("focus", () => name.control.select());
  name.element.append(names);
  form.fields.push(name);
  fill();
  const rest = make(
    "details",
    {},
    make("summary", {}, "Cloth: pattern, repeats and pieces on the shelf"),
    make("p", { class: "hint" }, told(contract.schema("Fabric").description)),
    inner,
  );
  const first = [name.element, width.element];
  return { first: booked.length ? [labelled("From the rate book", choice), ...first] : first, rest };
}
