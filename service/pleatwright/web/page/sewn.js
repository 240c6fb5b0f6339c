// A panel measured as sewn: its marks figured again from what the table shows, and what moved.

import { button, labelled, make, select, table } from "./dom.js";
import { usualSheet } from "./drawings.js";
import { layoutRows, seamsOf } from "./figures.js";
import { Form } from "./form.js";
import { length } from "./lengths.js";
import { Sheet } from "./pointers.js";
import { worded } from "./words.js";

export class AsSewn {
  /** @param {HTMLElement} holder */
  constructor(holder, contract, service) {
    this._holder = holder;
    this._contract = contract;
    this._service = service;
    this._panel = 0;
    this._planned = "";
  }

  /** Offer the panels of a window to be measured; what was typed stays while the plan is the same. */
  show(asked, window, units) {
    this._asked = asked;
    const plan = JSON.stringify([window, units]);
    if (plan === this._planned) return;
    this._planned = plan;
    this._window = window;
    this._units = units;
    this._panel = Math.min(this._panel, window.panels.length - 1);
    this._offer();
  }

  _offer() {
    const panel = this._window.panels[this._panel];
    this._sheet = new Sheet({});
    this._form = new Form(this._contract, this._sheet, () => {}, this._units);
    const kind = this._contract.kind(this._contract.property("PleatsRequest", "flat_width"));
    const base = { pointer: "" };
    const measure = (way, label, planned) =>
      this._form.single(kind, base, way, {
        label,
        hint: `Planned: ${length(planned, this._units)}. Left empty: as planned.`,
      }).element;
    const sides = this._window.panels.map((each, index) => [String(index), worded(each.side)]);
    this._said = make("div", { role: "status" });
    this._result = make("div");
    this._holder.replaceChildren(
      ...(sides.length > 1
        ? [
            labelled(
              "Panel measured",
              select(sides, String(this._panel), (at) => this._turn(Number(at))),
            ),
          ]
        : []),
      make(
        "div",
        { class: "first" },
        measure("/flat_width", "Flat width, as sewn", panel.flat_width),
        ...panel.seams.map((seam, index) =>
          measure(`/seams/${index}`, `Seam ${index + 1}, from the leading edge`, seam.at),
        ),
      ),
      button("Figure the marks again", () => this._figure(panel), { class: "main" }),
      this._said,
      this._result,
    );
  }

  _turn(panel) {
    this._panel = panel;
    this._offer();
    this._holder.querySelector("select")?.focus();
  }

  async _figure(panel) {
    // What comes back is of these measurements, whatever is offered by then.
    const { _form: form, _said: said, _result: result } = this;
    for (const field of form.fields) field.blame("");
    said.textContent = "";
    try {
      const body = this._body(panel);
      const reply = await this._service.json("v1/pleats", body);
      result.replaceChildren(this._taped(body, panel.side), ...told(reply, this._units));
      said.textContent = reply.as_sewn.within_tolerance ? "Within tolerance." : "Not within tolerance.";
    } catch (error) {
      result.replaceChildren();
      const rest = (error.errors ?? []).filter((fault) => {
        const field = form.field(fault.pointer);
        field?.blame(fault.detail);
        return !field;
      });
      const lines = rest.map((fault) => make("p", { class: "fault" }, `${fault.detail}.`));
      const all = error.errors?.length ? "Put right what is marked." : error.message;
      said.replaceChildren(...(lines.length ? lines : [make("p", { class: "fault" }, all)]));
    }
  }

  /** Offer the tape of what was measured: that of the job is of the plan. */
  _taped(body, side) {
    const said = make("p", { role: "status" });
    const give = async () => {
      said.textContent = "Making the marking tape…";
      const query = new URLSearchParams({ side, sheet: usualSheet(this._units) });
      try {
        const tape = await this._service.paper(`v1/pleats?${query}`, body, "application/pdf");
        const address = URL.createObjectURL(tape);
        make("a", { href: address, download: "marking-tape-as-sewn.pdf" }).click();
        setTimeout(() => URL.revokeObjectURL(address), 1000);
        said.textContent = "Saved as marking-tape-as-sewn.pdf.";
      } catch (error) {
        said.textContent = error.message;
      }
    };
    return make(
      "div",
      {},
      make("p", {}, "The ticket and the tape of the job are of the plan. This panel, as it was sewn, has a tape of its own:"),
      button("Marking tape as sewn, as PDF", give),
      said,
    );
  }

  _body(panel) {
    const window = this._asked;
    const body = {
      units: this._units,
      heading: window.heading,
      flat_width: this._sheet.get("/flat_width") ?? panel.flat_width,
      finished_width: panel.finished_width,
      overlap: panel.overlap,
      return: panel.return,
      leading_return: panel.leading_return,
      seams: panel.seams.map((seam, index) => this._sheet.get(`/seams/${index}`) ?? seam.at),
      planned: { flat_width: panel.flat_width, seams: panel.seams.map((seam) => seam.at) },
    };
    for (const name of ["pleat_count", "mark"]) if (window[name] !== undefined) body[name] = window[name];
    return body;
  }
}

function told(reply, units) {
  const { as_sewn: sewn } = reply;
  const size = (value) => length(value, units);
  const off = (value) => (value > 0 ? `+${size(value)}` : size(value));
  const beside = (value) =>
    value ? `${size(Math.abs(value))} ${value > 0 ? "more" : "less"} than planned` : "as planned";
  const rows = [
    ["Flat width", beside(sewn.flat_width_off)],
    ...sewn.seams_off.map((value, index) => [`Seam ${index + 1}`, beside(value)]),
    ["Tolerance", `${size(sewn.tolerance)} either way: ${sewn.within_tolerance ? "within it" : "not within it"}`],
    ...layoutRows(reply, units),
    ["Seams", seamsOf(reply.seams)],
  ];
  const moved = sewn.moved.map((each) => [
    `${worded(each.kind)}${each.number === undefined ? "" : ` ${each.number}`} ends`,
    size(each.planned),
    size(each.end),
    off(each.by),
  ]);
  return [
    table("As sewn", null, rows),
    ...(moved.length
      ? [table("What moved", ["Mark", "Planned", "Now", "By"], moved)]
      : [make("p", {}, "No mark moved.")]),
    ...reply.cautions
      .filter((each) => each.kind === "seam-shows")
      .map((each) => make("p", { class: "look" }, each.detail)),
  ];
}
