#!/usr/bin/python3
"""The electrocardiogram packaged with scipy, through the program.

scipy's packaged ECG is record 208 of the MIT-BIH Arrhythmia Database, first signal, in mV, 108,000 samples at 360 Hz; its first sample is
sample 422,820 of the record and it holds 509 annotated beats (checked here against the record's own annotations where the open data is at
hand). Usage: scipy_ecg.py PROGRAM. Exit code 77: scipy is not installed.
"""
import csv
import io
import os
import pathlib
import subprocess
import sys
import tempfile

RATE = 360
FIRST_SAMPLE = 422_820
SAMPLES = 108_000
BEATS = 509
TOLERANCE_S = 0.150


def packaged_ecg():
    try:
        from scipy.datasets import electrocardiogram  # since 1.10, needs a download helper
        return electrocardiogram()
    except Exception:
        pass
    try:
        import warnings

        warnings.simplefilter("ignore")
        from scipy.misc import electrocardiogram
        return electrocardiogram()
    except Exception as reason:
        print(f"skipped: scipy's packaged ECG is not installed ({reason})")
        sys.exit(77)


def run(*arguments):
    done = subprocess.run(arguments, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, arguments))} ended with {done.returncode}: {done.stderr}")
    return done.stdout


def data_folder():
    stated = os.environ.get("PULSEWRIGHT_DATA")
    root = pathlib.Path(stated) if stated else pathlib.Path(os.environ["PULSEWRIGHT_SOURCE_DIR"]) / ".." / "shared" / "datasets"
    return root / "arrhythmia"


def main():
    program = sys.argv[1]
    ecg = packaged_ecg()
    assert len(ecg) == SAMPLES, len(ecg)
    with tempfile.TemporaryDirectory() as folder:
        recording = pathlib.Path(folder) / "packaged.csv"
        recording.write_text("ecg [mV]\n" + "".join(f"{v:.6f}\n" for v in ecg))
        table = run(program, "beats", recording, "--rate", str(RATE), "--kind", "ecg", "--format", "csv")
        times = [float(row["time_s"]) for row in csv.DictReader(io.StringIO(table))]
        print(f"{len(times)} beats found, {BEATS} annotated")
        # This stretch of the record is hard (fusion and small ventricular beats) of this record are hard; 2 % is ten of them.
        assert abs(len(times) - BEATS) <= 10, len(times)

        record = data_folder() / "208.atr"
        if not record.exists():
            print("the record's annotations are not at hand: counted only")
            return
        found = pathlib.Path(folder) / "found.csv"
        shifted = [t + FIRST_SAMPLE / RATE for t in times]
        found.write_text("time_s\n" + "".join(f"{t:.6f}\n" for t in shifted))
        end = (FIRST_SAMPLE + SAMPLES) / RATE
        outside = pathlib.Path(folder) / "outside.txt"
        outside.write_text(f"0 {FIRST_SAMPLE / RATE}\n{end} 1e6\n")
        result = run(program, "compare", "beats", record, found, "--exclude", outside, "--format", "csv")
        row = next(csv.DictReader(io.StringIO(result)))
        print(row)
        true = int(row["true_positives_count"])
        missed = int(row["false_negatives_count"])
        extra = int(row["false_positives_count"])
        assert true + missed == BEATS, f"{true + missed} annotated beats in the stretch, expected {BEATS}"
        # Measured when this test was written: 8 missed, 1 extra.
        assert missed <= 10 and extra <= 4, (missed, extra)


main()
