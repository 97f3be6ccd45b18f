"""Mist that lies on the water: banks of level sheets that thin out to the rim.

Effects are built at 1:1. A picture follows a ray through no more than eight sheets, so there are
few of them, and rings of one sheet differ so little that no edge is seen.
"""

import math

from gltf_out import Mesh, Node, material
from pictures import scramble

SHEETS, RINGS, ROUND = 2, 10, 36
# Banks along the creek, millimetres about the datum: middle, half width, half depth.
BANKS = ((330.0, 260.0, 300.0, 230.0), (1080.0, 205.0, 560.0, 190.0), (1830.0, 300.0, 470.0, 280.0),
         (2640.0, 200.0, 620.0, 180.0), (3560.0, 190.0, 640.0, 175.0), (4480.0, 185.0, 600.0, 170.0),
         (5330.0, 165.0, 540.0, 150.0))
THICKEST = 0.16  # of the light that a sheet takes at its middle
LOW, APART = 14.0, 34.0  # over the water


def outline(bank, k, size):
    """Points about the middle of a sheet; wavy, and rounder towards the middle."""
    x, y, wide, deep = BANKS[bank]
    seed, wave = scramble(k, bank, 317), 0.4 + 0.6 * size
    shift = (scramble(k, bank, 313) - 0.5) * 0.5
    points = []
    for i in range(ROUND):
        a = 2 * math.pi * i / ROUND
        r = size * (1 + wave * (0.10 * math.sin(2 * a + 6.3 * seed) +
                                0.06 * math.sin(5 * a + 17.0 * seed)))
        points.append((x + wide * (shift + r * math.cos(a)), y + deep * r * math.sin(a),
                       LOW + APART * k))
    return points


def ring(mesh, outer, inner):
    up = (0.0, 0.0, 1.0)
    rims = [[mesh.vertex(p, up) for p in points] for points in (outer, inner)]
    for i in range(ROUND):
        j = (i + 1) % ROUND
        mesh.triangle(rims[0][i], rims[0][j], rims[1][j])
        mesh.triangle(rims[0][i], rims[1][j], rims[1][i])


def mist():
    parts = []
    for step in range(RINGS):
        share = (step + 0.5) / RINGS
        faint = material(f"mist-{step + 1}", (0.80, 0.86, 0.87), two_sided=True,
                         alpha=round(THICKEST * share * share * (3 - 2 * share), 4))
        mesh = Mesh()
        for bank in range(len(BANKS)):
            for k in range(SHEETS):
                ring(mesh, outline(bank, k, 1 - step / RINGS),
                     outline(bank, k, max(1 - (step + 1) / RINGS, 0.002)))
        parts.append((mesh, faint))
    return [Node("mist", parts)]
