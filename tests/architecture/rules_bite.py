"""Breaks every rule of architecture.py once in a scratch project and checks that the rule notices: a rule that cannot fail protects nothing.

usage: rules_bite.py ARCHITECTURE
"""

import pathlib
import subprocess
import sys
import tempfile

# rule: a file that breaks it, and what is wrong in it
BREACHES = {
    "stages_meet_through_public_headers": ("dsp/4_clean/clean.cpp", '#include "3_beats/threshold.hpp"\n'),
    "program_uses_public_headers_only": ("tools/rate.cpp", '#include "../dsp/3_beats/threshold.hpp"\n'),
    "tests_look_only_into_their_own_stage": ("tests/4_clean/clean_test.cpp", '#include "3_beats/threshold.hpp"\n'),
    "public_headers_need_nothing_but_the_standard_library": ("include/pulsewright/rate.hpp", "#include <Eigen/Core>\n"),
    "library_neither_prints_nor_exits_nor_touches_global_state": ("dsp/4_clean/clean.cpp", "void f() { std::cout << 1; }\n"),
    "rates_are_no_bare_numbers": ("include/pulsewright/rate.hpp", "void f(double fs);\n"),
    "one_wrapper_of_the_fourier_library": ("dsp/4_clean/clean.cpp", "#include <kissfft/kissfft.hh>\n"),
    "arithmetic_is_reproducible": ("CMakeLists.txt", "add_compile_options(-ffast-math)\n"),
    "functions_of_the_c_library_are_not_called": ("dsp/4_clean/clean.cpp", "double f(double x) { return std::log(x); }\n"),
    "top_level_is_as_designed": ("docs/index.md", "one folder too many\n"),
    "files_are_named_for_their_concept": ("dsp/4_clean/utils.cpp", "\n"),
    "nothing_is_left_for_later": ("dsp/4_clean/clean.cpp", "// " + "TO" + "DO: the rest\n"),
    "no_path_of_one_machine": ("tests/4_clean/clean_test.cpp", 'auto file = "' + "/home" + '/wren/clip.csv";\n'),
}

SOUND = {
    "CMakeLists.txt": "", "README.md": "", "DEVELOPERS.md": "", "LICENSE": "", ".ci/run": "", ".clang-format": "", ".clang-tidy": "",
    ".gitignore": "", "datasets/MANIFEST": "",
    "include/pulsewright/rate.hpp": '#include <vector>\n#include "pulsewright/units.hpp"\n', "include/pulsewright/units.hpp": "#include <cmath>\n",
    "dsp/3_beats/threshold.hpp": "", "dsp/3_beats/threshold.cpp": '#include "threshold.hpp"\n#include <kissfft/kissfft.hh>\n',
    "dsp/3_beats/ecg/steps.cpp": '#include "3_beats/threshold.hpp"\n',
    # words in comments and strings, and snprintf, are no printing
    "dsp/4_clean/clean.cpp": '// std::cout is not used\nauto s = "exit(1)"; int n = snprintf(nullptr, 0, "%d", 1);\n',
    "tools/main.cpp": "int main() {}\n", "tests/4_clean/clean_test.cpp": "", "tests/3_beats/threshold_test.cpp": '#include "3_beats/threshold.hpp"\n',
}


def broken(project, rule):
    return subprocess.run([sys.executable, sys.argv[1], project, rule], capture_output=True).returncode != 0


def write(project, file, text):
    path = pathlib.Path(project) / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)


rules = subprocess.run([sys.executable, sys.argv[1], ".", "list"], capture_output=True, text=True, check=True).stdout.split()
problems = [f"{rule} has no breach to notice" for rule in rules if rule not in BREACHES and rule != "files_are_short"]
for rule, (file, text) in BREACHES.items():
    with tempfile.TemporaryDirectory(prefix="pulsewright-rules-") as project:
        for name, content in SOUND.items():
            write(project, name, content)
        if broken(project, rule):
            problems.append(f"{rule} complains about a sound project")
        write(project, file, SOUND.get(file, "") + text)
        if not broken(project, rule):
            problems.append(f"{rule} does not notice {text!r} in {file}")
if problems:
    sys.exit("\n".join(problems))
