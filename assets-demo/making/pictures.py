"""Small pictures made from nothing: noise, strokes and letters, written as PNG."""

import math
import struct
import zlib

MASK = 0xFFFFFFFF


def scramble(x, y, seed=0):
    """A hash of a lattice point in [0, 1)."""
    h = (x * 0x8DA6B343 ^ y * 0xD8163841 ^ seed * 0xCB1AB31F) & MASK
    h = ((h ^ (h >> 15)) * 0x2C1B3C6D) & MASK
    h = ((h ^ (h >> 12)) * 0x297A2D39) & MASK
    return (h ^ (h >> 15)) / 4294967296.0


def noise(x, y, seed=0, wrap_x=0, wrap_y=0):
    """Smooth value noise in [0, 1); wraps after that many lattice steps when they are not 0."""
    x0, y0 = math.floor(x), math.floor(y)
    fx, fy = x - x0, y - y0
    fx, fy = fx * fx * (3 - 2 * fx), fy * fy * (3 - 2 * fy)
    x1, y1 = x0 + 1, y0 + 1
    if wrap_x:
        x0, x1 = x0 % wrap_x, x1 % wrap_x
    if wrap_y:
        y0, y1 = y0 % wrap_y, y1 % wrap_y
    low = scramble(x0, y0, seed) * (1 - fx) + scramble(x1, y0, seed) * fx
    high = scramble(x0, y1, seed) * (1 - fx) + scramble(x1, y1, seed) * fx
    return low * (1 - fy) + high * fy


def mixed(a, b, t):
    t = min(1.0, max(0.0, t))
    return tuple(p + (q - p) * t for p, q in zip(a, b))


def smooth_step(low, high, x):
    t = min(1.0, max(0.0, (x - low) / (high - low)))
    return t * t * (3 - 2 * t)


class Canvas:
    """Rows of colours 0..255 from the top; three or four channels."""

    def __init__(self, width, height, colour):
        self.width, self.height, self.channels = width, height, len(colour)
        self.rows = [[tuple(colour)] * width for _ in range(height)]

    @staticmethod
    def painted(width, height, paint):
        canvas = Canvas(width, height, paint(0, 0))
        canvas.rows = [[paint(x, y) for x in range(width)] for y in range(height)]
        return canvas

    def stroke(self, a, b, half_width, colour):
        """A line with round ends and soft edges."""
        reach = half_width + 1
        x0, x1 = int(min(a[0], b[0]) - reach), int(max(a[0], b[0]) + reach) + 1
        y0, y1 = int(min(a[1], b[1]) - reach), int(max(a[1], b[1]) + reach) + 1
        dx, dy = b[0] - a[0], b[1] - a[1]
        length2 = dx * dx + dy * dy
        for y in range(max(0, y0), min(self.height, y1 + 1)):
            for x in range(max(0, x0), min(self.width, x1 + 1)):
                px, py = x + 0.5 - a[0], y + 0.5 - a[1]
                t = min(1.0, max(0.0, (px * dx + py * dy) / length2)) if length2 else 0.0
                distance = math.hypot(px - t * dx, py - t * dy)
                cover = min(1.0, max(0.0, half_width + 0.5 - distance))
                if cover > 0:
                    self.rows[y][x] = mixed(self.rows[y][x], colour, cover)

    def fill(self, x0, y0, x1, y1, colour):
        for y in range(max(0, y0), min(self.height, y1)):
            for x in range(max(0, x0), min(self.width, x1)):
                self.rows[y][x] = tuple(colour)

    def png(self):
        raw = bytearray()
        previous = bytes(self.width * self.channels)
        for row in self.rows:
            line = bytes(min(255, max(0, round(c))) for pixel in row for c in pixel)
            raw += _filtered(line, previous, self.channels)
            previous = line
        kind = {3: 2, 4: 6}[self.channels]
        header = struct.pack(">IIBBBBB", self.width, self.height, 8, kind, 0, 0, 0)
        return (b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", header) +
                _chunk(b"IDAT", zlib.compress(bytes(raw), 9)) + _chunk(b"IEND", b""))


def _chunk(name, data):
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def _filtered(line, previous, step):
    """The line by whichever of the plain, left and up filters leaves the smallest differences."""
    left = bytes((line[i] - (line[i - step] if i >= step else 0)) & 255 for i in range(len(line)))
    up = bytes((a - b) & 255 for a, b in zip(line, previous))
    choices = ((0, line), (1, left), (2, up))
    kind, best = min(choices, key=lambda c: sum(b if b < 128 else 256 - b for b in c[1]))
    return bytes([kind]) + best


# Letters as strokes on a grid 4 wide and 6 high, from the top left.
LETTERS = {
    "A": [(0, 6, 2, 0), (2, 0, 4, 6), (0.7, 4, 3.3, 4)],
    "B": [(0, 0, 0, 6), (0, 0, 3, 0), (3, 0, 3.6, 1.5), (3.6, 1.5, 3, 3), (0, 3, 3, 3),
          (3, 3, 4, 4.5), (4, 4.5, 3, 6), (3, 6, 0, 6)],
    "C": [(4, 1, 3, 0), (3, 0, 1, 0), (1, 0, 0, 1), (0, 1, 0, 5), (0, 5, 1, 6), (1, 6, 3, 6),
          (3, 6, 4, 5)],
    "D": [(0, 0, 0, 6), (0, 0, 2.5, 0), (2.5, 0, 4, 1.5), (4, 1.5, 4, 4.5), (4, 4.5, 2.5, 6),
          (2.5, 6, 0, 6)],
    "E": [(4, 0, 0, 0), (0, 0, 0, 6), (0, 6, 4, 6), (0, 3, 3, 3)],
    "F": [(4, 0, 0, 0), (0, 0, 0, 6), (0, 3, 3, 3)],
    "H": [(0, 0, 0, 6), (4, 0, 4, 6), (0, 3, 4, 3)],
    "I": [(2, 0, 2, 6)],
    "K": [(0, 0, 0, 6), (4, 0, 0, 3.4), (1.2, 2.6, 4, 6)],
    "L": [(0, 0, 0, 6), (0, 6, 4, 6)],
    "M": [(0, 6, 0, 0), (0, 0, 2, 3.5), (2, 3.5, 4, 0), (4, 0, 4, 6)],
    "N": [(0, 6, 0, 0), (0, 0, 4, 6), (4, 6, 4, 0)],
    "O": [(1, 0, 3, 0), (3, 0, 4, 1), (4, 1, 4, 5), (4, 5, 3, 6), (3, 6, 1, 6), (1, 6, 0, 5),
          (0, 5, 0, 1), (0, 1, 1, 0)],
    "R": [(0, 6, 0, 0), (0, 0, 3, 0), (3, 0, 4, 1.5), (4, 1.5, 3, 3), (3, 3, 0, 3), (1.8, 3, 4, 6)],
    "S": [(4, 1, 3, 0), (3, 0, 1, 0), (1, 0, 0, 1), (0, 1, 0.2, 2.3), (0.2, 2.3, 3.8, 3.7),
          (3.8, 3.7, 4, 5), (4, 5, 3, 6), (3, 6, 1, 6), (1, 6, 0, 5)],
    "T": [(0, 0, 4, 0), (2, 0, 2, 6)],
    "W": [(0, 0, 1, 6), (1, 6, 2, 2), (2, 2, 3, 6), (3, 6, 4, 0)],
    "Y": [(0, 0, 2, 3), (4, 0, 2, 3), (2, 3, 2, 6)],
    " ": [],
}


def write(canvas, text, left, top, height, half_width, colour, spacing=1.9):
    """Letters `height` pixels high; returns where the next letter would start."""
    s = height / 6.0
    for letter in text:
        narrow = 0.45 if letter in "I " else 1.0
        shift = -1.1 * s if letter == "I" else 0.0
        for x0, y0, x1, y1 in LETTERS[letter]:
            canvas.stroke((left + shift + x0 * s, top + y0 * s),
                          (left + shift + x1 * s, top + y1 * s), half_width, colour)
        left += (4 * narrow + spacing) * s
    return left


def text_width(text, height, spacing=1.9):
    letters = sum((4 * (0.45 if c in "I " else 1.0) + spacing) for c in text)
    return letters * height / 6 - spacing * height / 6
