// A shop's program on the types that openapi-typescript makes of the contract, with openapi-fetch.
//
// node built/job.js ADDRESS KEY

import assert from "node:assert/strict";
import createClient from "openapi-fetch";
import type { components, paths } from "./contract.js";

type Schemas = components["schemas"];
type Style = Schemas["Window"]["heading"];
/** Replies come as papers too; a client says once that it takes data. */
type Json = "application/json" | "application/problem+json";
type Client = ReturnType<typeof createClient<paths, Json>>;

const fabric = "Plain linen, flax";

function job(width: Schemas["Length"], heading: Style): Schemas["EstimateRequest"] {
  return { units: "in", windows: [{ rod: { width }, hang: { drop: "84" }, heading, fabric }] };
}

/** The constant of a style tells which it is, and so which options it has. */
function carriedBy(style: Style): string {
  switch (style.style) {
    case "wave":
      return `snaps ${style.snap_spacing ?? "4 in"} apart`;
    case "eyelet":
      return `eyelets on a rod ${style.rod_girth ?? "of a usual girth"} round`;
    default:
      return style.style;
  }
}

async function priced(client: Client): Promise<Schemas["Price"]> {
  const { data, error } = await client.POST("/v1/estimate", { body: job("96", { style: "goblet" }) });
  assert(data, error?.detail);
  const { price } = data;
  assert(price);
  assert(price.range);
  assert(Number(price.range.least) <= Number(price.total));
  assert(Number(price.total) <= Number(price.range.most));
  assert(data.assumed.length > 0);
  assert.equal(data.workroom, undefined);
  return price;
}

async function withOptions(client: Client): Promise<Schemas["PleatsReply"]> {
  const heading: Style = { style: "eyelet", rod_girth: "3 1/2", hole: "1 9/16" };
  assert.equal(carriedBy(heading), "eyelets on a rod 3 1/2 round");
  const { data, error } = await client.POST("/v1/pleats", {
    body: { units: "in", heading, flat_width: "101", finished_width: 48, seams: ["50 1/2"] },
  });
  assert(data, error?.detail);
  assert.deepEqual(data.seams.map((seam) => seam.place), ["in-back-fold"]);
  return data;
}

async function faultsOf(client: Client, body: Schemas["EstimateRequest"], status: number): Promise<string[]> {
  const { error, response } = await client.POST("/v1/estimate", { body });
  assert.equal(response.status, status);
  assert(error);
  assert.equal(error.status, status);
  const faults = error.errors ?? [];
  assert(faults.every((fault) => fault.detail.length > 10));
  return faults.map((fault) => fault.pointer).sort();
}

async function main(address: string, key: string): Promise<void> {
  const client = createClient<paths, Json>({ baseUrl: address });
  const price = await priced(client);
  const laidOut = await withOptions(client);

  const read = await faultsOf(client, job("ninety", { style: "wave", snap_spacing: "1,5" }), 400);
  assert.deepEqual(read, ["/windows/0/heading/snap_spacing", "/windows/0/rod/width"]);
  const made = await faultsOf(client, job(0, { style: "goblet" }), 422);
  assert.deepEqual(made, ["/windows/0/rod/width"]);

  // @ts-expect-error: an option of another style
  const strange = await faultsOf(client, job("96", { style: "goblet", snap_spacing: "4" }), 400);
  assert.deepEqual(strange, ["/windows/0/heading/snap_spacing"]);
  // @ts-expect-error: no unit of the contract's
  const furlongs: Schemas["Units"] = "furlong";
  assert.deepEqual(await faultsOf(client, { ...job("96", { style: "goblet" }), units: furlongs }, 400), ["/units"]);

  const { data: listed } = await client.GET("/v1/headings", { params: { query: { units: "cm" } } });
  assert(listed);
  for (const { style } of listed.headings) {
    const { data: one } = await client.GET("/v1/headings/{style}", { params: { path: { style } } });
    assert(one);
    assert(one.fullness.least <= one.fullness.usual && one.fullness.usual <= one.fullness.most);
  }

  const own = { ...job("96", { style: "goblet" }), pricing: { view: "workroom" as const } };
  assert.deepEqual((await client.POST("/v1/estimate", { body: own })).error?.status, 401);
  const headers = { Authorization: `Bearer ${key}` };
  const { data: seen } = await client.POST("/v1/estimate", { body: own, headers });
  assert(seen?.workroom);

  console.log(
    `TypeScript: ${price.total} ${price.currency}, ${laidOut.points?.count} eyelets, faults at ${read.join(", ")}`,
  );
}

const [address, key] = process.argv.slice(2);
assert(address && key);
await main(address, key);
