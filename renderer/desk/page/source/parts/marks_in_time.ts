// When the first picture stood on the screen: written into the browser's own record of times, where a test or a
// curious person finds it.
let seen = false;

export function first_picture(): void {
    if (seen) return;
    seen = true;
    performance.mark("first picture");
}
