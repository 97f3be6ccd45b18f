"""The order of the house: what lies at the top, first lines, the packages list, the reference table."""

import json
import re
import subprocess
import unittest
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]


def listed_by_git():
    """Files git tracks; empty where there is no git or no checkout."""
    try:
        done = subprocess.run(["git", "-C", str(TOP), "ls-files", "-z"], capture_output=True)
    except FileNotFoundError:
        return []
    if done.returncode != 0:
        return []
    return [TOP / name for name in done.stdout.decode().split("\0") if name]


def found_by_walking():
    """All files but those of git, of builds and of the demo's output."""
    def ours(path):
        top = path.relative_to(TOP).parts[0]
        return top not in ("out", ".git") and not top.startswith("build") \
            and "__pycache__" not in path.parts

    return [p for p in TOP.rglob("*") if p.is_file() and ours(p)]


def tracked():
    return [p for p in listed_by_git() if p.is_file()] or found_by_walking()


def quantities(schema):
    """Names of the numbers that a results schema describes, with the object they are in."""
    found = set()

    def walk(node, owner):
        if isinstance(node, dict):
            for name, value in node.get("properties", {}).items():
                if "x-quantity" in value:
                    found.add(value["x-quantity"])
                walk(value, name)
            for key, value in node.items():
                if key != "properties":
                    walk(value, owner)
        elif isinstance(node, list):
            for value in node:
                walk(value, owner)

    walk(schema, "")
    return found


class House(unittest.TestCase):
    def test_top_level_holds_what_the_plan_lists(self):
        allowed = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "src", "assets-demo", "tests",
                   "third_party"}
        top = {p.relative_to(TOP).parts[0] for p in tracked()}
        self.assertEqual({n for n in top if not n.startswith(".")}, allowed)
        self.assertTrue({".ci", ".clang-format", ".clang-tidy", ".gitignore", ".editorconfig"} <= top)

    def test_every_source_file_says_its_job_first(self):
        silent = [str(p.relative_to(TOP)) for p in tracked()
                  if p.suffix in (".cpp", ".h") and not p.read_text().startswith("//")]
        self.assertEqual(silent, [])

    def test_no_promises_and_no_paths_of_one_machine(self):
        word = re.compile(r"\b(TO" + "DO|FIX" + "ME|XX" + r"X)\b")
        path = re.compile(r"(?<![\w.])/(?:home|Users|work|root)/")
        for file in tracked():
            if file.suffix in (".png", ".glb", ".bin", ".jpg"):
                continue
            text = file.read_text(errors="replace")
            self.assertIsNone(word.search(text), file)
            self.assertIsNone(path.search(text), file)

    def test_every_package_has_a_use_a_licence_and_a_reason(self):
        rows = [line.split("\t") for line in
                (TOP / "third_party/packages.tsv").read_text().splitlines()
                if not line.startswith("#")]
        self.assertGreater(len(rows), 10)
        for row in rows:
            self.assertEqual(len(row), 4, row)
            self.assertIn(row[1], ("build", "run", "window", "test"))
            self.assertTrue(row[2] and row[3], row)
        self.assertEqual(len({row[0] for row in rows}), len(rows))

    def test_reference_table_names_every_quantity_of_the_results(self):
        table = (TOP / "tests/reference/README.md").read_text()
        schema = json.loads((TOP / "src/check/results.schema.json").read_text())
        wanted = quantities(schema)
        self.assertGreater(len(wanted), 15)
        named = set(re.findall(r"^\|\s*([^|]+?)\s*\|", table, re.M))
        self.assertEqual(sorted(wanted - named), [])

    def test_reference_table_rows_point_at_tests_that_exist(self):
        rows = [line.strip("|").split("|") for line in
                (TOP / "tests/reference/README.md").read_text().splitlines()
                if line.startswith("|") and not line.startswith(("|--", "| --", "| quantity"))]
        for row in rows:
            self.assertEqual(len(row), 4, row)
            quantity, source, kind, test = (cell.strip() for cell in row)
            self.assertTrue(quantity and source, row)
            self.assertIn(kind, ("source", "closed form", "twin", "common practice, no source",
                                 "from memory", "count"), row)
            file, _, case = test.strip("`").partition(": ")
            text = (TOP / file).read_text()
            self.assertTrue(case and case in text, f"{test}: no such test")

    def test_walking_finds_what_git_tracks(self):
        by_git = {p for p in listed_by_git() if p.is_file()}
        self.assertLessEqual(by_git, set(found_by_walking()))
        self.assertGreater(len(found_by_walking()), 200)

    def test_a_quantity_that_is_missing_is_seen(self):
        schema = {"properties": {"w": {"type": "number", "x-quantity": "walkway.width"},
                                 "list": {"items": {"properties": {"h": {"x-quantity": "walkway.headroom"}}}}}}
        self.assertEqual(quantities(schema), {"walkway.width", "walkway.headroom"})


if __name__ == "__main__":
    unittest.main()
