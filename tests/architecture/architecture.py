"""Checks one rule of the project's layout over its source files, and names every place that breaks it.

usage: architecture.py SOURCE RULE        (`architecture.py SOURCE list` lists the rules)
"""

import pathlib
import re
import shutil
import subprocess
import sys

SOURCE = pathlib.Path(sys.argv[1])
CPP = {".cpp", ".hpp"}
BUILD_FOLDERS = re.compile(r"^(build[^/]*|results)(/|$)")


def project_files():
    """Every file of the project, relative to its root: what git tracks or would track, else what lies there but build folders."""
    names = []
    if shutil.which("git"):
        listed = subprocess.run(["git", "-C", SOURCE, "ls-files", "-z", "--cached", "--others", "--exclude-standard"], capture_output=True,
                                text=True)
        names = [name for name in listed.stdout.split("\0") if name]
    if not names:  # no git, or no repository
        names = [str(path.relative_to(SOURCE)) for path in SOURCE.rglob("*") if path.is_file()]
        names = [name for name in names if not BUILD_FOLDERS.match(name) and not name.startswith(".git/")]
    return sorted(pathlib.PurePosixPath(name) for name in names if (SOURCE / name).is_file())


FILES = project_files()


def in_folder(*folders, suffixes=CPP):
    return [file for file in FILES if file.parts[0] in folders and file.suffix in suffixes]


def text_of(file):
    try:
        return (SOURCE / file).read_text()
    except UnicodeDecodeError:
        return ""  # a recording, an image: no source


def code_of(file):
    """The text of a C++ file with comments and string contents blanked out, lines kept."""
    def blank(match):
        kept = re.sub(r"[^\n]", " ", match.group())
        return '""' + kept[2:] if match.group().startswith('"') else kept
    return re.sub(r'//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"', blank, text_of(file), flags=re.DOTALL)


def places(files, pattern, read=text_of):
    for file in files:
        for number, line in enumerate(read(file).splitlines(), 1):
            found = re.search(pattern, line)
            if found:
                yield file, number, found


def includes(files):
    """(file, line, spelled path) of every #include with quotes."""
    for file, number, found in places(files, r'^\s*#\s*include\s+"([^"]+)"'):
        yield file, number, found.group(1)


def stages_meet_through_public_headers():
    """A stage's private headers are included only from its own folder."""
    shared = {"elementary/elementary.hpp", "dense_solve.hpp"}  # arithmetic for every stage
    for file, number, path in includes(in_folder("dsp")):
        if path.startswith("pulsewright/"):
            continue
        stage = file.parts[1] if len(file.parts) > 2 else None
        beside = "/" not in path and (SOURCE / file.parent / path).is_file()
        within = path.split("/")[0] == stage and ".." not in path and (SOURCE / "dsp" / path).is_file()
        if path not in shared and (not stage or not (beside or within)):
            yield f"{file}:{number}: {path} is no public header and not of this stage"


def program_uses_public_headers_only():
    """tools/ includes the library's public headers and its own files, nothing of dsp/."""
    for file, number, path in includes(in_folder("tools")):
        own = any((SOURCE / folder / path).is_file() for folder in (file.parent, "tools"))
        if not path.startswith("pulsewright/") and not own:
            yield f"{file}:{number}: {path} is no public header"
        if "dsp/" in path:
            yield f"{file}:{number}: {path} is private to a stage"


def tests_look_only_into_their_own_stage():
    """tests/ includes public headers, files of tests/, and private headers of the stage whose folder it mirrors."""
    for file, number, path in includes(in_folder("tests")):
        private = (SOURCE / "dsp" / path).is_file() and not (SOURCE / "tests" / path).is_file()
        if "dsp/" in path or (private and path.split("/")[0] != file.parts[1]):
            yield f"{file}:{number}: {path} is private to another stage"


def public_headers_need_nothing_but_the_standard_library():
    """A consumer of the installed headers needs no other library's headers."""
    for file, number, found in places(in_folder("include"), r'^\s*#\s*include\s+([<"])([^>"]+)[>"]'):
        bracket, path = found.groups()
        own = bracket == '"' and path.startswith("pulsewright/") and (SOURCE / "include" / path).is_file()
        if not own and not (bracket == "<" and re.fullmatch(r"[a-z_0-9]+", path)):
            yield f"{file}:{number}: {path}"


def library_neither_prints_nor_exits_nor_touches_global_state():
    """dsp/ and include/ leave the terminal, the process, the locale and the environment alone."""
    pattern = (r"\bstd::(cout|cerr|clog|cin)\b|(?<![\w.])(?:std::)?(printf|fprintf|vprintf|puts|fputs|putchar|perror)\s*\(|"
               r"\bfmt::print\b|(?<![\w.:])(?:std::)?(exit|_exit|quick_exit|abort|terminate)\s*\(|"
               r"\b(setlocale|localeconv|getenv|setenv|putenv|srand|signal|chdir|umask)\s*\(|\bstd::locale::global\b|(?<!\w)std::rand\s*\(|"
               r"\b(system_clock|random_device)\b")
    for file, number, found in places(in_folder("dsp", "include"), pattern, code_of):
        yield f"{file}:{number}: {found.group().strip()}"


def rates_are_no_bare_numbers():
    """A sampling rate, a time or a heart rate in a public header has its type."""
    for file, number, found in places(in_folder("include"), r"\b(?:double|float|int)\s+(fs|rate|sampling_rate|sample_rate|hz|bpm|seconds)\b(?!\()",
                                      code_of):
        yield f"{file}:{number}: {found.group()}"


def one_wrapper_of_the_fourier_library():
    """KissFFT is included in one place."""
    users = [f"{file}:{number}" for file, number, _ in places(in_folder("dsp", "include", "tools"), r'#\s*include\s+[<"]kissfft')]
    if len(users) > 1:
        yield f"included in {', '.join(users)}"


def arithmetic_is_reproducible():
    """No fast-math, no tuning to the machine at hand, no contraction."""
    build_files = [file for file in FILES if file.name == "CMakeLists.txt" or file.suffix == ".cmake"]
    pattern = r"-ffast-math|-Ofast|-march=native|-mtune=native|-funsafe-math|-ffp-contract=(?!off)|-mfma"
    for file, number, found in places(build_files + in_folder("dsp", "include", "tools"), pattern):
        yield f"{file}:{number}: {found.group()}"


def functions_of_the_c_library_are_not_called():
    """Logarithms, exponentials, angles and roots of complex numbers come from dsp/elementary/, the same on every processor."""
    names = (r"(?:log|log2|log10|log1p|exp|exp2|expm1|pow|sin|cos|tan|asin|acos|atan|atan2|sinh|cosh|tanh|asinh|acosh|atanh|erf|"
             r"erfc|hypot|cbrt|lgamma|tgamma|beta|polar|fma)[fl]?\s*\(")
    standard = rf"(?<!\w)(?:std::|::){names}"
    unqualified_or_eigen = rf"|(?<![\w.:>]){names}|\.(?:exp|log|log10|pow|sin|cos|tanh)\(\)"
    for file in in_folder("dsp", "include"):
        own = file.parts[:2] == ("dsp", "elementary")
        for _, number, found in places([file], standard if own else standard + unqualified_or_eigen, code_of):
            yield f"{file}:{number}: {found.group().strip()}"


def top_level_is_as_designed():
    """The top level holds the folders of the design and no others."""
    folders = {"include", "dsp", "tools", "tests", "datasets", "notebooks"}
    files = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE"}
    hidden = {".ci", ".clang-format", ".clang-tidy", ".gitignore"}
    there = {file.parts[0] for file in FILES}
    for name in sorted(there - folders - files - hidden):
        yield f"{name} is at the top level and nobody expects it there"
    for name in sorted((folders - {"notebooks"} | files | hidden) - there):
        yield f"{name} is missing at the top level"


def files_are_named_for_their_concept():
    """No utils, common, helpers, misc."""
    for file in FILES:
        if re.search(r"(^|[/_])(utils?|common|helpers?|misc|stuff)([/_.]|$)", str(file)):
            yield f"{file}"


def nothing_is_left_for_later():
    """No bare to-do marks."""
    marks = "|".join(("TO" + "DO", "FIX" + "ME", "XX" + "X"))
    for file, number, found in places([file for file in FILES if file.suffix in CPP | {".py", ".sh", ".md", ".txt", ".cmake"}], rf"\b({marks})\b"):
        yield f"{file}:{number}: {found.group()}"


def no_path_of_one_machine():
    """Nothing names a folder that exists on one machine only."""
    pattern = r"(?<![\w.$}/])/(work|home|root|Users|mnt|srv)/\w"
    for file, number, found in places(FILES, pattern):
        yield f"{file}:{number}: {found.group()}"


def files_are_short():
    """A source file over 400 lines probably holds two concepts. This warns and never fails."""
    for file in in_folder("dsp", "include", "tools", "tests", suffixes=CPP | {".py", ".sh"}):
        length = len(text_of(file).splitlines())
        if length > 400:
            print(f"warning: {file} has {length} lines")
    return []


RULES = [stages_meet_through_public_headers, program_uses_public_headers_only, tests_look_only_into_their_own_stage,
         public_headers_need_nothing_but_the_standard_library, library_neither_prints_nor_exits_nor_touches_global_state,
         rates_are_no_bare_numbers, one_wrapper_of_the_fourier_library, arithmetic_is_reproducible,
         functions_of_the_c_library_are_not_called, top_level_is_as_designed, files_are_named_for_their_concept, nothing_is_left_for_later, no_path_of_one_machine, files_are_short]

if __name__ == "__main__":
    rules = {rule.__name__: rule for rule in RULES}
    if sys.argv[2] == "list":
        print("\n".join(rules))
    else:
        broken = list(rules[sys.argv[2]]())
        if broken:
            sys.exit(f"{rules[sys.argv[2]].__doc__}\n" + "\n".join(broken))
