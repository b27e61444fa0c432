// Set-ups and options as two rows of tabs; arrows go along a row.
import { chosen, compared, file, options_here } from "../program/document.ts";
import { choose } from "../program/edits.ts";

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

export function SetupTabs() {
    const names = file.value?.setups.map((s) => s.name) ?? [];
    return <Tabs name="set-ups" entries={names} at={chosen.value.setup} pick={(setup) => choose(setup, "as found")} />;
}

export function OptionTabs() {
    const options = options_here.value;
    const others = options.filter((option) => option !== chosen.value.option);
    return (
        <div class="options-row">
            <Tabs name="options" entries={options} at={chosen.value.option} pick={(option) => choose(chosen.value.setup, option)} />
            {others.length > 0 && (
                <label class="compare">
                    <span>beside it</span>{" "}
                    <select
                        value={compared.value ?? ""}
                        aria-label="Compare with another option"
                        onChange={(event) => (compared.value = event.currentTarget.value || null)}
                    >
                        <option value="">nothing</option>
                        {others.map((option) => (
                            <option key={option}>{option}</option>
                        ))}
                    </select>
                </label>
            )}
        </div>
    );
}
