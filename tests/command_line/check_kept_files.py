"""What a lab keeps stays as it is: logs that several write at once, folders of results, journals, and what is forgotten."""
import csv
import os
import shutil
import signal
import subprocess
import unittest

from program_case import PROGRAM, ProgramCase
import recordings


class Logs(ProgramCase):
    def keep(self, log, recording, code="wren", date="2026-03-02"):
        self.run_program("effort", recording, "--code", code, "--log", log, "--date", date)

    def rows_of(self, log):
        with open(log, newline="", encoding="utf-8") as file:
            return list(csv.DictReader(line for line in file if not line.startswith("#")))

    def test_twelve_processes_at_once_lose_no_session(self):
        log = self.path("together.csv")
        runs = [subprocess.Popen([PROGRAM, "effort", self.session, "--code", f"p{i:02}", "--log", log, "--date", "2026-03-02"],
                                 stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) for i in range(12)]
        for run in runs:
            _, talk = run.communicate(timeout=300)
            self.assertEqual(run.returncode, 0, talk)
            self.assertIn(b"1 session, 0 of them", talk)
        self.assertEqual([row["code"] for row in self.rows_of(log)], [f"p{i:02}" for i in range(12)])

    def test_a_log_does_not_grow_and_its_mode_and_notes_stay(self):
        name = self.path('a "quoted, name".csv')
        shutil.copy(self.session, name)
        log = self.path("grown.csv")
        self.keep(log, name)
        os.chmod(log, 0o640)
        with open(log, encoding="utf-8") as file:
            header, row = file.read().splitlines()
        with open(log, "w", encoding="utf-8") as file:
            file.write(f"# spring term\n{header},note\n{row},slept badly\n")
        for _ in range(18):
            self.keep(log, name)
        with open(log, encoding="utf-8") as file:
            lines = file.read().splitlines()
        self.assertEqual(lines, ["# spring term", header + ",note", row + ",slept badly"])
        self.assertEqual(os.stat(log).st_mode & 0o777, 0o640)

    def test_two_recordings_of_one_name_on_one_day_are_two_sessions(self):
        for folder in ("morning", "noon"):
            os.makedirs(self.path(folder))
            shutil.copy(self.session, self.path(folder, "clip.csv"))
        with open(self.path("noon", "clip.csv"), "a") as file:
            file.write("# another one\n")
        log = self.path("day.csv")
        self.keep(log, self.path("morning", "clip.csv"))
        self.keep(log, self.path("noon", "clip.csv"))
        self.assertIn("beside another of the same day", self.talk)
        self.keep(log, self.path("noon", "clip.csv"))
        self.assertEqual(len(self.rows_of(log)), 2)

    def test_a_device_is_no_log(self):
        self.run_program("effort", self.session, "--code", "wren", "--log", "/dev/full", "--date", "2026-03-02", expect=3)


class Folders(ProgramCase):
    def test_figures_take_the_place_of_nothing_unless_asked(self):
        folder = self.path("figures")
        os.makedirs(folder)
        own = self.write("figures/rate.svg", "mine")
        self.assertEqual(self.run_program("analyze", self.session, "--figures", folder, expect=2), "")
        self.assertIn("--figures:", self.talk)
        with open(own) as file:
            self.assertEqual(file.read(), "mine")
        self.run_program("analyze", self.session, "--figures", folder, "--overwrite")
        with open(own) as file:
            self.assertIn("<svg", file.read())

    def test_no_link_leads_the_results_out_of_their_folder(self):
        diary = self.write("diary.txt", "mine")
        out = self.path("linked")
        os.makedirs(out)
        os.symlink("../diary.txt", os.path.join(out, "beats.csv"))
        self.run_program("beats", self.session, "--out", out, "--overwrite", expect=3)
        self.assertIn("leads out of the folder", self.talk)
        with open(diary) as file:
            self.assertEqual(file.read(), "mine")

    def test_a_link_to_nothing_yet_stays_a_link(self):
        os.symlink("later.html", self.path("page.html"))
        self.run_program("analyze", self.session, "--report", self.path("page.html"))
        self.assertTrue(os.path.islink(self.path("page.html")))
        self.assertTrue(os.path.isfile(self.path("later.html")))


class Journals(ProgramCase):
    def test_a_record_that_was_changed_is_worked_on_again(self):
        folder = self.path("club")
        os.makedirs(folder)
        for name in ("a", "b"):
            recordings.write_session(os.path.join(folder, name + ".csv"), duration_s=30)
        journal = self.path("club.jsonl")
        before = self.rows("batch", folder, "--journal", journal)
        recordings.write_session(os.path.join(folder, "b.csv"), duration_s=40)
        after = self.rows("batch", folder, "--journal", journal)
        self.assertIn("1 records were changed since", self.talk)
        self.assertEqual(after[0], before[0])
        self.assertAlmostEqual(float(after[1]["duration_s"]), 40, delta=0.1)
        self.assertEqual(self.rows("batch", folder, "--journal", journal), after)
        self.assertEqual(self.rows("batch", journal, "--merge"), after)

    def test_devices_are_neither_journals_nor_lists_nor_edits(self):
        self.run_program("batch", self.session, "--journal", "/dev/full", expect=2)
        self.assertIn("is a device or a pipe", self.talk)
        for arguments in (["batch", "/dev/zero"], ["batch", "/dev/zero", "--merge"], ["beats", self.session, "--edits", "/dev/zero"],
                          ["class", "/dev/zero", "--roster", "/dev/zero"], ["class", "--weekly", "/dev/zero"]):
            self.run_program(*arguments, expect=3)
            self.assertIn("neither a file nor a pipe", self.talk)


    def test_a_journal_of_any_depth_is_refused_by_line(self):
        for deep in ("[" * 100_000, '{"a":' * 100_000):
            self.run_program("batch", self.write("deep.jsonl", deep + "\n"), "--merge", expect=3)
            self.assertIn("deep.jsonl:1:", self.talk)


class Inputs(ProgramCase):
    def test_a_file_that_is_cut_while_it_is_read_ends_in_an_error_and_no_signal(self):
        path = self.path("cut.csv")
        with open(path, "w") as file:
            file.write("time_s,ecg_mV\n")
            file.writelines(f"{i / 250:.3f},{i % 7}\n" for i in range(3_000_000))
        run = subprocess.Popen([PROGRAM, "inspect", path], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        os.truncate(path, 10_000)
        _, talk = run.communicate(timeout=300)
        self.assertIn(run.returncode, (0, 3), talk)  # it may have read to the new end at once
        self.assertNotIn(-run.returncode, (signal.SIGBUS, signal.SIGSEGV))

    def test_single_bytes_of_another_encoding_never_reach_the_terminal(self):
        name = os.path.join(os.fsencode(self.folder), b"a\x9bb\xff.csv")
        with open(name, "wb") as file:
            file.write(b"time_s,ecg\n0,1\n0.01,x\x9b31m\xe2\x80\xae\n0.02,1\n")
        for arguments in ([b"beats", name], [b"batch", os.fsencode(self.folder)]):
            done = subprocess.run([os.fsencode(PROGRAM), *arguments], capture_output=True)
            for text in (done.stderr.decode("utf-8"), done.stdout.decode("utf-8")):
                self.assertFalse([c for c in text if c not in "\r\n" and (ord(c) < 0x20 or 0x7F <= ord(c) <= 0x9F or c == "\u202e")], text)

    def test_a_time_beyond_every_recording_is_refused_with_its_line(self):
        beats = self.write("beats.txt", "9223372036854775\n")
        self.run_program("rate", beats, "--input", "beats", "--reference-rate", "1", expect=3)
        self.assertIn("beats.txt:1:", self.talk)
        intervals = self.write("intervals.txt", "800\n9223372036854775807\n")
        self.run_program("rate", intervals, "--input", "intervals", expect=3)
        self.assertIn("intervals.txt:2:", self.talk)


if __name__ == "__main__":
    unittest.main()
