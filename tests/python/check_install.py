"""The module installs with pip from the source tree, without a network. Takes minutes: only with PULSEWRIGHT_LONG."""

import os
import subprocess
import sys
import tempfile
import unittest


@unittest.skipUnless(os.environ.get("PULSEWRIGHT_LONG"), "builds everything once more; set PULSEWRIGHT_LONG")
class Installs(unittest.TestCase):
    def test_into_a_fresh_environment(self):
        with tempfile.TemporaryDirectory() as folder:
            subprocess.run([sys.executable, "-m", "venv", "--system-site-packages", folder], check=True)
            python = os.path.join(folder, "bin", "python")
            package = os.path.join(os.environ["PULSEWRIGHT_SOURCE"], "tools", "python")
            surroundings = {key: value for key, value in os.environ.items() if key not in ("PYTHONPATH", "LD_PRELOAD")}
            subprocess.run([python, "-m", "pip", "install", "--quiet", "--no-index", "--no-build-isolation", package], check=True, env=surroundings)
            said = subprocess.run([python, "-c", "import pulsewright; print(pulsewright.__file__)"], check=True, capture_output=True,
                                  text=True, env=surroundings, cwd=folder).stdout
            self.assertIn(os.path.realpath(folder), os.path.realpath(said.strip()))


if __name__ == "__main__":
    unittest.main()
