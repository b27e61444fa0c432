// Edits go to the program one after the other; while one is on its way, the newest of the same drag waits in place
// of the older ones. What she sees meanwhile is what she did, not what was acknowledged.
import { signal } from "@preact/signals";
import { all_on, chosen, compared, file, notice, plan, read_plan, read_state, report } from "./document.ts";
import type { Edit, Plan } from "./messages.ts";
import { Refused, tell } from "./requests.ts";

interface Waiting {
    setup: string;
    option: string;
    token: string;
    edits: Edit[];
    /** The plan that she saw when she did it: tells whether somebody else moved the same thing. */
    seen: Plan | null;
    done: (revision: number | null) => void;
}

/** An edit that met a change of the same thing by somebody else. */
export const overtaken = signal<{ message: string; again: () => void } | null>(null);
/** How many edits are not yet acknowledged. */
export const unsaved = signal(0);

/** In which part of the file the last change went: "file", "set-up NAME" or "option NAME". */
export const went_into = signal("");

const queue: (Waiting | "undo" | "redo")[] = [];
let busy = false;
/** The newest revision that this page has been told, by answer or by event. */
let known = 0;

export function new_token(): string {
    return Array.from(crypto.getRandomValues(new Uint32Array(2)), (n) => n.toString(36)).join("");
}

/** Resolves to the revision that has the edit in it, or to null where it was refused or replaced by a newer one. */
export function edit(edits: Edit[], token: string): Promise<number | null> {
    return new Promise((done) => {
        const { setup, option } = chosen.value;
        const one: Waiting = { setup, option, token, edits, seen: plan.value, done };
        const last = queue[queue.length - 1];
        if (last && typeof last === "object" && last.token === token && (queue.length > 1 || !busy)) {
            last.done(null);
            queue.pop();
        }
        push(one);
    });
}

export function step(way: "undo" | "redo"): void {
    push(way);
}

function push(one: Waiting | "undo" | "redo"): void {
    queue.push(one);
    unsaved.value = queue.length;
    void drain();
}

async function drain(): Promise<void> {
    if (busy) return;
    busy = true;
    while (queue.length > 0) {
        const one = queue[0]!;
        const revision = typeof one === "string" ? await move(one, 0) : await send(one, 0);
        queue.shift();
        unsaved.value = queue.length;
        if (typeof one !== "string") one.done(revision);
    }
    busy = false;
}

async function send(one: Waiting, tries: number): Promise<number | null> {
    const base = Math.max(known, file.value?.revision ?? 0);
    try {
        const answer = await tell<{ revision: number; wrote?: string }>("/api/edit", {
            base,
            setup: one.setup,
            option: one.option,
            coalesce: one.token,
            edits: one.edits,
        });
        known = Math.max(known, answer.revision);
        notice.value = "";
        went_into.value = answer.wrote ?? "";
        for (const done of one.edits) mine.set(key_of(done), answer.revision);
        return answer.revision;
    } catch (trouble) {
        if (!(trouble instanceof Refused) || trouble.status !== 409 || tries > 3) {
            report(trouble);
            return null;
        }
        return again(one, trouble, tries);
    }
}

/** The document moved on. If what she touched is still as she saw it, nothing is in the way of her edit. */
async function again(one: Waiting, trouble: Refused, tries: number): Promise<number | null> {
    const revision = Number(trouble.answer["revision"] ?? 0);
    known = Math.max(known, revision);
    try {
        await read_state();
        await read_plan();
    } catch (other) {
        report(other);
        return null;
    }
    // Then the program has kept both versions, and says so itself.
    if (trouble.answer["kept"]) return null;
    if (!one.seen || !plan.value || same_for(one.edits, one.seen, plan.value)) return send(one, tries + 1);
    overtaken.value = {
        message: trouble.message,
        again: () => {
            overtaken.value = null;
            void edit(one.edits, new_token());
        },
    };
    return null;
}

/** What this page itself has written, by kind, name and key: the revision that has it. */
const mine = new Map<string, number>();
const key_of = (one: Edit) => `${one.kind}/${one.name}/${"key" in one ? one.key : ""}`;

/** Whether all that the edits touch stands alike in both plans, but for what this page wrote there itself. */
export function same_for(edits: readonly Edit[], before: Plan, now: Plan): boolean {
    return edits.every((one) => {
        if ((mine.get(key_of(one)) ?? 0) > before.revision) return true;
        if (one.kind === "day") return JSON.stringify(before.day) === JSON.stringify(now.day);
        const [was, is] = [before, now].map((p) => all_on(p).find((t) => t.kind === one.kind && t.name === one.name));
        if (!was || !is) return !was && !is;
        return "key" in one ? was.fields?.[one.key] === is.fields?.[one.key] : true;
    });
}

async function move(way: "undo" | "redo", tries: number): Promise<null> {
    try {
        const base = Math.max(known, file.value?.revision ?? 0);
        const answer = await tell<{ revision: number }>(`/api/${way}`, { base });
        known = Math.max(known, answer.revision);
        went_into.value = "";
        notice.value = "";
    } catch (trouble) {
        if (!(trouble instanceof Refused) || trouble.status !== 409) report(trouble);
        else {
            // Somebody else changed the file meanwhile: the step is theirs to take back first, and is shown.
            known = Math.max(known, Number(trouble.answer["revision"] ?? 0));
            await read_state().catch(report);
            if (tries < 1) return move(way, tries + 1);
        }
    }
    return null;
}

export function choose(setup: string, option: string): void {
    compared.value = null;
    chosen.value = { setup, option };
}
