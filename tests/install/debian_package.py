"""Makes the Debian package and checks what is in it, what it says of itself, and that the program in it runs.

usage: debian_package.py CPACK BUILD SOURCE
"""

import pathlib
import subprocess
import sys
import tempfile

CPACK, BUILD, SOURCE = sys.argv[1:4]


def run(*command, **options):
    done = subprocess.run([str(part) for part in command], text=True, capture_output=True, **options)
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}\nended with {done.returncode}\n{done.stdout}\n{done.stderr}")
    return done.stdout


def expected_files():
    """Files of the package without those under the library folder, whose name differs between machines."""
    source = pathlib.Path(SOURCE)
    files = {"usr/bin/pulsewright"}
    files |= {f"usr/include/pulsewright/{header.name}" for header in (source / "include/pulsewright").glob("*.hpp")}
    files |= {f"usr/share/doc/pulsewright/{name}" for name in ("README.md", "DEVELOPERS.md", "CONTRACT.md", "copyright")}
    files |= {f"usr/share/pulsewright/schema/{schema.name}" for schema in (source / "tools/schema").glob("*.json")}
    return files


LIBRARY_FILES = {
    "libpulsewright.a",
    "cmake/pulsewright/FindEDFlib.cmake",
    "cmake/pulsewright/pulsewrightConfig.cmake",
    "cmake/pulsewright/pulsewrightConfigVersion.cmake",
    "cmake/pulsewright/pulsewrightTargets.cmake",
    "cmake/pulsewright/pulsewrightTargets-*.cmake",
}

with tempfile.TemporaryDirectory(prefix="pulsewright-package-") as scratch:
    scratch = pathlib.Path(scratch)
    run(CPACK, "-G", "DEB", "--config", pathlib.Path(BUILD) / "CPackConfig.cmake", "-B", scratch)
    packages = list(scratch.glob("*.deb"))
    if len(packages) != 1:
        sys.exit(f"cpack made {len(packages)} packages instead of one")

    problems = []
    files = set()
    library_files = set()
    for line in run("dpkg-deb", "-c", packages[0]).splitlines():
        mode, owner, _, _, _, name = line.split(maxsplit=5)
        if owner != "root/root":
            problems.append(f"{name} belongs to {owner}")
        if mode.startswith("d"):
            if mode != "drwxr-xr-x":
                problems.append(f"{name} has mode {mode}")
            continue
        name = name.removeprefix("./")
        if name.startswith("usr/lib"):
            name = name.partition("/libpulsewright.a")[1].lstrip("/") or "cmake/" + name.partition("/cmake/")[2]
            if "Targets-" in name:
                name = "cmake/pulsewright/pulsewrightTargets-*.cmake"
            library_files.add(name)
        else:
            files.add(name)
    for name in sorted(expected_files() - files) + sorted(LIBRARY_FILES - library_files):
        problems.append(f"{name} is not in the package")
    for name in sorted(files - expected_files()) + sorted(library_files - LIBRARY_FILES):
        problems.append(f"{name} is in the package and nobody expects it")

    def field(name):
        return run("dpkg-deb", "-f", packages[0], name).strip()

    if field("Package") != "pulsewright":
        problems.append(f"the package is called {field('Package')!r}")
    if field("Section") != "science":
        problems.append(f"its section is {field('Section')!r}")
    if "Not a medical device" not in field("Description").replace("\n ", " "):
        problems.append("its description lacks the caution")

    run("dpkg-deb", "-x", packages[0], scratch / "unpacked")
    program = scratch / "unpacked/usr/bin/pulsewright"
    depends = {entry.split()[0] for entry in field("Depends").split(",")}
    for line in run("objdump", "-p", program).splitlines():
        if line.split()[:1] == ["NEEDED"]:
            library = line.split()[1]
            owners = {found.split(":")[0] for found in run("dpkg-query", "-S", library).splitlines()}
            if not owners & depends:
                problems.append(f"the program needs {library}, and the package does not depend on {' or '.join(sorted(owners))}")

    printed = run(program, "--version")
    if not printed.strip():
        problems.append("the program in it prints no version")

    if problems:
        sys.exit("\n".join(problems))
