// The level of one lamp: switch, slider, number. Stops under full, as the crew says it; arrows go by thirds.
import { useRef, useState } from "preact/hooks";
import { level_from, lowest_stops, share_of, stops_of } from "../light/levels.ts";
import { turn, type Row } from "../light/model.ts";
import { below, percent_text } from "../light/numbers.ts";

const third = 1 / 3;

function spoken(share: number): string {
    const stops = stops_of(share);
    return stops > -0.005 ? "full" : `${below(stops, 2)} stops, ${percent_text(share)}`;
}

/** By thirds from where the slider stands, so that the keys meet the marks of a dimmer again. */
function stepped(stops: number, thirds: number): number {
    const at = thirds > 0 ? Math.floor(stops / third + 1e-6) : Math.ceil(stops / third - 1e-6);
    return Math.min(0, Math.max(lowest_stops, (at + thirds) * third));
}

const keys: Record<string, number> = {
    ArrowUp: 1,
    ArrowRight: 1,
    ArrowDown: -1,
    ArrowLeft: -1,
    PageUp: 3,
    PageDown: -3,
};

export function Switch({ row, disabled }: { row: Row; disabled: boolean }) {
    const { name } = row.source;
    return (
        <label class="switch">
            <input
                type="checkbox"
                role="switch"
                checked={row.force.on}
                disabled={disabled}
                aria-label={`${name} on`}
                onChange={(event) => turn(name, { on: event.currentTarget.checked })}
            />
        </label>
    );
}

export function Level({ row, disabled }: { row: Row; disabled: boolean }) {
    const { name } = row.source;
    const { level, on } = row.force;
    const stops = Math.max(lowest_stops, stops_of(level));
    const set = (to: number) => turn(name, { level: share_of(Math.min(0, to)) });
    return (
        <span class={on ? "level" : "level out"}>
            <input
                type="range"
                min={lowest_stops}
                max={0}
                step={0.01}
                value={stops}
                disabled={disabled}
                aria-label={`Level of ${name}, stops under full`}
                aria-valuetext={spoken(level)}
                onInput={(event) => set(Number(event.currentTarget.value))}
                onKeyDown={(event) => {
                    const thirds = keys[event.key];
                    if (thirds === undefined) return;
                    event.preventDefault();
                    set(stepped(stops, thirds));
                }}
            />
            <LevelNumber name={name} level={level} disabled={disabled} />
        </span>
    );
}

function LevelNumber({ name, level, disabled }: { name: string; level: number; disabled: boolean }) {
    const [typed, set_typed] = useState<string | null>(null);
    const [wrong, set_wrong] = useState(false);
    const field = useRef<HTMLInputElement>(null);
    const shown = stops_of(level) > -0.005 ? "full" : level > 0 ? below(stops_of(level), 1) : "0 %";
    const take = () => {
        if (typed === null) return;
        const share = level_from(typed);
        set_wrong(share === null);
        if (share === null) return;
        set_typed(null);
        if (Math.abs(share - level) > 1e-6) turn(name, { level: share });
    };
    return (
        <input
            ref={field}
            class="number"
            type="text"
            inputMode="text"
            value={typed ?? shown}
            disabled={disabled}
            aria-label={`Level of ${name}: stops or percent`}
            aria-invalid={wrong}
            title={wrong ? "Stops under full such as -1.3, a percentage such as 50%, or full" : spoken(level)}
            onInput={(event) => set_typed(event.currentTarget.value)}
            onFocus={(event) => event.currentTarget.select()}
            onBlur={() => {
                take();
                set_typed(null);
                set_wrong(false);
            }}
            onKeyDown={(event) => {
                if (event.key === "Enter") take();
                if (event.key === "Escape") {
                    set_typed(null);
                    set_wrong(false);
                }
                const way = event.key === "ArrowUp" ? 1 : event.key === "ArrowDown" ? -1 : 0;
                if (way === 0 || typed !== null) return;
                event.preventDefault();
                turn(name, { level: share_of(stepped(Math.max(lowest_stops, stops_of(level)), way)) });
            }}
        />
    );
}

export function Gel({ row, gels, disabled }: { row: Row; gels: readonly string[]; disabled: boolean }) {
    const { name } = row.source;
    const { gel } = row.force;
    const now = gel.join(" + ");
    return (
        <select
            class="gel"
            disabled={disabled}
            aria-label={`Gel on ${name}`}
            value={now}
            title={now || "no gel"}
            onChange={(event) => {
                const { value } = event.currentTarget;
                turn(name, { gel: value ? value.split(" + ") : [] });
            }}
        >
            <option value="">no gel</option>
            {now && !gels.includes(now) && <option value={now}>{now}</option>}
            {gels.map((one) => (
                <option key={one} value={one}>
                    {one}
                </option>
            ))}
        </select>
    );
}
