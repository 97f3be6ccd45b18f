"""Reads every include of src/ and fails on one that the plan of the house does not allow."""

import json
import re
import sys
import unittest
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
WALLS = json.loads((TOP / "tests/house/walls.json").read_text())
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]', re.M)
# Headers of the C++ library have no dot; of C and POSIX these are used.
SYSTEM = re.compile(r"^(?:[a-z_]+|(?:sys/)?[a-z]+\.h)$")


def reach(room):
    """The room, and every room it may use, and what those bring."""
    rooms = {room}
    for used in WALLS[room]["rooms"]:
        rooms |= reach(used)
    return rooms


def libraries(room):
    return {name for used in reach(room) for name in WALLS[used]["libraries"]}


def library_of(header):
    """The library a third-party header belongs to; None: of the system."""
    first = header.split("/")[0].removesuffix(".h").removesuffix(".hpp")
    for name in {n for wall in WALLS.values() for n in wall["libraries"]}:
        if first == name or first.startswith((name + "_", name + "-")) or (
            name in ("stb", "geos") and first.startswith(name)
        ):
            return name
    return None


def faults(room, text, public):
    """What is wrong with the includes of one file, as (header, why)."""
    for mark, header in INCLUDE.findall(text):
        library = library_of(header)
        if mark == '"':
            if header.split("/")[0] not in reach(room):
                yield header, f"{room} may use only {sorted(reach(room))}"
        elif library is not None:
            if library not in libraries(room):
                yield header, f"{room} may use only the libraries {sorted(libraries(room))}"
            elif public and library not in ("glm",):
                yield header, "a public header brings no library but glm"
        elif not SYSTEM.match(header):
            yield header, "is of no listed library"


class Walls(unittest.TestCase):
    def test_every_folder_is_in_the_plan(self):
        folders = {p.name for p in (TOP / "src").iterdir() if p.is_dir()}
        self.assertEqual(folders, set(WALLS))

    def test_no_include_crosses_a_wall(self):
        wrong = []
        for room in WALLS:
            files = sorted((TOP / "src" / room).glob("*.[ch]*"))
            self.assertTrue(files, f"src/{room} is empty")
            for file in files:
                for header, why in faults(room, file.read_text(), is_public(file)):
                    wrong.append(f"{file.relative_to(TOP)}: {header}: {why}")
        self.assertEqual(wrong, [])

    def test_the_reader_sees_what_it_should(self):
        bad = {
            "base": ['#include "measure/length.h"', "#include <glm/vec3.hpp>"],
            "shape": ['#include "check/run.h"', "#include <cairo.h>", "#include <geos_c.h>"],
            "picture": ['#include "check/run.h"', "#include <unknown/thing.hpp>"],
        }
        for room, lines in bad.items():
            for line in lines:
                self.assertTrue(list(faults(room, line, False)), f"{room}: {line}")
        self.assertTrue(list(faults("scene", "#include <nlohmann/json.hpp>", True)))
        good = {"shape": ['#include "base/result.h"', "#include <embree3/rtcore.h>",
                          "#include <vector>", "#include <sys/types.h>"]}
        for room, lines in good.items():
            for line in lines:
                self.assertEqual(list(faults(room, line, False)), [], f"{room}: {line}")


def is_public(header):
    """A header that another room or a test includes."""
    if header.suffix != ".h":
        return False
    name = f'"{header.parent.name}/{header.name}"'
    others = [p for p in (TOP / "src").rglob("*.[ch]*") if p.parent != header.parent]
    others += list((TOP / "tests").rglob("*.cpp"))
    return any(name in p.read_text() for p in others)


if __name__ == "__main__":
    sys.exit(unittest.main())
