// What stands in the place, on the plan: boxes, rough models, hung pictures. To scale, with names, and movable.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { look, open_browser, open_desk, until } from "./desk.mjs";
import { settled, written } from "./hands.mjs";
import { room } from "./room.mjs";

/** A pyramid of 2 x 1 m, a metre high. */
const tent = `v -1 -0.5 0
v 1 -0.5 0
v 1 0.5 0
v -1 0.5 0
v 0 0 1
f 1 2 5
f 2 3 5
f 3 4 5
f 4 1 5
f 4 3 2 1
`;
const pieces = `
[[place.furniture]]
name = "tent"
obj = "tent.obj"
at = [1.5, 4.5] # by the wall
[[place.furniture]]
name = "painting"
picture = "two.ppm"
at = [4.5, 5.95]
from_floor = 1.4
width = 1.5
[[place.furniture]]
name = "harbour"
picture = "two.ppm"
at = [3, -30]
width = 20
[[place.furniture]]
name = "bench"
at = [4.6, 4.2]
size = [1.2, 0.8, 0.7]
`;
const two = Buffer.concat([Buffer.from("P6\n2 1\n255\n"), Buffer.from([255, 1, 1, 1, 255, 1])]);
const text = room.replace("[[mark]]", `${pieces}\n[[mark]]`);

let browser, desk, page, scale;
before(async () => {
    browser = await open_browser();
    desk = await open_desk({ text, files: { "tent.obj": tent, "two.ppm": two } });
    page = await look(browser, await desk.link());
    await settled(page);
    scale = await page.locator(".walls").evaluate((wall) => wall.getBBox().width / 6);
    await page.locator(".plan-drawing").scrollIntoViewIfNeeded();
});
after(async () => {
    await browser?.close();
    await desk?.end();
});

const box_of = (piece, part) =>
    page.locator(`[data-piece="${piece}"] ${part}`).evaluate((path) => {
        const { width, height } = path.getBBox();
        return { width, height };
    });
const middle_of = async (piece) => {
    const box = await page.locator(`[data-piece="${piece}"] .furniture-touch`).boundingBox();
    return [box.x + box.width / 2, box.y + box.height / 2];
};
const at_of = async (piece) => new RegExp(`name = "${piece}"[^\\[]*at = (\\[.*?\\])`).exec(await desk.read())[1];

test("a model and a picture are drawn to scale and named", async () => {
    const model = await box_of("tent", ".furniture");
    assert.ok(Math.abs(model.width - 2 * scale) < 0.03 * scale, `${model.width / scale} m`);
    assert.ok(Math.abs(model.height - scale) < 0.03 * scale, `${model.height / scale} m`);
    const picture = await box_of("painting", ".furniture-cut");
    assert.ok(Math.abs(picture.width - 1.5 * scale) < 0.5);
    assert.ok(picture.height < 0.5, "seen from above it is a line");
    assert.equal(await page.locator('[data-piece="tent"] title').textContent(), "tent, model");
    assert.equal(await page.locator('[data-piece="painting"] title').textContent(), "painting, picture");
    const spoken = page.getByRole("button", { name: /^picture painting, 4.50 right, 5.95 into the room, 1.40 metres up/ });
    assert.equal(await spoken.count(), 1);
    // What lies outside the drawing is told in words.
    await page.getByText("Further off: harbour 30 m beyond the near wall.").waitFor();
    assert.equal(await page.locator('[data-piece="harbour"]').count(), 0);
});

test("a click on furniture takes a reading there; a drag moves it, in one step", async () => {
    const before_it = await desk.read();
    const [x, y] = await middle_of("bench");
    await page.mouse.click(x, y);
    await page.getByLabel("Reading where you pointed").getByText(/lx/).first().waitFor({ timeout: 10000 });
    assert.equal(await desk.read(), before_it, "a click moves nothing");
    await page.mouse.move(x, y);
    await page.mouse.down();
    for (let i = 1; i <= 8; ++i) await page.mouse.move(x - (i / 8) * scale, y);
    await page.mouse.up();
    await written(page);
    await until(async () => (await at_of("bench")) === "[3.6, 4.2]", 5, `the bench at ${await at_of("bench")}`);
    await page.getByRole("region", { name: "Picked: furniture bench" }).waitFor();
    await page.getByRole("button", { name: "undo" }).click();
    await until(async () => (await desk.read()) === before_it, 20, "one step back");
    await settled(page);
});

test("a model by keys: along, up, round; comments stay", async () => {
    const before_it = await desk.read();
    await page.locator('.by-keys[data-name="tent"]').focus();
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    await until(async () => (await desk.read()).includes("at = [1.6, 4.5] # by the wall"), 20, "10 cm along");
    await page.keyboard.press("PageUp");
    await until(async () => /name = "tent"[^[]*at = .*[^[]*from_floor = 0.05/.test(await desk.read()), 20, "5 cm up");
    await page.locator('[data-aim="tent"]').focus();
    await page.keyboard.press("ArrowLeft");
    await until(async () => /name = "tent"[^[]*at = .*[^[]*turn = 5\n/.test(await desk.read()), 20, "5 degrees round");
    await written(page);
    for (let i = 0; i < 3; ++i) {
        await page.keyboard.press("Control+Z");
        await written(page);
    }
    await until(async () => (await desk.read()) === before_it, 20, "three steps back");
    assert.deepEqual(page.complaints, []);
});

test("a finger picks furniture up by a tap, and scrolls over it before", async () => {
    const touched = await look(browser, await desk.link(true), {
        viewport: { width: 390, height: 844 },
        hasTouch: true,
        isMobile: true,
    });
    await settled(touched);
    const shape = touched.locator('[data-piece="bench"]');
    await shape.scrollIntoViewIfNeeded();
    assert.notEqual(await shape.evaluate((element) => getComputedStyle(element).touchAction), "none");
    await shape.tap();
    await touched.getByRole("region", { name: "Picked: furniture bench" }).waitFor();
    assert.equal(await shape.evaluate((element) => getComputedStyle(element).touchAction), "none");
    await touched.context().close();
});
