"""What grows on the landing: clipped hedges of cut-out leaves, and tubs of flowers."""

import math

from gltf_out import Mesh, Node, material
from pictures import Canvas, mixed, noise, scramble
from solids import add, box, cross, scaled, torus, turning, unit

GREENS = [(74, 104, 52), (92, 122, 60), (60, 90, 50), (108, 132, 66), (84, 110, 44)]


def inside_leaf(x, y, at, angle, long, wide):
    """Share of a leaf's half breadth at which the place lies, 1 at its edge; 9 outside its length.
    The leaf starts at `at` and runs `long` along the angle."""
    c, s = math.cos(angle), math.sin(angle)
    u, v = ((x - at[0]) * c + (y - at[1]) * s) / long, -(x - at[0]) * s + (y - at[1]) * c
    if not 0.0 < u < 1.0:
        return 9.0
    return abs(v) / (wide * math.sin(math.pi * u ** 0.8) + 1e-6)


def sprig_picture(size=128):
    """Eleven leaves about a stem; what is between them is cut out."""
    leaves = []
    for k in range(11):
        angle = 2 * math.pi * (k + 0.6 * scramble(k, 1, 201)) / 11
        start = size * (0.04 + 0.12 * scramble(k, 2, 201))
        at = (size / 2 + start * math.cos(angle), size / 2 + start * math.sin(angle))
        leaves.append((at, angle, size * (0.30 + 0.08 * scramble(k, 3, 201)),
                       size * (0.075 + 0.02 * scramble(k, 4, 201)), GREENS[k % len(GREENS)]))

    def paint(x, y):
        for at, angle, long, wide, colour in leaves:
            near = inside_leaf(x + 0.5, y + 0.5, at, angle, long, wide)
            if near < 1.0:
                rib = 1.22 if near < 0.14 else 1.0 - 0.18 * near
                return (*(min(255, int(c * rib)) for c in colour), 255)
        return (70, 98, 50, 0)

    return Canvas.painted(size, size, paint).png()


def blossom_picture(size=64):
    """A head of five-petalled flowers, cut out."""
    heads = [(0.32, 0.30), (0.68, 0.34), (0.36, 0.70), (0.70, 0.70), (0.52, 0.50)]

    def paint(x, y):
        for k, (u, v) in enumerate(heads):
            dx, dy = (x + 0.5) / size - u, (y + 0.5) / size - v
            reach = 0.20 * (0.72 + 0.28 * math.cos(5 * math.atan2(dy, dx) + k))
            far = math.hypot(dx, dy)
            if far < reach:
                if far < 0.045:
                    return (226, 190, 92, 255)
                return (*(int(c) for c in mixed((196, 62, 52), (226, 112, 92), far / reach)), 255)
        return (196, 70, 58, 0)

    return Canvas.painted(size, size, paint).png()


def card(mesh, at, normal, size, turn):
    """A square of `size` about a place, turned about its normal."""
    up = (0.0, 0.0, 1.0) if abs(normal[2]) < 0.9 else (0.0, 1.0, 0.0)
    side = unit(cross(up, normal))
    rise = cross(normal, side)
    c, s = math.cos(turn), math.sin(turn)
    u = add(scaled(side, c * size / 2), scaled(rise, s * size / 2))
    v = add(scaled(side, -s * size / 2), scaled(rise, c * size / 2))
    corners = [add(at, add(scaled(u, i), scaled(v, j)))
               for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    a, b, d, e = (mesh.vertex(p, normal, uv)
                  for p, uv in zip(corners, ((0, 1), (1, 1), (1, 0), (0, 0))))
    mesh.triangle(a, b, d)
    mesh.triangle(a, d, e)


def tossed(normal, k, seed, spread=0.55):
    """The normal, tipped by chance."""
    return unit(tuple(normal[i] + spread * 2 * (scramble(k, 11 + i, seed) - 0.5)
                      for i in range(3)))


def leafy_box(wide, deep, high, seed, step=5.2, size=9.6):
    """Cards over the front, the top and both ends of a block that stands on the origin."""
    mesh = Mesh()
    faces = [((-wide / 2, -deep / 2, 0.0), (wide, 0, 0), (0, 0, high), (0, -1, 0)),
             ((-wide / 2, -deep / 2, high), (wide, 0, 0), (0, deep, 0), (0, 0, 1)),
             ((-wide / 2, deep / 2, 0.0), (0, -deep, 0), (0, 0, high), (-1, 0, 0)),
             ((wide / 2, -deep / 2, 0.0), (0, deep, 0), (0, 0, high), (1, 0, 0))]
    k = 0
    for corner, along, up, normal in faces:
        columns = max(1, round(sum(map(abs, along)) / step))
        rows = max(1, round(sum(map(abs, up)) / step))
        for i in range(columns):
            for j in range(rows):
                u = (i + 0.15 + 0.7 * scramble(k, 1, seed)) / columns
                v = (j + 0.15 + 0.7 * scramble(k, 2, seed)) / rows
                swell = 1.7 * (noise(u * columns / 5, v * rows / 5, seed + 7) - 0.5)
                out = swell + 1.6 * (scramble(k, 3, seed) - 0.5)
                at = add(add(corner, add(scaled(along, u), scaled(up, v))), scaled(normal, out))
                at = (at[0], at[1], max(at[2], size * 0.85))
                card(mesh, at, tossed(normal, k, seed), size * (0.8 + 0.4 * scramble(k, 4, seed)),
                     2 * math.pi * scramble(k, 5, seed))
                k += 1
    return mesh


def hedge(wide, deep, high, seed):
    leaf = material("leaves", (1.0, 1.0, 1.0), ("sprig.png", sprig_picture()), mask=True,
                    two_sided=True)
    dark = material("hedge-shade", (0.030, 0.042, 0.020))
    core = box((-wide / 2 + 1.6, -deep / 2 + 1.6, 0.0), (wide / 2 - 1.6, deep / 2, high - 1.6))
    leaves = leafy_box(wide, deep, high, seed)
    return [Node("hedge", [(core, dark)], [Node("leaves", [(leaves, leaf)])])]


def dome(radius, high, count, seed, size, spread=0.4):
    """Cards over a half ball, by the golden angle."""
    mesh = Mesh()
    for k in range(count):
        z = (k + 0.5) / count
        flat, angle = math.sqrt(1 - z * z), 2.399963 * k
        n = (flat * math.cos(angle), flat * math.sin(angle), z)
        out = 0.86 + 0.2 * scramble(k, 6, seed)
        card(mesh, (radius * out * n[0], radius * out * n[1], high * out * n[2]),
             tossed(n, k, seed, spread), size * (0.8 + 0.4 * scramble(k, 7, seed)),
             2 * math.pi * scramble(k, 8, seed))
    return mesh


def flower_tub(wood_png):
    stave = material("staves", (1.0, 1.0, 1.0), ("staves.png", wood_png))
    iron = material("hoops", (0.05, 0.05, 0.05))
    earth = material("soil", (0.045, 0.034, 0.025))
    leaf = material("leaves", (1.0, 1.0, 1.0), ("sprig.png", sprig_picture()), mask=True,
                    two_sided=True)
    bloom = material("blossom", (1.0, 1.0, 1.0), ("blossom.png", blossom_picture()), mask=True,
                     two_sided=True)
    tub = turning([(0, 0), (13, 0), (15.5, 22), (14.3, 22), (13.9, 18), (0, 18)], 28)
    hoops = torus(13.75, 0.5, 28, 6).moved(dz=5.0).add(torus(15.1, 0.5, 28, 6).moved(dz=17.0))
    soil = turning([(0, 17.8), (13.8, 17.8), (8, 20.4), (0, 21.0)], 20)
    green = dome(14.5, 17.0, 120, 211, 9.5).moved(dz=19.5)
    red = dome(15.2, 18.0, 38, 213, 6.2, 0.25).moved(dz=20.0)
    return [Node("flower-tub", [(tub, stave), (hoops, iron), (soil, earth)],
                 [Node("leaves", [(green, leaf)]), Node("blossom", [(red, bloom)])])]
