// node build.mjs INTO: bundles the page into the folder INTO, each file with its gzip beside it.
// It runs where node_modules lies, in the build tree, beside a copy of src/.
import { build } from "esbuild";
import { copyFile, mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import messages from "./src/words/messages.js";

const source = join(dirname(fileURLToPath(import.meta.url)), "src");
const into = resolve(process.argv[2]);
await mkdir(into, { recursive: true });
await build({
  entryPoints: [join(source, "page.tsx"), join(source, "plots", "plot.ts")], // the plot is fetched when it is looked at
  entryNames: "[name]",
  splitting: true,
  outdir: into,
  bundle: true,
  format: "esm",
  target: ["es2022"],
  minify: true,
  legalComments: "inline",
  jsx: "automatic",
  jsxImportSource: "preact",
  logLevel: "warning",
});
for (const name of ["icon.svg", "manifest.webmanifest"]) {
  await copyFile(join(source, name), join(into, name));
}
// What stands there before the page runs, or where it cannot: "{{de page.no-script}}".
const index = await readFile(join(source, "index.html"), "utf8");
await writeFile(join(into, "index.html"), index.replace(/\{\{(\S+) (\S+)\}\}/g, (_, language, key) => messages[language][key]()));
for (const name of ["index.html", "icon.svg", "manifest.webmanifest", "page.js", "plot.js", "page.css"]) {
  const plain = await readFile(join(into, name));
  await writeFile(join(into, `${name}.gz`), gzipSync(plain, { level: 9 }));
}
