"""A clinker-built rowing boat: planked sides as one mirrored node, ribs, thwarts, a transom."""

import math

from gltf_out import Mesh, Node, material
from pictures import Canvas, mixed, noise, scramble, smooth_step, text_width, write
from solids import add, box, cross, quad, scaled, sheet, subtract, tube, unit

LENGTH, BEAM, STRAKES, LAP = 192.0, 72.0, 7, 1.3
STATIONS = 40
HULL_COLOURS = [(104, 66, 56), (110, 70, 58), (116, 76, 62), (196, 190, 174), (205, 200, 186),
                (200, 194, 180), (70, 96, 108)]


def half_breadth(t):
    """Half the breadth at the sheer, t from 0 at the stern to 1 at the stem."""
    if t < 0.45:
        return 0.5 * BEAM * (1 - 0.36 * ((0.45 - t) / 0.45) ** 2)
    return 0.5 * BEAM * max(0.0, 1 - ((t - 0.45) / 0.55) ** 2.3) + 0.6


def sheer(t):
    return 33.0 + 9.0 * max(0.0, (t - 0.35) / 0.65) ** 2 + 3.5 * max(0.0, (0.35 - t) / 0.35) ** 2


def keel(t):
    rise = 16.0 * max(0.0, (t - 0.80) / 0.20) ** 2.4
    return 2.5 + rise + 4.0 * max(0.0, (0.18 - t) / 0.18) ** 2


def along(t):
    """Y of a station: the bow looks to the front."""
    return LENGTH * (0.5 - t)


def skin(t, q, outward=0.0):
    """A point of the starboard side: q from 0 at the keel to 1 at the sheer, pushed outward."""
    fullness = 0.62 + 0.38 * smooth_step(0.55, 1.0, t)
    x = half_breadth(t) * math.sin(0.5 * math.pi * q) ** fullness
    z = keel(t) + (sheer(t) - keel(t)) * (1 - math.cos(0.5 * math.pi * q)) ** 0.92
    slope = 0.5 * math.pi * q
    return (x + outward * math.cos(0.5 * math.pi - slope) + 0.4,
            along(t), z - outward * math.sin(0.5 * math.pi - slope) * 0.8)


def stations():
    return [i / STATIONS for i in range(STATIONS + 1)]


def side_planks():
    """Every strake laps over the one under it, with the edge that throws the line of shade."""
    mesh = Mesh()
    for j in range(STRAKES):
        q0, q1 = j / STRAKES, (j + 1) / STRAKES
        steps = [0.0, 0.35, 0.7, 1.0]
        rows, uvs = [], []
        for s in steps:
            q = q0 + (q1 - q0) * s
            rows.append([skin(t, q, LAP * (1 - s)) for t in stations()])
            v = 1 - (j + 0.04 + 0.92 * s) / STRAKES
            uvs.append([(t, v) for t in stations()])
        mesh.add(sheet(rows, uvs, flip=True))
        under = [[skin(t, q0, 0.0) for t in stations()], rows[0]]
        mesh.add(sheet(under, [[(t, 1 - (j + 0.03) / STRAKES) for t in stations()]] * 2, flip=True))
    return mesh


def inside():
    rows = [[skin(t, k / 12, -1.0) for t in stations()] for k in range(13)]
    uvs = [[(t, 1 - k / 12) for t in stations()] for k in range(13)]
    return sheet(rows, uvs)


def bar_along(points, width, depth):
    """A square bar along points; its width lies level."""
    mesh = Mesh()
    rings = []
    for i, p in enumerate(points):
        t = unit(subtract(points[min(i + 1, len(points) - 1)], points[max(i - 1, 0)]))
        side = unit(cross(t, (0.0, 0.0, 1.0)))
        up = cross(side, t)
        rings.append([add(p, add(scaled(side, sx * width / 2), scaled(up, sz * depth / 2)))
                      for sx, sz in ((-1, -1), (1, -1), (1, 1), (-1, 1))])
    for a, b in zip(rings, rings[1:]):
        for k in range(4):
            n = (k + 1) % 4
            mesh.add(quad([a[k], a[n], b[n], b[k]]))
    first, last = rings[0], rings[-1]
    mesh.add(quad(first[::-1])).add(quad(last))
    return mesh


def oriented(mesh):
    """Turns quads whose corners came out clockwise: every bar is convex about its own middle."""
    count = len(mesh.positions)
    middle = tuple(sum(p[i] for p in mesh.positions) / count for i in range(3))
    out = Mesh()
    out.positions, out.normals, out.uvs = mesh.positions, list(mesh.normals), mesh.uvs
    for a, b, c in mesh.triangles:
        pa, pb, pc = (mesh.positions[i] for i in (a, b, c))
        n = cross(subtract(pb, pa), subtract(pc, pa))
        outward = subtract(scaled(add(add(pa, pb), pc), 1 / 3), middle)
        flip = sum(n[i] * outward[i] for i in range(3)) < 0
        out.triangles.append((a, c, b) if flip else (a, b, c))
        for i in (a, b, c):
            out.normals[i] = unit(scaled(n, -1 if flip else 1))
    return out


def swept(points, width, depth):
    """A bar made of short straight pieces, each turned outward by itself."""
    mesh = Mesh()
    for p, q in zip(points, points[1:]):
        mesh.add(oriented(bar_along([p, q], width, depth)))
    return mesh


def ribs():
    mesh = Mesh()
    for i in range(3, STATIONS - 5, 3):
        t = i / STATIONS
        arc = [skin(t, k / 10, -1.6) for k in range(1, 11)]
        mesh.add(tube(arc, 0.9, 6))
    return mesh


def gunwale():
    rail = [add(skin(t, 1.0, 0.2), (0.0, 0.0, 0.6)) for t in stations()]
    return swept(rail, 3.4, 2.2)


def thwarts():
    mesh = Mesh()
    for t, depth in ((0.22, 11.0), (0.47, 10.0), (0.68, 9.0)):
        z = sheer(t) - 9.0
        reach = skin(t, 0.74, -1.2)[0]
        y = along(t)
        for k in (0, 1):
            low = y - depth / 2 + k * depth / 2 + 0.2
            mesh.add(box((-reach, low, z - 1.6), (reach, low + depth / 2 - 0.4, z), 60.0))
    for x in (-9.0, -3.0, 3.0, 9.0):
        mesh.add(box((x - 2.6, along(0.80), 7.4), (x + 2.6, along(0.14), 8.6), 60.0))
    return mesh


def backbone():
    line = [(0.0, along(t), keel(t) - 1.0) for t in stations()]
    mesh = swept(line, 2.6, 3.0)
    stem = [(0.0, along(1.0) - 0.3, keel(1.0) - 1.0 + k * (sheer(1.0) + 3.0 - keel(1.0)) / 5)
            for k in range(6)]
    mesh.add(tube(stem, 1.7, 8))
    return mesh


def transom():
    mesh = Mesh()
    right = [skin(0.0, k / 10, 0.6) for k in range(11)]
    left = [(-x, y, z) for x, y, z in reversed(right)]
    rim = right + left
    for dy, n in ((1.6, 1.0), (-1.6, -1.0)):
        face = [mesh.vertex((x, y + dy, z), (0.0, n, 0.0), (0.5 + x / BEAM, 1 - z / 45.0))
                for x, y, z in rim]
        middle = mesh.vertex((0.0, along(0.0) + dy, 24.0), (0.0, n, 0.0), (0.5, 0.45))
        for k in range(len(rim)):
            a, b = face[k], face[(k + 1) % len(rim)]
            mesh.triangle(*((middle, b, a) if n > 0 else (middle, a, b)))
    for k in range(len(rim)):
        a, b = rim[k], rim[(k + 1) % len(rim)]
        if a != b:
            around = ((a, -1.6), (a, 1.6), (b, 1.6), (b, -1.6))
            corners = [add(p, (0.0, dy, 0.0)) for p, dy in around]
            mesh.add(quad(corners))
    return mesh


def name_plate(side):
    """The boat's name on the top strake at the bow, readable on either side."""
    rows, uvs = [], []
    count = 12
    for k, q in enumerate((0.885, 0.985)):
        row, line = [], []
        for i in range(count + 1):
            t = 0.66 + 0.20 * i / count
            x, y, z = skin(t, q, LAP * (1 - (q - 6 / 7) * 7) + 0.35)
            row.append((side * x, y, z))
            line.append((1 - i / count if side > 0 else i / count, 1.0 - k))
        rows.append(row)
        uvs.append(line)
    return sheet(rows, uvs, flip=side > 0)


def planking():
    def paint(x, y):
        band = min(STRAKES - 1, int(y / 36.6))
        j = STRAKES - 1 - band
        base = HULL_COLOURS[j]
        grain = noise(x / 26, y / 1.7, 3, 20) - 0.5
        wear = noise(x / 34, y / 11, 5, 15) * 0.7 + noise(x / 7, y / 4, 6) * 0.3
        colour = tuple(c * (1 + 0.14 * grain) for c in base)
        if j > 2:
            colour = mixed(colour, (132, 118, 98), 0.75 * smooth_step(0.66, 0.80, wear))
        else:
            colour = mixed(colour, (86, 84, 72), 0.6 * smooth_step(0.55, 0.8, wear))
        if j == 3:
            colour = mixed(colour, (92, 96, 82), 0.55 * smooth_step(16, 36, y - band * 36.6))
        rivet = (x % 32 - 16) ** 2 + (y - band * 36.6 - 31) ** 2
        if rivet < 2.5 and scramble(x // 32, j, 9) > 0.2:
            colour = mixed(colour, (88, 70, 54), 0.6)
        return tuple(int(c) for c in colour)

    return Canvas.painted(512, 256, paint).png()


def bare_wood(seed, base):
    def paint(x, y):
        grain = noise(x / 40, y / 2.2, seed, 0, 0) * 0.7 + noise(x / 9, y / 1.1, seed + 1) * 0.3
        shade = 0.80 + 0.36 * grain
        return tuple(int(c * shade) for c in base)

    return Canvas.painted(256, 64, paint).png()


def name_picture(name):
    canvas = Canvas(256, 48, HULL_COLOURS[-1])
    left = (256 - text_width(name, 26, 2.6)) / 2
    write(canvas, name, left, 11, 26, 2.0, (226, 220, 200), 2.6)
    return canvas.png()


def nodes():
    paint = material("planking", (1.0, 1.0, 1.0), ("planking.png", planking()), two_sided=True)
    timber = material("timber", (1.0, 1.0, 1.0), ("timber.png", bare_wood(20, (150, 124, 92))),
                      two_sided=True)
    rail = material("rail", (0.20, 0.115, 0.065))
    letters = material("name", (1.0, 1.0, 1.0), ("name.png", name_picture("TERN")))
    half = [(side_planks(), paint), (inside(), timber), (ribs(), timber), (gunwale(), rail)]
    side = Node("side", half)
    mirrored = Node("side-mirrored", half, scale=(-1.0, 1.0, 1.0))
    fittings = Node("fittings", [(thwarts(), timber), (transom(), rail), (backbone(), rail)])
    names = [Node("name", [(name_plate(1), letters)]),
             Node("name-far", [(name_plate(-1), letters)])]
    return [Node("boat", children=[side, mirrored, fittings, *names])]
