// Prices a window while the customer types. The service works it out; the page keeps no arithmetic of its own.

import createClient from "openapi-fetch";
import type { components, paths } from "./contract.js";
import { assumedInWords, depends, money, range, tax } from "./words.js";

type Schemas = components["schemas"];
type Json = "application/json" | "application/problem+json";

const PAUSE = 300; // milliseconds without a key before a price is asked for
const UNREACHED = "Prices cannot be worked out from this page just now. Please try again, or ring the shop.";

const part = <Kind extends HTMLElement>(id: string): Kind => document.getElementById(id) as Kind;
const form = document.querySelector("form") as HTMLFormElement;
const fields = [...form.querySelectorAll<HTMLElement>("[data-at]")];
const style = part<HTMLSelectElement>("style");
const { service: baseUrl = "", key } = form.dataset;
const service = createClient<paths, Json>({ baseUrl, headers: key ? { Authorization: `Bearer ${key}` } : {} });
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
    const unlisted = style.length ? undefined : await fillStyles(signal);
    if (unlisted) return refuse(unlisted);
    part("style-hint").textContent = summaries.get(style.value) ?? "";
    if (!form.checkValidity()) return show("Give a width and a drop, and the price comes here.");
    const { data, error } = await service.POST("/v1/estimate", { body: job(), signal });
    return error ? refuse(error) : show(data.price ? tax(data.price) : unpriced(data), [], data);
  } catch (error) {
    // What the customer has typed past ends here too, and is nothing to tell.
    if (signal.aborted) return;
    console.error(error);
    show(UNREACHED);
  }
}

function unpriced({ cautions }: Schemas["EstimateReply"]): string {
  return cautions.find((caution) => caution.kind === "not-priced")?.detail ?? UNREACHED;
}

function refuse({ detail, errors: faults = [] }: Schemas["Problem"]): void {
  const elsewhere = faults.find((fault) => !fields.some((field) => leadsTo(field, fault)));
  show(elsewhere?.detail ?? (faults.length ? "No price yet: see the field marked." : (detail ?? UNREACHED)), faults);
}

function leadsTo(field: HTMLElement, { pointer }: Schemas["ProblemFault"]): boolean {
  return `${pointer}/`.startsWith(`${field.dataset.at}/`);
}

function show(said: string, faults: Schemas["ProblemFault"][] = [], reply?: Schemas["EstimateReply"]): void {
  for (const field of fields) {
    const own = faults.filter((fault) => leadsTo(field, fault));
    part(`${field.id}-wrong`).textContent = own.map((fault) => fault.detail).join("; ");
    field.ariaInvalid = String(own.length > 0);
  }
  part("said").textContent = said;
  part("price").ariaBusy = "false";
  const price = reply?.price;
  part("total").textContent = price ? money(price.total, price.currency) : "";
  part("range").textContent = price ? range(price) : "";
  part("told").hidden = !price;
  if (!price) return;
  const told = reply.assumed.map((each) => assumedInWords(each, reply.units));
  list("assumed", told.filter((each) => each.theirs).map((each) => each.text));
  list("usual", told.filter((each) => !each.theirs).map((each) => each.text));
  const cautions = [...reply.windows.flatMap((window) => window.cautions), ...reply.cautions];
  list("cautions", cautions.map((caution) => caution.detail));
  part("depends").textContent = depends(price);
  part("edition").textContent = `Prices: ${price.edition}`;
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
