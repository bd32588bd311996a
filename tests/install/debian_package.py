"""Makes the Debian packages and checks what is in them, what they say of themselves, and that the program in them runs, is told of by man and completed by bash.

usage: debian_package.py CPACK BUILD SOURCE
"""

import gzip
import pathlib
import subprocess
import sys
import tempfile

CPACK, BUILD, SOURCE = sys.argv[1:4]
source = pathlib.Path(SOURCE)


def run(*command, **options):
    done = subprocess.run([str(part) for part in command], text=True, capture_output=True, **options)
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}\nended with {done.returncode}\n{done.stdout}\n{done.stderr}")
    return done.stdout


# Files of each package; the folder of libraries, whose name differs between machines, is usr/lib/.
EXPECTED = {
    "pulsewright":
        {"usr/bin/pulsewright", "usr/share/man/man1/pulsewright.1.gz", "usr/share/bash-completion/completions/pulsewright",
         "usr/share/zsh/vendor-completions/_pulsewright", "usr/share/fish/vendor_completions.d/pulsewright.fish"}
        | {f"usr/share/doc/pulsewright/{name}" for name in ("README.md", "CONTRACT.md", "copyright", "changelog.gz")}
        | {f"usr/share/pulsewright/schema/{schema.name}" for schema in (source / "tools/schema").glob("*.json")},
    "libpulsewright-dev":
        {f"usr/include/pulsewright/{header.name}" for header in (source / "include/pulsewright").glob("*.hpp")}
        | {f"usr/share/doc/libpulsewright-dev/{name}" for name in ("DEVELOPERS.md", "copyright")}
        | {"usr/lib/libpulsewright.a"}
        | {f"usr/lib/cmake/pulsewright/{name}" for name in (
            "FindEDFlib.cmake", "pulsewrightConfig.cmake", "pulsewrightConfigVersion.cmake", "pulsewrightTargets.cmake",
            "pulsewrightTargets-*.cmake")},
}
SECTIONS = {"pulsewright": "science", "libpulsewright-dev": "libdevel"}
problems = []


def field(package, name):
    return run("dpkg-deb", "-f", package, name).strip()


def check_files(name, package):
    files = set()
    for line in run("dpkg-deb", "-c", package).splitlines():
        mode, owner, _, _, _, path = line.split(maxsplit=5)
        if owner != "root/root":
            problems.append(f"{path} belongs to {owner}")
        if mode.startswith("d"):
            if mode != "drwxr-xr-x":
                problems.append(f"{path} has mode {mode}")
            continue
        path = path.removeprefix("./")
        if path.startswith("usr/lib"):
            path = "usr/lib/" + (path[path.index("cmake/"):] if "cmake/" in path else pathlib.Path(path).name)
        if "Targets-" in path:
            path = "usr/lib/cmake/pulsewright/pulsewrightTargets-*.cmake"
        files.add(path)
    problems.extend(f"{path} is not in {name}" for path in sorted(EXPECTED[name] - files))
    problems.extend(f"{path} is in {name} and nobody expects it" for path in sorted(files - EXPECTED[name]))


def check_program(package, unpacked):
    program = unpacked / "usr/bin/pulsewright"
    depends = {entry.split()[0] for entry in field(package, "Depends").split(",")}
    for line in run("objdump", "-p", program).splitlines():
        if line.split()[:1] == ["NEEDED"]:
            library = line.split()[1]
            owners = {found.split(":")[0] for found in run("dpkg-query", "-S", library).splitlines()}
            if not owners & depends:
                problems.append(f"the program needs {library}, and the package does not depend on {' or '.join(sorted(owners))}")
    if not run(program, "--version").strip():
        problems.append("the program in it prints no version")
    manual = gzip.decompress((unpacked / "usr/share/man/man1/pulsewright.1.gz").read_bytes()).decode()
    help_text = run(program, "--help")
    for command in ("inspect", "beats", "class", "compare", "batch"):
        if f".SS pulsewright {command}" not in manual or command not in help_text:
            problems.append(f"the manual page says nothing of {command}")
    script = unpacked / "usr/share/bash-completion/completions/pulsewright"
    offered = run("bash", "-c", f"source {script}; COMP_WORDS=(pulsewright beats x --kind ''); COMP_CWORD=4; _pulsewright; echo ${{COMPREPLY[@]}}")
    if offered.split() != ["auto", "ecg", "pulse"]:
        problems.append(f"bash offers {offered.split()} for --kind")
    offered = run("bash", "-c", f"source {script}; COMP_WORDS=(pulsewright comp); COMP_CWORD=1; _pulsewright; echo ${{COMPREPLY[@]}}")
    if offered.split() != ["compare"]:
        problems.append(f"bash completes comp to {offered.split()}")


with tempfile.TemporaryDirectory(prefix="pulsewright-package-") as scratch:
    scratch = pathlib.Path(scratch)
    run(CPACK, "-G", "DEB", "--config", pathlib.Path(BUILD) / "CPackConfig.cmake", "-B", scratch)
    packages = {field(package, "Package"): package for package in scratch.glob("*.deb")}
    if set(packages) != set(EXPECTED):
        sys.exit(f"cpack made {sorted(packages)} instead of {sorted(EXPECTED)}")
    for name, package in packages.items():
        check_files(name, package)
        if field(package, "Section") != SECTIONS[name]:
            problems.append(f"the section of {name} is {field(package, 'Section')!r}")
        if "Not a medical device" not in field(package, "Description").replace("\n ", " "):
            problems.append(f"the description of {name} lacks the caution")
        run("dpkg-deb", "-x", package, scratch / name)
    if not problems:
        check_program(packages["pulsewright"], scratch / "pulsewright")
    if problems:
        sys.exit("\n".join(problems))
