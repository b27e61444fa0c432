#!/usr/bin/env python3
"""Draws the house: docs/architecture/house.svg, from the folders and the #include lines of renderer/.

tools/draw_house.py          writes the picture anew; tests/command/floors_test.cpp says when a room is missing in it
"""

import math
import re
import sys
from collections import Counter
from pathlib import Path
from xml.sax.saxutils import escape

TOP = Path(__file__).resolve().parent.parent
RENDERER = TOP / "renderer"
PICTURE = TOP / "docs/architecture/house.svg"
HERE = "."  # a floor's own files, beside its rooms

# Where each floor says what it is for.
GIVES = {
    "quantity": "lux, stops, kelvin; bands of light",
    "setup": "the file: place, rig, day",
    "scene": "triangles, surfaces, lights, figures",
    "paths": "light at points, with its error",
    "results": "answers: readings, frames, levels",
    "pictures": "tables, plans, pictures, pages",
    "desk": "the page that shows it live",
    "command": "words in, files and text out",
}


def order_of_the_house():
    """Floors and their rooms, lowest first, as tests/command/floors_test.cpp holds them."""
    text = (TOP / "tests/command/floors_test.cpp").read_text(encoding="utf8")
    floors = re.findall(r'"(\w+)"', re.search(r"floors\{(.*?)\};", text, re.S).group(1))
    table = re.search(r"rooms\{(.*?)\n\};", text, re.S).group(1)
    rooms = {
        floor: [name or HERE for name, _ in re.findall(r'"(\w+)"|\b(here)\b', names)]
        for floor, names in re.findall(r'\{"(\w+)", \{(.*?)\}\}', table, re.S)
    }
    return [(floor, rooms.get(floor, [HERE])) for floor in floors]


def room_of(name, rooms):
    parts = name.split("/")
    return parts[0], parts[1] if len(parts) > 2 and parts[1] in rooms[parts[0]] else HERE


def survey():
    """Lines of code by room, and how often a room includes another."""
    house = order_of_the_house()
    rooms = dict(house)
    lines, includes = Counter(), Counter()
    for path in sorted(RENDERER.rglob("*")):
        if path.suffix not in (".h", ".cpp") or "node_modules" in path.parts:
            continue
        own = room_of(path.relative_to(RENDERER).as_posix(), rooms)
        text = path.read_text(encoding="utf8")
        lines[own] += text.count("\n")
        for other in re.findall(r'^\s*#\s*include\s*"([^"]+)"', text, re.M):
            if "/" in other and (RENDERER / other).exists():
                includes[own, room_of(other, rooms)] += 1
    return house, lines, includes


STYLE = """
  svg { --ink: #1f2328; --soft: #59636e; --paper: #ffffff; --wall: #d1d9e0; --room: #f3efe6; --edge: #b9a98a; --arc: #a0621a; }
  @media (prefers-color-scheme: dark) {
    svg { --ink: #e6e8eb; --soft: #9aa4ae; --paper: #0d1117; --wall: #333b45; --room: #2a261e; --edge: #6f6248; --arc: #e0a458; }
  }
  .paper { fill: var(--paper); }
  .wall { stroke: var(--wall); }
  .room { fill: var(--room); stroke: var(--edge); }
  .arc { fill: none; stroke: var(--arc); opacity: 0.75; }
  .tip { fill: var(--arc); }
  text { font-family: system-ui, "DejaVu Sans", sans-serif; fill: var(--ink); }
  .floor { font-size: 15px; font-weight: 600; }
  .name { font-size: 12.5px; }
  .soft { font-size: 11px; fill: var(--soft); }
"""

LEFT, RIGHT, ROOMS = 190, 905, 13  # px: where rooms begin and end, the gap between two
FLOOR, BOX, WIDTH = 104, 40, 1180


def widths_of(house, lines):
    """Of every room: as wide as it has lines, but wide enough for its name."""
    least = {(f, r): 7.4 * len(f if r == HERE else r) + 14 for f, rooms in house for r in rooms}
    scale = 1.0
    while True:
        widths = {room: max(least[room], scale * lines[room]) for room in least}
        if all(sum(widths[f, r] + ROOMS for r in rooms) - ROOMS <= RIGHT - LEFT for f, rooms in house):
            return widths
        scale *= 0.97


def draw():
    house, lines, includes = survey()
    widths = widths_of(house, lines)
    height = 56 + FLOOR * len(house) + 8
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" width="{WIDTH}" height="{height}" '
        'role="img" aria-label="The floors and rooms of renderer, and who includes whom">',
        f"<style>{STYLE}</style>",
        f'<rect class="paper" width="{WIDTH}" height="{height}"/>',
        f'<text class="soft" x="{LEFT}" y="22">A box is a room, as wide as it has lines. An arc leads to the room that is '
        "included, thicker the oftener; none leads to the right.</text>",
        f'<text class="soft" x="{RIGHT + 22}" y="22">rests on (include lines)</text>',
    ]
    for level, (floor, rooms) in enumerate(reversed(house)):
        base = 44 + FLOOR * (level + 1)
        top = base - BOX - 14
        out.append(f'<line class="wall" x1="14" x2="{WIDTH - 14}" y1="{base}" y2="{base}"/>')
        out.append(f'<text class="floor" x="18" y="{top + 14}">{floor}</text>')
        words = GIVES[floor].split(" ")
        half = next(i for i in range(1, len(words) + 1) if len(" ".join(words[:i])) > 17 or i == len(words))
        for row, part in enumerate((words[:half], words[half:])):
            out.append(f'<text class="soft" x="18" y="{top + 31 + 14 * row}">{escape(" ".join(part))}</text>')
        middle, x = {}, LEFT
        for r in rooms:
            w = widths[floor, r]
            middle[r] = x + w / 2
            out.append(f'<rect class="room" data-room="{floor}/{r}" x="{x:.1f}" y="{top}" width="{w:.1f}" height="{BOX}" rx="3"/>')
            name = floor if r == HERE else r
            out.append(f'<text class="name" x="{middle[r]:.1f}" y="{top + 17}" text-anchor="middle">{name}</text>')
            out.append(f'<text class="soft" x="{middle[r]:.1f}" y="{top + 32}" text-anchor="middle">{lines[floor, r]}</text>')
            x += w + ROOMS
        for a, one in enumerate(rooms):
            for other in rooms[:a]:
                count = includes[(floor, one), (floor, other)]
                if count == 0:
                    continue
                # It leaves a little to the left of the middle and arrives a little to the right of it.
                x1, x2 = middle[one] - 5, middle[other] + 5
                rise = 9 + 52 * ((x1 - x2) / (RIGHT - LEFT)) ** 0.8
                thick = 0.8 + 0.7 * math.log2(count)
                out.append(f'<path class="arc" stroke-width="{thick:.1f}" d="M {x1:.1f} {top} C {x1:.1f} {top - rise:.1f} '
                           f'{x2:.1f} {top - rise:.1f} {x2:.1f} {top - 5}"/>')
                out.append(f'<path class="tip" d="M {x2 - 3.5:.1f} {top - 6} h 7 l -3.5 6 z"/>')
        below = Counter()
        for (own, other), count in includes.items():
            if own[0] == floor and other[0] != floor:
                below[other[0]] += count
        row = 0
        under = [f for f, _ in house if below[f]]
        for start in range(0, len(under), 3):
            words = " · ".join(f"{f} {below[f]}" for f in reversed(under[max(0, len(under) - start - 3):len(under) - start]))
            out.append(f'<text class="soft" x="{RIGHT + 22}" y="{top + 6 + 15 * row}">{words}</text>')
            row += 1
    out.append("</svg>")
    return "\n".join(out) + "\n"


def main():
    if sys.argv[1:]:
        sys.exit(__doc__)
    PICTURE.parent.mkdir(parents=True, exist_ok=True)
    PICTURE.write_text(draw(), encoding="utf8")


if __name__ == "__main__":
    main()
