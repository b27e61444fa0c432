// Set-ups and options as two rows of tabs; arrows go along a row.
import { useState } from "preact/hooks";
import { as_found, chosen, compared, file, options_here, read_only, read_state } from "../program/document.ts";
import { choose, edit, new_token } from "../program/edits.ts";
import type { Edit } from "../program/messages.ts";
import { setup_like_this } from "../plan/moves.ts";

interface Props {
    name: string;
    entries: readonly string[];
    at: string;
    pick: (entry: string) => void;
}

function Tabs({ name, entries, at, pick }: Props) {
    const key = (event: KeyboardEvent) => {
        const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
        if (!by) return;
        event.preventDefault();
        const next = entries[(entries.indexOf(at) + by + entries.length) % entries.length]!;
        pick(next);
        const list = (event.currentTarget as HTMLElement).querySelectorAll<HTMLElement>("[role=tab]");
        list[entries.indexOf(next)]?.focus();
    };
    return (
        <div class={`tabs ${name}`} role="tablist" aria-label={name} onKeyDown={key}>
            {entries.map((entry) => (
                <button
                    key={entry}
                    type="button"
                    role="tab"
                    aria-selected={entry === at}
                    aria-controls="desk"
                    tabIndex={entry === at ? 0 : -1}
                    onClick={() => pick(entry)}
                >
                    {entry}
                </button>
            ))}
        </div>
    );
}

/** A button that asks for a name, makes something of that name and opens it. */
function NewTab({ word, make, open }: { word: string; make: (name: string) => Edit[]; open: (name: string) => void }) {
    const [name, set_name] = useState<string | null>(null);
    if (read_only.value) return null;
    if (name === null)
        return (
            <button type="button" class="plain" onClick={() => set_name("")}>
                new {word}
            </button>
        );
    const done = async () => {
        const wished = name.trim();
        set_name(null);
        if (!wished || (await edit(make(wished), new_token())) === null) return;
        await read_state();
        open(wished);
    };
    return (
        <input
            type="text"
            class="new-tab"
            size={16}
            value={name}
            aria-label={`Name of the new ${word}`}
            placeholder="its name"
            ref={(field) => field?.focus()}
            onInput={(event) => set_name(event.currentTarget.value)}
            onBlur={() => set_name(null)}
            onKeyDown={(event) => {
                if (event.key === "Enter") void done();
                if (event.key === "Escape") set_name(null);
            }}
        />
    );
}

const open_setup = (setup: string) => choose(setup, as_found);

export function SetupTabs() {
    const names = file.value?.setups.map((s) => s.name) ?? [];
    return (
        <div class="setups-row">
            {names.length > 1 && <Tabs name="set-ups" entries={names} at={chosen.value.setup} pick={open_setup} />}
            <NewTab word="set-up" make={(name) => setup_like_this(name)} open={open_setup} />
        </div>
    );
}

/** A variation of this set-up: what is moved while it is open is written into it and leaves the rest as found. */
function NewOption() {
    const { setup } = chosen.value;
    return (
        <NewTab
            word="option"
            make={(name) => [{ do: "add", kind: "option", name, values: { setups: [setup] } }]}
            open={(name) => choose(setup, name)}
        />
    );
}

export function OptionTabs() {
    const options = options_here.value;
    const others = options.filter((option) => option !== chosen.value.option);
    return (
        <div class="options-row">
            <div class="options-left">
                <Tabs
                    name="options"
                    entries={options}
                    at={chosen.value.option}
                    pick={(option) => choose(chosen.value.setup, option)}
                />
                <NewOption />
            </div>
            {others.length > 0 && (
                <label class="compare">
                    <span>Compare with</span>{" "}
                    <select
                        value={compared.value ?? ""}
                        aria-label="Compare with another option"
                        onChange={(event) => (compared.value = event.currentTarget.value || null)}
                    >
                        <option value="">none</option>
                        {others.map((option) => (
                            <option key={option}>{option}</option>
                        ))}
                    </select>
                </label>
            )}
        </div>
    );
}
