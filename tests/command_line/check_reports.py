"""Reports: every number that names its place in the JSON document equals the number there."""
import html.parser
import os
import re
import struct
import unittest
import xml.etree.ElementTree

from program_case import ProgramCase
import recordings


class Numbers(html.parser.HTMLParser):
    """The `<data>` elements of a page: place in the document, exact value, text shown."""

    def __init__(self, page):
        super().__init__()
        self.found, self.open = [], None
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        if tag == "data":
            self.open = [dict(attributes)["data-key"], dict(attributes)["value"], ""]

    def handle_data(self, text):
        if self.open is not None:
            self.open[2] += text

    def handle_endtag(self, tag):
        if tag == "data":
            self.found.append(tuple(self.open))
            self.open = None


def seconds(text):
    """`45 s`, `8:00 min`, `1:04:32 h` in seconds."""
    total = 0
    for part in text.split()[0].split(":"):
        total = 60 * total + float(part)
    return total


class Reports(ProgramCase):
    def page(self, *arguments, name="report.html", option="--report", expect=0):
        self.run_program("analyze", *arguments, option, self.path(name), expect=expect)
        with open(self.path(name), encoding="utf-8") as file:
            return file.read()

    def at(self, document, key):
        for name in key.split("."):
            document = document[name]
        return document

    def check_numbers(self, *arguments):
        document = self.document("analyze", *arguments)
        for language, decimal in [("en", "."), ("de", ","), ("es", ",")]:
            numbers = Numbers(self.page(*arguments, "--language", language)).found
            self.assertGreater(len(numbers), 10)
            for key, exact, shown in numbers:
                value = self.at(document, key)
                self.assertEqual(float(exact), value, key)
                if key.endswith("_s") and " " in shown:
                    self.assertLessEqual(abs(seconds(shown) - value), 0.5, (key, shown))
                    continue
                plain = shown.replace(decimal, ".")
                digits = len(plain.partition(".")[2])
                # The document is rounded too: to two decimals or more.
                self.assertLessEqual(abs(float(plain) - value), 0.5 * 10**-digits + 0.005, (key, shown))
        return {key for key, _, _ in numbers}

    def test_every_number_equals_the_document(self):
        keys = self.check_numbers(self.session, "--age", "15", "--resting", "66", "--code", "wren")
        self.assertLessEqual({"effort.mean_hr_bpm", "effort.in_target_s", "effort.target.low_bpm", "beats.beats_count",
                              "variability.rmssd_ms"}, keys)

    def test_every_number_equals_the_document_for_somebody_unknown_and_for_a_ceiling(self):
        keys = self.check_numbers(self.session)
        self.assertNotIn("effort.in_target_s", keys)
        self.assertIn("effort.above_ceiling_s",
                      self.check_numbers(self.session, "--age", "15", "--resting", "66", "--ceiling", "170"))

    def test_a_list_of_intervals_has_a_report_but_no_workings(self):
        gaps = [b - a for a, b in zip(self.beats, self.beats[1:])]
        listed = self.write("intervals.txt", "\n".join(f"{1000 * gap:.3f}" for gap in gaps))
        self.check_numbers(listed, "--input", "intervals", "--unit", "ms")
        self.run_program("analyze", listed, "--input", "intervals", "--unit", "ms", "--workings", self.path("w.html"), expect=2)
        self.assertFalse(os.path.exists(self.path("w.html")))

    def test_a_recording_without_beats_has_a_report_that_says_so(self):
        recordings.write_flat(self.path("flat.csv"))
        page = self.page(self.path("flat.csv"), "--age", "15", "--resting", "66", expect=1)
        self.assertIn("No heart rate could be measured", page)
        self.assertNotIn("The rate was inside the target", page)

    def test_the_code_of_a_person_cannot_become_markup(self):
        page = self.page(self.session, "--code", "<script>alert(1)</script>")
        self.assertNotIn("<script>alert", page)
        self.assertEqual(len(re.findall("<script", page)), 1)

    def test_figures_are_drawings_and_pictures(self):
        self.run_program("analyze", self.session, "--age", "15", "--resting", "66", "--figures", self.path("figures"))
        names = os.listdir(self.path("figures"))
        for figure in ["rate", "intensity", "target", "overview", "histogram", "neighbours", "spectrum"]:
            self.assertIn(figure + ".svg", names)
            xml.etree.ElementTree.parse(self.path("figures", figure + ".svg"))
            with open(self.path("figures", figure + ".png"), "rb") as file:
                picture = file.read()
            # Signature, then width and height in the first chunk (PNG specification, 5.2 and 11.2.2).
            self.assertEqual(picture[:8], b"\x89PNG\r\n\x1a\n")
            width, height = struct.unpack(">II", picture[16:24])
            self.assertGreater(width, 900)
            self.assertGreater(height, 300)

    def test_wrong_usage(self):
        self.run_program("analyze", self.session, "--report", self.folder, expect=2)
        self.run_program("analyze", self.session, "--language", "de", expect=2)
        self.run_program("analyze", self.session, "--report", self.path("x.html"), "--language", "xx", expect=2)


if __name__ == "__main__":
    unittest.main()
