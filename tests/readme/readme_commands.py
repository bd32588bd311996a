"""Runs every command that the project's documents print in a ```sh block, exactly as printed, one block after the other, in a working copy of the project.

usage: readme_commands.py SOURCE WORKING_COPY BUILD [DOCUMENT...] [--fill]

The documents are README.md where none is named. Where a ```text block follows a ```sh block with nothing but a blank line between, it is what the
commands print on standard output; a last line `...` stands for any rest. --fill writes what they print into such blocks of the source, as many lines as stood
there. Links to files of the project have to lead somewhere.

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
BLOCK = re.compile(r"^```sh\n(.*?)^```$(?:\n\n```text\n(.*?)^```$)?", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"\]\(([^)#\s]+)(?:#[^)]*)?\)|(?:src|srcset)=\"([^\"]+)\"")
REST = "..."
KEPT = {"build"}  # taken care of by place_build


def blocks(document):
    """(line number, commands, what they print or None) of every ```sh block."""
    text = document.read_text()
    return [(text.count("\n", 0, found.start(1)) + 1, found.group(1), found.group(2)) for found in BLOCK.finditer(text)]


def dead_links(document):
    """Links to files of the project that are not there."""
    links = [link for pair in LINK.findall(document.read_text()) for link in pair if link]
    return [link for link in links if "://" not in link and not (document.parent / link).exists()]


def is_as_printed(expected, printed):
    expected, printed = expected.splitlines(), [line.rstrip() for line in printed.splitlines()]
    if expected and expected[-1] == REST:
        expected.pop()
        printed = printed[:len(expected)]
    return expected == printed


def fill(document, commands, expected, printed):
    """Puts what was printed in place of what stood there, cut where that was cut."""
    lines = [line.rstrip() for line in printed.splitlines()]
    if expected.splitlines()[-1:] == [REST]:
        lines = lines[:len(expected.splitlines()) - 1] + [REST]
    text = document.read_text()
    head = f"```sh\n{commands}```\n\n```text\n"
    document.write_text(text.replace(f"{head}{expected}```", head + "\n".join(lines) + "\n```"))


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


def run(document, source, copy, filling):
    """How many blocks of a document there are, and how many of them fail."""
    found = blocks(document)
    name = document.relative_to(source)
    failed = 0
    for link in dead_links(document):
        print(f"{name}: the link to {link} leads nowhere")
        failed += 1
    for line, text, expected in found:
        if any(command.strip().split(" ")[0] == LEFT_OUT for command in text.splitlines()):
            if text.strip() != LEFT_OUT:
                sys.exit(f"{name}:{line}: {LEFT_OUT} must stand alone in its block, because it is left out")
            print(f"{name}:{line}: {LEFT_OUT}: not run here, since it is what runs this")
            if not os.environ.get("PULSEWRIGHT_LONG"):
                continue
            text = INSTEAD
        print(f"{name}:{line}: {text.strip()}", flush=True)
        done = subprocess.run(["bash", "-euo", "pipefail", "-c", text], cwd=copy, env=environment(source, copy), stdin=subprocess.DEVNULL,
                              stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, errors="replace")
        print(done.stdout + done.stderr, flush=True)
        if done.returncode != 0:
            print(f"{name}:{line}: ended with {done.returncode}", flush=True)
            failed += 1
        elif expected is not None and not is_as_printed(expected, done.stdout):
            if filling:
                fill(document, text, expected, done.stdout)
            else:
                print(f"{name}:{line}: does not print what the document says:\n{expected}", flush=True)
                failed += 1
    return len(found), failed


def main():
    filling = "--fill" in sys.argv
    source, copy, build, *names = [argument for argument in sys.argv[1:] if argument != "--fill"]
    source, copy = pathlib.Path(source).resolve(), pathlib.Path(copy)
    copy.mkdir(parents=True, exist_ok=True)
    bring_up_to_date(source, copy)
    place_build(copy, pathlib.Path(build).resolve())
    count = failed = 0
    for name in names or ["README.md"]:
        blocks_there, faults = run(source / name, source, copy, filling)
        if not blocks_there:
            sys.exit(f"{name} has no ```sh block")
        count += blocks_there
        failed += faults
    if failed:
        sys.exit(f"{failed} of {count} blocks of {', '.join(names) or 'README.md'} fail")


if __name__ == "__main__":
    main()
