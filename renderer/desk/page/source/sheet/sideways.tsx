// A box that scrolls sideways between columns that stand still: a shade says on which side there is more.
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";

/** Half a pixel is what a browser rounds. */
const end = 1;

function width_of(box: Element, name: string): number {
    const cell = box.querySelector(name);
    return cell && getComputedStyle(cell).position === "sticky" ? cell.getBoundingClientRect().width : 0;
}

export function Sideways({ label, children }: { label: string; children: ComponentChildren }) {
    const holder = useRef<HTMLDivElement>(null);
    const box = useRef<HTMLDivElement>(null);
    useLayoutEffect(() => {
        const [around, inside] = [holder.current!, box.current!];
        const look = () => {
            const left = inside.scrollLeft;
            around.classList.toggle("more-before", left > end);
            around.classList.toggle("more-after", left + inside.clientWidth < inside.scrollWidth - end);
            around.style.setProperty("--still-before", `${width_of(inside, ".corner")}px`);
            around.style.setProperty("--still-after", `${width_of(inside, "thead .end")}px`);
        };
        look();
        inside.addEventListener("scroll", look, { passive: true });
        const watch = new ResizeObserver(look);
        const still = inside.querySelectorAll(".corner, thead .end");
        for (const one of [inside, ...inside.children, ...still]) watch.observe(one);
        return () => {
            inside.removeEventListener("scroll", look);
            watch.disconnect();
        };
    }, []);
    return (
        <div ref={holder} class="sideways">
            <div ref={box} class="scroll" tabIndex={0} role="region" aria-label={label}>
                {children}
            </div>
        </div>
    );
}
