// Runs the tests of the desk's page one after the other. RUSHLIGHT names the program; CHROMIUM the browser, if it is
// not where Debian puts it. Without either there is nothing to test: exit status 77 says so.
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import path from "node:path";

const here = path.dirname(fileURLToPath(import.meta.url));
const program = process.env.RUSHLIGHT;
const browser = process.env.CHROMIUM ?? "/usr/bin/chromium";
for (const [what, where] of [
    ["RUSHLIGHT", program],
    ["CHROMIUM", browser],
])
    if (!where || !existsSync(where)) {
        console.error(`${what}: nothing at ${where ?? "(not set)"}; the page is not tested`);
        process.exit(77);
    }

const asked = process.argv.slice(2);
const files = readdirSync(here)
    .filter((name) => name.endsWith(".test.mjs") && (asked.length === 0 || asked.some((word) => name.includes(word))))
    .map((name) => path.join(here, name));
let status = 0;
for (const file of files) {
    const { status: one } = spawnSync(process.execPath, ["--test", file], { stdio: "inherit", env: process.env });
    if (one !== 0) status = 1;
}
process.exit(status);
