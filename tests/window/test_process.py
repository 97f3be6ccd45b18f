#!/usr/bin/env python3
"""The window as a real process on a display of its own: edit, save, undo, drop, kill, recover."""
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
import x11_drop

PROGRAM = Path(sys.argv.pop(1)).resolve()
DEMO = Path(__file__).resolve().parents[2] / "assets-demo"


def until(what, condition, seconds=120):
    """Waits for a condition; the limit only ends a test that would hang."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = condition()
        if found:
            return found
        time.sleep(0.1)
    raise AssertionError(f"gave up waiting for {what}")


class Window(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        read, write = os.pipe()
        cls.server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(write), "-screen", "0", "1600x1000x24", "-nolisten", "tcp",
             "-noreset"],
            pass_fds=[write], stderr=subprocess.DEVNULL)
        os.close(write)
        with os.fdopen(read, encoding="ascii") as told:  # the server dies of a pipe closed early
            cls.display = ":" + told.readline().strip()

    @classmethod
    def tearDownClass(cls):
        cls.server.terminate()
        cls.server.wait()

    def setUp(self):
        self.folder = Path(tempfile.mkdtemp(prefix="standpoint-"))
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)
        self.environment = dict(os.environ, DISPLAY=self.display, HOME=str(self.folder),
                                XDG_CONFIG_HOME=str(self.folder / "config"),
                                XDG_STATE_HOME=str(self.folder / "state"))
        # The graphics driver is unloaded at the end, so that what it keeps cannot be named in
        # third_party/leaks.supp. The window's own leaks are looked for by the in-process tests.
        options = os.environ.get("ASAN_OPTIONS", "")
        self.environment["ASAN_OPTIONS"] = f"{options}:detect_leaks=0".lstrip(":")
        self.scene = self.folder / "small.scene.json"
        subprocess.run([PROGRAM, "new", self.scene], check=True, stdout=subprocess.DEVNULL)
        document = json.loads(self.scene.read_text())
        document["pieces"] = [{"id": "crate", "kind": "prop", "at": {"x": 600, "y": 2600},
                               "ratio": "1:1",
                               "parts": [{"box": {"width": 500, "depth": 500, "height": 400}}]}]
        self.scene.write_text(json.dumps(document))

    def open(self, *arguments, title="small.scene.json.*Standpoint$"):
        """Waits for the title of the scene: it is shown when its first picture is."""
        with open(self.folder / "errors.txt", "w", encoding="utf-8") as errors:
            process = subprocess.Popen([PROGRAM, "window", *arguments], env=self.environment,
                                       stdout=subprocess.DEVNULL, stderr=errors)
        self.addCleanup(lambda: process.poll() is None and (process.kill(), process.wait()))
        self.window = self.await_title(title)
        self.hand("windowfocus", self.window)
        time.sleep(0.3)  # the focus arrives
        return process

    def await_title(self, title):
        find = lambda: self.hand("search", "--name", title, fails=True).split()[-1:]
        return until(title, find)[0]

    def hand(self, *arguments, fails=False):
        done = subprocess.run(["xdotool", *arguments], env=self.environment, text=True,
                              capture_output=True)
        if not fails:
            self.assertEqual(done.returncode, 0, done.stderr)
        return done.stdout

    def keys(self, *keys):
        for key in keys:
            self.hand("key", "--window", self.window, key)
            time.sleep(0.25)

    def x_of_crate(self):
        return json.loads(self.scene.read_text())["pieces"][0]["at"]["x"]

    def close(self, process):
        self.keys("ctrl+q")
        self.assertEqual(process.wait(timeout=60), 0, (self.folder / "errors.txt").read_text())

    def test_edit_save_undo_and_save_again(self):
        process = self.open(str(self.scene))
        self.keys("ctrl+a", "Right", "ctrl+s")
        until("the first move to be saved", lambda: self.x_of_crate() == 700)
        first = self.scene.read_bytes()
        self.keys("Right", "ctrl+s")
        until("the second move to be saved", lambda: self.x_of_crate() == 800)
        self.keys("ctrl+z", "ctrl+s")
        until("the undo to be saved", lambda: self.scene.read_bytes() == first)
        self.close(process)
        left = self.folder / "state/standpoint/recovery"
        self.assertEqual([p.name for p in left.iterdir()] if left.exists() else [], [])
        # Opened again, changed and put back, it is the same file to the byte.
        process = self.open(str(self.scene))
        self.keys("ctrl+a", "Right", "ctrl+s")
        until("the move of the second visit", lambda: self.x_of_crate() == 800)
        self.keys("ctrl+z", "ctrl+s")
        until("the file of the first visit", lambda: self.scene.read_bytes() == first)
        self.close(process)

    def test_pointer_drag_moves_the_crate_and_escape_does_not(self):
        process = self.open(str(self.scene))
        # One plan view, on the crate: it lies in the middle of the view.
        self.keys("1", "F5", "ctrl+a", "f", "Escape")
        geometry = dict(line.split("=") for line in
                        self.hand("getwindowgeometry", "--shell", self.window).split())
        left, top = int(geometry["X"]), int(geometry["Y"])
        width, height = int(geometry["WIDTH"]), int(geometry["HEIGHT"])
        x, y = left + int(width * 0.47), top + int(height * 0.30)

        def drag(cancel):
            self.hand("mousemove", str(x), str(y), "mousedown", "1")
            for step in range(1, 9):
                self.hand("mousemove", str(x + 6 * step), str(y))
                time.sleep(0.08)
            if cancel:
                self.keys("Escape")
            self.hand("mouseup", "1")
            time.sleep(0.3)

        drag(cancel=True)
        self.keys("ctrl+s")
        self.assertEqual(self.x_of_crate(), 600)
        drag(cancel=False)
        self.keys("ctrl+s")
        until("the drag to be saved", lambda: self.x_of_crate() > 600)
        self.close(process)

    def drop(self, *files):
        x11_drop.drop(self.display, int(self.window), files, 800, 400)

    def test_a_dropped_model_is_added_and_a_dropped_scene_is_opened(self):
        process = self.open(str(self.scene))
        models = self.folder / "models"
        models.mkdir()
        shutil.copy(DEMO / "models/basket.glb", models / "egg basket.glb")
        self.drop(models / "egg basket.glb")
        self.keys("ctrl+s")
        until("the basket to be saved",
              lambda: len(json.loads(self.scene.read_text())["pieces"]) == 2)
        added = json.loads(self.scene.read_text())["pieces"][1]
        self.assertEqual(added["parts"][0]["model"]["file"], "models/egg basket.glb")
        other = self.folder / "other.scene.json"
        subprocess.run([PROGRAM, "new", other], check=True, stdout=subprocess.DEVNULL)
        self.drop(other)
        self.await_title("other.scene.json.*Standpoint$")
        # What cannot be used is refused, and the scene stays open.
        (self.folder / "notes.txt").write_text("not a scene")
        self.drop(self.folder / "notes.txt")
        self.await_title("other.scene.json.*Standpoint$")
        self.close(process)

    def test_kill_in_the_middle_leaves_the_work_to_be_recovered(self):
        process = self.open(str(self.scene))
        before = self.scene.read_bytes()
        self.keys("ctrl+a", *["Right"] * 11)
        recovery = self.folder / "state/standpoint/recovery"
        files = until("work saved aside",
                      lambda: [p for p in recovery.iterdir() if p.stat().st_size > 100]
                      if recovery.exists() else [])
        process.send_signal(signal.SIGKILL)
        process.wait()
        self.assertEqual(self.scene.read_bytes(), before)
        kept = json.loads(files[0].read_text().split("\n", 1)[1])
        self.assertGreaterEqual(kept["pieces"][0]["at"]["x"], 1600)
        # The next window offers it and does not touch it by itself.
        again = self.open(str(self.scene))
        self.assertTrue(files[0].exists())
        again.send_signal(signal.SIGTERM)
        self.assertEqual(again.wait(timeout=60), 0)
        self.assertTrue(files[0].exists())

    def test_two_thousand_pieces_are_moved_saved_and_put_back(self):
        document = json.loads(self.scene.read_text())
        document["pieces"] = [
            {"id": f"box-{i}", "kind": "prop", "at": {"x": 150 * (i % 50), "y": 150 * (i // 50)},
             "ratio": "1:1", "parts": [{"box": {"width": 100, "depth": 100, "height": 80}}]}
            for i in range(2000)]
        self.scene.write_text(json.dumps(document))
        process = self.open(str(self.scene))
        xs = lambda: {p["at"].get("x", 0) for p in json.loads(self.scene.read_text())["pieces"]}
        before = xs()
        self.keys("ctrl+a", "Right", "ctrl+s")
        until("all to be moved and saved", lambda: xs() == {x + 100 for x in before})
        self.keys("ctrl+z", "ctrl+s")
        until("all to be back", lambda: xs() == before)
        self.close(process)

    def test_any_size_and_a_picture_of_the_demo(self):
        process = self.open(str(self.scene))
        for width, height in ((1280, 720), (400, 300), (1600, 1000), (640, 900)):
            self.hand("windowsize", self.window, str(width), str(height))
            time.sleep(0.4)
            self.assertIsNone(process.poll())
        # Fonts and colours are made anew while the window is open.
        self.keys("ctrl+shift+d", "ctrl+equal", "ctrl+equal", "ctrl+minus", "ctrl+shift+d")
        self.assertIsNone(process.poll(), (self.folder / "errors.txt").read_text())
        self.close(process)
        settings = json.loads((self.folder / "config/standpoint/settings.json").read_text())
        self.assertFalse(settings["dark"])
        self.assertGreater(settings["text-scale"], 1)
        picture = self.folder / "window.png"
        done = subprocess.run(
            [PROGRAM, "window", DEMO / "low-water.scene.json", "--picture", picture],
            env=self.environment, capture_output=True, timeout=580)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertEqual(picture.read_bytes()[:8], b"\x89PNG\r\n\x1a\n")
        self.assertGreater(picture.stat().st_size, 100_000)  # a blank window packs to far less

    def test_no_display_and_no_scene_are_said_in_one_line(self):
        displays = ("DISPLAY", "WAYLAND_DISPLAY")
        bare = {k: v for k, v in self.environment.items() if k not in displays}
        done = subprocess.run([PROGRAM, "window", self.scene], env=bare, capture_output=True,
                              text=True)
        self.assertEqual(done.returncode, 2)
        self.assertIn("no display", done.stderr)
        self.assertEqual(done.stderr.count("\n"), 1)
        done = subprocess.run([PROGRAM, "window", self.folder / "none.json"], env=self.environment,
                              capture_output=True, text=True)
        self.assertEqual(done.returncode, 2)
        self.assertIn("none.json", done.stderr)
        self.assertEqual(done.stderr.count("\n"), 1)


if __name__ == "__main__":
    unittest.main()
