"""Things of a landing: an anchor, a lifebuoy, rope in the hand, a handcart."""

import math

from gltf_out import Mesh, Node, material
from pictures import scramble
from solids import box, cylinder, loft, torus, tube, turned_by


RIGHT_HAND, GROUND, AWAY = (-28.4, -14.5, -0.3), -87.0, (-33.5, 37.0)  # of rope_in_hand
FIST = 3.6  # how far a closed hand reaches about its middle


def bent(mesh, degrees, axis=0):
    return turned_by(mesh, (0.0, 0.0, 0.0), axis, degrees)


def anchor():
    """Lies on its side: the shank along X, one fluke up, the stock folded along it."""
    iron = material("anchor-iron", (0.085, 0.062, 0.048))
    worn = material("anchor-ring", (0.15, 0.13, 0.11))
    shank = tube([(-34.0, 0.0, 3.4), (-10.0, 0.0, 4.4), (20.0, 0.0, 6.2), (34.0, 0.0, 7.0)], 1.9, 10)
    arms = [(34.0 - 15.0 * (1 - math.cos(a)), 24.0 * math.sin(a), 7.0 + 5.0 * math.sin(a))
            for a in [math.radians(-72 + 12 * k) for k in range(13)]]
    body = shank.add(tube(arms, 1.9, 10))
    for side in (-1, 1):
        y, z = side * 24.0 * math.sin(math.radians(72)), 7.0 + side * 4.75
        tip = [(28.0, y + side * 3.4, z + 0.4), (14.0, y - side * 5.5, z - 0.6),
               (16.5, y + side * 1.2, z), (14.0, y + side * 6.5, z + 0.9)]
        ring = tip if side > 0 else tip[::-1]
        low = [(x, q, r - 0.6) for x, q, r in ring]
        high = [(x, q, r + 0.6) for x, q, r in ring]
        body.add(loft([low, high]))
    stock = tube([(-28.0, -21.0, 1.3), (-28.0, 0.0, 5.4), (-28.0, 21.0, 1.3)], 1.3, 8)
    for y in (-21.0, 21.0):
        stock.add(cylinder(2.1, 2.8, 12).moved(-28.0, y))
    ring = bent(torus(4.6, 0.9, 24, 8), 28.0, 1).moved(-37.6, 0.0, 3.6)
    return [Node("anchor", [(body.add(stock), iron)], [Node("ring", [(ring, worn)])])]


def lifebuoy():
    """Stands upright facing the front, its middle 31.3 above the origin."""
    cork = material("buoy-white", (0.72, 0.70, 0.63))
    red = material("buoy-red", (0.42, 0.075, 0.05))
    line = material("grab-line", (0.38, 0.30, 0.19))

    def upright(mesh):
        return bent(mesh, 90.0).moved(dz=31.3)

    rope = []
    for k in range(96):
        a = 2 * math.pi * k / 96
        rope.append((30.6 * math.cos(a) - 1.6 * math.cos(a) * abs(math.sin(2 * a)),
                     30.6 * math.sin(a) - 1.6 * math.sin(a) * abs(math.sin(2 * a)), 0.0))
    bands = Mesh()
    for k in range(4):
        middle = math.pi / 4 + math.pi / 2 * k
        rings = []
        for i in range(6):
            a = middle + math.radians(-12 + 4.8 * i)
            rings.append([((23.5 + 6.15 * math.cos(b)) * math.cos(a),
                           (23.5 + 6.15 * math.cos(b)) * math.sin(a), 4.75 * math.sin(b))
                          for b in [-2 * math.pi * j / 16 for j in range(16)]])
        bands.add(loft(rings))
    return [Node("lifebuoy", [(upright(torus(23.5, 6.0, 48, 14, 0.77)), cork)],
                 [Node("bands", [(upright(bands), red)]),
                  Node("line", [(upright(tube(rope, 0.6, 6, True)), line)])])]


def clear_of_fists(p):
    return min(math.dist(p, (0.0, 0.0, 0.0)), math.dist(p, RIGHT_HAND)) - FIST


def rim(p, q):
    """Where the line from p, out in the open, to q goes into a fist."""
    for _ in range(20):
        middle = tuple((a + b) / 2 for a, b in zip(p, q))
        p, q = (middle, q) if clear_of_fists(middle) > 0 else (p, middle)
    return p


def seen_runs(points):
    """The runs of a line that lie outside both fists, which close about the rest."""
    runs = [[]]
    for before, p in zip([None] + points, points):
        if clear_of_fists(p) > 0:
            if before is not None and clear_of_fists(before) <= 0:
                runs[-1].append(rim(p, before))
            runs[-1].append(p)
        elif runs[-1]:
            runs[-1].append(rim(before, p))
            runs.append([])
    return [run for run in runs if len(run) > 1]


def rope_in_hand():
    """Four turns that hang from the left hand, at the origin; the next one comes from the right
    hand, and from there the rope runs to the ground and away. Places of hands and ground are those
    of the figure that holds it, whose ratio the piece takes."""
    hemp = material("hemp", (0.40, 0.31, 0.18))
    turns = []
    for i in range(4 * 28 + 1):
        a = 2 * math.pi * i / 28
        wide = 7.0 + 0.8 * scramble(i // 28, 1, 231)
        long = 13.5 + 1.8 * scramble(i // 28, 2, 231)
        turns.append((wide * math.sin(a), -1.0 + 2.0 * i / 112 + 0.3 * math.sin(3 * a),
                      -long * (1 - math.cos(a))))
    hand, ground = RIGHT_HAND, GROUND + 0.75
    slack = []
    for k in range(13):
        t = k / 12
        slack.append((hand[0] * t, 1.0 + (hand[1] - 1.0) * t, hand[2] * t - 30.0 * t * (1 - t)))
    drop = [(hand[0] - 0.6, hand[1] - 0.8, -6.0), (hand[0] - 1.0, hand[1] - 1.0, -30.0),
            (hand[0] - 1.0, hand[1] - 0.4, -62.0), (hand[0] + 0.2, hand[1] + 1.6, ground + 8.0),
            (hand[0] + 3.0, hand[1] + 5.0, ground + 1.6)]
    trail = []
    for k in range(1, 25):
        t = k / 24
        trail.append((hand[0] + 3.0 + (AWAY[0] - hand[0] - 3.0) * t + 5.0 * math.sin(7.5 * t) * t,
                      hand[1] + 5.0 + (AWAY[1] - hand[1] - 5.0) * t + 4.0 * math.sin(10.0 * t),
                      ground))
    rope = Mesh()
    for run in seen_runs(turns) + seen_runs(slack + drop + trail):
        rope.add(tube(run, 0.75, 7))
    return [Node("rope-in-hand", [(rope, hemp)])]


def wheel(radius, spokes):
    """A spoked wheel about X."""
    wood = bent(torus(radius - 1.3, 1.3, 36, 8), 90.0, 1)
    for k in range(spokes):
        a = 2 * math.pi * (k + 0.5) / spokes
        wood.add(tube([(0.0, 2.0 * math.cos(a), 2.0 * math.sin(a)),
                       (0.0, (radius - 1.6) * math.cos(a), (radius - 1.6) * math.sin(a))], 0.7, 6))
    wood.add(bent(cylinder(2.6, 6.0, 16).moved(dz=-3.0), 90.0, 1))
    return wood


def handcart(wood_png):
    """Two wheels, a bed and two shafts that rest on their legs; the shafts look to the front."""
    wood = material("cart-boards", (1.0, 1.0, 1.0), ("cart-boards.png", wood_png))
    paint = material("cart-paint", (0.14, 0.19, 0.17))
    iron = material("cart-iron", (0.05, 0.05, 0.05))
    bed = Mesh()
    for k in range(5):
        bed.add(box((-19.0 + 7.7 * k, -22.0, 26.0), (-11.8 + 7.7 * k, 30.0, 27.6), 60.0))
    for x in (-19.6, 19.6):
        bed.add(box((x - 0.8, -22.0, 27.0), (x + 0.8, 30.0, 34.0), 60.0))
    bed.add(box((-18.8, 29.0, 27.6), (18.8, 30.4, 34.0), 60.0))
    frame = Mesh()
    for x in (-14.0, 14.0):
        frame.add(box((x - 1.3, -21.0, 23.2), (x + 1.3, 30.0, 26.0)))
        frame.add(tube([(x, -20.0, 24.6), (x, -34.0, 26.0), (x * 0.94, -52.0, 30.0)], 1.2, 8))
        frame.add(box((x - 1.0, -18.0, 0.0), (x + 1.0, -15.6, 24.0)))
    frame.add(tube([(-13.2, -51.6, 29.9), (13.2, -51.6, 29.9)], 0.9, 8))
    axle = bent(cylinder(1.0, 54.0, 10).moved(dz=-27.0), 90.0, 1).moved(dy=8.0, dz=19.0)
    wheels = [Node(name, [(wheel(19.0, 10), paint)], translation=(x, 8.0, 19.0))
              for name, x in (("left-wheel", 24.0), ("right-wheel", -24.0))]
    saddle = box((-15.0, 6.4, 20.0), (15.0, 9.6, 23.4))
    return [Node("handcart", [(bed, wood), (frame.add(saddle), paint), (axle, iron)], wheels)]
