"""A stack of crab pots: slatted floors, bent hoops and netting cut out of a sheet."""

import math

from gltf_out import Mesh, Node, material
from pictures import Canvas
from solids import box, sheet, tube

LONG, WIDE, HIGH = 48.0, 34.0, 26.0


def arch(x, radius_more=0.0, count=20):
    half, high = WIDE / 2 + radius_more, HIGH + radius_more
    return [(x, -half * math.cos(math.pi * i / count),
             2.0 + (high - 2.0) * math.sin(math.pi * i / count))
            for i in range(count + 1)]


def frame():
    mesh = Mesh()
    for k in range(6):
        y = -WIDE / 2 + k * (WIDE - 4.0) / 5
        mesh.add(box((-LONG / 2, y, 0.0), (LONG / 2, y + 4.0, 1.4), 50.0))
    for x in (-LONG / 2 + 1, 0.0, LONG / 2 - 1):
        mesh.add(box((x - 1.5, -WIDE / 2, 1.4), (x + 1.5, WIDE / 2, 2.8), 50.0))
        mesh.add(tube(arch(x), 1.0, 7))
    ridge = [(-LONG / 2, 0.0, HIGH + 0.6), (LONG / 2, 0.0, HIGH + 0.6)]
    return mesh.add(tube(ridge, 0.9, 7))


def netting():
    xs = [-LONG / 2 + 1 + i * (LONG - 2) / 8 for i in range(9)]
    rows = [arch(x, 0.5) for x in xs]
    uvs = [[(4.0 * i / 8, 5.0 * k / 20) for k in range(21)] for i in range(9)]
    mesh = sheet(rows, uvs, flip=True)
    for x, flip in ((-LONG / 2 + 1, True), (LONG / 2 - 1, False)):
        rim = arch(x, -0.2)
        low = [(x, p[1], 2.0) for p in rim]
        uv = [[(p[1] / 9, p[2] / 9) for p in row] for row in (low, rim)]
        mesh.add(sheet([low, rim], uv, flip))
    return mesh


def net_picture():
    size, cells = 128, 4
    step = size / cells

    def paint(x, y):
        u, v = (x + 0.5) / step, (y + 0.5) / step
        a, b = (u + v) % 1.0, (u - v) % 1.0
        near = min(a, 1 - a, b, 1 - b)
        knot = math.hypot(min(a, 1 - a), min(b, 1 - b))
        cover = 255 if near < 0.085 or knot < 0.17 else 0
        shade = 1.15 if knot < 0.17 else 1.0
        return (int(62 * shade), int(92 * shade), int(86 * shade), cover)

    return Canvas.painted(size, size, paint).png()


def nodes(wood_png):
    timber = material("slats", (1.0, 1.0, 1.0), ("slats.png", wood_png))
    net = material("net", (1.0, 1.0, 1.0), ("net.png", net_picture()), mask=True, two_sided=True)
    pot = [(frame(), timber), (netting(), net)]
    turned = math.sin(math.radians(4)), math.cos(math.radians(4))
    places = [("pot-1", (0.0, -19.0, 0.0), 0), ("pot-2", (1.5, 18.0, 0.0), 0),
              ("pot-3", (0.5, -1.0, HIGH + 1.8), 1)]
    pots = [Node(name, pot, translation=at,
                 rotation=(0.0, turned[0], 0.0, turned[1]) if turn else None)
            for name, at, turn in places]
    return [Node("crab-pots", children=pots)]
