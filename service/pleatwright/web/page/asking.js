// What is asked of the service: the windows that are complete, as many as it takes at once.

import { at, holds, own, steps } from "./pointers.js";
import { title } from "./words.js";

const given = (value) => value !== undefined && value !== null && value !== "";

/** Return the names of what a window cannot do without and does not have. */
export function lacking(job, index) {
  const window = job.windows[index];
  const lacks = [];
  const hang = window.hang ?? {};
  const fabric = cloth(job, window.fabric);
  if (!given(at(window, "/rod/width")) && !at(window, "/rod/runs")?.length) lacks.push("rod width");
  if (![hang.drop, hang.carrying_height, hang.mount?.height, window.behind].some(given)) lacks.push("drop or height");
  if (!given(window.fabric)) lacks.push("cloth");
  // The name that every new window has is no cloth of anybody's.
  else if (window.fabric === "Cloth" && !given(fabric?.width))
    lacks.push("cloth width, or the name of a cloth in the rate book");
  return lacks;
}

/** Return what the job says of a cloth. */
export function cloth(job, name) {
  return holds(job.fabrics) && Object.hasOwn(job.fabrics, name) ? job.fabrics[name] : undefined;
}

/** Return what a window is called. */
export function label(job, index) {
  const name = job.windows[index].label;
  return typeof name === "string" && name.trim() ? name : `Window ${index + 1}`;
}

/**
 * What is sent of a job, and where in the job each of its windows stands.
 * @typedef {Object} Asked
 * @property {any} body
 * @property {number[]} places
 * @property {number[]} leftOut windows that are not complete
 * @property {number} most windows that are worked out at once
 */

/** @returns {Asked} */
export function asked(job, current, contract) {
  const most = contract.property("EstimateRequest", "windows").maxItems ?? job.windows.length;
  const first = Math.floor(current / most) * most;
  const block = job.windows.map((_, index) => index).slice(first, first + most);
  const places = block.filter((index) => !lacking(job, index).length);
  const leftOut = block.filter((index) => !places.includes(index));
  const windows = places.map((index, place) => sent(job, index, place));
  // A copy, so that what is typed while the service works on it is no part of what was asked.
  const body = structuredClone({ ...job, windows, ...fabrics(job, leftOut, windows) });
  return { body, places, leftOut, most };
}

/** A window as it is sent: called by its number in the job, and with no hang of its own behind another's over-drapery. */
function sent(job, index, place) {
  const window = { ...job.windows[index] };
  if (index !== place && !given(window.label)) window.label = label(job, index);
  if (given(window.behind) && bare(window.hang)) delete window.hang;
  return window;
}

const bare = (value) => holds(value) && !Array.isArray(value) && !Object.keys(value).length;

function fabrics(job, leftOut, windows) {
  if (!holds(job.fabrics)) return {};
  const wanted = new Set(windows.map((window) => window.fabric));
  const waiting = new Set(leftOut.map((index) => job.windows[index].fabric));
  const sent = {};
  for (const [name, value] of Object.entries(job.fabrics)) {
    if (!bare(value) && (wanted.has(name) || !waiting.has(name))) own(sent, name, value);
  }
  return { fabrics: sent };
}

/** Say what the figures wait for, and which windows they are of. */
export function waitingFor(job, current, { leftOut, most }) {
  const lacks = lacking(job, current);
  const words = lacks.length ? [`Still to be typed: ${lacks.join("; ")}.`] : [];
  const others = leftOut.filter((index) => index !== current).map((index) => label(job, index));
  if (others.length) words.push(`Not complete, and left out of the whole job's figures: ${others.join(", ")}.`);
  if (job.windows.length > most) {
    const first = Math.floor(current / most) * most;
    const last = Math.min(first + most, job.windows.length);
    words.push(
      `Up to ${most} windows are worked out at once: orders and price are of windows ${first + 1} to ${last}.`,
    );
  }
  return words;
}

/** Return the pointer in the job of a pointer in what was sent. */
export function inJob(pointer, places) {
  const found = /^\/windows\/([0-9]+)(.*)$/s.exec(pointer);
  return found && places[found[1]] !== undefined ? `/windows/${places[found[1]]}${found[2]}` : pointer;
}

/** Return a pointer's place in words, with its window by name. */
export function placeIn(job, pointer) {
  const [first, second, ...others] = steps(pointer);
  const words = (list) => list.map((each) => (/^[0-9]+$/.test(each) ? Number(each) + 1 : title(each))).join(", ");
  if (first === "windows" && job.windows[second])
    return [label(job, Number(second)), words(others)].filter(Boolean).join(": ");
  if (first === "fabrics" && second !== undefined) return [second, words(others)].filter(Boolean).join(": ");
  return words(first === undefined ? ["The job"] : [first, ...(second === undefined ? [] : [second]), ...others]);
}
