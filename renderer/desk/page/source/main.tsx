// The desk: sheet, picture and plan of one set-up, live.
import { effect, signal } from "@preact/signals";
import { render } from "preact";
import "./look/page.css";
import { floor, live, other, written } from "./light/model.ts";
import { Clock } from "./parts/clock.tsx";
import { NewPlace } from "./parts/new_place.tsx";
import { ConflictDialog, Notices } from "./parts/notices.tsx";
import { OptionTabs, SetupTabs } from "./parts/tabs.tsx";
import { showing, View, view } from "./picture/view.tsx";
import { Inspector } from "./plan/inspector.tsx";
import { light_on_plan, plane_height, PlanView } from "./plan/plan.tsx";
import {
    chosen,
    compared,
    file,
    needs_place,
    plan,
    read_only,
    read_plan,
    read_state,
    report,
} from "./program/document.ts";
import { step, went_into } from "./program/edits.ts";
import { Sheet } from "./sheet/sheet.tsx";

/** Pixels across that the program traces: enough to see by, few enough to come fast. */
const picture_width = 480;
const plan_width = 160;

function Head() {
    const now = file.value;
    return (
        <header class="head">
            <div class="names">
                <h1>{now?.title || now?.file || "rushlight"}</h1>
                <p class="quiet">
                    {now?.file} ·{" "}
                    <span class="state">
                        {now?.trouble ? "saved to a side file" : written.value ? "saved" : "saving…"}
                    </span>
                    {went_into.value &&
                        ` · last change: ${went_into.value === "file" ? "for all set-ups" : `in the ${went_into.value}`}`}
                </p>
            </div>
            <Clock />
            <div class="undo">
                <button
                    type="button"
                    disabled={read_only.value || !now?.can_undo}
                    title="Ctrl+Z"
                    onClick={() => step("undo")}
                >
                    undo
                </button>
                <button
                    type="button"
                    disabled={read_only.value || !now?.can_redo}
                    title="Ctrl+Shift+Z"
                    onClick={() => step("redo")}
                >
                    redo
                </button>
            </div>
        </header>
    );
}

function Page() {
    if (!file.value)
        return (
            <main class="waiting">
                <Notices />
                <p>Connecting…</p>
            </main>
        );
    if (needs_place.value) return <NewPlace />;
    return (
        <>
            <Notices />
            <Head />
            <nav aria-label="Set-ups and options">
                <SetupTabs />
                <OptionTabs />
            </nav>
            <main id="desk" class="desk">
                <div class="side">
                    <Sheet />
                    <PlanView />
                </div>
                <div class="side">
                    <View />
                    <Inspector />
                </div>
            </main>
            <Foot />
            <ConflictDialog />
        </>
    );
}

/** What to take care of, and what was assumed: said in full, folded away. */
function Foot() {
    const care = plan.value?.problems ?? [];
    const guessed = file.value?.remarks ?? [];
    const folded = (name: string, lines: readonly string[]) =>
        lines.length > 0 && (
            <details>
                <summary>
                    {name} ({lines.length})
                </summary>
                <ul>
                    {lines.map((line) => (
                        <li key={line}>{line}</li>
                    ))}
                </ul>
            </details>
        );
    return (
        <footer class="foot">
            {folded("Warnings", care)}
            {folded("Assumptions", guessed)}
            <p>{file.value?.caution}</p>
        </footer>
    );
}

function in_text(target: EventTarget | null): boolean {
    return target instanceof HTMLInputElement && target.type === "text";
}

addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || in_text(event.target)) return;
    const key = event.key.toLowerCase();
    const way = key === "z" ? (event.shiftKey ? "redo" : "undo") : key === "y" ? "redo" : null;
    if (!way || read_only.peek()) return;
    event.preventDefault();
    step(way);
});

const looked_at = signal(document.visibilityState === "visible");
document.addEventListener("visibilitychange", () => (looked_at.value = document.visibilityState === "visible"));

// What is looked at is what is traced.
effect(() => {
    if (!file.value?.file || !chosen.value.setup) return;
    // A browser has few connections to one program: tabs that nobody looks at give theirs up.
    if (!looked_at.value) {
        for (const stream of [live, other, floor]) stream.pause();
        return;
    }
    const picture = view.value === "sphere" ? "none" : showing.value === "map" ? "map" : "frame";
    live.ask({ ...chosen.value, view: picture, width: picture_width });
    if (compared.value === null) other.close();
    else other.ask({ ...chosen.value, option: compared.value, view: picture, width: picture_width });
    if (!light_on_plan.value) floor.close();
    else floor.ask({ ...chosen.value, view: "plan_map", width: plan_width, height: plane_height.value });
});

let read = "";
effect(() => {
    const now = file.value;
    if (!now?.file || !chosen.value.setup) return;
    const what = `${now.revision} ${chosen.value.setup} ${chosen.value.option}`;
    if (what === read) return;
    read = what;
    read_plan().catch((trouble: unknown) => {
        read = "";
        report(trouble);
    });
});

read_state().catch(report);
render(<Page />, document.getElementById("page")!);
