// The page in a real browser, over the whole daemon.
import assert from "node:assert/strict";
import { mkdir, readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { describe, test } from "node:test";
import { eventually, layOn, noBrowser, onThePhone, openPage, openPiece, phone, startShop } from "./harness.mjs";
import { beginnings, fillScreens, screensOf, show } from "./screens.mjs";

const begins = beginnings("en");
const axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

describe("page", { skip: noBrowser }, () => {
  let browser, shop, context, page, faults, estate;
  onThePhone(async (open) => {
    ({ browser, shop, context, page, faults } = open);
    estate = (await shop.vehicle("Grey estate")).id;
  });

  const board = () => page.goto(`${shop.url}/#/`);
  const tap = (role, name) => page.getByRole(role, { name, exact: true }).click();
  const shows = (text) => page.getByText(text).first().waitFor();
  // The page is told of this board alone.
  const boardIs = async (told) => {
    const body = `event: board\ndata: ${JSON.stringify(told)}\n\n`;
    await page.route("**/api/v1/live", (route) => route.fulfill({ contentType: "text/event-stream", body }));
    await page.reload();
  };

  test("the board says when it may leave, what comes when and what is wrong", async () => {
    await shows("live");
    const chip = page.getByRole("region", { name: "Vehicles" }).getByRole("link", { name: /^Grey estate/ });
    // The mirror was laid three hours ago, and a vehicle stays in for 24 h after its last piece: 27 h are agreed.
    assert.match((await chip.innerText()).replace(/\s+/g, " "), /^Grey estate Sun 08:40 (in time|\d+ (min|h|days?) late|late|no time yet)$/);
    // One line a piece, with its next step and one time.
    const text = (await page.locator("main").innerText()).replace(/\s+/g, " ");
    assert.match(text, /Worth a look \d (.* )?Mirror Grey estate Wet Hazy Clear|Mirror Grey estate (wrap|trim|refit) ((\w{3} )?\d\d:\d\d|no time yet)/);
    assert.match(text, /Front bumper Grey estate/);
    assert.match(await page.locator(".board-head").innerText(), /Sat 06:4\d\s+front 17\.\d\s°C · 5\d\s%/);
    const alerts = page.getByRole("region", { name: "Alerts" });
    await alerts.getByText(/Front is at 17\.\d\s°C and has been below 18\s°C for/).first().waitFor();
    await alerts.locator("summary").click();
    await shows("Look at the heater");
    await shows("No sensor has told anything yet.");
  });

  test("of many alerts the most urgent is one line with a count, all of them behind it; what the lists say is not among them", async () => {
    const board = await shop.get("/api/v1/board");
    const warning = { ...board.alerts[0], id: "warning-1", rule: "bay-damp", level: "warning", acknowledged: null };
    const alert = (id, level, acknowledged = null) => ({ ...warning, id, level, acknowledged, what: { key: "", values: [], words: `It is ${id}.` } });
    board.alerts = [alert("news-1", "news"), alert("seen-1", "urgent", warning.raised), alert("urgent-1", "urgent"), warning, { ...alert("ready-1", "news"), rule: "piece-ready" }];
    await boardIs(board);
    const alerts = page.getByRole("region", { name: "Alerts" });
    const line = alerts.locator("summary");
    assert.equal((await line.innerText()).replace(/\s+/g, " ").trim(), "It is urgent-1. 3 more");
    assert.equal(await alerts.locator("article:visible").count(), 0);
    await line.click();
    const texts = await alerts.locator("article:visible p:nth-child(2)").allInnerTexts();
    assert.deepEqual([texts.length, texts[0], texts[2], texts[3]], [4, "It is urgent-1.", "It is news-1.", "It is seen-1."]);
    await page.goto(`${shop.url}/#/alerts`);
    await page.getByRole("region", { name: "Open" }).getByText("It is ready-1.").waitFor();
  });

  test("nothing is called wet where no water is, or rounded to nothing; what has no number has a dash, and no minus", async () => {
    const board = await shop.get("/api/v1/board");
    const piece = board.vehicles.find((one) => one.id === estate).pieces.find((one) => one.panel === "mirror");
    const zone = (kind, gone_probability, wet, low, likely, high) => ({ ...piece.state.zones[0], kind, gone_probability, wet_share: { low: wet, likely: wet, high: wet }, water: { low, likely, high } });
    piece.state.zones = [zone("field", 0.1, 0.4, 0.088, 0.42, 2.4), zone("edge", 0.6, 0.02, 0, 0, 3), zone("recess", 0.2, null, null, null, null)];
    const values = [{ name: "zone", measure: "word", text: "words.zone-edge" }, { name: "bond", measure: "share" }, { name: "needed", measure: "share", number: null }];
    piece.milestones.forEach((one) => Object.assign(one, { announced: null, look: null, held_by: { key: "limits.bond", values } }));
    Object.assign(board.alerts[0], { rule: "bay-cold", raised: "2025-03-07T06:40:00Z", what: { key: "alerts-page.more", values: [{ name: "count", measure: "count", number: null }] } });
    board.alerts.length = 1;
    Object.assign(board.bays.find((one) => one.name === "front"), { pace: -0.003 });
    board.bays.push({ ...board.bays[0], name: "outside", as_of: null });
    await boardIs(board);
    const alert = page.getByRole("region", { name: "Alerts" });
    await alert.locator("summary").getByText("- more", { exact: true }).waitFor();
    await alert.locator("summary").click();
    await alert.getByText("since Fri 7 Mar 2025 06:40").waitFor(); // a year ago: the year is told
    await page.goto(`${shop.url}/#/bay/front`);
    await page.getByRole("region", { name: "Air now:" }).getByText(/^0\.00 does not dry$/).waitFor();
    await page.goto(`${shop.url}/#/vehicle/${estate}?piece=${piece.id}`);
    const card = page.getByRole("article", { name: "Mirror" });
    await card.getByText("Edge: bond -, - wanted").waitFor();
    const zones = (await card.locator(".zone").allInnerTexts()).map((text) => text.replace(/\s+/g, " "));
    const begin = ["Field still wet, on 40 % of it Water 0.42 g/m² (0.09 to 2.4)", "Edge water gone (chance 60 %) Water 0 g/m² (0 to 3)", "Recess wet Water ? g/m² (? to ?)"];
    assert.deepEqual(zones.map((text, index) => text.startsWith(begin[index])), [true, true, true], zones.join("\n"));
    await page.route("**/api/v1/bays/outside/air?*", (route) => route.fulfill({ json: { points: [] } }));
    await page.goto(`${shop.url}/#/bay/outside`);
    await page.getByRole("heading", { name: "Outside", exact: true }).waitFor();
  });

  test("two taps from the board to laid now, and undo", async () => {
    await tap("link", "Lay a piece on White van"); // the newest
    await tap("button", "Boot lid");
    await shows("Boot lid laid Sat 06:40");
    await page.locator("a.row").filter({ hasText: "Boot lid" }).waitFor();
    const [last] = (await shop.events()).slice(-1);
    assert.equal(last.what, "lay");
    assert.equal(last.panel, "boot-lid");
    await tap("button", "Undo");
    await shows("Taken back");
    await eventually(async () => (await shop.events()).at(-1).what === "superseded"); // it is said at the tap, and sent then
    const [undone] = (await shop.events()).slice(-1);
    assert.equal(undone.what, "superseded");
    assert.equal(undone.event, last.seq);
  });

  test("a newcomer brings a vehicle in and lays its first piece", async () => {
    await tap("link", "Vehicle in");
    await page.getByLabel("What you call it").fill("Red coupe");
    await tap("button", "Vehicle in");
    await page.getByRole("link", { name: /^Red coupe/ }).waitFor();
    await shop.say("quiet 2026-03-07T06:41:00Z"); // the page's clock has gone on meanwhile
    await page.reload();
    await tap("link", "Lay a piece on Red coupe");
    await tap("button", "Bonnet");
    await shows("Bonnet laid");
    await eventually(async () => (await shop.events()).at(-1).what === "lay");
    const [came, laid] = (await shop.events()).slice(-2);
    assert.deepEqual([came.reference, laid.vehicle], ["Red coupe", came.seq]);
  });

  test("everything told says where to, until when, and what is agreed or planned no longer", async () => {
    const vehicle = (await shop.vehicle("Grey estate")).id;
    await shop.tell({ what: "hand-over", vehicle, hand_over: "2026-03-10T17:30:00Z" });
    await shop.tell({ what: "vehicle-moved", vehicle, bay: "outside" });
    await shop.tell({ what: "hand-over", vehicle, hand_over: null });
    await shop.tell({ what: "planned", vehicle, pieces: [] });
    await shop.tell({ what: "planned", vehicle, pieces: [{ panel: "mirror" }] });
    await page.goto(`${shop.url}/#/vehicle/${vehicle}`);
    await page.getByText("All entries").click();
    const told = page.locator("li").filter({ hasText: /^Sat 06:40/ }).locator("b");
    await told.nth(4).waitFor();
    assert.deepEqual(await told.allInnerTexts(), ["planned", "nothing planned", "no hand-over agreed", "moved to outside", "hand-over agreed for Tue 17:30"]);
  });

  test("with an alcohol solution its caution stands on the form, and is remembered", async () => {
    await layOn(page, "Grey estate");
    assert.equal(await page.getByText("flammable vapour").count(), 0);
    await page.getByText("Change", { exact: true }).click();
    await page.getByLabel("Solution").selectOption("tack-10");
    await shows("flammable vapour");
    await page.reload();
    await shows("flammable vapour");
  });

  test("a step before its time is asked about, says what is wet, and is kept", async () => {
    await page.goto(`${shop.url}/#/vehicle/${estate}`);
    await page.getByText("Cautions", { exact: true }).click();
    await shows("a blade on a vehicle cannot be undone");
    const card = await openPiece(page, "Mirror");
    await card.getByRole("button", { name: /^Trimmed early/ }).click();
    await shows("Trimmed before it is ready?");
    await shows(/Still held back: edge/);
    assert.notEqual((await shop.events()).at(-1).what, "trimmed");
    await card.getByRole("button", { name: "Trimmed, early" }).click();
    await shows("Mirror: trimmed");
    await shop.say("quiet 2026-03-07T06:42:00Z"); // the page's clock has gone on meanwhile
    await shows(/Done early \(trimmed\)/);
  });

  test("inspection, laying again and pulling off", async () => {
    await page.goto(`${shop.url}/#/vehicle/${estate}`);
    const card = await openPiece(page, "Bonnet");
    await card.getByRole("radio", { name: "Edge" }).check();
    await card.getByRole("button", { name: "Hazy" }).click();
    await shows("Bonnet, edge: hazy");
    await card.getByRole("link", { name: "Lay again" }).click();
    await page.getByRole("button", { name: /Bonnet: laid again now/ }).click();
    await shows("Pulled or laid again (1)");
    const events = await shop.events();
    const laid = events.find((event) => event.what === "lay" && event.vehicle === estate);
    assert.deepEqual([laid.panel, events.at(-1).replaces], ["bonnet", laid.seq]);
    await (await openPiece(page, "Front bumper")).getByRole("button", { name: "Pulled off" }).click();
    await page.getByRole("group", { name: /pulled off/ }).getByRole("button", { name: "Pulled off" }).click();
    await shows("Pulled or laid again (2)");
  });

  test("an early release says what should not leave yet and asks what the customer was told", async () => {
    await page.getByRole("link", { name: /^Grey estate/ }).click();
    await tap("link", "Hand over");
    await shows("Should not leave yet");
    await tap("button", "Hand over early");
    await page.getByLabel("What the customer was told").fill("  ");
    await tap("button", "Hand over early");
    assert.notEqual((await shop.events()).at(-1).what, "released");
    await page.getByLabel("What the customer was told").fill("Keep it dry until Tuesday.");
    await tap("button", "Hand over early");
    await shows("Grey estate handed over");
    await page.getByRole("region", { name: "Handed over" }).getByRole("link", { name: /Grey estate/ }).waitFor();
    assert.equal((await shop.events()).at(-1).advised, "Keep it dry until Tuesday.");
  });

  test("a screen that may only look offers nothing that would be refused", async () => {
    await page.route("**/api/v1/access", (route) => route.fulfill({ json: { may_write: false } }));
    await page.reload();
    await shows("live, to look at only");
    for (const hash of ["#/", `#/vehicle/${estate}`, "#/sensors", "#/coupon", "#/plate", "#/settings", "#/alerts"]) {
      await page.goto(`${shop.url}/${hash}`);
      await page.getByRole("heading").first().waitFor();
      await page.getByRole("heading").nth(1).waitFor({ state: "attached" });
      assert.equal(await page.locator("main button:visible, main form:visible, main .deed:visible").count(), 0, hash);
    }
    await page.goto(`${shop.url}/#/vehicle/${estate}`);
    await shows("Front bumper"); // what is to be seen is still there
    for (const hash of ["#/arrive", `#/vehicle/${estate}/lay`, `#/vehicle/${estate}/release`, "#/sensors/find"]) {
      await page.goto(`${shop.url}/${hash}`);
      await shows("This device may only look.");
    }
  });

  test("a link that was cut on its way leads to what is gone", async () => {
    await page.goto(`${shop.url}/#/bay/fr%C3`);
    await shows("This is not on the board any more.");
    await page.getByRole("link", { name: "Board" }).click();
    await page.getByRole("heading", { name: "Vehicles" }).waitFor();
  });

  test("the other English: hood, trunk, am and pm, of settings too", async () => {
    const there = await startShop({ language: "en-US" });
    const american = await openPage(browser, there);
    await american.page.locator(".lists").getByText("Hood").first().waitFor();
    await american.page.getByText(/Sun 08:40 AM/).first().waitFor();
    await american.page.goto(`${there.url}/#/settings`);
    await american.page.getByText(/^Quiet from 10:00\sPM to 06:30\sAM/).waitFor();
    await american.context.close();
    await there.stop();
    there.gone();
    assert.deepEqual(american.faults, []);
  });

  test("the page weighs less than 75 kB; the first board's time is told, not judged", async () => {
    const paths = new Set();
    page.on("request", (request) => paths.add(new URL(request.url()).pathname));
    const session = await context.newCDPSession(page);
    await session.send("Network.setCacheDisabled", { cacheDisabled: true });
    // From the start of the navigation to the board in the document, by the browser's own clock.
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
      await page.reload();
      await page.getByRole("heading", { name: "Vehicles" }).waitFor();
      took.push(Math.round(await page.evaluate(() => window.boardAfter)));
    }
    let weight = 0;
    for (const path of [...paths].filter((one) => !one.startsWith("/api/"))) {
      const response = await fetch(shop.url + path, { headers: { "Accept-Encoding": "gzip" } });
      assert.equal(response.headers.get("content-encoding"), "gzip");
      weight += Number(response.headers.get("content-length"));
    }
    // A time on a machine that others use too is no check: the aim is 300 ms.
    console.log(`first board after ${took.join(", ")} ms; page weight ${weight} bytes`);
    assert.ok(paths.has("/") && paths.has("/page.js") && paths.has("/page.css"));
    assert.ok(weight < 75_000, `${weight} bytes`);
  });

  test("nothing serious for axe, targets of 48 px, no sideways scrolling: every screen, light and dark", async () => {
    await fillScreens(shop, page, begins);
    for (const colorScheme of ["light", "dark"]) {
      await page.emulateMedia({ colorScheme });
      for (const [name, hash] of Object.entries(await screensOf(shop))) {
        await show(shop, page, begins, name, hash);
        await page.evaluate(axe);
        const { violations } = await page.evaluate(() => window.axe.run());
        const serious = violations.filter((one) => ["serious", "critical"].includes(one.impact));
        assert.deepEqual(serious.map((one) => [name, one.id, one.nodes.map((node) => node.html)]), []);
        const small = await page.evaluate(() =>
          [...document.querySelectorAll("a, button, select, textarea, summary, input:not([type=radio]), .choice span")]
            .filter((element) => element.checkVisibility())
            .map((element) => ({ text: element.innerText ?? element.id, ...element.getBoundingClientRect().toJSON() }))
            .filter(({ width, height }) => height < 47.5 || width < 47.5)
            .map(({ text, width, height }) => `${text}: ${width} x ${height}`),
        );
        assert.deepEqual(small, [], name);
        assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `${name} scrolls sideways`);
      }
    }
  });

  test("screenshots", async () => {
    await mkdir(process.env.SHOTS, { recursive: true });
    await fillScreens(shop, page, begins);
    for (const viewport of [phone, { width: 1280, height: 800 }]) {
      await page.setViewportSize(viewport);
      for (const colorScheme of ["light", "dark"]) {
        await page.emulateMedia({ colorScheme });
        for (const [name, hash] of Object.entries(await screensOf(shop))) {
          await page.goto("about:blank");
          await show(shop, page, begins, name, hash);
          await page.screenshot({ path: join(process.env.SHOTS, `${name}-${viewport.width}x${viewport.height}-${colorScheme}.png`), fullPage: true, timeout: 30_000 });
        }
      }
    }
    faults.length = 0; // about:blank is outside
  });
});
