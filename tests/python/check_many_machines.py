"""A batch on a Dask cluster of two local workers, one of them killed on the way: the rows of a local batch, byte for byte."""

import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time
import unittest

PROGRAM = os.environ["PULSEWRIGHT_PROGRAM"]
SOURCE = pathlib.Path(os.environ["PULSEWRIGHT_SOURCE"])


class ManyMachines(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.records = []
        for i in range(12):
            name = f"finch{i:02}.csv"
            with open(self.path(name), "w") as file:
                subprocess.run([PROGRAM, "simulate", "--scenario", "rest", "--duration", "240", "--seed", str(i)], stdout=file, check=True)
            self.records.append(name)
        with open(self.path("bad.csv"), "w") as file:
            file.write("no recording\n")
        self.records.append("bad.csv")
        with open(self.path("all.lst"), "w") as file:
            file.write("\n".join(self.records) + "\n")

    def path(self, name):
        return os.path.join(self.folder.name, name)

    def test_a_killed_worker_changes_nothing(self):
        local = subprocess.run([PROGRAM, "batch", self.path("all.lst"), "--age", "15"], capture_output=True, text=True)
        processes = []
        self.addCleanup(lambda: [p.kill() for p in processes] and [p.wait() for p in processes])
        port = 20000 + os.getpid() % 20000
        address = f"tcp://127.0.0.1:{port}"
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        processes.append(subprocess.Popen(
            [sys.executable, "-m", "distributed.cli.dask_scheduler", "--host", "127.0.0.1", "--port", str(port), "--no-dashboard"], **quiet))
        for _ in range(2):
            processes.append(subprocess.Popen(
                [sys.executable, "-m", "distributed.cli.dask_worker", address, "--nthreads", "1", "--no-nanny", "--no-dashboard"],
                cwd=self.folder.name, **quiet))
        journal = self.path("dask.jsonl")
        batch = subprocess.Popen(
            [sys.executable, str(SOURCE / "tools" / "dask_batch.py"), "--scheduler", address, "--journal", journal,
             "--program", PROGRAM, self.path("all.lst"), "--age", "15"], stderr=subprocess.PIPE, text=True)
        until = time.monotonic() + 60
        while time.monotonic() < until and (not os.path.exists(journal) or pathlib.Path(journal).read_text().count("\n") < 3):
            time.sleep(0.05)
        processes[-1].send_signal(signal.SIGKILL)
        _, said = batch.communicate(timeout=200)
        self.assertEqual(batch.returncode, 0, said)
        merged = subprocess.run([PROGRAM, "batch", "--merge", journal], capture_output=True, text=True)
        self.assertEqual(merged.stdout, local.stdout)
        self.assertEqual(merged.returncode, 1)  # bad.csv
        self.assertEqual(merged.stdout.count("\n"), len(self.records) + 1)


if __name__ == "__main__":
    unittest.main()
