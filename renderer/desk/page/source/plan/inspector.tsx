// What is known of the picked thing, in words, with the values that can be typed.
import { metres_from } from "../light/lengths.ts";
import { lux_text } from "../light/numbers.ts";
import { picked, plan, report, things_named } from "../program/document.ts";
import { edit, new_token } from "../program/edits.ts";
import type { Point, Thing } from "../program/messages.ts";
import { TextField } from "../parts/field.tsx";
import { word_for } from "./furniture.tsx";
import { as_moved, gesture, movable, move_to, remove_thing } from "./moves.ts";

const axes = [
    { word: "x", spoken: "metres along the near wall" },
    { word: "y", spoken: "metres into the room" },
    { word: "height", spoken: "metres above the floor" },
] as const;

function Place({ thing }: { thing: Thing }) {
    const can = movable(thing);
    return (
        <>
            {axes.map((axis, i) => (
                <TextField
                    key={axis.word}
                    label={axis.word}
                    spoken={`${thing.name}: ${axis.spoken}`}
                    value={thing.at[i]!.toFixed(2)}
                    width={5}
                    disabled={!can}
                    commit={(text) => {
                        const value = metres_from(text);
                        if (value === null)
                            return report(new Error(`“${text}” isn't a length; expected metres, or 6ft 2in`));
                        const at = [...thing.at] as [number, number, number];
                        at[i] = value;
                        move_to(thing, at as Point, new_token());
                    }}
                />
            ))}
            <input
                type="range"
                class="height"
                min={0}
                max={Math.max(3, (plan.value?.room?.height ?? 3) * 1.2)}
                step={0.01}
                value={thing.at[2]}
                disabled={!can}
                aria-label={`Height of ${thing.name}`}
                aria-valuetext={`${thing.at[2].toFixed(2)} metres`}
                onInput={(event) =>
                    move_to(
                        thing,
                        [thing.at[0], thing.at[1], Number(event.currentTarget.value)],
                        gesture(`${thing.name} height`),
                    )
                }
            />
        </>
    );
}

function facts(thing: Thing): string {
    const all: string[] = [];
    if (thing.shape) all.push(thing.shape);
    if (thing.kind === "furniture") all.push(word_for(thing));
    if (thing.size && thing.kind !== "mark") all.push(`${thing.size.map((m) => m!.toFixed(2)).join(" × ")} m`);
    if (thing.kelvin) all.push(`${lux_text(thing.kelvin)} K`);
    if (thing.watts) all.push(`${thing.watts} W`);
    if (thing.lens) all.push(`${thing.lens} mm`);
    if (thing.pose) all.push(thing.pose);
    if (thing.kind === "mark" && thing.height) all.push(`${thing.height.toFixed(2)} m tall`);
    if (thing.aim_name) all.push(`looks at ${thing.aim_name}`);
    return all.join(" · ");
}

function AimAt({ thing }: { thing: Thing }) {
    const key = {
        lamp: "aim",
        camera: "look_at",
        board: "facing",
        flag: "facing",
        cloth: "facing",
        net: "facing",
        mark: "facing",
        meter: "",
        furniture: "",
    }[thing.kind];
    const marks = plan.value?.things.filter((t) => t.kind === "mark" && t.name !== thing.name) ?? [];
    if (!key || marks.length === 0 || (thing.kind === "lamp" && thing.shape === "ball")) return null;
    return (
        <label class="field">
            <span>points at</span>
            <select
                value={thing.aim_name ?? ""}
                disabled={!movable(thing)}
                onChange={(event) => {
                    const name = event.currentTarget.value;
                    if (name) void edit([{ kind: thing.kind, name: thing.name, key, value: name }], new_token());
                }}
            >
                <option value="">a place</option>
                {marks.map((mark) => (
                    <option key={mark.name}>{mark.name}</option>
                ))}
            </select>
        </label>
    );
}

export function Inspector() {
    const found = things_named(picked.value);
    if (!found)
        return (
            <section class="inspector" aria-label="Picked thing">
                <p class="quiet">
                    Pick a thing on the plan to move, turn or raise it. Arrows 5 cm, with Shift 1 cm; Page Up and Down
                    for height.
                </p>
            </section>
        );
    const thing = as_moved(found);
    return (
        <section class="inspector" aria-label={`Picked: ${thing.kind} ${thing.name}`}>
            <h3>
                {thing.name} <small>{thing.kind}</small>
            </h3>
            <div class="fields">
                <Place thing={thing} />
                <AimAt thing={thing} />
                {movable(thing) && (
                    <button type="button" class="plain" onClick={() => remove_thing(thing)}>
                        Remove
                    </button>
                )}
                <button type="button" class="plain" onClick={() => (picked.value = null)}>
                    Done
                </button>
            </div>
            <p class="quiet">
                {facts(thing)}
                {thing.editable === false && thing.why ? ` · ${thing.why}` : ""}
            </p>
        </section>
    );
}
