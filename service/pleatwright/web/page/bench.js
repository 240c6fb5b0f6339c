// The bench: the job at hand, asked of the service whenever it changes, and shown.

import { asked, waitingFor } from "./asking.js";
import { comparing } from "./compare.js";
import { Contract } from "./contract.js";
import { button } from "./dom.js";
import { Drawings, Papers } from "./drawings.js";
import { Form } from "./form.js";
import { freshJob, keep, kept } from "./job.js";
import { keyField } from "./key.js";
import { pointer, Sheet } from "./pointers.js";
import { telling, told } from "./progress.js";
import { clearProblems, reveal, showProblems } from "./problems.js";
import { showHeadline, showResults, spoken, tally } from "./results.js";
import { Refused, Service } from "./service.js";
import { AsSewn } from "./sewn.js";
import { clothsOf, stylesOf } from "./styles.js";
import { Tabs } from "./tabs.js";
import { jobTools, windowTools } from "./tools.js";
import { windowForm } from "./window.js";

const [SHORTEST, LONGEST] = [300, 2000]; // milliseconds without typing before the figures are asked for
const ONWARD = [
  ["print", "Print"],
  ["compare", "Compare"],
  ["sewn", "As sewn"],
];
const part = (id) => document.getElementById(id);
const inside = (id) => part(id).querySelector(".inner");

class Bench {
  constructor(service, contract, { styles, cloths }) {
    Object.assign(this, { service, contract, styles, cloths, current: 0, sent: null, pause: SHORTEST });
    this.sheet = new Sheet(kept() ?? freshJob());
    this.tabs = new Tabs(part("windows"), part("window"), (index) => this.goTo(index));
    this.drawings = new Drawings(part("drawing"), service);
    this.sewn = new AsSewn(inside("sewn"), contract, service);
    this.key = keyField(part("key"), (key) => this.useKey(key));
    this.papers = new Papers(inside("print"), service, () => this.latest());
    for (const [id, words] of ONWARD) part("onward").append(button(words, () => onward(part(id))));
    const now = () => ({ job: this.job, index: this.current });
    this.forgetWays = comparing(inside("compare"), {
      contract,
      service,
      styles,
      now,
      take: (changes) => this.change(changes),
    });
    this.units = jobTools(part("job-tools"), this);
    windowTools(part("window-tools"), part("window"), this);
  }

  get job() {
    return this.sheet.root;
  }

  /** Take another job in hand; the one before can be had back. */
  putAside(text, job) {
    const before = { job: this.job, current: this.current };
    this.take(job, Math.min(this.current, job.windows.length - 1));
    this.say(
      `${text} `,
      button("Bring back what was here", () => {
        this.take(before.job, before.current);
        this.say("It is back.");
      }),
    );
  }

  /** Change the window at hand, by pointers within it. */
  change(changes) {
    const changed = new Sheet(structuredClone(this.job));
    for (const [at, value] of changes) changed.set(pointer("windows", this.current) + at, value);
    this.putAside("The window is made that way now.", changed.root);
  }

  take(job, current) {
    this.sheet.root = job;
    this.current = current;
    this.show();
    this.changed();
  }

  say(...words) {
    part("aside").replaceChildren(...words);
  }

  goTo(index, place) {
    this.current = index;
    this.forgetWays();
    this.show();
    this.work();
    const field = place && this.form.field(place);
    if (!field) return;
    reveal(field);
    field.control.focus();
  }

  /** Show the forms of the job and of the window at hand. */
  show() {
    this.units.value = this.job.units;
    this.form = windowForm(part("window"), {
      contract: this.contract,
      sheet: this.sheet,
      index: this.current,
      styles: this.styles,
      cloths: this.cloths,
      changed: () => this.changed(),
    });
    this.tabs.show(this.job, this.current);
    const whole = new Form(this.contract, this.sheet, () => this.changed(), this.job.units);
    whole.fields = this.form.fields;
    inside("whole").replaceChildren(
      ...whole.inside(this.contract.schema("EstimateRequest"), { pointer: "" }, "", ["units", "windows", "fabrics"]),
    );
  }

  changed() {
    keep(this.job);
    this.forgetWays();
    this.tabs.rename(this.job, this.current);
    this.busy(true);
    clearTimeout(this.soon);
    this.soon = setTimeout(() => this.work(), this.pause);
  }

  /** Ask for the figures of the job as it is now; whatever was asked before no longer counts. */
  async work() {
    clearTimeout(this.soon);
    clearTimeout(this.later);
    this.soon = null;
    this.before?.abort();
    const { signal } = (this.before = new AbortController());
    const request = asked(this.job, this.current, this.contract);
    this.wait(request);
    const began = performance.now();
    if (request.places.length) await this.ask(request, signal);
    else {
      clearProblems(part("problems"), this.form);
      this.sent = null;
      this.stale(true);
    }
    if (signal.aborted) return;
    told(part("going"));
    // A job that takes the service long is not asked for at every stroke.
    this.pause = Math.min(Math.max(performance.now() - began, SHORTEST), LONGEST);
    // Something may have been typed meanwhile, that is yet to be asked.
    this.busy(this.soon !== null);
  }

  /** Return what was asked for the job as it is now, and which of its windows is at hand; undefined without figures. */
  async latest() {
    if (part("figures").getAttribute("aria-busy") === "true") await this.work();
    return this.sent && { body: this.sent.body, window: this.sent.places.indexOf(this.current) + 1 };
  }

  async ask(request, signal) {
    try {
      const reply = await this.service.told("v1/estimate", request.body, telling(part("going")), signal);
      clearProblems(part("problems"), this.form);
      this.sent = request;
      this.answered(reply, request);
    } catch (error) {
      if (error.name === "AbortError") return;
      if (!(error instanceof Refused)) throw error;
      this.refused(error, request);
    }
  }

  answered(reply, { body, places }) {
    const at = places.indexOf(this.current);
    this.key.done();
    for (const id of ["after", "worked-out", "tally", "onward"]) part(id).hidden = at < 0;
    this.stale(at < 0);
    if (at < 0) return;
    const window = reply.windows[at];
    tally(part("tally"), reply, window);
    showHeadline(part("headline"), reply, window, this.styles);
    showResults(part("results"), { reply, at, index: this.current, places });
    this.drawings.show(body, at, window.panels);
    this.papers.usual(reply.units);
    this.sewn.show(body.windows[at], window, reply.units);
    part("said").textContent = spoken(reply, window);
  }

  refused(error, request) {
    clearProblems(part("problems"), this.form);
    this.sent = null;
    this.stale(true);
    if (error.status === 401) this.key.ask(error.message);
    if (error.wait) this.later = setTimeout(() => this.work(), error.wait * 1000);
    showProblems(part("problems"), error, {
      job: this.job,
      places: request.places,
      form: this.form,
      sheet: this.sheet,
      goTo: (place) => this.goTo(Number(place.split("/")[2]), place),
      changed: () => {
        this.show();
        this.changed();
      },
    });
    part("said").textContent = `To put right: ${error.message}`;
  }

  /** Say what the figures wait for, and which windows they are of. */
  wait(request) {
    const words = waitingFor(this.job, this.current, request);
    part("waiting").textContent = words.join(" ");
    part("waiting").hidden = !words.length;
  }

  /** Say whether figures are on their way. */
  busy(yes) {
    part("figures").setAttribute("aria-busy", String(yes));
  }

  /** Say whether the figures shown are of the job before its last change. */
  stale(old) {
    for (const id of ["tally", "worked-out"]) part(id).classList.toggle("stale", old);
    part("old").hidden = !old || part("worked-out").hidden;
  }

  async useKey(key) {
    this.service.use(key);
    this.key.done();
    if (!this.styles.size) {
      const { styles, cloths } = await installed(this.service);
      for (const [name, style] of styles) this.styles.set(name, style);
      this.cloths = cloths;
    }
    this.show();
    this.work();
  }
}

/** Open what a summary hides, and go there. */
function onward(details) {
  details.open = true;
  details.scrollIntoView();
  details.querySelector("summary").focus();
}

/** Return what the service has: its styles, and the cloths of its rate book; none while it wants a key. */
async function installed(service) {
  try {
    return { styles: await stylesOf(service), cloths: await clothsOf(service) };
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    return { styles: new Map(), cloths: [] };
  }
}

async function begin() {
  const service = new Service();
  try {
    const contract = new Contract(await service.json("openapi.json"));
    const bench = new Bench(service, contract, await installed(service));
    bench.show();
    bench.work();
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    part("waiting").textContent = error.message;
  }
}

begin();
