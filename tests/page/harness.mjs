// Starts a shop and a browser for the tests.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { once } from "node:events";
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { after, afterEach, before, beforeEach } from "node:test";
import { setTimeout } from "node:timers/promises";
import { chromium } from "playwright-core";

// A Saturday morning in winter: the shop's local time is UTC.
export const now = "2026-03-07T06:40:00Z";

// The whole daemon as page_shop.cpp runs it, on a clock that stands still until it is moved: what `what` says there; in
// `folder` a shop that was there before.
export async function startShop({ what = "broker,lived", port = 0, folder = mkdtempSync(join(tmpdir(), "dryclock-")), language = "en-GB", phone } = {}) {
  const words = [folder, String(port), what, language, ...(phone ? [phone] : [])];
  const child = spawn(process.env.PAGE_SHOP, words, { stdio: ["pipe", "pipe", "inherit"] });
  // What it would be asked for next would be waited for until the test's time is over.
  const alone = (code, signal) => {
    console.error(`page_shop has ended by itself: ${signal ?? code}`);
    process.exit(1);
  };
  child.once("exit", alone);
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const [, taken] = (await lines.next()).value.split(" ");
  const url = `http://127.0.0.1:${taken}`;
  const get = async (path) => (await fetch(url + path)).json();
  return {
    url,
    port: Number(taken),
    folder,
    get,
    // A line for its standard input; it has been done when this returns.
    say: async (text) => {
      child.stdin.write(`${text}\n`);
      assert.equal((await lines.next()).value, "done");
    },
    stop: async () => {
      child.stdin.write("disk free\n"); // where a test has ended before it came to that
      assert.equal((await lines.next()).value, "done");
      child.off("exit", alone);
      child.kill();
      const [code] = await once(child, "exit");
      assert.equal(code, 0);
    },
    gone: () => rmSync(folder, { recursive: true, force: true }),
    events: async () => (await get("/api/v1/events")).events,
    // What another device tells.
    tell: async (event) => {
      const response = await fetch(`${url}/api/v1/events`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(event) });
      const answer = await response.json();
      assert.equal(response.status, 201, JSON.stringify(answer));
      return answer.seq;
    },
    vehicle: async (reference) => (await get("/api/v1/board")).vehicles.find((one) => one.reference === reference),
    piece: async (reference, panel) => (await get("/api/v1/board")).vehicles.find((one) => one.reference === reference).pieces.find((one) => one.panel === panel),
  };
}

export async function eventually(holds) {
  for (const end = Date.now() + 20_000; !(await holds()); await setTimeout(50)) {
    assert.ok(Date.now() < end, `waited in vain: ${holds}`);
  }
}

export const noBrowser = process.env.CHROMIUM ? false : "chromium is not installed";

export function startBrowser() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}

export const phone = { width: 360, height: 740 };

// The board on a phone, known by its heading. `faults` fills with what should not be: errors of the page, requests to elsewhere.
export async function openPage(browser, shop, { board = "Vehicles", patience = 8000, ...options } = {}) {
  const context = await browser.newContext({ viewport: phone, locale: "en-GB", timezoneId: "Europe/London", hasTouch: true, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(patience);
  const faults = [];
  page.on("pageerror", (error) => faults.push(String(error)));
  page.on("console", (line) => {
    if (line.type() === "error" && !/ERR_INTERNET_DISCONNECTED|ERR_CONNECTION_REFUSED|ERR_FAILED|ERR_EMPTY|INCOMPLETE_CHUNKED/.test(line.text())) {
      faults.push(line.text());
    }
  });
  page.on("request", (request) => {
    if (!request.url().startsWith(shop.url)) {
      faults.push(`asked outside: ${request.url()}`);
    }
  });
  await page.goto(shop.url);
  await page.getByRole("heading", { name: board }).waitFor();
  return { context, page, faults };
}

// From the board to laying on a vehicle: its button leads to the one that was last worked on, which has the others beside it.
export async function layOn(page, reference) {
  const there = page.getByRole("link", { name: `Lay a piece on ${reference}`, exact: true });
  await page.locator(".board-head .button").waitFor();
  if ((await there.count()) === 0) {
    await page.locator(".board-head .button").click();
  }
  await there.click();
}

// A piece's card, opened where the piece stands in the lists: what is ready is marked first, then opened.
export async function openPiece(page, name) {
  const card = page.getByRole("article", { name, exact: true });
  const tile = page.locator(".tile").filter({ hasText: name }).first();
  const row = page.locator("a.row, a.name").filter({ hasText: name }).first();
  await tile.or(row).first().waitFor({ state: "attached" });
  if ((await card.count()) === 0) {
    if ((await tile.count()) > 0) {
      await tile.click();
      await page.getByRole("button", { name: "Open", exact: true }).click();
    } else {
      if (!(await row.isVisible())) {
        await page.locator(".rest summary").click();
      }
      await row.click();
    }
  }
  await card.waitFor();
  return card;
}

// The bar says that the daemon has what was tapped; it is put away. After twelve seconds it leaves by itself, which on a
// busy machine may be while it is being tapped.
export async function putAway(page, said) {
  const ok = page.getByRole("status").filter({ hasText: said }).getByRole("button", { name: "OK" });
  await ok.waitFor();
  await ok.click({ timeout: 15_000 }).catch(() => ok.waitFor({ state: "detached" }));
}

// What a test meant to provoke.
export function forgive(faults, text) {
  faults.splice(0, faults.length, ...faults.filter((fault) => !fault.includes(text)));
}

// For a describe(): before each test a lived-in shop of its own with its board on a phone, given to `begin`; after it
// neither the page nor its requests may have gone astray. The shop is lived in once; each test opens a copy of it.
export function onThePhone(begin) {
  let browser, lived, open;
  before(async () => {
    browser = await startBrowser();
    lived = await startShop({ what: "lived" });
    await lived.stop();
  });
  after(async () => {
    lived.gone();
    await browser.close();
  });
  beforeEach(async () => {
    const folder = mkdtempSync(join(tmpdir(), "dryclock-"));
    cpSync(lived.folder, folder, { recursive: true });
    const shop = await startShop({ what: `broker,${now}`, folder });
    open = { browser, shop, ...(await openPage(browser, shop)) };
    await begin(open);
  });
  afterEach(async () => {
    await open.context.close();
    await open.shop.stop();
    open.shop.gone();
    assert.deepEqual(open.faults, []);
  });
}
