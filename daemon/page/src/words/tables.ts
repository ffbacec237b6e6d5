// The messages that were fetched: of the languages that this phone speaks, or spoke before.
import type { Site } from "../data/api";
import type { Key, Tables } from "./messages";

let tables: Tables = {};
// True: there are new ones. Where they cannot be fetched, what was spoken before stays.
export async function fetchMessages(language: Site["language"]): Promise<boolean> {
  if (language === "de" ? tables.de : tables.en) {
    return false;
  }
  try {
    const { default: more } = await (language === "de" ? import("./messages_de.js") : import("./messages_en.js"));
    tables = { ...tables, ...more };
    return true;
  } catch {
    return false;
  }
}

export const isKey = (key: string): key is Key => Object.hasOwn(tables.en ?? tables.de ?? {}, key);

// In the language, or in the one that is there.
export function formOf(key: Key, language: Site["language"]): ((values: unknown) => string) | undefined {
  const table = language === "de" ? (tables.de ?? tables.en) : (tables.en ?? tables.de);
  return ((language === "en-US" && tables["en-US"]?.[key]) || table?.[key]) as ((values: unknown) => string) | undefined;
}
