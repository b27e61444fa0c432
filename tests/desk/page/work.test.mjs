// The main job: what is moved, dimmed, gelled and undone in the page is seen there at once, stands in the file, and
// agrees with closed forms of light.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { look, open_browser, open_desk, until } from "./desk.mjs";
import { cell, lux_view, settled, written } from "./hands.mjs";
import { room } from "./room.mjs";

let browser, desk, page;
before(async () => {
    browser = await open_browser();
    desk = await open_desk({ text: room });
    page = await look(browser, await desk.link());
    await settled(page);
});
after(async () => {
    await browser?.close();
    assert.equal(await desk?.end(), 0, "the program ends well");
});

const near = (got, wanted, relative, what) =>
    assert.ok(Math.abs(got / wanted - 1) < relative, `${what}: ${got}, wanted ${wanted} within ${100 * relative} %`);

test("the sheet agrees with the inverse square and the cosine", async () => {
    await lux_view(page, true);
    // E = I cos(a) / d^2 (any text on photometry). Whole lux are shown, so a half of one is allowed beside the noise.
    near(await cell(page, "over", "table"), 400 / 4, 0.01, "400 cd at 2 m, straight");
    near(await cell(page, "aslant", "table"), (800 / 8) * Math.SQRT1_2, 0.012, "800 cd at 2.83 m, 45 degrees");
    near(await cell(page, "Total", "table"), 400 / 4 + (800 / 8) * Math.SQRT1_2, 0.01, "both");
    await lux_view(page, false);
    // log2 of the share: 100 / 170.7 and 70.7 / 170.7.
    assert.equal(await cell(page, "over", "table"), -0.8);
    assert.equal(await cell(page, "aslant", "table"), -1.3);
});

test("a level by keys: thirds of a stop, at once, and into the file", async () => {
    await lux_view(page, true);
    const before_it = await cell(page, "over", "table");
    const slider = page.getByRole("slider", { name: "Level of over, stops under full" });
    await slider.focus();
    for (let i = 0; i < 3; ++i) await page.keyboard.press("ArrowDown");
    // Seen without waiting for the program: a stop is half the light.
    near(await cell(page, "over", "table"), before_it / 2, 0.015, "a stop down");
    await until(async () => (await desk.read()).includes(`\nlevel = "-1 stop"\n`), 20, "the level in the file");
    assert.match(await desk.read(), /name = "over" {3}# straight above the meter: 400 cd at 2 m give 100 lx\n/);
    // And the program, asked again, says the same.
    await written(page);
    await page.reload();
    await settled(page);
    await lux_view(page, true);
    near(await cell(page, "over", "table"), 50, 0.02, "after a reload");
});

test("a level by number: percent, fractions, and words that are no level", async () => {
    const field = page.getByRole("textbox", { name: "Level of over: stops or percent" });
    for (const [typed, lux] of [
        ["25%", 25],
        ["-1/3", 100 * 2 ** (-1 / 3)],
        ["full", 100],
        ["-2 stops", 25],
    ]) {
        await field.fill(typed);
        await field.press("Enter");
        near(await cell(page, "over", "table"), lux, 0.025, typed);
    }
    await field.fill("bright");
    await field.press("Enter");
    assert.equal(await field.getAttribute("aria-invalid"), "true");
    await field.press("Escape");
    near(await cell(page, "over", "table"), 25, 0.03, "left as it was");
});

test("undo goes all the way back to the very bytes of the file, and redo forth again", async () => {
    const undo = page.getByRole("button", { name: "undo" });
    await until(async () => (await desk.read()).includes('"-2 stops"'), 20);
    await written(page);
    const last = await desk.read();
    let steps = 0;
    while (await undo.isEnabled()) {
        const text = await desk.read();
        await undo.click();
        await until(async () => (await desk.read()) !== text, 20, "an undo");
        await written(page);
        assert.ok(++steps < 20);
        if ((await desk.read()) === room) break;
    }
    assert.equal(await desk.read(), room);
    for (let i = 0; i < steps; ++i) {
        const text = await desk.read();
        await page.keyboard.press("Control+Shift+Z");
        await until(async () => (await desk.read()) !== text, 20, "a redo");
    }
    assert.equal(await desk.read(), last);
    while ((await desk.read()) !== room) {
        const text = await desk.read();
        await page.keyboard.press("Control+Z");
        await until(async () => (await desk.read()) !== text, 20, "an undo by keys");
    }
    await settled(page);
});

test("a drag: under the hand at once, in the file after it, one step of undo; the light follows", async () => {
    await lux_view(page, true);
    const sign = page.locator('[data-name="over"]');
    const scale = await page.locator(".walls").evaluate((wall) => wall.getBoundingClientRect().width / 6);
    await sign.scrollIntoViewIfNeeded();
    const box = await sign.locator(".touch").boundingBox();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    for (let i = 1; i <= 10; ++i) await page.mouse.move(x + (i / 10) * 1.5 * scale, y);
    const there = await sign.locator(".touch").boundingBox();
    assert.ok(Math.abs(there.x - box.x - 1.5 * scale) < 4, "the sign goes with the hand");
    // Before it is traced, the square of the distance from wherever on the way it was traced last: d^2 from 4 to 6.25
    // makes 64 of all the way, and the cosine, which the guess leaves out, 51 of none of it.
    // The page draws once a frame: the second from now has the last move.
    await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
    const guess = await cell(page, "over", "table");
    assert.ok(guess > 49 && guess < 66, `the guess under the hand: ${guess} lx`);
    await page.mouse.up();
    await written(page);
    const at = /name = "over".*\nshape = "hard"\nat = \[([\d., ]+)\]/
        .exec(await desk.read())?.[1]
        .split(",")
        .map(Number);
    assert.ok(Math.abs(at[0] - 4.5) < 0.03 && Math.abs(at[1] - 3) < 0.03 && at[2] === 3, `moved to ${at}`);
    await settled(page);
    // Now 1.5 m to the side and 2 m up; it still points at its old aim, where a beam of this width has its full share:
    // E = I cos(a) / d^2 with d^2 = 6.25, cos a = 0.8. Off the aim by nothing: the meter is what it is aimed at.
    near(await cell(page, "over", "table"), (400 / 6.25) * 0.8, 0.02, "after the drag");
    await page.keyboard.press("Control+Z");
    await until(async () => (await desk.read()) === room, 20, "one step back");
    await settled(page);
    near(await cell(page, "over", "table"), 100, 0.02, "as before");
});

test("arrows move by 5 cm, with Shift by 1 cm, Page Up raises", async () => {
    const sign = page.locator('[data-name="white"]');
    await sign.focus();
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Shift+ArrowUp");
    await page.keyboard.press("PageUp");
    await until(async () => (await desk.read()).includes("at = [5.05, 5.01, 1.25]"), 20, "the board moved");
    await page.keyboard.press("Control+Z");
    await until(async () => (await desk.read()) === room, 20, "one step back");
});

test("turning a board by its handle writes where it looks", async () => {
    await page.locator('[data-name="white"]').click();
    const handle = page.locator('[data-aim="white"]');
    await handle.focus();
    await page.keyboard.press("ArrowLeft");
    await until(async () => /name = "white"\nat = .*\nfacing = \[/.test(await desk.read()), 20, "its facing");
    await page.keyboard.press("Control+Z");
    await until(async () => (await desk.read()) === room, 20, "one step back");
});

test("gel and switch: the sheet at once, the file after", async () => {
    await settled(page);
    const gel = page.getByRole("combobox", { name: "Gel on aslant" });
    await gel.selectOption("nd 0.3");
    // A density of 0.3 passes 10^-0.3: one stop.
    near(await cell(page, "aslant", "table"), 70.7 / 2, 0.02, "nd 0.3");
    await until(async () => (await desk.read()).includes('gel = "nd 0.3"'), 20);
    await page.getByRole("switch", { name: "aslant on" }).uncheck();
    assert.equal(await cell(page, "aslant", "table"), 0);
    near(await cell(page, "Total", "table"), 100, 0.01, "one alone");
    await until(async () => /on = false/.test(await desk.read()), 20);
    for (let i = 0; i < 2; ++i) {
        await settled(page);
        await page.keyboard.press("Control+Z");
        await page.waitForTimeout(200);
    }
    await until(async () => (await desk.read()) === room, 20, "two steps back");
});

test("a reload shows the same set-up and option", async () => {
    await page.getByRole("tab", { name: "2 aslant only" }).click();
    await page.getByRole("tab", { name: "down a stop" }).click();
    await page.reload();
    await page.getByRole("tab", { name: "2 aslant only", selected: true }).waitFor({ timeout: 5000 });
    await page.getByRole("tab", { name: "down a stop", selected: true }).waitFor({ timeout: 5000 });
    await page.getByRole("tab", { name: "1 wide" }).click();
    await settled(page);
    await lux_view(page, true);
});

test("set-ups and options are tabs; beside it shows the difference and whether it is noise", async () => {
    await settled(page);
    await page.getByRole("tab", { name: "2 aslant only" }).click();
    await settled(page);
    assert.equal(await cell(page, "over", "table"), 0);
    await page.getByRole("tab", { name: "1 wide" }).click();
    await page.getByRole("tab", { name: "down a stop" }).click();
    await settled(page);
    near(await cell(page, "over", "table"), 50, 0.02, "the option");
    await page.getByRole("combobox", { name: "Compare with another option" }).selectOption("as found");
    await until(
        () =>
            page
                .getByRole("row", { name: /over “as found”/ })
                .getByText("−")
                .first()
                .isVisible(),
        20,
    );
    // log2((50 + 70.7) / (100 + 70.7)) = -0.50
    assert.equal(await cell(page, "over “as found”", "table"), -0.5);
    await page.getByRole("tab", { name: "as found" }).click();
});

test("things are put in and taken away", async () => {
    await settled(page);
    await page.getByLabel("Add").selectOption("flag");
    await page.locator('[data-name="flag"]').waitFor({ timeout: 5000 });
    assert.match(await desk.read(), /\[\[flag\]\]\nname = "flag"\n/);
    await page.getByRole("button", { name: "Remove" }).click();
    await until(async () => (await desk.read()).includes("[[flag]]") === false, 20, "gone again");
    for (let i = 0; i < 2; ++i) await page.keyboard.press("Control+Z");
    await until(async () => (await desk.read()) === room, 20, "two steps back");
    await written(page);
});

test("a new option is a tab, and what is moved in it leaves the rest as found", async () => {
    await page.getByRole("button", { name: "new option" }).click();
    await page.getByLabel("Name of the new option").fill("higher");
    await page.keyboard.press("Enter");
    await page.getByRole("tab", { name: "higher", selected: true }).waitFor({ timeout: 5000 });
    await settled(page);
    await page.locator('[data-name="over"]').focus();
    await page.keyboard.press("PageUp");
    await until(async () => /name = "higher"[^]*over/.test(await desk.read()), 20, "written into the option");
    assert.ok((await desk.read()).startsWith(room.trimEnd().slice(0, -20)), "all that was there stands");
    await page.getByRole("tab", { name: "as found" }).click();
    while ((await desk.read()) !== room) {
        const text = await desk.read();
        await page.keyboard.press("Control+Z");
        await until(async () => (await desk.read()) !== text, 20, "an undo");
    }
    await settled(page);
});

test("a new set-up has a camera of its own, and one step takes both back", async () => {
    await page.getByRole("button", { name: "new set-up" }).click();
    await page.getByLabel("Name of the new set-up").fill("over the shoulder");
    await page.keyboard.press("Enter");
    await page.getByRole("tab", { name: "over the shoulder", selected: true }).waitFor({ timeout: 5000 });
    const text = await desk.read();
    assert.ok(room.split("\n\n").every((part) => text.includes(part.trim())), "all that was there stands");
    assert.match(text, /\[\[setup\]\]\s+name = "over the shoulder"\s+camera = "over the shoulder camera"/);
    await settled(page);
    await page.getByRole("tab", { name: "1 wide" }).click();
    await page.keyboard.press("Control+Z");
    await until(async () => (await desk.read()) === room, 20, "the undo");
    await settled(page);
});

test("the clock is scrubbed by keys and written when the hand rests", async () => {
    await desk.write(room.replace("dark = true", 'time = "11:00"\ntime_zone = "UTC"'));
    const clock = page.getByRole("slider", { name: "Time of day" });
    await clock.waitFor({ timeout: 10000 });
    await clock.focus();
    for (let i = 0; i < 4; ++i) await page.keyboard.press("ArrowRight");
    assert.equal(await clock.getAttribute("aria-valuetext"), "12:00");
    await until(async () => (await desk.read()).includes('time = "12:00"'), 20, "the time in the file");
});

test("nothing was complained of", () => assert.deepEqual(page.complaints, []));
