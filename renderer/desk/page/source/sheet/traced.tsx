// How far the tracing is, in one line.
import { columns, moving, sheet } from "../light/model.ts";
import { percent_text } from "../light/numbers.ts";

export function Traced() {
    const now = sheet.value;
    const errors = columns.value
        .flatMap((group) => (group.spots ? [] : group.readings.map((c) => c.figures.error)))
        .filter((e) => Number.isFinite(e));
    let text = "tracing…";
    if (now && moving.value) text = "moving… guessed by distance until it is traced";
    else if (now && errors.length > 0) {
        const worst = percent_text(Math.max(...errors));
        text = now.done ? `traced ${now.seconds.toFixed(1)} s, sure to ± ${worst}` : `refining, ± ${worst} so far`;
    }
    return <p class="traced">{text}</p>;
}
