// A first start without a file: a rough room, its windows, two marks, a lamp. A dozen numbers; all can be mended later.
import { useState } from "preact/hooks";
import { notice, read_state, report } from "../program/document.ts";
import { metres_from } from "../light/lengths.ts";
import { tell } from "../program/requests.ts";

interface Window {
    wall: string;
    from: string;
    to: string;
    sill: string;
    head: string;
}

const first_window: Window = { wall: "near", from: "1.5", to: "2.7", sill: "0.9", head: "2.1" };

const bearings: readonly (readonly [string, number])[] = [
    ["north", 0],
    ["north-east", 45],
    ["east", 90],
    ["south-east", 135],
    ["south", 180],
    ["south-west", 225],
    ["west", 270],
    ["north-west", 315],
];

/** Metres to the millimetre, or the one line that says what was wrong. */
function length(text: string): number {
    const metres = metres_from(text);
    if (metres === null) throw new Error(`“${text}” isn't a length; expected metres such as 4.2, or 90 cm, or 13ft 9in`);
    return Math.round(metres * 1000) / 1000;
}

function Number_({
    label,
    value,
    set,
    unit = "m",
}: {
    label: string;
    value: string;
    set: (text: string) => void;
    unit?: string;
}) {
    return (
        <label class="field">
            <span>{label}</span>
            <input type="text" size={5} value={value} required onInput={(event) => set(event.currentTarget.value)} />
            <span class="quiet">{unit}</span>
        </label>
    );
}

export function NewPlace() {
    const [name, set_name] = useState("my place");
    const [room, set_room] = useState({ width: "5", depth: "4", height: "2.6" });
    const [faces, set_faces] = useState(180);
    const [dark, set_dark] = useState(false);
    const [windows, set_windows] = useState<Window[]>([first_window]);
    const [marks, set_marks] = useState([
        { name: "A", x: "1.8", y: "2" },
        { name: "B", x: "3.2", y: "2" },
    ]);
    const [lamp, set_lamp] = useState({ use: true, x: "4.2", y: "3.2", z: "2", lux: "2000" });
    const [busy, set_busy] = useState(false);

    const change = <T,>(list: T[], at: number, by: Partial<T>) =>
        list.map((one, i) => (i === at ? { ...one, ...by } : one));
    const start = async (event: Event) => {
        event.preventDefault();
        set_busy(true);
        const place = (m: { x: string; y: string }) => [length(m.x), length(m.y)];
        try {
            await tell("/api/new", {
                name,
                room: { width: length(room.width), depth: length(room.depth), height: length(room.height) },
                near_wall_faces: faces,
                day: dark ? { dark } : { sky: "clear" },
                windows: windows.map((w) => ({
                    wall: w.wall,
                    from: length(w.from),
                    to: length(w.to),
                    sill: length(w.sill),
                    head: length(w.head),
                })),
                marks: marks.map((m, i) => ({
                    name: m.name,
                    at: place(m),
                    facing: marks.length > 1 ? marks[1 - i]?.name : 270,
                })),
                lamp: lamp.use
                    ? {
                          shape: "box",
                          size: 0.6,
                          at: [...place(lamp), length(lamp.z)],
                          aim: marks[0]?.name,
                          output: `${lamp.lux} lx at 1 m`,
                      }
                    : null,
            });
            notice.value = "";
            await read_state();
        } catch (trouble) {
            report(trouble);
        } finally {
            set_busy(false);
        }
    };

    return (
        <main class="new-place">
            <form onSubmit={(event) => void start(event)}>
                <h1>A new place</h1>
                <p>
                    Stand with your back to one wall, best the one with the windows: that is the near wall. Its left
                    corner is where everything is measured from, x to your right, y into the room. Paces will do; a tape
                    is better.
                </p>
                <fieldset>
                    <legend>The room</legend>
                    <label class="field">
                        <span>name</span>
                        <input
                            type="text"
                            size={18}
                            value={name}
                            required
                            onInput={(event) => set_name(event.currentTarget.value)}
                        />
                    </label>
                    <Number_ label="width" value={room.width} set={(width) => set_room({ ...room, width })} />
                    <Number_ label="depth" value={room.depth} set={(depth) => set_room({ ...room, depth })} />
                    <Number_ label="height" value={room.height} set={(height) => set_room({ ...room, height })} />
                    <label class="field">
                        <span>looking out through the near wall, you look</span>
                        <select value={faces} onChange={(event) => set_faces(Number(event.currentTarget.value))}>
                            {bearings.map(([word, degrees]) => (
                                <option key={word} value={degrees}>
                                    {word}
                                </option>
                            ))}
                        </select>
                    </label>
                    <label class="field">
                        <span>light outside</span>
                        <select
                            value={dark ? "night" : "day"}
                            onChange={(event) => set_dark(event.currentTarget.value === "night")}
                        >
                            <option value="day">midsummer noon, clear</option>
                            <option value="night">night, or all shut</option>
                        </select>
                    </label>
                </fieldset>
                <fieldset>
                    <legend>Windows</legend>
                    {windows.map((w, i) => (
                        <div class="line" key={i}>
                            <label class="field">
                                <span>{i + 1}, in the</span>
                                <select
                                    value={w.wall}
                                    onChange={(event) =>
                                        set_windows(change(windows, i, { wall: event.currentTarget.value }))
                                    }
                                >
                                    {["near", "far", "left", "right"].map((wall) => (
                                        <option key={wall} value={wall}>
                                            {wall} wall
                                        </option>
                                    ))}
                                </select>
                            </label>
                            <Number_
                                label="from"
                                value={w.from}
                                set={(from) => set_windows(change(windows, i, { from }))}
                            />
                            <Number_ label="to" value={w.to} set={(to) => set_windows(change(windows, i, { to }))} />
                            <Number_
                                label="sill"
                                value={w.sill}
                                set={(sill) => set_windows(change(windows, i, { sill }))}
                            />
                            <Number_
                                label="head"
                                value={w.head}
                                set={(head) => set_windows(change(windows, i, { head }))}
                            />
                            <button
                                type="button"
                                class="plain"
                                onClick={() => set_windows(windows.filter((_, j) => j !== i))}
                            >
                                Remove
                            </button>
                        </div>
                    ))}
                    <button type="button" onClick={() => set_windows([...windows, { ...first_window, wall: "left" }])}>
                        Add window
                    </button>
                </fieldset>
                <fieldset>
                    <legend>Who stands where</legend>
                    {marks.map((mark, i) => (
                        <div class="line" key={i}>
                            <label class="field">
                                <span>mark</span>
                                <input
                                    type="text"
                                    size={6}
                                    value={mark.name}
                                    required
                                    onInput={(event) =>
                                        set_marks(change(marks, i, { name: event.currentTarget.value }))
                                    }
                                />
                            </label>
                            <Number_ label="x" value={mark.x} set={(x) => set_marks(change(marks, i, { x }))} />
                            <Number_ label="y" value={mark.y} set={(y) => set_marks(change(marks, i, { y }))} />
                        </div>
                    ))}
                    <p class="quiet">They face each other.</p>
                </fieldset>
                <fieldset>
                    <legend>One lamp</legend>
                    <label class="check">
                        <input
                            type="checkbox"
                            checked={lamp.use}
                            onChange={(event) => set_lamp({ ...lamp, use: event.currentTarget.checked })}
                        />{" "}
                        a soft box, pointed at {marks[0]?.name}
                    </label>
                    {lamp.use && (
                        <div class="line">
                            <Number_ label="x" value={lamp.x} set={(x) => set_lamp({ ...lamp, x })} />
                            <Number_ label="y" value={lamp.y} set={(y) => set_lamp({ ...lamp, y })} />
                            <Number_ label="height" value={lamp.z} set={(z) => set_lamp({ ...lamp, z })} />
                            <Number_
                                label="gives"
                                value={lamp.lux}
                                set={(lux) => set_lamp({ ...lamp, lux })}
                                unit="lx at 1 m"
                            />
                        </div>
                    )}
                </fieldset>
                {notice.value && (
                    <p class="notice" role="alert">
                        {notice.value}
                    </p>
                )}
                <button type="submit" class="main-button" disabled={busy}>
                    {busy ? "saving…" : "Start"}
                </button>
            </form>
        </main>
    );
}
