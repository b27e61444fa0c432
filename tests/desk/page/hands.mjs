// What a person reads off the page and does with it.

/** Waits until the sheet belongs to what was asked and every reading is sure to a hundredth. */
export async function settled(page) {
    await page.waitForFunction(
        () => {
            const busy = document.querySelector(".sheet table")?.getAttribute("aria-busy");
            // Spots and outlines may go on being refined; "traced" says that nothing does.
            const said = document.querySelector(".traced")?.textContent ?? "";
            const sure = /± ([\d.]+) %/.exec(said);
            return (
                busy === "false" &&
                sure &&
                (said.startsWith("traced") || Number(sure[1]) <= 1) &&
                document.querySelector(".state")?.textContent === "saved"
            );
        },
        undefined,
        { timeout: 30000 },
    );
}

/** Waits until everything that was done is acknowledged to be in the file. */
export async function written(page) {
    await page.locator(".state", { hasText: /^saved$/ }).waitFor({ timeout: 5000 });
}

/** The figure in the row of a source (or of the sums) under a reading; nothing shown is nought. */
export async function cell(page, row, reading) {
    const text = await page.evaluate(
        ([row_name, reading_name]) => {
            const table = document.querySelector(".sheet table");
            const heads = [...table.tHead.rows[1].cells];
            const at = heads.findIndex(({ title }) => title === reading_name || title.startsWith(`${reading_name},`));
            const found = [...table.rows].find(
                (r) => r.querySelector("th[scope=row]")?.textContent.trim() === row_name,
            );
            return at < 0 || !found ? null : found.cells[at + 1].firstChild.textContent;
        },
        [row, reading],
    );
    if (text === null) throw new Error(`no cell ${row} / ${reading}`);
    return text.startsWith("·") ? 0 : Number(text.replace("−", "-").replace(/[\u202f\s]/g, ""));
}

export async function lux_view(page, lux) {
    await page.getByRole("button", { name: lux ? "lux" : "share, in stops", exact: true }).click();
}
