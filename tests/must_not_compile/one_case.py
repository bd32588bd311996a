"""Compiles one case twice: as the control, which must compile, and without it, where the compiler must refuse the marked line for the reason
stated. So a case can pass neither because of a typing error nor because of another error elsewhere.

usage: one_case.py COMPILER INCLUDE CASE

A case is a small C++ file with a control under `#ifdef CONTROL`, one line marked `// refused`, and a line `// words:` that lists what the
compiler's first error, or its notes, must speak of.
"""

import re
import subprocess
import sys

COMPILER, INCLUDE, CASE = sys.argv[1:4]


# The message must name the types by itself, not by quoting the source.
PLAIN = {"g++": ["-fno-diagnostics-show-caret", "-fdiagnostics-color=never"],
         "clang++": ["-fno-caret-diagnostics", "-fno-color-diagnostics"]}


def compile_case(*definitions):
    done = subprocess.run([COMPILER, "-std=c++20", "-fsyntax-only", *PLAIN[COMPILER], "-I", INCLUDE, *definitions, CASE], text=True,
                          capture_output=True)
    return done.returncode, done.stdout + done.stderr


with open(CASE) as file:
    lines = file.read().splitlines()
marked = [number for number, line in enumerate(lines, 1) if line.endswith("// refused")]
words = next((line.partition(":")[2].split() for line in lines if line.startswith("// words:")), [])
if len(marked) != 1 or not words:
    sys.exit(f"{CASE}: one line marked `// refused` and a line `// words:` are needed")

code, said = compile_case("-DCONTROL")
if code != 0:
    sys.exit(f"the control does not compile, so the case shows nothing:\n{said}")

code, said = compile_case()
if code == 0:
    sys.exit(f"line {marked[0]} compiles: {lines[marked[0] - 1]}")

errors = re.findall(r"^(\S+?):(\d+):\d+: (?:fatal )?error:", said, re.MULTILINE)
elsewhere = [f"{file}:{line}" for file, line in errors if not (file == CASE and int(line) == marked[0])]
if elsewhere or not errors:
    sys.exit(f"the compiler stumbled elsewhere than line {marked[0]}:\n{said}")
silent = [word for word in words if word not in said]
if silent:
    sys.exit(f"the compiler refused the line without speaking of {', '.join(silent)}:\n{said}")
