"""Of the tea table: a brown teapot, and a basket woven of cut-out cane with loaves in it."""

import math

from gltf_out import Mesh, Node, material
from pictures import Canvas, noise
from solids import ball, sheet, torus, tube, turning


def teapot():
    glaze = material("brown-glaze", (0.13, 0.045, 0.02))
    body = turning([(0, 0), (4.2, 0), (4.4, 0.8), (6.6, 3.6), (7.2, 6.4), (6.4, 9.4), (4.0, 11.4),
                    (3.6, 11.8), (3.7, 12.2), (2.2, 13.4), (0.8, 13.9), (0.7, 14.5), (1.2, 15.2),
                    (0.8, 16.0), (0, 16.2)], 28)
    spout = tube([(-6.0, 0.0, 4.4), (-9.0, 0.0, 5.6), (-10.6, 0.0, 8.6), (-12.0, 0.0, 11.2)], 1.15,
                 10)
    handle = tube([(6.0, 0.0, 9.6), (9.2, 0.0, 10.6), (11.0, 0.0, 8.4), (10.2, 0.0, 5.0),
                   (6.8, 0.0, 3.8)], 0.75, 8)
    return [Node("teapot", [(body.add(spout).add(handle), glaze)])]


def weave_picture(size=96, cells=6):
    """Cane over and under, with holes where four strands meet."""
    step = size / cells

    def paint(x, y):
        u, v = (x + 0.5) / step, (y + 0.5) / step
        i, j = int(u), int(v)
        fu, fv = u - i, v - j
        over = (i + j) % 2 == 0
        across = fv if over else fu
        strand = math.sin(math.pi * across)
        hole = min(fu, 1 - fu) < 0.13 and min(fv, 1 - fv) < 0.13
        tone = (0.62 + 0.45 * strand) * (0.94 + 0.12 * noise(u * 2.3, v * 2.3, 261, 0, 0))
        return (min(255, int(186 * tone)), min(255, int(142 * tone)), min(255, int(88 * tone)),
                0 if hole else 255)

    return Canvas.painted(size, size, paint).png()


def basket():
    cane = material("cane", (1.0, 1.0, 1.0), ("cane.png", weave_picture()), mask=True,
                    two_sided=True)
    rim = material("rim", (0.36, 0.23, 0.11))
    crust = material("crust", (0.40, 0.21, 0.075))
    profile = [(10.0, 0.0), (11.6, 3.0), (12.6, 7.0), (13.2, 11.0)]
    rows, uvs = [], []
    for k, (r, z) in enumerate(profile):
        rows.append([(r * math.cos(2 * math.pi * (i % 32) / 32),
                      0.74 * r * math.sin(2 * math.pi * (i % 32) / 32), z) for i in range(33)])
        uvs.append([(10 * i / 32, 2 * k / 3) for i in range(33)])
    wall = sheet(rows, uvs)
    hoops = Mesh()
    for radius, z in ((10.2, 0.6), (13.2, 11.2)):
        hoop = torus(radius, 0.7, 32, 6)
        hoop.positions = [(x, 0.74 * y, q) for x, y, q in hoop.positions]
        hoops.add(hoop.moved(dz=z))
    hoops.add(tube([(13.0 * math.cos(math.pi * k / 16), 0.0, 11.0 + 15.0 * math.sin(math.pi * k / 16))
                    for k in range(17)], 0.7, 7))
    loaves = ball((6.0, 3.6, 3.4), 16, 10).moved(-3.6, -2.0, 10.4)
    loaves.add(ball((5.4, 3.4, 3.2), 16, 10).moved(4.4, 2.0, 10.2))
    floor = turning([(0, 0), (10.0, 0), (11.0, 7.0), (0, 7.6)], 28)
    floor.positions = [(x, 0.74 * y, z) for x, y, z in floor.positions]
    cloth = material("cloth", (0.62, 0.60, 0.55))
    return [Node("basket", [(wall, cane), (hoops, rim), (floor, cloth), (loaves, crust)])]
