#!/usr/bin/env python3
"""A batch spread over the workers of a Dask cluster, written as the journal that `pulsewright batch` would have written.

    tools/dask_batch.py --scheduler tcp://HOST:8786 --journal out.jsonl INPUT [options of pulsewright batch]
    pulsewright batch --merge out.jsonl > batch.csv

INPUT and all options that this script does not know go to `pulsewright batch`, which lists the records. Every worker must see the same paths and
have the Python module. Without --scheduler two worker processes are started here. A worker that is lost costs a retry; records already
in the journal are not worked on again. The rows are those of a local batch, byte for byte.
"""

import argparse
import json
import os
import pathlib
import shutil
import subprocess
import sys


def listed(program, arguments):
    """The first line of the journal, and what is to be done about each record."""
    done = subprocess.run([program, "batch", *arguments, "--list", "-"], stdout=subprocess.PIPE, text=True)
    if done.returncode:
        sys.exit(done.returncode)
    beginning, *jobs = done.stdout.splitlines()
    return beginning, [json.loads(job) for job in jobs]


def compact(value):
    return json.dumps(value, separators=(",", ":"), ensure_ascii=False)


def positions_done(journal, beginning):
    """Positions that the journal holds already; a line that was cut off is taken away."""
    if not os.path.exists(journal) or os.path.getsize(journal) == 0:
        with open(journal, "w", encoding="utf-8") as file:
            file.write(beginning + "\n")
        return set()
    with open(journal, "rb+") as file:
        content = file.read()
        complete = content[: content.rfind(b"\n") + 1]
        file.truncate(len(complete))
    lines = complete.decode().splitlines()
    if not lines or lines[0] != beginning:
        sys.exit(f"{journal}:1: was begun for another list, with other options, or by another version; name another file")
    return {json.loads(line)["position"] for line in lines[1:]}


def known_program():
    """The program on the path, else the one built in the source tree."""
    return shutil.which("pulsewright") or str(pathlib.Path(__file__).resolve().parents[1] / "build" / "pulsewright")


def work_on(path, name, options):
    import pulsewright

    return pulsewright.work_on(path, name, options)


def main():
    parser = argparse.ArgumentParser(description=__doc__, allow_abbrev=False,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--journal", required=True, metavar="FILE.jsonl")
    parser.add_argument("--scheduler", metavar="ADDRESS", help="of a running Dask scheduler; default: two workers here")
    parser.add_argument("--program", default=known_program(), metavar="FILE", help="pulsewright, to list the records")
    parser.add_argument("--retries", type=int, default=3, help="times that a record is tried again when its worker is lost (3)")
    arguments, batch = parser.parse_known_args()

    from distributed import Client, LocalCluster, as_completed

    beginning, jobs = listed(arguments.program, batch)
    done = positions_done(arguments.journal, beginning)
    left = [job for job in jobs if job["position"] not in done]
    local = None if arguments.scheduler else LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None)
    lost = []
    with Client(arguments.scheduler or local) as client, open(arguments.journal, "ab") as journal:
        futures = {
            client.submit(work_on, job["path"], job["file"], compact(job["options"]), pure=False,
                          retries=arguments.retries): job
            for job in left
        }
        for future in as_completed(futures):
            job = futures[future]
            if future.status != "finished":
                lost.append(job["file"])
                continue
            journal.write(f'{{"position":{job["position"]},"row":{future.result()}}}\n'.encode())
            journal.flush()
    if local:
        local.close()
    print(f"{len(left) - len(lost)} records done, {len(done)} were in the journal already", file=sys.stderr)
    for name in lost:
        print(f"{name}: lost with its worker {arguments.retries + 1} times", file=sys.stderr)
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
