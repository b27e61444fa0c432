#!/usr/bin/env python3
"""Writes scenes/workshop-rough.obj: an invented workshop as a phone scan would give it.

Millimetres, y up. In the place's frame (metres: x right along the window wall, y into the room, z up) a
corner is a few millimetres off, faces are triangles, quads and larger polygons, and some of them count their
corners from the end. The same numbers come out every time.

    python3 tools/make_workshop_rough.py > scenes/workshop-rough.obj
"""
import random

random.seed(9)

ACROSS = [0.0, 1.2, 2.3, 3.95, 5.05, 6.7, 7.8, 9.0]  # m; windows stand between every second pair
DEEP = [0.0, 2.1, 4.0, 6.0]
HIGH = [0.0, 0.9, 3.3, 4.2]  # floor, sill, head, ceiling
WALL = 0.45
BENCH = (4.25, 2.40)

points = []
lines = []
named = {}


def off(size=0.003):
    return random.uniform(-size, size)


def point(x, y, z, size=0.003):
    """A scanned point; its number counts from 1."""
    points.append((x + off(size), y + off(size), z + off(size)))
    px, py, pz = points[-1]
    lines.append(f"v {px * 1000:.1f} {pz * 1000:.1f} {-py * 1000:.1f}")
    return len(points)


def corner(i, j, k):
    """A point of the room's shell, scanned once."""
    if (i, j, k) not in named:
        named[i, j, k] = point(ACROSS[i], DEEP[j], HIGH[k])
    return named[i, j, k]


def face(corners, from_the_end=False):
    numbers = [c - len(points) - 1 if from_the_end else c for c in corners]
    lines.append("f " + " ".join(map(str, numbers)))


def quad_or_two(a, b, c, d):
    """A mesher is not consistent either."""
    if random.random() < 0.4:
        face([a, b, c])
        face([a, c, d])
    else:
        face([a, b, c, d], random.random() < 0.3)


def box(low, high, size=0.002):
    p = [point(x, y, z, size) for z in (low[2], high[2]) for y in (low[1], high[1]) for x in (low[0], high[0])]
    for sides in ((0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5)):
        quad_or_two(*(p[s] for s in sides))


def room():
    last_i, last_j, last_k = len(ACROSS) - 1, len(DEEP) - 1, len(HIGH) - 1
    lines.append("o room")
    lines.append("usemtl Oiled floor")
    for i in range(last_i):
        for j in range(last_j):
            quad_or_two(corner(i, j, 0), corner(i + 1, j, 0), corner(i + 1, j + 1, 0), corner(i, j + 1, 0))
    lines.append("usemtl Boarded ceiling")
    for j in range(last_j):  # one board after the other, each a polygon with all its points
        face([corner(i, j, last_k) for i in range(last_i, -1, -1)] +
             [corner(i, j + 1, last_k) for i in range(last_i + 1)])
    lines.append("usemtl Limewash wall")
    # The wall with the windows: a strip under the sills, a strip over the heads, piers between.
    for k in (0, 2):
        face([corner(i, 0, k) for i in range(last_i, -1, -1)] + [corner(i, 0, k + 1) for i in range(last_i + 1)])
    for i in range(0, last_i, 2):
        quad_or_two(corner(i + 1, 0, 1), corner(i, 0, 1), corner(i, 0, 2), corner(i + 1, 0, 2))
    for k in range(last_k):
        for i in range(last_i):
            quad_or_two(corner(i, last_j, k), corner(i + 1, last_j, k), corner(i + 1, last_j, k + 1),
                        corner(i, last_j, k + 1))
        for j in range(last_j):
            quad_or_two(corner(0, j, k), corner(0, j + 1, k), corner(0, j + 1, k + 1), corner(0, j, k + 1))
            quad_or_two(corner(last_i, j + 1, k), corner(last_i, j, k), corner(last_i, j, k + 1),
                        corner(last_i, j + 1, k + 1))


def windows():
    for number, i in enumerate((1, 3, 5)):
        lines.append(f"o window {number + 1}")
        inner = [corner(i, 0, 1), corner(i + 1, 0, 1), corner(i + 1, 0, 2), corner(i, 0, 2)]
        outer = [point(ACROSS[a], -WALL, HIGH[b]) for a, b in ((i, 1), (i + 1, 1), (i + 1, 2), (i, 2))]
        lines.append("usemtl Limewash wall")
        for a in range(4):
            b = (a + 1) % 4
            quad_or_two(inner[a], inner[b], outer[b], outer[a])
        lines.append("usemtl Window glass")
        a, b, c, d = outer
        if number == 0:
            face([a, b, c, d])
        elif number == 1:  # with the points where the transom meets the frame
            right, left = point(ACROSS[i + 1], -WALL, 2.5), point(ACROSS[i], -WALL, 2.5)
            face([a, b, right, c, d, left])
        else:
            face([a, b, c], True)
            face([a, c, d], True)


def benches():
    x, y = BENCH
    lines.append("o bench")
    lines.append("usemtl Bench oak")
    box((x - 0.5, y - 0.4, 0.70), (x + 0.5, y + 0.4, 0.75))
    for sx in (-1, 1):
        for sy in (-1, 1):
            lx, ly = x + sx * 0.43, y + sy * 0.33
            box((lx - 0.04, ly - 0.04, 0.0), (lx + 0.04, ly + 0.04, 0.699))
    lines.append("o back bench")
    lines.append("usemtl Bench oak")
    box((0.6, 5.25, 0.84), (8.4, 5.95, 0.90))
    for lx in (0.8, 3.2, 5.8, 8.2):
        box((lx - 0.05, 5.30, 0.0), (lx + 0.05, 5.90, 0.839))
    box((0.9, 5.35, 0.30), (8.1, 5.85, 0.33))


room()
windows()
benches()
print("# An invented workshop, as rough as a scan: millimetres, y up. Written by tools/make_workshop_rough.py.")
print("\n".join(lines))
