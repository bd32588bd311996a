"""The Python module: the stages one by one against the program's own output, errors, memory and stubs."""

import ast
import csv
import gc
import io
import json
import os
import pathlib
import re
import resource
import subprocess
import threading
import time
import unittest

import numpy as np

import pulsewright as pw

PROGRAM = os.environ["PULSEWRIGHT_PROGRAM"]
SOURCE = pathlib.Path(os.environ["PULSEWRIGHT_SOURCE"])
CLIMB = str(SOURCE / "datasets" / "simulated" / "wren_stair_climb.csv")
REST = str(SOURCE / "datasets" / "simulated" / "heron_rest_ecg.csv")


def program(*arguments):
    return subprocess.run([PROGRAM, *arguments], capture_output=True, text=True, check=True).stdout


class StagesAgreeWithTheProgram(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.recording = pw.read_recording(CLIMB)
        cls.person = pw.Person("wren", age_years=15, resting_bpm=66)

    def test_beats_are_those_of_the_program(self):
        rows = list(csv.DictReader(io.StringIO(program("beats", CLIMB))))
        beats = pw.find_beats(self.recording)
        self.assertEqual(len(rows), len(beats))
        np.testing.assert_allclose(beats.times, [float(row["time_s"]) for row in rows], atol=5.1e-7, rtol=0)
        np.testing.assert_array_equal(beats.to_pandas()["sample"], [int(row["sample"]) for row in rows])

    def test_feet_are_those_of_the_program(self):
        rows = list(csv.DictReader(io.StringIO(program("beats", CLIMB, "--feet"))))
        beats = pw.find_beats(self.recording)
        ours = beats.feet
        theirs = np.array([float(row["foot_s"] or "nan") for row in rows])
        np.testing.assert_allclose(ours, theirs, atol=5.1e-7, rtol=0)
        self.assertGreater(np.isfinite(ours).mean(), 0.9)
        np.testing.assert_array_equal(beats.to_pandas()["foot_s"], ours)
        self.assertNotIn("foot_s", pw.find_beats(pw.read_recording(REST)).to_pandas())

    def test_documents_are_those_of_the_program_but_for_the_options(self):
        analysis = pw.analyze(self.recording, self.person)
        ours = analysis.to_dict()
        theirs = json.loads(program("analyze", CLIMB, "--code", "wren", "--age", "15", "--resting", "66", "--format", "json"))
        for document in (ours, theirs):
            document.pop("provenance")
        self.assertEqual(ours, theirs)

    def test_stages_one_by_one_give_what_analyze_gives(self):
        analysis = pw.analyze(self.recording, self.person)
        beats = pw.find_beats(self.recording)
        intervals = pw.clean(beats)
        rates = pw.rate(beats, intervals, pw.track_rate(self.recording))
        self.assertEqual(rates.to_pandas().to_csv(), analysis.rates.to_pandas().to_csv())
        self.assertEqual(pw.variability(intervals).rmssd_ms, analysis.variability.rmssd_ms)
        self.assertEqual(pw.effort(rates, self.person).category_s, analysis.effort.category_s)

    def test_beats_of_an_ecg_are_labelled_as_by_the_program_and_clean_follows_their_labels(self):
        recording = pw.read_recording(REST)
        analysis, beats = pw.analyze(recording), pw.find_beats(recording)
        self.assertEqual(list(beats.to_pandas()["label"]), list(analysis.beats.to_pandas()["label"]))
        self.assertEqual(pw.clean(beats).to_pandas().to_csv(), analysis.intervals.to_pandas().to_csv())

    def test_a_stream_gives_the_beats_of_the_causal_form_however_it_is_cut(self):
        channel = self.recording.channels[0]
        whole = pw.find_beats(self.recording, streaming=True).times
        for size in (997, 20000):
            stream = pw.BeatStream("pulse", channel.rate_hz)
            tables = [stream.push(channel.samples[i : i + size]) for i in range(0, len(channel), size)] + [stream.finish()]
            times = np.concatenate([table[table["verdict"] == "accepted"]["time_s"] for table in tables if len(table)])
            np.testing.assert_allclose(times, whole, atol=1e-9)

    def test_target_by_the_reserve(self):
        # Karvonen et al. 1957; worked by common practice: age 15, resting 66, 60 to 85 % is 149 to 184.
        self.assertEqual(repr(pw.target(self.person)), "<TargetZone 149 to 184 beats/min>")

    def test_matching_counts_beats(self):
        simulation = pw.simulate("rest", duration_s=59.5)  # no beat is cut off by its end
        agreement = pw.match_beats(simulation.beats, pw.find_beats(simulation.recording))
        self.assertEqual((agreement.false_negatives, agreement.false_positives), (0, 0))
        self.assertEqual(agreement.true_positives, len(simulation.beats))


class ArraysGoInAndOut(unittest.TestCase):
    def test_samples_are_seen_where_they_lie_and_outlive_the_recording(self):
        samples = pw.read_recording(CLIMB).channels[0].samples
        gc.collect()
        self.assertEqual(samples.dtype, np.float32)
        self.assertFalse(samples.flags.writeable)
        self.assertFalse(samples.flags.owndata)
        self.assertTrue(np.isfinite(samples[:100]).all())

    def test_a_recording_of_arrays_is_analysed_like_its_file(self):
        read = pw.read_recording(CLIMB).channels[0]
        made = pw.Recording([pw.Channel(read.name, read.samples, read.rate_hz, kind="pulse")])
        np.testing.assert_allclose(pw.find_beats(made).times, pw.find_beats(pw.read_recording(CLIMB)).times, atol=1e-6)

    def test_filters_do_to_an_array_what_they_should(self):
        t = np.arange(5000) / 250
        wave = np.sin(2 * np.pi * 1.0 * t) + np.sin(2 * np.pi * 40.0 * t)
        low = pw.filter_zero_phase(wave, 250, high_hz=8)
        np.testing.assert_allclose(low[500:-500], np.sin(2 * np.pi * 1.0 * t)[500:-500], atol=0.02)
        filter = pw.causal_filter(250, high_hz=8)
        pieces = np.concatenate([filter.process(wave[:1234]), filter.process(wave[1234:])])
        np.testing.assert_array_equal(pieces, pw.causal_filter(250, high_hz=8).process(wave))

    def test_lists_and_integers_are_taken_and_two_dimensions_are_not(self):
        pw.Channel("pulse", [1, 2, 3], 50)
        with self.assertRaises(pw.UsageError):
            pw.Channel("pulse", np.zeros((2, 2)), 50)

    def test_what_cannot_be_samples_is_refused_by_name(self):
        for samples, said in [
            (np.ones(100, dtype=complex), "complex"), (np.arange(100).astype("datetime64[s]"), "datetime64"),
            (["a", "b"], "numbers"), ([object()] * 3, "numbers"), (None, "one dimension"), (3.0, "one dimension"),
            (np.ones((50, 1)), "2"),
        ]:
            with self.assertRaisesRegex(pw.UsageError, "samples of channel 'finger'.*" + said):
                pw.Channel("finger", samples, 100, kind="pulse")
            for use in (lambda: pw.causal_filter(100, low_hz=1).process(samples), lambda: pw.resample(samples, 1, 2),
                        lambda: pw.filter_zero_phase(samples, 100, low_hz=1), lambda: pw.BeatStream("ecg", 100).push(samples)):
                with self.assertRaisesRegex(pw.UsageError, "samples"):
                    use()

    def test_masked_samples_and_none_were_not_recorded(self):
        masked = np.ma.masked_array([1, 2, 3], mask=[False, True, False])
        np.testing.assert_array_equal(pw.Channel("finger", masked, 100).samples, [1, np.nan, 3])
        np.testing.assert_array_equal(pw.Channel("finger", [1, None, 3], 100).samples, [1, np.nan, 3])

    def test_numbers_without_meaning_are_refused_with_their_rule(self):
        beats = pw.BeatTrain(np.arange(400) * 0.8)
        intervals = pw.clean(beats)
        for use, said in [
            (lambda: pw.Channel("finger", [1, 2], 1e12), "rate_hz"), (lambda: pw.BeatTrain([1, np.inf]), "within 60 days"),
            (lambda: pw.BeatTrain([1, np.nan]), "finite"), (lambda: pw.BeatTrain([1, 1e12]), "within 60 days"),
            (lambda: pw.BeatTrain([1, 2], duration_s=1.5), "duration_s"), (lambda: pw.BeatTrain([1], np.nan), "duration_s"),
            (lambda: pw.RateSeries([60, np.inf]), "position 1"), (lambda: pw.RateSeries([60], start_s=np.nan), "start_s"),
            (lambda: pw.rate(beats, intervals, least_confidence=2), "least_confidence"),
            (lambda: pw.variability(intervals, breathing=-1), "breathing"), (lambda: pw.variability(intervals, breathing=[1]), "breathing"),
            (lambda: pw.limits_of_agreement([1, np.nan, 2]), "finite"), (lambda: pw.rate_study([]).groups("shoe"), "shoe"),
            (lambda: pw.compare_rates(beats, beats, bmi=-4), "bmi"), (lambda: pw.compare_rates(beats, beats, by_clocks_s=np.nan), "by_clocks_s"),
            (lambda: pw.filter_zero_phase([1, np.nan, 2], 100, low_hz=1), "finite"), (lambda: pw.detection_trace(pw.read_recording(CLIMB), 20, 10), "ends after"),
        ]:
            with self.assertRaisesRegex(pw.UsageError, said):
                use()
        with self.assertRaisesRegex(pw.ContractError, "lowest terms"):
            pw.resample(np.ones(1000), 10**9, 1)

    def test_paths_are_taken_as_text_or_as_paths(self):
        self.assertEqual(len(pw.read_recording(pathlib.Path(CLIMB)).channels), len(pw.read_recording(CLIMB).channels))
        folder = pathlib.Path(REST).parent
        pw.read_intervals(folder / "heron_rest_ecg_intervals.txt")
        pw.read_beats(folder / "heron_rest_ecg_truth_beats.csv")
        pw.read_rates(folder / "wren_stair_climb_truth_rate.csv")

    def test_absent_rates_are_nan_in_a_table_and_none_elsewhere(self):
        flat = pw.Recording([pw.Channel("pulse", np.zeros(3000), 50, kind="pulse")])
        analysis = pw.analyze(flat, pw.Person(age_years=15))
        self.assertTrue(analysis.rates.to_pandas()["bpm"].isna().all())
        self.assertIsNone(analysis.effort.mean_hr_bpm)
        self.assertIsNone(analysis.variability.sdnn_ms)
        self.assertIn("sdnn_ms", analysis.variability.reasons)


class MeasuresOfTheLaterStages(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.person = pw.Person("wren", age_years=15, resting_bpm=66)
        cls.recording = pw.read_recording(CLIMB)
        cls.rates = pw.analyze(cls.recording, cls.person).rates

    def test_a_session_is_that_of_the_program(self):
        ours = pw.study_session(self.rates, self.person).to_dict()
        theirs = json.loads(program("effort", CLIMB, "--code", "wren", "--age", "15", "--resting", "66", "--format", "json"))
        self.assertEqual(ours["session"], theirs["session"])
        table = pw.study_session(self.rates, self.person).phases_to_pandas()
        self.assertEqual(list(table["kind"]), [p["kind"] for p in theirs["session"]["phases"]])

    def test_variability_has_every_measure_of_its_document(self):
        intervals = pw.clean(pw.find_beats(pw.read_recording(REST)))
        result = pw.variability(intervals, spectrum="lomb_scargle", breathing="auto")
        document = result.to_dict()
        self.assertEqual(document["spectrum_method"], "lomb_scargle")
        for key in ("lf_power_ms2", "sd1_ms", "sample_entropy", "alpha1"):
            self.assertAlmostEqual(getattr(result, key), document[key], delta=1e-3)
        windows = pw.sliding_variability(intervals, window_s=120, step_s=60)
        self.assertGreater(len(windows), 1)
        self.assertEqual(windows[1][0], (60.0, 180.0))
        for wrong in ({"spectrum": "spline"}, {"breathing": "soon"}):
            with self.assertRaises(pw.UsageError):
                pw.variability(intervals, **wrong)

    def test_limits_of_agreement_are_those_of_arithmetic(self):
        # Bland & Altman 1986, Lancet i:307: mean difference -2.1 l/min, SD 38.8, n = 17; the data there, limits -79.7 and 75.5.
        reference = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427]
        test = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]
        limits = pw.paired_agreement(test, reference).plain_limits
        self.assertAlmostEqual(limits.bias.value, -2.1, delta=0.05)
        self.assertAlmostEqual(limits.sd, 38.8, delta=0.05)
        difference = np.subtract(reference, test)
        self.assertAlmostEqual(limits.lower.value, difference.mean() - 1.96 * difference.std(ddof=1), places=6)
        self.assertEqual(pw.limits_of_agreement(list(difference)).sd, limits.sd)
        with self.assertRaises(pw.UsageError):
            pw.paired_agreement([1, 2], [1])
        with self.assertRaises(pw.UsageError):
            pw.paired_agreement([1, 2], [1, 2], person=["wren"])

    def test_a_study_gives_what_compare_rate_gives(self):
        truth = str(SOURCE / "datasets" / "simulated" / "wren_stair_climb_truth_rate.csv")
        record = pw.compare_rates(pw.read_rates(truth), self.rates, name="climb", person="wren")
        self.assertEqual(record.reached, "analysed")
        study = pw.rate_study([record])
        self.assertEqual(len(study.to_pandas()), study.overall.pairs)
        pairs = study.to_pandas()
        self.assertAlmostEqual(record.bias_bpm, (pairs["test_bpm"] - pairs["reference_bpm"]).mean(), places=9)
        self.assertEqual(set(study.figures()), {"differences", "scatter", "error_over_time"})
        self.assertEqual(study.flow["analysed"], 1)

    def test_breathing_is_that_of_the_program(self):
        recording = pw.read_recording(REST)
        ours = pw.breathing_rate(pw.find_beats(recording), recording.channels[:1]).to_pandas()
        theirs = list(csv.DictReader(io.StringIO(program("breathing", REST))))
        np.testing.assert_allclose(ours["breaths_per_min"], [float(row["breaths_per_min"] or "nan") for row in theirs], atol=0.006)

    def test_rates_of_another_device_are_taken_from_an_array(self):
        rates = pw.RateSeries([70.0, float("nan"), 72.0], step_s=5, window_s=5)
        table = rates.to_pandas()
        np.testing.assert_array_equal(table["bpm"], [70.0, np.nan, 72.0])
        np.testing.assert_array_equal(table["start_s"], [0.0, 5.0, 10.0])


class ErrorsAreTheProgramsErrors(unittest.TestCase):
    def test_a_missing_file_says_what_the_program_says(self):
        with self.assertRaises(pw.UnreadableError) as caught:
            pw.read_recording("nowhere.csv")
        self.assertIsInstance(caught.exception, (pw.Error, OSError))
        said = subprocess.run([PROGRAM, "inspect", "nowhere.csv"], capture_output=True, text=True).stderr
        self.assertEqual(said.strip(), "pulsewright: error: " + str(caught.exception))

    def test_wrong_words_and_wrong_orders_are_refused(self):
        recording = pw.read_recording(CLIMB)
        for call in (lambda: pw.find_beats(recording, kind="echo"), lambda: pw.find_beats(recording, channels=["nothing"]),
                     lambda: pw.BeatTrain([1.0, 0.5]), lambda: pw.Person(sex="robin"), lambda: pw.simulate("no such thing"),
                     lambda: pw.causal_filter(100)):
            with self.assertRaises(pw.UsageError) as caught:
                call()
            self.assertIsInstance(caught.exception, ValueError)
        with self.assertRaises(pw.ContractError):
            pw.causal_filter(100, high_hz=80)


class MemoryAndThreads(unittest.TestCase):
    def test_ten_thousand_calls_leave_nothing_behind(self):
        samples = np.tile(np.sin(np.arange(500) / 8).astype(np.float32), 2)
        channel = pw.Channel("pulse", samples, 50, kind="pulse")

        def rounds(count):
            for _ in range(count):
                recording = pw.Recording([channel])
                table = pw.condition(recording.channels[0])
                len(table.values), recording.warnings, table.quality_faults
                try:
                    recording.channel("nothing")
                except pw.UsageError:
                    pass
            gc.collect()
            return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, len(gc.get_objects())

        rounds(500)
        memory, objects = rounds(500)
        memory_after, objects_after = rounds(10000)
        self.assertLess(objects_after - objects, 100)
        if "asan" not in os.environ.get("LD_PRELOAD", ""):  # it keeps freed memory for a while
            self.assertLess(memory_after - memory, 3000, "kB")

    def test_other_threads_run_while_a_recording_is_analysed(self):
        recording = pw.simulate("rest", duration_s=600).recording
        ticks = []
        done = threading.Event()

        def tick():
            while not done.is_set():
                ticks.append(time.monotonic())
                time.sleep(0.001)

        thread = threading.Thread(target=tick)
        thread.start()
        began = time.monotonic()
        pw.analyze(recording)
        ended = time.monotonic()
        done.set()
        thread.join()
        self.assertGreater(sum(began < t < ended for t in ticks), 3)


class StubsTellTheTruth(unittest.TestCase):
    def test_every_public_name_and_member_is_in_the_stubs_and_the_other_way_round(self):
        stubs = ast.parse((SOURCE / "tools" / "python" / "pulsewright" / "__init__.pyi").read_text())
        told = {}
        for node in stubs.body:
            if isinstance(node, ast.FunctionDef):
                told[node.name] = None
            elif isinstance(node, ast.ClassDef):
                members = {child.name for child in node.body if isinstance(child, ast.FunctionDef)}
                members |= {child.target.id for child in node.body if isinstance(child, ast.AnnAssign)}
                told[node.name] = {member for member in members if not member.startswith("_")}
        self.assertEqual(set(told), set(pw.__all__))
        for name, members in told.items():
            if members is not None and not issubclass(getattr(pw, name), Exception):
                there = {member for member in vars(getattr(pw, name)) if not member.startswith("_")}
                self.assertEqual(members, there, name)

    def test_arguments_are_those_of_the_stubs(self):
        stubs = ast.parse((SOURCE / "tools" / "python" / "pulsewright" / "__init__.pyi").read_text())
        for node in stubs.body:
            if not isinstance(node, ast.FunctionDef):
                continue
            signature = getattr(pw, node.name).__doc__.splitlines()[0]
            names = [argument.arg for argument in node.args.args + node.args.kwonlyargs]
            there = re.findall(r"(\w+): ", signature.split(" -> ")[0])
            self.assertEqual(names, there, node.name)

    def test_everything_public_has_a_description(self):
        for name in pw.__all__:
            self.assertTrue((getattr(pw, name).__doc__ or "").strip(), name)


if __name__ == "__main__":
    unittest.main()
