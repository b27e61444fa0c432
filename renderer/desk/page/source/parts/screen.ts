// How wide the page is, and what the hand last asked of it.
import { signal } from "@preact/signals";

function media(words: string) {
    const list = matchMedia(words);
    const matches = signal(list.matches);
    list.addEventListener("change", () => (matches.value = list.matches));
    return matches;
}

/** A telephone, or a window no wider than one: levels stand under the name of their source. */
export const narrow = media("(max-width: 700px)");
