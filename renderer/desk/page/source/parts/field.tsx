// A small field with its name before it: taken on Enter or when it is left, given up on Escape.
import { useState } from "preact/hooks";

interface Props {
    label: string;
    spoken?: string;
    value: string;
    width: number;
    disabled?: boolean;
    commit: (text: string) => void;
}

export function TextField({ label, spoken, value, width, disabled = false, commit }: Props) {
    const [typed, set_typed] = useState<string | null>(null);
    const take = () => {
        if (typed !== null && typed.trim() !== value) commit(typed.trim());
        set_typed(null);
    };
    return (
        <label class="field">
            <span>{label}</span>
            <input
                type="text"
                size={width}
                value={typed ?? value}
                disabled={disabled}
                aria-label={spoken}
                onInput={(event) => set_typed(event.currentTarget.value)}
                onFocus={(event) => event.currentTarget.select()}
                onBlur={take}
                onKeyDown={(event) => {
                    if (event.key === "Enter") take();
                    if (event.key === "Escape") set_typed(null);
                }}
            />
        </label>
    );
}
