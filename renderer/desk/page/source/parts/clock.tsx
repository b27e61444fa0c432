// The clock of the day: scrubbed along, written when the hand rests.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { clock, hours } from "../light/numbers.ts";
import { plan, read_only } from "../program/document.ts";
import { edit } from "../program/edits.ts";
import { gesture } from "../plan/moves.ts";

/** What the hand is on; null when the file's own time is shown. */
const scrubbed = signal<number | null>(null);
let timer: ReturnType<typeof setTimeout> | undefined;

function scrub(to: number): void {
    scrubbed.value = to;
    clearTimeout(timer);
    const token = gesture("clock");
    timer = setTimeout(async () => {
        const mine = scrubbed.peek();
        await edit([{ kind: "day", name: "", key: "time", value: clock(to) }], token);
        if (scrubbed.peek() === mine) scrubbed.value = null;
    }, 150);
}

export function Clock() {
    const day = plan.value?.day;
    useEffect(() => () => clearTimeout(timer), []);
    if (!day) return null;
    if (day.dark) return <p class="clock quiet">Night: no sun, no sky</p>;
    const now = scrubbed.value ?? hours(day.time);
    return (
        <label class="clock">
            <span class="clock-face">{clock(now)}</span>
            <input
                type="range"
                min={0}
                max={23.75}
                step={0.25}
                value={now}
                disabled={read_only.value}
                aria-label="Time of day"
                aria-valuetext={clock(now)}
                onInput={(event) => scrub(Number(event.currentTarget.value))}
            />
            <span class="quiet">
                {day.date} · {day.sky}
            </span>
        </label>
    );
}
