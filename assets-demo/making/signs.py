"""Painted things: the notice board with its page, lettered signs and the painted back cloth."""

from gltf_out import Node, material
from pictures import Canvas, mixed, noise, scramble, smooth_step, text_width, write
from solids import box, quad, turned_by

INK = (52, 50, 48)


def upright(width, height, y, z):
    """A face that looks to the front, its foot at z."""
    return quad([(-width / 2, y, z), (width / 2, y, z), (width / 2, y, z + height),
                 (-width / 2, y, z + height)])


def page_picture():
    canvas = Canvas(256, 320, (232, 224, 200))
    canvas.rows = [[mixed((234, 227, 205), (212, 200, 170), noise(x / 60, y / 60, 71))
                    for x in range(256)] for y in range(320)]
    write(canvas, "LOW WATER", (256 - text_width("LOW WATER", 24)) / 2, 26, 24, 2.2, INK)
    canvas.fill(28, 66, 228, 69, INK)
    for k in range(9):
        y = 90 + 23 * k
        x = 30.0
        while x < 212:
            end = min(222.0, x + 10 + 30 * scramble(int(x), k, 73))
            canvas.stroke((x, y), (end, y), 2.0, mixed(INK, (150, 140, 120), 0.25))
            x = end + 9
    canvas.fill(28, 296, 228, 298, (140, 60, 48))
    return canvas.png()


def small_page_picture():
    canvas = Canvas(96, 128, (205, 214, 206))
    write(canvas, "FERRY", (96 - text_width("FERRY", 14)) / 2, 12, 14, 1.4, (120, 52, 44))
    for k in range(6):
        canvas.stroke((12, 44 + 13 * k), (84 - 20 * scramble(k, 3, 81), 44 + 13 * k), 1.3, INK)
    return canvas.png()


def notice_board():
    timber = material("board-timber", (0.105, 0.13, 0.135))
    back = material("board-back", (0.30, 0.25, 0.18))
    page = material("page", (1.0, 1.0, 1.0), ("page.png", page_picture()))
    small = material("small-page", (1.0, 1.0, 1.0), ("small-page.png", small_page_picture()))
    frame = box((-24.0, -1.6, 0.0), (-21.0, 1.6, 128.0))
    frame.add(box((21.0, -1.6, 0.0), (24.0, 1.6, 128.0)))
    frame.add(box((-21.0, -1.4, 74.0), (21.0, 1.4, 77.0)))
    frame.add(box((-21.0, -1.4, 124.0), (21.0, 1.4, 127.0)))
    for side in (-1, 1):
        left, right = min(0.0, side * 29.0), max(0.0, side * 29.0)
        left_z, right_z = (132.0, 128.0) if side > 0 else (128.0, 132.0)
        frame.add(quad([(left, -5.0, left_z), (right, -5.0, right_z), (right, 5.0, right_z),
                        (left, 5.0, left_z)]))
        frame.add(quad([(left, -5.0, 127.0), (right, -5.0, 127.0), (right, -5.0, right_z),
                        (left, -5.0, left_z)]))
    frame.add(box((-28.0, -4.6, 126.2), (28.0, 4.6, 127.4)))
    panel = box((-21.0, 0.0, 77.0), (21.0, 1.2, 124.0))
    return [Node("notice-board", [(frame, timber), (panel, back)],
                 [Node("page", [(upright(30.0, 37.5, -0.3, 80.0).moved(-4.0), page)]),
                  Node("small-page", [(upright(8.0, 10.7, -0.3, 98.0).moved(16.0), small)])])]


def painted_board(width, height, text, letter, ground, ink, seed):
    pixels = 512, max(32, int(512 * height / width))

    def paint(x, y):
        wear = noise(x / 50, y / 6, seed) * 0.6 + noise(x / 12, y / 5, seed + 1) * 0.4
        return mixed(ground, tuple(c * 0.8 for c in ground), wear)

    canvas = Canvas.painted(*pixels, paint)
    tall = pixels[1] * letter
    left = (pixels[0] - text_width(text, tall, 2.4)) / 2
    write(canvas, text, left, (pixels[1] - tall) / 2, tall, tall / 14, ink, 2.4)
    return canvas.png()


def lettered(name, width, height, text, letter, ground, ink, seed):
    """A board `width` x `height` whose foot is at the origin, lettered on the front."""
    face = material(name + "-face", (1.0, 1.0, 1.0),
                    (name + ".png", painted_board(width, height, text, letter, ground, ink, seed)))
    edge = material(name + "-edge", tuple((c / 255) ** 2.2 * 0.8 for c in ground))
    board = box((-width / 2, -1.0, 0.0), (width / 2, 1.0, height))
    far = turned_by(upright(width, height, -1.15, 0.0), (0.0, 0.0, 0.0), 2, 180.0)
    return [Node(name, [(board, edge)],
                 [Node("lettering", [(upright(width, height, -1.15, 0.0), face)]),
                  Node("lettering-far", [(far, face)])])]


SKY = [(0.0, (128, 160, 182)), (0.45, (178, 197, 205)), (0.72, (222, 217, 202)),
       (0.84, (238, 220, 190))]


def sky_colour(t):
    for (a, low), (b, high) in zip(SKY, SKY[1:]):
        if t <= b:
            return mixed(low, high, smooth_step(a, b, t))
    return SKY[-1][1]


def far_shore(x):
    """Height of the far shore over the horizon, in shares of the cloth; x in cloth heights."""
    return 0.016 + 0.030 * noise(x * 2.2 + 3, 0.5, 91) + 0.012 * noise(x * 9, 0.5, 92)


def near_shore(x):
    return 0.075 * smooth_step(1.2, 2.4, x) * (0.55 + 0.6 * noise(x * 3.1, 0.5, 93)) - 0.012


def cloth_colour(x, t):
    """x along the cloth in its heights, t from 0 at the top to 1 at the foot."""
    horizon = 0.70
    if t < horizon:
        colour = sky_colour(t / horizon * 0.84)
        body = noise(x * 2.2 + t * 1.2, t * 9.0, 95) * 0.55 + noise(x * 5.0, t * 17.0, 96) * 0.3
        body += noise(x * 13.0, t * 36.0, 97) * 0.15
        colour = mixed(colour, (248, 240, 226), 0.9 * smooth_step(0.50, 0.72, body))
        shade = smooth_step(0.55, 0.30, body) if body < 0.55 else 0
        colour = mixed(colour, (140, 154, 164), 0.5 * shade)
        if t > horizon - far_shore(x):
            colour = mixed((138, 152, 158), colour, 0.30)
        if t > horizon - near_shore(x):
            tree = 0.12 * (noise(x * 40, t * 90, 98) - 0.5)
            colour = tuple(c * (1 + tree) for c in (104, 118, 112))
        return colour
    depth = (t - horizon) / (1 - horizon)
    water = mixed((214, 208, 192), (150, 160, 158), smooth_step(0.0, 0.7, depth))
    bars = noise(x * 4.0, depth * depth * 26.0 + depth * 30.0, 99)
    bank = smooth_step(0.55, 0.66, bars + 0.25 * depth - 0.08)
    glint = smooth_step(0.62, 0.8, noise(x * 7.0, depth * 70.0, 100))
    return mixed(mixed(water, (128, 120, 104), 0.75 * bank), (236, 228, 210), 0.35 * glint)


def cloth_picture(part, width=640, height=480):
    def paint(i, j):
        x = (part + (i + 0.5) / width) * (3000.0 / 2400.0)
        colour = cloth_colour(x, (j + 0.5) / height)
        return tuple(int(c + 0.35 + 0.3 * scramble(i, j, 101)) for c in colour)

    return Canvas.painted(width, height, paint)


def masts(canvas, places):
    for x, foot, tall in places:
        canvas.stroke((x, foot), (x + 1.5, foot - tall), 0.7, (92, 92, 90))
        canvas.stroke((x - tall * 0.2, foot + 1), (x + tall * 0.24, foot + 1), 1.6, (84, 84, 84))
        canvas.stroke((x + 1, foot - tall * 0.8), (x + tall * 0.17, foot - 4), 0.5, (116, 112, 104))


def back_cloth(part):
    """Half the painted cloth, 2980 x 2400 built, on a batten frame."""
    canvas = cloth_picture(part)
    west, east = [(150, 341, 34), (318, 338, 20), (560, 340, 26)], [(96, 339, 22), (240, 342, 38)]
    masts(canvas, west if part == 0 else east)
    face = material("cloth", (1.0, 1.0, 1.0), ("cloth.png", canvas.png()))
    frame = material("batten", (0.30, 0.24, 0.17))
    width, height = 2980.0 / 12, 2400.0 / 12
    slab = box((-width / 2, -0.8, 0.0), (width / 2, 0.8, height))
    cloth = Node("cloth", [(upright(width, height, -0.95, 0.0), face)])
    return [Node("back-cloth", [(slab, frame)], [cloth])]
