// A sheet of many readings: every column can be brought into sight whole, by hand and by keys, and the page says where
// there is more. The spots from the lens are folded away until they are wanted.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { look, open_browser, open_desk, until } from "./desk.mjs";
import { cell, lux_view, settled } from "./hands.mjs";
import { room } from "./room.mjs";

const many = Array.from(
    { length: 11 },
    (_, i) => `
[[meter]]
name = "${["shelf", "on the glass, from the street", "dresser"][i % 3]} ${i + 1}"
at = [${1 + 0.4 * i}, 3.5, 1]
facing = "up"
`,
).join("");

let browser, desk;
before(async () => {
    browser = await open_browser();
    desk = await open_desk({ text: room.replace("[[setup]]", `${many}\n[[setup]]`) });
});
after(async () => {
    await browser?.close();
    await desk?.end();
});

/** Column by column: what of it is hidden after it was asked into sight, in pixels, and by what its figure is covered. */
async function hidden_columns(page) {
    return page.evaluate(async () => {
        const box = document.querySelector(".sheet .scroll");
        const table = box.querySelector("table");
        const heads = [...table.tHead.rows[1].cells];
        const sum = [...table.tFoot.rows[0].cells];
        const found = [];
        for (const [i, head] of heads.entries()) {
            head.scrollIntoView({ inline: "nearest", block: "nearest" });
            await new Promise((done) => requestAnimationFrame(done));
            const from = table.querySelector(".corner").getBoundingClientRect().right;
            const end = table.querySelector("thead .end");
            const to = end ? end.getBoundingClientRect().left : box.getBoundingClientRect().right;
            const cell = sum[i + 1].getBoundingClientRect();
            const hidden = Math.max(from - cell.left, cell.right - to, 0);
            const seen = [cell.left + 3, cell.right - 3].map((x) =>
                sum[i + 1].contains(document.elementFromPoint(x, cell.top + cell.height / 2)),
            );
            if (hidden > 1 || seen.includes(false)) found.push(`${head.title}: ${hidden.toFixed(1)} px`);
        }
        return found;
    });
}

const shade = (page, side) =>
    page.evaluate((which) => getComputedStyle(document.querySelector(".sideways"), `::${which}`).opacity === "1", side);

for (const [name, options] of [
    ["on a desk", { colorScheme: "light" }],
    ["on a tablet", { viewport: { width: 820, height: 1100 } }],
    ["on a telephone", { colorScheme: "dark", viewport: { width: 390, height: 844 } }],
])
    test(`${name}: every column comes out whole from under those that stand still`, async () => {
        const page = await look(browser, await desk.link(name !== "on a desk"), options);
        await settled(page);
        await page.locator(".sheet").scrollIntoViewIfNeeded();
        assert.deepEqual(await hidden_columns(page), []);
        const hangs_over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(hangs_over <= 0, `${hangs_over} pixels of the page`);

        // By keys, from one end to the other; a shade on the side on which there is more.
        const box = page.locator(".sheet .scroll");
        await box.evaluate((element) => (element.scrollLeft = 0));
        await until(async () => (await shade(page, "after")) && !(await shade(page, "before")), 20, "more after");
        await box.focus();
        for (let i = 0; i < 60 && (await shade(page, "after")); ++i) {
            await page.keyboard.press("ArrowRight");
            await page.waitForTimeout(30);
        }
        await until(async () => !(await shade(page, "after")) && (await shade(page, "before")), 20, "more before");
        assert.deepEqual(page.complaints, []);
        await page.context().close();
    });

test("where all is in sight nothing says that there is more", async () => {
    const page = await look(browser, await desk.link(true), { viewport: { width: 2600, height: 1200 } });
    await settled(page);
    await until(async () => !(await shade(page, "after")) && !(await shade(page, "before")), 20, "no shade");
    await page.context().close();
});

test("spots from the lens: folded away, then live as all else", async () => {
    const page = await look(browser, await desk.link(true));
    await settled(page);
    await lux_view(page, true);
    const fold = page.getByRole("button", { name: "Spots from the lens on A" });
    await fold.waitFor();
    assert.equal(await fold.getAttribute("aria-expanded"), "false");
    const heads = () => page.locator(".sheet thead th[title$='spot from the lens']").count();
    assert.equal(await heads(), 0, "folded away");
    await fold.focus();
    await page.keyboard.press("Enter");
    assert.equal(await fold.getAttribute("aria-expanded"), "true");
    assert.ok((await heads()) >= 5, `${await heads()} spots`);
    const spot = "A front, spot from the lens";
    const luminance = await until(async () => (await cell(page, "Total", spot)) || null, 20, "the first spot");
    // Wait until it is sure, so that what changes is the level alone.
    const sure = async () => Number(/[\d.]+/.exec(await text_of(page, "± stops", spot))?.[0]);
    await until(async () => (await sure()) <= 0.02, 30, "a sure spot");
    const own = [await cell(page, "over", spot), await cell(page, "aslant", spot)];
    const all = await cell(page, "Total", spot);
    near(own[0] + own[1], all, 0.03, "its sources make all of it");
    near(luminance, all, 0.3, "the first look");
    // A stop off both lamps is half of the light, at once and with nothing traced.
    const over_grey = async () => Number((await text_of(page, "vs T2.8", spot)).replace("−", "-").replace("+", ""));
    const stops = await over_grey();
    for (const lamp of ["over", "aslant"]) {
        const slider = page.getByRole("slider", { name: `Level of ${lamp}, stops under full` });
        await slider.focus();
        await page.keyboard.press("PageDown");
    }
    near(await cell(page, "Total", spot), all / 2, 0.06, "half of it");
    assert.ok(Math.abs((await over_grey()) - (stops - 1)) < 0.15, `${await over_grey()} after ${stops}`);
    assert.equal(await text_of(page, "meter shows", spot), "–", "no incident meter shows a spot");
    await fold.focus();
    await page.keyboard.press("Enter");
    assert.equal(await heads(), 0);
    assert.deepEqual(page.complaints, []);
    await page.context().close();
});

const near = (got, wanted, relative, what) =>
    assert.ok(Math.abs(got / wanted - 1) < relative, `${what}: ${got}, wanted ${wanted} within ${100 * relative} %`);

async function text_of(page, row, title) {
    return page.evaluate(
        ([row_name, wanted]) => {
            const table = document.querySelector(".sheet table");
            const at = [...table.tHead.rows[1].cells].findIndex((head) => head.title === wanted);
            const found = [...table.rows].find(
                (r) => r.querySelector("th[scope=row]")?.textContent.trim() === row_name,
            );
            return found.cells[at + 1].firstChild.textContent;
        },
        [row, title],
    );
}
