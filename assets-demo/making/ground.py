"""Ground cover of the four sections: mud, shingle and the tide line, as one surface cut in four.

Authored in built millimetres about the datum, so that what stands on it is placed by scene X and
Y; the files hold the original's size (a twelfth).
"""

import math

from gltf_out import Mesh, Node, material
from pictures import Canvas, mixed, noise, scramble, smooth_step
from solids import quad, scaled, unit

RATIO = 12.0
WIDTH, DEPTH = 6000.0, 3600.0
COLUMNS, ROWS = 50, 30  # grid steps of a section
HARD, FLAT, BED = 180.0, 40.0, 12.0  # heights of the shingle hard, the mud flat and the water bed

# Level places for what stands there: x low, y low, x high, y high, height. The first is the creek
# that the jetty stands in.
LEVEL = [(420, 180, 1480, 1720, BED), (3150, 560, 5950, 1480, FLAT), (2080, 560, 2950, 1560, FLAT),
         (5300, 330, 5620, 640, FLAT), (2150, 1860, 2950, 2200, HARD),
         (3700, 1560, 5050, 1800, HARD)]


def water_edge(x):
    """How far the water comes in from the front edge; beside the jetty stands a pool."""
    pool = 360.0 * math.exp(-((x - 1720.0) / 270.0) ** 2)
    return 330.0 + 90.0 * math.sin(x / 620.0) + 50.0 * math.sin(x / 233.0 + 1.0) + pool


def height(x, y):
    bank = 1560.0 + 130.0 * math.sin(x / 900.0 + 0.5) + 60.0 * math.sin(x / 310.0)
    up = smooth_step(bank - 60.0, bank + 300.0, y)
    low = BED + (FLAT - BED) * smooth_step(water_edge(x) - 60.0, water_edge(x) + 160.0, y)
    rough = 7.0 * (noise(x / 130.0, y / 130.0, 1) - 0.5)
    rough += 16.0 * (noise(x / 420.0, y / 420.0, 2) - 0.5)
    ripple = 3.0 * math.sin(y / 24.0 + 5.0 * noise(x / 300.0, y / 200.0, 4))
    on_flat = smooth_step(520.0, 700.0, y) * (1 - up)
    z = low + (HARD - low) * up + on_flat * (ripple + rough) + rough * up * (1 - up) * 4
    for x0, y0, x1, y1, level in LEVEL:
        outside = math.hypot(max(x0 - x, 0.0, x - x1), max(y0 - y, 0.0, y - y1))
        z += (level - z) * (1 - smooth_step(60.0, 200.0, outside))
    return max(z, BED)


def section(column, row):
    """A closed slab: the surface with its texture, and the plain skirts and underside."""
    mesh, cut = Mesh(), Mesh()
    x0, y0 = column * WIDTH / 2, row * DEPTH / 2
    step_x, step_y = WIDTH / 2 / COLUMNS, DEPTH / 2 / ROWS
    top = []
    for r in range(ROWS + 1):
        line = []
        for c in range(COLUMNS + 1):
            x, y = x0 + c * step_x, y0 + r * step_y
            d = 15.0
            normal = unit((height(x - d, y) - height(x + d, y),
                           height(x, y - d) - height(x, y + d), 2 * d))
            line.append(mesh.vertex(scaled((x, y, height(x, y)), 1 / RATIO), normal,
                                    (c / COLUMNS, 1 - r / ROWS)))
        top.append(line)
    for r in range(ROWS):
        for c in range(COLUMNS):
            a, b, d, e = top[r][c], top[r][c + 1], top[r + 1][c + 1], top[r + 1][c]
            mesh.triangle(a, b, d)
            mesh.triangle(a, d, e)
    rim = (top[0] + [line[-1] for line in top[1:]] + top[-1][-2::-1] +
           [line[0] for line in top[-2:0:-1]])
    points = [mesh.positions[i] for i in rim]
    for p, q in zip(points, points[1:] + points[:1]):
        cut.add(quad([(p[0], p[1], 0.0), (q[0], q[1], 0.0), q, p]))
    down = (0.0, 0.0, -1.0)
    middle = cut.vertex(((x0 + WIDTH / 4) / RATIO, (y0 + DEPTH / 4) / RATIO, 0.0), down)
    ring = [cut.vertex((p[0], p[1], 0.0), down) for p in points]
    for a, b in zip(ring, ring[1:] + ring[:1]):
        cut.triangle(middle, b, a)
    return mesh, cut


def pebbles(x, y, size, seed):
    """(distance to the nearest pebble's middle, to the second nearest, which pebble)."""
    u, v = x / size, y / size
    cx, cy = math.floor(u), math.floor(v)
    first, second, which = 9.0, 9.0, (0, 0)
    for j in (cy - 1, cy, cy + 1):
        for i in (cx - 1, cx, cx + 1):
            px, py = i + scramble(i, j, seed), j + scramble(i, j, seed + 1)
            distance = (u - px) ** 2 + (v - py) ** 2
            if distance < first:
                first, second, which = distance, first, (i, j)
            elif distance < second:
                second = distance
    return math.sqrt(first), math.sqrt(second), which


STONES = [(176, 164, 144), (152, 144, 132), (194, 180, 158), (128, 124, 118), (166, 148, 124),
          (208, 198, 180), (140, 138, 140), (182, 160, 134)]


def shingle(x, y):
    near, next_near, which = pebbles(x, y, 34.0, 11)
    stone = STONES[int(scramble(which[0], which[1], 13) * len(STONES))]
    gap = smooth_step(0.02, 0.22, next_near - near)
    dome = 1.06 - 0.22 * near * near
    return mixed((104, 94, 80), tuple(c * dome for c in stone), gap)


def mud(x, y):
    wet = noise(x / 520.0, y / 260.0, 21) * 0.65 + noise(x / 130.0, y / 90.0, 22) * 0.35
    colour = mixed((140, 123, 100), (106, 96, 82), smooth_step(0.3, 0.7, wet))
    ripple = math.sin(y / 24.0 + 5.0 * noise(x / 300.0, y / 200.0, 4))
    fine = noise(x / 14.0, y / 14.0, 23) - 0.5
    colour = tuple(c * (1 + 0.07 * ripple + 0.12 * fine) for c in colour)
    stone = pebbles(x, y, 62.0, 31)
    if stone[0] < 0.16 and scramble(stone[2][0], stone[2][1], 33) > 0.72:
        colour = mixed(colour, STONES[int(scramble(stone[2][0], stone[2][1], 34) * 8)], 0.8)
    return colour


def surface_colour(x, y):
    bank = 1560.0 + 130.0 * math.sin(x / 900.0 + 0.5) + 60.0 * math.sin(x / 310.0)
    rough = 120.0 * (noise(x / 150.0, y / 150.0, 41) - 0.5)
    rough += 60.0 * (noise(x / 40.0, y / 40.0, 42) - 0.5)
    stony = smooth_step(bank - 30.0, bank + 60.0, y + rough)
    colour = mud(x, y) if stony < 1 else (0, 0, 0)
    if stony > 0:
        colour = mixed(colour, shingle(x, y), stony)
    weed = math.exp(-((y + 1.6 * rough - bank - 110.0) / 55.0) ** 2)
    ragged = noise(x / 30.0, y / 22.0, 51) * 0.6 + noise(x / 9.0, y / 9.0, 52) * 0.4
    weedy = smooth_step(0.52, 0.68, weed * (0.45 + 0.7 * ragged))
    colour = mixed(colour, (58, 60, 38), 0.9 * weedy)
    wet = 1 - smooth_step(BED + 2.0, FLAT - 2.0, height(x, y) + 0.06 * rough)
    colour = mixed(colour, tuple(c * 0.70 for c in colour), wet)
    trodden = smooth_step(0.45, 0.7, noise(x / 260.0, y / 180.0, 61)) * stony
    return mixed(colour, (186, 172, 148), 0.38 * trodden)


def picture(column, row, width=640, height_px=384):
    x0, y0 = column * WIDTH / 2, row * DEPTH / 2

    def paint(i, j):
        x = x0 + (i + 0.5) * WIDTH / 2 / width
        y = y0 + (height_px - j - 0.5) * DEPTH / 2 / height_px
        return tuple(min(255, int(c / 6 + 0.5) * 6) for c in surface_colour(x, y))

    return Canvas.painted(width, height_px, paint).png()


def nodes(column, row):
    surface = material("ground", (1.0, 1.0, 1.0), ("ground.png", picture(column, row)))
    earth = material("earth", (0.155, 0.125, 0.095))
    top, cut = section(column, row)
    return [Node("ground", [(top, surface), (cut, earth)])]
