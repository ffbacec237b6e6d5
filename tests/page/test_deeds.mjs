// What is done more rarely, told late, or after the hand-over; settings; the course of a piece.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { eventually, forgive, layOn, noBrowser, onThePhone, openPiece, putAway } from "./harness.mjs";

describe("deeds", { skip: noBrowser }, () => {
  let shop, page, faults, estate, van;
  onThePhone(async (open) => {
    ({ shop, page, faults } = open);
    estate = (await shop.vehicle("Grey estate")).id;
    van = (await shop.vehicle("White van")).id;
  });
  const on = async (panel) => (await shop.piece("Grey estate", panel)).id;

  const go = (hash) => page.goto(`${shop.url}/${hash}`);
  const shows = (text) => page.getByText(text).first().waitFor();
  const piece = (name) => page.getByRole("article", { name, exact: true });
  // The newest event, once the page has it through.
  const told = async (said) => {
    await putAway(page, said);
    return (await shop.events()).at(-1);
  };

  test("the course of a piece: a plot for each zone, its marks in words, fetched when it is opened", async () => {
    const asked = [];
    const history = `/api/v1/pieces/${await on("front-bumper")}/history`;
    page.on("request", (request) => asked.push(new URL(request.url()).pathname));
    await go(`#/vehicle/${estate}`);
    const card = await openPiece(page, "Front bumper");
    await card.getByText("How it dried").waitFor();
    assert.ok(!asked.includes("/plot.js") && !asked.includes(history));
    await card.getByText("How it dried").click();
    await card.locator(".course canvas").nth(2).waitFor();
    assert.ok(asked.includes("/plot.js") && asked.includes(history));
    const titles = await card.locator(".u-title").allInnerTexts();
    assert.deepEqual(titles, ["Field: water, g/m²", "Edge: water, g/m²", "Recess: water, g/m²"]);
    assert.match(await card.locator(".marks").innerText(), /^1 Laid Fri 21:40/);
    // Something is drawn: the plot's canvas has ink of the line's colour's kind, not ground alone.
    const inked = await card.locator("canvas").first().evaluate((canvas) => {
      const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
      const seen = new Set();
      for (let i = 0; i < data.length; i += 4) {
        seen.add(data.slice(i, i + 4).join());
      }
      return seen.size;
    });
    assert.ok(inked > 20, `${inked} colours`);
    // One card at a time.
    const bonnet = await openPiece(page, "Bonnet");
    assert.equal(await card.count(), 0);
    await bonnet.getByText("How it dried").click();
    await bonnet.locator(".marks").filter({ hasText: /Edges wrapped Sat 01:40/ }).waitFor();
  });

  test("a vehicle moves, another hand-over is agreed, a lamp goes on and off, something is noted", async () => {
    await go(`#/vehicle/${estate}`);
    await page.getByText("More for Grey estate").click();
    await page.getByRole("group", { name: "Moved from front to" }).getByRole("button", { name: "outside" }).click();
    let event = await told("moved to outside");
    assert.deepEqual([event.what, event.vehicle, event.bay], ["vehicle-moved", estate, "outside"]);

    await page.getByLabel(/Hand-over agreed/).fill("2026-03-10T17:30");
    await page.getByRole("button", { name: "Change the hand-over" }).click();
    event = await told("hand-over agreed for Tue 17:30");
    assert.deepEqual([event.what, Date.parse(event.hand_over)], ["hand-over", Date.parse("2026-03-10T17:30:00Z")]);
    // What another device agrees on stands in the field too.
    await shop.tell({ what: "hand-over", vehicle: estate, hand_over: "2026-03-11T09:00:00Z", at: "2026-03-07T06:42:00Z" });
    await eventually(async () => (await page.getByLabel(/Hand-over agreed/).inputValue()) === "2026-03-11T09:00");

    await page.getByRole("button", { name: "Lamp on" }).click();
    assert.notEqual((await shop.events()).at(-1).what, "lamp"); // how much heat must be said
    await page.getByLabel(/heat taken up by the panels/).fill("300");
    await page.getByRole("button", { name: "Lamp on" }).click();
    event = await told("lamp on");
    assert.deepEqual([event.what, event.on, event.heat_w_m2], ["lamp", true, 300]);
    await page.getByRole("button", { name: "Lamp off" }).click();
    assert.equal((await told("lamp off")).on, false);
    await page.getByLabel("What it lights").selectOption({ label: "Bonnet" });
    await page.getByLabel(/Power of the lamp/).fill("1500");
    await page.getByRole("button", { name: "Lamp on" }).click();
    event = await told("Bonnet: lamp on");
    assert.deepEqual([event.what, event.piece, event.tool_w], ["lamp", await on("bonnet"), 1500]);
    await page.getByRole("button", { name: "Lamp off" }).click();
    assert.equal((await told("Bonnet: lamp off")).piece, event.piece);

    await page.getByLabel("Note").fill("Left door was damp");
    await page.getByRole("button", { name: "Keep the note" }).click();
    event = await told("noted");
    assert.deepEqual([event.what, event.vehicle, event.note], ["note", estate, "Left door was damp"]);
  });

  test("an edge is opened; heat is told in the user's unit, its caution beside it", async () => {
    await page.evaluate(() => localStorage.setItem("dryclock.phone", '{"temperature_unit":"F"}'));
    await page.reload();
    await go(`#/vehicle/${estate}`);
    const card = await openPiece(page, "Front bumper");
    await card.getByText("More for this piece").click();
    await card.getByRole("button", { name: "Edge opened" }).click();
    let event = await told("Front bumper: edge opened");
    assert.deepEqual([event.what, event.piece], ["edge-opened", await on("front-bumper")]);

    const heat = card.getByRole("form", { name: "Heat on Front bumper" });
    await heat.getByText("Heat guns: hold to the film maker's temperature").waitFor();
    await heat.getByText("flammable vapour").waitFor(); // it was laid with alcohol
    await heat.getByLabel("Temperature measured on the film, °F").fill("350");
    await heat.getByText(/between 32\s°F and 302\s°F\./).waitFor(); // 0 and 150 C
    await heat.getByLabel("Temperature measured on the film, °F").fill("131");
    await heat.getByLabel("For how many minutes").fill("3");
    await heat.getByRole("button", { name: "Heat applied" }).click();
    event = await told("Front bumper: heat, 131 °F for 3 min");
    assert.deepEqual([event.what, event.piece, event.source, event.minutes], ["heat-applied", await on("front-bumper"), "heat-gun", 3]);
    assert.equal(event.zone, undefined); // along the edge
    assert.ok(Math.abs(event.surface_c - 55) < 1e-9, `${event.surface_c}`); // 131 F is 55 C, exactly
    // As it is mostly done it is one tap: 60 C are 140 F; elsewhere than along the edge one more.
    await heat.getByRole("radio", { name: "Recess" }).check();
    await heat.getByRole("button", { name: "Heat applied" }).click();
    event = await told("Front bumper: heat, 140 °F for 3 min");
    assert.deepEqual([event.zone, event.surface_c, event.tool_w], ["recess", 60, 2000]);
    await card.getByText("How it dried").click();
    await card.locator(".marks").filter({ hasText: "Heat, 131 °F for 3 min" }).waitFor();
  });

  test("a step told late carries the time it happened", async () => {
    await go(`#/vehicle/${estate}`);
    const bar = page.locator(".manner");
    await bar.getByText("What you tap counts as done now").click();
    await bar.getByRole("radio", { name: "1 h ago" }).check();
    await shows("Told late: what you tap counts as done Sat 05:40");
    const card = await openPiece(page, "Mirror");
    await card.getByText("Told late: counts as done Sat 05:40").waitFor();
    await card.getByRole("radio", { name: "Edge" }).check();
    await card.getByRole("button", { name: "Clear" }).click();
    const hour = await told("Mirror, edge: clear Sat 05:40");
    // The shop stands still, this device's clock carries on from its last word.
    assert.ok(Math.abs(Date.parse(hour.at) - Date.parse("2026-03-07T05:40:00Z")) < 60_000, hour.at);

    await bar.getByRole("radio", { name: "At a time" }).check();
    await bar.getByLabel("Time on the shop's clock").fill("04:10");
    await card.getByRole("radio", { name: "Edge" }).check();
    await card.getByRole("button", { name: "Hazy" }).click();
    assert.equal(Date.parse((await told("Mirror, edge: hazy Sat 04:10")).at), Date.parse("2026-03-07T04:10:00Z"));

    // 23:10 is still to come today: it was yesterday's.
    await bar.getByLabel("Time on the shop's clock").fill("23:10");
    await page.getByText("More for Grey estate").click();
    await page.getByRole("button", { name: "Lamp off" }).click();
    assert.equal(Date.parse((await told("lamp off Fri 23:10")).at), Date.parse("2026-03-06T23:10:00Z"));
  });

  test("after the hand-over: where to look, and what the recheck found", async () => {
    await go(`#/vehicle/${estate}`);
    const card = await openPiece(page, "Mirror");
    await card.getByRole("button", { name: /^Trimmed early/ }).click();
    await card.getByRole("button", { name: "Trimmed, early" }).click();
    const { piece: mirror } = await told("Mirror: trimmed");
    await shop.say("quiet 2026-03-07T06:42:00Z"); // the page's clock has gone on meanwhile
    await page.reload();
    await page.getByRole("link", { name: "Hand over", exact: true }).click();
    await page.getByLabel("What the customer was told").fill("Keep it dry.");
    await page.getByRole("button", { name: "Hand over early" }).click();
    await told("Grey estate handed over");
    await shop.say("quiet 2026-03-07T06:45:00Z");
    await page.getByRole("link", { name: /Grey estate handed over Sat 06:4\d/ }).click();
    const look = page.getByRole("region", { name: "Where to look at the recheck" });
    await look.getByText(/Trimmed early\. It was not ready then: .*edge/).waitFor(); // it was laid three hours before
    assert.equal(await page.getByRole("link", { name: "Lay a piece" }).count(), 0);
    await piece("Mirror").getByText("Not rechecked yet.").waitFor();
    await piece("Mirror").getByRole("button", { name: "Lifting" }).click();
    await piece("Mirror").getByRole("button", { name: "Edge" }).click();
    const event = await told("Mirror: lifting at the recheck");
    assert.deepEqual([event.what, event.piece, event.finding, event.zone], ["rechecked", mirror, "lifting", "edge"]);
    await piece("Mirror").getByText(/^Rechecked Sat 06:4\d: lifting at the edge$/).waitFor();
  });

  test("a recheck that is due is one tap from the board, weeks after the vehicle has left", async () => {
    // One left without film: there is nothing to look at.
    const empty = await shop.tell({ what: "vehicle-in", reference: "Empty van", bay: "front", at: "2026-02-18T08:00:00Z" });
    await shop.tell({ what: "released", vehicle: empty, at: "2026-02-19T08:00:00Z" });
    await page.reload();
    const due = page.getByRole("region", { name: "Waits for you" });
    const rechecks = due.getByRole("listitem").filter({ hasText: "recheck" });
    await rechecks.first().waitFor();
    assert.equal(await rechecks.count(), 1);
    await due.getByRole("link", { name: /Green saloon recheck due, until Thu 12 Mar/ }).click();
    await page.getByText(/^Trimmed early\. It was not ready then: .*edge \d.*\sg\/m²/).waitFor(); // 2.5 h after it was laid
    await page.getByText("Under tension: round the lower corner").waitFor();
    await piece("Bonnet").getByRole("button", { name: "Sound" }).click();
    const event = await told("Bonnet: sound at the recheck");
    const gone = (await shop.get("/api/v1/handed-over")).vehicles.find((one) => one.reference === "Green saloon");
    const bonnet = gone.pieces.find((one) => one.panel === "bonnet");
    assert.deepEqual([event.what, event.piece, event.finding], ["rechecked", bonnet.id, "sound"]);
    await piece("Mirror").getByRole("button", { name: "Lifting" }).click();
    await piece("Mirror").getByRole("button", { name: "Not said" }).click();
    await told("Mirror: lifting at the recheck");
    await page.getByRole("link", { name: "Handed over" }).click();
    await page.getByRole("link", { name: /Green saloon rechecked, 1 lifting/ }).waitFor();
    await page.getByRole("link", { name: /Blue hatchback recheck from Wed 18 Mar/ }).waitFor();
    await page.getByRole("link", { name: "Empty van no film is laid" }).waitFor();
    await go("#/");
    await page.getByRole("heading", { name: "Vehicles" }).waitFor();
    await eventually(async () => (await rechecks.count()) === 0);
  });

  test("a plan: chosen once, then what is missing is two taps from the board", async () => {
    const coupe = await shop.tell({ what: "vehicle-in", reference: "Red coupe", bay: "front", hand_over: "2026-03-07T18:00:00Z" });
    await go(`#/vehicle/${coupe}/lay`);
    await page.getByText("Plan the pieces of this vehicle").click();
    await page.getByRole("button", { name: /Full front 8 pieces/ }).click();
    const planned = await told("Red coupe: planned, Full front");
    assert.deepEqual(planned.pieces.map((one) => one.panel), ["front-bumper", "bonnet", "front-wing", "front-wing", "mirror", "mirror", "headlamp", "headlamp"]);
    // It stays in for 24 h after its last piece, and is agreed for tonight.
    const wanted = page.getByRole("region", { name: /^Still to lay/ });
    await wanted.getByText("late: under 1 % to be ready in time").nth(7).waitFor();
    await go("#/");
    await page.getByText("8 still to lay, not all in time").waitFor();
    await layOn(page, "Red coupe");
    const rest = page.getByRole("region", { name: "Still to lay. Tap: laid now" });
    await rest.getByRole("button", { name: "Front bumper" }).click();
    const laid = await told("Front bumper laid");
    assert.deepEqual([laid.what, laid.vehicle, laid.panel], ["lay", coupe, "front-bumper"]);
    await page.getByText("7 still to lay").waitFor();
    await page.getByRole("link", { name: /^Red coupe/ }).click();
    const list = page.getByRole("region", { name: "Still to lay" });
    const lines = async () => (await list.getByRole("listitem").allInnerTexts()).map((line) => line.replace(/\s+/g, " "));
    const left = ["Bonnet", ...["front wing", "mirror", "headlamp"].flatMap((panel) => [`Left ${panel}`, `Right ${panel}`])];
    assert.deepEqual(await lines(), left.map((panel) => `${panel} late: under 1 % to be ready in time`));
    // A small piece, a warm bay and three days: that may be in time.
    await shop.say("air 2026-03-08T06:40:00Z 21 45");
    await shop.tell({ what: "planned", vehicle: coupe, pieces: [{ panel: "fuel-flap" }] });
    await shop.tell({ what: "hand-over", vehicle: coupe, hand_over: "2026-03-11T05:00:00Z" });
    await list.getByRole("listitem").filter({ hasText: /Fuel flap (by (Sun|Mon|Tue) \d\d:\d\d|late: [1-9]\d?\s% to be ready in time)/ }).waitFor();
  });

  test("the roll's lot number is remembered for its film; an area is told where it is not the list's", async () => {
    await go(`#/vehicle/${van}/lay`);
    await page.getByText("Change", { exact: true }).click();
    await page.getByLabel("Lot number of the roll of 150 µm, with topcoat").fill("A-17 ");
    await page.getByLabel("Area, m²").fill("1,4 m²");
    const before = (await shop.events()).length;
    await page.getByRole("button", { name: "Bonnet", exact: true }).click();
    await page.getByRole("alert").filter({ hasText: "This must be a number between 0 and 20." }).waitFor();
    assert.equal((await shop.events()).length, before); // it would have been laid with the list's area
    await page.getByLabel("Area, m²").fill("1,4");
    await page.getByRole("button", { name: "Bonnet", exact: true }).click();
    const first = await told("Bonnet laid");
    assert.deepEqual([first.lot, first.area_m2, first.film], ["A-17", 1.4, "baseline"]);
    await go(`#/vehicle/${van}/lay`);
    await page.getByText("lot A-17").waitFor();
    await page.getByText("Change", { exact: true }).click();
    await page.getByRole("combobox", { name: /^Film/ }).selectOption("plain");
    assert.equal(await page.getByLabel("Lot number of the roll of 150 µm, no topcoat").inputValue(), "");
    await page.getByRole("button", { name: "Boot lid" }).click();
    const second = await told("Boot lid laid");
    assert.deepEqual([second.lot, second.area_m2, second.film], [undefined, undefined, "plain"]);
  });

  test("who has the phone stands with what is tapped on it", async () => {
    await go("#/settings");
    await page.getByLabel("Who has this phone").fill("KM");
    await page.getByLabel("Who has this phone").blur();
    await go(`#/vehicle/${estate}`);
    await shop.tell({ what: "inspected", piece: await on("bonnet"), zone: "edge", finding: "clear" });
    const card = await openPiece(page, "Bonnet");
    await card.getByText("Trim: ready by your word").waitFor();
    await card.getByRole("button", { name: "Trimmed", exact: true }).click();
    assert.equal((await told("Bonnet: trimmed")).who, "KM");
    await page.getByText("All entries").click();
    await page.getByText("Bonnet laid", { exact: true }).waitFor(); // in the list: the card says when
    await page.reload();
    await go("#/settings");
    assert.equal(await page.getByLabel("Who has this phone").inputValue(), "KM");
  });

  test("where alerts go, and whether they would arrive", async () => {
    await go("#/settings");
    await page.getByText("Quiet from 22:00 to 06:30").waitFor();
    await page.getByRole("button", { name: "Send a test to MQTT" }).click();
    await page.getByText("✓ Delivered.").waitFor();
    await page.getByRole("button", { name: "Send a test to phone" }).click();
    await page.getByText(/✕ Not delivered: .*127\.0\.0\.1:9/).waitFor(); // nobody listens there
  });

  test("an alert speaks in this phone's unit", async () => {
    await page.getByText(/Front is at 17\.\d\s°C and has been below 18\s°C/).first().waitFor();
    await go("#/settings");
    await page.getByRole("group", { name: "Temperatures" }).getByRole("radio", { name: "°F", exact: true }).check();
    await go("#/");
    await page.getByText(/Front is at 6[23](\.\d)?\s°F and has been below 64\.4\s°F/).first().waitFor(); // 17.2 C are 63.0 F, 18 C are 64.4 F
  });

  test("the record and the hand-over sheet can be taken away, before and after the release", async () => {
    const links = () => page.getByRole("link", { name: /^(Receipt|Hand-over sheet|Record|Record with data)$/ }).evaluateAll((all) => all.map((one) => one.getAttribute("href")));
    const papers = ["receipt.pdf", "handover.pdf", "record.pdf", "record.zip"];
    await go(`#/vehicle/${estate}`);
    await shows("More for Grey estate");
    assert.deepEqual(await links(), papers.map((paper) => `/api/v1/vehicles/${estate}/${paper}?language=en-GB`));
    await shop.tell({ what: "released", vehicle: estate, advised: "keep it dry" });
    await shows("Where to look at the recheck");
    assert.deepEqual(await links(), papers.map((paper) => `/api/v1/vehicles/${estate}/${paper}?language=en-GB`));
  });

  test("plate and customer are told with the arrival, shown on its screen, and erased after a question", async () => {
    await go("#/arrive");
    await page.getByLabel("What you call it").fill("Job 9");
    await page.getByLabel(/What is to be laid/).fill("Bonnet and mirrors");
    await page.getByText("Plate and customer").click();
    await page.getByLabel("Number plate").fill("DEMO 9");
    await page.getByLabel("Customer", { exact: true }).fill("Invented Customer");
    await page.getByRole("button", { name: "Vehicle in" }).click();
    const event = await told("Job 9 is in");
    assert.equal(event.note, "Bonnet and mirrors");
    assert.equal(event.plate, undefined); // what the journal keeps has neither
    await go(`#/vehicle/${event.seq}`);
    const kept = page.getByRole("region", { name: "Plate and customer" });
    await kept.getByText("DEMO 9").waitFor();
    await kept.getByText("Invented Customer").waitFor();
    // Another vehicle's screen has nothing of it while its own is asked for.
    const asked = `**/api/v1/vehicles/${estate}/personal`;
    await page.route(asked, () => undefined);
    await page.evaluate((hash) => (location.hash = hash), `#/vehicle/${estate}`);
    await page.getByRole("heading", { name: /Grey estate/ }).waitFor();
    assert.equal(await kept.count(), 0);
    await page.unroute(asked);
    await page.evaluate((hash) => (location.hash = hash), `#/vehicle/${event.seq}`);
    await kept.getByText("DEMO 9").waitFor();
    // Nothing that the phone remembers has it.
    assert.doesNotMatch(await page.evaluate(() => JSON.stringify(localStorage)), /DEMO 9|Invented Customer/);

    await kept.getByRole("button", { name: "Erase plate and customer" }).click();
    const question = page.getByRole("alertdialog", { name: "Erase plate and customer" });
    await question.getByText("This cannot be undone.").waitFor();
    await question.getByRole("button", { name: "Keep them" }).click();
    await kept.getByText("DEMO 9").waitFor();
    await kept.getByRole("button", { name: "Erase plate and customer" }).click();
    await question.getByRole("button", { name: "Erase for good" }).click();
    const bar = page.getByRole("status").filter({ hasText: "plate and customer erased" });
    await bar.getByRole("button", { name: "OK" }).waitFor();
    assert.equal(await bar.getByRole("button", { name: "Undo" }).count(), 0); // there is nothing to bring back
    const erased = await told("Job 9: plate and customer erased");
    assert.deepEqual([erased.what, erased.vehicle], ["forgotten", event.seq]);
    await kept.waitFor({ state: "detached" });
  });

  test("what the rechecks say is one tap from the board; too few are called too few", async () => {
    const gone = (await shop.get("/api/v1/handed-over")).vehicles.find((one) => one.reference === "Green saloon");
    for (const { id, panel } of gone.pieces) {
      await shop.tell({ what: "rechecked", piece: id, finding: panel === "bonnet" ? "lifting" : "sound" });
    }
    await page.getByRole("link", { name: "Recheck results" }).click();
    await shows(/^One vehicle was looked at again\.$/);
    // Its bonnet was trimmed with 10 g/m² at the edge, 2.5 h after it was laid. One of one: Wilson's 95 % interval begins
    // at (1 + z²/2 - z sqrt(z²/4)) / (1 + z²) = 1 / 4.84.
    const trim = page.getByRole("region", { name: "How likely trim-ready it was when it was trimmed" });
    const row = trim.getByRole("row").filter({ hasText: "0-50 %" });
    await row.filter({ hasText: "too few to tell" }).filter({ hasText: "100 %, between 21 % and 100 %" }).waitFor();
    await page.getByRole("region", { name: "Panel", exact: true }).getByText("Bonnet").waitFor();
  });

  test("settings: what this phone shows, how the daemon is, the cautions in full", async () => {
    await page.getByRole("link", { name: "Settings" }).click();
    await shows("All is well");
    await shows(/At .+ a day that is enough for .+\. Nothing is ever removed\./);
    await shows(shop.url);
    for (const caution of ["An estimate is advice", "Heat guns", "Isopropyl alcohol", "High-voltage vehicles"]) {
      await shows(caution);
    }
    await page.getByRole("group", { name: "Temperatures" }).getByRole("radio", { name: "°F", exact: true }).check();
    await page.getByRole("group", { name: "Language and clock" }).getByRole("radio", { name: "English (US)" }).check();
    await go("#/");
    await page.locator(".lists").getByText("Hood").first().waitFor();
    assert.match(await page.locator(".board-head").innerText(), /°F/);
    await page.reload();
    await page.locator(".lists").getByText("Hood").first().waitFor();
    await go("#/settings");
    await page.getByRole("radio", { name: "As the shop: English (UK)" }).check();
    await page.getByRole("radio", { name: "As the shop: °C" }).check();
    await go("#/");
    await page.locator(".lists").getByText("Bonnet").first().waitFor();
    await shop.say("disk full");
    const refused = await fetch(`${shop.url}/api/v1/events`, { method: "POST", headers: { "Content-Type": "application/json" }, body: `{"what":"note","vehicle":${van}}` });
    assert.equal(refused.status, 503);
    await eventually(async () => {
      await go("#/");
      await go("#/settings");
      await shows(/All is well|A part fails/);
      return (await page.getByText("A part fails").count()) > 0;
    });
    await shows(/database fails/);
    await shop.say("disk free");
    forgive(faults, "503");
  });
});
