// Starts the invented shop and a browser for the tests.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { createInterface } from "node:readline";
import { chromium } from "playwright-core";

// A Saturday morning in winter: the shop's local time is UTC.
export const now = "2026-03-07T06:40:00Z";

export async function startShop(port = 0) {
  const child = spawn(process.env.FAKE_SHOP, [String(port), now], { stdio: ["pipe", "pipe", "inherit"] });
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
