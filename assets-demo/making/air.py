"""Mist that lies on the water: a few wide sheets, cut to grains that thin out to the rim."""

from gltf_out import Node, material
from pictures import Canvas, noise, scramble, smooth_step
from solids import quad

WIDE, DEEP = 236.0, 46.0


def grain_picture(seed, width=448, height=88):
    def paint(i, j):
        x, y = (i + 0.5) / width, (j + 0.5) / height
        rim = smooth_step(0.0, 0.30, min(x, 1 - x) * 2.4) * smooth_step(0.0, 0.36, min(y, 1 - y))
        body = 0.55 * noise(x * 9, y * 3, seed) + 0.45 * noise(x * 21, y * 6, seed + 1)
        thick = rim * smooth_step(0.22, 0.80, body)
        return (238, 242, 240, 255 if scramble(i, j, seed + 2) < thick else 0)

    return Canvas.painted(width, height, paint).png()


def mist():
    sheets = []
    for k, (z, shrink, dx, dy) in enumerate(((0.0, 1.0, 0.0, 0.0), (3.0, 0.92, 4.0, 1.0),
                                             (6.5, 0.80, -9.0, 0.5), (10.5, 0.62, 12.0, -1.0))):
        surface = material(f"mist-{k + 1}", (1.0, 1.0, 1.0),
                           (f"mist-{k + 1}.png", grain_picture(311 + 7 * k)), mask=True,
                           two_sided=True)
        w, d = WIDE / 2 * shrink, DEEP / 2 * shrink
        level = quad([(dx - w, dy - d, z), (dx + w, dy - d, z), (dx + w, dy + d, z),
                      (dx - w, dy + d, z)])
        sheets.append(Node(f"sheet-{k + 1}", [(level, surface)]))
    return [Node("mist", children=sheets)]
