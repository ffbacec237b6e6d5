// The board's marks and deeds, the wall, sides of panels, rechecks in one tap: on boards that are told to the page alone.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { noBrowser, onThePhone, putAway } from "./harness.mjs";

describe("board", { skip: noBrowser }, () => {
  let shop, page, context, estate, van;
  onThePhone(async (open) => {
    ({ shop, page, context } = open);
    estate = (await shop.vehicle("Grey estate")).id;
    van = (await shop.vehicle("White van")).id;
  });

  // The page is told of this board alone, until the next.
  const boardIs = async (told) => {
    const body = `event: board\ndata: ${JSON.stringify(told)}\n\n`;
    await page.unroute("**/api/v1/live");
    await page.route("**/api/v1/live", (route) => route.fulfill({ contentType: "text/event-stream", body }));
    await page.reload();
  };
  // What the page tells goes no further than here.
  const heard = async () => {
    const events = [];
    await page.route("**/api/v1/events", (route) => {
      if (route.request().method() !== "POST") {
        return route.continue();
      }
      events.push(route.request().postDataJSON());
      return route.fulfill({ status: 201, json: { seq: 90_000 + events.length, repeated: false, event: {} } });
    });
    return events;
  };
  const sent = () => page.waitForFunction(() => localStorage.getItem("dryclock.queue") === "[]");
  // The estate's bonnet is ready to be wrapped, its bumper to be trimmed, and on the van a mirror to be refitted.
  const readyBoard = async () => {
    const board = await shop.get("/api/v1/board");
    const vehicle = (id) => board.vehicles.find((one) => one.id === id);
    const none = { early: null, likely: null, late: null };
    const blank = { needed: true, probability: 0.2, look: null, announced: null, by_word: false, announces: "2026-03-07T09:40:00Z", expected: none, hours_to_go: null, held_by: { key: "", values: [] } };
    for (const piece of vehicle(estate).pieces) {
      Object.assign(piece, { wrapped: null, trimmed: null, refitted: null });
      piece.milestones.forEach((one) => Object.assign(one, blank));
    }
    const piece = (panel) => vehicle(estate).pieces.find((one) => one.panel === panel);
    const mirror = structuredClone(piece("mirror"));
    mirror.id = 70_000;
    vehicle(van).pieces = [mirror];
    const ready = (one, which, before = []) => {
      one.milestones.filter((milestone) => before.includes(milestone.which)).forEach((milestone) => Object.assign(milestone, { needed: false }));
      Object.assign(one.milestones.find((milestone) => milestone.which === which), { announced: "2026-03-07T05:40:00Z", probability: 0.95, announces: null });
    };
    ready(piece("bonnet"), "wrap-ready");
    ready(piece("front-bumper"), "trim-ready", ["wrap-ready"]);
    ready(mirror, "refit-ready", ["wrap-ready", "trim-ready"]);
    return { board, bonnet: piece("bonnet").id, bumper: piece("front-bumper").id, mirror: mirror.id };
  };

  test("marks over several steps and vehicles are one deed, and are taken back as one", async () => {
    const { board, bonnet, bumper, mirror } = await readyBoard();
    await boardIs(board);
    const events = await heard();
    const group = (name) => page.getByRole("list", { name, exact: true });
    await group("Wrap edges").getByRole("button", { name: /mark it/ }).click();
    await group("Trim").getByRole("checkbox").check();
    await group("Refit parts").getByRole("checkbox", { name: /Mirror White van/ }).check();
    await page.getByRole("button", { name: "Done: 1 wrapped, 1 trimmed, 1 refitted" }).click();
    await sent();
    assert.deepEqual(events.map(({ what, piece }) => [what, piece]), [["edge-wrapped", bonnet], ["trimmed", bumper], ["refitted", mirror]]);
    assert.equal(new Set(events.map(({ at }) => at)).size, 1);
    assert.equal(await page.locator(".tile").count(), 0); // told, though no newer board has come
    await page.getByRole("button", { name: "Undo" }).click();
    await sent();
    assert.deepEqual(events.slice(3).map(({ what, event }) => [what, event]), [["superseded", 90_003], ["superseded", 90_002], ["superseded", 90_001]]);
  });

  test("of one mark the card is a tap away, where the piece stands; one card is open at a time", async () => {
    const { board } = await readyBoard();
    await boardIs(board);
    await page.locator(".tile").filter({ hasText: "Bonnet" }).click();
    await page.getByRole("button", { name: "Open", exact: true }).click();
    await page.getByRole("article", { name: "Bonnet", exact: true }).getByText("Wrap edges: ready now").waitFor();
    await page.locator("a.row").filter({ hasText: "Mirror" }).click();
    await page.getByRole("article", { name: "Mirror", exact: true }).getByText("Wrap edges from Sat 09:40").waitFor();
    assert.equal(await page.getByRole("article", { name: "Bonnet", exact: true }).count(), 0);
  });

  test("the wall shows all of it, asks for nothing but to read, dims at night, and says when it is old", async () => {
    await page.setViewportSize({ width: 1280, height: 800 });
    await page.route("**/api/v1/access", (route) => route.fulfill({ json: { may_write: false } }));
    const methods = new Set();
    page.on("request", (request) => methods.add(request.method()));
    const { board } = await readyBoard();
    await boardIs(board);
    await page.goto(`${shop.url}/#/wall`);
    await page.getByRole("heading", { name: "Ready now 3" }).waitFor();
    for (const name of ["Bonnet", "Front bumper", "Mirror"]) {
      await page.getByText(name).first().waitFor();
    }
    assert.equal(await page.locator("button, a, input, form").count(), 0);
    const wall = page.locator(".wall");
    const fits = () => page.evaluate(() => document.documentElement.scrollWidth <= innerWidth && document.documentElement.scrollHeight <= innerHeight);
    assert.ok(await fits());
    assert.doesNotMatch(await wall.getAttribute("class"), /dim/);
    await page.setViewportSize({ width: 1920, height: 1080 });
    assert.ok(await fits());
    board.now = "2026-03-07T23:10:00Z";
    await boardIs(board);
    await page.locator(".wall.dim").waitFor();
    await page.locator(".wall .age.old").waitFor(); // its air is of the morning
    await context.setOffline(true);
    await page.locator(".wall.stale").getByText(/^last update/).waitFor();
    await context.setOffline(false);
    assert.deepEqual([...methods], ["GET"]);
  });

  test("a panel that there are several of asks where; one that has a piece asks what this one is", async () => {
    const events = await heard();
    const lays = () => page.goto(`${shop.url}/#/vehicle/${estate}/lay`);
    const pieces = (await shop.get("/api/v1/board")).vehicles.find((one) => one.id === estate).pieces;
    const bonnet = pieces.find((one) => one.panel === "bonnet").id;
    await lays();
    await page.getByRole("button", { name: "Door cup" }).click();
    await page.getByRole("button", { name: "Right front door cup" }).click();
    await sent();
    assert.deepEqual([events[0].panel, events[0].side, events[0].part], ["door-cup", "right-front", undefined]);

    await lays();
    const tapBonnet = () => page.getByRole("button", { name: /^Bonnet/ }).first().click();
    const question = page.getByRole("group", { name: /^Bonnet has a piece \(laid Fri 06:40\)/ });
    await tapBonnet();
    await question.getByRole("button", { name: "A mistake" }).click();
    await question.waitFor({ state: "detached" });
    assert.equal(events.length, 1);
    await tapBonnet();
    await question.getByRole("button", { name: "Another part" }).click();
    await question.getByRole("button", { name: "Rear half" }).click();
    await sent();
    const { part, parts, place, beside, replaces } = events[1];
    assert.deepEqual({ part, parts, place, beside, replaces }, { part: 2, parts: 2, place: "rear-half", beside: [{ piece: bonnet, part: 1, place: "front-half" }], replaces: undefined });
    await lays();
    await tapBonnet();
    await question.getByRole("button", { name: "Laid again" }).click();
    await sent();
    assert.deepEqual([events[2].panel, events[2].replaces, events[2].beside], ["bonnet", bonnet, undefined]);
  });

  test("at a recheck all others are sound in one tap", async () => {
    const gone = (await shop.get("/api/v1/handed-over")).vehicles.find((one) => one.reference === "Green saloon");
    await page.goto(`${shop.url}/#/past/${gone.id}`);
    const before = (await shop.events()).length;
    await page.getByRole("button", { name: "All 2 are sound" }).waitFor();
    await page.getByRole("article", { name: "Mirror" }).getByRole("button", { name: "Redone" }).click();
    await page.getByRole("article", { name: "Mirror" }).getByRole("button", { name: "Not said" }).click();
    await putAway(page, "Mirror: redone at the recheck");
    await page.getByRole("button", { name: "All 2 are sound" }).waitFor({ state: "detached" }); // one is left: its own tap
    await page.getByRole("article", { name: "Bonnet" }).getByRole("button", { name: "Sound" }).click();
    await putAway(page, "Bonnet: sound at the recheck");
    const told = (await shop.events()).slice(before);
    assert.deepEqual(told.map(({ what, finding }) => [what, finding]), [["rechecked", "redone"], ["rechecked", "sound"]]);

    const other = (await shop.get("/api/v1/handed-over")).vehicles.find((one) => one.reference === "Blue hatchback");
    await page.goto(`${shop.url}/#/past/${other.id}`);
    await page.getByRole("button", { name: "All 2 are sound" }).click();
    await putAway(page, "Blue hatchback: 2 pieces sound at the recheck");
    const all = (await shop.events()).slice(before + 2);
    assert.deepEqual(all.map(({ piece, finding }) => [piece, finding]), other.pieces.map(({ id }) => [id, "sound"]));
  });

  test("a screen that one comes to has its name in the window, and its heading has the focus", async () => {
    await page.getByRole("link", { name: /^Grey estate/ }).click();
    await page.getByRole("heading", { name: "Grey estate front" }).waitFor();
    assert.match(await page.title(), /^Grey estate front: /);
    assert.equal(await page.evaluate(() => document.activeElement.textContent.replace(/\s+/g, " ").trim()), "Grey estate front");
    await page.getByRole("link", { name: "Board" }).click();
    await page.getByRole("heading", { name: "Vehicles" }).waitFor();
    assert.match(await page.title(), /which film is dry$/);
  });

  test("past alerts are one tap from the board", async () => {
    const spans = [];
    page.on("request", (request) => {
      const url = new URL(request.url());
      if (url.pathname === "/api/v1/alerts") {
        spans.push((Date.parse(url.searchParams.get("to")) - Date.parse(url.searchParams.get("from"))) / 86_400_000);
      }
    });
    await page.getByRole("link", { name: "Alerts" }).click();
    const cold = page.getByRole("article").filter({ hasText: "Front is at" }).last();
    await cold.getByText(/^Urgent Sat 05:\d\d; still so, not seen$/).waitFor(); // the heater went out at 05:00
    await Promise.all([page.waitForResponse(/alerts/), page.getByRole("radio", { name: "30 days" }).check()]);
    assert.deepEqual(spans, [7, 30]);
  });
});
