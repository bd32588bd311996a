"""Checks the check: a README whose command fails is noticed, one whose commands work passes, and the test run is left out aloud.

usage: readme_check_bites.py READMECOMMANDS
"""

import os
import pathlib
import subprocess
import sys
import tempfile

CASES = [
    # README, ends well, what is said
    ("```sh\necho hello | tr a-z A-Z\n```\n", True, "HELLO"),
    ("```sh\nls no_such_file\n```\n", False, "README.md:2"),
    ("```sh\nfalse\necho hidden by a later command\n```\n", False, "fail"),
    ("```sh\nfalse | cat\n```\n", False, "fail"),
    ("```text\nno_such_command\n```\n\n```sh\necho one\n```\n", True, "one"),
    ("```sh\n./tests/run.sh\n```\n\n```sh\necho two\n```\n", True, "not run here"),
    ("```sh\n./tests/run.sh\nno_such_command\n```\n", False, "alone"),
    ("no commands\n", False, "no ```sh block"),
    ("```sh\ntouch left_over\n```\n", True, "left_over"),
    ("```sh\nbash build/program\n```\n", True, "three"),
    ("```sh\ntest ! -e left_over\n```\n", True, "left_over"),
    ("```sh\necho four\n```\n\n```text\nfour\n```\n", True, "four"),
    ("```sh\necho four\n```\n\n```text\nfive\n```\n", False, "does not print"),
    ("```sh\nprintf '1\\n2\\n3\\n'\n```\n\n```text\n1\n...\n```\n", True, "3"),
    ("[there](nowhere.md)\n\n```sh\necho six\n```\n", False, "leads nowhere"),
]

ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PULSEWRIGHT_LONG"}  # build/ linked, not empty

problems = []
with tempfile.TemporaryDirectory(prefix="pulsewright-readme-") as scratch:
    scratch = pathlib.Path(scratch)
    (scratch / "project").mkdir()
    (scratch / "built").mkdir()
    (scratch / "built" / "program").write_text("echo three\n")
    for readme, ends_well, said in CASES:
        (scratch / "project" / "README.md").write_text(readme)
        done = subprocess.run([sys.executable, sys.argv[1], scratch / "project", scratch / "copy", scratch / "built"],
                              capture_output=True, text=True, env=ENVIRONMENT)
        if (done.returncode == 0) != ends_well or said not in done.stdout + done.stderr:
            problems.append(f"{readme!r} ended with {done.returncode}:\n{done.stdout}{done.stderr}")
if problems:
    sys.exit("\n".join(problems))
