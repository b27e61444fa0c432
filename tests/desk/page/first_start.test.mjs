// A first start without a file: from nothing to the first reading.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import path from "node:path";
import { after, before, test } from "node:test";
import { look, open_browser, open_desk } from "./desk.mjs";
import { cell, settled } from "./hands.mjs";

let browser, desk, page;
before(async () => {
    browser = await open_browser();
    desk = await open_desk();
    page = await look(browser, await desk.link());
});
after(async () => {
    await browser?.close();
    await desk?.end();
});

test("what is not a length gets one clear line, and nothing is lost", async () => {
    await page.getByRole("heading", { name: "A new place" }).waitFor();
    await page.getByLabel("width").fill("very");
    await page.getByRole("button", { name: "Start" }).click();
    await page.getByRole("alert").waitFor({ timeout: 5000 });
    assert.equal(await page.getByLabel("width").inputValue(), "very");
});

test("a room, a window, two marks and a lamp: the first reading is there soon", async () => {
    const started = Date.now();
    await page.getByLabel("width").fill("16ft 5in");
    await page.getByLabel("depth").fill("3,6");
    await page.getByLabel("light outside").selectOption("night");
    await page.getByRole("button", { name: "Start" }).click();
    await settled(page);
    // Two minutes are for a person who types; the machine's own part is seconds.
    assert.ok(Date.now() - started < 30000);
    const text = await readFile(path.join(desk.folder, "new-place.toml"), "utf8");
    assert.match(text, /width = 5\.004, depth = 3\.6,/);
    assert.equal(await page.getByRole("row").filter({ hasText: "Total" }).count(), 1);
    assert.deepEqual(
        page.complaints.filter((line) => !line.includes("422")),
        [],
    );
});

test("the first set-up of a file is the one it was, beside the new one", async () => {
    const written = () => readFile(path.join(desk.folder, "new-place.toml"), "utf8");
    const before_it = await written();
    const camera = /\[\[camera\]\]\s+name = "([^"]+)"/.exec(before_it)[1];
    await page.getByRole("button", { name: "new set-up" }).click();
    await page.getByLabel("Name of the new set-up").fill("reverse");
    await page.keyboard.press("Enter");
    await page.getByRole("tab", { name: "reverse", selected: true }).waitFor({ timeout: 5000 });
    const text = await written();
    assert.ok(text.includes(`[[setup]]\nname = "${camera}"\ncamera = "${camera}"`), text);
    assert.ok(text.includes('[[setup]]\nname = "reverse"\ncamera = "reverse camera"'), text);
    await settled(page);
});
