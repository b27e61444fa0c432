// Runs the tests of the desk's page one after the other. RUSHLIGHT names the program; CHROMIUM the browser, if it is
// not where Debian puts it. Without either there is nothing to test: exit status 77 says so.
//   node run.mjs [--work FOLDER] [WORD ...]
// --work: in a folder of the build, where the packages are installed by the lock file; else where this file lies.
// Words: only the tests whose file names have one of them.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { copyFileSync, existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import path from "node:path";

const here = path.dirname(fileURLToPath(import.meta.url));
const words = process.argv.slice(2);
const at = words.indexOf("--work");
const work = at >= 0 ? path.resolve(words.splice(at, 2)[1]) : here;

function nothing_to_test(why) {
    console.error(`${why}; the page is not tested`);
    process.exit(77);
}

for (const [what, where] of [
    ["RUSHLIGHT", process.env.RUSHLIGHT],
    ["CHROMIUM", process.env.CHROMIUM ?? "/usr/bin/chromium"],
])
    if (!where || !existsSync(where)) nothing_to_test(`${what}: nothing at ${where ?? "(not set)"}`);

if (work !== here) {
    const lock = createHash("sha256")
        .update(readFileSync(path.join(here, "package-lock.json")))
        .digest("hex");
    const stamp = path.join(work, "installed");
    mkdirSync(work, { recursive: true });
    for (const old of readdirSync(work)) if (old.endsWith(".mjs")) rmSync(path.join(work, old));
    for (const name of readdirSync(here))
        if (name.endsWith(".mjs") || /^(package(-lock)?\.json|\.npmrc)$/.test(name))
            copyFileSync(path.join(here, name), path.join(work, name));
    if (!existsSync(stamp) || readFileSync(stamp, "utf8") !== lock) {
        const installed = spawnSync("npm", ["ci", "--prefer-offline"], { cwd: work, encoding: "utf8" });
        if (installed.status !== 0) nothing_to_test(`npm ci: ${installed.stderr ?? installed.error}`);
        writeFileSync(stamp, lock);
    }
}

const files = readdirSync(work)
    .filter((name) => name.endsWith(".test.mjs") && (words.length === 0 || words.some((word) => name.includes(word))))
    .map((name) => path.join(work, name));
let status = 0;
for (const file of files) {
    const { status: one } = spawnSync(process.execPath, ["--test", file], { stdio: "inherit", env: process.env });
    if (one !== 0) status = 1;
}
process.exit(status);
