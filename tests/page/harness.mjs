// Starts the invented shop and a browser for the tests.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { once } from "node:events";
import { createInterface } from "node:readline";
import { after, afterEach, before, beforeEach } from "node:test";
import { chromium } from "playwright-core";

// A Saturday morning in winter: the shop's local time is UTC.
export const now = "2026-03-07T06:40:00Z";

export async function startShop(port = 0, at = now) {
  const child = spawn(process.env.FAKE_SHOP, [String(port), at], { stdio: ["pipe", "pipe", "inherit"] });
  const [line] = await once(createInterface({ input: child.stdout }), "line");
  const taken = Number(line.split(" ")[1]);
  const url = `http://127.0.0.1:${taken}`;
  return {
    url,
    port: taken,
    say: (text) => child.stdin.write(`${text}\n`),
    stop: async () => {
      child.kill();
      await once(child, "exit");
    },
    events: async () => (await (await fetch(`${url}/api/v1/events`)).json()).events,
  };
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

// The board on a phone. `faults` fills with what should not be: errors of the page, requests to elsewhere.
export async function openPage(browser, shop, options = {}) {
  const context = await browser.newContext({ viewport: phone, locale: "en-GB", timezoneId: "Europe/London", hasTouch: true, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
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
  await page.getByRole("heading", { name: "Vehicles" }).waitFor();
  return { context, page, faults };
}

// What a test meant to provoke.
export function forgive(faults, text) {
  faults.splice(0, faults.length, ...faults.filter((fault) => !fault.includes(text)));
}

// For a describe(): before each test an invented shop of its own with its board on a phone, given to `begin`; after it
// neither the page nor its requests may have gone astray.
export function onThePhone(begin) {
  let browser, open;
  before(async () => {
    browser = await startBrowser();
  });
  after(() => browser.close());
  beforeEach(async () => {
    const shop = await startShop();
    open = { browser, shop, ...(await openPage(browser, shop)) };
    await begin(open);
  });
  afterEach(async () => {
    await open.context.close();
    await open.shop.stop();
    assert.deepEqual(open.faults, []);
  });
}
