"""Many records at once, and beats against references."""
import json
import os
import struct
import subprocess
import unittest

from program_case import PROGRAM, ProgramCase
import recordings


def write_open_record(folder, name, times, duration_s):
    """A record of the open format (header, 16-bit samples, beat annotations), as header(5), signal(5), annot(5) describe."""
    samples = [round(200 * v) for v in recordings.ecg_samples(times, duration_s)]
    with open(os.path.join(folder, name + ".dat"), "wb") as file:
        file.write(struct.pack(f"<{len(samples)}h", *samples))
    checksum = (sum(samples) + 32768) % 65536 - 32768
    with open(os.path.join(folder, name + ".hea"), "w") as file:
        file.write(f"{name} 1 {recordings.RATE} {len(samples)}\n")
        file.write(f"{name}.dat 16 200 16 0 {samples[0]} {checksum} 0 ECG\n")
    words, last = b"", 0
    for t in times:
        sample = round(t * recordings.RATE)
        words += struct.pack("<H", (1 << 10) | (sample - last))  # code 1, a normal beat; steps stay below 1024 samples
        last = sample
    with open(os.path.join(folder, name + ".atr"), "wb") as file:
        file.write(words + b"\0\0")


class Batch(ProgramCase):
    COLUMNS = ["file", "status", "exit_code", "reason", "duration_s", "beats_count", "readable_percent", "flagged_percent",
               "mean_hr_bpm", "lowest_hr_bpm", "peak_hr_bpm", "mean_nn_ms", "sdnn_ms", "rmssd_ms", "pnn50_percent", "in_target_s",
               "moderate_or_harder_s", "target_method", "resting_source"]

    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.club = os.path.join(cls.folder, "club")
        os.makedirs(cls.club)
        recordings.write_session(os.path.join(cls.club, "heron.csv"), duration_s=30, bpm=90)
        recordings.write_session(os.path.join(cls.club, "plover.csv"), duration_s=30, bpm=70)
        write_open_record(cls.club, "wren", recordings.beat_times(30, 80), 30)
        recordings.write_flat(os.path.join(cls.club, "flat.csv"))
        with open(os.path.join(cls.club, "broken.csv"), "wb") as file:
            file.write(b"\0\1\2\3" * 100)
        with open(os.path.join(cls.club, "heron_truth_beats.csv"), "w") as file:
            file.write("time_s,label\n1.0,normal\n")
        with open(os.path.join(cls.club, "README.md"), "w") as file:
            file.write("The science club\n")

    def test_a_row_for_each_record_and_its_failures(self):
        rows = self.rows("batch", self.club, expect=1)
        self.assertEqual(self.header, self.COLUMNS)
        table = {row["file"]: row for row in rows}
        self.assertEqual(list(table), ["broken.csv", "flat.csv", "heron.csv", "plover.csv", "wren"])
        self.assertEqual([row["status"] for row in rows], ["failed", "no_value", "done", "done", "done"])
        self.assertEqual([row["exit_code"] for row in rows], ["3", "1", "0", "0", "0"])
        self.assertIn("broken.csv", table["broken.csv"]["reason"])
        self.assertNotIn(self.folder, table["broken.csv"]["reason"])
        self.assertEqual(table["broken.csv"]["beats_count"], "")
        self.assertAlmostEqual(float(table["heron.csv"]["mean_hr_bpm"]), 90, delta=3)
        self.assertAlmostEqual(float(table["wren"]["mean_hr_bpm"]), 80, delta=3)
        for row in rows:
            for column, places in [("duration_s", 6), ("mean_hr_bpm", 2), ("sdnn_ms", 3), ("readable_percent", 2)]:
                if row[column]:
                    self.assert_decimals(row[column], places)

    def test_effort_that_was_not_measured_is_empty_and_not_zero(self):
        table = {row["file"]: row for row in self.rows("batch", self.club, "--age", "15", "--resting", "60", expect=1)}
        for column in ["in_target_s", "moderate_or_harder_s"]:
            self.assertEqual(table["flat.csv"][column], "")
            self.assertNotEqual(table["heron.csv"][column], "")

    def test_each_row_says_which_scale_its_target_is_on(self):
        folder = self.path("scales")
        os.makedirs(folder, exist_ok=True)
        recordings.write_session(os.path.join(folder, "calm.csv"), duration_s=90, bpm=70)
        recordings.write_session(os.path.join(folder, "hard.csv"), duration_s=90, bpm=140)
        scales = lambda *options: [(row["target_method"], row["resting_source"]) for row in self.rows("batch", folder, *options)]
        self.assertEqual(scales("--age", "15"), [("reserve", "lowest_minute"), ("maximum", "")])
        self.assertIn("(in 1 of the records) or of the maximum (in 1)", self.talk)
        self.assertEqual(scales("--age", "15", "--resting", "66"), [("reserve", "given")] * 2)
        self.assertNotIn("targets_on_two_scales", self.talk)
        self.assertEqual(scales(), [("", "lowest_minute"), ("", "")])

    def test_any_number_of_workers_gives_the_same_bytes(self):
        one = self.run_program("batch", self.club, "--workers", "1", "--age", "15", expect=1)
        for workers in ["2", "4", "16"]:
            self.assertEqual(self.run_program("batch", self.club, "--workers", workers, "--age", "15", expect=1), one)
        json_one = self.run_program("batch", self.club, "--workers", "1", "--format", "json", expect=1)
        self.assertEqual(self.run_program("batch", self.club, "--workers", "4", "--format", "json", expect=1), json_one)

    def test_a_pattern_takes_what_it_matches_once(self):
        rows = self.rows("batch", os.path.join(self.club, "wren*"))
        self.assertEqual([row["file"] for row in rows], ["wren"])  # header, samples and annotations are one record
        rows = self.rows("batch", os.path.join(self.club, "[hp]*[nr].csv"))
        self.assertEqual([row["file"] for row in rows], ["heron.csv", "plover.csv"])

    def test_a_list_keeps_its_order_and_names_what_is_missing(self):
        listed = self.write(os.path.join("club", "list.lst"), "# the club\nwren\n\nheron.csv\nmissing.csv\n")
        rows = self.rows("batch", listed, expect=1)
        self.assertEqual([row["file"] for row in rows], ["wren", "heron.csv", "missing.csv"])
        self.assertEqual([row["exit_code"] for row in rows], ["0", "0", "3"])

    def test_a_table_gives_each_record_options_of_its_own(self):
        table = self.write(os.path.join("club", "table.csv"), "\ufefffile;age_years;resting_bpm;start_s;end_s;low_percent\n# two stretches of one\n"
                           "heron.csv;15;84,5;;;\nwren;15;;;;70\nheron.csv;15;;5;20;\n")
        rows = self.rows("batch", table, "--age", "40", "--resting", "60")
        self.assertEqual([row["file"] for row in rows], ["heron.csv#3", "wren", "heron.csv#5"])
        self.assertEqual((rows[0]["duration_s"], rows[2]["duration_s"]), ("30.000000", "20.000000"))
        alone = self.rows("batch", os.path.join(self.club, "heron.csv"), "--age", "15", "--resting", "84.5")[0]
        self.assertEqual({**rows[0], "file": ""}, {**alone, "file": ""})
        lines = self.run_program("batch", table, "--age", "40", "--list", "-").splitlines()
        self.assertEqual(json.loads(lines[2])["options"], {"age_years": 15, "low_percent": 70})

    def test_every_equation_and_exercise_is_kept_in_the_options_of_a_record(self):
        for equation in ["tanaka", "gellish", "nes", "gulati", "mahon"]:
            age = ["--age", "15"] if equation == "mahon" else ["--age", "30", "--sex", "female"]
            listed = self.run_program("batch", os.path.join(self.club, "heron.csv"), *age, "--equation", equation, "--exercise", "arms", "--list", "-")
            options = json.loads(listed.splitlines()[1])["options"]
            self.assertEqual((options["equation"], options["exercise"]), (equation, "arms"))

    def test_every_fault_of_a_table_is_told_by_line(self):
        table = self.write(os.path.join("club", "wrong.csv"), "file,age_years,sex,mood\nwren,400,,\n,15,,\nwren,15,other,\nwren,old,,\nwren,15,,good\n")
        self.assertEqual(self.run_program("batch", table, expect=3), "")
        for part in ["wrong.csv:2: option age_years: 400", "wrong.csv:3: a row names its file", "wrong.csv:4: option sex: \"other\"",
                     "wrong.csv:5: option age_years: \"old\"", "wrong.csv:6: option mood"]:
            self.assertIn(part, self.talk)
        self.run_program("batch", self.write("nowhere.csv", "file,age_years\nmissing.csv,15\n"), expect=3)
        self.assertIn("none of the files", self.talk)

    def test_a_single_recording_is_one_row(self):
        for name, row_name in [("heron.csv", "heron.csv"), ("wren", "wren"), ("wren.hea", "wren"), ("wren.dat", "wren")]:
            rows = self.rows("batch", os.path.join(self.club, name))
            self.assertEqual([(row["file"], row["status"]) for row in rows], [(row_name, "done")])
        intervals = self.write("heron_intervals.txt", "".join(f"{800 + 10 * (i % 5)}\n" for i in range(60)))
        rows = self.rows("batch", intervals, "--input", "intervals")
        self.assertEqual([(row["file"], row["beats_count"]) for row in rows], [("heron_intervals.txt", "61")])

    def test_a_text_whose_lines_are_no_paths_is_one_error_with_line_and_value(self):
        wrong = self.write("notes.txt", "# the club\nMonday was sunny\n" * 500)
        self.assertEqual(self.run_program("batch", wrong, expect=3), "")
        self.assertEqual(len(self.talk.splitlines()), 1)
        for part in [wrong + ":2:", "'Monday was sunny'", "one path a line"]:
            self.assertIn(part, self.talk)

    def test_a_list_comes_from_standard_input_too(self):
        done = subprocess.run([PROGRAM, "batch", "-"], input=b"heron.csv\nwren\n", cwd=self.club, capture_output=True)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertEqual([line.split(b",")[0] for line in done.stdout.splitlines()[1:]], [b"heron.csv", b"wren"])

    def test_a_row_says_what_its_record_alone_would_have_ended_with(self):
        folder = self.path("short")
        os.makedirs(folder, exist_ok=True)
        for seconds in [2, 5, 20]:
            recordings.write_session(os.path.join(folder, f"{seconds:02}.csv"), duration_s=seconds)
        rows = self.rows("batch", folder, expect=1)
        self.assertEqual([row["status"] for row in rows], ["no_value", "no_value", "done"])
        self.assertIn("shorter than one window of 8.0 s", rows[0]["reason"])
        for row in rows:
            for command in ["analyze", "effort", "rate"]:
                self.run_program(command, os.path.join(folder, row["file"]), expect=int(row["exit_code"]))

    def test_on_stderr_a_failed_record_goes_by_its_path(self):
        self.run_program("batch", self.club, expect=1)
        self.assertIn(os.path.join(self.club, "broken.csv") + ": byte 0:", self.talk)
        self.assertIn(os.path.join(self.club, "flat.csv"), self.talk)
        nested = self.write("nested.lst", "club/broken.csv\nclub/heron.csv\n")
        row = self.rows("batch", nested, expect=1)[0]
        self.assertTrue(row["reason"].startswith("club/broken.csv: byte 0:"), row["reason"])

    def test_only_an_unreadable_list_is_an_unreadable_input(self):
        self.run_program("batch", self.path("nowhere"), expect=3)
        self.run_program("batch", self.path("nowhere", "*.csv"), expect=3)
        self.run_program("batch", self.write("binary.lst", b"a\0b\n"), expect=3)

    def test_an_empty_folder_has_no_value(self):
        os.makedirs(self.path("bare"), exist_ok=True)
        self.assertEqual(self.run_program("batch", self.path("bare"), expect=1), ",".join(self.COLUMNS) + "\n")

    def test_wrong_usage_is_refused_once(self):
        self.assertEqual(self.run_program("batch", self.club, "--low", "90", expect=2), "")


class Compare(ProgramCase):
    COLUMNS = ["name", "reference_count", "true_positives_count", "false_negatives_count", "false_positives_count", "sensitivity_percent",
               "positive_predictivity_percent", "f1_percent", "error_rate_percent", "bias_ms", "sd_ms", "p95_absolute_ms", "scored_s",
               "excluded_s", "unreadable_s"]

    def table(self, name, times):
        return self.write(name, "time_s\n" + "".join(f"{t:.6f}\n" for t in times))

    def test_counts_worked_by_hand(self):
        reference = self.table("reference.csv", [1.0, 2.0, 3.0, 4.0, 5.0])
        # 2.010 and 3.990 match 10 ms off, 3 s is missed, 4.5 s is extra
        test = self.table("test.csv", [1.0, 2.010, 3.990, 4.5, 5.0])
        row = self.rows("compare", "beats", reference, test)[0]
        self.assertEqual(self.header, self.COLUMNS)
        expected = {"name": "test", "reference_count": "5", "true_positives_count": "4", "false_negatives_count": "1",
                    "false_positives_count": "1", "sensitivity_percent": "80.000", "positive_predictivity_percent": "80.000",
                    "f1_percent": "80.000", "error_rate_percent": "40.000", "bias_ms": "0.000", "excluded_s": "0.000"}
        self.assertEqual({key: row[key] for key in expected}, expected)

    def test_a_recording_is_no_reference(self):
        self.assertEqual(self.run_program("compare", "beats", self.session, self.session, expect=3), "")
        self.assertIn(self.session, self.talk)
        self.assertIn("looks like a recording", self.talk)
        write_open_record(self.folder, "record", self.beats, 60)
        self.run_program("compare", "beats", self.path("record.hea"), self.session, expect=3)
        self.run_program("compare", "beats", self.path("record.atr"), self.session)

    def test_tolerance_decides(self):
        reference = self.table("reference.csv", [1.0, 2.0, 3.0])
        test = self.table("test.csv", [1.1, 2.1, 3.1])
        self.assertEqual(self.rows("compare", "beats", reference, test)[0]["true_positives_count"], "3")
        row = self.rows("compare", "beats", reference, test, "--tolerance", "0.05")[0]
        self.assertEqual((row["true_positives_count"], row["false_positives_count"]), ("0", "3"))

    def test_skip_and_excluded_spans_are_not_scored_and_their_length_is_printed(self):
        reference = self.table("reference.csv", [1.0, 2.0, 3.0, 4.0, 5.0])
        test = self.table("test.csv", [4.0, 5.0])
        spans = self.write("spans.txt", "2.5 3.5\n")
        row = self.rows("compare", "beats", reference, test, "--skip", "1.5", "--exclude", spans)[0]
        self.assertEqual((row["reference_count"], row["false_negatives_count"], row["excluded_s"]), ("3", "1", "1.000"))

    def test_a_recording_is_searched_and_its_rules_are_printed(self):
        reference = self.table("reference.csv", self.beats)
        row = self.rows("compare", "beats", reference, self.session, "--kind", "ecg")[0]
        self.assertEqual((row["sensitivity_percent"], row["positive_predictivity_percent"]), ("100.000", "100.000"))
        page = self.run_program("compare", "beats", reference, self.session, "--kind", "ecg")
        for part in ["sensitivity (Se)", "150 ms", "8 ms", "one to one"]:
            self.assertIn(part, page)

    def test_start_and_end_are_not_held_against_the_test(self):
        reference = self.table("reference.csv", self.beats)
        row = self.rows("compare", "beats", reference, self.session, "--kind", "ecg", "--start", "20", "--end", "40")[0]
        self.assertLessEqual(int(row["false_negatives_count"]), 1)
        self.assertLess(int(row["reference_count"]), len(self.beats) / 2)

    def test_folders_are_matched_by_base_name(self):
        folder = self.path("records")
        os.makedirs(folder, exist_ok=True)
        for name, bpm in [("100", 70), ("101", 95)]:
            write_open_record(folder, name, recordings.beat_times(40, bpm), 40)
        rows = self.rows("compare", "beats", folder, folder, "--kind", "ecg", "--skip", "0.5")
        self.assertEqual([row["name"] for row in rows], ["100", "101", "gross", "average"])
        self.assertTrue(all(float(row["f1_percent"]) > 99 for row in rows))
        self.run_program("compare", "beats", folder, folder, "--reference-ending", ".xyz", expect=3)
        self.run_program("compare", "beats", folder, self.session, expect=2)

    def test_nothing_to_score_has_no_value(self):
        reference = self.table("reference.csv", [1.0, 2.0])
        test = self.table("test.csv", [1.0, 2.0])
        self.run_program("compare", "beats", reference, test, "--skip", "100", expect=1)


if __name__ == "__main__":
    unittest.main()
