// Every answer against the API's own description, by an independent JSON Schema validator (ajv, JSON Schema
// 2020-12, which OpenAPI 3.1 uses). Objects are closed there: a field too many or too few fails.
import assert from "node:assert/strict";
import { once } from "node:events";
import { createServer } from "node:http";
import { after, before, test } from "node:test";
import { Validator } from "@seriousme/openapi-schema-validator";
import Ajv2020 from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { eventually, now, startShop } from "./harness.mjs";

let shop, refuser, document, ajv, estate, bumper;
before(async () => {
  // It takes nothing, in place of the service that the phone's alerts go to.
  refuser = createServer((_, response) => response.writeHead(401).end()).listen(0, "127.0.0.1");
  await once(refuser, "listening");
  shop = await startShop({ phone: `http://127.0.0.1:${refuser.address().port}/alerts` });
  estate = (await shop.vehicle("Grey estate")).id;
  bumper = (await shop.piece("Grey estate", "front-bumper")).id;
  document = await (await fetch(`${shop.url}/api/v1/openapi.json`)).json();
  ajv = new Ajv2020.default({ strict: false, allErrors: true });
  addFormats.default(ajv);
  ajv.addSchema({ $id: "api", ...document });
});
after(() => refuser.close());
after(async () => {
  await shop.stop();
  shop.gone();
});

// A part of the description, or what it refers to.
const at = (part) => (part.$ref ? part.$ref.slice(2).split("/").reduce((above, name) => above[name], document) : part);

// The schema that the description gives for an answer, and whether the answer fits it.
async function check(method, path, operationPath, init = {}) {
  const response = await fetch(shop.url + path, { method, ...init });
  const answered = document.paths[operationPath][method.toLowerCase()].responses[response.status];
  assert.ok(answered, `${method} ${path}: status ${response.status} is not described`);
  const described = at(answered);
  const type = response.headers.get("content-type");
  assert.ok(described.content[type], `${method} ${path}: ${type} is not described`);
  const body = await response.json();
  const place = answered.$ref ?? `#/paths/${operationPath.replaceAll("/", "~1")}/${method.toLowerCase()}/responses/${response.status}`;
  const pointer = `api${place}/content/${type.replaceAll("/", "~1")}/schema`;
  const fits = ajv.getSchema(encodeURI(pointer));
  assert.ok(fits, `no schema at ${pointer}`);
  assert.ok(fits(body), `${method} ${path}: ${ajv.errorsText(fits.errors)}`);
  return { status: response.status, body };
}

const post = (event) => ({ body: typeof event === "string" ? event : JSON.stringify(event), headers: { "Content-Type": "application/json" } });
const submit = (event, init = {}) => check("POST", "/api/v1/events", "/api/v1/events", { ...post(event), ...init });

test("the description is OpenAPI 3.1 and its operations are exactly the server's", async () => {
  const judged = await new Validator().validate(structuredClone(document));
  assert.ok(judged.valid, JSON.stringify(judged.errors));
  assert.match(document.openapi, /^3\.1\./);
  for (const [path, operations] of Object.entries(document.paths)) {
    const asked = path.replace("pieces/{id}", `pieces/${bumper}`).replace("{id}", estate).replace("channels/{name}", "channels/mqtt").replace("{name}", "front");
    for (const method of ["get", "post", "put", "delete", "patch"]) {
      if (path.endsWith("/live")) {
        continue;
      }
      const { status } = await fetch(shop.url + asked, { method: method.toUpperCase(), ...(method === "post" ? post("") : {}) });
      assert.equal(status !== 405, method in operations, `${method} ${path} answers ${status}`);
    }
  }
  const ids = Object.values(document.paths).flatMap((path) => Object.values(path).map((operation) => operation.operationId));
  assert.equal(new Set(ids).size, ids.length);
});

test("what every route answers is as described", async () => {
  const board = await check("GET", "/api/v1/board", "/api/v1/board");
  assert.equal(board.body.vehicles.length, 2);
  assert.ok(board.body.vehicles[0].pieces.length > 0 && board.body.alerts.length > 0);
  await check("GET", `/api/v1/vehicles/${estate}`, "/api/v1/vehicles/{id}");
  const air = await check("GET", "/api/v1/bays/front/air", "/api/v1/bays/{name}/air");
  // Every two minutes of a day, as far as it is known.
  assert.ok(air.body.points.length > 700 && air.body.points.length <= 720, `${air.body.points.length}`);
  const ahead = await check("GET", "/api/v1/bays/front/air-ahead", "/api/v1/bays/{name}/air-ahead");
  assert.ok(ahead.body.hours.length >= 71 && ahead.body.hours.length <= 73, `${ahead.body.hours.length}`);
  const history = await check("GET", `/api/v1/pieces/${bumper}/history`, "/api/v1/pieces/{id}/history");
  assert.ok(history.body.points.length > 10);
  await check("GET", "/api/v1/catalogue", "/api/v1/catalogue");
  await check("GET", "/api/v1/alerts", "/api/v1/alerts");
  const events = await check("GET", `/api/v1/events?vehicle=${estate}`, "/api/v1/events");
  assert.ok(events.body.events.length > 1);
  await check("GET", "/api/v1/health", "/api/v1/health");
  const gone = await check("GET", "/api/v1/handed-over", "/api/v1/handed-over");
  assert.equal(gone.body.vehicles.length, 2);
  await check("GET", `/api/v1/handed-over/${gone.body.vehicles[0].id}`, "/api/v1/handed-over/{id}");
  await check("GET", "/api/v1/channels", "/api/v1/channels");
  const arrived = await check("POST", "/api/v1/channels/mqtt/test", "/api/v1/channels/{name}/test");
  assert.deepEqual(arrived.body, { channel: "mqtt", delivered: true, why: "" });
  const lost = await check("POST", "/api/v1/channels/phone/test", "/api/v1/channels/{name}/test");
  assert.equal(lost.body.delivered, false);
  assert.match(lost.body.why, /status 401/);
  await check("GET", "/api/v1/openapi.json", "/api/v1/openapi.json");
});

test("sensors, searches and coupons are as described, at rest and at work", async () => {
  const search = "/api/v1/sensors/search";
  await check("GET", search, search);
  await shop.say('publish loft/air {"t":18.4,"h":0.55}');
  assert.equal((await check("POST", search, search, post({ seconds: 9 }))).status, 202);
  await eventually(async () => (await check("GET", search, search)).body.sensors[0]?.reads.length > 0);
  assert.equal((await check("POST", search, search, post({ seconds: 1 }))).status, 400);
  await check("GET", "/api/v1/sensors", "/api/v1/sensors");
  await submit({ what: "sensor-check-started", sensor: "front-wall", salt: "NaCl" });
  await shop.say("air 2026-03-07T14:40:00Z 20 80.5");
  const { body } = await check("GET", "/api/v1/sensors", "/api/v1/sensors");
  await submit(body.sensors[0].checking.result);
  assert.equal((await check("GET", "/api/v1/sensors", "/api/v1/sensors")).body.sensors[0].last_check.result.verdict, "off");
  const { body: laid } = await submit({ what: "coupon-laid", film: "baseline", bay: "front", area_m2: 0.09, water_grams: 0.9 });
  for (let hour = 15; hour <= 23; ++hour) {
    await shop.say(`air 2026-03-07T${hour}:40:00Z 21 50`);
    await submit({ what: "coupon-weighed", coupon: laid.seq, grams: 400 - 0.05 * (hour - 15) });
  }
  const { body: weighed } = await check("GET", "/api/v1/coupons", "/api/v1/coupons");
  await submit(weighed.coupons[0].result);
  assert.ok((await check("GET", "/api/v1/coupons", "/api/v1/coupons")).body.coupons[0].measured);
  assert.equal((await check("GET", "/api/v1/catalogue", "/api/v1/catalogue")).body.measured.length, 1);
});

test("plates and the looks that they ask for are as described", async () => {
  await check("GET", "/api/v1/plates", "/api/v1/plates");
  const { body: laid } = await submit({ what: "plate-laid", film: "baseline", bay: "front", strips: ["edge"] });
  await shop.say("air 2026-03-09T08:40:00Z 21 50");
  const { body: board } = await check("GET", "/api/v1/board", "/api/v1/board");
  assert.deepEqual(board.bays.find((bay) => bay.name === "front").to_look.map(({ plate, zone }) => [plate, zone]), [[laid.seq, "edge"]]);
  await submit({ what: "plate-seen", plate: laid.seq, zone: "edge", sign: "none-wet" });
  const { body } = await check("GET", "/api/v1/plates", "/api/v1/plates");
  assert.equal(body.plates[0].over, true);
});

test("without a broker a search is refused as described", async () => {
  const alone = await startShop({ what: now });
  const response = await fetch(`${alone.url}/api/v1/sensors/search`, { method: "POST", ...post({ seconds: 9 }) });
  assert.equal(response.status, 503);
  assert.ok(document.paths["/api/v1/sensors/search"].post.responses[503]);
  await alone.stop();
  alone.gone();
});

test("errors are as described", async () => {
  assert.equal((await check("GET", "/api/v1/vehicles/99999", "/api/v1/vehicles/{id}")).status, 404);
  assert.equal((await check("GET", "/api/v1/handed-over/99999", "/api/v1/handed-over/{id}")).status, 404);
  assert.equal((await check("GET", `/api/v1/handed-over/${estate}`, "/api/v1/handed-over/{id}")).status, 404); // it is in the shop
  assert.equal((await check("POST", "/api/v1/channels/pigeon/test", "/api/v1/channels/{name}/test")).status, 404);
  assert.equal((await check("GET", "/api/v1/bays/attic/air", "/api/v1/bays/{name}/air")).status, 404);
  assert.equal((await check("GET", "/api/v1/bays/attic/air-ahead", "/api/v1/bays/{name}/air-ahead")).status, 404);
  assert.equal((await check("GET", "/api/v1/bays/front/air?every=0", "/api/v1/bays/{name}/air")).status, 400);
  assert.equal((await check("GET", "/api/v1/pieces/99999/history", "/api/v1/pieces/{id}/history")).status, 404);
  assert.equal((await check("GET", "/api/v1/alerts?from=x", "/api/v1/alerts")).status, 400);
  assert.equal((await submit("{")).status, 400);
  const { status, body } = await submit({ what: "trimmed", piece: 99999 });
  assert.deepEqual(
    [status, body.detail, body.where, body.fact],
    [409, "no piece 99999", "/piece", { key: "refusals.no-piece", values: [{ name: "piece", measure: "text", text: "99999" }], words: "no piece 99999" }],
  );
  assert.equal((await submit({}, { headers: { "Content-Type": "text/plain" } })).status, 415);
  assert.equal((await submit({ note: "x".repeat(70_000) })).status, 413);
  await shop.say("disk full");
  assert.equal((await submit({ what: "note", vehicle: estate, note: "late" })).status, 503);
  await eventually(async () => (await check("GET", "/api/v1/health", "/api/v1/health")).status === 503);
  await shop.say("disk free");
  await eventually(async () => (await check("GET", "/api/v1/health", "/api/v1/health")).status === 200);
});

// One of each kind, in the description's order, on numbers that the shop has given: the description takes what the
// server takes. A vehicle of its own: it is handed over on the way.
async function oneOfEach() {
  const kept = await shop.tell({ what: "vehicle-in", reference: "Kept apart", bay: "front", plate: "DEMO 1" });
  const vehicle = await shop.tell({ what: "vehicle-in", reference: "Job of each", bay: "front" });
  const lay = (panel) => shop.tell({ what: "lay", vehicle, panel });
  const [piece, pulled, again] = [await lay("bonnet"), await lay("boot-lid"), await lay("mirror")];
  const { id: there } = await shop.piece("Grey estate", "front-bumper"); // it stays
  const coupon = await shop.tell({ what: "coupon-laid", film: "baseline", bay: "front", area_m2: 0.09, water_grams: 0.9 });
  const plate = await shop.tell({ what: "plate-laid", film: "baseline", bay: "front" });
  const strips = await shop.tell({ what: "bond-coupon-laid", film: "baseline", bay: "front" });
  const { now: at, alerts } = await shop.get("/api/v1/board");
  return [
    { what: "vehicle-in", reference: "Red coupe", bay: "front", hand_over: "2026-03-29T12:00:00Z", panel_c: 4.5 },
    { what: "vehicle-moved", vehicle, bay: "outside" },
    { what: "hand-over", vehicle, hand_over: null },
    { what: "lay", vehicle, panel: "mirror", part: 1, parts: 2, film: "baseline", solution: "slip", wetness: "wet", zones: ["field", "edge"], lot: "L1", area_m2: 1.5, tension: "left", relief_cuts: "none", joins: "none", replaces: again },
    { what: "edge-opened", piece },
    { what: "edge-wrapped", piece },
    { what: "trimmed", piece, at, who: "AB", note: "left side", key: "once" },
    { what: "piece-removed", piece: pulled },
    { what: "inspected", piece, zone: "edge", finding: "hazy" },
    { what: "heat-applied", piece, source: "lamp", surface_c: 55, minutes: 10, zone: "field", area_m2: 0.3, tool_w: 1500 },
    { what: "lamp", vehicle, on: true, heat_w_m2: 300, piece, zone: "edge", area_m2: 0.3, tool_w: 1500 },
    { what: "refitted", piece },
    { what: "released", vehicle, advised: "keep dry" },
    { what: "rechecked", piece, finding: "lifting", zone: "edge" },
    { what: "superseded", event: pulled },
    { what: "acknowledged", alert: alerts[0].id },
    { what: "note", vehicle },
    { what: "forgotten", vehicle: kept },
    { what: "planned", vehicle: estate, pieces: [{ panel: "bonnet" }, { panel: "sill", part: 2, parts: 2 }] },
    { what: "sensor-assigned", sensor: "loft", bay: "back", model: "m", place: "roof", tolerance_pct: 3, reads: [{ topic: "loft/air", pointer: "/t", quantity: "air-temperature", unit: "F", slope: 1.5, offset: -2, time_pointer: "/at" }] },
    { what: "sensor-retired", sensor: "loft" },
    { what: "sensor-check-started", sensor: "front-wall", salt: "NaCl" },
    { what: "sensor-check-ended", sensor: "front-wall" },
    { what: "sensor-checked", sensor: "front-wall", salt: "MgCl2", temperature_c: 20.1, expected_pct: 33.1, expected_expanded_pct: 0.8, shown_pct: 36, spread_pct: 0.2, tolerance_pct: 2, readings: 60, steady_since: "2026-03-07T02:00:00Z", verdict: "off", slope: 1, offset: -2.9 },
    { what: "sensor-corrected", sensor: "front-wall", quantity: "relative-humidity", slope: 1, offset: -2.9 },
    { what: "coupon-laid", film: "baseline", lot: "L7", bay: "front", area_m2: 0.09, water_grams: 0.9 },
    { what: "coupon-weighed", coupon, grams: 412.35 },
    { what: "film-measured", film: "baseline", lot: "L7", resistance: 4.5e9, relative_uncertainty: 0.12, coupon, weighings: 9, tail: [{ spread: 0.4, break_up_g_m2: 0.5, likelihood: 1 }] },
    { what: "not-needed", piece: there, which: "refit-ready", needed: false },
    { what: "learn-anew", since: "2026-03-01T00:00:00Z" },
    { what: "plate-laid", film: "baseline", lot: "L7", bay: "front", solution: "slip", wetness: "wet", strips: ["edge", "recess", "field"] },
    { what: "plate-seen", plate, zone: "edge", sign: "half-wet" },
    { what: "bond-coupon-laid", film: "baseline", lot: "L7", bay: "front", solution: "slip" },
    { what: "bond-coupon-pulled", coupon: strips, peel: 8.5 },
    { what: "bond-measured", film: "baseline", lot: "L7", coupon: strips, strips: [{ wlf_h: 1, arrhenius_h: 1.5, peel: 8.5 }] },
  ];
}

test("each kind of event fits the description and is taken; with a field too many neither", async () => {
  const fits = ajv.getSchema("api#/components/schemas/Event");
  const kinds = document.components.schemas.Event.oneOf.map((kind) => at(kind).properties.what.const);
  const events = await oneOfEach();
  assert.deepEqual(events.map((event) => event.what), kinds);
  for (const event of events) {
    assert.ok(fits(event), `${event.what}: ${ajv.errorsText(fits.errors)}`);
    const { status, body } = await submit(event);
    assert.equal(status, 201, `${event.what}: ${JSON.stringify(body)}`);
    assert.ok(!fits({ ...event, colour: "red" }));
    assert.equal((await submit({ ...event, key: "", colour: "red" })).status, 400);
  }
  const again = await submit(events[6]);
  assert.equal(again.status, 200);
  assert.equal(again.body.repeated, true);
});

test("live updates carry boards as described", async () => {
  const abort = new AbortController();
  const response = await fetch(`${shop.url}/api/v1/live`, { signal: abort.signal });
  assert.equal(response.headers.get("content-type"), "text/event-stream");
  let text = "";
  for await (const bytes of response.body) {
    text += Buffer.from(bytes).toString();
    if (text.includes("\n\n")) {
      break;
    }
  }
  abort.abort();
  const [, data] = /^event: board\ndata: (.*)\n\n/.exec(text);
  const fits = ajv.getSchema("api#/components/schemas/Board");
  assert.ok(fits(JSON.parse(data)), ajv.errorsText(fits.errors));
});
