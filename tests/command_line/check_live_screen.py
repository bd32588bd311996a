"""The screen of `live`, as a terminal shows it at several sizes."""
import os
import re
import shutil
import subprocess
import time
import unittest

from program_case import PROGRAM, SOURCE, ProgramCase

CLUB = os.path.join(SOURCE, "datasets", "simulated", "club")


@unittest.skipUnless(shutil.which("tmux"), "skipped: tmux is not installed")
class Screen(ProgramCase):
    def setUp(self):
        self.socket = self.path("tmux.socket")

    def tearDown(self):
        self.tmux("kill-server", check=False)

    def tmux(self, *words, check=True):
        done = subprocess.run(["tmux", "-f", "/dev/null", "-S", self.socket, *words], capture_output=True, text=True,
                              env={**os.environ, "TERM": "vt100", "LANG": "C.UTF-8"})
        if check:
            self.assertEqual(done.returncode, 0, done.stderr)
        return done.stdout

    def begin(self, columns, rows, *arguments, term="vt100"):
        command = f"TERM={term} {PROGRAM} live {' '.join(map(str, arguments))}; echo ended with $?; sleep 60"
        self.tmux("new-session", "-d", "-x", str(columns), "-y", str(rows), "bash", "-c", command)

    def screen(self):
        return self.tmux("capture-pane", "-p").rstrip("\n")

    def wait_for(self, pattern, patience_s=25):
        until = time.monotonic() + patience_s
        while time.monotonic() < until:
            shown = self.screen()
            if re.search(pattern, shown):
                return shown
            time.sleep(0.2)
        self.fail(f"{pattern} is not on the screen:\n{shown}")

    def keep(self, name, shown):
        if folder := os.environ.get("PULSEWRIGHT_PICTURES"):
            with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                file.write(shown + "\n")

    def test_one_person_at_80x24_and_200x50_and_while_it_is_resized(self):
        self.begin(80, 24, "wren=" + os.path.join(SOURCE, "datasets/simulated/wren_stair_climb.csv"), "--replay", 3, "--age", 15, "--resting", 66)
        shown = self.wait_for(r"95 % sure: \d+ to \d+[\s\S]*signal: good")
        self.keep("screen_80x24.txt", shown)
        lines = shown.split("\n")
        self.assertLessEqual(max(map(len, lines)), 80)
        self.assertRegex(shown, r"#####")
        self.assertIn("target 149 to 184", shown)
        self.assertIn("^", shown)
        self.tmux("resize-window", "-x", "200", "-y", "50")
        time.sleep(0.6)
        wide = self.wait_for(r"\|")
        self.keep("screen_200x50.txt", wide)
        self.assertGreater(max(map(len, wide.split("\n"))), 120)
        self.tmux("resize-window", "-x", "40", "-y", "12")
        time.sleep(0.6)
        small = self.wait_for(r"signal: ")
        self.assertLessEqual(max(map(len, small.split("\n"))), 40)
        self.tmux("send-keys", "q", "Enter")
        self.wait_for("ended with 0")

    def test_several_people_have_a_line_each_in_the_order_of_the_input(self):
        people = [f"{code}=" + os.path.join(CLUB, code + ".csv") for code in ("wren", "heron", "plover")]
        self.begin(80, 24, *people, "--replay", 3, "--age", 15, "--resting", 66)
        shown = self.wait_for(r"wren +\d+ +\d+ to \d+")
        self.keep("screen_people.txt", shown)
        self.assertLess(shown.index("wren"), shown.index("heron"))
        self.assertLess(shown.index("heron"), shown.index("plover"))
        self.tmux("send-keys", "q", "Enter")
        self.wait_for("ended with 0")

    def test_a_lesson_prompts_and_takes_a_count(self):
        self.begin(80, 24, "wren=" + os.path.join(SOURCE, "datasets/simulated/wren_stair_climb.csv"), "--replay", 8, "--age", 15, "--lesson", "1-1-1")
        self.wait_for("find the pulse")
        self.wait_for(r"rest, 0:\d\d left")
        self.wait_for("COUNT YOUR PULSE")
        self.wait_for("STOP counting")
        self.tmux("send-keys", "18")
        self.wait_for("> 18")
        self.tmux("send-keys", "Enter")
        shown = self.wait_for(r"counted 18 in 15 s, 72 beats/min")
        self.keep("screen_lesson.txt", shown)


if __name__ == "__main__":
    unittest.main()
