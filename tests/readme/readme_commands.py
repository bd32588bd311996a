"""Runs every command that a Markdown file prints in a ```sh block, exactly as printed, one block after the other, in a working copy of the project.

usage: readme_commands.py SOURCE WORKING_COPY BUILD

The working copy is made, or brought up to date, from the project's files; results of an earlier run are removed from it. Its build/ is a link to BUILD, so
that what was built is not built again; with PULSEWRIGHT_LONG set it is a folder of its own, empty at first, as in a fresh checkout. HOME is a folder
beside the working copy, and PULSEWRIGHT_DATA is where the project finds open recordings, if it does.

One command is left out and named: ./tests/run.sh, which runs this very check; in a fresh build folder the Python module is built in its place.
"""

import filecmp
import os
import pathlib
import re
import shutil
import subprocess
import sys

LEFT_OUT = "./tests/run.sh"
# What later commands need of it, where nothing was built before.
INSTEAD = "cmake -S . -B build -G Ninja -DPULSEWRIGHT_PYTHON=ON && cmake --build build --target pulsewright_python"
BLOCK = re.compile(r"^```sh\n(.*?)^```$", re.MULTILINE | re.DOTALL)
KEPT = {"build"}  # taken care of by place_build


def blocks(document):
    """(line number, text) of every ```sh block."""
    text = document.read_text()
    return [(text.count("\n", 0, found.start(1)) + 1, found.group(1)) for found in BLOCK.finditer(text)]


def bring_up_to_date(source, copy):
    names = set()
    if shutil.which("git"):
        listed = subprocess.run(["git", "-C", source, "ls-files", "-z", "--cached", "--others", "--exclude-standard"], capture_output=True,
                                text=True)
        names = {name for name in listed.stdout.split("\0") if name and (source / name).is_file()}
    if not names:  # no git, or no repository
        names = {str(path.relative_to(source)) for path in source.rglob("*")
                 if path.is_file() and not re.match(r"build|results", str(path.relative_to(source)))}
    for path in sorted(copy.rglob("*"), reverse=True):
        name = path.relative_to(copy)
        if name.parts[0] in KEPT:
            continue
        if path.is_dir() and not path.is_symlink():
            if not any(path.iterdir()):
                path.rmdir()
        elif str(name) not in names:
            path.unlink()
    for name in names:
        target = copy / name
        if not target.is_file() or not filecmp.cmp(source / name, target, shallow=False):
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(source / name, target)


def place_build(copy, build):
    place = copy / "build"
    if place.is_symlink():
        place.unlink()
    elif place.is_dir():
        shutil.rmtree(place)
    if not os.environ.get("PULSEWRIGHT_LONG"):
        place.symlink_to(build, target_is_directory=True)


def environment(source, copy):
    result = dict(os.environ, HOME=str(copy.parent / "home"))
    data = pathlib.Path(result.get("PULSEWRIGHT_DATA") or source.parent / "shared" / "datasets")
    if data.is_dir():
        result["PULSEWRIGHT_DATA"] = str(data.resolve())
    os.makedirs(result["HOME"], exist_ok=True)
    return result


def main():
    source = pathlib.Path(sys.argv[1]).resolve()
    copy = pathlib.Path(sys.argv[2])
    document = source / "README.md"
    copy.mkdir(parents=True, exist_ok=True)
    bring_up_to_date(source, copy)
    place_build(copy, pathlib.Path(sys.argv[3]).resolve())
    found = blocks(document)
    if not found:
        sys.exit(f"{document.name} has no ```sh block")
    failed = 0
    for line, text in found:
        if any(command.strip().split(" ")[0] == LEFT_OUT for command in text.splitlines()):
            if text.strip() != LEFT_OUT:
                sys.exit(f"{document.name}:{line}: {LEFT_OUT} must stand alone in its block, because it is left out")
            print(f"{document.name}:{line}: {LEFT_OUT}: not run here, since it is what runs this")
            if not os.environ.get("PULSEWRIGHT_LONG"):
                continue
            text = INSTEAD
        print(f"{document.name}:{line}: {text.strip()}", flush=True)
        done = subprocess.run(["bash", "-euo", "pipefail", "-c", text], cwd=copy, env=environment(source, copy), stdin=subprocess.DEVNULL,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace")
        print(done.stdout, flush=True)
        if done.returncode != 0:
            print(f"{document.name}:{line}: ended with {done.returncode}", flush=True)
            failed += 1
    if failed:
        sys.exit(f"{failed} of {len(found)} blocks of {document.name} fail")


if __name__ == "__main__":
    main()
