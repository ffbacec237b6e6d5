// The shop's clock on the wall, which is not the phone's. Over the invented shop.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { noBrowser, onThePhone, openPage } from "./harness.mjs";

describe("the shop's clock", { skip: noBrowser }, () => {
  let browser, shop;
  onThePhone((open) => {
    ({ browser, shop } = open);
  });

  // The United Kingdom's clocks change at 01:00 UTC on the last Sundays of March and October (The Summer Time Order
  // 2002, SI 2002/262; from memory): 29 March and 25 October in 2026.
  test("a hand-over is agreed by the shop's clock, wherever the phone thinks it is", async () => {
    const elsewhere = await openPage(browser, shop, { timezoneId: "Asia/Tokyo" });
    const { page } = elsewhere;
    const shows = (text) => page.getByText(text).first().waitFor();
    const arrive = () => page.goto(`${shop.url}/#/arrive`);
    const agreed_at = async () => {
      await page.getByRole("status").filter({ hasText: "is in" }).getByRole("button", { name: "OK" }).click();
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
});
