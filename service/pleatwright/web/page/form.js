// A form made from the contract: whatever the service takes can be said, a style's own options with the rest.

import { button, disclosure, freshId, make } from "./dom.js";
import { Field } from "./fields.js";
import { pointer } from "./pointers.js";
import { meaningOfNull, title, told, worded } from "./words.js";

export class Form {
  /**
   * @param {import("./contract.js").Contract} contract
   * @param {import("./pointers.js").Sheet} sheet
   * @param {() => void} changed
   * @param {string} [units]
   */
  constructor(contract, sheet, changed, units) {
    this.contract = contract;
    this.sheet = sheet;
    this.changed = changed;
    this.units = units;
    this.fields = [];
  }

  /** Return the field whose value is at a pointer, or holds what is there; undefined when none is on the page. */
  field(text) {
    const shown = this.fields.filter((each) => each.element.isConnected);
    return (
      shown.find((each) => each.pointer === text || (each.tag && `${each.pointer}/${each.tag}` === text)) ??
      shown.find((each) => each.kind.kind === "list" && text.startsWith(`${each.pointer}/`))
    );
  }

  /** Make the field of a property, or the fields that it is made of. */
  part(node, base, way, how = {}) {
    const kind = this.contract.kind(node);
    if (kind.kind === "group")
      return kind.nullable ? this._perhaps(kind, base, way, how) : this._group(kind, base, way);
    if (kind.kind === "union") return this._union(kind, base, way, how);
    if (kind.kind === "list" && kind.items.kind === "group") return this._list(kind, base, way);
    return this.single(kind, base, way, how).element;
  }

  /** Make one field. A list of lengths is one, with a line for each. */
  single(kind, base, way, how = {}) {
    const lines = kind.kind === "list" && kind.items.kind === "length";
    const own = kind.kind === "list" && !lines ? { ...kind, kind: "json" } : kind;
    const hint = lines ? { hint: `${told(kind.description)} One to a line.` } : {};
    const field = new Field(this.sheet, { base, way }, own, { units: this.units, ...hint, ...how }, this.changed);
    this.fields.push(field);
    return field;
  }

  /** Make the fields of an object's properties, without those that are shown elsewhere. */
  inside(schema, base, way, without = []) {
    const names = Object.keys(schema.properties ?? {}).filter((name) => !without.includes(name));
    const constant = (name) => this.contract.resolved(schema.properties[name]).const !== undefined;
    return names
      .filter((name) => !constant(name))
      .map((name) =>
        this.part(schema.properties[name], base, way + pointer(name), { required: schema.required?.includes(name) }),
      );
  }

  _group(kind, base, way) {
    return this._named(way, ...this.inside(kind.schema, base, way));
  }

  _named(way, ...children) {
    return make("fieldset", {}, make("legend", {}, title(way.split("/").pop())), ...children);
  }

  /** An object that may be there or not: what it is made of is asked for when it is. */
  _perhaps(kind, base, way, how) {
    const absent = meaningOfNull(kind.description) || "not said";
    const unset = kind.default === undefined;
    const choices = [
      ["", worded(unset ? "not said" : absent)],
      ...(unset ? [["null", worded(absent)]] : []),
      ["{}", how.yes ?? "Yes"],
    ];
    const inner = make("div", { class: "inner" });
    const show = (text) => inner.replaceChildren(...(text === "{}" ? this.inside(kind.schema, base, way) : []));
    const read = () => {
      const value = this.sheet.get(base.pointer + way);
      return value === undefined ? "" : value === null ? (unset ? "null" : "") : "{}";
    };
    const write = (text) => this.sheet.set(base.pointer + way, text === "" ? undefined : JSON.parse(text));
    return this._chosen(kind, base, way, { ...how, choices, read, write, show }, inner);
  }

  /** One of several kinds, each with its own fields. */
  _union(kind, base, way, how) {
    const tag = kind.schema.discriminator.propertyName;
    const called = how.called ?? worded;
    const choices = Object.keys(kind.schema.discriminator.mapping).map((each) => [each, called(each)]);
    if (kind.nullable) choices.unshift(["", worded(meaningOfNull(kind.description) || "not said")]);
    const inner = make("div", { class: "inner" });
    const show = (text) => {
      const schema = this.contract.variant(kind, text);
      inner.replaceChildren(...(schema ? this.inside(schema, base, way, [tag]) : []));
    };
    const read = () => this.sheet.get(base.pointer + way)?.[tag] ?? "";
    const write = (text) => this.sheet.set(base.pointer + way, text === "" ? undefined : { [tag]: text });
    return this._chosen(kind, base, way, { ...how, tag, choices, read, write, show }, inner);
  }

  /** A select that says which fields follow. What was typed under one choice is there again when it is chosen again. */
  _chosen(kind, base, way, how, inner) {
    const before = new Map();
    const sheet = {
      get: () => how.read(),
      set: (_, text) => {
        before.set(how.read(), this.sheet.get(base.pointer + way));
        if (before.get(text) !== undefined) this.sheet.set(base.pointer + way, before.get(text));
        else how.write(text ?? "");
        how.show(text ?? "");
      },
    };
    const plain = {
      kind: "choice",
      description: kind.description,
      schema: { enum: how.choices.map(([each]) => each) },
    };
    const own = { label: how.label, hint: how.hint, choices: how.choices, required: true };
    const field = new Field(sheet, { base, way }, plain, own, this.changed);
    this.fields.push(field);
    field.tag = how.tag;
    how.show(how.read());
    return make("div", { class: "chosen" }, field.element, inner);
  }

  _list(kind, base, way) {
    const items = make("div", { class: "inner" });
    const where = () => base.pointer + way;
    const show = () => {
      const given = this.sheet.get(where());
      items.replaceChildren(...(Array.isArray(given) ? given : []).map((_, index) => entry(index)));
    };
    const entry = (index) =>
      make(
        "fieldset",
        {},
        make("legend", {}, `${title(way.split("/").pop())}, ${index + 1}`),
        ...this.inside(kind.items.schema, base, way + pointer(index)),
        button("Take this one out", () => {
          this.sheet.set(where() + pointer(index), undefined);
          show();
          this.changed();
        }),
      );
    const add = button(`Add to ${title(way.split("/").pop()).toLowerCase()}`, () => {
      const given = this.sheet.get(where());
      this.sheet.set(where(), [...(Array.isArray(given) ? given : []), {}]);
      show();
      items.lastElementChild?.querySelector("input, select")?.focus();
      this.changed();
    });
    const hint = make("p", { class: "hint", id: freshId() }, told(kind.description));
    add.setAttribute("aria-describedby", hint.id);
    show();
    return this._named(way, hint, items, add);
  }

  /** Make a part of the form that is opened when it is wanted. */
  foldedAway(text, ...children) {
    const inner = make("div", { class: "inner" }, ...children);
    return disclosure(text, inner);
  }
}
