"""Simple solids as meshes, in the piece's axes: mm of the original, Z up, front -Y."""

import math

from gltf_out import Mesh


def add(a, b):
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def subtract(a, b):
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scaled(a, s):
    return (a[0] * s, a[1] * s, a[2] * s)


def cross(a, b):
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def unit(a):
    length = math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2])
    return (a[0] / length, a[1] / length, a[2] / length) if length > 1e-12 else (0.0, 0.0, 1.0)


def quad(corners, uvs=((0, 1), (1, 1), (1, 0), (0, 0))):
    """Four corners counter-clockwise seen from outside."""
    mesh = Mesh()
    normal = unit(cross(subtract(corners[1], corners[0]), subtract(corners[3], corners[0])))
    a, b, c, d = (mesh.vertex(p, normal, uv) for p, uv in zip(corners, uvs))
    mesh.triangle(a, b, c)
    mesh.triangle(a, c, d)
    return mesh


def box(low, high, uv_mm=40.0):
    """An upright box between two corners; texture runs along the longer side of every face."""
    mesh = Mesh()
    for axis in range(3):
        u, v = (axis + 1) % 3, (axis + 2) % 3
        for side in (0, 1):
            ring = [(0, 0), (1, 0), (1, 1), (0, 1)] if side else [(0, 0), (0, 1), (1, 1), (1, 0)]
            corners, uvs = [], []
            along = u if high[u] - low[u] >= high[v] - low[v] else v
            across = v if along == u else u
            for s, t in ring:
                p = [0.0, 0.0, 0.0]
                p[axis] = high[axis] if side else low[axis]
                p[u] = high[u] if s else low[u]
                p[v] = high[v] if t else low[v]
                corners.append(tuple(p))
                uvs.append((p[along] / uv_mm, p[across] / uv_mm))
            mesh.add(quad(corners, uvs))
    return mesh


def turned_by(mesh, about, axis, degrees):
    """Turns a mesh about a point, around X, Y or Z (0, 1, 2), counter-clockwise seen from +axis."""
    s, c = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    u, v = (axis + 1) % 3, (axis + 2) % 3

    def turn(n):
        out = list(n)
        out[u], out[v] = c * n[u] - s * n[v], s * n[u] + c * n[v]
        return tuple(out)

    return mesh.mapped(lambda p: add(turn(subtract(p, about)), about), turn)


def turning(profile, facets=32, crease_deg=35.0):
    """(radius, height) pairs, foot to top, turned about Z; edges sharper than the crease stay."""
    mesh = Mesh()
    directions = []
    for (r0, z0), (r1, z1) in zip(profile, profile[1:]):
        length = math.hypot(r1 - r0, z1 - z0)
        directions.append(((r1 - r0) / length, (z1 - z0) / length))

    def slope_normal(segment, other):
        d = directions[segment]
        if 0 <= other < len(directions):
            o = directions[other]
            if d[0] * o[0] + d[1] * o[1] > math.cos(math.radians(crease_deg)):
                d = (d[0] + o[0], d[1] + o[1])
        size = math.hypot(*d)
        return (d[1] / size, -d[0] / size)

    total = sum(math.hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(profile, profile[1:]))
    run = 0.0
    for k, ((r0, z0), (r1, z1)) in enumerate(zip(profile, profile[1:])):
        step = math.hypot(r1 - r0, z1 - z0)
        rows = []
        for r, z, other, v in ((r0, z0, k - 1, run), (r1, z1, k + 1, run + step)):
            nr, nz = slope_normal(k, other)
            row = []
            for i in range(facets + 1):
                angle = 2 * math.pi * i / facets
                x, y = (1.0, 0.0) if i in (0, facets) else (math.cos(angle), math.sin(angle))
                row.append(mesh.vertex((r * x, r * y, z), unit((nr * x, nr * y, nz)),
                                       (i / facets, 1 - v / total)))
            rows.append(row)
        run += step
        for i in range(facets):
            a, b, c, d = rows[0][i], rows[0][i + 1], rows[1][i + 1], rows[1][i]
            mesh.triangle(a, b, c)
            mesh.triangle(a, c, d)
    return mesh


def cylinder(radius, height, facets=24):
    return turning([(0.0, 0.0), (radius, 0.0), (radius, height), (0.0, height)], facets)


def tube(points, radius, facets=10, closed=False):
    """A round bar along a line of points, with flat ends unless it closes on itself."""
    mesh = Mesh()
    count = len(points)
    tangents = []
    for i in range(count):
        before = points[i - 1] if i > 0 or closed else points[i]
        after = points[(i + 1) % count] if i + 1 < count or closed else points[i]
        tangents.append(unit(subtract(after, before)))
    other = (0.0, 0.0, 1.0) if abs(tangents[0][2]) < 0.9 else (1.0, 0.0, 0.0)
    side = unit(cross(tangents[0], other))
    rows = []
    for p, t in zip(points, tangents):
        side = unit(subtract(side, scaled(t, sum(side[i] * t[i] for i in range(3)))))
        up = cross(side, t)
        row = []
        for k in range(facets + 1):
            angle = 2 * math.pi * (k % facets) / facets
            n = add(scaled(side, math.cos(angle)), scaled(up, math.sin(angle)))
            row.append(mesh.vertex(add(p, scaled(n, radius)), n, (k / facets, len(rows) / 4)))
        rows.append(row)
    pairs = list(zip(rows, rows[1:])) + ([(rows[-1], rows[0])] if closed else [])
    for low, high in pairs:
        for k in range(facets):
            mesh.triangle(low[k], high[k + 1], low[k + 1])
            mesh.triangle(low[k], high[k], high[k + 1])
    if not closed:
        ends = ((rows[0], scaled(tangents[0], -1), False), (rows[-1], tangents[-1], True))
        for row, t, outward in ends:
            rim = [mesh.vertex(mesh.positions[v], t) for v in row[:-1]]
            for k in range(1, facets - 1):
                if outward:
                    mesh.triangle(rim[0], rim[k + 1], rim[k])
                else:
                    mesh.triangle(rim[0], rim[k], rim[k + 1])
    return mesh


def sheet(points, uvs, flip=False):
    """A grid of points with smooth normals: rows of equal length, outside on the right-hand side
    of (along a row) x (from row to row)."""
    mesh = Mesh()
    rows, columns = len(points), len(points[0])
    index = []
    for r in range(rows):
        line = []
        for c in range(columns):
            along = subtract(points[r][min(c + 1, columns - 1)], points[r][max(c - 1, 0)])
            across = subtract(points[min(r + 1, rows - 1)][c], points[max(r - 1, 0)][c])
            n = unit(cross(along, across))
            line.append(mesh.vertex(points[r][c], scaled(n, -1) if flip else n, uvs[r][c]))
        index.append(line)
    for r in range(rows - 1):
        for c in range(columns - 1):
            a, b = index[r][c], index[r][c + 1]
            d, e = index[r + 1][c], index[r + 1][c + 1]
            for tri in ((a, b, e), (a, e, d)):
                mesh.triangle(*(reversed(tri) if flip else tri))
    return mesh


def ball(radii, facets=16, rings=10):
    """An ellipsoid about the origin."""
    rows, uvs = [], []
    for r in range(rings + 1):
        high = -math.pi / 2 + math.pi * r / rings
        flat = 0.0 if r in (0, rings) else math.cos(high)
        rows.append([(radii[0] * flat * math.cos(2 * math.pi * (c % facets) / facets),
                      radii[1] * flat * math.sin(2 * math.pi * (c % facets) / facets),
                      radii[2] * math.sin(high)) for c in range(facets + 1)])
        uvs.append([(c / facets, 1 - r / rings) for c in range(facets + 1)])
    mesh = sheet(rows, uvs)
    mesh.normals = [unit(tuple(p[i] / radii[i] ** 2 for i in range(3))) for p in mesh.positions]
    return mesh


def loft(rings, v_scale=1.0):
    """A closed skin over rings of equally many points, each counter-clockwise seen from the last
    ring's side; the ends are flat."""
    mesh = Mesh()
    count, last = len(rings[0]), len(rings) - 1
    rows = []
    for r, ring in enumerate(rings):
        line = []
        for c in range(count + 1):
            k = c % count
            along = subtract(ring[(k + 1) % count], ring[k - 1])
            up = subtract(rings[min(r + 1, last)][k], rings[max(r - 1, 0)][k])
            line.append(mesh.vertex(ring[k], unit(cross(along, up)),
                                    (c / count, v_scale * r / last)))
        rows.append(line)
    for low, high in zip(rows, rows[1:]):
        for k in range(count):
            mesh.triangle(low[k], low[k + 1], high[k + 1])
            mesh.triangle(low[k], high[k + 1], high[k])
    for ring, outward in ((rings[0], False), (rings[-1], True)):
        normal = unit(cross(subtract(ring[1], ring[0]), subtract(ring[count // 2], ring[0])))
        normal = normal if outward else scaled(normal, -1)
        rim = [mesh.vertex(p, normal) for p in ring]
        for k in range(1, count - 1):
            mesh.triangle(*((rim[0], rim[k], rim[k + 1]) if outward else
                            (rim[0], rim[k + 1], rim[k])))
    return mesh


def rounds(stations, facets=12):
    """Rings for a loft along Y, front last: (y, middle z, half width, half height) each."""
    return [[(w * math.sin(2 * math.pi * k / facets), y,
              z - h * math.cos(2 * math.pi * k / facets)) for k in range(facets)]
            for y, z, w, h in stations]


def torus(radius, thick, around=40, across=12, half_flat=1.0):
    """A ring about Z through the origin, its section `thick` in radius."""
    rows, uvs = [], []
    for i in range(around + 1):
        a = 2 * math.pi * (i % around) / around
        row = []
        for k in range(across + 1):
            b = 2 * math.pi * (k % across) / across
            reach = radius + thick * math.cos(b)
            row.append((reach * math.cos(a), reach * math.sin(a), half_flat * thick * math.sin(b)))
        rows.append(row)
        uvs.append([(i / around, k / across) for k in range(across + 1)])
    mesh = sheet(rows, uvs, flip=True)
    normals = []
    for i in range(around + 1):
        a = 2 * math.pi * (i % around) / around
        for k in range(across + 1):
            b = 2 * math.pi * (k % across) / across
            normals.append(unit((math.cos(b) * math.cos(a), math.cos(b) * math.sin(a),
                                 math.sin(b) / half_flat)))
    mesh.normals = normals
    return mesh
