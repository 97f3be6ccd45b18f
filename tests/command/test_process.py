"""Uses the program as a shell does: exit codes, messages, broken input, full disks, no display.

usage: test_process.py PROGRAM
"""

import json
import os
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
PROGRAM = Path(sys.argv.pop(1)).resolve() if len(sys.argv) > 1 else None
DEMO = TOP / "assets-demo/low-water.scene.json"
CORRECTED = TOP / "assets-demo/low-water-corrected.scene.json"


class Process(unittest.TestCase):
    def setUp(self):
        self.folder = Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)

    def run_program(self, *arguments, **options):
        environment = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY")}
        return subprocess.run([str(PROGRAM), *map(str, arguments)], text=True, capture_output=True,
                              env=environment, cwd=self.folder, **options)

    def small_scene(self, **changes):
        """A scene of one box, quick to check."""
        file = self.folder / "small.scene.json"
        file.unlink(missing_ok=True)
        self.run_program("new", "small.scene.json")
        scene = json.loads(file.read_text())
        scene["pieces"] = [{"id": "crate", "name": "crate", "kind": "prop", "ratio": 1,
                            "at": {"x": 500, "y": 500, "z": 150},
                            "parts": [{"box": {"width": 300, "depth": 300, "height": 300}}]}]
        scene.update(changes)
        file.write_text(json.dumps(scene))
        return file

    def assert_refused(self, done, *words):
        self.assertEqual(done.returncode, 2, done)
        self.assertEqual(done.stdout, "")
        self.assertEqual(done.stderr.count("\n"), 1, done.stderr)
        for word in words:
            self.assertIn(word, done.stderr)

    def test_usage(self):
        self.assert_refused(self.run_program(), "standpoint --help")
        self.assert_refused(self.run_program("stage"), "standpoint --help")
        self.assert_refused(self.run_program("check"), "SCENE")
        self.assert_refused(self.run_program("picture", DEMO, "-o", "x.png", "--width", "1"), "width")
        done = self.run_program("--help")
        self.assertEqual(done.returncode, 0)
        for word in ("check", "sheets", "picture", "export", "settle", "new", "licensed", "authority"):
            self.assertIn(word, done.stdout)
        self.assertRegex(self.run_program("--version").stdout, r"^standpoint \d+\.\d+\.\d+\n$")

    def test_check_of_the_demo_fails_and_of_the_corrected_copy_passes(self):
        done = self.run_program("check", DEMO, "--json", "results.json")
        self.assertEqual((done.returncode, done.stderr), (1, ""))
        self.assertIn("fail", done.stdout)
        results = json.loads((self.folder / "results.json").read_text())
        self.assertTrue([f for f in results["findings"] if f["grade"] == "fail"])
        done = self.run_program("check", CORRECTED, "--json", "-")
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        self.assertFalse([f for f in json.loads(done.stdout)["findings"] if f["grade"] == "fail"])

    def test_threads_do_not_change_a_byte(self):
        outputs = {self.run_program("check", self.small_scene(), "--json", "-", "--threads", n).stdout
                   for n in (1, 2, 5)}
        self.assertEqual(len(outputs), 1)
        self.assertTrue(next(iter(outputs)).startswith("{"))

    def test_settle_brings_hands_and_eyes_to_what_a_file_says(self):
        crate = json.loads(self.small_scene().read_text())["pieces"][0]
        figure = {"id": "seller", "kind": "figure", "at": {"x": 900, "y": 700, "z": 0},
                  "parts": [{"figure": {"skeleton": "adult", "stature": 122}}],
                  "touches": [{"contact": "right palm", "piece": "crate", "at": [200, -100, 700]}],
                  "looks_at": {"piece": "crate", "at": [200, -400, 700]}}
        scene = self.small_scene(pieces=[crate, figure])
        before = json.loads(self.run_program("check", scene, "--json", "-").stdout)["figures"]
        self.assertGreater(before["touches"][0]["off"], 5)
        self.assertGreater(before["looks"][0]["eye_turn"], 1)
        done = self.run_program("settle", scene, "-o", "settled.scene.json")
        self.assertEqual((done.returncode, done.stdout), (0, "seller\nsettled.scene.json\n"))
        after = json.loads(
            self.run_program("check", "settled.scene.json", "--json", "-").stdout)["figures"]
        self.assertLess(after["touches"][0]["off"], 1)
        self.assertLess(after["looks"][0]["eye_turn"], 1)
        again = self.run_program("settle", "settled.scene.json", "-o", "again.scene.json")
        self.assertEqual(again.stdout, "again.scene.json\n")
        figure["touches"][0]["contact"] = "right plam"
        self.assert_refused(self.run_program("settle", self.small_scene(pieces=[crate, figure]),
                                             "-o", "out.json"),
                            "small.scene.json", "/pieces/1/touches", "right palm")
        self.assertFalse((self.folder / "out.json").exists())

    def test_missing_and_broken_input_is_one_line_and_writes_nothing(self):
        self.assert_refused(self.run_program("check", "none.json"), "none.json")
        self.assert_refused(self.run_program("check", self.folder), str(self.folder))
        bad = self.folder / "bad.json"
        bad.write_text('{ "standpoint": 1, ')
        for command in (("check", "bad.json"), ("check", "bad.json", "--json", "out.json"),
                        ("sheets", "bad.json", "-o", "out"), ("export", "bad.json", "-o", "out.glb"),
                        ("settle", "bad.json", "-o", "out.json"),
                        ("picture", "bad.json", "-o", "out.png")):
            self.assert_refused(self.run_program(*command), "bad.json:1:")
        self.assertEqual([p.name for p in self.folder.iterdir()], ["bad.json"])
        bad.write_text("[" * 100_000)
        self.assert_refused(self.run_program("check", "bad.json"), "bad.json:1:")
        bad.write_bytes(b'{"standpoint": 1, "settings": {"title": "\xff\xfe"}}')
        self.assert_refused(self.run_program("check", "bad.json"), "bad.json:1:")

    def test_a_missing_model_is_named_with_its_place(self):
        model = [{"id": "boat", "name": "boat", "kind": "prop",
                  "parts": [{"model": {"file": "models/none.glb"}}]}]
        scene = self.small_scene(pieces=model)
        self.assert_refused(self.run_program("check", scene), "/pieces/0", "models/none.glb")

    def test_what_a_check_refuses_names_the_file_and_the_place(self):
        scene = self.small_scene(rules={"use": ["no-such-preset"]})
        self.assert_refused(self.run_program("check", scene), str(scene), "/rules/use/0",
                            "no-such-preset", "ada-2010")
        patch = {"id": "t", "name": "t", "piece": "crate", "aim": "see",
                 "patch": {"parts": ["lid"]}}
        scene = self.small_scene(targets=[patch])
        self.assert_refused(self.run_program("check", scene), str(scene), "/targets/0", "lid")

    def test_bad_places_to_look_from_name_what_there_is(self):
        scene = self.small_scene()
        for arguments, word in ((("--visitor", "giant"), "small-woman"), (("--at", "99 m"), "path"),
                                (("--at", "far"), "far"), (("--lane", "top"), "middle"),
                                (("--look", "nowhere"), "nowhere")):
            done = self.run_program("picture", scene, "-o", "x.png", *arguments)
            self.assert_refused(done, word)
        self.assertFalse((self.folder / "x.png").exists())

    def test_new_does_not_overwrite(self):
        self.assertEqual(self.run_program("new", "a.json").returncode, 0)
        before = (self.folder / "a.json").read_bytes()
        self.assert_refused(self.run_program("new", "a.json"), "a.json")
        self.assertEqual((self.folder / "a.json").read_bytes(), before)
        self.assert_refused(self.run_program("new", "no/such/folder.json"), "folder.json")

    def test_the_empty_scene_goes_through_every_command(self):
        self.run_program("new", "a.json")
        for command in (("check", "a.json"), ("sheets", "a.json", "-o", "out"),
                        ("export", "a.json", "-o", "a.glb"),
                        ("picture", "a.json", "-o", "a.png", "--width", "64", "--height", "36")):
            done = self.run_program(*command)
            self.assertEqual((done.returncode, done.stderr), (0, ""), command)

    def test_the_pieces_of_the_readme_make_a_scene_that_passes(self):
        readme = (TOP / "README.md").read_text()
        blocks = [json.loads(re.sub(r"^   ", "", block, flags=re.M))
                  for block in re.findall(r"```json\n(.*?)```", readme, re.S)]
        pieces = [block for block in blocks if "kind" in block]
        targets = [block for block in blocks if "aim" in block]
        self.assertEqual((len(pieces), len(targets), len(blocks)), (2, 1, 3))
        scene = self.small_scene(pieces=pieces, targets=targets)
        done = self.run_program("check", scene)
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        self.assertIn("the seller's face", done.stdout)

    def test_the_repair_the_readme_tells_takes_the_finding_away(self):
        before = DEMO.read_text()
        self.assertEqual(before.count('"x": -520'), 1)
        self.assertIn("`\"x\": -520`", (TOP / "README.md").read_text())
        shutil.copytree(TOP / "assets-demo/models", self.folder / "models")
        mended = self.folder / "mended.scene.json"
        mended.write_text(before.replace('"x": -520', '"x": 0'))
        finding = "\"the ticket seller's face\" is not seen"
        self.assertIn(finding, self.run_program("check", DEMO).stdout)
        self.assertNotIn(finding, self.run_program("check", mended).stdout)

    def test_a_full_disk_keeps_the_old_sheets(self):
        scene = self.small_scene()
        self.assertEqual(self.run_program("sheets", scene, "-o", "out").returncode, 0)
        before = {p.name: p.read_bytes() for p in (self.folder / "out").iterdir()}

        def limit():  # writing past 200 bytes fails as a full disk does
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (200, 200))

        for command in (("sheets", scene, "-o", "out"), ("check", scene, "--json", "out/r.json"),
                        ("export", scene, "-o", "out/a.glb")):
            self.assert_refused(self.run_program(*command, preexec_fn=limit), "out")
            after = {p.name: p.read_bytes() for p in (self.folder / "out").iterdir()}
            self.assertEqual(after, before)

    def test_output_that_cannot_be_written_is_an_error(self):
        with open("/dev/full", "w") as full:
            done = subprocess.run([str(PROGRAM), "check", str(self.small_scene())], stdout=full,
                                  stderr=subprocess.PIPE, text=True)
        self.assertEqual(done.returncode, 2)
        self.assertIn("standard output", done.stderr)

    def test_closing_in_the_middle_leaves_whole_files_or_none(self):
        scene = self.small_scene()
        self.run_program("sheets", scene, "-o", "out")
        before = {p.name: p.read_bytes() for p in (self.folder / "out").iterdir()}
        for delay in range(12):
            process = subprocess.Popen([str(PROGRAM), "sheets", str(scene), "-o", "out"],
                                       stdout=subprocess.DEVNULL, cwd=self.folder)
            time.sleep(0.02 * delay)
            process.kill()
            process.wait()
            for name, old in before.items():
                self.assertEqual((self.folder / "out" / name).read_bytes(), old)

    def test_same_input_same_bytes(self):
        scene = self.small_scene()
        for folder in ("one", "two"):
            self.assertEqual(self.run_program("sheets", scene, "-o", folder).returncode, 0)
        for name in ("placements.csv", "sheets.pdf"):
            self.assertEqual((self.folder / "one" / name).read_bytes(),
                             (self.folder / "two" / name).read_bytes())


if __name__ == "__main__":
    unittest.main()
