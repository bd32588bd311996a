#!/usr/bin/env python3
"""Times a batch as a whole process.

    time_batch.py PROGRAM ARGUMENTS...    runs it once; prints JSON with wall-clock and processor seconds and the most memory of any process of it
    time_batch.py --table FOLDER          what batch.sh has gathered, as a table; of each the best round
"""
import json
import pathlib
import resource
import subprocess
import sys
import time


def run(command):
    began = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    took = time.perf_counter() - began
    children = resource.getrusage(resource.RUSAGE_CHILDREN)
    print(json.dumps({"seconds": took, "processor_s": children.ru_utime + children.ru_stime, "memory_mb": children.ru_maxrss / 1024}))


def best(folder, side, workers):
    return min((json.loads(path.read_text()) for path in folder.glob(f"{side}-{workers}-*.json")), key=lambda result: result["seconds"])


def table(folder):
    ours, script = ([best(folder, side, workers) for workers in (1, 2)] for side in ("ours", "script"))
    records = script[0]["records"]
    print(f"{records} records of half an hour, two signals each, every stage; best of three")
    print("workers   pulsewright   script      script / pulsewright")
    for workers, a, b in zip((1, 2), ours, script):
        print(f"{workers:7}   {a['seconds']:9.2f} s   {b['seconds']:6.2f} s   {b['seconds'] / a['seconds']:6.1f} times")
    print(f"two workers against one: {ours[0]['seconds'] / ours[1]['seconds']:.2f} times as fast")
    print(f"most memory of any process: {max(a['memory_mb'] for a in ours):.0f} MB")
    print(f"records per core-hour: {3600 * records / ours[0]['processor_s']:.0f}")


if __name__ == "__main__":
    if sys.argv[1] == "--table":
        table(pathlib.Path(sys.argv[2]))
    else:
        run(sys.argv[1:])
