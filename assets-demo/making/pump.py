"""A cast-iron village pump: base, barrel, spout and a crank that hangs from its own node."""

import math

from gltf_out import Mesh, Node, material
from solids import box, cylinder, tube, turned_by, turning


def barrel():
    return turning([(0.0, 4.0), (9.0, 4.0), (9.0, 6.0), (6.6, 9.0), (6.0, 12.0), (5.6, 30.0),
                    (5.4, 52.0), (6.4, 53.0), (6.4, 55.0), (5.4, 56.0), (5.4, 66.0), (7.2, 68.0),
                    (7.2, 70.5), (6.4, 72.0), (5.4, 75.0), (3.6, 78.0), (1.6, 80.0), (1.4, 82.0),
                    (2.0, 83.5), (1.6, 85.0), (0.0, 85.8)], 28)


def flutes():
    mesh = Mesh()
    for k in range(10):
        angle = 2 * math.pi * k / 10
        x, y = 5.7 * math.cos(angle), 5.7 * math.sin(angle)
        mesh.add(tube([(x, y, 13.0), (x * 0.96, y * 0.96, 50.0)], 0.7, 6))
    return mesh


def spout():
    bend = [(0.0, -4.0, 60.0), (0.0, -9.0, 60.5), (0.0, -13.0, 60.0), (0.0, -16.5, 58.0),
            (0.0, -18.5, 55.0), (0.0, -19.0, 51.0)]
    mesh = tube(bend, 2.4, 14)
    lip = turning([(0.0, 49.5), (3.1, 49.5), (3.1, 51.5), (0.0, 51.5)], 18)
    return mesh.add(lip.moved(0, -19.0, 0))


def crank():
    mesh = turned_by(cylinder(3.0, 6.0, 20), (0, 0, 0), 1, 90.0)
    arm = [(5.5, 0.0, 0.0), (6.6, 3.0, -6.0), (7.0, 4.0, -16.0), (7.0, 2.5, -27.0)]
    return mesh.add(tube(arm, 1.3, 10))


def trough():
    mesh = box((-13.0, -32.0, 0.0), (13.0, -30.0, 13.0))
    mesh.add(box((-13.0, -12.0, 0.0), (13.0, -10.0, 13.0)))
    mesh.add(box((-15.0, -32.0, 0.0), (-13.0, -10.0, 13.0)))
    mesh.add(box((13.0, -32.0, 0.0), (15.0, -10.0, 13.0)))
    return mesh.add(box((-13.0, -30.0, 0.0), (13.0, -12.0, 2.0)))


def nodes():
    iron = material("iron", (0.055, 0.098, 0.085))
    bright = material("worn-iron", (0.20, 0.20, 0.19))
    stone = material("stone", (0.33, 0.31, 0.27))
    grip = Node("grip", [(turned_by(cylinder(1.9, 7.0, 16), (0, 0, 0), 1, 90.0), bright)],
                translation=(6.8, 2.5, -27.0))
    handle = Node("crank", [(crank(), iron)], [grip], translation=(4.0, 0.0, 62.0))
    body = Node("barrel", [(barrel(), iron), (flutes(), iron), (spout(), iron)], [handle])
    foot = box((-13.0, -10.0, 0.0), (13.0, 11.0, 4.0)).add(trough())
    base = Node("base", [(foot, stone)], [body])
    return [Node("pump", children=[base])]
