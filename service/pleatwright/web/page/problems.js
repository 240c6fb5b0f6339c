// What is wrong with the job: each fault beside the field that it concerns, and all of them in a list.

import { inJob, placeIn } from "./asking.js";
import { button, make, named } from "./dom.js";

/**
 * Show the faults of a reply.
 * @param {HTMLElement} holder
 * @param {import("./service.js").Refused} refused
 * @param {{job: any, places: number[], form: any, sheet: any, goTo: (pointer: string) => void, changed: () => void}} given
 */
export function showProblems(holder, refused, given) {
  const { job, places, form, sheet } = given;
  const rows = refused.errors.map((fault) => {
    const pointer = inJob(fault.pointer, places);
    const field = form.field(pointer);
    if (field) {
      field.blame(fault.detail);
      reveal(field);
    }
    const where = placeIn(job, pointer);
    const elsewhere = /^\/windows\/[0-9]+/.test(pointer) && !field;
    const there = sheet.get(pointer) !== undefined && !field;
    return make(
      "li",
      {},
      field ? button(where, () => field.control.focus(), { class: "link" }) : make("strong", {}, named(where)),
      `: ${fault.detail}. `,
      elsewhere && button("Go there", () => given.goTo(pointer), { class: "link" }),
      there && button("Take it out", () => takeOut(given, pointer), { class: "link" }),
    );
  });
  const heading = make("h2", {}, rows.length > 1 ? `${rows.length} things to put right` : "To put right");
  holder.replaceChildren(heading, rows.length ? make("ul", {}, ...rows) : make("p", {}, refused.message));
  holder.hidden = false;
}

/** Take away what was said of faults. */
export function clearProblems(holder, form) {
  holder.replaceChildren();
  holder.hidden = true;
  for (const field of form.fields) field.blame("");
}

function takeOut({ sheet, changed }, pointer) {
  sheet.set(pointer, undefined);
  changed();
}

/** Open whatever hides a field. */
export function reveal(field) {
  for (let part = field.element.closest("details"); part; part = part.parentElement.closest("details"))
    part.open = true;
}
