"""Study files, tables of rates and returns of the bench test that say something odd: told with the rule that they break, or counted with a warning."""
import os
import shutil
import unittest
import wave

from document_case import DocumentCase
import recordings


class StudyFiles(DocumentCase):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        for name, offset in [("reference.csv", 0), ("rates.csv", 2)]:
            with open(os.path.join(cls.folder, name), "w") as file:
                file.write("time_s,bpm\n" + "".join(f"{t},{80 + offset + t % 7}\n" for t in range(200)))

    def refused(self, code, *arguments):
        self.run_program(*arguments, expect=code)
        return self.talk

    def warnings(self, document):
        return [warning["code"] for warning in document["warnings"]]

    def test_one_pair_under_two_people_is_told(self):
        study = self.write("twins.csv", "test,reference,person\nrates.csv,reference.csv,wren\nrates.csv,reference.csv,heron\n")
        document = self.valid(self.document("compare", "rate", study, "--align", "none"))
        self.assertIn("repeated_content", self.warnings(document))
        self.assertIn("2 records, of wren, heron, hold the same values", self.talk)
        os.makedirs(self.path("copies"), exist_ok=True)
        times = recordings.beat_times(120, 66)
        for name, late in [("a_ref.csv", 0), ("a.csv", 0.01)]:
            self.write(f"copies/{name}", "time_s\n" + "".join(f"{t + late:.3f}\n" for t in times))
        for what in ("beats", "intervals"):
            copy = self.write("copies/study.csv", "test,reference,person\na.csv,a_ref.csv,wren\na.csv,a_ref.csv,heron\n")
            document = self.valid(self.document("compare", what, copy))
            self.assertIn("repeated_content", self.warnings(document), what)
            self.assertIn("pulsewright: warning: ", self.talk)
            once = self.write("copies/once.csv", "test,reference,person\na.csv,a_ref.csv,wren\n")
            self.assertNotIn("repeated_content", self.warnings(self.document("compare", what, once)), what)

    def test_a_person_of_two_sexes_is_refused(self):
        study = self.write("sexes.csv", "test,reference,person,sex\nrates.csv,reference.csv,wren,female\n"
                           "rates.csv,reference.csv,heron,male\nrates.csv,reference.csv,wren,male\n")
        for what in ("rate", "intervals", "beats"):
            talk = self.refused(3, "compare", what, study)
            self.assertIn("sexes.csv:4: column sex: value 'male': of wren line 2 says 'female'", talk)

    def test_a_body_mass_index_of_nobody_is_refused(self):
        for bmi in ("-5", "1e9", "0"):
            study = self.write("bmi.csv", f"test,reference,bmi\nrates.csv,reference.csv,{bmi}\n")
            self.assertIn(f"bmi.csv:2: column bmi: value '{bmi}': is no body mass index in kg/m2",
                          self.refused(3, "compare", "rate", study))

    def test_a_study_file_without_a_column_test_is_told_so(self):
        study = self.write("untested.csv", "recording,reference,person\nrates.csv,reference.csv,wren\n")
        for what in ("rate", "intervals", "beats"):
            self.assertIn("a study file has a column test", self.refused(3, "compare", what, study))

    def test_left_out_records_are_warned_of_in_one_form(self):
        study = self.write("gone.csv", "test,reference\nreference.csv,gone_away.csv\n")
        for what in ("rate", "intervals", "beats"):
            self.document("compare", what, study, expect=1)
            self.assertIn("pulsewright: warning: ", self.talk)
            self.assertIn("[left_out]", self.talk)
        one = self.write("one_beat.csv", "time_s\n1.0\n")
        many = self.write("many.csv", "time_s\n" + "".join(f"{0.7 * i:.3f}\n" for i in range(1, 300)))
        document = self.valid(self.document("compare", "intervals", many, one, expect=1))
        self.assertIn("left_out", self.warnings(document))
        self.assertIn("pulsewright: warning: one_beat: nothing is compared", self.talk)

    def test_tables_of_rates_are_told_their_own_rules(self):
        both = self.write("both.csv", "time_s,HR,PULSE\n" + "".join(f"{t},{80 + t % 7},{81 + t % 7}\n" for t in range(200)))
        for pair in [("reference.csv", "both.csv"), ("both.csv", "reference.csv")]:
            talk = self.refused(2, "compare", "rate", *map(self.path, pair))
            self.assertIn("several of its columns could hold a heart rate", talk)
        self.run_program("compare", "rate", self.path("reference.csv"), both, "--column", "HR", "--align", "none")
        falling = self.write("falling.csv", "time_s,bpm\n0,80\n1,81\n0.5,82\n3,80\n")
        self.assertIn("times of rates rise from row to row", self.refused(3, "compare", "rate", self.path("reference.csv"), falling))
        hertz = self.write("hertz.csv", "time_s,hr\n" + "".join(f"{t},1.3\n" for t in range(200)))
        self.assertIn("look like hertz", self.refused(3, "compare", "rate", self.path("reference.csv"), hertz))

    def test_rates_that_never_change_have_no_correlation_within_classes(self):
        for name, bpm in [("flat_reference.csv", 80), ("flat.csv", 82)]:
            self.write(name, "time_s,bpm\n" + "".join(f"{t},{bpm}\n" for t in range(200)))
        document = self.valid(self.document("compare", "rate", self.path("flat_reference.csv"), self.path("flat.csv")))
        page = self.run_program("compare", "rate", self.path("flat_reference.csv"), self.path("flat.csv"))
        self.assertNotIn("ICC", page)
        self.assertIsNone(document["overall"]["intraclass"])

    def test_one_sample_is_told_to_be_no_recording(self):
        one = self.write("one_sample.csv", "time_s,ecg_mV\n0,0.1\n")
        for command in ("inspect", "beats", "analyze"):
            talk = self.refused(3, command, one)
            self.assertIn("one row of samples is no recording", talk)
            self.assertNotIn("no time column", talk)


class BenchReturns(DocumentCase):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        os.makedirs(os.path.join(cls.folder, "sent"), exist_ok=True)

    def sent(self):
        if not os.path.exists(self.path("sent", "rate_60.csv")):
            self.run_program("bench", "waves", "--out", self.path("sent"), "--rate", "250", "--overwrite")

    def scored(self, folder):
        document = self.valid(self.document("bench", "score", self.path(folder)))
        return {wave["wave"]: wave for wave in document["waves"]}

    def test_a_return_that_was_cut_short_says_so(self):
        self.sent()
        os.makedirs(self.path("cut"), exist_ok=True)
        for name, keep in [("rate_60", 33), ("small_0.15mv_80", 15), ("step_80_to_120", 33), ("rate_120", 60)]:
            with open(self.path("sent", name + ".csv")) as file:
                lines = file.read().splitlines()[:1 + keep * 250]
            self.write(f"cut/{name}.csv", "\n".join(lines) + "\n")
        self.write("cut/rate_30.csv", "start_s,end_s,bpm\n" + "".join(f"{2 * k},{2 * k + 8},30\n" for k in range(15)))
        found = self.scored("cut")
        self.assertEqual(found["rate_60"]["verdict"], "passed")
        self.assertIn("only the first 33 s of 60 s came back", found["rate_60"]["note"])
        self.assertEqual(found["small_0.15mv_80"]["verdict"], "undecided")
        self.assertIn("only the first 15 s of 60 s came back, too little to tell", found["small_0.15mv_80"]["note"])
        self.assertEqual(found["step_80_to_120"]["verdict"], "undecided")
        self.assertEqual(found["rate_120"]["note"], "")
        self.assertIn("only the first 36 s", found["rate_30"]["note"])
        self.assertIn("only the first 33 s of 60 s came back", self.run_program("bench", "score", self.path("cut")))

    def test_a_second_file_of_a_wave_is_told(self):
        self.sent()
        os.makedirs(self.path("beside"), exist_ok=True)
        shutil.copy(self.path("sent", "rate_60.csv"), self.path("beside", "rate_60.csv"))
        with wave.open(self.path("beside", "rate_60.wav"), "wb") as file:
            file.setparams((1, 2, 8000, 0, "NONE", ""))
            file.writeframes(bytes(2 * 8000 * 60))
        self.assertIn("not looked at beside it: rate_60.wav", self.scored("beside")["rate_60"]["note"])

    def test_a_wave_with_two_readings_is_refused(self):
        sheet = self.write("twice.csv", "wave,reading_bpm\nrate_60,61\nrate_30,30\nrate_60,90\n")
        self.run_program("bench", "score", sheet, expect=3)
        self.assertIn("twice.csv:4: column wave: value 'rate_60': stands in line 2 already", self.talk)


if __name__ == "__main__":
    unittest.main()
