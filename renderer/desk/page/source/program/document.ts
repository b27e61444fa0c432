// The document as the page knows it: what stands in the file, which set-up and option is looked at, and what went
// wrong. Everything here is what the program last said.
import { batch, computed, effect, signal } from "@preact/signals";
import type { Colour, DocumentState, Plan, Thing } from "./messages.ts";
import { Refused, Unreachable, ask, query } from "./requests.ts";

/** What the file is without its set-ups and options. */
export const as_found = "as found";

export const file = signal<DocumentState | null>(null);
export const plan = signal<Plan | null>(null);
export const colour = signal<Colour | null>(null);
export const chosen = signal(from_address());

/** What is looked at stands in the page's address, so that a reload or a second tab shows the same. */
function from_address(): { setup: string; option: string } {
    const [setup = "", option = as_found] = location.hash.slice(1).split("/").map(decoded);
    return { setup, option };
}

function decoded(word: string): string {
    try {
        return decodeURIComponent(word);
    } catch {
        return "";
    }
}

effect(() => {
    const { setup, option } = chosen.value;
    if (setup) history.replaceState(null, "", `#${encodeURIComponent(setup)}/${encodeURIComponent(option)}`);
});
export const compared = signal<string | null>(null);

/** Name of the thing that is picked up on the plan or opened in the inspector. */
export const picked = signal<string | null>(null);

/** One line about what was refused just now. */
export const notice = signal("");
/** False while the program does not answer. */
export const connected = signal(true);
/** True when this page is not signed in (or no longer). */
export const locked = signal(false);

export const read_only = computed(() => file.value?.read_only ?? true);
export const needs_place = computed(() => file.value !== null && !file.value.file);
export const options_here = computed(
    () => file.value?.setups.find((entry) => entry.name === chosen.value.setup)?.options ?? [as_found],
);

export function all_on(of: Plan): readonly Thing[] {
    return [...of.things, ...of.furniture];
}

export function things_named(name: string | null): Thing | undefined {
    return plan.value ? all_on(plan.value).find((thing) => thing.name === name) : undefined;
}

/** Says in one line what went wrong; nothing is thrown on. */
export function report(trouble: unknown): void {
    if (trouble instanceof Unreachable) connected.value = false;
    else if (trouble instanceof Refused && trouble.status === 401) locked.value = true;
    else notice.value = trouble instanceof Error ? trouble.message : String(trouble);
}

/** One line from the program about something that it could not do; an unsound file is told with the state. */
export function troubled({ line }: { line: string }): void {
    if (file.value?.trouble?.line !== line) notice.value = line;
}

export function adopt(state: DocumentState): void {
    batch(() => {
        connected.value = true;
        const before = file.value;
        file.value = { ...before, ...state, conflict: state.conflict ?? null, trouble: state.trouble ?? null };
        // What this page may do hangs on the door that it came in by, not on the document.
        if (before?.file) file.value.read_only = before.read_only;
        const setups = file.value.setups ?? [];
        const here = setups.find((entry) => entry.name === chosen.value.setup) ?? setups[0];
        if (here) {
            const option = here.options.includes(chosen.value.option) ? chosen.value.option : as_found;
            if (here.name !== chosen.value.setup || option !== chosen.value.option)
                chosen.value = { setup: here.name, option };
            if (compared.value !== null && !here.options.includes(compared.value)) compared.value = null;
        }
    });
}

export async function read_state(): Promise<void> {
    adopt(await ask<DocumentState>("/api/state"));
}

let latest = 0;

/** Plan and colours of what is looked at. An answer that comes after a newer question is dropped. */
export async function read_plan(): Promise<void> {
    const turn = ++latest;
    const words = query(chosen.value);
    const [new_plan, new_colour] = await Promise.all([
        ask<Plan>(`/api/plan?${words}`),
        ask<Colour>(`/api/colour?${words}`),
    ]);
    if (turn !== latest) return;
    batch(() => {
        // What was there and is gone is put down; what was just put in may not be there yet.
        const there = (of: Plan | null) => of !== null && all_on(of).some((thing) => thing.name === picked.value);
        if (there(plan.value) && !there(new_plan)) picked.value = null;
        plan.value = new_plan;
        colour.value = new_colour;
    });
}
