"""Installs a build into a scratch folder, moves it, and lets a project that knows only the installed files find, link and run it.

usage: installed_library.py CMAKE BUILD SOURCE COMPILER
"""

import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

CMAKE, BUILD, SOURCE, COMPILER = sys.argv[1:5]
# Eight intervals whose mean is 800 ms, none far from its neighbours: 60000 / 800 = 75 beats/min.
INTERVALS = "800 805 810 805 800 795 790 795\n"
EXPECTED = ": 75.000 beats/min"


def run(*command, **options):
    done = subprocess.run([str(part) for part in command], text=True, capture_output=True, **options)
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}\nended with {done.returncode}\n{done.stdout}\n{done.stderr}")
    return done.stdout


with tempfile.TemporaryDirectory(prefix="pulsewright-install-") as scratch:
    scratch = pathlib.Path(scratch)
    run(CMAKE, "--install", BUILD, "--prefix", scratch / "first")
    prefix = (scratch / "first").rename(scratch / "moved")

    for path in prefix.rglob("*.cmake"):
        for absent in (SOURCE, BUILD, scratch / "first"):
            if str(absent) in path.read_text():
                sys.exit(f"{path.relative_to(prefix)} names {absent}: the installed files only work on this machine")

    # The project and, as a second program of it, what README shows.
    consumer = scratch / "consumer"
    shutil.copytree(pathlib.Path(SOURCE) / "tests/install/consumer", consumer)
    shown = re.search(r"^```cpp\n(.*?)^```$", (pathlib.Path(SOURCE) / "README.md").read_text(), re.MULTILINE | re.DOTALL)
    (consumer / "of_readme.cpp").write_text(shown.group(1))
    with open(consumer / "CMakeLists.txt", "a") as project:
        project.write("add_executable(of_readme of_readme.cpp)\ntarget_link_libraries(of_readme PRIVATE pulsewright::pulsewright)\n")
    run(CMAKE, "-S", consumer, "-B", scratch / "build", "-G", "Ninja", f"-DCMAKE_PREFIX_PATH={prefix}",
        f"-DCMAKE_CXX_COMPILER={COMPILER}", "-DCMAKE_BUILD_TYPE=Release")
    found = run(CMAKE, "-L", "-N", "-B", scratch / "build")
    if f"pulsewright_DIR:PATH={prefix}" not in found:
        sys.exit(f"find_package found another pulsewright than the one just installed:\n{found}")
    run(CMAKE, "--build", scratch / "build")

    (scratch / "intervals.txt").write_text(INTERVALS)
    printed = run(scratch / "build/club_timer", scratch / "intervals.txt")
    if EXPECTED not in printed:
        sys.exit(f"the consumer printed {printed!r}, not {EXPECTED!r}")

    printed = run(scratch / "build/of_readme", cwd=SOURCE)
    if not printed.startswith("Effort of wren in wren_stair_climb.csv"):
        sys.exit(f"README's program printed {printed!r}")

    printed = run(prefix / "bin/pulsewright", "--version")
    if not printed.strip():
        sys.exit("the installed program prints no version")
