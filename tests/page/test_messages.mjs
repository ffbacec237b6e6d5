// The catalogue of messages: complete in each language, the same values in each, none without use.
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { parts, readCatalogue, texts } from "./catalogue.mjs";

const languages = ["en", "en-US", "de"];

// What a form is told, and among what it chooses: "count plural", "again select: other, yes".
function valuesOf(list, found = new Set()) {
  for (const one of list.filter((part) => typeof part !== "string")) {
    const { name, type, cases } = one;
    found.add(type === "select" ? `${name} select: ${Object.keys(cases).sort().join(", ")}` : `${name} ${type}`);
    Object.values(cases).forEach((some) => valuesOf(some, found));
  }
  return [...found].sort();
}

function wrongWith(forms) {
  const known = Object.keys(forms);
  if (!known.includes("en") || !known.includes("de") || known.some((one) => !languages.includes(one) || forms[one].trim() === "")) {
    return `its languages are ${known.join(", ")}`;
  }
  const told = valuesOf(parts(forms.en)).join("; ");
  const other = known.find((one) => valuesOf(parts(forms[one])).join("; ") !== told);
  return other ? `${other} is told other values than en` : "";
}

// Keys that no source names, be it in full or by a beginning, as in `words.zone-${kind}`.
function unused(keys, source) {
  const beginnings = new Set([...source.matchAll(/[a-z-]+\.[\w-]+(?=\$\{)/g)].map(([text]) => text));
  const named = new Set([...source.matchAll(/["` ]([a-z-]+\.[\w-]+)["`}]/g)].map(([, text]) => text));
  return keys.filter((key) => !named.has(key) && ![...beginnings].some((beginning) => key.startsWith(beginning)));
}

function textOf(folder, ends) {
  return readdirSync(folder, { withFileTypes: true })
    .map((entry) => {
      const path = join(folder, entry.name);
      return entry.isDirectory() ? textOf(path, ends) : ends.some((end) => entry.name.endsWith(end)) ? readFileSync(path, "utf8") : "";
    })
    .join("\n");
}

const catalogue = readCatalogue();

test("each message stands in English and German, with the same values", () => {
  assert.ok(catalogue.size > 100);
  const wrong = [...catalogue].map(([key, forms]) => [key, wrongWith(forms)]).filter(([, why]) => why !== "");
  assert.deepEqual(wrong, []);
});

test("each of the page's messages is used", () => {
  const page = textOf(join(process.env.SOURCES, "daemon/page/src"), [".ts", ".tsx", ".html"]);
  // A file that the daemon's own code names is the daemon's: what it says is put together there.
  const daemon = textOf(join(process.env.SOURCES, "daemon"), [".cpp", ".hpp"]).replaceAll(/^#include.*$/gm, "");
  const ours = [...catalogue.keys()].filter((key) => !daemon.includes(`"${key.split(".")[0]}.`));
  assert.ok(ours.includes("page.undo") && !ours.includes("units.celsius"));
  assert.deepEqual(unused(ours, page), []);
});

test("planted mistakes are found", () => {
  assert.equal(wrongWith({ en: "{n} left", de: "noch {n}" }), "");
  assert.match(wrongWith({ en: "{n} left" }), /languages/);
  assert.match(wrongWith({ en: "left", de: " " }), /languages/);
  assert.match(wrongWith({ en: "left", de: "noch", fr: "reste" }), /languages/);
  assert.match(wrongWith({ en: "{n} left", de: "noch {m}" }), /values/);
  assert.match(wrongWith({ en: "{n} left", "en-US": "left", de: "noch {n}" }), /values/);
  assert.match(wrongWith({ en: "{n, plural, other {# of {all}}}", de: "{n, plural, other {#}}" }), /values/);
  assert.match(wrongWith({ en: "{a, select, yes {x} other {y}}", de: "{a, select, ja {x} other {y}}" }), /values/);
  assert.throws(() => parts("{n, plural, other {#}"));
  assert.throws(() => parts("left}"));
  assert.deepEqual(unused(["page.a", "page.b-1", "page.c"], 'say("page.a"); say(`page.b-${n}`); // page.c'), ["page.c"]);
  assert.deepEqual(texts(parts("{n, plural, one {# tap by {who}} other {# taps}} wait")), ["\0 tap by \0 wait", "\0 taps wait"]);
});
