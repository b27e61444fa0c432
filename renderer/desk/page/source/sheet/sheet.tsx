// The heart of the page: what every source gives to every reading. A source's figure says how many stops it lies
// below the whole of that reading, so nought is all of it and one is half.
import { signal } from "@preact/signals";
import { short_name } from "../light/figures.ts";
import {
    columns,
    key_of,
    moving,
    rows,
    sheet,
    spots_shown,
    spotted,
    type Column,
    type Columns,
    type Row,
} from "../light/model.ts";
import { below, lux_text } from "../light/numbers.ts";
import { file, picked, read_only } from "../program/document.ts";
import { narrow } from "../parts/screen.ts";
import { Gel, Level, Switch } from "./level.tsx";
import { Sideways } from "./sideways.tsx";
import { Traced } from "./traced.tsx";
import { Sums } from "./sums.tsx";

export const figures_in = signal<"stops" | "lux">("stops");

/** A part smaller than this says nothing to anybody. */
const faint_stops = -9.95;

function Share({ of, total, strongest, first }: { of: number; total: number; strongest: boolean; first: boolean }) {
    const share = total > 0 ? of / total : 0;
    const stops = Math.log2(share);
    const text = !(share > 0)
        ? "·"
        : figures_in.value === "lux"
          ? lux_text(of)
          : stops < faint_stops
            ? "·"
            : below(stops);
    return (
        <td class={`share${strongest ? " strongest" : ""}${first ? " first" : ""}`}>
            {text === "·" ? <span aria-label="nothing">·</span> : text}
            <i class="bar" style={{ inlineSize: `${(100 * share).toFixed(1)}%` }} aria-hidden="true" />
        </td>
    );
}

function SourceName({ row }: { row: Row }) {
    const { name, kind } = row.source;
    if (!row.dimmable) return <span class="source-name">{name}</span>;
    return (
        <button
            type="button"
            class="source-name"
            aria-pressed={picked.value === name}
            title={`Show ${kind} ${name} on the plan`}
            onClick={() => (picked.value = picked.value === name ? null : name)}
        >
            {name}
        </button>
    );
}

function Controls({ row }: { row: Row }) {
    const off = read_only.value;
    if (!row.dimmable) return <span class="quiet">{row.source.kind === "lamp" ? "" : "from date, time and sky"}</span>;
    return (
        <div class="controls">
            <Switch row={row} disabled={off} />
            <Level row={row} disabled={off} />
            <Gel row={row} gels={file.value?.words?.gels ?? []} disabled={off} />
        </div>
    );
}

function SourceRow({ row, index, all }: { row: Row; index: number; all: Column[] }) {
    const out = row.dimmable && !(row.force.on && row.force.level > 0);
    const shares = all.map(({ reading, figures, first }) => {
        const of = figures.by_source[index] ?? 0;
        const strongest = of > 0 && of === Math.max(...figures.by_source);
        return <Share key={key_of(reading)} of={of} total={figures.lux} strongest={strongest} first={first} />;
    });
    const name = (
        <th scope="row">
            <SourceName row={row} />
        </th>
    );
    if (narrow.value)
        return (
            <>
                <tr class={out ? "hand out" : "hand"}>
                    {name}
                    <td colSpan={all.length}>
                        <Controls row={row} />
                    </td>
                </tr>
                <tr class={out ? "out" : ""}>
                    <td class="quiet lead">share</td>
                    {shares}
                </tr>
            </>
        );
    return (
        <tr class={out ? "out" : ""}>
            {name}
            {shares}
            <td class="end">
                <Controls row={row} />
            </td>
        </tr>
    );
}

/** Folds the spots of a mark out and in. */
function SpotsOf({ mark }: { mark: string }) {
    const shown = spots_shown.value.has(mark);
    const turn = () => {
        const marks = new Set(spots_shown.value);
        if (!marks.delete(mark)) marks.add(mark);
        spots_shown.value = marks;
    };
    return (
        <button
            type="button"
            class="fold"
            aria-expanded={shown}
            aria-label={`Spots from the lens on ${mark}`}
            title="What a spot meter beside the lens shows: skin, clothes, hair, and what is behind them"
            onClick={turn}
        >
            spots
        </button>
    );
}

function GroupName({ group }: { group: Columns }) {
    return (
        <th colSpan={group.readings.length} scope="colgroup" class={`mark first${group.spots ? " spots" : ""}`}>
            <span class="mark-name">
                {group.spots ? `${group.mark}, spots from the lens` : group.mark || "meters"}
                {!group.spots && spotted.value.has(group.mark) && <SpotsOf mark={group.mark} />}
            </span>
        </th>
    );
}

/** A name of many words gets the width for some of them. */
const long_name = 18;

function Heading({ all }: { all: Column[] }) {
    // Key and fill are told by the light itself: the brighter cheek and the other, as meters on them have it.
    const lux = (mark: string, side: string) =>
        all.find(({ reading: r }) => r.mark === mark && r.kind !== "spot" && short_name(r) === side)?.figures.lux ?? 0;
    const role = ({ reading }: Column) => {
        const name = short_name(reading);
        if (!reading.mark || !name.endsWith("cheek")) return "";
        const near = lux(reading.mark, "near cheek");
        const far = lux(reading.mark, "far cheek");
        if (!(near > 0 && far > 0)) return "";
        return (name === "near cheek") === near >= far ? "key" : "fill";
    };
    return (
        <thead>
            <tr>
                <th rowSpan={2} scope="col" class="corner">
                    source
                </th>
                {columns.value.map((group) => (
                    <GroupName key={`${group.mark}${group.spots ? " spots" : ""}`} group={group} />
                ))}
                {!narrow.value && (
                    <th rowSpan={2} scope="col" class="end">
                        level and gel
                    </th>
                )}
            </tr>
            <tr>
                {all.map((column) => {
                    const { reading, first } = column;
                    const name = short_name(reading);
                    return (
                        <th
                            key={key_of(reading)}
                            scope="col"
                            class={`${first ? "first" : ""}${name.length > long_name ? " long" : ""}`}
                            title={`${reading.name}, ${reading.kind === "spot" ? "spot from the lens" : `${reading.kind} receptor`}`}
                        >
                            {name}
                            <small>{role(column) || "\u00a0"}</small>
                        </th>
                    );
                })}
            </tr>
        </thead>
    );
}

export function Sheet() {
    const now = sheet.value;
    const all = columns.value.flatMap((group) => group.readings);
    return (
        <section class="sheet" aria-labelledby="sheet-name">
            <header class="bar-of-section">
                <h2 id="sheet-name">Sheet</h2>
                <Traced />
                <div class="choice" role="group" aria-label="Figures of the sheet">
                    {(["stops", "lux"] as const).map((unit) => (
                        <button
                            key={unit}
                            type="button"
                            aria-pressed={figures_in.value === unit}
                            onClick={() => (figures_in.value = unit)}
                        >
                            {unit === "stops" ? "share, in stops" : "lux"}
                        </button>
                    ))}
                </div>
            </header>
            {all.length > 0 ? (
                <Sideways key={narrow.value} label="Sheet: sources against readings">
                    <table class={moving.value ? "moving" : ""} aria-busy={moving.value}>
                        <Heading all={all} />
                        <tbody>
                            {rows.value.map((row, index) => (
                                <SourceRow key={row.source.name} row={row} index={index} all={all} />
                            ))}
                        </tbody>
                        <Sums all={all} />
                    </table>
                </Sideways>
            ) : (
                <p class="empty">
                    {now && now.readings.length === 0
                        ? "Nobody stands here and no meter is placed: put a mark on the plan."
                        : "Tracing the first light…"}
                </p>
            )}
            {now?.remarks?.map((remark) => (
                <p key={remark} class="remark">
                    {remark}
                </p>
            ))}
        </section>
    );
}
