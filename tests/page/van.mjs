// Three days with a van of 25 pieces and a hatchback of four beside it, told on the page of the whole daemon: how far one
// scrolls, how often one taps, how many alerts stand in the evening, how fast the first board is there. Prints what it measured, and
// leaves screenshots. Not among the tests: it wants an optimized build and a quiet machine (DEVELOPERS.md, Tests).
import assert from "node:assert/strict";
import { mkdir, readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { after, before, describe, test } from "node:test";
import { eventually, noBrowser, openPage, phone, startBrowser, startShop } from "./harness.mjs";

const axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const wall = { width: 1280, height: 800 };
const day = (n, clock) => `2026-03-0${1 + n}T${clock}:00Z`; // the first is a Monday

const both = (panel) => [[panel, "left"], [panel, "right"]];
const first_day = [["bonnet"], ...both("front-wing"), ...both("mirror"), ...both("headlamp"), ...both("a-pillar"), ["roof-front"], ["front-bumper"], ["fuel-flap"]];
const second_day = [["door-cup", "left-front"], ["door-cup", "right-front"], ...both("front-door"), ...both("sliding-door"), ...both("sill"), ["rear-bumper"], ["loading-edge"], ["tailgate"], ...both("rear-lamp")];
const beside = [...both("mirror"), ["bonnet"], ["headlamp", "left"]];

describe("van", { skip: noBrowser }, () => {
  let shop, browser, page, context, faults, van, hatch;
  const tell = (name, value) => console.log(`${name}: ${value}`);
  before(async () => {
    browser = await startBrowser();
    shop = await startShop({ what: day(1, "07:00") });
    van = await shop.tell({ what: "vehicle-in", reference: "van-117", bay: "front", hand_over: day(4, "17:00") });
    hatch = await shop.tell({ what: "vehicle-in", reference: "hatch-4", bay: "front", hand_over: day(5, "10:00") });
    await shop.say(`air ${day(1, "08:00")} 21 46`);
    ({ page, context, faults } = await openPage(browser, shop, { patience: 60_000 }));
    await mkdir(process.env.SHOTS, { recursive: true });
  });
  after(async () => {
    await context.close();
    await browser.close();
    await shop.stop();
    shop.gone();
  });

  // In steps: each waits for what is foreseen at its end.
  const airs = async (until, air_c, rh_pct) => {
    const { now } = await shop.get("/api/v1/board");
    for (let at = Date.parse(now) + 2 * 3_600_000; at < Date.parse(until); at += 2 * 3_600_000) {
      await shop.say(`air ${new Date(at).toISOString().replace(".000", "")} ${air_c} ${rh_pct}`);
    }
    await shop.say(`air ${until} ${air_c} ${rh_pct}`);
  };
  const lays = async (vehicle, pieces, from, wetness) => {
    for (const [index, [panel, side]] of pieces.entries()) {
      const at = new Date(Date.parse(from) + index * 20 * 60_000).toISOString();
      await shop.tell({ what: "lay", vehicle, panel, wetness, at, ...(side ? { side } : {}) });
    }
  };
  // The page's clock has gone on since its board came; the shop's stands until it is moved, and what was told counts then.
  const minutePasses = async () => {
    const { now } = await shop.get("/api/v1/board");
    await shop.say(`quiet ${new Date(Date.parse(now) + 60_000).toISOString().replace(/\.\d+Z/, "Z")}`);
  };
  const sent = () => page.waitForFunction(() => localStorage.getItem("dryclock.queue") === "[]" || localStorage.getItem("dryclock.queue") === null);
  let taps = 0;
  let deeds = 0;
  let looks = 0;
  const tap = async (locator) => {
    await locator.click();
    ++taps;
  };
  // All that is asked is answered, all that is ready is done: each group marked as a whole, all of it told at once.
  const works = async () => {
    await page.goto(`${shop.url}/#/`);
    await page.getByRole("heading", { name: "Vehicles" }).waitFor();
    // Others become worth a look meanwhile.
    for (let left = 60; left > 0 && (await page.locator(".answer").count()) > 0; --left) {
      const question = page.locator(".sights").first();
      const label = await question.getAttribute("aria-label");
      const alike = page.getByRole("group", { name: label, exact: true });
      const before = await alike.count();
      await question.getByRole("button", { name: "Clear" }).click();
      ++looks;
      await sent();
      await minutePasses();
      await eventually(async () => (await alike.count()) < before);
    }
    const ready = await page.locator(".tile").count();
    if (ready > 0) {
      for (const group of await page.locator("button.step").all()) {
        await tap(group);
      }
      await tap(page.getByRole("button", { name: /^Done: / }));
      await sent();
      await minutePasses();
      deeds += ready;
    }
  };
  const screens = () =>
    page.evaluate(() => {
      const end = (selector) => Math.max(0, ...[...document.querySelectorAll(selector)].map((one) => one.getBoundingClientRect().bottom + scrollY)) / innerHeight;
      return { ready: end(".tile"), asked: end(".answer"), all: end("a.row, .rest, .tile, .answer"), whole: document.documentElement.scrollHeight / innerHeight };
    });
  const looksAt = async (name) => {
    for (const viewport of [phone, wall]) {
      await page.setViewportSize(viewport);
      for (const colorScheme of ["light", "dark"]) {
        await page.emulateMedia({ colorScheme });
        for (const [screen, hash] of Object.entries({ board: "#/", vehicle: `#/vehicle/${van}`, bay: "#/bay/front", wall: "#/wall", alerts: "#/alerts", lay: `#/vehicle/${van}/lay` })) {
          await page.goto(`${shop.url}/${hash}`);
          await page.getByRole("heading").first().waitFor();
          await page.evaluate(axe);
          const { violations } = await page.evaluate(() => window.axe.run());
          assert.deepEqual(violations.filter((one) => ["serious", "critical"].includes(one.impact)).map((one) => [name, screen, one.id, one.nodes.map((node) => node.html)]), []);
          assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `${screen} scrolls sideways`);
          await page.screenshot({ path: join(process.env.SHOTS, `van-${name}-${screen}-${viewport.width}x${viewport.height}-${colorScheme}.png`), fullPage: screen !== "wall", timeout: 30_000 });
        }
      }
    }
    await page.setViewportSize(phone);
    await page.emulateMedia({ colorScheme: "light" });
  };
  const measures = async (name) => {
    await page.goto(`${shop.url}/#/`);
    await page.getByRole("heading", { name: "Vehicles" }).waitFor();
    const { ready, asked, all, whole } = await screens();
    const [tiles, answers, rows] = await Promise.all([".tile", ".answer", "a.row"].map((selector) => page.locator(selector).count()));
    tell(`${name}: ready ${tiles}, to look at ${answers}, in time ${rows}; screens to the last ready piece`, `${ready.toFixed(2)}, to the last look ${asked.toFixed(2)}, to the last piece ${all.toFixed(2)}, the whole page ${whole.toFixed(2)}`);
    return { ready, all, tiles };
  };
  const evening = async (n) => {
    const { alerts } = await shop.get("/api/v1/board");
    const line = await page.locator(".alert-line article").count();
    tell(`evening of day ${n}: alerts on the board's line`, `${line}, open in all ${alerts.length}`);
    assert.ok(line <= 5, `${line} alerts`);
  };

  test("three days", async () => {
    for (const [n, pieces] of [[1, first_day], [2, second_day], [3, []]]) {
      await airs(day(n, "13:00"), 21, 46);
      await lays(van, pieces, day(n, "08:10"), n === 1 ? "usual" : "dry-pulled");
      if (n === 2) {
        await lays(hatch, beside, day(2, "10:00"), "dry-pulled");
      }
      if (n > 1) {
        const { ready, tiles } = await measures(`day ${n}, 13:00`);
        assert.ok(tiles > 20 || ready <= 1, `the last ready piece is ${ready} screens away`);
        await works();
      }
      await airs(day(n, "18:00"), 21, 46);
      await measures(`day ${n}, 18:00`);
      await evening(n);
      if (n === 2) {
        await looksAt(`day-${n}`);
      }
      await works();
      await airs(day(n + 1, "06:00"), 17.5, 55);
      const { ready, all, tiles } = await measures(`day ${n + 1}, 06:00`);
      assert.ok(tiles > 20 || ready <= 1, `the last ready piece is ${ready} screens away`);
      assert.ok(all <= 2.6, `the last piece is ${all} screens away`);
      if (n === 2) {
        await looksAt(`morning-${n + 1}`);
      }
      await works();
    }
    tell("steps told", `${deeds} in ${taps} taps (${(taps / deeds).toFixed(2)} a step); looks answered ${looks}, each in one tap`);
    assert.ok(deeds > 0 && taps < deeds);
    assert.deepEqual(faults, []);
  });

  test("the first board on a slowed phone", async () => {
    const session = await context.newCDPSession(page);
    await session.send("Emulation.setCPUThrottlingRate", { rate: 4 });
    await page.addInitScript(() => {
      new MutationObserver((_, observer) => {
        if (document.getElementById("vehicles")) {
          window.boardAfter = performance.now();
          observer.disconnect();
        }
      }).observe(document, { childList: true, subtree: true });
    });
    const took = [];
    for (let load = 0; load < 5; ++load) {
      await page.evaluate(() => localStorage.clear());
      await page.goto("about:blank");
      await page.goto(`${shop.url}/#/`);
      await page.getByRole("heading", { name: "Vehicles" }).waitFor();
      took.push(Math.round(await page.evaluate(() => window.boardAfter)));
    }
    tell("first board with the CPU slowed four times, ms", took.join(", ")); // other work on the machine counts in: no check
  });
});
