// The page's types of the API, and the bounds of what an event tells: node api_types.mjs OPENAPI.json INTO.ts
import { createHash } from "node:crypto";
import { readFile, writeFile } from "node:fs/promises";
import { compile } from "json-schema-to-typescript";

const [from, into] = process.argv.slice(2);
const { schemas } = JSON.parse(await readFile(from, "utf8")).components;

// References point at $defs there. What stands beside one would make it a type of its own.
function moved(schema) {
  if (Array.isArray(schema)) {
    return schema.map(moved);
  }
  if (schema === null || typeof schema !== "object") {
    return schema;
  }
  if (typeof schema.$ref === "string") {
    return { $ref: schema.$ref.replace("#/components/schemas/", "#/$defs/") };
  }
  return Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, moved(value)]));
}

const types = await compile({ $defs: moved(schemas) }, "Api", {
  additionalProperties: false,
  bannerComment: "// Made of the daemon's own description while the page is built.",
  format: false,
  ignoreMinAndMaxItems: true,
  unreachableDefinitions: true,
});

// Both ends included, by event and field.
const bounds = {};
for (const [name, { properties }] of Object.entries(schemas).filter(([name]) => name.endsWith("Event"))) {
  for (const [field, { minimum: low, maximum: high }] of Object.entries(properties ?? {})) {
    if (low !== undefined && high !== undefined) {
      bounds[name] = { ...bounds[name], [field]: { low, high } };
    }
  }
}
// By this a page knows what it kept before its shapes changed.
const shapes = createHash("sha256").update(JSON.stringify(schemas)).digest("hex").slice(0, 16);
await writeFile(into, `${types}\nexport const bounds = ${JSON.stringify(bounds)} as const;\nexport const shapes = "${shapes}";\n`);
