"""Writes glTF 2.0: meshes authored in the piece's axes (mm, Z up, front -Y) become metres, Y up."""

import json
import struct

FLOAT, UNSIGNED_INT, UNSIGNED_SHORT = 5126, 5125, 5123
ARRAY_BUFFER, ELEMENT_ARRAY_BUFFER = 34962, 34963


class Mesh:
    """Triangles with one normal and one place in the texture for each vertex."""

    def __init__(self):
        self.positions, self.normals, self.uvs, self.triangles = [], [], [], []

    def vertex(self, position, normal, uv=(0.0, 0.0)):
        self.positions.append(tuple(position))
        self.normals.append(tuple(normal))
        self.uvs.append(tuple(uv))
        return len(self.positions) - 1

    def triangle(self, a, b, c):
        pa, pb, pc = self.positions[a], self.positions[b], self.positions[c]
        u = [pb[i] - pa[i] for i in range(3)]
        v = [pc[i] - pa[i] for i in range(3)]
        cross = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
        if sum(x * x for x in cross) > 1e-12:  # a sliver of no area is left out
            self.triangles.append((a, b, c))

    def add(self, other):
        start = len(self.positions)
        self.positions += other.positions
        self.normals += other.normals
        self.uvs += other.uvs
        self.triangles += [(a + start, b + start, c + start) for a, b, c in other.triangles]
        return self

    def moved(self, dx=0.0, dy=0.0, dz=0.0):
        self.positions = [(x + dx, y + dy, z + dz) for x, y, z in self.positions]
        return self

    def mapped(self, position_map, normal_map):
        """A rigid motion given as two functions."""
        self.positions = [tuple(position_map(p)) for p in self.positions]
        self.normals = [tuple(normal_map(n)) for n in self.normals]
        return self


def material(name, colour=(0.7, 0.7, 0.7), image=None, mask=False, two_sided=False, alpha=1.0):
    """Linear colour. `image` is a PNG's bytes with a file name: ("net.png", bytes)."""
    return {"name": name, "colour": colour, "image": image, "mask": mask, "two_sided": two_sided,
            "alpha": alpha}


class Node:
    """A node of the hierarchy; `parts` is a list of (Mesh, material) pairs."""

    def __init__(self, name, parts=(), children=(), translation=None, rotation=None, scale=None):
        self.name, self.parts, self.children = name, list(parts), list(children)
        self.translation, self.rotation, self.scale = translation, rotation, scale


def to_file(p):
    return (p[0], p[2], -p[1])


class _Writer:
    def __init__(self, external_images):
        self.external_images = external_images
        self.binary = bytearray()
        self.files = {}
        self.json = {"asset": {"version": "2.0", "generator": "assets-demo/make_models.py"},
                     "scene": 0, "scenes": [{"nodes": []}], "nodes": [], "meshes": [],
                     "accessors": [], "bufferViews": [], "buffers": [], "materials": []}
        self.materials, self.meshes = {}, {}

    def view(self, data, target=None):
        while len(self.binary) % 4:
            self.binary.append(0)
        view = {"buffer": 0, "byteOffset": len(self.binary), "byteLength": len(data)}
        if target:
            view["target"] = target
        self.binary += data
        self.json["bufferViews"].append(view)
        return len(self.json["bufferViews"]) - 1

    def accessor(self, rows, kind, with_bounds=False):
        width = {"VEC2": 2, "VEC3": 3}[kind]
        data = b"".join(struct.pack("<%df" % width, *row) for row in rows)
        entry = {"bufferView": self.view(data, ARRAY_BUFFER), "componentType": FLOAT,
                 "count": len(rows), "type": kind}
        if with_bounds:
            code = "<%df" % width
            as_float = [struct.unpack(code, struct.pack(code, *r)) for r in rows]
            entry["min"] = [min(r[i] for r in as_float) for i in range(width)]
            entry["max"] = [max(r[i] for r in as_float) for i in range(width)]
        self.json["accessors"].append(entry)
        return len(self.json["accessors"]) - 1

    def indices(self, triangles, vertex_count):
        short = vertex_count < 65535
        code = "<3H" if short else "<3I"
        data = b"".join(struct.pack(code, *t) for t in triangles)
        self.json["accessors"].append(
            {"bufferView": self.view(data, ELEMENT_ARRAY_BUFFER),
             "componentType": UNSIGNED_SHORT if short else UNSIGNED_INT,
             "count": 3 * len(triangles), "type": "SCALAR"})
        return len(self.json["accessors"]) - 1

    def texture(self, image):
        name, png = image
        images = self.json.setdefault("images", [])
        if self.external_images:
            self.files[name] = png
            images.append({"uri": name})
        else:
            images.append({"mimeType": "image/png", "bufferView": self.view(png), "name": name})
        self.json.setdefault("samplers", [{"magFilter": 9729, "minFilter": 9729,
                                           "wrapS": 10497, "wrapT": 10497}])
        self.json.setdefault("textures", []).append({"sampler": 0, "source": len(images) - 1})
        return len(self.json["textures"]) - 1

    def material(self, m):
        if id(m) in self.materials:
            return self.materials[id(m)]
        surface = {"baseColorFactor": [*m["colour"], m["alpha"]], "metallicFactor": 0.0,
                   "roughnessFactor": 0.9}
        if m["image"]:
            surface["baseColorTexture"] = {"index": self.texture(m["image"])}
        entry = {"name": m["name"], "pbrMetallicRoughness": surface}
        if m["mask"]:
            entry["alphaMode"], entry["alphaCutoff"] = "MASK", 0.5
        elif m["alpha"] < 1:
            entry["alphaMode"] = "BLEND"
        if m["two_sided"]:
            entry["doubleSided"] = True
        self.json["materials"].append(entry)
        self.materials[id(m)] = len(self.json["materials"]) - 1
        return self.materials[id(m)]

    def primitive(self, mesh, surface):
        metres = [tuple(0.001 * x for x in to_file(p)) for p in mesh.positions]
        attributes = {"POSITION": self.accessor(metres, "VEC3", True),
                      "NORMAL": self.accessor([to_file(n) for n in mesh.normals], "VEC3")}
        if surface["image"]:
            attributes["TEXCOORD_0"] = self.accessor(mesh.uvs, "VEC2")
        return {"attributes": attributes,
                "indices": self.indices(mesh.triangles, len(mesh.positions)),
                "material": self.material(surface)}

    def mesh(self, name, parts):
        key = tuple(id(mesh) for mesh, _ in parts)
        if key not in self.meshes:
            primitives = [self.primitive(mesh, surface) for mesh, surface in parts]
            self.json["meshes"].append({"name": name, "primitives": primitives})
            self.meshes[key] = len(self.json["meshes"]) - 1
        return self.meshes[key]

    def node(self, node):
        entry = {"name": node.name}
        self.json["nodes"].append(entry)
        index = len(self.json["nodes"]) - 1
        if node.parts:
            entry["mesh"] = self.mesh(node.name, node.parts)
        if node.translation:
            entry["translation"] = [0.001 * x for x in to_file(node.translation)]
        if node.rotation:
            entry["rotation"] = list(node.rotation)
        if node.scale:
            entry["scale"] = list(node.scale)
        if node.children:
            entry["children"] = [self.node(child) for child in node.children]
        return index


def _document(roots, external_images, buffer_name=None):
    writer = _Writer(external_images)
    writer.json["scenes"][0]["nodes"] = [writer.node(root) for root in roots]
    while len(writer.binary) % 4:
        writer.binary.append(0)
    buffer = {"byteLength": len(writer.binary)}
    if buffer_name:
        buffer["uri"] = buffer_name
    writer.json["buffers"].append(buffer)
    return writer


def glb_bytes(roots):
    writer = _document(roots, False)
    text = json.dumps(writer.json, separators=(",", ":")).encode()
    text += b" " * (-len(text) % 4)
    binary = bytes(writer.binary)
    total = 12 + 8 + len(text) + 8 + len(binary)
    return (struct.pack("<4sII", b"glTF", 2, total) + struct.pack("<I4s", len(text), b"JSON") +
            text + struct.pack("<I4s", len(binary), b"BIN\0") + binary)


def gltf_files(name, roots):
    """File name -> bytes: the .gltf, its .bin and its textures, beside each other."""
    writer = _document(roots, True, name + ".bin")
    text = json.dumps(writer.json, indent=1).encode() + b"\n"
    return {name + ".gltf": text, name + ".bin": bytes(writer.binary), **writer.files}
