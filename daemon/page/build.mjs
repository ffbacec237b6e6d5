// node build.mjs INTO: bundles the page into the folder INTO, each file with its gzip beside it.
// It runs where node_modules lies, in the build tree, beside a copy of src/.
import { build } from "esbuild";
import { copyFile, mkdir, readFile, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import german from "./src/words/messages_de.js";
import english from "./src/words/messages_en.js";

const served = ["index.html", "page.js", "plot.js", "messages_en.js", "messages_de.js", "page.css", "icon.svg", "manifest.webmanifest"]; // by assets.cpp
const source = join(dirname(fileURLToPath(import.meta.url)), "src");
const into = resolve(process.argv[2]);
await mkdir(into, { recursive: true });
const messages_files = ["messages_en.js", "messages_de.js"];
const common = {
  entryNames: "[name]",
  outdir: into,
  bundle: true,
  format: "esm",
  target: ["es2022"],
  minify: true,
  legalComments: "inline",
  logLevel: "warning",
};
const { metafile } = await build({
  ...common,
  entryPoints: [join(source, "page.tsx"), join(source, "plots", "plot.ts")], // the plot is fetched when it is looked at
  external: messages_files.map((name) => `./${name}`),
  splitting: true,
  jsx: "automatic",
  jsxImportSource: "preact",
  metafile: true,
});
// In the language of the phone, each on its own: they share a few lines alone.
for (const name of messages_files) {
  await build({ ...common, entryPoints: [join(source, "words", name)] });
}
// What page and plot share would lie in a file of its own.
const more = Object.keys(metafile.outputs).map((path) => basename(path)).filter((name) => !served.includes(name));
if (more.length > 0) {
  throw new Error(`the daemon does not serve ${more.join(", ")}`);
}
for (const name of ["icon.svg", "manifest.webmanifest"]) {
  await copyFile(join(source, name), join(into, name));
}
// What stands there before the page runs, or where it cannot: "{{de page.no-script}}".
const messages = { ...english, ...german };
const index = await readFile(join(source, "index.html"), "utf8");
await writeFile(join(into, "index.html"), index.replace(/\{\{(\S+) (\S+)\}\}/g, (_, language, key) => messages[language][key]()));
for (const name of served) {
  const plain = await readFile(join(into, name));
  await writeFile(join(into, `${name}.gz`), gzipSync(plain, { level: 9 }));
}
