"""JSON: every document satisfies its schema, every null is explained."""
import glob
import json
import os
import unittest

from document_case import DocumentCase, jsonschema, schema
from program_case import SOURCE
import recordings


@unittest.skipIf(jsonschema is None, "skipped: python3-jsonschema is not installed")
class Documents(DocumentCase):
    def test_schemas_are_schemas_and_closed(self):
        files = glob.glob(os.path.join(SOURCE, "tools", "schema", "*.schema.json"))
        self.assertTrue(files)
        for name in files:
            with open(name, encoding="utf-8") as file:
                content = json.load(file)
            jsonschema.Draft202012Validator.check_schema(content)
            self.assertIs(content["additionalProperties"], False)

    def test_a_schema_refuses_what_the_contract_does_not_name(self):
        document = self.document("target", "--age", "15")
        for change in [{"surprise": 1}, {"low_bpm": "149"}, {"schema_version": 2}]:
            with self.assertRaises(jsonschema.ValidationError):
                self.valid({**document, **change})

    def test_every_command_on_a_session(self):
        person = ["--age", "15", "--resting", "66", "--code", "wren"]
        self.valid(self.document("inspect", self.session))
        self.valid(self.document("beats", self.session))
        self.valid(self.document("beats", self.session, "--all", "--kind", "pulse"))
        self.valid(self.document("intervals", self.session))
        self.valid(self.document("rate", self.session))
        self.valid(self.document("breathing", self.session, expect=1))
        self.valid(self.document("variability", self.session))
        self.valid(self.document("variability", self.session, "--window", "30", "--step", "10"))
        self.valid(self.document("variability", self.session, "--spectrum", "burg", "--trend", "500"))
        self.valid(self.document("effort", self.session, *person))
        self.valid(self.document("effort", self.session))
        self.valid(self.document("effort", self.session, "--age", "15", "--ceiling", "90", "--resting", "66"))
        self.valid(self.document("analyze", self.session, *person))
        self.valid(self.document("analyze", self.session))
        self.valid(self.document("target", *person))
        self.valid(self.document("target", "--maximum", "198"))

    def test_edits_count_with_and_without_a_report(self):
        heron = os.path.join(SOURCE, "datasets", "simulated", "heron_rest_ecg.csv")
        edits = ["--edits", os.path.join(SOURCE, "datasets", "reviewed", "heron_rest_ecg_edits_wren.csv")]
        edited = self.document("analyze", heron, *edits)
        self.assertTrue(edited["provenance"]["options"]["edits"])
        self.assertNotEqual(edited["beats"], self.document("analyze", heron)["beats"])
        self.assertEqual(edited, self.document("analyze", heron, *edits, "--report", self.path("page.html")))

    def test_every_command_on_a_flat_line(self):
        recordings.write_flat(self.path("flat.csv"))
        for command in ["beats", "intervals", "rate", "variability", "effort", "analyze"]:
            self.valid(self.document(command, self.path("flat.csv"), expect=1))
        self.valid(self.document("inspect", self.path("flat.csv")))

    def test_batch_and_comparisons(self):
        os.makedirs(self.path("club"), exist_ok=True)
        recordings.write_session(self.path("club", "heron.csv"), duration_s=30)
        self.write(os.path.join("club", "broken.csv"), b"\x00\x01\x02\x03" * 64)
        document = self.valid(self.document("batch", self.path("club"), expect=1))
        self.assertEqual((document["records_count"], document["failed_count"]), (2, 1))
        truth = self.write("truth.csv", "time_s\n" + "".join(f"{t:.6f}\n" for t in self.beats))
        document = self.valid(self.document("compare", "beats", truth, self.session, "--kind", "ecg"))
        self.assertEqual(document["document"], "beat_comparison")
        self.assertEqual(document["false_negatives_count"], 0)

    def test_provenance_names_the_bytes_and_the_options_but_no_folder(self):
        import hashlib

        document = self.document("beats", self.session, "--kind", "pulse", "--start", "2")
        with open(self.session, "rb") as file:
            self.assertEqual(document["provenance"]["sha256"], hashlib.sha256(file.read()).hexdigest())
        self.assertEqual(document["provenance"]["input"], "wren.csv")
        self.assertEqual(document["provenance"]["options"], {"start_s": 2.0, "kind": "pulse"})
        self.assertNotIn(self.folder, json.dumps(document))


if __name__ == "__main__":
    unittest.main()
