// Single fields: a label, a control, what to know of it, and a place for what is wrong with it.

import { freshId, make } from "./dom.js";
import { meaningOfNull, title, told, worded } from "./words.js";

const NUMBER = /^-?[0-9]+(\.[0-9]+)?$/;

/**
 * @typedef {Object} Place where a field's value is: a base that may move, and what is added to it
 * @property {{pointer: string}} base
 * @property {string} way
 */

export class Field {
  /**
   * @param {import("./pointers.js").Sheet} sheet
   * @param {Place} place
   * @param {import("./contract.js").Kind} kind
   * @param {{label?: string, hint?: string, units?: string, required?: boolean, settled?: boolean, choices?: [string, string][]}} how
   * @param {() => void} changed
   */
  constructor(sheet, place, kind, how, changed) {
    this.sheet = sheet;
    this.place = place;
    this.kind = kind;
    this.how = how;
    this.name = place.way.split("/").pop();
    this.label = how.label ?? title(this.name);
    this.control = this._control();
    this.control.id = freshId();
    this.fault = make("p", { class: "fault", id: `${this.control.id}-fault`, hidden: true });
    const hint = how.hint ?? told(kind.description);
    this.hint = hint && make("p", { class: "hint", id: `${this.control.id}-hint` }, hint);
    this._describe();
    this.control.addEventListener(this._event, () => {
      this.sheet.set(this.pointer, this._read());
      changed();
    });
    this.element = this._element();
    this.refresh();
  }

  get pointer() {
    return this.place.base.pointer + this.place.way;
  }

  /** Show what the sheet has. */
  refresh() {
    this._show(this.sheet.get(this.pointer));
  }

  /** Say what is wrong with it; nothing for "". */
  blame(text) {
    this.fault.textContent = text;
    this.fault.hidden = !text;
    if (text) this.control.setAttribute("aria-invalid", "true");
    else this.control.removeAttribute("aria-invalid");
    this._describe();
  }

  _describe() {
    const ids = [this.fault.textContent && this.fault.id, this.hint && this.hint.id].filter(Boolean);
    if (ids.length) this.control.setAttribute("aria-describedby", ids.join(" "));
    else this.control.removeAttribute("aria-describedby");
  }

  get _event() {
    // A name that others go by is taken when it is finished, so that no half of it is.
    if (this.how.settled) return "change";
    return ["text", "number", "length", "json", "list"].includes(this.kind.kind) ? "input" : "change";
  }

  _control() {
    const plain = { autocomplete: "off", spellcheck: "false" };
    switch (this.kind.kind) {
      case "switch":
        return make("input", { type: "checkbox" });
      case "choice":
        return make("select");
      case "list":
        return make("textarea", { rows: "3", ...plain });
      case "number":
        return make("input", { type: "text", inputmode: "decimal", ...plain });
      case "text":
        return make("input", { type: "text", dir: "auto", maxlength: this.kind.schema.maxLength, ...plain });
      default:
        return make("input", { type: "text", ...plain });
    }
  }

  _element() {
    const label = make("label", { for: this.control.id }, this.label);
    if (this.kind.kind === "length" && this.how.units)
      label.append(" ", make("span", { class: "unit" }, `(${this.how.units})`));
    if (this.kind.kind === "switch") {
      const row = make("div", { class: "switch" }, this.control, label);
      return make("div", { class: "field" }, row, this.fault, this.hint);
    }
    return make("div", { class: "field" }, label, this.control, this.fault, this.hint);
  }

  _read() {
    const text = this.control.value;
    switch (this.kind.kind) {
      case "switch":
        return this.control.checked === this.kind.schema.default ? undefined : this.control.checked;
      case "choice":
        return this.control.value === "" ? undefined : JSON.parse(this.control.value);
      case "list": {
        const lines = text.split("\n").filter((line) => line.trim() !== "");
        return lines.length ? lines : undefined;
      }
      case "number":
        return text.trim() === "" ? undefined : NUMBER.test(text.trim()) ? Number(text) : text;
      case "json":
        return text.trim() === "" ? undefined : parsed(text);
      default:
        return text.trim() === "" ? undefined : text;
    }
  }

  _show(value) {
    if (this.kind.kind === "switch") {
      this.control.checked = typeof value === "boolean" ? value : this.kind.schema.default === true;
    } else if (this.kind.kind === "choice") {
      this.control.replaceChildren(...this._choices(value));
      this.control.value = value === undefined || value === null ? "" : JSON.stringify(value);
    } else if (this.kind.kind === "list" && Array.isArray(value)) {
      this.control.value = value.map(written).join("\n");
    } else {
      this.control.value = value === undefined || value === null ? "" : written(value);
    }
  }

  _choices(value) {
    const named = new Map(this.how.choices ?? []);
    const offered = this.kind.schema.enum.map((each) => [JSON.stringify(each), named.get(each) ?? worded(each)]);
    // What a file says that is no choice stays to be seen, and is the service's to refuse.
    const odd = JSON.stringify(value ?? null);
    if (value !== undefined && value !== null && !offered.some(([each]) => each === odd)) offered.unshift([odd, odd]);
    const usual = this.kind.schema.default ?? meaningOfNull(this.kind.description);
    if (!this.how.required) offered.unshift(["", usual ? `Usual: ${worded(usual).toLowerCase()}` : "Usual"]);
    return offered.map(([each, text]) => make("option", { value: each }, text));
  }
}

function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
}

function written(value) {
  return typeof value === "object" ? JSON.stringify(value) : String(value);
}
