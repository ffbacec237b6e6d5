// The page in another language: every screen wholly in it, within its boxes; chosen per phone.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { parts, readCatalogue, texts } from "./catalogue.mjs";
import { eventually, forgive, noBrowser, now, onThePhone, openPage, startShop } from "./harness.mjs";
import { beginnings, fillScreens, screensOf, show } from "./screens.mjs";

// What only an English page says: patterns of each message with words of its own whose German is another.
const english = [...readCatalogue().values()]
  .filter((forms) => forms.en !== forms.de)
  .flatMap((forms) => [forms.en, ...(forms["en-US"] ? [forms["en-US"]] : [])])
  .flatMap((form) => texts(parts(form)))
  .filter((text) => /[A-Za-z]{2}/.test(text))
  .map((text) => new RegExp(`^${text.trim().replace(/[.*+?^${}()|[\]\\]/g, "\\$&").replaceAll("\0", ".+")}$`, "is"));
const a_name = /^(front|back)$/; // of a bay, though a side is called so too
const isEnglish = (text) => !a_name.test(text) && (english.some((pattern) => pattern.test(text)) || /\b(Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d/.test(text));

// Each text that can be seen or heard.
const said = (page) =>
  page.evaluate(() => {
    const found = [document.title];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      if (!node.parentElement.closest("script, style, noscript")) {
        found.push(node.data);
      }
    }
    for (const name of ["aria-label", "title", "placeholder", "alt"]) {
      found.push(...[...document.querySelectorAll(`[${name}]`)].map((element) => element.getAttribute(name)));
    }
    return found.map((text) => text.replace(/\s+/g, " ").trim()).filter((text) => text !== "");
  });

// Elements that are wider than their box, or reach out of the screen; but for what is cut on purpose, with its whole text a tap away,
// and what is only heard.
const overflowing = (page) =>
  page.evaluate(() =>
    [...document.querySelectorAll("body *")]
      .filter((element) => element.checkVisibility() && !element.closest("svg, .u-wrap, .vh") && getComputedStyle(element).textOverflow !== "ellipsis")
      .filter(({ scrollWidth, clientWidth }) => clientWidth > 0 && scrollWidth > clientWidth + 1)
      .concat([...document.querySelectorAll("body *")].filter((element) => element.checkVisibility() && element.getBoundingClientRect().right > innerWidth + 0.5))
      .map((element) => `${element.tagName}.${element.getAttribute("class")}: ${element.textContent.slice(0, 60)}`),
  );

describe("languages", { skip: noBrowser }, () => {
  let browser, shop, page;
  onThePhone((open) => {
    ({ browser, shop, page } = open);
  });
  const go = (hash) => page.goto(`${shop.url}/${hash}`);
  const lang = () => page.evaluate(() => document.documentElement.lang);
  const heading = (name) => page.getByRole("heading", { name, exact: true }).waitFor();

  test("a phone set to German shows every screen in German, within its boxes, with decimal commas", async () => {
    const begins = beginnings("de");
    await go("#/settings");
    await page.getByRole("radio", { name: "Deutsch", exact: true }).check();
    await heading("Einstellungen");
    await go("#/");
    await fillScreens(shop, page, begins);
    await page.getByText(/17,\d\s°C/).first().waitFor();
    for (const [name, hash] of Object.entries(await screensOf(shop))) {
      await show(shop, page, begins, name, hash);
      const texts = await said(page);
      assert.ok(texts.length > 8, name);
      assert.deepEqual(texts.filter(isEnglish), [], name);
      assert.deepEqual(texts.filter((text) => /\d\.\d+\s(°C|%|(g|h|K|m|MB|GB)\b)/.test(text)), [], name);
      assert.deepEqual(await overflowing(page), [], name);
      assert.equal(await lang(), "de");
    }
  });

  test("what is tapped is said in German", async () => {
    await page.evaluate(() => localStorage.setItem("dryclock.phone", '{"language":"de"}'));
    await page.reload();
    await page.getByRole("link", { name: "Stück auf White van verlegen" }).click();
    await page.getByText("150 µm, mit Deckschicht; Gleitlösung: Wasser mit etwas Tensid; wie üblich").waitFor();
    assert.deepEqual((await said(page)).filter((text) => /topcoat|alcohol/.test(text)), []);
    await page.getByRole("button", { name: "Kofferraumdeckel" }).click();
    await page.getByText("Kofferraumdeckel verlegt, Sa. 06:40").waitFor();
    await page.getByRole("button", { name: "Rückgängig" }).click();
    await page.getByText("Zurückgenommen").waitFor();
  });

  test("another language is chosen on the phone, and the words change at once", async () => {
    await go("#/settings");
    await page.evaluate(() => (window.same = true));
    const choose = (name) => page.getByRole("radio", { name, exact: true }).check();
    for (const [name, title, tag, number] of [
      ["Deutsch", "Einstellungen", "de", "Kennzeichen"],
      ["English (US)", "Settings", "en-US", "License plate"],
      ["English (UK)", "Settings", "en-GB", "Number plate"],
    ]) {
      await choose(name);
      await heading(title);
      await eventually(async () => (await lang()) === tag);
      await page.evaluate(() => (location.hash = "#/arrive"));
      await page.locator("summary").first().click();
      await page.getByLabel(number, { exact: true }).waitFor();
      await page.evaluate(() => (location.hash = "#/settings"));
      await page.getByRole("radio", { name: "Deutsch" }).waitFor();
    }
    assert.equal(await page.evaluate(() => window.same), true); // it was not loaded anew
    await choose("As the shop: English (UK)");
    assert.equal(await page.evaluate(() => localStorage.getItem("dryclock.phone")), "{}");
  });

  test("an English that a phone chose before there were languages stays", async () => {
    await page.evaluate(() => localStorage.setItem("dryclock.phone", '{"dialect":"us","temperature_unit":"F"}'));
    await page.reload();
    await page.locator(".lists").getByText("Hood").first().waitFor();
    await go("#/settings");
    assert.ok(await page.getByRole("radio", { name: "English (US)" }).isChecked());
    await page.getByRole("group", { name: "Temperatures" }).getByRole("radio", { name: "°C", exact: true }).check();
    assert.deepEqual(JSON.parse(await page.evaluate(() => localStorage.getItem("dryclock.phone"))), { language: "en-US", temperature_unit: "C" });
  });

  test("a German shop's page is German where the phone has chosen nothing", async () => {
    const there = await startShop({ what: now, language: "de" });
    const { context, page: german, faults } = await openPage(browser, there, { board: "Fahrzeuge" });
    await german.getByText("Kein Fahrzeug da.").waitFor();
    assert.match(await german.title(), /welche Folie trocken ist$/);
    await context.close();
    await there.stop();
    there.gone();
    assert.deepEqual(faults, []);
  });

  test("what the daemon refuses is said in German, by the shop's clock", async () => {
    // In summer London is an hour ahead of UTC.
    const there = await startShop({ what: "2026-07-04T06:40:00Z" });
    const reference = "Blauer Kombi";
    const vehicle = await there.tell({ what: "vehicle-in", reference, bay: "front" });
    const { context, page: german, faults } = await openPage(browser, there);
    await german.evaluate(() => localStorage.setItem("dryclock.phone", '{"language":"de"}'));
    await german.reload();
    await german.getByRole("link", { name: `Stück auf ${reference} verlegen` }).click();
    const lid = german.getByRole("button", { name: "Kofferraumdeckel" });
    await lid.waitFor();
    await context.setOffline(true);
    await lid.click();
    await german.getByText("1 Eingabe wartet auf das Senden").waitFor();
    // Before it is sent, somebody else has handed the vehicle over.
    await there.tell({ what: "released", vehicle, advised: "trocken halten", at: "2026-07-04T06:40:00Z" });
    await context.setOffline(false);
    await german.getByText(/^Nicht angenommen: Kofferraumdeckel verlegt.*\. Blauer Kombi wurde am Sa\. 4\. Juli 07:40 übergeben$/).waitFor();
    forgive(faults, "409");
    await context.close();
    await there.stop();
    there.gone();
    assert.deepEqual(faults, []);
  });
});
