"""The report of a class: every number that names its place in the class document equals the number there."""
import os
import re
import unittest

from check_reports import Numbers, seconds
from program_case import ProgramCase, SOURCE

SHEET = os.path.join(SOURCE, "datasets/simulated/club_sheet.csv")
ROSTER = os.path.join(SOURCE, "datasets/simulated/club_roster.csv")


def at(document, key):
    for name in key.split("."):
        document = document[int(name)] if name.isdigit() else document[name]
    return document


class ClassReport(ProgramCase):
    def page(self, *arguments, expect=0):
        self.run_program("class", *arguments, "--report", self.path("class.html"), expect=expect)
        with open(self.path("class.html"), encoding="utf-8") as file:
            return file.read()

    def check_numbers(self, *arguments, expect=0):
        document = self.document("class", *arguments, expect=expect)
        for language, decimal in [("en", "."), ("de", ","), ("es", ",")]:
            numbers = Numbers(self.page(*arguments, "--language", language, expect=expect)).found
            for key, exact, shown in numbers:
                value = at(document, key)
                self.assertEqual(float(exact), value, key)
                if ":" in shown or shown.endswith(" s"):
                    self.assertLessEqual(abs(seconds(shown) - value), 0.5, (key, shown))
                    continue
                plain = shown.replace(decimal, ".")
                digits = len(plain.partition(".")[2])
                # The document is rounded too: to two decimals or more.
                self.assertLessEqual(abs(float(plain) - value), 0.5 * 10**-digits + 0.005, (key, shown))
        return document, {key for key, _, _ in numbers}

    def test_every_number_equals_the_document(self):
        document, keys = self.check_numbers(SHEET, "--roster", ROSTER)
        for i in range(len(document["members"])):
            for name in ["effort.session.mean_reserve_percent", "effort.session.mean_reserve_low_percent", "effort.session.in_target_s",
                         "effort.session.peak.reserve_percent", "effort.session.weighted_min", "effort.unmeasured_s", "performance",
                         "place_best", "effort.target.low_bpm"]:
                self.assertIn(f"members.{i}.{name}", keys)
        self.assertIn("middle_effort_percent", keys)

    def test_every_number_equals_the_document_in_another_order(self):
        self.check_numbers(SHEET, "--roster", ROSTER, "--sort", "performance", "--least-first")

    def test_somebody_without_a_result_is_said_to_have_none(self):
        sheet = self.write("sheet.csv", f"code,file\nwren,{self.session}\nheron,nowhere.csv\nrobin,{self.session}\n")
        roster = self.write("roster.csv", "code,age_years,resting_bpm\nwren,15,66\nheron,15,70\n")
        document, keys = self.check_numbers(sheet, "--roster", roster, expect=1)
        place, = [i for i, member in enumerate(document["members"]) if member["code"] == "heron"]
        self.assertIsNone(document["members"][place]["effort"])
        page = self.page(sheet, "--roster", roster, expect=1)
        self.assertIn("<strong>heron</strong>: ", page)
        self.assertIn("nowhere.csv", page)
        self.assertFalse(any(key.startswith(f"members.{place}.effort.") for key in keys))

    def test_notes_cannot_become_markup(self):
        sheet = self.write("sheet.csv", f'code,file,activity\nwren,{self.session},"<script>alert(1)</script>"\n')
        page = self.page(sheet, "--roster", ROSTER)
        self.assertNotIn("<script>alert", page)
        self.assertIn("&lt;script&gt;alert(1)", page)
        self.assertEqual(len(re.findall("<script", page)), 1)

    def test_the_same_class_gives_the_same_bytes(self):
        self.assertEqual(self.page(SHEET, "--roster", ROSTER), self.page(SHEET, "--roster", ROSTER))

    def test_wrong_usage(self):
        self.run_program("class", SHEET, "--roster", ROSTER, "--report", self.folder, expect=2)
        self.run_program("class", SHEET, "--roster", ROSTER, "--language", "de", expect=2)
        self.run_program("class", "--weekly", self.write("log.csv", ""), "--report", self.path("x.html"), expect=2)


if __name__ == "__main__":
    unittest.main()
