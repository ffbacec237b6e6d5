// Without a connection: what is tapped waits on the phone, is sent once and in order, and what is not taken is told.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { forgive, layOn, noBrowser, now, onThePhone, putAway, startShop } from "./harness.mjs";

describe("offline", { skip: noBrowser }, () => {
  let open, shop, context, page, faults, estate;
  onThePhone(async (begun) => {
    open = begun;
    ({ shop, context, page, faults } = open);
    estate = (await shop.vehicle("Grey estate")).id;
  });

  const tap = (role, name) => page.getByRole(role, { name, exact: true }).click();
  const shows = (text) => page.getByText(text).first().waitFor();
  // The newest event, once the page has it through.
  const told = async (said) => {
    await putAway(page, said);
    return (await shop.events()).at(-1);
  };

  test("the age of the last update is told", async () => {
    await page.clock.install();
    await page.reload();
    await shows("live");
    await context.setOffline(true);
    await page.clock.fastForward("03:00");
    await shows("Last update 3 min ago");
    await context.setOffline(false);
  });

  test("when the daemon is gone the page says so and keeps the last board; when it is back it goes on", async () => {
    const { port, folder } = shop;
    await shop.stop();
    await shows(/No connection\. Last update just now/);
    await page.getByRole("link", { name: /^Grey estate/ }).waitFor();
    assert.equal(await page.getByText("live", { exact: true }).count(), 0);
    shop = open.shop = await startShop({ what: `broker,${now}`, port, folder });
    await page.getByText("live", { exact: true }).waitFor({ timeout: 40_000 });
    await page.locator(".lists").getByText("Mirror").first().waitFor();
    assert.equal(await page.getByText("No connection").count(), 0);
    forgive(open.faults, "ERR_CONNECTION_RESET"); // a connection that the stopped daemon had not served
  });

  test("a board that was kept by a page of another version, with other shapes, is not shown", async () => {
    const kept = { board: { vehicles: [{}] }, received: Date.now(), catalogue: {}, shapes: "others" };
    await page.addInitScript((text) => localStorage.setItem("dryclock.board", text), JSON.stringify(kept));
    await page.route("**/api/v1/**", (route) => route.abort());
    await page.reload();
    await shows("The daemon does not answer.");
  });

  test("what is tapped offline is queued, survives a closed page, and is sent once", async () => {
    await context.setOffline(true);
    await layOn(page, "Grey estate");
    await tap("button", "Boot lid");
    await shows("1 tap waits to be sent: Boot lid laid");
    await layOn(page, "White van");
    await tap("button", "Bonnet");
    await shows("2 taps wait to be sent");
    const before = (await shop.events()).length;
    // The page is closed and opened again.
    await page.close();
    await context.setOffline(false);
    page = await context.newPage();
    await page.goto(shop.url);
    await page.locator(".lists").getByText("Boot lid").first().waitFor();
    await page.waitForFunction(() => localStorage.getItem("dryclock.queue") === "[]");
    const events = (await shop.events()).slice(before);
    assert.deepEqual(events.map((event) => event.panel), ["boot-lid", "bonnet"]);
  });

  test("an answer that was lost does not lay twice", async () => {
    const before = (await shop.events()).length;
    let lost = 0;
    await page.route("**/api/v1/events", async (route) => {
      if (route.request().method() === "POST" && lost++ === 0) {
        await route.fetch(); // it arrives
        await route.abort(); // its answer does not
      } else {
        await route.continue();
      }
    });
    await layOn(page, "Grey estate");
    await tap("button", "Boot lid");
    await shows("1 tap waits to be sent");
    await page.getByRole("button", { name: "Undo" }).waitFor();
    assert.equal(lost, 2);
    assert.equal((await shop.events()).length, before + 1);
  });

  test("a vehicle that comes in without a connection can be laid on; both are sent in their order", async () => {
    await context.setOffline(true);
    await page.getByRole("link", { name: "Vehicle in" }).click();
    await page.getByLabel("What you call it").fill("Red coupe");
    await page.getByRole("button", { name: "Vehicle in" }).click();
    await page.getByText("Waits for the connection: not sent yet.").waitFor();
    await layOn(page, "Red coupe");
    await page.getByRole("button", { name: "Boot lid" }).click();
    await page.getByText("2 taps wait to be sent").waitFor();
    const before = (await shop.events()).length;
    await context.setOffline(false);
    await page.waitForFunction(() => localStorage.getItem("dryclock.queue") === "[]");
    const [came, laid] = (await shop.events()).slice(before);
    assert.deepEqual([came.what, came.reference], ["vehicle-in", "Red coupe"]);
    assert.deepEqual([laid.what, laid.panel, laid.vehicle], ["lay", "boot-lid", came.seq]);
    await page.locator("a.row").filter({ hasText: /Boot lid.*Red coupe/ }).waitFor();
    assert.equal(await page.getByText("Waits for the connection").count(), 0);
  });

  test("heat told with the laying waits for the piece's number; one tap, and taken back as one", async () => {
    await context.setOffline(true);
    await layOn(page, "White van");
    await page.getByRole("button", { name: "Heated" }).click();
    await page.getByRole("button", { name: /^Mirror/ }).click();
    await page.getByRole("button", { name: "Left mirror" }).click();
    await shows("1 tap waits to be sent: Left mirror laid");
    const before = (await shop.events()).length;
    await context.setOffline(false);
    await page.waitForFunction(() => localStorage.getItem("dryclock.queue") === "[]");
    const [laid, heated] = (await shop.events()).slice(before);
    assert.deepEqual([laid.what, laid.panel, laid.wetness], ["lay", "mirror", "usual"]);
    assert.deepEqual([heated.what, heated.piece, heated.zone], ["heat-applied", laid.seq, "recess"]);
    await tap("button", "Undo");
    await shows("Taken back");
    await page.waitForFunction(() => localStorage.getItem("dryclock.queue") === "[]");
    const undone = (await shop.events()).slice(before + 2);
    assert.deepEqual(undone.map(({ what, event }) => [what, event]), [["superseded", heated.seq], ["superseded", laid.seq]]);
  });

  test("one that the daemon fails at holds back its own vehicle alone, and is tried again", async () => {
    const before = (await shop.events()).length;
    let failing = true;
    await page.route("**/api/v1/events", async (route) => {
      const fails = failing && route.request().method() === "POST" && route.request().postDataJSON().panel === "boot-lid";
      await (fails ? route.fulfill({ status: 500, json: { status: 500, detail: "made up" } }) : route.continue());
    });
    await context.setOffline(true);
    await layOn(page, "Grey estate");
    await tap("button", "Boot lid");
    await shows("1 tap waits to be sent");
    await page.goto(`${shop.url}/#/vehicle/${estate}`);
    await page.getByText("More for Grey estate").click();
    await page.getByLabel("Note").fill("behind it");
    await page.getByRole("button", { name: "Keep the note" }).click();
    await page.getByRole("link", { name: "Board" }).first().click();
    await layOn(page, "White van");
    await tap("button", "Bonnet");
    await shows("3 taps wait to be sent");
    await context.setOffline(false);
    await shows("The daemon could not take Boot lid laid");
    await shows("2 taps wait to be sent");
    assert.deepEqual((await shop.events()).slice(before).map((event) => event.panel), ["bonnet"]);
    failing = false;
    await page.waitForFunction(() => localStorage.getItem("dryclock.queue") === "[]", undefined, { timeout: 40_000 });
    assert.deepEqual((await shop.events()).slice(before + 1).map((event) => event.panel ?? event.note), ["boot-lid", "behind it"]);
    forgive(faults, "500");
  });

  test("what is refused is said, and not tried again", async () => {
    await layOn(page, "Grey estate");
    await page.getByRole("button", { name: "Boot lid" }).waitFor();
    await context.setOffline(true);
    await tap("button", "Boot lid");
    await shows("1 tap waits to be sent");
    // Before it is sent, somebody else has handed the vehicle over.
    await shop.tell({ what: "released", vehicle: estate, advised: "keep it dry", at: now });
    await context.setOffline(false);
    await shows("Not taken: Boot lid laid");
    await shows("Grey estate was handed over");
    forgive(faults, "409");
    const before = (await shop.events()).length;
    await tap("button", "OK");
    await page.reload();
    await shows("live");
    assert.equal(await page.evaluate(() => localStorage.getItem("dryclock.queue")), "[]");
    assert.equal((await shop.events()).length, before);
  });

  test("what was laid on a vehicle that the daemon did not take is refused too, and says why", async () => {
    await context.setOffline(true);
    await page.getByRole("link", { name: "Vehicle in" }).click();
    await page.getByLabel("What you call it").fill("Black van");
    await page.getByRole("button", { name: "Vehicle in" }).click();
    await layOn(page, "Black van");
    await page.getByRole("button", { name: "Bonnet", exact: true }).click();
    // Before it is sent, somebody else has brought it in.
    await shop.tell({ what: "vehicle-in", reference: "Black van", bay: "back" });
    const before = (await shop.events()).length;
    await context.setOffline(false);
    await page.getByText("Not taken: Bonnet laid").waitFor();
    await page.getByText("What it belongs to was not taken.").waitFor();
    await page.getByText("Not taken: Black van is in.").waitFor();
    assert.equal((await shop.events()).length, before);
    forgive(faults, "409");
  });

  test("what was not taken stands until it is put away, whatever is taken after it and though the page is closed", async () => {
    const note = async (text) => {
      await page.getByLabel("Note").fill(text);
      await page.getByRole("button", { name: "Keep the note" }).click();
    };
    await page.goto(`${shop.url}/#/vehicle/${estate}`);
    await page.getByText("More for Grey estate").click();
    await context.setOffline(true);
    await page.getByRole("group", { name: "Moved from front to" }).getByRole("button", { name: "outside" }).click();
    await note("first");
    await shows("2 taps wait to be sent");
    // Before they are sent, somebody else has handed the vehicle over: it cannot be moved, and can be noted on.
    await shop.tell({ what: "released", vehicle: estate, advised: "keep it dry", at: "2026-03-07T06:40:00Z" });
    await context.setOffline(false);
    const refused = page.getByRole("status").filter({ hasText: "Not taken: Grey estate: moved to outside." });
    await refused.waitFor();
    assert.equal((await told("Grey estate: noted")).note, "first");
    await page.reload();
    await refused.getByText("Grey estate was handed over").waitFor();
    await refused.getByRole("button", { name: "OK" }).click();
    await refused.waitFor({ state: "detached" });
    await page.reload();
    await page.getByText("live", { exact: true }).waitFor();
    assert.equal(await refused.count(), 0);
    forgive(faults, "409");
  });
});
