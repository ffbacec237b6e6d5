// The catalogue of messages as its files have it.
import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";

// By "file.key": the forms by their languages.
export function readCatalogue(folder = process.env.MESSAGES) {
  const all = new Map();
  for (const file of readdirSync(folder).filter((name) => name.endsWith(".json"))) {
    for (const [key, forms] of Object.entries(JSON.parse(readFileSync(join(folder, file), "utf8")))) {
      all.set(`${basename(file, ".json")}.${key}`, forms);
    }
  }
  return all;
}

// A form as a list of what stands in it: text, and arguments { name, type, cases }, where cases are such lists by
// their selector. An apostrophe before a brace would quote it; none of ours does.
export function parts(pattern) {
  let at = 0;
  const until = (ends) => {
    const from = at;
    while (at < pattern.length && !ends.includes(pattern[at])) {
      ++at;
    }
    return pattern.slice(from, at);
  };
  const take = (what) => {
    if (pattern[at] !== what) {
      throw new Error(`"${what}" is missing at ${at} of ${pattern}`);
    }
    ++at;
  };
  const argument = () => {
    take("{");
    const name = until(",}").trim();
    if (pattern[at] === "}") {
      take("}");
      return { name, type: "value", cases: {} };
    }
    take(",");
    const type = until(",}").trim();
    take(",");
    const cases = {};
    for (let selector = until("{}").trim(); pattern[at] === "{"; selector = until("{}").trim()) {
      take("{");
      cases[selector] = list();
      take("}");
    }
    take("}");
    return { name, type, cases };
  };
  const list = () => {
    const found = [];
    while (at < pattern.length && pattern[at] !== "}") {
      found.push(pattern[at] === "{" ? argument() : until("{}"));
    }
    return found;
  };
  const all = list();
  if (at !== pattern.length) {
    throw new Error(`a brace too many at ${at} of ${pattern}`);
  }
  return all;
}

// The texts that a form may become, as patterns in which "\0" stands for a value.
export function texts(list) {
  return list.reduce(
    (begun, one) => {
      const ends = typeof one === "string" ? [one.replaceAll("#", "\0")] : one.type === "value" ? ["\0"] : Object.values(one.cases).flatMap(texts);
      return begun.flatMap((start) => ends.map((end) => start + end));
    },
    [""],
  );
}
