"""Long batches: ended and resumed, cut into shards and merged, with records that hang or eat memory, in every form of output."""
import contextlib
import csv
import io
import json
import os
import random
import signal
import sqlite3
import subprocess
import time
import unittest

import recordings
from program_case import PROGRAM, SANITIZED, ProgramCase

LONG = bool(os.environ.get("PULSEWRIGHT_LONG"))


def content(path):
    with open(path) as file:
        return file.read()


def is_alive(process):
    """Whether a process runs still; one that has ended and was not yet asked after counts as gone."""
    try:
        return content(f"/proc/{process}/stat").rsplit(")", 1)[1].split()[0] != "Z"
    except FileNotFoundError:
        return False


class BatchRuns(ProgramCase):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.many = os.path.join(cls.folder, "many")
        os.makedirs(cls.many)
        cls.count = 2000 if LONG else 400
        texts = []
        for bpm in range(60, 100):
            times = recordings.beat_times(12, bpm)
            samples = recordings.wave(times, 12, recordings.PULSE, rate=50)
            texts.append("time_s,pulse\n" + "".join(f"{i / 50:.2f},{512 + v:.0f}\n" for i, v in enumerate(samples)))
        for i in range(cls.count):
            broken = i % 20 == 7  # one in twenty
            with open(os.path.join(cls.many, f"p{i:04}.csv"), "w") as file:
                file.write("no recording at all\n" if broken else texts[i % len(texts)] + f"# {i}\n")
        cls.whole = subprocess.run([PROGRAM, "batch", cls.many, "--age", "15", "--workers", "1"], capture_output=True, text=True).stdout

    def batch(self, *arguments, expect=1, **more):
        return self.run_program("batch", self.many, "--age", "15", *arguments, expect=expect, **more)

    def test_killed_at_random_points_and_resumed_it_ends_with_the_same_bytes(self):
        journal = self.path("killed.jsonl")
        chance = random.Random(1)
        kills = 0
        for _ in range(200):
            run = subprocess.Popen([PROGRAM, "batch", self.many, "--age", "15", "--journal", journal], stdout=subprocess.PIPE,
                                   stderr=subprocess.DEVNULL)
            try:
                out, _ = run.communicate(timeout=chance.uniform(0.02, 0.3 if LONG else 0.12))
                break
            except subprocess.TimeoutExpired:
                run.send_signal(signal.SIGKILL)
                run.communicate()
                kills += 1
                if kills == (20 if LONG else 8):
                    out = self.batch("--journal", journal).encode()
                    break
        self.assertGreaterEqual(kills, 3)
        self.assertEqual(out.decode(), self.whole)
        with open(journal) as file:
            positions = [json.loads(line)["position"] for line in file.readlines()[1:]]
        self.assertEqual(sorted(positions), list(range(self.count)))  # none twice, none lost

    def test_no_worker_outlives_its_batch(self):
        run = subprocess.Popen([PROGRAM, "batch", self.many, "--workers", "3"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        self.addCleanup(run.wait)
        self.addCleanup(run.kill)
        children, until = [], time.monotonic() + 10
        while time.monotonic() < until and len(children) < 3:
            time.sleep(0.05)
            children = content(f"/proc/{run.pid}/task/{run.pid}/children").split()
        self.assertEqual(len(children), 3)
        run.kill()
        run.wait()
        until = time.monotonic() + 10
        while time.monotonic() < until and any(map(is_alive, children)):
            time.sleep(0.05)
        self.assertEqual([child for child in children if is_alive(child)], [])

    def test_a_cut_off_line_is_done_again(self):
        journal = self.path("cut.jsonl")
        self.batch("--journal", journal)
        size = os.path.getsize(journal)
        with open(journal, "rb+") as file:
            file.truncate(size - 25)
        self.assertEqual(self.batch("--journal", journal), self.whole)
        self.assertEqual(os.path.getsize(journal), size)

    def test_a_journal_of_another_batch_is_refused_and_says_what_differs(self):
        journal = self.path("other.jsonl")
        self.batch("--journal", journal)
        before = content(journal)
        self.run_program("batch", self.many, "--age", "16", "--journal", journal, expect=2)
        self.assertIn("age_years", self.talk)
        self.run_program("batch", os.path.join(self.many, "p00*"), "--age", "15", "--journal", journal, expect=2)
        self.assertIn("another list", self.talk)
        self.assertEqual(content(journal), before)
        stranger = self.write("notes.jsonl", "milk\n")
        self.run_program("batch", self.many, "--journal", stranger, expect=3)
        self.assertIn("notes.jsonl:1", self.talk)
        self.assertEqual(content(stranger), "milk\n")

    def test_shards_merge_to_the_whole(self):
        folder = self.path("shards")
        os.makedirs(folder)
        for part in (2, 3, 1):
            rows = self.batch("--shard", f"{part}/3", "--journal", os.path.join(folder, f"part{part}.jsonl"))
            self.assertLess(rows.count("\n"), self.count)
            if part == 3:
                self.run_program("batch", "--merge", folder, expect=3)
                self.assertIn("none of the journals", self.talk)
        self.assertEqual(self.run_program("batch", "--merge", folder, expect=1), self.whole)
        self.assertEqual(self.run_program("batch", "--merge", os.path.join(folder, "part*.jsonl"), "--format", "jsonl", expect=1),
                         self.batch("--format", "jsonl"))
        for wrong in ("0/3", "4/3", "1", "a/b", "1/", "-1/3"):
            self.batch("--shard", wrong, expect=2)

    def test_rows_do_not_depend_on_the_number_of_workers(self):
        self.assertEqual(self.batch("--workers", "7"), self.whole)

    def test_lines_and_database_say_what_the_csv_says(self):
        database = self.path("rows.sqlite")
        lines = [json.loads(line) for line in self.batch("--format", "jsonl", "--database", database).splitlines()]
        rows = list(csv.DictReader(io.StringIO(self.whole)))
        self.assertEqual([line["file"] for line in lines], [row["file"] for row in rows])
        with contextlib.closing(sqlite3.connect(database)) as connection:
            stored = connection.execute("SELECT file, status, beats_count, mean_hr_bpm, reason FROM records").fetchall()
            self.assertEqual(connection.execute("SELECT options FROM provenance").fetchone()[0], '{"age_years":15.0}')
        for line, row, (file, status, beats, mean, reason) in zip(lines, rows, stored, strict=True):
            self.assertEqual((row["file"], row["status"]), (file, status))
            self.assertEqual(row["beats_count"], "" if beats is None else str(beats))
            self.assertEqual(line.get("mean_hr_bpm"), mean)
            self.assertEqual(row["reason"], reason or "")
            if mean is not None:
                self.assertAlmostEqual(float(row["mean_hr_bpm"]), mean, delta=0.0051)
        self.write("a_file", "")
        self.run_program("batch", self.many, "--database", self.path("a_file", "rows.sqlite"), expect=3)

    def test_a_record_that_hangs_costs_its_own_row_only(self):
        folder = self.path("slow")
        os.makedirs(folder)
        recordings.write_session(os.path.join(folder, "a.csv"), duration_s=30)
        os.mkfifo(os.path.join(folder, "b.csv"))  # nobody ever writes into it
        recordings.write_session(os.path.join(folder, "c.csv"), duration_s=30)
        self.write("slow/all.lst", "a.csv\nb.csv\nc.csv\n")
        rows = self.rows("batch", self.path("slow", "all.lst"), "--time-limit", "2", expect=1)
        self.assertEqual([row["status"] for row in rows], ["done", "failed", "done"])
        self.assertIn("longer than the 2 s", rows[1]["reason"])

    def test_pipes_in_a_folder_are_no_records_and_a_reason_stays_readable(self):
        folder = self.path("odd_folder")
        os.makedirs(folder)
        recordings.write_session(os.path.join(folder, "a.csv"), duration_s=30)
        os.mkfifo(os.path.join(folder, "b.csv"))
        with open(os.path.join(folder, "wide.csv"), "w") as file:
            file.write("time_s," + ",".join(f"c{k}" for k in range(3000)) + "\n")
            file.writelines(f"{i / 250:.3f}," + ",".join(["1"] * 3000) + "\n" for i in range(20))
        rows = self.rows("batch", folder, expect=1)
        self.assertEqual([row["file"] for row in rows], ["a.csv", "wide.csv"])
        self.assertLess(len(rows[1]["reason"]), 2100)

    @unittest.skipIf(SANITIZED, "the address sanitizer needs more memory than any limit leaves")
    def test_a_record_that_eats_memory_costs_its_own_row_only(self):
        folder = self.path("fat")
        os.makedirs(folder)
        recordings.write_session(os.path.join(folder, "a.csv"), duration_s=30)
        with open(os.path.join(folder, "fat.csv"), "w") as file:
            file.write("time_s,ecg_mV\n" + "".join(f"{i / 250:.3f},{i % 7}\n" for i in range(2_000_000)))
        rows = self.rows("batch", folder, "--memory-limit", "24", "--workers", "1", expect=1)
        self.assertEqual([row["status"] for row in rows], ["done", "failed"])
        self.assertRegex(rows[1]["reason"], "memory|worker")

    def test_the_same_bytes_under_two_names_are_noticed(self):
        folder = self.path("twins")
        os.makedirs(os.path.join(folder, "b"))
        recordings.write_session(os.path.join(folder, "wren.csv"), duration_s=30)
        with open(os.path.join(folder, "wren.csv")) as one, open(os.path.join(folder, "b", "wren.csv"), "w") as two:
            two.write(one.read())
        self.write("twins/all.lst", "wren.csv\nb/wren.csv\n")
        rows = self.rows("batch", self.path("twins", "all.lst"))
        self.assertEqual([row["file"] for row in rows], ["wren.csv", "b/wren.csv"])  # the same base name, kept apart
        self.assertIn("[repeated_content]", self.talk)

    def test_the_page_sums_up_and_names_outliers(self):
        page = self.batch("--format", "text")
        self.assertIn("median", page)
        self.assertIn("quartile", page)

    def test_the_list_says_what_would_be_done(self):
        lines = [json.loads(line) for line in self.batch("--list", "-", expect=0).splitlines()]
        self.assertEqual(lines[0]["records_count"], self.count)
        self.assertEqual([line["position"] for line in lines[1:]], list(range(self.count)))
        self.assertEqual(lines[1]["options"], {"age_years": 15.0})
        self.assertTrue(os.path.isabs(lines[1]["path"]))


if __name__ == "__main__":
    unittest.main()
