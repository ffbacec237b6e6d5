// node messages.mjs INTO FILE.json ...: makes the page's messages of the catalogue that it shares with the daemon
// (wording/messages): functions in INTO/messages_en.js and INTO/messages_de.js, of which a phone fetches the one that it
// speaks; their keys and values as types in INTO/messages.d.ts.
import MessageFormat from "@messageformat/core";
import compileModule from "@messageformat/core/compile-module.js";
import { parse } from "@messageformat/parser";
import { readFile, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";

const [into, ...files] = process.argv.slice(2);
const tables = { en: {}, "en-US": {}, de: {} };
for (const file of files) {
  for (const [name, forms] of Object.entries(JSON.parse(await readFile(file, "utf8")))) {
    for (const [language, pattern] of Object.entries(forms)) {
      tables[language][`${basename(file, ".json")}.${name}`] = pattern;
    }
  }
}

// What a message is told, and as what.
function valuesOf(tokens, found = new Map()) {
  for (const token of tokens) {
    if (token.type === "plural" || token.type === "selectordinal") {
      found.set(token.arg, "number");
    } else if (token.type === "select" || token.type === "argument") {
      found.set(token.arg, found.get(token.arg) ?? "string");
    }
    token.cases?.forEach((one) => valuesOf(one.tokens, found));
  }
  return found;
}
const types = Object.entries(tables.en).map(([key, pattern]) => {
  const values = [...valuesOf(parse(pattern))].map(([name, type]) => `${JSON.stringify(name)}: ${type}`);
  return `  ${JSON.stringify(key)}: { ${values.join("; ")} };`;
});

const spoken = { en: ["en", "en-US"], de: ["de"] };
for (const [name, languages] of Object.entries(spoken)) {
  const some = Object.fromEntries(languages.map((one) => [one, tables[one]]));
  await writeFile(join(into, `messages_${name}.js`), compileModule(new MessageFormat(languages), some));
  await writeFile(join(into, `messages_${name}.d.ts`), `import type { Tables } from "./messages";\ndeclare const messages: Tables;\nexport default messages;\n`);
}
await writeFile(
  join(into, "messages.d.ts"),
  `export interface Values {
${types.join("\n")}
}
export type Key = keyof Values;
export type Table = { [K in Key]: (values: Values[K]) => string };
export interface Tables {
  en?: Table;
  "en-US"?: Partial<Table>;
  de?: Table;
}
`,
);
