// A desk to test: the program on a copy of a set-up file, and a browser that looks at it.
import { spawn } from "node:child_process";
import { copyFile, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createInterface } from "node:readline";
import { tmpdir } from "node:os";
import path from "node:path";
import { chromium } from "playwright-core";

/** Software drawing of WebGL2, nothing from the network, nothing kept. */
const flags = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
];

/** `more`: flags besides. */
export async function open_browser(more = []) {
    return chromium.launch({
        executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
        headless: true,
        args: [...flags, ...more],
    });
}

/**
 * `text` is a set-up file of the test's own; `scene` the path of one that is copied. Neither: a start without a file.
 * `files`: what stands beside it, contents by name.
 */
export async function open_desk({ text, scene, files = {}, words = [] } = {}) {
    const folder = await mkdtemp(path.join(tmpdir(), "rushlight-desk-"));
    const file = text || scene ? path.join(folder, "set-up.toml") : null;
    if (text) await writeFile(file, text);
    if (scene) await copyFile(scene, file);
    for (const [name, contents] of Object.entries(files)) await writeFile(path.join(folder, name), contents);
    const page = process.env.RUSHLIGHT_PAGE ? ["--page", process.env.RUSHLIGHT_PAGE] : [];
    const program = spawn(process.env.RUSHLIGHT, ["desk", ...(file ? [file] : []), "--no-open", ...page, ...words], {
        cwd: folder,
        stdio: ["pipe", "pipe", "pipe"],
        env: { ...process.env, XDG_CACHE_HOME: path.join(folder, "cache") },
    });
    let said = "";
    program.stderr.on("data", (bytes) => (said += bytes));
    const waiting = [];
    const links = [];
    createInterface({ input: program.stdout }).on("line", (line) => {
        said += `${line}\n`;
        if (!/^https?:\/\//.test(line.trim())) return;
        const next = waiting.shift();
        if (next) next(line.trim());
        else links.push(line.trim());
    });
    const ended = new Promise((done) => program.on("exit", done));
    /** The next link that the program prints; Enter makes it print fresh ones. */
    const link = (fresh = false) =>
        new Promise((done, fail) => {
            if (fresh) program.stdin.write("\n");
            const have = links.shift();
            if (have) return done(have);
            waiting.push(done);
            setTimeout(() => fail(new Error(`no link was printed:\n${said}`)), 20000).unref();
        });
    return {
        file,
        folder,
        link,
        said: () => said,
        read: () => readFile(file, "utf8"),
        write: (contents) => writeFile(file, contents),
        /** Stands still until it is resumed: what happens meanwhile it meets all at once. */
        pause: () => program.kill("SIGSTOP"),
        resume: () => program.kill("SIGCONT"),
        /** Ends the program; gives its exit status. */
        async end() {
            program.kill("SIGINT");
            const late = setTimeout(() => program.kill("SIGKILL"), 10000);
            const status = await ended;
            clearTimeout(late);
            await rm(folder, { recursive: true, force: true });
            return status;
        },
    };
}

/** A page that has come in by a link; what the browser complains of is collected. */
export async function look(browser, link, options = {}) {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
    const page = await context.newPage();
    page.complaints = [];
    page.on("pageerror", (error) => page.complaints.push(String(error)));
    page.on("console", (message) => {
        if (message.type() === "error") page.complaints.push(message.text());
    });
    await page.goto(link);
    return page;
}

export async function until(what, seconds = 20, why = "") {
    const end = Date.now() + 1000 * seconds;
    for (;;) {
        const got = await what();
        if (got) return got;
        if (Date.now() > end) throw new Error(`waited ${seconds} s in vain${why && `: ${why}`}`);
        await new Promise((done) => setTimeout(done, 50));
    }
}
