// Every screen of the page, with what makes it complete: for tests that walk over all of them.
import { readCatalogue } from "./catalogue.mjs";

// How a message begins, up to its first value, in "en" or "de": what a screen is known by. Some begin in lower case within
// a sentence.
export function beginnings(language) {
  const catalogue = readCatalogue();
  return (key) => {
    const text = catalogue.get(key)[language].split("{")[0].trim();
    return text.charAt(0).toUpperCase() + text.slice(1);
  };
}

// In a lived-in shop the van goes out with one piece, so that one vehicle waits for its recheck, the estate has a plan, and of
// what left before one piece was looked at; a witness plate has just been laid.
export async function fillScreens(shop, page, begins) {
  const estate = (await shop.vehicle("Grey estate")).id;
  const van = (await shop.vehicle("White van")).id;
  const piece = await shop.tell({ what: "lay", vehicle: van, panel: "bonnet", at: "2026-03-07T05:00:00Z" });
  await shop.tell({ what: "trimmed", piece, at: "2026-03-07T06:00:00Z" });
  await shop.tell({ what: "planned", vehicle: estate, pieces: [{ panel: "boot-lid" }, { panel: "headlamp", part: 1, parts: 2 }] });
  const { pieces } = (await shop.get("/api/v1/handed-over")).vehicles.find((one) => one.reference === "Green saloon");
  await shop.tell({ what: "rechecked", piece: pieces.find((one) => one.panel === "bonnet").id, finding: "lifting" });
  await shop.tell({ what: "released", vehicle: van, advised: "keep dry" });
  const plate = await shop.tell({ what: "plate-laid", film: "baseline", lot: "L7", bay: "front" });
  await shop.tell({ what: "plate-seen", plate, zone: "edge", sign: "mostly-wet" });
  await shop.say('publish loft/node-7 {"t":18.4,"h":0.55}');
  await page.getByRole("heading", { name: begins("board.released") }).waitFor();
}

// By their names, after fillScreens().
export async function screensOf(shop) {
  const { vehicles } = await shop.get("/api/v1/board");
  const [estate, van] = ["Grey estate", "White van"].map((reference) => vehicles.find((one) => one.reference === reference).id);
  const piece = vehicles.find((one) => one.id === estate).pieces.find((one) => one.panel === "front-bumper").id;
  const gone = (await shop.get("/api/v1/handed-over")).vehicles.find((one) => one.reference === "Green saloon").id;
  return {
    board: "#/",
    vehicle: `#/vehicle/${estate}`,
    lay: `#/vehicle/${estate}/lay`,
    bay: "#/bay/front",
    arrive: "#/arrive",
    release: `#/vehicle/${estate}/release`,
    alerts: "#/alerts",
    "handed-over": "#/handed-over",
    past: `#/past/${gone}`,
    rechecks: "#/rechecks",
    planned: `#/vehicle/${estate}/lay`, // with a plan, and all that can be opened
    settings: "#/settings",
    sensors: "#/sensors",
    find: "#/sensors/find",
    check: "#/sensors/check/front-wall",
    coupon: "#/coupon",
    learned: "#/learned",
    plate: "#/plate",
    more: `#/vehicle/${estate}`, // with all that can be opened
    card: `#/vehicle/${estate}?piece=${piece}`, // with all that can be opened
    wall: "#/wall",
    recheck: `#/vehicle/${van}`, // handed over
  };
}

const complete = {
  alerts: "alerts-page.not-seen",
  "handed-over": "rechecks.due-until",
  past: "rechecks.where-to-look",
  rechecks: "rechecks.legend",
  sensors: "sensors.not-believed",
  find: "sensors.guessed",
  check: "sensors.which-salt",
  settings: "settings.all-well",
  coupon: "coupon.begin",
  learned: "learned.range",
  plate: "plate.begin",
};

// Until all of it is there.
export async function show(shop, page, begins, name, hash) {
  await page.goto(`${shop.url}/${hash}`);
  await page.locator("h2").first().waitFor({ state: "attached" });
  if (name === "more" || name === "planned" || name === "card") {
    for (const summary of await page.locator("summary").all()) {
      await summary.click();
    }
  }
  if (name === "card") {
    await page.locator(".course .u-over").nth(2).waitFor(); // of three zones
  } else if (name === "planned") {
    await page.getByRole("heading", { name: begins("lay.still-to-lay") }).waitFor();
  } else if (name === "bay") {
    await page.locator(".u-legend").first().waitFor();
  } else if (complete[name]) {
    await page.getByText(begins(complete[name])).first().waitFor();
  }
}
