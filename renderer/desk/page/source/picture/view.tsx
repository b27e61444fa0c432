// What is seen beside the sheet: the frame, the same in stops, the light map, or the sphere of light at a reading.
import { computed, signal } from "@preact/signals";
import { asked, live, moving, other, other_weights, shares_for, sheet, weights } from "../light/model.ts";
import { lux_text, percent_text } from "../light/numbers.ts";
import { chosen, colour, compared, plan, read_only } from "../program/document.ts";
import { query } from "../program/requests.ts";
import { first_picture } from "../parts/marks_in_time.ts";
import { CameraLine } from "./camera_line.tsx";
import { LightCanvas } from "./canvas.tsx";
import { Legend } from "./legend.tsx";
import type { Light, Showing } from "./painter.ts";
import { PointPopover, reading_at } from "./point.tsx";

export type ViewName = "frame" | "stops" | "map" | "sphere";
export const view = signal<ViewName>("frame");
const sphere_at = signal("");

const names: Record<ViewName, string> = { frame: "Frame", stops: "Stops", map: "Light map", sphere: "Sphere of light" };

export const showing = computed<Showing>(() => (view.value === "sphere" ? "frame" : view.value));

function light_of(by: readonly (readonly number[])[], of: typeof sheet.value, exposure = asked.value): Light | null {
    if (!colour.value) return null;
    return {
        colour: colour.value,
        weights: by,
        shares: shares_for(of, by),
        grey: plan.value?.exposure.grey ?? colour.value.grey,
        asked: exposure?.metered_lux ?? 100,
    };
}

/** A picture of the view that was chosen before is not shown as another. */
const held_here = computed(() => fitting(live.picture.value));
const held_other = computed(() => fitting(other.picture.value));
function fitting<T extends { is: { view: string } }>(held: T | null): T | null {
    return held && held.is.view === (showing.value === "map" ? "map" : "frame") ? held : null;
}

const light_here = computed(() => light_of(weights.value, sheet.value));
const light_other = computed(() => light_of(other_weights.value, other.sheet.value));

/** A pixel's noise that nobody sees any more. */
const quiet = 0.01;

function Caption({ held }: { held: typeof held_here }) {
    const is = held.value?.is;
    if (!is) return <p class="caption">{chosen.value.option} · loading…</p>;
    const noise = is.noise === null ? "" : `, noise ± ${percent_text(is.noise)}`;
    return (
        <p class="caption">
            <b>{is.option}</b> · {moving.value ? "moving…" : (is.noise ?? 1) < quiet ? "traced" : "refining"}
            {noise}
            {is.view === "frame" && noise ? ", denoised preview" : ""}
        </p>
    );
}

function Sphere() {
    const readings = sheet.value?.readings.map((r) => r.name) ?? [];
    const at = readings.includes(sphere_at.value) ? sphere_at.value : (readings[0] ?? "");
    if (!at) return <p class="empty">No meter placed yet.</p>;
    const words = query({ ...chosen.value, mark: at, revision: sheet.value?.revision ?? 0 });
    return (
        <div class="sphere">
            <label>
                at{" "}
                <select value={at} onChange={(event) => (sphere_at.value = event.currentTarget.value)}>
                    {readings.map((name) => (
                        <option key={name}>{name}</option>
                    ))}
                </select>
            </label>
            <img src={`/api/sphere?${words}`} alt={`All light that reaches ${at}, by direction, in false colour`} />
        </div>
    );
}

export function View() {
    const no_camera = plan.value !== null && plan.value.exposure.camera === null;
    const delivery = view.value === "map" ? null : (colour.value?.delivery ?? null);
    const false_colour = view.value === "stops" || view.value === "map";
    const zero = view.value === "map" ? (asked.value?.metered_lux ?? 100) : (plan.value?.exposure.grey ?? 1);
    return (
        <section class="view" aria-labelledby="view-name">
            <header class="bar-of-section">
                <h2 id="view-name">{names[view.value]}</h2>
                <div class="choice" role="group" aria-label="What is shown">
                    {(Object.keys(names) as ViewName[]).map((name) => (
                        <button
                            key={name}
                            type="button"
                            aria-pressed={view.value === name}
                            onClick={() => (view.value = name)}
                        >
                            {names[name]}
                        </button>
                    ))}
                </div>
            </header>
            {view.value === "sphere" ? (
                <Sphere />
            ) : no_camera ? (
                <p class="empty">This set-up has no camera yet.</p>
            ) : (
                <div class={false_colour ? "pictures with-legend" : "pictures"}>
                    <div class={compared.value === null ? "frames" : "frames two"}>
                        <figure>
                            <LightCanvas
                                held={held_here}
                                light={light_here}
                                showing={showing}
                                delivery={delivery}
                                label={`${names[view.value]} of ${chosen.value.setup}, ${chosen.value.option}`}
                                point={(u, v) => reading_at({ frame: [u, v] })}
                                painted={first_picture}
                            />
                            <Caption held={held_here} />
                        </figure>
                        {compared.value !== null && (
                            <figure>
                                <LightCanvas
                                    held={held_other}
                                    light={light_other}
                                    showing={showing}
                                    delivery={delivery}
                                    label={`${names[view.value]} of ${chosen.value.setup}, ${compared.value}`}
                                />
                                <Caption held={held_other} />
                            </figure>
                        )}
                        <PointPopover on="frame" />
                    </div>
                    {false_colour && <Legend zero={zero} unit={view.value === "map" ? "lux" : "cd/m²"} />}
                </div>
            )}
            {false_colour && (
                <p class="quiet">
                    Zero is {lux_text(zero)}{" "}
                    {view.value === "map" ? "lx, what the exposure asks for" : "cd/m², an 18 % card"}.
                </p>
            )}
            <CameraLine disabled={read_only.value} />
        </section>
    );
}
