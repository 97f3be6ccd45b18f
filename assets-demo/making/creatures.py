"""What the tide brought: gulls, a shore crab, a box of mackerel."""

import math

from gltf_out import Mesh, Node, material
from pictures import Canvas, mixed, noise, scramble
from solids import ball, box, loft, rounds, tube, turned_by


def gull():
    """Stands on the origin and looks to the front."""
    white = material("gull-white", (0.72, 0.72, 0.68))
    grey = material("gull-grey", (0.27, 0.31, 0.34))
    black = material("gull-black", (0.03, 0.03, 0.03))
    yellow = material("gull-bill", (0.62, 0.38, 0.07))
    pink = material("gull-legs", (0.60, 0.36, 0.22))
    body = loft(rounds([(15.0, 9.4, 0.6, 0.5), (11.0, 9.3, 2.2, 1.7), (6.0, 9.6, 4.0, 3.4),
                        (0.0, 10.0, 4.8, 4.3), (-5.0, 11.0, 4.3, 4.1), (-8.4, 13.0, 2.9, 3.0),
                        (-10.2, 15.6, 2.2, 2.4), (-11.4, 17.8, 2.3, 2.3), (-13.4, 18.4, 1.9, 1.9),
                        (-15.0, 18.0, 0.9, 0.9)], 16))
    wings = Mesh()
    for side in (-1, 1):
        wing = loft(rounds([(22.0, 10.8, 0.3, 0.3), (16.0, 11.4, 0.8, 1.4), (8.0, 11.8, 1.2, 2.8),
                            (0.0, 12.0, 1.5, 3.3), (-5.0, 12.2, 1.2, 2.4), (-7.2, 12.6, 0.4, 0.8)],
                           12))
        wing = turned_by(wing, (0.0, 0.0, 0.0), 2, 7.0 * side).moved(side * 3.3)
        wings.add(wing)
    tips = loft(rounds([(25.0, 10.0, 0.2, 0.2), (20.0, 10.4, 1.5, 0.6), (13.0, 10.6, 2.6, 1.2),
                        (10.0, 10.4, 2.0, 1.0)], 10))
    bill = loft(rounds([(-14.4, 17.8, 0.8, 0.9), (-17.2, 17.7, 0.6, 0.7), (-19.0, 17.2, 0.2, 0.3)],
                       8))
    eyes, legs = Mesh(), Mesh()
    for side in (-1, 1):
        eyes.add(ball((0.35, 0.35, 0.35), 8, 6).moved(side * 1.75, -13.2, 18.9))
        legs.add(tube([(side * 1.7, 0.6, 7.0), (side * 1.8, 0.0, 3.4), (side * 1.8, 0.8, 0.4)], 0.4,
                      6))
        foot = [(side * 1.8, 1.4, 0.0), (side * 1.8 - 1.5, -3.0, 0.0), (side * 1.8 + 1.5, -3.0, 0.0)]
        legs.add(loft([foot, [(x, y, 0.45) for x, y, _ in foot]]))
    return [Node("gull", [(body, white), (wings, grey), (tips, black), (bill, yellow),
                          (eyes, black), (legs, pink)])]


def crab():
    """A shore crab with its claws up, about 8 across the shell."""
    shell = material("shell", (0.10, 0.13, 0.06))
    belly = material("crab-legs", (0.17, 0.12, 0.05))
    dark = material("crab-eyes", (0.02, 0.02, 0.02))
    body = ball((4.2, 3.2, 1.5), 18, 10).moved(dz=2.4)
    legs, eyes = Mesh(), Mesh()
    for side in (-1, 1):
        for k in range(4):
            a = math.radians(-6 + 30 * k)
            out, back = math.cos(a), math.sin(a)
            legs.add(tube([(side * 3.6 * out, 1.6 * back, 2.2),
                           (side * 6.6 * out, 5.2 * back - 0.4, 3.9),
                           (side * 8.4 * out, 7.2 * back - 0.4, 0.3)], 0.42, 6))
        legs.add(tube([(side * 3.4, -1.8, 2.4), (side * 5.6, -3.0, 2.8), (side * 5.2, -5.0, 4.0)],
                      0.75, 7))
        claw = turned_by(ball((1.1, 2.3, 1.2), 12, 8), (0.0, 0.0, 0.0), 0, -34.0)
        legs.add(claw.moved(side * 4.8, -6.3, 5.0))
        for turn, thick in ((14.0, 0.5), (-16.0, 0.4)):
            tip = loft(rounds([(0.0, 0.0, thick, thick), (-1.8, 0.2, thick * 0.8, thick * 0.8),
                               (-3.2, 0.0, 0.1, 0.1)], 8))
            tip = turned_by(tip, (0.0, 0.0, 0.0), 2, side * turn)
            legs.add(turned_by(tip, (0.0, 0.0, 0.0), 0, -38.0).moved(side * 4.6, -7.4, 5.8))
        eyes.add(ball((0.36, 0.36, 0.36), 8, 6).moved(side * 1.1, -3.0, 3.5))
    return [Node("crab", [(body, shell), (legs, belly), (eyes, dark)])]


def mackerel_picture():
    def paint(x, y):
        around = abs(((y + 0.5) / 64) * 2 - 1)  # 1 along the back, 0 along the belly
        back = mixed((196, 200, 196), (52, 92, 104), max(0.0, (around - 0.42) / 0.18))
        bar = math.sin(0.55 * x + 5 * noise(x / 9, y / 14, 251))
        if around > 0.5 and bar > 0.15:
            back = (26, 46, 54)
        return tuple(int(c * (0.94 + 0.1 * scramble(x, y, 252))) for c in back)

    return Canvas.painted(96, 64, paint).png()


def fish():
    """Along Y, its nose to the front; the texture runs along it, the back in its middle rows."""
    mesh = loft(rounds([(10.5, 0.0, 0.15, 0.5), (7.5, 0.0, 0.5, 0.7), (3.0, 0.0, 1.3, 1.6),
                        (-2.0, 0.0, 1.6, 2.1), (-6.5, 0.0, 1.4, 1.7), (-9.6, 0.0, 0.5, 0.6),
                        (-10.4, 0.0, 0.1, 0.15)], 12))
    mesh.uvs = [(v, u) for u, v in mesh.uvs]
    for side in (-1, 1):
        tail = [(0.0, 10.0, 0.0), (0.3, 14.0, 3.0 * side), (0.0, 12.2, 0.6 * side)]
        tail = tail if side > 0 else tail[::-1]
        mesh.add(loft([[(x - 0.15, y, z) for x, y, z in tail], [(x + 0.15, y, z)
                                                               for x, y, z in tail]]))
    return mesh


def fish_box(wood_png):
    wood = material("box-slats", (1.0, 1.0, 1.0), ("box-slats.png", wood_png))
    scale = material("mackerel", (1.0, 1.0, 1.0), ("mackerel.png", mackerel_picture()))
    crate = box((-19.0, -13.0, 0.0), (19.0, 13.0, 1.2), 50.0)
    for z in (1.4, 6.4):
        crate.add(box((-20.0, -14.0, z), (20.0, -12.9, z + 4.4), 50.0))
        crate.add(box((-20.0, 12.9, z), (20.0, 14.0, z + 4.4), 50.0))
        crate.add(box((-20.0, -12.9, z), (-18.9, 12.9, z + 4.4), 50.0))
        crate.add(box((18.9, -12.9, z), (20.0, 12.9, z + 4.4), 50.0))
    one = turned_by(fish(), (0.0, 0.0, 0.0), 1, 74.0)
    fishes = []
    for k in range(13):
        turn = math.radians((8 if k % 2 else 172) + 20 * (scramble(k, 1, 255) - 0.5))
        place = (-15.6 + 2.6 * k, 1.5 * (scramble(k, 2, 255) - 0.5),
                 7.2 + 1.3 * (k % 3) + 0.8 * scramble(k, 3, 255))
        fishes.append(Node(f"fish-{k + 1}", [(one, scale)], translation=place,
                           scale=(0.9, 0.9, 0.9),
                           rotation=(0.0, math.sin(turn / 2), 0.0, math.cos(turn / 2))))
    filling = Node("ice", [(box((-18.8, -12.8, 1.2), (18.8, 12.8, 7.0)),
                            material("ice", (0.50, 0.55, 0.57)))])
    return [Node("fish-box", [(crate, wood)], [filling, *fishes])]
