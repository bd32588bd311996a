"""Checks that the program has a random place in memory, read-only address tables and no executable stack.

usage: hardened_program.py PROGRAM
"""

import re
import subprocess
import sys

header, dynamic = (subprocess.run(["readelf", option, sys.argv[1]], text=True, capture_output=True, check=True).stdout for option in ("-lW", "-dW"))
rules = {
    "is no position-independent executable": "DYN (" in header,
    "has address tables that can be written": "GNU_RELRO" in header,
    "binds addresses while it runs": "BIND_NOW" in dynamic or re.search(r"FLAGS_1.*NOW", dynamic),
    "has an executable stack": re.search(r"GNU_STACK\s.*\sRW\s", header),
}
problems = [f"the program {what}" for what, held in rules.items() if not held]
sys.exit("\n".join(problems) or 0)
