// Sensors, film test plates and witness plates on the page, in a real browser.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { eventually, forgive, noBrowser, now, onThePhone, openPage, startShop } from "./harness.mjs";

describe("sensors", { skip: noBrowser }, () => {
  let browser, shop, page;
  onThePhone((open) => {
    ({ browser, shop, page } = open);
  });

  const go = (hash) => page.goto(`${shop.url}/#/${hash}`);
  const tap = (role, name) => page.getByRole(role, { name }).click();
  const shows = (text) => page.getByText(text).first().waitFor();
  const last = async () => (await shop.events()).at(-1);

  test("from the settings to the list: values, doubts, checks", async () => {
    await go("settings");
    await tap("link", "Sensors");
    await page.getByRole("heading", { name: "front-wall" }).waitFor();
    await shows("50.0 %");
    await shows("Not believed: jumped too far (2)");
    await shows("Never checked against a salt.");
    assert.equal(await page.getByRole("button", { name: "Retire" }).count(), 0); // it stands in the file
  });

  test("a bay's screen names its sensors and their checks", async () => {
    await go("bay/front");
    await page.getByRole("link", { name: /^front-wall/ }).waitFor();
    await shows("17.2 °C, 50.0 %");
    await shows("Never checked against a salt.");
  });

  test("what is found is set up by a tap on its bay, and retired", async () => {
    await shop.say('publish loft/air {"t":18.4,"h":0.55}');
    await shop.say("publish loft/status online");
    await shop.say('publish sensors/front {"t":16.5,"h":61}');
    await go("sensors");
    await tap("link", "Find sensors");
    await shows("Listening on every topic");
    await shows("0.55 is taken as a fraction by its size");
    await page.getByText("2 other topics").click();
    await shows("loft/status (a device is there)");
    await page.getByLabel("Name").fill("roof");
    await tap("button", "back");
    await page.getByRole("heading", { name: "roof" }).waitFor();
    const told = await last();
    assert.equal(told.what, "sensor-assigned");
    assert.equal(told.sensor, "roof");
    assert.equal(told.bay, "back");
    assert.deepEqual(told.reads, [
      { topic: "loft/air", pointer: "/t", quantity: "air-temperature", unit: "C", slope: 1 },
      { topic: "loft/air", pointer: "/h", quantity: "relative-humidity", unit: "fraction", slope: 1 },
    ]);
    await tap("button", "Retire");
    await shows("roof retired");
    await page.getByRole("heading", { name: "roof" }).waitFor({ state: "detached" });
  });

  test("without a broker a search says why, and not that it listened", async () => {
    const alone = await startShop({ what: now });
    const { context, page: there, faults } = await openPage(browser, alone);
    await there.goto(`${alone.url}/#/sensors/find`);
    await there.getByText(/not connected to the broker/).waitFor();
    await there.getByText("Nothing yet that looks like").waitFor();
    assert.equal(await there.getByText(/^Listen/).count(), 1); // the button: again
    forgive(faults, "503");
    await context.close();
    await alone.stop();
    alone.gone();
    assert.deepEqual(faults, []);
  });

  test("a check over salt from the box to the correction", async () => {
    await go("sensors");
    await tap("link", "Check");
    await shows("like wet sand");
    await shows("Magnesium chloride: 33.1 %"); // OIML R 121:1996, Table 1, at 20 C
    await tap("button", "It hangs in the glass now");
    await shows("Over table salt since");
    assert.equal((await last()).salt, "NaCl");
    assert.equal(await page.getByRole("button", { name: "Keep this result" }).count(), 0); // it has just gone in
    await shop.say("air 2026-03-07T14:40:00Z 20 80.5");
    await tap("button", "Keep this result");
    await shows("it showed 80.5 %, 75.5 % was expected: off"); // OIML R 121:1996, Table 1, at 20 C
    assert.equal((await last()).what, "sensor-checked");
    await tap("button", /^Correct from now on: slope 1, offset -5/);
    await shows("front-wall corrected");
    assert.ok(Math.abs((await last()).offset - (75.5 - 80.5)) < 0.05);
    await page.getByRole("button", { name: /^Correct from now on/ }).waitFor({ state: "detached" });
  });

  test("a check is given up", async () => {
    await go("sensors/check/front-wall");
    await tap("button", "It hangs in the glass now");
    await tap("button", "Give it up");
    await shows("Check given up");
    await page.getByRole("button", { name: "It hangs in the glass now" }).waitFor();
  });

  test("a test plate is laid, weighed and kept", async () => {
    await go("settings");
    await tap("link", "Film test plates");
    await page.getByLabel("Lot of the roll").fill("L7");
    const area = page.getByLabel("Area with water under it, m²");
    await area.fill("900"); // cm²
    await shows("This must be a number between 0.0001 and 4.");
    assert.ok(await page.getByRole("button", { name: "Laid now" }).isDisabled());
    await area.fill("0.09");
    await tap("button", "Laid now");
    await shows(/0 of 4 weighings count so far/);
    await shop.say("quiet 2026-03-07T06:41:00Z"); // the page's clock has gone on meanwhile
    await page.reload();
    await page.getByLabel("Grams now").fill("412,35");
    await tap("button", "Weighed");
    await shows("412.35 g");
    await eventually(async () => (await last()).grams === 412.35);
    const { coupon } = await last();
    // At 21 C and 50 %RH the water is driven by 1244 Pa; 0.09 m2 of film that resists with 8e9 m2 s Pa/kg let 0.0504 g
    // through in an hour. The balance shows hundredths.
    for (let hour = 7; hour <= 18; ++hour) {
      await shop.say(`air 2026-03-07T${String(hour).padStart(2, "0")}:40:00Z 21 50`);
      await shop.tell({ what: "coupon-weighed", coupon, grams: Math.round(41235 - 5.04 * (hour - 6)) / 100 });
    }
    await tap("button", /^Keep this/);
    await shows(/Kept: (7\.[5-9]|8(\.[0-5])?)\sGPa\sm²\ss\/kg within/);
    assert.equal((await last()).what, "film-measured");
  });

  test("what the shop has shown is read, and let go of", async () => {
    const { id: vehicle } = await shop.vehicle("White van");
    const piece = await shop.tell({ what: "lay", vehicle, panel: "bonnet", at: "2026-03-07T05:00:00Z" });
    await shop.tell({ what: "inspected", piece, zone: "edge", finding: "wet", at: "2026-03-07T06:00:00Z" });
    await go("settings");
    await tap("link", "What this shop has shown");
    await page.getByRole("heading", { name: "What this shop has shown" }).waitFor();
    await shows(/times the usual water \(/);
    await shows(/edge: \d+ looks? at \d+ pieces?/i);
    await tap("button", "Learn anew from now on");
    await shows("Nothing that was seen counts yet");
    assert.equal((await last()).what, "learn-anew");
  });

  test("a witness plate is laid, and the board's question is answered with a tap", async () => {
    await go("settings");
    await tap("link", "Witness plates");
    await page.getByLabel("Lot of the roll").fill("L8");
    await tap("button", "Field"); // a strip more than is usual
    await tap("button", "Laid now");
    await shows("A look tells little yet");
    const laid = await last();
    assert.deepEqual([laid.what, laid.lot, laid.strips], ["plate-laid", "L8", ["edge", "recess", "field"]]);
    await shop.say("air 2026-03-09T08:40:00Z 21 50"); // two days: by then it may well be dry
    await page.reload(); // taps are told by the shop's clock, which the page has from its board
    await go("");
    const asked = page.getByRole("group", { name: /^Look at the witness plate with .*, edge: how much of it is still wet/ });
    await asked.getByRole("button", { name: "A tenth wet" }).click();
    await eventually(async () => (await last()).what === "plate-seen");
    const seen = await last();
    assert.deepEqual([seen.zone, seen.sign, seen.course.drunk_g_m2.length], ["edge", "tenth-wet", 8]);
    await asked.waitFor({ state: "detached" });
    await go("plate");
    await shows("Edge: a tenth wet");
    for (const zone of ["Edge", "Recess", "Field"]) {
      await page.getByRole("group", { name: `${zone}: how much is still wet?` }).getByRole("button", { name: "Clear" }).click();
      await eventually(async () => (await last()).sign === "none-wet" && (await last()).zone === zone.toLowerCase());
    }
    await shows(/Seen to its end: .* and your hands count as known/);
    assert.equal(await page.getByRole("group", { name: /how much is still wet/ }).count(), 0);
  });

  test("strips are laid, pulled and kept", async () => {
    await go("coupon");
    await tap("button", "The strips lie");
    await shows(/0 strips have been pulled so far/);
    await eventually(async () => (await last()).what === "bond-coupon-laid");
    const { seq: coupon } = await last();
    await page.getByLabel("What this strip took").fill("8,5");
    await tap("button", "Strip pulled");
    await eventually(async () => (await last()).peel === 8.5);
    assert.deepEqual([(await last()).what, (await last()).coupon], ["bond-coupon-pulled", coupon]);
  });
});
