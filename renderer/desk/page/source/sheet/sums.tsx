// What all sources make together, under the line: lux, the T-stop a meter shows, stops over what the exposure asks
// for, how sure; then the cheeks of each mark, and what another option would change.
import type { ComponentChildren } from "preact";
import { between, short_name, within_noise } from "../light/figures.ts";
import { asked, columns, key_of, moving, other_sums, sheet, type Column, type Columns } from "../light/model.ts";
import { error_in_stops, lux_text, ratio_text, signed, t_stop_text } from "../light/numbers.ts";
import { compared, plan } from "../program/document.ts";
import { narrow } from "../parts/screen.ts";
import { Swatch } from "../picture/legend.tsx";

function Line(props: { name: string; title?: string; small?: string; strong?: boolean; children: ComponentChildren }) {
    return (
        <tr class={props.strong ? "sum" : ""}>
            <th scope="row" title={props.title}>
                {props.name}
                {props.small && <small> {props.small}</small>}
            </th>
            {props.children}
            {!narrow.value && <td class="end" />}
        </tr>
    );
}

function error_text(error: number): string {
    if (!Number.isFinite(error)) return "not known";
    const stops = error_in_stops(error);
    if (stops < 0.005) return "< 0.01";
    return `± ${stops < 0.095 ? stops.toFixed(2) : stops.toFixed(1)}`;
}

/** What the camera makes of a spot that it does not hold. */
function held(over: number): string {
    const exposure = plan.value?.exposure;
    if (!exposure) return "";
    return over >= exposure.headroom ? "clips" : over <= -exposure.footroom ? "under the footroom" : "";
}

function Cheeks({ group: { mark, spots, readings: all } }: { group: Columns }) {
    const of = (side: string) => all.find(({ reading }) => short_name(reading) === side)?.figures;
    const near = of("near cheek");
    const far = of("far cheek");
    const apart = near && far ? between(near, far) : null;
    const separation = mark && !spots ? sheet.value?.separations?.find((s) => s.name.startsWith(`${mark} `)) : undefined;
    if (!apart && !separation) return <td colSpan={all.length} class="first" />;
    return (
        <td colSpan={all.length} class="ratio first">
            {apart && (
                <span>
                    {ratio_text(apart.stops)} <em>{Math.abs(apart.stops).toFixed(1)} stops</em>{" "}
                    <small>{error_text(apart.error * Math.LN2)}</small>
                </span>
            )}
            {separation && !moving.value && (
                <span title="Hair over what is behind it in the frame">
                    hair over background <em>{signed(separation.stops)}</em>
                </span>
            )}
        </td>
    );
}

function Against({ all }: { all: readonly Column[] }) {
    return (
        <Line name={`over “${compared.value}”`} title="This option over the other one, in stops">
            {all.map(({ reading, figures, first }) => {
                const theirs = other_sums.value.get(key_of(reading));
                const difference = theirs ? between(figures, theirs) : null;
                if (!difference)
                    return (
                        <td key={key_of(reading)} class={first ? "first" : ""}>
                            …
                        </td>
                    );
                const noise = within_noise(difference);
                return (
                    <td key={key_of(reading)} class={`difference${noise ? " noise" : ""}${first ? " first" : ""}`}>
                        {signed(difference.stops, !noise && Math.abs(difference.stops) < 0.095 ? 2 : 1)}
                        <small>{noise ? "within noise" : error_text(difference.error * Math.LN2)}</small>
                    </td>
                );
            })}
        </Line>
    );
}

export function Sums({ all }: { all: readonly Column[] }) {
    const first = asked.value;
    return (
        <tfoot>
            <Line name="Total" strong>
                {all.map(({ reading, figures: f, first: edge }) => (
                    <td key={key_of(reading)} class={edge ? "first" : ""}>
                        {reading.traced ? lux_text(f.lux) : "…"}{" "}
                        <small>{reading.kind === "spot" ? "cd/m²" : "lx"}</small>
                    </td>
                ))}
            </Line>
            {first && (
                <Line
                    name="meter shows"
                    title="What an incident meter shows at this ISO and shutter; flat receptor, C = 250"
                >
                    {all.map(({ reading, figures: f, first: edge }) => (
                        <td key={key_of(reading)} class={edge ? "first" : ""}>
                            {f.t_stop === null ? "–" : t_stop_text(f.t_stop)}
                        </td>
                    ))}
                </Line>
            )}
            {first && (
                <Line
                    name={`vs T${first.t_stop}`}
                    title={`Stops over the ${lux_text(first.metered_lux)} lx that the exposure asks for; of spots, over grey`}
                    strong
                >
                    {all.map(({ reading, figures: f, first: edge }) => (
                        <td key={key_of(reading)} class={edge ? "over first" : "over"}>
                            {f.over === null ? "–" : signed(f.over)}
                            {f.over !== null && <Swatch stops={f.over} />}
                            {reading.kind === "spot" && f.over !== null && <small class="held">{held(f.over)}</small>}
                        </td>
                    ))}
                </Line>
            )}
            <Line name="± stops" title="One standard error, in stops">
                {all.map(({ reading, figures: f, first: edge }) => (
                    <td key={key_of(reading)} class={edge ? "quiet first" : "quiet"}>
                        {reading.traced ? error_text(f.error) : "…"}
                    </td>
                ))}
            </Line>
            <Line name="key to fill" small="(K+F):F" title="All light on the brighter cheek against all on the other">
                {columns.value.map((group) => (
                    <Cheeks key={`${group.mark}${group.spots ? " spots" : ""}`} group={group} />
                ))}
            </Line>
            {compared.value !== null && <Against all={all} />}
        </tfoot>
    );
}
