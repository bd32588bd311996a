"""`live` reads sensors over pseudo-terminals, pipes and files; what goes wrong on the wire is said, and nothing that was written is lost."""
import contextlib
import json
import os
import random
import resource
import signal
import subprocess
import sys
import time
import unittest

from document_case import jsonschema, schema
from program_case import PROGRAM, SANITIZED, SOURCE, ProgramCase

SENSOR = os.path.join(SOURCE, "tools", "firmware", "simulated_sensor.py")


class Live(ProgramCase):
    @contextlib.contextmanager
    def sensor(self, name, *options):
        """A simulated sensor; gives the path of its port."""
        link = self.path(name)
        process = subprocess.Popen([sys.executable, "-B", SENSOR, "--link", link, *map(str, options)], stdout=subprocess.PIPE, text=True)
        try:
            self.assertEqual(process.stdout.readline(), "ready\n")
            yield link
        finally:
            process.terminate()
            process.wait()
            process.stdout.close()

    def live(self, *arguments, expect=0, **more):
        """The events of a run, as dictionaries."""
        text = self.run_program("live", *arguments, "--format", "jsonl", expect=expect, **more)
        events = [json.loads(line) for line in text.splitlines()]
        if jsonschema is not None:
            validator = jsonschema.Draft202012Validator(schema("live_event"))
            for event in events:
                validator.validate(event)
        return events

    def rates(self, events, after_s=12):
        return [e["bpm"] for e in events if e["event"] == "second" and e["at_s"] >= after_s and e["bpm"] is not None]

    def notes(self, events):
        return [e["note"] for e in events if e["event"] == "note"]

    def near(self, rates, bpm, within=4.0, fewest=5):
        self.assertGreaterEqual(len(rates), fewest)
        wrong = [r for r in rates if abs(r - bpm) > within]
        self.assertLessEqual(len(wrong), len(rates) // 20, wrong)

    def test_a_steady_sensor_in_every_form(self):
        for form in ("frames", "lines", "json"):
            with self.sensor(f"steady_{form}", "--form", form, "--course", "0:84", "--speed", 5, "--seconds", 60) as port:
                events = self.live(f"wren={port}", "--for", 8)
            self.near(self.rates(events), 84, fewest=15)
            self.assertEqual({e["code"] for e in events if e["event"] == "second"}, {"wren"})
            beats = [e["time_s"] for e in events if e["event"] == "beat"]
            self.assertEqual(beats, sorted(beats))

    def test_jitter_loss_damage_and_roll_over_of_the_clock(self):
        troubles = ["--jitter-us", 800, "--lose", 0.05, "--damage", 0.02, "--clock-starts", 2**32 - 10_000_000, "--sequence-starts", 65000]
        for form in ("frames", "lines"):
            with self.sensor(f"troubled_{form}", "--form", form, "--course", "0:96", "--speed", 5, "--seconds", 70, *troubles) as port:
                events = self.live(port, "--for", 9)
            self.near(self.rates(events), 96, fewest=15)
            self.assertNotIn("restarted", self.notes(events))

    def test_unplugged_and_restarted_it_goes_on_with_a_marked_gap(self):
        folder = self.path("unplugged")
        with self.sensor("loose_plug", "--course", "0:78", "--unplug", "8:4", "--seconds", 30) as port:
            events = self.live(f"heron={port}", "--record", folder, "--for", 26)
        notes = self.notes(events)
        self.assertEqual([n for n in notes if n in ("unplugged", "plugged_in", "restarted")], ["unplugged", "plugged_in", "restarted"])
        self.near(self.rates(events, after_s=23), 78, fewest=2)
        with open(os.path.join(folder, "heron.csv")) as file:
            text = file.read()
        self.assertEqual(text.count("# gap=restarted\n"), 1)
        times = [int(row.split(",")[0]) for row in text.splitlines() if row[0].isdigit()]
        gap = max(b - a for a, b in zip(times, times[1:]))
        self.assertAlmostEqual(gap / 1e6, 4.0, delta=0.7)
        self.assertIn("heron", self.talk)  # the closing summary

    def test_a_recording_is_read_by_analyze_and_the_causal_form_shows_the_same_beats_again(self):
        folder = self.path("kept")
        with self.sensor("kept_port", "--course", "0:70,30:130", "--speed", 4, "--seconds", 60, "--jitter-us", 500, "--lose", 0.02) as port:
            events = self.live(f"plover={port}", "--record", folder, "--for", 14)
        self.assertRegex(self.talk, r"plover, .*: 0:5\d recorded[\s\S]*seen as a whole it has \d+ beats")
        shown = [e["time_s"] for e in events if e["event"] == "beat"]
        again = [float(row["time_s"]) for row in self.rows("beats", os.path.join(folder, "plover.csv"), "--streaming")]
        self.assertGreater(len(shown), 50)
        self.assertEqual(shown, again)
        document = self.document("analyze", os.path.join(folder, "plover.csv"), "--age", "15")
        self.assertGreater(document["effort"]["mean_hr_bpm"], 70)
        with open(os.path.join(folder, "sheet.csv")) as file:
            self.assertEqual(file.read(), "code,file\nplover,plover.csv\n")
        self.run_program("live", "--replay", "max", os.path.join(folder, "plover.csv"))
        self.run_program("live", self.write("more.txt", "v=1\n"), "--record", folder, "--quiet", "0.1", "--rate", "100", expect=1)

    def test_killed_at_any_moment_it_loses_at_most_the_last_second(self):
        chance = random.Random(4)
        at_once, rounds = 10, 1 if SANITIZED else 5
        lost = []
        for batch in range(rounds):
            runs = []
            with contextlib.ExitStack() as stack:
                for k in range(at_once):
                    port = stack.enter_context(self.sensor(f"killed_{batch}_{k}", "--form", chance.choice(["lines", "frames"])))
                    folder = self.path(f"killed_{batch}_{k}.d")
                    began = time.monotonic()
                    process = subprocess.Popen([PROGRAM, "live", f"wren={port}", "--record", folder], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
                    runs.append([began + chance.uniform(1.5, 4.0), process, folder, None])
                for run in sorted(runs):
                    time.sleep(max(0.0, run[0] - time.monotonic()))
                    run[1].send_signal(signal.SIGKILL)
                    run[3] = time.monotonic()
                    run[1].wait()
            for _, _, folder, killed in runs:
                path = os.path.join(folder, "wren.csv")
                rows = self.run_program("inspect", path, "--format", "csv").splitlines()
                seconds = int(rows[1].split(",")[6]) / 100.0
                # The file's last change is the last row that came; it was killed at most a second later.
                lost.append((time.time() - time.monotonic() + killed) - os.stat(path).st_mtime)
                self.assertGreater(seconds, 0.5)
        self.assertEqual(len(lost), at_once * rounds)
        self.assertLess(max(lost), 1.0)

    def test_a_full_disk_stops_the_recording_and_not_the_run(self):
        folder = self.path("full")
        limit = lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))
        with self.sensor("full_port", "--course", "0:80", "--speed", 5, "--seconds", 60) as port:
            done = subprocess.run([PROGRAM, "live", f"wren={port}", "--record", folder, "--for", "8", "--format", "jsonl"],
                                  capture_output=True, preexec_fn=limit, timeout=60)
        self.assertEqual(done.returncode, 3)
        events = [json.loads(line) for line in done.stdout.decode().splitlines()]
        self.assertEqual(self.notes(events).count("not_recorded"), 1)
        self.near(self.rates(events), 80, fewest=10)
        path = os.path.join(folder, "wren.csv")
        self.assertTrue(open(path).read().endswith("\n"))
        self.assertGreater(len(self.rows("inspect", path)), 0)

    def test_garbage_a_stalled_port_and_a_second_program_are_said_plainly(self):
        with self.sensor("garbage", "--garbage", "--speed", 2) as port:
            events = self.live(port, "--for", 6, expect=1)
        self.assertIn("unreadable", self.notes(events))
        self.assertIn("baud", [e["message"] for e in events if e["event"] == "note"][0])

        with self.sensor("stalled", "--freeze", "3:5", "--course", "0:75") as port:
            events = self.live(port, "--for", 11, expect=1)
            self.assertEqual([n for n in self.notes(events) if n in ("silent", "back")], ["silent", "back"])
            first = subprocess.Popen([PROGRAM, "live", port, "--for", "5"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            time.sleep(1.0)
            self.run_program("live", port, expect=3)
            self.assertIn("another program reads this port", self.talk)
            first.terminate()
            first.wait()

        self.run_program("live", self.path("no_such_port"), expect=3)
        self.run_program("live", self.folder, expect=2)
        self.run_program("live", "a=x", "a=y", expect=2)

    def test_no_finger_is_said_in_words(self):
        with self.sensor("fingerless", "--no-finger", "15:20", "--speed", 5, "--seconds", 40) as port:
            events = self.live(port, "--for", 7)
        said = {e["at_s"]: e["signal"] for e in events if e["event"] == "second"}
        self.assertEqual(said[14], "good")
        self.assertEqual(said[33], "no_contact")

    def test_standard_input_a_named_pipe_and_a_growing_file_give_the_same(self):
        table = self.write("table.csv", "")
        with open(self.session) as file, open(table, "w") as out:
            for number, row in enumerate(file):
                cells = row.strip().split(",")
                out.write(f"{cells[0]},{cells[2]}\n")
        from_file = self.run_program("live", table, "--quiet", "0.3", "--format", "jsonl")
        with open(table, "rb") as file:
            done = subprocess.run([PROGRAM, "live", "-", "--format", "jsonl"], stdin=file, capture_output=True, timeout=60)
        self.assertEqual(done.stdout.decode(), from_file)
        pipe = self.path("pipe")
        os.mkfifo(pipe)
        process = subprocess.Popen([PROGRAM, "live", pipe, "--format", "jsonl"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        with open(table) as file, open(pipe, "w") as out:
            out.write(file.read())
        self.assertEqual(process.communicate(timeout=60)[0], from_file)
        beats = [json.loads(line)["time_s"] for line in from_file.splitlines() if '"beat"' in line]
        self.assertGreater(len(beats), 60)
        # The same recording, played again.
        again = self.live(self.session, "--replay", "max", "--column", "pulse")
        self.assertEqual([e["time_s"] for e in again if e["event"] == "beat"][5:], beats[5:])

    def test_several_sensors_at_once_each_with_their_own_person(self):
        roster = self.write("roster.csv", "code,age_years,resting_bpm\nwren,15,66\nheron,16,60\n")
        with self.sensor("two_a", "--course", "0:72", "--speed", 5) as a, self.sensor("two_b", "--course", "0:160", "--speed", 5, "--form", "lines") as b:
            events = self.live(f"wren={a}", f"heron={b}", "--roster", roster, "--for", 7)
        for code, bpm, state in (("wren", 72, "below"), ("heron", 160, "in")):
            own = [e for e in events if e.get("code") == code and e["event"] == "second"]
            self.near(self.rates(own), bpm)
            self.assertEqual(own[-1]["target"], state)
        self.run_program("live", "plover=-", "--roster", roster, expect=2)

    def test_packets_of_a_belt(self):
        packets = "".join(f"16 {bpm:02x} {round(61440 / bpm) % 256:02x} {round(61440 / bpm) // 256:02x}\n" for bpm in (70, 71, 72))
        done = subprocess.run([PROGRAM, "live", "-", "--wire", "packets", "--format", "jsonl"], input=packets.encode(), capture_output=True, timeout=30)
        self.assertEqual(done.returncode, 0, done.stderr)
        events = [json.loads(line) for line in done.stdout.decode().splitlines()]
        self.assertEqual([e["bpm"] for e in events], [70, 71, 72])
        self.assertEqual(events[0]["contact"], True)
        self.assertAlmostEqual(events[0]["rr_ms"][0], 60000 / 70, delta=1.0)

    def test_a_sensor_without_a_clock_needs_a_rate(self):
        bare = self.write("bare.txt", "512\n" * 50)
        self.run_program("live", bare, "--quiet", "0.1", expect=2)
        self.assertIn("--rate", self.talk)

    def test_text_for_people_names_the_rate_and_the_advice(self):
        text = self.run_program("live", self.session, "--replay", "max", "--column", "pulse", "--age", "15", "--resting", "66")
        self.assertRegex(text, r"0:40  sensor1 +\d\d beats/min \(\d\d to \d\d\), below target, +\d+ % of reserve; good\n")


if __name__ == "__main__":
    unittest.main()
