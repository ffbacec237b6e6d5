// One vehicle from its arrival to its recheck, tapped on the page of the daemon that runs at SHOP_URL; its sensor sends
// through the broker, and its clock is moved by the file CLOCK. Started by tests/system/page_walk.sh.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { renameSync, writeFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { setTimeout as pause } from "node:timers/promises";
import { eventually, openPage, openPiece, putAway, startBrowser } from "./harness.mjs";

const { SHOP_URL: url, CLOCK: clock, BROKER_PORT: port } = process.env;
const get = async (path) => (await fetch(url + path)).json();
const events = async () => (await get("/api/v1/events")).events;

let ahead = 0; // seconds
function moves(seconds) {
  ahead += seconds;
  writeFileSync(`${clock}.new`, `0 ${ahead} 1\n`);
  renameSync(`${clock}.new`, clock);
}
// A message; real air is never still.
async function hears(air_c, rh_pct) {
  const off = [0, 0.1, 0, -0.1][(ahead / 1800) % 4];
  const before = (await get("/api/v1/board")).counters.messages;
  const payload = JSON.stringify({ temperature: air_c + off, humidity: rh_pct + off });
  execFileSync("mosquitto_pub", ["-h", "127.0.0.1", "-p", port, "-q", "1", "-t", "bay/front", "-m", payload]);
  while ((await get("/api/v1/board")).counters.messages === before) {
    await pause(20);
  }
}
async function airs(hours) {
  for (let half = 0; half < 2 * hours; ++half) {
    moves(1800);
    await hears(21, 45);
  }
}

let browser;
before(async () => {
  browser = await startBrowser();
});
after(() => browser.close());

test("arrive, plan, lay, look, undo, wrap, offline, release, recheck", async () => {
  const { context, page, faults } = await openPage(browser, { url });
  page.setDefaultTimeout(60_000); // under ThreadSanitizer one outlook is a second, and what is asked for waits behind them
  const tap = (role, name) => page.getByRole(role, { name, exact: true }).click();
  const card = page.getByRole("article", { name: "Bonnet", exact: true });
  // What was tapped, once the daemon has it.
  const told = async (said) => {
    await putAway(page, said);
    return (await events()).at(-1);
  };
  await hears(21, 45);

  await tap("link", "Vehicle in");
  await page.getByLabel("What you call it").fill("Walk-in");
  await tap("button", "Vehicle in");
  const { seq: vehicle } = await told("Walk-in is in");
  await page.goto(`${url}/#/vehicle/${vehicle}/lay`);
  await page.getByText("Plan the pieces of this vehicle").click();
  await page.getByRole("button", { name: /^Full front/ }).click();
  assert.equal((await told("Walk-in: planned, Full front")).pieces.length, 8);

  await page.getByText("Change", { exact: true }).click();
  await page.getByRole("radio", { name: "Pulled dry" }).check();
  await page.getByRole("region", { name: /^Still to lay/ }).getByRole("button", { name: "Bonnet" }).click();
  const { seq: bonnet, wetness } = await told("Bonnet laid");
  assert.equal(wetness, "dry-pulled");
  await page.getByText("7 still to lay").waitFor();

  // An hour later there is water at its edge: nothing is ready.
  await airs(1);
  await page.goto(`${url}/#/vehicle/${vehicle}`);
  await openPiece(page, "Bonnet");
  await card.getByRole("button", { name: /^Edges wrapped early/ }).waitFor();
  await card.getByRole("radio", { name: "Edge" }).check();
  await card.getByRole("button", { name: "Wet" }).click();
  const looked = await told("Bonnet, edge: wet");
  assert.deepEqual([looked.what, looked.piece, looked.finding], ["inspected", bonnet, "wet"]);
  await card.getByRole("button", { name: "Lifting" }).click();
  await page.getByRole("button", { name: "Undo" }).click();
  await page.getByText("Taken back").first().waitFor();
  await eventually(async () => (await events()).at(-1).what === "superseded"); // it is said at the tap, and sent then
  const [slip, undone] = (await events()).slice(-2);
  assert.deepEqual([slip.finding, undone.what, undone.event], ["lifting", "superseded", slip.seq]);

  // Two days of warm, dry air: 3 g/m2 at the edge, 8 at most, take ten hours at 12 h for 10 g/m2.
  await airs(48);
  await page.locator(".tile").filter({ hasText: "Bonnet" }).click();
  await page.getByRole("button", { name: "Done: 1 wrapped" }).click();
  assert.deepEqual([(await told("Bonnet: edges wrapped")).what, (await events()).at(-1).piece], ["edge-wrapped", bonnet]);

  await context.setOffline(true);
  await page.getByText("More for Walk-in").click();
  await page.getByLabel("Note").fill("The sun came in");
  await tap("button", "Keep the note");
  await page.getByText("1 tap waits to be sent").waitFor();
  const before = (await events()).length;
  await context.setOffline(false);
  await page.waitForFunction(() => localStorage.getItem("dryclock.queue") === "[]");
  const sent = (await events()).slice(before);
  assert.deepEqual(sent.map(({ what, note }) => [what, note]), [["note", "The sun came in"]]);

  // What is not laid after all is taken off the plan.
  await page.goto(`${url}/#/vehicle/${vehicle}/lay`);
  await page.getByText("Plan the pieces of this vehicle").click();
  await tap("button", "Nothing more");
  await told("Walk-in: nothing planned");
  await airs(24);
  await page.goto(`${url}/#/vehicle/${vehicle}/release`);
  await page.getByText("May leave since").waitFor();
  await tap("button", "Hand over");
  const released = await told("Walk-in handed over");
  assert.deepEqual([released.what, released.vehicle], ["released", vehicle]);

  moves(15 * 86_400);
  await hears(21, 45);
  await page.goto(`${url}/#/`);
  await page.reload();
  await page.getByRole("region", { name: "Waits for you" }).getByRole("link", { name: /^Walk-in/ }).click();
  await page.getByRole("heading", { name: "Where to look at the recheck" }).waitFor();
  await card.getByRole("button", { name: "Sound" }).click();
  const found = await told("Bonnet: sound at the recheck");
  assert.deepEqual([found.what, found.piece, found.finding], ["rechecked", bonnet, "sound"]);
  await page.goto(`${url}/#/rechecks`);
  await page.getByText(/^One vehicle was looked at again\.$/).waitFor();

  assert.deepEqual(faults, []);
});
