// The shop's clock on the wall, which is not the phone's.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { setTimeout } from "node:timers/promises";
import { noBrowser, now, onThePhone, openPage, putAway, startShop } from "./harness.mjs";

describe("the shop's clock", { skip: noBrowser }, () => {
  let browser, shop;
  onThePhone((open) => {
    ({ browser, shop } = open);
  });

  // The daemon's clock stands still here, and each board sets the page's back to it.
  test("two taps of one phone are never dated in reverse order", async () => {
    const { id } = await shop.vehicle("Grey estate");
    const { page, context } = await openPage(browser, shop);
    const note = async (text) => {
      await page.getByLabel("Note").fill(text);
      await page.getByRole("button", { name: "Keep the note" }).click();
      await putAway(page, "noted");
      const event = (await shop.events()).at(-1);
      assert.equal(event.note, text);
      return Date.parse(event.at);
    };
    const more = () => page.getByText("More for Grey estate").click();
    await page.goto(`${shop.url}/#/vehicle/${id}`);
    await more();
    await setTimeout(4000);
    const first = await note("first");
    assert.ok(first > Date.parse(now) + 2000);
    const second = await note("second");
    await page.reload();
    await more();
    const third = await note("third");
    assert.ok(first <= second && second <= third, [first, second, third].join(" "));
    // A clock that is put right by more than the daemon lets a tap be ahead counts from then on.
    await page.evaluate((at) => localStorage.setItem("dryclock.tapped", String(at)), Date.parse(now) + 600_000);
    assert.ok((await note("fourth")) < Date.parse(now) + 60_000);
    await context.close();
  });

  // The United Kingdom's clocks change at 01:00 UTC on the last Sundays of March and October (The Summer Time Order
  // 2002, SI 2002/262; from memory): 29 March and 25 October in 2026.
  test("a hand-over is agreed by the shop's clock, wherever the phone thinks it is", async () => {
    const elsewhere = await openPage(browser, shop, { timezoneId: "Asia/Tokyo" });
    const { page } = elsewhere;
    const shows = (text) => page.getByText(text).first().waitFor();
    const arrive = () => page.goto(`${shop.url}/#/arrive`);
    const agreed_at = async () => {
      await putAway(page, "is in");
      return Date.parse((await shop.events()).at(-1).hand_over);
    };
    const agreed = {
      "2026-03-09T12:00": "2026-03-09T12:00:00Z", // winter time
      "2026-07-01T12:00": "2026-07-01T11:00:00Z", // summer time
      "2026-10-25T02:00": "2026-10-25T02:00:00Z",
    };
    for (const [wall, instant] of Object.entries(agreed)) {
      await arrive();
      await shows("By the shop's clock (Europe/London)");
      await page.getByLabel("What you call it").fill(`Job ${wall}`);
      await page.getByLabel(/Hand-over agreed/).fill(wall);
      await page.getByRole("button", { name: "Vehicle in" }).click();
      assert.equal(await agreed_at(), Date.parse(instant), wall);
    }
    // An hour that is skipped, and one that comes twice, are asked about.
    await arrive();
    await page.getByLabel("What you call it").fill("Job at night");
    await page.getByLabel(/Hand-over agreed/).fill("2026-03-29T01:30");
    await shows(/it does not exist/);
    await page.getByLabel(/Hand-over agreed/).fill("2026-10-25T01:30");
    await shows(/it comes twice/);
    await page.getByRole("button", { name: "Vehicle in" }).click();
    await shows(/it comes twice/); // nothing was sent
    await page.getByRole("radio", { name: /The second/ }).check();
    await page.getByRole("button", { name: "Vehicle in" }).click();
    assert.equal(await agreed_at(), Date.parse("2026-10-25T01:30:00Z"));
    await elsewhere.context.close();
    assert.deepEqual(elsewhere.faults, []);
  });

  // The same days: 01:30 was skipped this night, or has come twice (00:30 and 01:30 UTC).
  test("what is told late for an hour that was skipped, or came twice, is asked about", async () => {
    for (const [day, ...answers] of [["2026-03-29"], ["2026-10-25", "2026-10-25T00:30:00Z"]]) {
      const there = await startShop({ what: `${day}T12:00:00Z` });
      const { context, page, faults } = await openPage(browser, there);
      const shows = (text) => page.getByText(text).first().waitFor();
      const known = (await there.events()).length;
      await page.goto(`${there.url}/#/arrive`);
      await page.getByLabel("What you call it").fill("Night van");
      await page.getByText("What you tap counts as done now").click();
      await page.getByRole("radio", { name: "At a time" }).check();
      await page.getByLabel("Time on the shop's clock").fill("01:30");
      await shows(answers.length === 0 ? /it does not exist/ : /it comes twice/);
      await page.getByRole("button", { name: "Vehicle in" }).click();
      await shows("Nothing can be told for the time that is chosen");
      assert.equal((await there.events()).length, known);
      if (answers.length > 0) {
        await page.getByRole("radio", { name: /The second/ }).check();
        await page.getByRole("radio", { name: /The first/ }).check();
      } else {
        await page.getByLabel("Time on the shop's clock").fill("02:30");
      }
      await page.getByRole("button", { name: "Vehicle in" }).click();
      await putAway(page, "is in");
      const { what, at } = (await there.events()).at(-1);
      assert.deepEqual([what, Date.parse(at)], ["vehicle-in", Date.parse(answers[0] ?? "2026-03-29T01:30:00Z")]);
      await context.close();
      await there.stop();
      there.gone();
      assert.deepEqual(faults, []);
    }
  });
});
