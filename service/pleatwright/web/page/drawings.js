// The drawings of the window at hand, each as the service makes it.

import { button, labelled, make, select } from "./dom.js";
import { worded } from "./words.js";

const DRAWINGS = [
  ["panel-flat", "Flat, with its marks"],
  ["panel-finished", "Finished"],
  ["heading", "Heading, from above"],
  ["hang", "On the wall"],
  ["cut-plan", "Cut plan"],
];

export class Drawings {
  /** @param {HTMLElement} holder */
  constructor(holder, service) {
    this._service = service;
    this._name = DRAWINGS[0][0];
    this._panel = 1;
    this._shown = null;
    this._panels = make("span");
    this._picture = make("img", { alt: "", hidden: true });
    this._said = make("p", { class: "hint", role: "status" });
    this._larger = make("a", { target: "_blank", rel: "noopener", hidden: true }, "Open it larger");
    const choice = select(DRAWINGS, this._name, (name) => this._choose(() => (this._name = name)));
    holder.append(
      make("div", { class: "row" }, labelled("Drawing", choice), this._panels),
      (this._sheet = make(
        "div",
        { class: "sheet", tabindex: "0", role: "region", "aria-label": "The drawing" },
        this._picture,
        this._said,
      )),
      this._larger,
    );
  }

  /** Draw a window of a job that was worked out. */
  show(body, window, panels) {
    this._shown = { body, window, panels };
    this._panel = Math.min(this._panel, panels.length);
    const sides = panels.map((panel, index) => [String(index + 1), worded(panel.side)]);
    const choose = (number) => this._choose(() => (this._panel = Number(number)));
    const focused = this._panels.contains(document.activeElement);
    this._panels.replaceChildren(
      ...(sides.length > 1 ? [labelled("Panel", select(sides, String(this._panel), choose))] : []),
    );
    if (focused) this._panels.querySelector("select")?.focus();
    this._draw();
  }

  _choose(change) {
    change();
    if (this._shown) this._draw();
  }

  async _draw() {
    this._before?.abort();
    this._sheet.setAttribute("aria-busy", "true");
    const { signal } = (this._before = new AbortController());
    const { body, window } = this._shown;
    const query = new URLSearchParams({ drawing: this._name, window: String(window + 1), panel: String(this._panel) });
    try {
      const svg = await this._service.paper(`v1/estimate?${query}`, body, "image/svg+xml", signal);
      this._put(svg, wordsOf(await svg.text()));
    } catch (error) {
      if (error.name === "AbortError") return;
      this._put(null, "");
      this._said.textContent = error.message;
    }
  }

  _put(svg, words) {
    this._sheet.setAttribute("aria-busy", "false");
    if (this._address) URL.revokeObjectURL(this._address);
    this._address = svg && URL.createObjectURL(svg);
    this._picture.hidden = this._larger.hidden = !svg;
    this._said.textContent = "";
    if (!svg) return;
    this._picture.src = this._larger.href = this._address;
    this._picture.alt = words;
  }
}

/** Return the title and the description of a drawing. */
function wordsOf(text) {
  const drawing = new DOMParser().parseFromString(text, "image/svg+xml");
  return ["title", "desc"]
    .map((name) => drawing.querySelector(name)?.textContent ?? "")
    .filter(Boolean)
    .join(". ");
}

/** Tickets and tapes, on paper. */
export class Papers {
  /**
   * @param {HTMLElement} holder
   * @param {() => Promise<?{body: any, window: number}>} latest the job as it was worked out, and the window at hand
   */
  constructor(holder, service, latest) {
    this._service = service;
    this._latest = latest;
    this._said = make("p", { role: "status", class: "said" });
    const sheets = [
      ["a4", "A4"],
      ["letter", "Letter"],
    ];
    this._of = select([["", "The whole job"], ["window", "This window"]], "", () => {});
    // What the maker has chosen stays, whatever the units.
    this._chosen = false;
    const choose = () => (this._chosen = true);
    this._sheet = select(sheets, usualSheet("in"), choose);
    this._roll = select([...sheets, ["roll", "Roll"]], usualSheet("in"), choose);
    holder.append(
      labelled("Papers of", this._of),
      make(
        "div",
        { class: "row" },
        labelled("Ticket on", this._sheet),
        button("Open the bench ticket", () => this._ticket("text/html")),
        button("Ticket as PDF", () => this._ticket("application/pdf")),
      ),
      make(
        "div",
        { class: "row" },
        labelled("Tape on", this._roll),
        button("Marking tape as PDF", () =>
          this._make({ paper: "tape", sheet: this._roll.value }, "application/pdf", "marking tape"),
        ),
      ),
      this._said,
    );
  }

  /** Offer the sheet that goes with units. */
  usual(units) {
    if (!this._chosen) this._sheet.value = this._roll.value = usualSheet(units);
  }

  _ticket(form) {
    const paper = form === "application/pdf" ? { paper: "ticket" } : {};
    return this._make({ ...paper, sheet: this._sheet.value }, form, "bench ticket");
  }

  async _make(query, form, name) {
    const latest = await this._latest();
    if (!latest) {
      this._said.textContent = "There is nothing to print yet: the figures come first.";
      return;
    }
    if (this._of.value) query.window = String(latest.window);
    this._said.textContent = `Making the ${name}…`;
    try {
      const made = await this._service.paper(`v1/estimate?${new URLSearchParams(query)}`, latest.body, form);
      if (this._address) URL.revokeObjectURL(this._address);
      this._address = URL.createObjectURL(made);
      // A browser's own reader of PDF may not work under the page's policy, which a blob is held to; its files do.
      const how =
        form === "application/pdf"
          ? { download: `${name.replace(" ", "-")}.pdf` }
          : { target: "_blank", rel: "noopener" };
      const link = make(
        "a",
        { href: this._address, ...how },
        how.download ? `Save the ${name} again` : `Open the ${name}`,
      );
      this._said.replaceChildren(`The ${name} is made. `, link);
      link.click();
    } catch (error) {
      this._said.textContent = error.message;
    }
  }
}

/** Letter is the sheet of North America where inches are counted in, A4 of everywhere else. */
export function usualSheet(units) {
  return units === "in" && /-(US|CA|MX)$/i.test(navigator.language) ? "letter" : "a4";
}
