"""effort, target and class: rosters, sheets, plans, logs, heart rates of any device, forgetting a person."""
import math
import os
import unittest

import recordings
from document_case import DocumentCase
from program_case import SOURCE

CLUB = os.path.join(SOURCE, "datasets", "simulated")


def course(t):
    """Rest, climb, rest: first-order kinetics, 66 to 170 beats/min."""
    if t < 120:
        return 66.0
    if t < 480:
        return 170.0 - 104.0 * math.exp(-(t - 120) / 30)
    top = 170.0 - 104.0 * math.exp(-360 / 30)
    return 66.0 + (top - 66.0) * math.exp(-(t - 480) / 50)


class Effort(DocumentCase):
    def rates(self, name="rates.csv", until=720, rate=course):
        return self.write(name, "time_s,bpm\n" + "".join(f"{t},{rate(t):.2f}\n" for t in range(until)))

    def roster(self):
        return self.write("roster.csv", "code,age_years,sex,resting_bpm,maximum_bpm,ceiling_bpm\nwren,15,female,66,,\nheron,15,male,84,198,\nplover,14,,70,,150\n")

    def test_heart_rates_of_a_device_give_phases_recovery_and_load(self):
        arguments = ["effort", self.rates(), "--input", "rates", "--age", "15", "--resting", "66", "--code", "wren"]
        row = self.rows(*arguments)[0]
        self.assertEqual(row["duration_s"], "719.500000")  # a reading speaks of half a step to either side
        total = sum(float(row[c]) for c in ["very_light_s", "light_s", "moderate_s", "vigorous_s", "near_maximal_s", "unmeasured_s"])
        self.assertAlmostEqual(total, 719.5, places=6)
        self.assertLessEqual(float(row["in_target_low_s"]), float(row["in_target_s"]))
        self.assertAlmostEqual(float(row["first_minute_fall_bpm"]), course(480) - course(540), delta=1)
        phases = self.rows(*arguments, "--table", "phases")
        self.assertEqual([p["kind"] for p in phases], ["rest", "work", "rest"])
        self.assertAlmostEqual(float(phases[1]["start_s"]), 120, delta=15)
        self.assertAlmostEqual(float(phases[1]["tau_s"]), 30, delta=3)
        cells = self.rows(*arguments, "--table", "course")
        self.assertEqual(self.header, ["code", "start_s", "end_s", "bpm", "reserve_percent"])
        self.assertEqual(len(cells), 720)
        text = self.run_program(*arguments, "--exertion", "15")
        for words in ["Phases, found from the rate itself", "Recovery after the last bout", "Load", "95 %", "How it felt"]:
            self.assertIn(words, text)
        self.assertLessEqual(max(map(len, text.splitlines())), 120)
        self.valid(self.document(*arguments))
        self.valid(self.document(*arguments, "--exertion", "8", "--scheme", self.write("s.csv", "category,from_percent,of\neasy,0,reserve\nhard,60,reserve\n")))

    def test_marks_and_a_person_from_the_roster(self):
        marks = self.write("marks.csv", "start_s,phase,exertion\n0,rest,\n118,work,14\n480,rest,\n")
        document = self.document("effort", self.rates(), "--input", "rates", "--roster", self.roster(), "--code", "wren", "--marks", marks)
        self.valid(document)
        self.assertEqual([p["start_s"] for p in document["session"]["phases"]], [0, 118, 480])
        self.assertEqual(document["person"]["age_years"], 15)
        self.run_program("effort", self.rates(), "--input", "rates", "--roster", self.roster(), "--code", "robin", expect=2)
        self.assertIn("nobody called 'robin'", self.talk)
        self.run_program("effort", self.rates(), "--input", "rates", "--marks", self.write("bad.csv", "start_s,phase\n5,rest\n3,work\n"), expect=3)
        self.assertIn(":3: column 'start_s'", self.talk)

    def test_target_of_a_roster_is_a_table_with_the_spread(self):
        rows = self.rows("target", self.roster())
        self.assertEqual([(r["code"], r["low_bpm"], r["high_bpm"]) for r in rows], [("wren", "149.40", "184.15"), ("heron", "152.40", "180.90"), ("plover", "", "")])
        self.assertIn("own ceiling", rows[2]["reason"])
        self.assertEqual(rows[1]["low_shift_bpm"], "")  # measured
        self.assertAlmostEqual(float(rows[0]["low_shift_bpm"]), 0.6 * math.hypot(10, 8), places=2)  # Mahon et al. 2010, RQES 81:466
        text = self.run_program("target", self.roster())
        self.assertIn("149 to 184", text)
        self.assertIn("vigorous", text)
        self.assertLessEqual(max(map(len, text.splitlines())), 120)
        self.valid(self.document("target", self.roster()))
        self.run_program("target", self.roster(), "--age", "15", expect=2)

    def test_a_bad_roster_is_refused_with_every_fault_by_line(self):
        bad = self.write("bad_roster.csv", "\ufeffcode;age_years;resting_bpm;maximum_bpm\nwren;old;66;\nheron;15;110;100\nwren;15;;\n".encode())
        self.run_program("target", bad, expect=3)
        for part in [":2: column 'age_years'", ":3: column 'resting_bpm'", ":4: column 'code'"]:
            self.assertIn(part, self.talk)

    def test_a_plan_states_rates_for_each_phase(self):
        rows = self.rows("target", "--age", "15", "--resting", "66", "--plan", "5-3x4/2-5")
        self.assertEqual([r["kind"] for r in rows], ["warm_up", "work", "pause", "work", "pause", "work", "cool_down"])
        self.assertEqual((rows[1]["low_bpm"], rows[1]["high_bpm"]), ("149.40", "184.15"))
        self.assertEqual(rows[-1]["end_s"], f"{60 * 26}.000")
        self.valid(self.document("target", self.roster(), "--plan", "5-20-5"))
        self.assertIn("warm-up", self.run_program("target", self.roster(), "--plan", "5-20-5"))
        self.run_program("target", "--age", "15", "--plan", "5-20", expect=2)

    def test_a_counted_resting_rate_shows_its_error_and_both_readings(self):
        text = self.run_program("target", "--age", "15", "--count", "17", "--count-over", "15")
        for words in ["68 beats/min", "common practice", "Fleming", "1.63", "2.45", "0.41"]:
            self.assertIn(words, text)
        self.run_program("target", "--age", "15", "--count", "17", "--count-over", "12", expect=2)
        self.run_program("target", "--age", "15", "--count", "17", "--resting", "66", expect=2)

    def test_arms_and_wheelchair_are_told_that_the_formula_overstates(self):
        self.run_program("target", "--age", "15", "--exercise", "wheelchair")
        self.assertIn("leg_based_maximum", self.talk)
        self.run_program("target", "--maximum", "180", "--exercise", "arms")
        self.assertNotIn("leg_based_maximum", self.talk)

    def test_a_class_stands_side_by_side_on_one_clock(self):
        self.rates("wren_rates.csv", rate=lambda t: 66 + 0.4 * (course(t) - 66))
        self.rates("heron_rates.csv", rate=lambda t: 84 + 1.05 * (course(t) - 66))
        self.rates("shared.csv")
        sheet = self.write("sheet.csv", "code,file,from,to,file_begins,activity,exertion,laps\n"
                                        "wren,wren_rates.csv,,,10:00:00,stairs,10,9\nheron,heron_rates.csv,,,10:00:00,stairs,17,4\n"
                                        "plover,shared.csv,10:02:00,10:08:00,10:00:00,stairs,14,6\nrobin,absent.csv,,,,,,\n")
        arguments = ["class", sheet, "--roster", self.roster()]
        rows = self.rows(*arguments, expect=1)  # one recording is missing
        self.assertEqual([r["code"] for r in rows][-1], "robin")
        by_code = {r["code"]: r for r in rows}
        self.assertEqual(by_code["robin"]["status"], "failed")
        self.assertEqual(by_code["plover"]["duration_s"], "360.000000")
        self.assertEqual(by_code["plover"]["begins"], "10:02:00")
        self.assertIn("not_in_roster", self.talk)
        text = self.run_program(*arguments, expect=1)
        self.assertLessEqual(max(map(len, text.splitlines())), 120)
        self.assertIn("cannot be told apart", text)
        for key in ["code", "target", "moderate", "load", "peak", "recovery", "performance"]:
            self.assertEqual(len(self.rows(*arguments, "--sort", key, expect=1)), 4)
        self.valid(self.document(*arguments, expect=1))
        first, second = (self.run_program(*arguments, "--format", "json", expect=1) for _ in range(2))
        self.assertEqual(first, second)

    def test_recordings_without_times_are_read_at_the_stated_rate(self):
        times = recordings.beat_times(60, 80)
        lines = "".join(f"IR:{round(v)},Red:{round(v) + 7}\n" for v in recordings.pulse_samples(times, 60)[::5])
        self.write("serial.txt", lines)
        sheet = self.write("serial_sheet.csv", "code,file\nwren,serial.txt\n")
        self.run_program("class", sheet, "--roster", self.roster(), expect=1)
        self.assertIn("--rate HZ", self.talk)
        row = self.rows("class", sheet, "--roster", self.roster(), "--rate", "50")[0]
        self.assertEqual((row["code"], row["duration_s"]), ("wren", "60.000000"))
        counts = self.write("serial_counts.csv", "code,recording,start_s,seconds,count\nwren,serial.txt,5,15,20\n")
        self.run_program("compare", "counts", counts, expect=2)
        self.rows("compare", "counts", counts, "--rate", "50")

    def test_the_club_runs_from_raw_recordings(self):
        rows = self.rows("class", os.path.join(CLUB, "club_sheet.csv"), "--roster", os.path.join(CLUB, "club_roster.csv"))
        self.assertEqual(rows[0]["code"], "heron")
        self.assertEqual(rows[-1]["code"], "wren")
        self.assertTrue(all(r["status"] == "done" for r in rows))

    def test_a_log_is_kept_and_summed_up_by_week(self):
        log = self.path("log.csv")
        for date in ["2026-03-02", "2026-03-04", "2026-03-09"]:
            self.run_program("effort", self.rates(), "--input", "rates", "--age", "15", "--resting", "66", "--code", "wren", "--activity", "stairs",
                             "--log", log, "--date", date)
        self.run_program("effort", self.rates(), "--input", "rates", "--age", "15", "--resting", "66", "--code", "wren", "--log", log, "--date", "2026-03-09")
        self.assertIn("1 of them", self.talk)
        weeks = self.rows("class", "--weekly", log)
        self.assertEqual([(w["monday"], w["sessions_count"]) for w in weeks], [("2026-03-02", "2"), ("2026-03-09", "1")])
        self.assertEqual(weeks[1]["duration_change_percent"], "-50.0")
        self.valid(self.document("class", "--weekly", log))
        self.assertIn("frequency, intensity, time, type", self.run_program("class", "--weekly", log))
        self.run_program("effort", self.rates(), "--input", "rates", "--log", log, "--date", "9.3.2026", expect=2)

    def test_forgetting_says_first_and_deletes_only_when_confirmed(self):
        os.makedirs(self.path("kept"), exist_ok=True)
        roster = self.write(os.path.join("kept", "roster.csv"), "code,age_years\nwren,15\nheron,15\n")
        self.write(os.path.join("kept", "wren.csv"), "time_s,bpm\n0,60\n1,61\n")
        told = self.run_program("class", "--forget", "wren", "--within", self.path("kept"))
        self.assertIn("delete ", told)
        self.assertIn("take 1 entry out of", told)
        self.assertTrue(os.path.exists(self.path("kept", "wren.csv")))
        self.run_program("class", "--forget", "wren", "--within", self.path("kept"), "--confirm")
        self.assertFalse(os.path.exists(self.path("kept", "wren.csv")))
        with open(roster, encoding="utf-8") as file:
            self.assertEqual(file.read(), "code,age_years\nheron,15\n")
        self.run_program("class", "--forget", "wren", "--within", self.path("kept"), expect=1)
        for wrong in [["--forget", "wren"], ["--forget", "../x", "--within", self.path("kept")], ["--confirm"], []]:
            self.run_program("class", *wrong, expect=2)


if __name__ == "__main__":
    unittest.main()
