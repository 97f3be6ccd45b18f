"""The bench: two cast-iron ends and slats."""

import math

from gltf_out import Mesh, Node, material
from solids import box, tube, turned_by

WIDE, SEAT = 86.0, 36.5


def end():
    """One iron end in the plane x = 0: a scrolled leg, the arm and the raked back."""
    mesh = tube([(0.0, -15.0, 0.6), (0.0, -13.6, 8.0), (0.0, -14.4, 17.0), (0.0, -16.0, 26.0),
                 (0.0, -15.6, 33.0), (0.0, -14.0, SEAT - 3.4)], 1.2, 8)
    mesh.add(tube([(0.0, 16.5, 0.6), (0.0, 13.8, 9.0), (0.0, 13.2, 20.0), (0.0, 14.6, 31.0),
                   (0.0, 17.0, 45.0), (0.0, 20.2, 60.0), (0.0, 22.2, 71.0)], 1.2, 8))
    mesh.add(tube([(0.0, -15.4, SEAT - 2.8), (0.0, 0.0, SEAT - 3.4), (0.0, 15.2, SEAT - 3.6)], 1.1,
                  8))
    mesh.add(tube([(0.0, -14.6, SEAT - 3.0), (0.0, -16.4, 44.0), (0.0, -16.8, 51.0),
                   (0.0, -14.2, 55.0), (0.0, 0.0, 55.6), (0.0, 11.0, 55.4), (0.0, 19.0, 57.0)],
                  1.1, 8))
    scroll = [(0.0, -16.0 + (3.6 - 0.045 * k) * math.cos(0.30 * k),
               51.2 - (3.6 - 0.045 * k) * math.sin(0.30 * k)) for k in range(-2, 22)]
    mesh.add(tube(scroll, 0.7, 6))
    for y in (-15.0, 16.5):
        mesh.add(box((-1.6, y - 2.2, 0.0), (1.6, y + 2.2, 1.2)))
    return mesh


def slats():
    mesh = Mesh()
    for k in range(6):
        y = -16.2 + 5.5 * k
        mesh.add(box((-WIDE / 2, y, SEAT - 2.2), (WIDE / 2, y + 4.5, SEAT), 60.0))
    for k in range(4):
        lath = box((-WIDE / 2, -0.9, 0.0), (WIDE / 2, 0.9, 4.6), 60.0)
        z = SEAT + 7.0 + 6.6 * k
        lath = turned_by(lath, (0.0, 0.0, 0.0), 0, -12.0)
        mesh.add(lath.moved(dy=14.7 + 0.205 * (z - SEAT + 1.0), dz=z))
    return mesh


def bench(wood_png):
    iron = material("bench-iron", (0.030, 0.052, 0.046))
    wood = material("bench-slats", (1.0, 1.0, 1.0), ("bench-slats.png", wood_png))
    ends = end().moved(-WIDE / 2 + 3.0).add(end().moved(WIDE / 2 - 3.0))
    return [Node("bench", [(ends, iron)], [Node("slats", [(slats(), wood)])])]
