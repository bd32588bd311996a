"""Exit codes, and messages that name file, place, value and rule."""
import os
import re
import shlex
import subprocess
import unittest

from program_case import PROGRAM, SOURCE, ProgramCase
import recordings


class ExitCodes(ProgramCase):
    def test_help_of_every_command_is_no_error_and_ends_with_example_and_codes(self):
        top = self.run_program("--help")
        for command in ["inspect", "beats", "intervals", "rate", "variability", "effort", "analyze", "target", "batch", "compare"]:
            self.assertIn(f"\n  {command} ", top)
            text = self.run_program(command, "--help")
            self.assertIn("Example:\n  pulsewright " + command, text)
            self.assertIn("Exit codes: 0 done", text.split("Example:")[1])
        self.assertIn("Example:\n  pulsewright compare beats", self.run_program("compare", "beats", "--help"))
        self.assertRegex(self.run_program("--version"), r"^pulsewright [0-9]+\.[0-9]+\.[0-9]+\n$")

    def test_every_example_of_the_help_runs_as_printed(self):
        commands = [["inspect"], ["beats"], ["intervals"], ["rate"], ["variability"], ["effort"], ["analyze"], ["target"], ["batch"],
                    ["compare", "beats"]]
        for command in commands:
            text = self.run_program(*command, "--help")
            example = re.search(r"Example:\n  pulsewright (.*)\n", text).group(1)
            with self.subTest(example=example):
                done = subprocess.run([PROGRAM, *shlex.split(example)], cwd=SOURCE, capture_output=True, timeout=300)
                self.assertEqual(done.returncode, 0, done.stderr.decode())
                self.assertTrue(done.stdout)

    def test_usage(self):
        cases = [[], ["sing"], ["beats"], ["beats", self.session, "--kind", "sound"], ["beats", self.session, "--nonsense"],
                 ["rate", self.session, "--window", "0"], ["rate", self.session, "--step", "-1"], ["rate", self.session, "--window", "nan"],
                 ["beats", self.session, "--rate", "0"], ["beats", self.session, "--start", "-3"],
                 ["beats", self.session, "--start", "40", "--end", "20"], ["beats", self.session, "--format", "xml"],
                 ["effort", self.session, "--age", "0"], ["effort", self.session, "--age", "inf"], ["effort", self.session, "--sex", "x"],
                 ["effort", self.session, "--resting", "500"], ["effort", self.session, "--low", "85", "--high", "60"],
                 ["target"], ["target", "--age", "15", "--equation", "guess"], ["target", "--age", "15", "--equation", "gulati"],
                 ["target", "--maximum", "100", "--resting", "110"], ["batch", self.folder, "--workers", "-1"],
                 ["beats", self.session, "--overwrite"], ["compare"], ["compare", "beats", self.session]]
        for arguments in cases:
            with self.subTest(arguments=arguments):
                self.assertEqual(self.run_program(*arguments, expect=2), "")
                self.assertTrue(self.talk.startswith("pulsewright: error: "), self.talk)

    def test_an_empty_path_is_no_path(self):
        for arguments in [["beats", ""], ["beats", self.session, "--out", ""], ["bench", "waves", "--out", ""],
                          ["simulate", "--out", ""], ["analyze", self.session, "--report", ""], ["batch", self.folder, "--journal", ""],
                          ["class", "--weekly", ""], ["effort", self.session, "--marks", ""], ["compare", "beats", self.session, ""]]:
            with self.subTest(arguments=arguments):
                self.assertEqual(self.run_program(*arguments, expect=2), "")
                self.assertIn("a name is missing", self.talk)

    def test_a_seed_is_a_whole_number(self):
        for seed in ["-1", "1e3", "2.5", "", "0x10"]:
            for arguments in [["simulate"], ["compare", "rate", self.session], ["compare", "intervals", self.session]]:
                self.run_program(*arguments, "--seed", seed, expect=2)
                self.assertIn(f"'{seed}' is not a whole number of 0 or more", self.talk)

    def test_a_wrong_word_is_named_with_the_nearest_one_and_where_to_read_on(self):
        cases = [(["effrot", "x"], "'effrot' is no command; is effort meant? See pulsewright --help"),
                 (["sing"], "'sing' is no command; there are inspect, beats, "),
                 ([], "a command is missing: inspect, beats, "),
                 (["compare", "beets", "a", "b"], "'beets' is no command of compare; is beats meant? See pulsewright compare --help"),
                 (["beats", "x", "--knd", "ecg"], "'--knd' is no option of beats; is --kind meant? See pulsewright beats --help"),
                 (["beats", "x", "--nonsense=3"], "'--nonsense' is no option of beats; see pulsewright beats --help"),
                 (["--locale", "de", "target", "--age", "15"], "'--locale' is no option of pulsewright"),
                 (["beats", "the", "clip.csv"], "'clip.csv' is one word too many for beats"),
                 (["beats"], "beats needs INPUT; see pulsewright beats --help"),
                 (["compare", "beats", "x"], "compare beats needs TEST; see pulsewright compare beats --help"),
                 (["beats", "x", "--rate"], "--rate needs a value behind it; see pulsewright beats --help"),
                 (["beats", "x", "--rate", "3", "--rate", "4"], "--rate is given more than once; see"),
                 (["beats", "x", "--rate=fast"], "--rate: 'fast' is not a number above 0; see pulsewright beats --help"),
                 (["beats", "x", "--streaming=maybe"], "'maybe' is no value for --streaming; see")]
        for arguments, words in cases:
            with self.subTest(arguments=arguments):
                self.run_program(*arguments, expect=2)
                self.assertIn("pulsewright: error: " + words, self.talk)
                self.assertEqual(len(self.talk.splitlines()), 1)

    def test_an_input_in_another_form_is_told_which_option_reads_it(self):
        intervals = self.write("rr.txt", "".join(f"{800 + 10 * (i % 5)}\n" for i in range(60)))
        self.run_program("rate", intervals, expect=2)
        self.assertIn("--input intervals --unit ms", self.talk)
        self.run_program("rate", intervals, "--input", "intervals", "--unit", "s", expect=2)
        self.assertIn("give --unit ms", self.talk)
        beats = self.write("found.csv", self.run_program("beats", self.session))
        self.run_program("rate", beats, expect=3)
        self.assertIn("--input beats", self.talk)
        self.run_program("rate", beats, "--input", "beats")
        rates = self.write("rates.csv", self.run_program("rate", self.session))
        for form in ["recording", "beats", "intervals"]:
            self.run_program("effort", rates, "--input", form, expect=3)
            self.assertIn("table of heart rates", self.talk)
            self.assertIn("effort --input rates", self.talk)

    def test_without_a_time_column_one_error_says_all_that_helps(self):
        path = self.write("odd.csv", "when,clip\n" + "".join(f"{8 * i},{i % 7}\n" for i in range(500)))
        self.run_program("beats", path, expect=2)
        for part in ["'when', 'clip'", "--rate HZ", "zeit", "temps", "tiempo"]:
            self.assertIn(part, self.talk)
        self.run_program("inspect", path, "--rate", "125")
        self.assertIn("rising_column_left_out", self.talk)
        self.assertEqual([row["name"] for row in self.rows("inspect", path, "--rate", "125")], ["clip"])

    def test_a_flat_line_has_no_value_anywhere(self):
        recordings.write_flat(self.path("flat.csv"))
        for command in ["beats", "intervals", "rate", "variability", "effort", "analyze"]:
            self.run_program(command, self.path("flat.csv"), expect=1)
        self.assertEqual(self.run_program("beats", self.path("flat.csv"), expect=1), "time_s,sample,confidence\n")

    def test_null_measures_inside_a_good_answer_do_not_change_the_code(self):
        self.run_program("effort", self.session)  # no age: no categories
        two = self.write("two.txt", "800 810\n")  # one difference has a size but no spread
        row = self.rows("variability", two, "--input", "intervals")[0]
        self.assertEqual((row["mean_nn_ms"], row["rmssd_ms"], row["sdsd_ms"]), ("805.000", "10.000", ""))

    def test_unreadable_inputs_name_file_and_rule(self):
        cases = {"empty.csv": (b"", "empty"), "junk.csv": (bytes(range(256)) * 8, ""), "words.csv": (b"one\ntwo\nthree\n", "")}
        for name, (content, word) in cases.items():
            with self.subTest(name=name):
                self.write(name, content)
                self.assertEqual(self.run_program("beats", self.path(name), expect=3), "")
                self.assertIn(name, self.talk)
                self.assertIn(word, self.talk)
        self.run_program("beats", self.path("missing.csv"), expect=3)
        self.assertIn("missing.csv", self.talk)

    def test_an_interval_that_is_no_number_is_named_with_its_line(self):
        bad = self.write("bad.txt", "800\n810\nheron\n790\n")
        self.run_program("variability", bad, "--input", "intervals", expect=3)
        for part in ["bad.txt", "3", "heron"]:
            self.assertIn(part, self.talk)
        zero = self.write("zero.txt", "800\n0\n")
        self.run_program("variability", zero, "--input", "intervals", expect=3)
        self.assertIn("zero.txt", self.talk)

    @unittest.skipIf(os.geteuid() == 0, "skipped: root reads everything")
    def test_a_file_without_permission(self):
        locked = self.write("locked.csv", "time_s,ecg\n0,1\n")
        os.chmod(locked, 0)
        self.run_program("beats", locked, expect=3)

    def test_a_folder_is_no_recording(self):
        os.makedirs(self.path("folder"), exist_ok=True)
        self.run_program("beats", self.path("folder"), expect=3)


class Channels(ProgramCase):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        columns = [recordings.ecg_samples(cls.beats, 60), recordings.pulse_samples(cls.beats, 60)]
        cls.twins = os.path.join(cls.folder, "twins.csv")
        recordings.write_table(cls.twins, ["clip", "clip"], columns)
        cls.numbers = os.path.join(cls.folder, "numbers.csv")
        recordings.write_table(cls.numbers, ["2", "ecg"], columns)
        cls.only_ecg = os.path.join(cls.folder, "only_ecg.csv")
        recordings.write_table(cls.only_ecg, ["ecg"], columns[:1])

    def test_a_name_that_occurs_twice_is_refused_with_the_candidates(self):
        self.run_program("beats", self.twins, "--channel", "clip", expect=2)
        self.assertIn("clip", self.talk)
        self.assertIn("2", self.talk)

    def test_a_channel_that_is_not_there_is_refused_with_the_candidates(self):
        self.run_program("beats", self.session, "--channel", "wrist", expect=2)
        self.assertIn("pulse", self.talk)
        self.run_program("beats", self.session, "--channel", "9", expect=2)

    def test_a_hash_forces_a_position_where_a_name_is_a_number(self):
        named = self.run_program("beats", self.numbers, "--channel", "2")
        first = self.run_program("beats", self.numbers, "--channel", "#1")
        self.assertEqual(named, first)  # the channel named 2 is the first
        ecg = self.run_program("beats", self.numbers, "--channel", "ecg")
        self.assertEqual(self.run_program("beats", self.numbers, "--channel", "#2"), ecg)
        self.assertNotEqual(named, ecg)

    def test_the_asked_kind_never_reads_the_other_wave(self):
        self.run_program("beats", self.only_ecg, "--kind", "pulse", expect=2)
        self.run_program("beats", self.session, "--kind", "pulse", "--channel", "1", expect=2)
        self.assertIn("ecg", self.talk)
        pulse = self.rows("beats", self.session, "--kind", "pulse")
        delays = [min(float(row["time_s"]) - t for t in self.beats if float(row["time_s"]) >= t) for row in pulse]
        # systolic peaks lie 0.28 s after the R peaks that the file's ECG would have shown
        self.assertTrue(all(0.2 < delay < 0.4 for delay in delays), delays[:10])

    def test_auto_prefers_the_ecg(self):
        self.assertEqual(self.run_program("beats", self.session), self.run_program("beats", self.session, "--kind", "ecg"))

    def test_motion_names_are_checked(self):
        for good in ["auto", "none"]:
            self.run_program("beats", self.session, "--motion", good)
        self.run_program("beats", self.session, "--motion", "acc_x", expect=2)
        self.run_program("beats", self.session, "--motion", "pulse", expect=2)

    def test_streaming_is_another_form_of_the_same_answer(self):
        rows = self.rows("beats", self.session, "--kind", "ecg", "--streaming")
        late = [t for t in self.beats if t > 10]
        found = [float(row["time_s"]) for row in rows]
        self.assertTrue(all(min(abs(t - f) for f in found) < 0.05 for t in late))


if __name__ == "__main__":
    unittest.main()
