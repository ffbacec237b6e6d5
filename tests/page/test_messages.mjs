// The catalogue of messages: complete in each language, with the same cases, and the same values in each of them.
import assert from "node:assert/strict";
import { test } from "node:test";
import { parts, readCatalogue, texts } from "./catalogue.mjs";

const languages = ["en", "en-US", "de"];

const choices = (list) => list.filter((one) => typeof one !== "string" && one.type !== "value");

// What a form chooses by, with the cases: "count plural" -> one, other.
function casesOf(list, found = new Map()) {
  for (const { name, type, cases } of choices(list)) {
    const known = found.get(`${name} ${type}`) ?? new Set();
    Object.keys(cases).forEach((one) => known.add(one));
    found.set(`${name} ${type}`, known);
    Object.values(cases).forEach((some) => casesOf(some, found));
  }
  return found;
}
const inText = (cases) => [...cases].map(([what, names]) => `${what}: ${[...names].sort().join(", ")}`).sort().join("; ");

// Each way to choose, as { count: "one", zone: "edge" }.
const waysOf = (cases) =>
  [...cases].reduce(
    (ways, [what, names]) => ways.flatMap((way) => [...names].map((name) => ({ ...way, [what.split(" ")[0]]: name }))),
    [{}],
  );

// The values that a form speaks of where it is chosen so. A plural may say its number in words: "one film".
function told(list, way, found = new Set()) {
  list.filter((one) => typeof one !== "string").forEach(({ name, type, cases }) => {
    if (type === "value") {
      found.add(name);
    } else {
      told(cases[way[name]] ?? cases.other ?? [], way, found);
    }
  });
  return found;
}

function wrongWith(forms) {
  const known = Object.keys(forms);
  if (!known.includes("en") || !known.includes("de") || known.some((one) => !languages.includes(one) || forms[one].trim() === "")) {
    return `its languages are ${known.join(", ")}`;
  }
  const english = parts(forms.en);
  const cases = casesOf(english);
  for (const one of known) {
    const other = parts(forms[one]);
    if (inText(casesOf(other)) !== inText(cases)) {
      return `${one} chooses among other cases than en`;
    }
    if (choices(other).some(({ cases: all }) => !("other" in all))) {
      return `${one} has no case for any other`;
    }
    const differs = waysOf(cases).find((way) => [...told(other, way)].sort().join() !== [...told(english, way)].sort().join());
    if (differs) {
      return `${one} is told other values than en ${JSON.stringify(differs)}`;
    }
  }
  return "";
}

const catalogue = readCatalogue();

test("each message stands in English and German, with the same values", () => {
  assert.ok(catalogue.size > 100);
  const wrong = [...catalogue].map(([key, forms]) => [key, wrongWith(forms)]).filter(([, why]) => why !== "");
  assert.deepEqual(wrong, []);
});

test("planted mistakes are found", () => {
  assert.equal(wrongWith({ en: "{n} left", de: "noch {n}" }), "");
  assert.match(wrongWith({ en: "{n} left" }), /languages/);
  assert.match(wrongWith({ en: "left", de: " " }), /languages/);
  assert.match(wrongWith({ en: "left", de: "noch", fr: "reste" }), /languages/);
  assert.match(wrongWith({ en: "{n} left", de: "noch {m}" }), /values/);
  assert.match(wrongWith({ en: "{n} left", "en-US": "left", de: "noch {n}" }), /values/);
  assert.match(wrongWith({ en: "{n, plural, other {# of {all}}}", de: "{n, plural, other {#}}" }), /values/);
  assert.match(wrongWith({ en: "{a, select, yes {x} other {y}}", de: "{a, select, ja {x} other {y}}" }), /cases/);
  // A branch that one language has not, and a value that it forgets in one branch alone.
  const plural = "{n, plural, one {# film of {bay}} other {# films of {bay}}}";
  assert.equal(wrongWith({ en: plural, de: "{n, plural, one {eine Folie aus {bay}} other {# Folien aus {bay}}}" }), "");
  assert.match(wrongWith({ en: plural, de: "{n, plural, other {# Folien aus {bay}}}" }), /cases/);
  assert.match(wrongWith({ en: plural, de: "{n, plural, one {# Folie} other {# Folien aus {bay}}}" }), /values/);
  assert.match(wrongWith({ en: "{n, plural, one {# a}}", de: "{n, plural, one {# b}}" }), /no case/);
  assert.throws(() => parts("{n, plural, other {#}"));
  assert.throws(() => parts("left}"));
  assert.deepEqual(texts(parts("{n, plural, one {# tap by {who}} other {# taps}} wait")), ["\0 tap by \0 wait", "\0 taps wait"]);
});
