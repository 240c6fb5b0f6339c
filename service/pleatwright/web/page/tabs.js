// The windows of the job as tabs: one stop of the keyboard, and the arrows go from one to the next.

import { lacking, label } from "./asking.js";
import { make, named } from "./dom.js";

export class Tabs {
  /**
   * @param {HTMLElement} holder
   * @param {HTMLElement} panel what the tabs show
   * @param {(index: number) => void} go
   */
  constructor(holder, panel, go) {
    this._holder = holder;
    this._panel = panel;
    this._go = go;
    holder.addEventListener("keydown", (event) => this._key(event));
  }

  /** Show the windows of a job, and which is at hand. */
  show(job, current) {
    const focused = this._holder.contains(document.activeElement);
    this._tabs = job.windows.map((_, index) => this._tab(job, index, index === current));
    this._holder.replaceChildren(...this._tabs);
    this._panel.setAttribute("aria-labelledby", this._tabs[current].id);
    if (focused) this._tabs[current].focus();
    this._tabs[current].scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  /** Show what a window is called now, without making the tabs anew. */
  rename(job, index) {
    const fresh = this._tab(job, index, true);
    this._tabs[index].replaceChildren(...fresh.childNodes);
    this._tabs[index].classList.toggle("lacks", lacking(job, index).length > 0);
  }

  _tab(job, index, chosen) {
    const lacks = lacking(job, index).length > 0;
    const tab = make(
      "button",
      {
        type: "button",
        role: "tab",
        id: `window-${index + 1}`,
        "aria-selected": String(chosen),
        "aria-controls": this._panel.id,
        tabindex: chosen ? "0" : "-1",
        class: lacks && "lacks",
      },
      named(label(job, index)),
      lacks && make("span", { class: "unseen" }, ", not complete"),
    );
    tab.addEventListener("click", () => this._go(index));
    return tab;
  }

  _key(event) {
    const here = this._tabs.indexOf(document.activeElement);
    const last = this._tabs.length - 1;
    const next = {
      ArrowRight: here === last ? 0 : here + 1,
      ArrowLeft: here === 0 ? last : here - 1,
      Home: 0,
      End: last,
    }[event.key];
    if (next === undefined || here < 0) return;
    event.preventDefault();
    this._go(next);
  }
}
