// How fast. Drawing is done in software here and other work shares the machine, so what is held to a bound is what the
// page itself does: script, style and layout on the main thread. Of several rounds the best counts: a neighbour's work
// only ever adds to a time.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { look, open_browser, open_desk, until } from "./desk.mjs";
import { settled } from "./hands.mjs";
import { room } from "./room.mjs";

let browser, desk, page;
before(async () => {
    browser = await open_browser();
    desk = await open_desk({ text: room });
    // Once to warm the browser up: its first start reads its own files.
    const warm = await look(browser, await desk.link());
    await settled(warm);
    await warm.context().close();
});
after(async () => {
    await browser?.close();
    await desk?.end();
});

test("the first picture stands within a second", async (t) => {
    const times = [];
    for (let round = 0; round < 4 && !(Math.min(...times) < 1000); ++round) {
        await page?.context().close();
        page = await look(browser, await desk.link(true));
        times.push(
            await until(() => page.evaluate(() => performance.getEntriesByName("first picture")[0]?.startTime), 20),
        );
    }
    t.diagnostic(`first picture after ${times.map((at) => at.toFixed(0)).join(", ")} ms`);
    assert.ok(Math.min(...times) < 1000, `${times} ms`);
});

test("a level change costs the main thread less than 16 ms", async (t) => {
    await settled(page);
    const session = await page.context().newCDPSession(page);
    await session.send("Performance.enable");
    const spent = async () => {
        const { metrics } = await session.send("Performance.getMetrics");
        const of = (name) => metrics.find((m) => m.name === name).value;
        return 1000 * (of("ScriptDuration") + of("LayoutDuration") + of("RecalcStyleDuration"));
    };
    const slider = page.getByRole("slider", { name: "Level of over, stops under full" });
    await slider.evaluate((input) => {
        input.value = "-0.5";
        input.dispatchEvent(new Event("input", { bubbles: true }));
    });
    const changes = 20;
    const times = [];
    for (let round = 0; round < 4 && !(Math.min(...times) < 16); ++round) {
        const before_it = await spent();
        // As a hand draws the slider: one change a frame, each followed by what it makes the page do.
        await slider.evaluate(async (input, count) => {
            for (let i = 0; i < count; ++i) {
                input.value = String(-1 - (3 * i) / count);
                input.dispatchEvent(new Event("input", { bubbles: true }));
                await new Promise(requestAnimationFrame);
            }
        }, changes);
        times.push(((await spent()) - before_it) / changes);
    }
    t.diagnostic(`${times.map((ms) => ms.toFixed(2)).join(", ")} ms a change`);
    assert.ok(Math.min(...times) < 16, `${times} ms`);
    await until(async () => (await desk.read()).includes('level = "-3.85 stops"'), 10, "the last one in the file");
});

test("a moved thing is traced again at once, coarse first", async (t) => {
    await settled(page);
    const times = await page.evaluate(
        () =>
            new Promise((done) => {
                const sign = document.querySelector('[data-name="white"]');
                const table = document.querySelector(".sheet table");
                let started = 0;
                const watch = new MutationObserver(() => {
                    if (table.getAttribute("aria-busy") !== "false" || !watch.was_busy) {
                        watch.was_busy ||= table.getAttribute("aria-busy") === "true";
                        return;
                    }
                    watch.disconnect();
                    done(performance.now() - started);
                });
                watch.observe(table, { attributes: true });
                sign.focus();
                started = performance.now();
                sign.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowLeft", bubbles: true }));
            }),
    );
    t.diagnostic(`new figures after ${times.toFixed(0)} ms`);
    // 0.3 s is what is aimed at on a machine of one's own; this one is shared, so only what would be felt as waiting fails.
    assert.ok(times < 3000, `${times} ms`);
});
