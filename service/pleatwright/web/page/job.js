// The job: the request itself, as it is saved to a file and sent, with whatever else a file had in it.

import { carried } from "./lengths.js";
import { holds, own } from "./pointers.js";

const UNITS = ["in", "cm", "mm"];
const KEPT = "pleatwright-job";

/** Return a window to begin with, with the style, the cloth and the making of another. */
export function freshWindow(like) {
  const {
    heading = { style: "three-fold-pinch" },
    fabric = "Cloth",
    fullness,
    make_up,
    lining,
  } = structuredClone(like ?? {});
  const taken = { rod: {}, hang: {}, heading, fabric, fullness, make_up, lining };
  return Object.fromEntries(Object.entries(taken).filter(([, value]) => value !== undefined));
}

/** Return a job with one window that nothing is said of. */
export function freshJob() {
  return { units: "in", windows: [freshWindow()], fabrics: {} };
}

/**
 * Read a job from the text of a file. What the service should judge is left to it.
 * Throws an Error whose message says why the text is no job.
 */
export function read(text) {
  let job;
  try {
    job = JSON.parse(text);
  } catch {
    throw new Error("This file is not JSON, so it is no job that was saved here.");
  }
  if (!holds(job) || Array.isArray(job))
    throw new Error("This file has no job in it: a job is an object with windows.");
  if (
    !Array.isArray(job.windows) ||
    !job.windows.length ||
    !job.windows.every((each) => holds(each) && !Array.isArray(each))
  ) {
    throw new Error("This file has no list of windows, so it is no job.");
  }
  return job;
}

/** Write a job as the text of a file. */
export function written(job) {
  return `${JSON.stringify(job, null, 2)}\n`;
}

/** Return a name for the file, of letters and figures only. */
export function fileName(job) {
  const name = String(job.job ?? "")
    .normalize("NFKD")
    .replaceAll(/[^A-Za-z0-9]+/g, "-")
    .replaceAll(/^-|-$/g, "");
  return `${name.slice(0, 60) || "job"}.json`;
}

/** Have the job counted in other units; every typed length stays what it is. */
export function inUnits(job, units, contract) {
  const from = job.units;
  job.units = units;
  if (!UNITS.includes(from)) return;
  const request = contract.schema("EstimateRequest");
  contract.lengths(request, { job }, "job", (holder, name) => own(holder, name, carried(holder[name], from, units)));
}

/** Keep the job until the browser's tab is closed. It has no price and no key in it. */
export function keep(job) {
  try {
    sessionStorage.setItem(KEPT, written(job));
  } catch {
    // A browser that keeps nothing is no reason to stop.
  }
}

/** Return the job that was kept; undefined when there is none. */
export function kept() {
  try {
    const text = sessionStorage.getItem(KEPT);
    return text ? read(text) : undefined;
  } catch {
    return undefined;
  }
}
