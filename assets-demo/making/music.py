"""A squeezebox of six-sided ends and folded bellows."""

import math

from gltf_out import Mesh, Node, material
from solids import ball, loft, tube, turned_by

REACH = 20.0  # half the width, hand to hand
ACROSS = 8.2  # radius of an end


def hexagon(x, radius):
    return [(x, radius * math.cos(math.pi / 3 * k + math.pi / 6),
             radius * math.sin(math.pi / 3 * k + math.pi / 6)) for k in range(6)]


def bellows():
    """Folds that fan a little: the lower edges stand further apart than the upper ones."""
    folds, rings = 11, []
    for k in range(2 * folds + 1):
        s = -1 + k / folds
        radius = ACROSS * (0.95 if k % 2 else 0.80)
        lean = math.radians(9.0) * s
        rings.append([(s * (REACH - 4.6) - p[2] * math.sin(lean), p[1],
                       p[2] * math.cos(lean) - 1.6 * (1 - s * s))
                      for p in hexagon(0.0, radius)])
    flat = Mesh()  # every fold has its own edges
    for low, high in zip(rings, rings[1:]):
        flat.add(loft([low, high]))
    return flat


def end(side):
    mesh = loft([hexagon(-2.0, ACROSS), hexagon(2.0, ACROSS)])
    mesh = turned_by(mesh, (0.0, 0.0, 0.0), 1, 9.0 * side)
    return mesh.moved(side * (REACH - 2.6))


def buttons(side):
    mesh = Mesh()
    for row in range(3):
        for k in range(4):
            mesh.add(ball((0.5, 0.5, 0.5), 8, 6).moved(
                side * (REACH - 0.4), -2.4 + 2.4 * row, -3.6 + 2.0 * k))
    return mesh


def squeezebox():
    wood = material("rosewood", (0.115, 0.035, 0.022))
    skin = material("bellows", (0.045, 0.075, 0.085))
    bone = material("buttons", (0.70, 0.66, 0.55))
    leather = material("strap", (0.10, 0.055, 0.03))
    ends, straps, keys = Mesh(), Mesh(), Mesh()
    for side in (-1, 1):
        ends.add(end(side))
        keys.add(buttons(side))
        straps.add(tube([(side * (REACH - 1.0), -5.4, -4.0), (side * (REACH + 3.0), -5.0, -1.0),
                         (side * (REACH + 3.2), -4.6, 2.0), (side * (REACH - 0.2), -4.4, 5.0)],
                        0.5, 6))
    return [Node("squeezebox", [(ends, wood), (straps, leather)],
                 [Node("bellows", [(bellows(), skin)]), Node("buttons", [(keys, bone)])])]
