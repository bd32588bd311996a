"""CSV: columns, decimals and the rules that cells follow."""
import re
import unittest

from program_case import ProgramCase
import recordings


class Columns(ProgramCase):
    more_measures = {
        "nn20_count": 0, "pnn20_percent": 2, "cv_percent": 2, "sd_hr_bpm": 2, "lowest_hr_bpm": 2, "highest_hr_bpm": 2, "sdann_ms": 3,
        "sdnn_index_ms": 3, "triangular_index": 3, "tinn_ms": 3, "ulf_power_ms2": 3, "vlf_power_ms2": 3, "lf_power_ms2": 3, "hf_power_ms2": 3,
        "total_power_ms2": 3, "lf_hf_ratio": 4, "lf_nu_percent": 2, "hf_nu_percent": 2, "vlf_peak_hz": 5, "lf_peak_hz": 5, "hf_peak_hz": 5,
        "variance_ms2": 3, "parseval_percent": 2, "sd1_ms": 3, "sd2_ms": 3, "sd1_sd2_ratio": 4, "ellipse_area_ms2": 3,
        "lengthening_percent": 2, "sample_entropy": 4, "approximate_entropy": 4, "alpha1": 4, "alpha2": 4, "spectrum_method": "",
        "hf_low_hz": 5, "hf_high_hz": 5, "breathing_hz": 5, "rhythm": "", "rhythm_probability": 3}

    def check(self, rows, decimals):
        self.assertTrue(rows)
        self.assertEqual(self.header, list(decimals))
        for row in rows:
            for column, places in decimals.items():
                if isinstance(places, int) and row[column] != "":
                    self.assert_decimals(row[column], places)

    def test_inspect_lists_a_row_for_each_channel(self):
        rows = self.rows("inspect", self.session)
        self.check(rows, {"channel": 0, "name": "", "kind": "", "unit": "", "rate_hz": 6, "start_s": 6, "samples_count": 0,
                          "missing_count": 0, "lowest": 6, "highest": 6})
        self.assertEqual([row["kind"] for row in rows], ["ecg", "pulse"])
        self.assertEqual([row["channel"] for row in rows], ["1", "2"])
        self.assertEqual(rows[0]["samples_count"], str(60 * 250))

    def test_beats_are_found_where_they_are(self):
        rows = self.rows("beats", self.session, "--kind", "ecg")
        self.check(rows, {"time_s": 6, "sample": 0, "confidence": 3})
        self.assertEqual(len(rows), len(self.beats))
        for row, true in zip(rows, self.beats):
            self.assertAlmostEqual(float(row["time_s"]), true, delta=0.010)
            self.assertAlmostEqual(int(row["sample"]) / 250, float(row["time_s"]), delta=0.5 / 250 + 1e-6)
            self.assertTrue(0 <= float(row["confidence"]) <= 1)

    def test_feet_lie_shortly_before_the_peaks_of_a_pulse(self):
        rows = self.rows("beats", self.session, "--kind", "pulse", "--feet")
        self.check(rows, {"time_s": 6, "sample": 0, "confidence": 3, "foot_s": 6})
        rises = sorted(float(row["time_s"]) - float(row["foot_s"]) for row in rows if row["foot_s"])
        self.assertGreater(len(rises), 0.95 * len(rows))
        self.assertGreater(rises[0], 0.0)
        self.assertLess(rises[-1], 0.46)

    def test_labels_of_listed_beats_are_read_back(self):
        rows = self.rows("beats", self.session, "--kind", "ecg", "--labels")
        self.check(rows, {"time_s": 6, "sample": 0, "confidence": 3, "label": ""})
        self.assertEqual({row["label"] for row in rows}, {"normal"})
        rows[20]["label"] = "ventricular"
        listed = self.write("labelled.csv", "time_s,label\n" + "".join(f"{row['time_s']},{row['label']}\n" for row in rows))
        again = self.rows("beats", listed, "--input", "beats", "--labels")
        self.assertEqual([row["label"] for row in again], [row["label"] for row in rows])

    def test_all_adds_rejected_candidates_and_their_verdicts(self):
        accepted = self.rows("beats", self.session, "--kind", "pulse")
        rows = self.rows("beats", self.session, "--kind", "pulse", "--all")
        self.check(rows, {"time_s": 6, "sample": 0, "confidence": 3, "verdict": ""})
        known = {"accepted", "too_soon", "repolarisation", "weak", "reflected", "unreadable", "off_rhythm"}
        self.assertLessEqual({row["verdict"] for row in rows}, known)
        self.assertEqual(sum(row["verdict"] == "accepted" for row in rows), len(accepted))

    def test_intervals_join_neighbouring_beats(self):
        beats = self.rows("beats", self.session, "--kind", "ecg")
        rows = self.rows("intervals", self.session, "--kind", "ecg")
        self.check(rows, {"start_s": 6, "end_s": 6, "original_ms": 3, "verdict": "", "corrected_ms": 3})
        self.assertEqual(len(rows), len(beats) - 1)
        for row, start, end in zip(rows, beats, beats[1:]):
            self.assertEqual((row["start_s"], row["end_s"]), (start["time_s"], end["time_s"]))
            length = 1000 * (float(row["end_s"]) - float(row["start_s"]))
            self.assertAlmostEqual(float(row["original_ms"]), length, delta=0.002)

    def test_rate_has_full_windows_only_and_the_formula_of_the_contract(self):
        beats = [float(row["time_s"]) for row in self.rows("beats", self.session, "--kind", "ecg")]
        rows = self.rows("rate", self.session, "--kind", "ecg")
        self.check(rows, {"start_s": 3, "end_s": 3, "bpm": 2, "low_bpm": 2, "high_bpm": 2, "confidence": 3, "method": "",
                          "guess_bpm": 2, "guess_low_bpm": 2, "guess_high_bpm": 2, "guess_confidence": 3, "guess_method": ""})
        self.assertEqual([float(row["start_s"]) for row in rows], [2.0 * i for i in range(27)])  # 52 + 8 = 60
        for row in rows:
            start, end = float(row["start_s"]), float(row["end_s"])
            self.assertEqual(end - start, 8)
            inside = [t for t in beats if start <= t < end]
            if row["bpm"] == "":
                self.assertEqual((row["low_bpm"], row["high_bpm"], row["confidence"], row["method"]), ("", "", "", "none"))
                continue
            self.assertAlmostEqual(float(row["bpm"]), 60 * (len(inside) - 1) / (inside[-1] - inside[0]), delta=0.02)
            self.assertLessEqual(float(row["low_bpm"]), float(row["bpm"]))
            self.assertGreaterEqual(float(row["high_bpm"]), float(row["bpm"]))
        self.assertTrue(any(row["bpm"] for row in rows))

    def test_a_rate_with_a_wide_interval_is_a_guess(self):
        rows = self.rows("rate", self.session, "--kind", "ecg")
        widest = max(float(row["high_bpm"]) - float(row["low_bpm"]) for row in rows if row["bpm"])
        narrow = self.rows("rate", self.session, "--kind", "ecg", "--widest", f"{widest - 0.05:.2f}")
        for row, less in zip(rows, narrow):
            if row["bpm"] and not less["bpm"]:
                self.assertEqual((less["guess_bpm"], less["guess_low_bpm"], less["guess_high_bpm"], less["method"]),
                                 (row["bpm"], row["low_bpm"], row["high_bpm"], "none"))
            else:
                self.assertEqual(less, row)
        self.assertLess(sum(row["bpm"] != "" for row in narrow), sum(row["bpm"] != "" for row in rows))
        self.run_program("rate", self.session, "--widest", "0", expect=2)

    def test_breathing_has_a_row_a_window(self):
        rows = self.rows("breathing", self.session, "--kind", "ecg", expect=1)
        self.check(rows, {"start_s": 3, "end_s": 3, "breaths_per_min": 2, "low_per_min": 2, "high_per_min": 2})
        self.assertEqual([float(row["start_s"]) for row in rows], [4.0 * i for i in range(8)])  # 28 + 32 = 60

    def test_rate_follows_window_and_step(self):
        rows = self.rows("rate", self.session, "--window", "15", "--step", "7.5")
        self.assertEqual([row["start_s"] for row in rows][:3], ["0.000", "7.500", "15.000"])
        self.assertEqual(rows[-1]["end_s"], "60.000")

    def test_variability_agrees_with_the_values_checked_by_hand(self):
        # Derived by arithmetic (check values of the project): SDNN and SDSD divide by n - 1.
        intervals = self.write("ten.txt", "800 810 790 860 800 900 780 820 815 805\n")
        rows = self.rows("variability", intervals, "--input", "intervals", "--unit", "ms")
        self.check(rows, {"nn_count": 0, "difference_count": 0, "mean_nn_ms": 3, "sdnn_ms": 3, "rmssd_ms": 3, "sdsd_ms": 3,
                          "nn50_count": 0, "pnn50_percent": 2, "mean_hr_bpm": 2, "min_nn_ms": 3, "max_nn_ms": 3,
                          "flagged_percent": 2, **self.more_measures})
        expected = {"nn_count": "10", "mean_nn_ms": "818.000", "sdnn_ms": "35.917", "rmssd_ms": "62.472", "sdsd_ms": "66.259",
                    "nn50_count": "4", "pnn50_percent": "44.44", "mean_hr_bpm": "73.35"}
        self.assertEqual({key: rows[0][key] for key in expected}, expected)

    def test_variability_slides_over_windows(self):
        intervals = self.write("long.txt", " ".join(str(800 + 20 * (i % 5)) for i in range(1000)) + "\n")
        rows = self.rows("variability", intervals, "--input", "intervals", "--window", "300", "--step", "100")
        self.assertEqual(self.header[:4], ["start_s", "end_s", "nn_count", "difference_count"])
        self.assertEqual([row["start_s"] for row in rows], ["0.000", "100.000", "200.000", "300.000", "400.000", "500.000"])
        whole = self.rows("variability", intervals, "--input", "intervals", "--spectrum", "lomb_scargle", "--breathing", "auto")[0]
        self.assertEqual(whole["spectrum_method"], "lomb_scargle")
        self.assertNotEqual(whole["breathing_hz"], "")
        fixed = self.rows("variability", intervals, "--input", "intervals", "--hf", "0.2,0.5")[0]
        self.assertEqual((fixed["hf_low_hz"], fixed["hf_high_hz"]), ("0.20000", "0.50000"))

    def test_corrections_are_as_chosen(self):
        values = [800 + 10 * (i % 3) for i in range(60)]
        values[30] = 1620
        intervals = self.write("missed.txt", "\n".join(map(str, values)) + "\n")
        chosen = {how: self.rows("intervals", intervals, "--input", "intervals", "--correction", how)[30]
                  for how in ["repair", "insert_and_delete", "interpolate", "leave_out"]}
        self.assertEqual({row["verdict"] for row in chosen.values()}, {"missed_beat"})
        self.assertEqual([row["corrected_ms"] for row in chosen.values()], ["810.000", "810.000", "815.000", ""])
        self.assertEqual({row["original_ms"] for row in chosen.values()}, {"1620.000"})

    def test_effort_accounts_for_all_time(self):
        rows = self.rows("effort", self.session, "--age", "15", "--resting", "66", "--code", "wren")
        seconds = {key: 6 for key in ["duration_s", "unmeasured_s", "very_light_s", "light_s", "moderate_s", "vigorous_s",
                                      "near_maximal_s", "below_target_s", "in_target_s", "above_target_s", "above_ceiling_s"]}
        self.check(rows, {"code": "", **seconds, "target_low_bpm": 2, "target_high_bpm": 2, "mean_hr_bpm": 2, "peak_hr_bpm": 2,
                          "mean_reserve_percent": 2, "maximum_hr_bpm": 2, "maximum_source": "", "resting_hr_bpm": 2,
                          "resting_source": "", "target_method": "", "maximum_sd_bpm": 2, "mean_reserve_low_percent": 2,
                          "mean_reserve_high_percent": 2, "in_target_low_s": 6, "in_target_high_s": 6, "moderate_or_harder_s": 6,
                          "moderate_or_harder_low_s": 6, "moderate_or_harder_high_s": 6, "moderate_or_harder_percent": 2,
                          "longest_moderate_s": 6, "peak_window_s": 3, "peak_mean_bpm": 2, "impulse_men": 2, "impulse_women": 2,
                          "mean_impulse_men": 2, "mean_impulse_women": 2, "weighted_min": 2, "first_minute_fall_bpm": 2,
                          "second_minute_fall_bpm": 2, "warm_up_s": 6, "cool_down_s": 6})
        row = rows[0]
        micros = lambda key: int(row[key].replace(".", ""))  # exact: six decimals of a second
        categories = ["very_light_s", "light_s", "moderate_s", "vigorous_s", "near_maximal_s"]
        self.assertEqual(sum(map(micros, categories)) + micros("unmeasured_s"), micros("duration_s"))
        target = ["below_target_s", "in_target_s", "above_target_s"]
        self.assertEqual(sum(map(micros, target)) + micros("unmeasured_s"), micros("duration_s"))
        self.assertEqual((row["code"], row["maximum_hr_bpm"], row["maximum_source"]), ("wren", "205.00", "fox"))

    def test_target_gives_the_worked_example(self):
        # Common practice, worked: age 15, rest 66, max 205, reserve 139; 60 % is 149, 85 % is 184.
        self.assertIn("149 to 184 beats/min", self.run_program("target", "--age", "15", "--resting", "66"))
        row = self.rows("target", "--age", "15", "--resting", "66")[0]
        self.check([row], {"low_bpm": 2, "high_bpm": 2, "low_percent": 1, "high_percent": 1, "method": "", "maximum_hr_bpm": 2,
                           "maximum_source": "", "resting_hr_bpm": 2, "resting_source": ""})
        self.assertEqual((row["low_bpm"], row["high_bpm"], row["method"]), ("149.40", "184.15", "reserve"))
        # rest 75: the band ends at 185.5, which prints as 186
        self.assertIn("to 186 beats/min", self.run_program("target", "--age", "15", "--resting", "75"))

    def test_target_without_a_resting_rate_is_a_fraction_of_the_maximum(self):
        row = self.rows("target", "--age", "15", "--low", "70")[0]
        self.assertEqual((row["low_bpm"], row["high_bpm"], row["method"], row["resting_hr_bpm"]), ("143.50", "174.25", "maximum", ""))

    def test_every_page_says_what_the_per_cents_are_of(self):
        reserve = self.run_program("effort", self.session, "--age", "15", "--resting", "66")
        for part in ["60 to 85 % of the reserve", "under 60 % of reserve", "over 85 % of reserve", "per cent of the heart-rate reserve"]:
            self.assertIn(part, reserve)
        self.assertNotIn("maximum,", reserve.split("Target")[1])
        fast = self.path("fast.csv")
        recordings.write_session(fast, duration_s=90, bpm=126)
        page = self.run_program("effort", fast, "--age", "15")
        for part in ["60 to 85 % of the maximum", "60 to 85 % of maximum", "per cent of the maximum heart rate", "some light time is in target"]:
            self.assertIn(part, page.replace("\n  ", " "))
        self.assertTrue(page.splitlines()[1].startswith("  Note: Without a resting rate"), page)
        document = self.document("effort", fast, "--age", "15")
        self.assertEqual((document["categories_by"], document["target"]["method"]), ("maximum", "maximum"))
        self.assertIn("by share of the maximum", self.run_program("target", "--age", "15"))
        self.assertIn("by share of the reserve", self.run_program("target", "--age", "15", "--resting", "66"))
        for command in ["target", "effort"]:
            self.assertIn("of the maximum where no resting rate is known", re.sub(r"\s+", " ", self.run_program(command, "--help")))

    def test_a_resting_rate_from_the_session_is_noted_first(self):
        page = self.run_program("effort", self.session, "--age", "15")
        self.assertTrue(page.splitlines()[1].startswith("  Note: No resting rate was given; the lowest minute ("), page)
        self.assertIn("reserve,lowest_minute", self.run_program("batch", self.session, "--age", "15"))

    def test_person_options_that_look_wrong_are_noted_kindly(self):
        for command in [["effort", self.session], ["target"], ["batch", self.session]]:
            self.run_program(*command, "--age", "3", "--code", "Wren Smith")
            for code in ["code_looks_like_a_name", "age_outside_formula"]:
                self.assertEqual(self.talk.count(f"[{code}]"), 1, self.talk)
            self.run_program(*command, "--age", "15", "--code", "wren")
            self.assertNotIn("code_looks_like_a_name", self.talk)
            for line in self.talk.splitlines():
                if "estimated_maximum" in line:
                    self.assertLessEqual(len(line), 200)
        warnings = [warning["code"] for warning in self.document("target", "--age", "3")["warnings"]]
        self.assertEqual(warnings, ["estimated_maximum", "age_outside_formula"])

    def test_variability_of_exercise_is_not_left_to_be_compared_with_rest(self):
        fast = self.path("fast.csv")
        recordings.write_session(fast, duration_s=90, bpm=126)
        self.assertIn("Note: The mean rate of 126 beats/min is none of rest", self.run_program("variability", fast))
        self.assertIn("[not_at_rest]", self.talk)
        self.run_program("variability", self.session)
        self.assertNotIn("not_at_rest", self.talk)

    def test_a_ceiling_lowers_the_band(self):
        row = self.rows("target", "--age", "15", "--resting", "66", "--ceiling", "160")[0]
        self.assertEqual((row["low_bpm"], row["high_bpm"]), ("149.40", "160.00"))
        self.run_program("target", "--age", "15", "--resting", "66", "--ceiling", "120", expect=2)

    def test_equations_at_fourteen_and_forty(self):
        # check values of the project; sources in tools/CONTRACT.md and the target page
        for equation, at_14, at_40 in [("fox", "206.00", "180.00"), ("tanaka", "198.20", "180.00"), ("gellish", "197.20", "179.00"),
                                       ("nes", "202.04", "185.40")]:
            self.assertEqual(self.rows("target", "--age", "14", "--equation", equation)[0]["maximum_hr_bpm"], at_14)
            self.assertEqual(self.rows("target", "--age", "40", "--equation", equation)[0]["maximum_hr_bpm"], at_40)
        row = self.rows("target", "--age", "40", "--sex", "female", "--equation", "gulati")[0]
        self.assertEqual(row["maximum_hr_bpm"], "170.80")

    def test_times_count_from_the_start_of_the_recording(self):
        whole = self.rows("beats", self.session, "--kind", "ecg")
        part = self.rows("beats", self.session, "--kind", "ecg", "--start", "20", "--end", "40")
        self.assertTrue(part)
        self.assertTrue(all(20 <= float(row["time_s"]) <= 40 for row in part))
        near = [float(row["time_s"]) for row in whole]
        for row in part:
            self.assertLess(min(abs(float(row["time_s"]) - t) for t in near), 0.004)
            self.assertAlmostEqual(int(row["sample"]) / 250, float(row["time_s"]), delta=0.5 / 250 + 1e-6)
        windows = self.rows("rate", self.session, "--kind", "ecg", "--start", "20", "--end", "40")
        self.assertEqual((windows[0]["start_s"], windows[-1]["end_s"]), ("0.000", "40.000"))
        self.assertTrue(all(row["bpm"] == "" for row in windows if float(row["end_s"]) <= 20))

    def test_a_list_of_beats_gives_what_the_recording_gave(self):
        listed = self.write("beats.csv", self.run_program("beats", self.session, "--kind", "ecg"))
        from_list = self.rows("intervals", listed, "--input", "beats")
        from_samples = self.rows("intervals", self.session, "--kind", "ecg")
        self.assertEqual([row["verdict"] for row in from_list], [row["verdict"] for row in from_samples])
        for a, b in zip(from_list, from_samples):
            self.assertAlmostEqual(float(a["original_ms"]), float(b["original_ms"]), delta=0.002)

    def test_sample_numbers_need_their_rate(self):
        numbers = self.write("numbers.txt", "".join(f"{round(t * 250)}\n" for t in self.beats))
        rows = self.rows("beats", numbers, "--input", "beats", "--reference-rate", "250")
        self.assertEqual(len(rows), len(self.beats))
        self.assertAlmostEqual(float(rows[5]["time_s"]), self.beats[5], delta=0.0021)
        self.run_program("beats", numbers, "--input", "beats", expect=2)

    def test_locale_writes_for_a_spreadsheet(self):
        rows = self.rows("beats", self.session, "--locale", "de", delimiter=";")
        self.assertEqual(self.header, ["time_s", "sample", "confidence"])
        self.assertRegex(rows[0]["time_s"], r"^[0-9]+,[0-9]{6}$")
        self.run_program("beats", self.session, "--locale", "qq", expect=2)

    def test_lists_default_to_csv_and_summaries_to_text(self):
        for command in ["beats", "intervals", "rate"]:
            self.assertEqual(self.run_program(command, self.session), self.run_program(command, self.session, "--format", "csv"))
        for command in ["inspect", "variability", "effort", "analyze"]:
            self.assertEqual(self.run_program(command, self.session), self.run_program(command, self.session, "--format", "text"))


if __name__ == "__main__":
    unittest.main()
