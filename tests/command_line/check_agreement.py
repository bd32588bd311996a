"""compare rate, intervals, counts, plan; grade; bench: columns, inputs in every form, bad inputs, documents."""
import csv
import glob
import math
import os
import random
import struct
import unittest
import wave

from document_case import DocumentCase, schema
from program_case import SOURCE
import recordings


class Agreement(DocumentCase):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.rates = os.path.join(cls.folder, "rates.csv")
        cls.reference = os.path.join(cls.folder, "reference.csv")
        for name, offset in [(cls.reference, 0), (cls.rates, 2)]:
            with open(name, "w") as file:
                file.write("start_s,end_s,bpm\n")
                for k in range(60):
                    bpm = 80 + 30 * math.exp(-((k - 30) / 6) ** 2) + offset * (1 + 0.5 * (-1) ** k)
                    file.write(f"{2 * k},{2 * k + 8},{bpm:.3f}\n")

    def overall(self, *arguments, **more):
        return [row for row in self.rows("compare", "rate", *arguments, **more) if row["group"] == "overall"][0]

    def test_two_folders_of_beat_tables_are_compared(self):
        os.makedirs(self.path("lists"))
        times = recordings.beat_times(120, 66)
        for name, late in (("a_ref", 0.0), ("a", 0.01)):
            self.write(f"lists/{name}.csv", "time_s\n" + "".join(f"{t + late:.3f}\n" for t in times))
        for what in ("rate", "intervals"):
            self.run_program("compare", what, self.path("lists"), self.path("lists"), "--reference-ending", "_ref.csv")

    def test_two_tables_of_rates(self):
        row = self.overall(self.reference, self.rates, "--align", "none")
        self.assertEqual(row["pairs_count"], "60")
        self.assertAlmostEqual(float(row["bias_bpm"]), 2, places=3)
        self.assertAlmostEqual(float(row["mae_bpm"]), 2, places=3)
        self.assertEqual((row["within_5_percent"], row["within_ec13_percent"]), ("100.00", "100.00"))
        for column, decimals in [("bias_bpm", 3), ("correlation", 4), ("missing_percent", 2)]:
            self.assert_decimals(row[column], decimals)

    def test_tables_of_rates_with_times_of_a_clock_start_from_their_clocks(self):
        chance = random.Random(1)
        bpm = [90 + 20 * math.exp(-((k - 120) / 40) ** 2) + chance.gauss(0, 3) for k in range(240)]
        def table(name, first, clock_s, unit="time"):
            rows = "".join(f"{clock_s(2 * k)},{bpm[k]:.3f}\n" for k in range(first, 240))
            return self.write(name, f"{unit},bpm\n" + rows)
        def of_day(late):
            return lambda s: f"10:{(s + late) // 60:02d}:{(s + late) % 60:02d}"
        reference, test = table("clock_reference.csv", 0, of_day(0)), table("clock_test.csv", 50, of_day(0))
        document = self.valid(self.document("compare", "rate", reference, test))
        self.assertEqual(document["records"][0]["alignment"]["offset_s"], -100)
        self.assertIn("by_clocks", [w["code"] for w in document["warnings"]])
        self.assertEqual(document["overall"]["bias_bpm"]["value"], 0)
        wrong = table("clock_wrong.csv", 50, of_day(20))
        document = self.valid(self.document("compare", "rate", reference, wrong))
        self.assertAlmostEqual(document["records"][0]["alignment"]["offset_s"], -100, delta=0.5)
        self.assertIn("clocks_contradicted", [w["code"] for w in document["warnings"]])
        document = self.valid(self.document("compare", "rate", reference, test, "--align", "none"))
        self.assertEqual(document["records"][0]["alignment"]["offset_s"], 0)

    def test_document_with_every_part(self):
        document = self.valid(self.document("compare", "rate", self.reference, self.rates))
        self.assertEqual(document["flow"]["analysed_count"], 1)
        self.assertEqual([v["rule"] for v in document["verdicts"]], ["EC13", "CTA-2065"])
        self.assertIn("one_person", [w["code"] for w in document["warnings"]])
        page = " ".join(self.run_program("compare", "rate", self.reference, self.rates).split())  # as if on one line
        for part in ["limits of agreement", "Flow of exclusions", "which is not agreement", "EC13", "Alignment"]:
            self.assertIn(part.lower(), page.lower())

    def test_one_recording_is_its_own_reference(self):
        row = self.overall(self.session)
        self.assertLess(float(row["mae_bpm"]), 1.5)
        document = self.valid(self.document("compare", "rate", self.session))
        self.assertTrue(document["records"][0]["one_clock"])
        self.assertEqual(document["records"][0]["alignment"]["applied"], "none")

    def test_beats_against_a_recording(self):
        truth = self.write("beats.csv", "time_s\n" + "".join(f"{t:.6f}\n" for t in self.beats))
        self.assertLess(float(self.overall(truth, self.session, "--kind", "ecg", "--align", "none")["mae_bpm"]), 0.5)

    def test_study_file_with_people_and_conditions(self):
        study = self.write("study.csv", "test,reference,person,condition,skin_tone,bmi,sex,criterion\n" +
                           "".join(f"rates.csv,reference.csv,{person},{condition},III,21.5,female,chest strap\n"
                                   for person in ["wren", "heron", "plover", "robin", "finch"] for condition in ["rest", "walking"]))
        document = self.valid(self.document("compare", "rate", study, "--align", "none"))
        self.assertEqual(document["overall"]["people_count"], 5)
        self.assertEqual([c["name"] for c in document["conditions"]], ["rest", "walking"])
        self.assertIsNotNone(document["overall"]["mae_bpm"]["low"])
        met = {item["rule"]: item["met"] for item in document["checklist"]}
        self.assertEqual((met["criterion"], met["walking"], met["skin tone"], met["running"]), (True, True, True, False))
        again = self.run_program("compare", "rate", study, "--align", "none", "--format", "json")
        self.assertEqual(again, self.run_program("compare", "rate", study, "--align", "none", "--format", "json"))

    def test_a_pair_that_cannot_be_read_is_counted_and_not_hidden(self):
        study = self.write("holes.csv", "test,reference\nrates.csv,reference.csv\nmissing.csv,reference.csv\n")
        document = self.valid(self.document("compare", "rate", study, "--align", "none"))
        self.assertEqual((document["flow"]["recorded_count"], document["flow"]["readable_count"]), (2, 1))
        self.assertIn("missing.csv", document["records"][1]["left_out"])
        self.run_program("compare", "rate", self.reference, self.path("missing.csv"), expect=3)

    def test_bad_inputs_are_told(self):
        late = self.write("late.csv", "start_s,end_s,bpm\n" + "".join(f"{1000 + 2 * k},{1008 + 2 * k},80\n" for k in range(30)))
        page = self.run_program("compare", "rate", self.reference, late, expect=1)
        self.assertIn("no time in common", page)
        constant = self.write("constant.csv", "start_s,end_s,bpm\n" + "".join(f"{2 * k},{8 + 2 * k},80\n" for k in range(60)))
        self.run_program("compare", "rate", self.reference, constant)
        self.assertIn("[constant_series]", self.talk)
        hertz = self.write("hertz.csv", "start_s,end_s,bpm\n" + "".join(f"{2 * k},{8 + 2 * k},1.3\n" for k in range(60)))
        self.run_program("compare", "rate", self.reference, hertz, expect=3)
        self.assertIn("look like hertz", self.talk)
        ms = self.write("ms.csv", "start_s,end_s,bpm\n" + "".join(f"{2 * k},{8 + 2 * k},812\n" for k in range(60)))
        self.run_program("compare", "rate", self.reference, ms, expect=3)
        self.assertIn("intervals in ms", self.talk)
        twice = self.write("twice.csv", "test,reference,person\nrates.csv,reference.csv,wren\nrates.csv,reference.csv,wren\n")
        self.run_program("compare", "rate", twice)
        self.assertIn("[duplicated_records]", self.talk)
        gaps = self.write("gaps.csv", "start_s,end_s,bpm\n" + "".join(f"{2 * k},{8 + 2 * k},{'' if k % 3 == 0 else 80 + k % 5}\n" for k in range(60)))
        document = self.document("compare", "rate", gaps, self.rates, "--align", "none")
        self.assertEqual(document["records"][0]["windows"]["reference_answered_count"], 40)
        unknown = self.write("unknown.csv", "test,refrence\nrates.csv,reference.csv\n")
        self.run_program("compare", "rate", unknown, expect=2)
        self.assertIn("refrence", self.talk)

    def test_each_bad_input_gives_one_clear_error_or_an_honest_result(self):
        def rates(name, rows, header="start_s,end_s,bpm"):
            return self.write(name, header + "\n" + "".join(rows))
        plain = [f"{2 * k},{8 + 2 * k},{80 + k % 7}\n" for k in range(60)]
        one = rates("one.csv", plain[:1])
        document = self.valid(self.document("compare", "rate", self.reference, one, expect=1))
        self.assertIn("1 window with a rate on both sides", document["records"][0]["left_out"])
        self.assertIn("1 window with a rate on both sides", self.talk)
        single = self.valid(self.document("compare", "rate", self.reference, one, "--fewest-pairs", "1"))
        self.assertEqual(single["overall"]["pairs_count"], 1)
        self.assertIsNone(single["overall"]["limits_plain"])
        mixed = rates("mixed.csv", [row if k % 2 else f"{2 * k},{8 + 2 * k},1.4\n" for k, row in enumerate(plain)])
        self.run_program("compare", "rate", self.reference, mixed, expect=3)
        self.assertIn("are units mixed", self.talk)
        milliseconds = rates("late_ms.csv", [f"{2000 * k},{8000 + 2000 * k},80\n" for k in range(60)])
        self.run_program("compare", "rate", self.reference, milliseconds, expect=1)
        self.assertIn("are times in seconds?", self.talk)
        nothing = rates("nothing_shown.csv", [f"{2 * k},{8 + 2 * k},\n" for k in range(60)])
        document = self.valid(self.document("compare", "rate", self.reference, nothing, expect=1))
        self.assertEqual(document["records"][0]["windows"]["missing_percent"], 100)
        self.run_program("compare", "rate", self.reference, self.reference, expect=2)
        self.assertIn("reference and test are the same", self.talk)
        constant = rates("steady.csv", [f"{2 * k},{8 + 2 * k},80\n" for k in range(60)])
        for pair in [(constant, self.rates), (self.rates, constant)]:
            self.valid(self.document("compare", "rate", *pair))
            self.assertIn("[constant_series]", self.talk)
        gaps = rates("holes_of_reference.csv", [row for k, row in enumerate(plain) if not 20 < k < 40])
        document = self.valid(self.document("compare", "rate", gaps, self.rates, "--align", "none"))
        self.assertEqual(document["overall"]["pairs_count"], 41)
        beats = self.write("few_beats.csv", "time_s\n1.0\n")
        many = self.write("many_beats.csv", "time_s\n" + "".join(f"{0.7 * i:.3f}\n" for i in range(1, 300)))
        far = self.write("far_beats.csv", "time_s\n" + "".join(f"{9000 + 0.7 * i:.3f}\n" for i in range(1, 300)))
        for test in (beats, far):
            self.assertIn("Nothing is compared", self.run_program("compare", "intervals", many, test, expect=1))
            self.valid(self.document("compare", "intervals", many, test, expect=1))
            self.valid(self.document("compare", "rate", many, test, expect=1))
        twins = self.write("twins.csv", "test,reference,person\n" + "rates.csv,reference.csv,wren\n" * 2)
        self.valid(self.document("compare", "rate", twins))
        self.assertIn("[duplicated_records]", self.talk)

    def test_times_of_a_clock_count_from_the_first_row(self):
        clock = self.write("clock.csv", "time,heart rate [bpm]\n" + "".join(f"23:59:{20 + k},{80 + 20 * math.exp(-((k - 30) / 6) ** 2):.2f}\n" if k < 40 else
                                                                           f"00:00:{k - 40:02d},{80 + 20 * math.exp(-((k - 30) / 6) ** 2):.2f}\n" for k in range(90)))
        seconds = self.write("seconds.csv", "time_s,bpm\n" + "".join(f"{k},{80 + 20 * math.exp(-((k - 30) / 6) ** 2):.2f}\n" for k in range(90)))
        row = self.overall(seconds, clock, "--align", "none")
        self.assertEqual((row["pairs_count"], row["mae_bpm"]), ("90", "0.000"))

    def test_several_rates_in_a_table_are_asked_for_by_name(self):
        two = self.write("two.csv", "Time [s], HR, PULSE\n" + "".join(f"{t},{80 + t % 7},{81 + t % 7}\n" for t in range(200)))
        row = self.overall(two, two, "--reference-column", "HR", "--column", "PULSE", "--align", "none")
        self.assertAlmostEqual(float(row["bias_bpm"]), 1, places=3)

    def test_figures_and_pairs(self):
        self.run_program("compare", "rate", self.reference, self.rates, "--align", "none", "--figures", self.path("figures"),
                         "--out", self.path("out"), "--overwrite")
        names = sorted(os.path.basename(name) for name in glob.glob(self.path("figures", "*")))
        self.assertEqual(names, [name + kind for name in ["differences", "error_over_time", "scatter"] for kind in [".png", ".svg"]])
        with open(self.path("out", "pairs.csv")) as file:
            pairs = list(csv.DictReader(file))
        self.assertEqual(len(pairs), 60)
        with open(self.path("figures", "differences.svg")) as file:
            self.assertIn("limits of agreement", file.read())

    def test_schemas_ask_for_every_key_and_allow_no_other(self):
        def objects(node, path):
            if isinstance(node, dict):
                if node.get("type") == "object" and "properties" in node:
                    yield path, node
                for key, value in node.items():
                    yield from objects(value, path + "/" + key)
            elif isinstance(node, list):
                for i, value in enumerate(node):
                    yield from objects(value, f"{path}/{i}")
        for name in ["rate_comparison", "interval_comparison", "interval_study", "beat_comparison", "beat_comparison_table",
                     "count_comparison", "limits_plan", "grade", "bench"]:
            for path, node in objects(schema(name), name):
                self.assertIs(node.get("additionalProperties"), False, path)
                self.assertEqual(sorted(node.get("required", [])), sorted(node["properties"]), path)

    def test_documents_of_next_to_nothing(self):
        short = self.write("short.csv", "time_s,ecg_mV\n" + "".join(f"{k / 250:.3f},0.1\n" for k in range(40)))
        self.valid(self.document("grade", short))
        plain = self.write("plain.csv", "time_s,x,pulse\n" + "".join(f"{k / 50:.2f},{k % 3},{'' if k % 5 else k % 7}\n" for k in range(900)))
        self.valid(self.document("grade", plain))
        late = self.write("late_counts.csv", "code,recording,start_s,seconds,count,began\nwren,wren.csv,99999,15,20,beat\n")
        self.valid(self.document("compare", "counts", late, "--kind", "ecg", expect=1))
        readings = self.write("no_reading.csv", "wave,reading_bpm\nrate_60,\nstep_80_to_40,80\nstep_80_to_120,118\n")
        self.valid(self.document("bench", "score", readings))
        none = self.write("none.csv", "time_s\n1.0\n")
        other = self.write("other.csv", "time_s\n50.0\n51.0\n")
        self.valid(self.document("compare", "beats", none, other))
        self.valid(self.document("compare", "plan", "--sd", "0.01", "--half-width", "50"))
        self.write("void.csv", "test,reference,condition\nnone.csv,gone.csv,rest\n")
        self.valid(self.document("compare", "rate", self.path("void.csv"), expect=1))
        self.valid(self.document("compare", "intervals", self.path("void.csv"), expect=1))
        self.rows("compare", "rate", self.path("void.csv"), expect=1)
        self.rows("compare", "intervals", self.path("void.csv"), expect=1)

    def test_plan(self):
        document = self.valid(self.document("compare", "plan", "--sd", "5", "--half-width", "2"))
        self.assertGreater(document["needed_count"], document["approximate_count"] - 5)
        self.run_program("compare", "plan", "--sd", "0", "--half-width", "2", expect=2)

    def test_intervals(self):
        truth = self.write("truth.csv", "time_s\n" + "".join(f"{t:.6f}\n" for t in self.beats))
        document = self.valid(self.document("compare", "intervals", truth, self.session, "--kind", "ecg"))
        self.assertEqual((document["missed_count"], document["extra_count"]), (0, 0))
        self.assertLess(abs(document["bias_ms"]), 1)
        pulse = self.valid(self.document("compare", "intervals", self.session, "--tolerance", "0.5"))
        self.assertIn("pulse_transit", [w["code"] for w in pulse["warnings"]])

    def test_intervals_of_a_study(self):
        def beats(name, times):
            return self.write(name, "time_s\n" + "".join(f"{t:.6f}\n" for t in times))
        rows = ["test,reference,person,condition,device,skin_tone,sex,bmi"]
        for k, person in enumerate(["wren", "heron", "plover", "robin", "finch"]):
            for day in (1, 2):
                times, wobble = [0.4], 0
                for i in range(250):
                    wobble = 0.03 * math.sin(0.9 * i + k) + 0.02 * math.sin(1.7 * i * day)
                    times.append(times[-1] + 0.8 + 0.02 * k + wobble)
                beats(f"{person}{day}_ref.csv", times)
                late = [t + 0.05 + 0.004 * math.sin(2.3 * i) for i, t in enumerate(times) if i % 50 != 20]
                beats(f"{person}{day}.csv", late)
                rows.append(f"{person}{day}.csv,{person}{day}_ref.csv,{person},rest,{'clip' if day == 1 else 'band'},III,female,{17 + 4 * k}")
        rows.append("nothing.csv,wren1_ref.csv,wren,rest,clip,III,female,17")
        study = self.write("interval_study.csv", "\n".join(rows) + "\n")
        document = self.valid(self.document("compare", "intervals", study))
        self.assertEqual(document["flow"], {"recorded_count": 11, "readable_count": 10, "analysed_count": 10})
        overall = document["overall"]
        self.assertEqual((overall["reference_count"], overall["missed_count"], overall["extra_count"]), (2510, 50, 0))
        self.assertTrue(overall["intervals_ms"]["repeated"] and overall["measures"]["rmssd_ms"]["repeated"])
        self.assertEqual(overall["measures"]["rmssd_ms"]["pairs_count"], 10)
        self.assertIsNotNone(overall["intervals_ms"]["bias"]["low"])
        self.assertAlmostEqual(document["records"][0]["offset_s"], 0.05, places=2)
        self.assertEqual([g["name"] for g in document["devices"]], ["clip", "band"])
        self.assertEqual(document["devices"][0]["recorded_count"], 6)
        self.assertEqual([g["name"] for g in document["bmi_groups"]], ["<18.5", "18.5-<25", "25-<30", ">=30"])
        self.assertIn("nothing.csv", document["records"][10]["left_out"])
        table = self.rows("compare", "intervals", study)
        self.assertEqual([row["group"] for row in table].count("record"), 11)
        self.assertEqual(table[-1]["group"], "overall")
        self.assertIn("several a person", self.run_program("compare", "intervals", study))

    def test_beats_of_a_study(self):
        truth = self.write("truth_of_study.csv", "time_s\n" + "".join(f"{t:.6f}\n" for t in self.beats))
        self.write("fewer.csv", "time_s\n" + "".join(f"{t + 0.01:.6f}\n" for i, t in enumerate(self.beats) if i % 10 != 3))
        study = self.write("beat_study.csv", "test,reference,person,condition,bmi\n" +
                           "".join(f"fewer.csv,{os.path.basename(truth)},{person},{condition},{bmi}\n"
                                   for person, condition, bmi in [("wren", "rest", 17), ("heron", "rest", 24), ("wren", "walking", 17)]) +
                           f"gone.csv,{os.path.basename(truth)},finch,rest,24\n")
        document = self.valid(self.document("compare", "beats", study))
        self.assertEqual(len(document["records"]), 3)
        self.assertEqual([(g["by"], g["name"], g["records_count"]) for g in document["groups"]],
                         [("condition", "rest", 2), ("condition", "walking", 1), ("bmi", "<18.5", 2), ("bmi", "18.5-<25", 1)])
        self.assertIn("gone.csv", document["left_out"][0]["reason"])
        names = [row["name"] for row in self.rows("compare", "beats", study)]
        self.assertEqual(names[-2:], ["gross", "average"])
        self.assertIn("condition=walking", names)
        self.assertIn("bmi=<18.5", self.run_program("compare", "beats", study))
        self.run_program("compare", "beats", truth, expect=2)
        self.assertIn("needs TEST", self.talk)

    def test_intervals_of_strangers_are_not_compared(self):
        wander = lambda seed: [sum(0.7 + 0.1 * math.sin(seed * j * j) for j in range(i)) for i in range(300)]
        for name, seed in [("one.csv", 1.3), ("two.csv", 2.9)]:
            self.write(name, "time_s\n" + "".join(f"{t:.6f}\n" for t in wander(seed)))
        self.write("strangers.csv", "test,reference\none.csv,two.csv\n")
        self.assertIn("cannot be told to belong", self.run_program("compare", "intervals", self.path("strangers.csv"), expect=1))
        self.valid(self.document("compare", "intervals", self.path("strangers.csv"), expect=1))
        self.valid(self.document("compare", "intervals", self.path("one.csv"), self.path("two.csv"), expect=1))

    def test_counts(self):
        rows = self.rows("compare", "counts", self.write("counts.csv", "code,recording,start_s,seconds,count,began\nwren,wren.csv,5,15,20,beat\n"
                                                         "heron,wren.csv,10,10,14,\n"), "--kind", "ecg")
        self.assertEqual([row["by_count_bpm"] for row in rows], ["80.00", "84.00"])
        self.assertEqual([row["expected_bias_bpm"] for row in rows], ["-2.00", "0.00"])
        self.valid(self.document("compare", "counts", self.path("counts.csv")))
        bad = self.write("bad.csv", "code,recording,seconds,count\nwren,wren.csv,15,some\n")
        self.run_program("compare", "counts", bad, expect=3)
        self.assertIn("bad.csv:2:", self.talk)

    def test_grade(self):
        document = self.valid(self.document("grade", self.session))
        self.assertTrue(all(channel["noise_rms"] is not None for channel in document["channels"]))
        self.assertEqual(len(self.rows("grade", self.session)), len(document["channels"]))
        recordings.write_flat(self.path("flat.csv"))
        self.valid(self.document("grade", self.path("flat.csv")))

    def test_bench_there_and_back(self):
        self.run_program("bench", "waves", "--out", self.path("bench"), "--overwrite")
        document = self.valid(self.document("bench", "score", self.path("bench")))
        verdicts = {wave["wave"]: wave["verdict"] for wave in document["waves"]}
        self.assertEqual(verdicts["rate_60"], "passed")
        with open(self.path("bench", "bench_answers.csv")) as file:
            self.assertEqual(len(list(csv.DictReader(file))), len(verdicts))
        sheet = self.write("readings.csv", "wave,reading_bpm\nrate_60,61\nt_wave_1.2mv,160\nsmall_0.15mv_80,\n")
        self.assertEqual([row["verdict"] for row in self.rows("bench", "score", sheet)], ["failed", "passed", "passed"])
        self.run_program("bench", "score", self.write("wrong.csv", "wave,reading_bpm\nrate_61,61\n"), expect=3)

    def test_bench_returned_with_unknown_gain_offset_and_delay(self):
        self.run_program("bench", "waves", "--out", self.path("sent"), "--store", "wav", "--rate", "8000", "--overwrite")
        os.makedirs(self.path("came"), exist_ok=True)
        for name in ["rate_60", "small_0.15mv_80", "step_80_to_40", "t_wave_1.2mv"]:
            with wave.open(self.path("sent", name + ".wav")) as file:
                samples = struct.unpack(f"<{file.getnframes()}h", file.readframes(file.getnframes()))
            # A sound card records it at half the size and upside down in its right channel, 4 s late.
            right = [0] * 32000 + [-s // 2 + 300 for s in samples]
            with wave.open(self.path("came", name + ".wav"), "wb") as file:
                file.setparams((2, 2, 8000, 0, "NONE", ""))
                file.writeframes(struct.pack(f"<{2 * len(right)}h", *[v for s in right for v in (0, s)]))
        # A converter writes counts, 2.3 s late.
        with open(self.path("came", "rate_120.csv"), "w") as file:
            file.write("time_s,A0\n")
            sent = self.rows_of_wave("rate_120")
            for i, value in enumerate([0.0] * 575 + sent):
                file.write(f"{i / 250:.3f},{round(512 + 90 * value)}\n")
        document = self.valid(self.document("bench", "score", self.path("came")))
        found = {w["wave"]: w for w in document["waves"]}
        self.assertEqual({w["verdict"] for w in document["waves"]}, {"passed", "disclosed"}, found)
        self.assertAlmostEqual(found["rate_60"]["gain"], -0.2, places=2)
        self.assertAlmostEqual(found["step_80_to_40"]["delay_s"], 4, places=1)
        self.assertAlmostEqual(found["rate_120"]["delay_s"], 2.3, places=1)
        os.remove(self.path("came", "rate_60.wav"))
        self.write(os.path.join("came", "rate_60.wav"), "no sound at all")
        self.run_program("bench", "score", self.path("came"), expect=3)
        self.assertIn("no sound file", self.talk)

    def rows_of_wave(self, name):
        self.run_program("bench", "waves", "--out", self.path("rows"), "--rate", "250", "--overwrite")
        with open(self.path("rows", name + ".csv")) as file:
            return [float(row["ecg_mV"]) for row in csv.DictReader(file)]

    def test_bench_as_sound(self):
        self.run_program("bench", "waves", "--out", self.path("sound"), "--store", "wav", "--rate", "8000", "--overwrite")
        with open(self.path("sound", "rate_60.wav"), "rb") as file:
            bytes_ = file.read()
        self.assertEqual((bytes_[:4], bytes_[8:12]), (b"RIFF", b"WAVE"))
        channels, rate = struct.unpack("<HI", bytes_[22:28])
        self.assertEqual((channels, rate), (1, 8000))
        samples = struct.unpack(f"<{(len(bytes_) - 44) // 2}h", bytes_[44:])
        self.assertEqual(len(samples), 60 * 8000)
        with wave.open(self.path("sound", "rate_60.wav")) as file:
            self.assertEqual(file.getnframes(), 60 * 8000)  # the header knows how much there is
        self.assertAlmostEqual(max(samples) / 32767 * 2.5, 1.0, places=2)  # 1 mV of 2.5 at full scale


if __name__ == "__main__":
    unittest.main()
