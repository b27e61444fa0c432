// What the page looks like: to a screen reader (axe, WCAG 2.2), by day and by night, on a telephone, without WebGL2,
// and whether its frame is the program's frame.
import assert from "node:assert/strict";
import { execFile } from "node:child_process";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import path from "node:path";
import { after, before, test } from "node:test";
import { promisify } from "node:util";
import { look, open_browser, open_desk, until } from "./desk.mjs";
import { cell, settled, written } from "./hands.mjs";
import { room } from "./room.mjs";

const axe = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
let browser, desk;
before(async () => {
    browser = await open_browser();
    desk = await open_desk({ text: room });
});
after(async () => {
    await browser?.close();
    await desk?.end();
});

async function findings(page) {
    // The page lets no foreign script in; the browser's debugger may.
    await page.evaluate(await readFile(axe, "utf8"));
    return page.evaluate(async () => {
        const { violations } = await window.axe.run(document, {
            runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
        });
        return violations.map(
            (v) =>
                `${v.impact} ${v.id}: ${v.nodes
                    .map((n) => n.html.slice(0, 110))
                    .slice(0, 3)
                    .join(" / ")}`,
        );
    });
}
const serious = (all) => all.filter((line) => /^(serious|critical)/.test(line));

for (const [name, options] of [
    ["by day", { colorScheme: "light" }],
    ["by night", { colorScheme: "dark" }],
    ["on a telephone", { colorScheme: "dark", viewport: { width: 390, height: 844 }, hasTouch: true }],
])
    test(`nothing serious for axe ${name}, with a thing picked, spots folded out and false colour shown`, async () => {
        const page = await look(browser, await desk.link(name !== "by day"), options);
        await settled(page);
        assert.deepEqual(serious(await findings(page)), []);
        await page.locator('[data-name="over"]').focus();
        await page.keyboard.press("Enter");
        await page.getByRole("button", { name: "Spots from the lens on A" }).click();
        await page.getByRole("button", { name: "Stops", exact: true }).click();
        await page.locator(".printed").first().waitFor({ state: "attached" });
        assert.deepEqual(serious(await findings(page)), []);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(wide <= 0, `${wide} pixels hang over to the right`);
        await page.context().close();
    });

test("everything can be reached and worked by keys alone", async () => {
    const page = await look(browser, await desk.link(true));
    await settled(page);
    const met = new Set();
    for (let i = 0; i < 60; ++i) {
        await page.keyboard.press("Tab");
        met.add(
            await page.evaluate(() => {
                const at = document.activeElement;
                return at?.getAttribute("aria-label") ?? at?.textContent?.trim() ?? "";
            }),
        );
    }
    const all = [...met].join("\n");
    for (const wanted of [
        "1 wide",
        "as found",
        "over on",
        "Level of over, stops under full",
        "Gel on over",
        "lamp over",
        "board white",
        "Stops",
    ])
        assert.ok(all.includes(wanted), `${wanted} among\n${all}`);
    await page.context().close();
});

test("without WebGL2 one sentence says so, and the sheet works", async () => {
    const plain = await open_browser(["--disable-3d-apis"]);
    const page = await look(plain, await desk.link(true));
    await settled(page);
    await page.getByText("This browser has no WebGL2").waitFor();
    const before_it = await cell(page, "over", "table");
    await page.getByRole("switch", { name: "aslant on" }).uncheck();
    assert.equal(await cell(page, "over", "table"), 0, "now all of it");
    assert.notEqual(before_it, 0);
    await page.getByRole("switch", { name: "aslant on" }).check();
    await written(page);
    await plain.close();
});

test("the page's frame is the program's frame", async () => {
    const page = await look(browser, await desk.link(true));
    await settled(page);
    await until(
        async () => /noise ± 0\.\d/.test((await page.locator(".caption").first().textContent()) ?? ""),
        30,
        "a quiet frame",
    );
    const shot = await page.locator(".view canvas").evaluate((canvas) => canvas.toDataURL());
    const out = path.join(desk.folder, "frame.png");
    await promisify(execFile)(process.env.RUSHLIGHT, [
        "frame",
        desk.file,
        "--setup",
        "1 wide",
        "--width",
        "480",
        "--plain",
        "--unfiltered",
        "--time",
        "3s",
        "-o",
        out,
    ]);
    const theirs = `data:image/png;base64,${(await readFile(out)).toString("base64")}`;
    const blank = await (await browser.newContext()).newPage();
    // Means over blocks of the picture, in display values: noise of single pixels goes out of them.
    const [mine, wanted] = await blank.evaluate(
        async (pictures) =>
            Promise.all(
                pictures.map(async (url) => {
                    const image = new Image();
                    image.src = url;
                    await image.decode();
                    const canvas = new OffscreenCanvas(image.width, image.height);
                    const context = canvas.getContext("2d");
                    context.drawImage(image, 0, 0);
                    const { data } = context.getImageData(0, 0, image.width, image.height);
                    const across = 24;
                    const size = image.width / across;
                    const sums = new Map();
                    for (let y = 0; y < image.height; ++y)
                        for (let x = 0; x < image.width; ++x) {
                            const at = Math.floor(y / size) * across + Math.floor(x / size);
                            const sum = sums.get(at) ?? [0, 0, 0, 0];
                            for (let c = 0; c < 3; ++c) sum[c] += data[4 * (y * image.width + x) + c];
                            sum[3] += 1;
                            sums.set(at, sum);
                        }
                    return [...sums.values()].map(([r, g, b, n]) => [r / n, g / n, b / n]);
                }),
            ),
        [shot, theirs],
    );
    assert.equal(mine.length, wanted.length, "the same size");
    const lit = wanted.filter((block) => block.some((v) => v > 20)).length;
    assert.ok(lit > 5, `${lit} blocks have light in them`);
    let worst = 0;
    mine.forEach((block, i) => block.forEach((v, c) => (worst = Math.max(worst, Math.abs(v - wanted[i][c])))));
    assert.ok(worst < 4, `blocks differ by up to ${worst.toFixed(1)} of 255`);
    await blank.context().close();
    await page.context().close();
});

test("what is not delivered is dimmed in the frame, and the map shows all", async () => {
    const whole = await desk.read();
    await desk.write(whole.replace("[day]", "[camera_body]\ndelivery = 2.39\n\n[day]"));
    const page = await look(browser, await desk.link(true));
    await settled(page);
    const outline = page.locator(".frames figure .delivered");
    await outline.waitFor();
    const [inner, all] = await Promise.all([outline.boundingBox(), page.locator(".canvas canvas").boundingBox()]);
    assert.ok(Math.abs(inner.width / inner.height / 2.39 - 1) < 0.01, `${inner.width} x ${inner.height}`);
    assert.ok(Math.abs(inner.width - all.width) < 1);
    assert.ok(Math.abs(inner.y - all.y - (all.height - inner.height) / 2) < 1);
    // What is dimmed is not covered: a reading can be taken there.
    await page.locator(".canvas canvas").click({ position: { x: all.width / 2, y: all.height - 4 } });
    await page.getByLabel("Reading where you pointed").waitFor();
    await page.getByRole("button", { name: "Light map", exact: true }).click();
    await until(async () => (await outline.count()) === 0, 20, "the map without it");
    await desk.write(whole);
    await page.context().close();
});

test("click anywhere in the frame or on the plan for a reading", async () => {
    const page = await look(browser, await desk.link(true));
    await settled(page);
    const plan = page.locator("svg.plan-drawing");
    await plan.scrollIntoViewIfNeeded();
    const walls = await page.locator(".walls").boundingBox();
    // A little beside the middle of the room, where the meter's sign is, 1.2 m up: I cos(a) / d^2 of both lamps.
    const off = (14 * 6) / walls.width;
    const under = (i, x, y) => (i * 1.8) / ((3 + off - x) ** 2 + (3 - off - y) ** 2 + 1.8 ** 2) ** 1.5;
    const wanted = under(400, 3, 3) + under(800, 1, 3);
    await page.mouse.click(walls.x + walls.width / 2 + 14, walls.y + walls.height / 2 + 14);
    const said = page.getByLabel("Reading where you pointed");
    await said.getByText(/lx/).first().waitFor({ timeout: 10000 });
    const lux = Number(/([\d.]+) lx/.exec(await said.textContent())[1]);
    // Whole lux, and the beams fall off a little from their middles.
    assert.ok(Math.abs(lux / wanted - 1) < 0.03, `${lux} lx, wanted ${wanted.toFixed(1)}`);
    await page.context().close();
});
