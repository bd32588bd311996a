"""Runs the program in a folder of its own."""
import csv
import io
import json
import os
import shutil
import subprocess
import tempfile
import unittest

import recordings

PROGRAM = os.environ.get("PULSEWRIGHT_PROGRAM", "build/pulsewright")
with open(PROGRAM, "rb") as _binary:
    SANITIZED = b"__asan_init" in _binary.read()
SOURCE = os.environ.get("PULSEWRIGHT_SOURCE", os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", ".."))


class ProgramCase(unittest.TestCase):
    maxDiff = 2000

    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.mkdtemp(prefix="pulsewright_")
        cls.session = os.path.join(cls.folder, "wren.csv")
        cls.beats = recordings.write_session(cls.session)

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder, ignore_errors=True)

    def path(self, *names):
        return os.path.join(self.folder, *names)

    def write(self, name, text):
        mode = "wb" if isinstance(text, bytes) else "w"
        with open(self.path(name), mode) as file:
            file.write(text)
        return self.path(name)

    def run_program(self, *arguments, expect=0, env=None, binary=False):
        """Runs, checks the exit code, and returns stdout. stderr is kept in self.talk."""
        surroundings = dict(os.environ, **(env or {}))
        done = subprocess.run([PROGRAM, *(a if isinstance(a, bytes) else str(a) for a in arguments)], capture_output=True, env=surroundings, timeout=300)
        self.talk = done.stderr.decode("utf-8", "replace")
        said = f"pulsewright {' '.join(map(str, arguments))}\n{self.talk}"
        self.assertEqual(done.returncode, expect, said)
        return done.stdout if binary else done.stdout.decode("utf-8")

    def rows(self, *arguments, expect=0, delimiter=",", **more):
        """Rows of a CSV result as dictionaries; the header is in self.header."""
        text = self.run_program(*arguments, "--format", "csv", expect=expect, **more)
        self.assertTrue(text.endswith("\n") and "\r" not in text)
        reader = csv.DictReader(io.StringIO(text), delimiter=delimiter)
        result = list(reader)
        self.header = reader.fieldnames
        return result

    def document(self, *arguments, expect=0):
        return json.loads(self.run_program(*arguments, "--format", "json", expect=expect))

    def assert_decimals(self, cell, decimals):
        whole, _, fraction = cell.partition(".")
        self.assertRegex(cell, r"^-?[0-9]+(\.[0-9]+)?$")
        self.assertEqual(len(fraction), decimals, cell)
        self.assertNotRegex(cell, r"^-0+(\.0+)?$")
