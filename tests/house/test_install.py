"""Installs the tree, moves it, and uses it from elsewhere with nothing of the checkout in reach.

usage: test_install.py BUILD_FOLDER
"""

import os
import shutil
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

BUILD = Path(sys.argv.pop(1)).resolve() if len(sys.argv) > 1 else None


class Install(unittest.TestCase):
    def setUp(self):
        self.folder = Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.folder)
        first = self.folder / "first"
        subprocess.run(["cmake", "--install", str(BUILD), "--prefix", str(first)], check=True,
                       stdout=subprocess.DEVNULL)
        self.tree = self.folder / "moved here" / "standpoint"
        self.tree.parent.mkdir()
        first.rename(self.tree)

    def run_program(self, *arguments):
        environment = {"PATH": "/usr/bin:/bin", "LC_ALL": "C.UTF-8"}
        for name in ("ASAN_OPTIONS", "UBSAN_OPTIONS", "LSAN_OPTIONS"):
            if name in os.environ:
                environment[name] = os.environ[name]
        return subprocess.run([str(self.tree / "bin/standpoint"), *arguments], text=True,
                              capture_output=True, cwd=self.folder, env=environment)

    def test_the_moved_tree_checks_and_prints_the_demo(self):
        scene = self.tree / "share/standpoint/low-water/low-water.scene.json"
        done = self.run_program("export", str(scene), "-o", "scene.glb")
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        self.assertEqual((self.folder / "scene.glb").read_bytes()[:4], b"glTF")
        done = self.run_program("new", "fresh.scene.json")
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        done = self.run_program("sheets", "fresh.scene.json", "-o", "sheets")
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        self.assertEqual((self.folder / "sheets/sheets.pdf").read_bytes()[:5], b"%PDF-")

    def test_schemas_and_readme_are_installed(self):
        for name in ("share/standpoint/schema/scene.schema.json",
                     "share/standpoint/schema/results.schema.json"):
            self.assertTrue((self.tree / name).is_file(), name)
        self.assertTrue(list(self.tree.rglob("README.md")))

    def test_nothing_of_the_checkout_is_in_the_program(self):
        text = (self.tree / "bin/standpoint").read_bytes()
        self.assertNotIn(b"assets-demo/", text)


if __name__ == "__main__":
    unittest.main()
