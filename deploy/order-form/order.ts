// Prices a window while the customer types. The service works it out; the page keeps no arithmetic of its own.

import createClient from "openapi-fetch";
import type { components, paths } from "./contract.js";
import { assumedInWords, depends, money, range, tax } from "./words.js";

type Schemas = components["schemas"];

const PAUSE = 300; // milliseconds without a key before a price is asked for
const UNREACHED = "Prices cannot be worked out from this page just now. Please try again, or ring the shop.";

const part = <Kind extends HTMLElement>(id: string): Kind => document.getElementById(id) as Kind;
const form = document.querySelector("form") as HTMLFormElement;
const style = part<HTMLSelectElement>("style");
const { service: baseUrl = "", key } = form.dataset;
const service = createClient<paths>({ baseUrl, headers: key ? { Authorization: `Bearer ${key}` } : {} });
const summaries = new Map<string, string>();
let asking = new AbortController();
let pause: ReturnType<typeof setTimeout>;

function job(): Schemas["EstimateRequest"] {
  const given = new FormData(form);
  const [width, drop, cloth] = ["width", "drop", "cloth"].map((name) => String(given.get(name)).trim());
  // The list of styles gives names as texts, the request takes the names known when the contract was read.
  const heading = { style: style.value } as Schemas["Window"]["heading"];
  const window = { rod: { width: width! }, hang: { drop: drop! }, heading, fabric: cloth! };
  return { units: given.get("units") as Schemas["Units"], windows: [window] };
}

async function fillStyles(signal: AbortSignal): Promise<Schemas["Problem"] | undefined> {
  const { data, error } = await service.GET("/v1/headings", { signal });
  for (const each of data?.headings ?? []) {
    summaries.set(each.style, each.summary);
    style.add(new Option(each.label, each.style));
  }
  return error;
}

async function ask(): Promise<void> {
  const { signal } = (asking = new AbortController());
  try {
    const problem = style.length ? undefined : await fillStyles(signal);
    part("style-hint").textContent = summaries.get(style.value) ?? "";
    if (problem || !form.checkValidity()) {
      return show(undefined, problem, "Give a width and a drop, and the price comes here.");
    }
    const { data, error } = await service.POST("/v1/estimate", { body: job(), signal });
    show(data, error);
  } catch {
    // A question that the customer has typed past ends here too, and is nothing to tell.
    if (!signal.aborted) show(undefined, undefined, UNREACHED);
  }
}

function show(reply?: Schemas["EstimateReply"], problem?: Schemas["Problem"], otherwise = UNREACHED): void {
  const elsewhere = showFaults(problem?.errors ?? []);
  const beside = problem?.errors?.length && !elsewhere.length ? "No price yet: see the field marked." : undefined;
  const unpriced = reply?.cautions.find((caution) => caution.kind === "not-priced")?.detail;
  const price = reply?.price;
  part("total").textContent = price ? money(price.total, price.currency) : "";
  part("range").textContent = price ? range(price) : "";
  part("said").textContent = price ? tax(price) : (unpriced ?? beside ?? elsewhere[0] ?? problem?.detail ?? otherwise);
  part("price").ariaBusy = "false";
  part("told").hidden = !price;
  const told = (reply?.assumed ?? []).map((each) => assumedInWords(each, reply!.units));
  list("assumed", told.filter((each) => each.theirs).map((each) => each.text));
  list("usual", told.filter((each) => !each.theirs).map((each) => each.text));
  const cautions = reply ? [...reply.windows.flatMap((window) => window.cautions), ...reply.cautions] : [];
  list("cautions", cautions.map((caution) => caution.detail));
  part("depends").textContent = price ? depends(price) : "";
  part("edition").textContent = price ? `Prices: ${price.edition}` : "";
}

/** Put each fault beside the field that its pointer leads to, and return those that lead to none. */
function showFaults(faults: Schemas["ProblemFault"][]): string[] {
  const left = new Set(faults);
  for (const field of form.querySelectorAll<HTMLInputElement>("[data-at]")) {
    const own = faults.filter((fault) => `${fault.pointer}/`.startsWith(`${field.dataset.at}/`));
    own.forEach((fault) => left.delete(fault));
    part(`${field.id}-wrong`).textContent = own.map((fault) => fault.detail).join("; ");
    field.ariaInvalid = String(own.length > 0);
  }
  return [...left].map((fault) => fault.detail);
}

function list(id: string, texts: string[]): void {
  const items = texts.map((text) => Object.assign(document.createElement("li"), { textContent: text }));
  part(id).replaceChildren(...items);
}

form.addEventListener("input", () => {
  asking.abort();
  clearTimeout(pause);
  part("price").ariaBusy = "true";
  pause = setTimeout(ask, PAUSE);
});
void ask();
