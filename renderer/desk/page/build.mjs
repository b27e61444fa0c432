// Bundles the page into one script, one style sheet and one document, ready to be put into the program.
//   node build.mjs [--out FOLDER]    (left out: dist/ here)
import { build } from "esbuild";
import { copyFile, mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import path from "node:path";

const here = path.dirname(fileURLToPath(import.meta.url));
const at = process.argv.indexOf("--out");
const out = at > 0 ? path.resolve(process.argv[at + 1]) : path.join(here, "dist");

await mkdir(out, { recursive: true });
await build({
    entryPoints: { app: path.join(here, "source/main.tsx") },
    bundle: true,
    minify: true,
    format: "esm",
    target: ["es2022", "chrome109", "firefox115", "safari16"],
    jsx: "automatic",
    jsxImportSource: "preact",
    outdir: out,
    legalComments: "eof", // the library's licence stays with its code
    logLevel: "warning",
});
for (const plain of ["index.html", "icon.svg"]) await copyFile(path.join(here, "source", plain), path.join(out, plain));
