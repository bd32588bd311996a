"""A lesson of 24 with the faults that lessons have: each is said, nobody is judged on what is not known, and those who are placed follow the truth."""
import os
import unittest

import made_lesson
from document_case import DocumentCase


class Lesson(DocumentCase):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.lesson = made_lesson.write(os.path.join(cls.folder, "lesson"))
        cls.arguments = ["class", os.path.join(cls.lesson, "sheet.csv"), "--roster", os.path.join(cls.lesson, "roster.csv")]

    def test_everybody_is_placed_or_it_is_said_why_not(self):
        rows = self.rows(*self.arguments, expect=1)
        by_code = {r["code"]: r for r in rows}
        for code, (why, word) in made_lesson.EXPECTED.items():
            self.assertEqual(by_code[code]["not_placed"], why, code)
            self.assertEqual(by_code[code]["place_best"], "", code)
            self.assertEqual(by_code[code]["effort_for_place"], "unclear", code)
            if word:
                self.assertTrue(any(code in line and word in line for line in self.talk.splitlines()), (code, word, self.talk))
        for code in made_lesson.ABSENT:
            self.assertIn(f"{code}: in the roster and not in the sheet", self.talk)
        others = [r for r in rows if r["code"] not in made_lesson.EXPECTED and r["code"] != "knot"]
        self.assertEqual({r["code"] for r in others if r["not_placed"] != "placed"}, set())
        self.assertGreaterEqual(len(others), 9)

    def test_places_follow_the_truth(self):
        document = self.valid(self.document(*self.arguments, expect=1))
        self.assertEqual(document["compared_by"], "clock")
        begins, ends = document["common_start_s"] - made_lesson.BEGINS, document["common_end_s"] - made_lesson.BEGINS
        self.assertLess(begins, 45)
        self.assertGreater(ends, 650)
        placed = [m for m in document["members"] if m["place_best"] is not None and m["code"] != "knot"]
        for member in placed:
            k = made_lesson.BIRDS.index(member["code"])
            truth = made_lesson.effort(k, round(begins), round(ends))
            self.assertAlmostEqual(member["compared"]["mean_reserve_percent"], truth, delta=3, msg=member["code"])
            times = member["compared"]
            self.assertAlmostEqual(times["below_target_s"] + times["in_target_s"] + times["above_target_s"] + times["unmeasured_s"],
                                   times["length_s"], delta=1e-5)
        for a in placed:
            for b in placed:
                if a["place_worst"] < b["place_best"]:
                    self.assertGreater(made_lesson.effort(made_lesson.BIRDS.index(a["code"])), made_lesson.effort(made_lesson.BIRDS.index(b["code"])))

    def test_one_rule_gives_the_target_before_and_after(self):
        before = {r["code"]: r for r in self.rows("target", self.arguments[3])}
        for row in self.rows(*self.arguments, expect=1):
            if row["status"] == "done":
                self.assertEqual(row["target_low_bpm"], before[row["code"]]["low_bpm"], row["code"])
                self.assertEqual(row["target_method"], before[row["code"]]["method"], row["code"])

    def test_counts_are_held_against_the_measured_rate(self):
        rows = self.rows("compare", "counts", os.path.join(self.lesson, "counts.csv"))
        self.assertEqual(len(rows), 18)
        for row, (code, _, start, _, _, truth) in zip(rows, made_lesson.counts()):
            self.assertAlmostEqual(float(row["recorded_bpm"]), truth, delta=2, msg=f"{code} at {start}")
            self.assertLessEqual(float(row["recorded_low_bpm"] or 0), float(row["recorded_bpm"]))
        self.assertNotIn("miscounted", self.talk)

    def test_before_class_every_fault_is_a_line(self):
        rows = self.rows(*self.arguments, "--check", expect=1)
        lacking = {r["code"] for r in rows if r["ready"] == "no"}
        self.assertEqual(lacking, set(made_lesson.EXPECTED) | set(made_lesson.ABSENT))

    def test_the_page_says_it_in_every_language_and_no_slip_judges_the_unknown(self):
        for language, said in [("en", "nothing is said"), ("de", "nichts gesagt"), ("es", "no se dice nada")]:
            self.run_program(*self.arguments, "--report", self.path("class.html"), "--language", language, expect=1)
            with open(self.path("class.html"), encoding="utf-8") as file:
                page = file.read()
            slips = page.split('<article class="slip">')[1:]
            self.assertEqual(len(slips), 23)
            for slip in slips:
                code = slip.split("<h3>")[1].split("</h3>")[0]
                if code in ("heron", "plover", "dipper", "twite", "siskin"):
                    self.assertIn(said, slip, code)
                    self.assertNotIn("compared.mean_reserve", slip, code)


if __name__ == "__main__":
    unittest.main()
