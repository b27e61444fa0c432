// A reading where somebody pointed: what a flat meter would show there, and whose light it is.
import { signal } from "@preact/signals";
import { error_in_stops, lux_text, percent_text, signed, t_stop_text } from "../light/numbers.ts";
import { chosen, report } from "../program/document.ts";
import type { PointReading } from "../program/messages.ts";
import { ask, query } from "../program/requests.ts";

interface Pointed {
    on: "frame" | "plan";
    answer: PointReading | null;
}
const pointed = signal<Pointed | null>(null);
let turn = 0;

export async function reading_at(
    at: { frame: [number, number] } | { plan: [number, number]; height: number },
): Promise<void> {
    const mine = ++turn;
    const on = "frame" in at ? "frame" : "plan";
    pointed.value = { on, answer: null };
    try {
        const [first, second] = "frame" in at ? at.frame : at.plan;
        const place = "frame" in at ? { u: first, v: second } : { x: first, y: second, height: at.height };
        const answer = await ask<PointReading>(`/api/reading?${query({ ...chosen.value, ...place })}`);
        if (mine === turn) pointed.value = { on, answer };
    } catch (trouble) {
        if (mine === turn) pointed.value = null;
        report(trouble);
    }
}

/** Shown where it was pointed: on the picture or on the plan. */
export function PointPopover({ on }: { on: "frame" | "plan" }) {
    if (pointed.value?.on !== on) return null;
    const { answer } = pointed.value;
    const lux = answer?.lux ?? 0;
    return (
        <aside class="point" aria-live="polite" aria-label="Reading where you pointed">
            <button type="button" class="close" aria-label="Close the reading" onClick={() => (pointed.value = null)}>
                ×
            </button>
            {!answer ? (
                <p>measuring…</p>
            ) : (
                <>
                    <p class="point-where">{answer.where ?? "there"}</p>
                    <p>
                        <b>{lux_text(lux)} lx</b>
                        {answer.error != null && <small> ± {percent_text(answer.error)}</small>}
                        {answer.t_stop != null && <> · {t_stop_text(answer.t_stop)}</>}
                    </p>
                    {answer.over_grey != null && (
                        <p>
                            spot <b>{signed(answer.over_grey)}</b> over grey
                            <small> ± {error_in_stops(answer.luminance_error ?? 0).toFixed(2)}</small>
                        </p>
                    )}
                    {answer.dome != null && (
                        <p>
                            dome to the lens <b>{lux_text(answer.dome)} lx</b>
                            <small> ± {percent_text(answer.dome_error ?? 0)}</small>
                        </p>
                    )}
                    <ul>
                        {[...(answer.sources ?? [])]
                            .sort((a, b) => b.lux - a.lux)
                            .filter((s) => s.lux > 0)
                            .map((s) => (
                                <li key={s.name}>
                                    <span>{s.name}</span> <span>{lux_text(s.lux)} lx</span>{" "}
                                    <span>{percent_text(s.lux / lux)}</span>
                                </li>
                            ))}
                    </ul>
                </>
            )}
        </aside>
    );
}
