// What is done with a whole job, and with its windows: begun, opened, saved, added to, taken from.

import { label } from "./asking.js";
import { button, labelled, make, select } from "./dom.js";
import { opening, save } from "./files.js";
import { freshJob, freshWindow, inUnits } from "./job.js";

const UNITS = [
  ["in", "inches"],
  ["cm", "centimetres"],
  ["mm", "millimetres"],
];

/**
 * Put what is done with a job on the page.
 * @param {HTMLElement} holder
 * @param {any} bench
 * @returns {HTMLSelectElement} the select of its units
 */
export function jobTools(holder, bench) {
  const file = make("input", { type: "file", accept: ".json,application/json", hidden: true, id: "file" });
  opening(
    file,
    (job) => bench.putAside("The job is open.", job),
    (why) => bench.say(why),
  );
  const example = bench.contract.examples("/v1/estimate").estimate?.value;
  const units = select(UNITS, bench.job.units, (chosen) => {
    inUnits(bench.job, chosen, bench.contract);
    bench.show();
    bench.changed();
    const [, words] = UNITS.find(([name]) => name === chosen);
    bench.say(
      `What you typed is as long as it was. What the job does not say, such as hems and returns, is what is usual in ${words}, so figures and price may differ a little.`,
    );
  });
  holder.append(
    labelled("Units", units),
    button("New job", () => bench.putAside("A new job.", freshJob())),
    button("Open", () => file.click()),
    file,
    button("Save", () => bench.say(`Saved as ${save(bench.job)}.`)),
    ...(example
      ? [button("Example", () => bench.putAside("An example, to look round.", structuredClone(example)))]
      : []),
  );
  return units;
}

/** Put what is done with windows on the page; `form` is where a new one is typed. */
export function windowTools(holder, form, bench) {
  const add = (window) => {
    bench.job.windows.push(window);
    bench.goTo(bench.job.windows.length - 1);
    bench.changed();
    form.querySelector("input")?.focus();
  };
  const copy = () => {
    const { label: _, ...others } = structuredClone(bench.job.windows[bench.current]);
    add(others);
  };
  const remove = () => {
    const { job, current } = bench;
    const rest = job.windows.toSpliced(current, 1);
    const windows = rest.length ? rest : [freshWindow()];
    bench.putAside(`${label(job, current)} is out of the job.`, { ...job, windows });
  };
  holder.append(
    button("Add a window", () => add(freshWindow(bench.job.windows[bench.current]))),
    button("Copy it", copy),
    button("Remove it", remove),
  );
}
