#!/usr/bin/env python3
"""Takes each constant and rule of the ECG detector out once, and says what the development records lose.

    cmake --build build --target pulsewright
    python3 tests/accuracy/ablate_ecg.py DATA [RULE ...] > tests/accuracy/ecg_ablation.md

The sources that hold the constants are compiled aside with the constants read from the environment, and
linked before the library; nothing in the tree or in build/ changes. For each rule of RULES one constant
(or some) is set to the value at which it does nothing, or, where a constant cannot be without a value,
to half and to twice of it. Scored are the development records of the MIT-BIH Arrhythmia Database, first
signal and all signals fused, and the Noise Stress Test records, pooled: DER in per cent.
"""
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

SOURCE = pathlib.Path(__file__).resolve().parents[2]
BUILD = SOURCE / "build"
STAGE = SOURCE / "dsp" / "3_beats"
NEVER, ALWAYS = "1e30", "-1e30"

# What is taken out: its name, the constants set, and to what. "x0.5" is half of what it is.
RULES = [
    ("candidates too faint are dropped", {"detection_passes.faintest": ALWAYS}),
    ("candidates that no shape can save are dropped", {"detection_passes.hopeless": ALWAYS}),
    ("closest candidates, half", {"ecg_candidates.closest_candidates": "x0.5"}),
    ("closest candidates, twice", {"ecg_candidates.closest_candidates": "x2"}),
    ("breadth is taken near by", {"ecg_candidates.breadth_reach": "0"}),
    ("background window, half", {"ecg_candidates.background_window": "x0.5"}),
    ("background window, twice", {"ecg_candidates.background_window": "x2"}),
    ("neighbours before compete", {"ecg_candidates.look_back": "0"}),
    ("neighbours after compete", {"ecg_candidates.look_ahead": "0"}),
    ("neighbours no further than a share of the interval", {"ecg_candidates.neighbour_share": NEVER}),
    ("first guess: share of the usual, half", {"ecg_candidates.first_share": "x0.5"}),
    ("first guess: usual over 16 s instead of 8", {"ecg_candidates.first_reach_s": "x2"}),
    ("first guess: spacing", {"ecg_candidates.first_spacing": "0"}),
    ("first guess: T waves", {"ecg_candidates.first_repolarisation": "0"}),
    ("usual amplitude by delay no further than 0.75 s: half", {"ecg_context.longest_delay": "x0.5"}),
    ("usual amplitude by delay: for 20 beats instead of 40", {"ecg_context.beats_served": "x0.5"}),
    ("usual amplitude by delay: median instead of an upper quantile", {"ecg_context.usual_quantile": "0.5"}),
    ("usual amplitude by delay: margin before the next beat", {"ecg_context.beat_margin": "0"}),
    ("usual amplitude by delay: slack", {"ecg_context.delay_slack": "0"}),
    ("level of 24 beats to either side instead of 12", {"ecg_level.reach": "x2"}),
    ("level of 6 beats to either side instead of 12", {"ecg_level.reach": "x0.5"}),
    ("search in strong noise", {"ecg_in_noise.noise_from": NEVER}),
    ("noise: at once instead of by degrees", {"ecg_in_noise.noise_blend": "1e-6"}),
    ("noise: not where beats are their own background", {"ecg_in_noise.own_background": "0"}),
    ("noise: templates from sure beats", {"ecg_in_noise.sure_log_odds": ALWAYS}),
    ("noise: from so many at least", {"ecg_in_noise.enough": "0"}),
    ("noise: same complex, 0.7", {"ecg_in_noise.same_complex": "0.7"}),
    ("noise: same complex, 0.9", {"ecg_in_noise.same_complex": "0.9"}),
    ("noise: strength around, half", {"ecg_in_noise.strength_reach": "x0.5"}),
    ("noise: tried to either side", {"ecg_in_noise.try_reach": "0"}),
    ("noise: other complexes compete", {"ecg_in_noise.beside_reach": "0"}),
    ("noise: candidate near a peak stands for it", {"ecg_in_noise.same_place": "0"}),
    ("noise: clear match keeps a candidate", {"ecg_in_noise.clear_match": NEVER}),
    ("other moments of a complex are dropped", {"ecg_judge.same_complex": "0"}),
    ("quiet backgrounds are told from others", {"ecg_score.quiet": ALWAYS}),
    ("noise level counts at most so much", {"ecg_score.loudest": NEVER}),
    ("shapes: coarser grid", {"ecg_shapes.grid": "x2"}),
    ("steps: level to either side", {"ecg_shapes.tiny": NEVER}),
    ("out of the question: half", {"ecg_shapes.out_of_question": "x0.5"}),
    ("steps of the base line are taken out", {"ecg_steps.least_log_odds": NEVER, "ecg_steps.least_steepness": NEVER}),
    ("steps: dangerous ones only", {"ecg_steps.least_log_odds": ALWAYS}),
    ("steps: share of a wave", {"ecg_steps.most_wave": NEVER}),
    ("steps: least steepness", {"ecg_steps.least_steepness": "0"}),
    ("steps: those that fade", {"ecg_steps.most_still": "-1"}),
    ("steps: holding, half", {"ecg_steps.holds_for": "x0.5"}),
    ("likeness: length of a complex, half", {"ecg_templates.half_length": "x0.5"}),
    ("likeness: same shape, 0.8", {"ecg_templates.same_shape": "0.8"}),
    ("likeness: same shape, 0.95", {"ecg_templates.same_shape": "0.95"}),
    ("step after a gap fades", {"ecg_track.step_fading": "1e-3"}),
    ("cut-off complexes at the ends", {"find_ecg_beats.half_complex": "0"}),
    ("complexes too low for a heart", {"complex_size.lowest_mv": "0"}),
    ("complexes too narrow for a heart", {"complex_size.narrowest": "0"}),
    ("leads: events near each other are one, half", {"lead_events.same_event": "x0.5"}),
    ("leads: usual lag", {"lead_events.widest_lag": "0"}),
    ("leads: fewest pairs for a lag", {"lead_events.fewest_pairs": "1"}),
    ("leads: near enough counts in full", {"lead_events.near_enough": "0"}),
    ("leads: loss with distance", {"lead_events.loss_per_second": "0"}),
    ("leads: seen so far, half", {"lead_events.farthest": "x0.5"}),
    ("leads: a lead that shows nothing speaks against", {"lead_events.nothing_seen": "0"}),
    ("leads: known by 5 s instead of 10", {"lead_evidence.record_reach": "x0.5"}),
    ("leads: log-odds beyond a bound say no more", {"lead_evidence.most": NEVER}),
    ("leads: least share of wrong decisions", {"lead_evidence.least_share": "x0.1"}),
    ("leads: bound at first", {"lead_fusion.most_at_first": NEVER}),
    ("leads: moved to the best of the own lead", {"lead_fusion.one_complex": "0"}),
    ("bank: slowest update", {"template_bank.slowest_update": "0"}),
    ("bank: 8 templates instead of 24", {"template_bank.most_templates": "8"}),
    ("whitening: regular", {"whitening.regular": "0"}),
    ("path: crowded intervals pay", {"detection_passes.crowded": "0"}),
    ("path: crowded, a share of the rhythm", {"viterbi_path.crowded_share": NEVER}),
    ("path: early beats pay", {"detection_passes.early": "0"}),
    ("path: freedom of early beats", {"detection_passes.early_freedom": "0"}),
    ("path: late beats pay", {"detection_passes.late": "0"}),
    ("path: freedom of late beats", {"detection_passes.late_freedom": "0"}),
    ("path: a pause pays no more", {"detection_passes.most_late": NEVER}),
    ("path: freedom of irregular rhythms", {"detection_passes.irregular_freedom": "0"}),
    ("path: weight of the evidence", {"detection_passes.evidence": "1"}),
    ("path: something for a beat", {"detection_passes.for_a_beat": "0"}),
    ("path: rhythm of 16 intervals instead of 8", {"viterbi_path.rhythm_reach": "x2"}),
    ("path: longest pause, half", {"viterbi_path.longest_pause_s": "x0.5"}),
    ("path: late entry", {"viterbi_path.entry_reach_s": "0"}),
    ("path: certain candidates end the search", {"viterbi_path.certain_log_odds": NEVER}),
    ("path: until it stays", {"viterbi_path.most_passes": "1"}),
    ("path: irregular where nothing is known", {"viterbi_path.default_irregularity": "0"}),
    ("no heart: background", {"doubtful_stretches.drowned": NEVER}),
    ("no heart: unlike", {"doubtful_stretches.unlike": NEVER}),
    ("no heart: unmatched", {"doubtful_stretches.unmatched": NEVER}),
]

READ = """#pragma once
#include <cstdlib>
#include <string>
inline double pulsewright_ablated(const char* name, double value) {
  const char* set = std::getenv("PULSEWRIGHT_ABLATED");
  for (std::string rest = set ? set : ""; !rest.empty();) {
    const std::string one = rest.substr(0, rest.find(';'));
    rest = one.size() < rest.size() ? rest.substr(one.size() + 1) : "";
    if (one.substr(0, one.find('=')) != name) continue;
    const std::string to = one.substr(one.find('=') + 1);
    return to[0] == 'x' ? value * std::stod(to.substr(1)) : std::stod(to);
  }
  return value;
}
"""
NUMBER = r"-?\d[\d.e-]*"


def loosened(text, file, names):
    """The text of a source with the named constants read from the environment."""
    for name in names:
        short = name.split(".")[1]
        read = lambda found: f'pulsewright_ablated("{name}", {found})'
        definition = re.compile(rf"^(?:inline |static |  static )*constexpr ([\w:]+) ([^;\n]*\b{short}(?:\{{| = ))({NUMBER})F?([^\n]*)", re.M)
        field = re.compile(rf"(\.{short} = (?:Seconds\{{)?)({NUMBER})(\}}?)")
        found = definition.search(text)
        if found:
            kind, before, number, after = found.groups()
            scope = "static inline const" if found.group().startswith("  ") else "inline const" if file.suffix == ".hpp" else "const"
            value = read(number) if kind in ("double", "Seconds") else f"static_cast<{kind}>({read(number)})"
            text = text[: found.start()] + f"{scope} {kind} {before}{value}{after}" + text[found.end():]
            continue
        # A field of the costs of a path.
        found = field.search(text)
        if not found:
            sys.exit(f"{file}: no constant {short}")
        text = text[: found.start()] + found.group(1) + read(found.group(2)) + found.group(3) + text[found.end():]
    return text.replace("inline constexpr PathCosts last_costs", "inline const PathCosts last_costs").replace(
        "constexpr PathCosts joint_costs", "const PathCosts joint_costs")


def build(scratch):
    """Compiles the stage with loosened constants; returns the program."""
    (scratch / "ablated.hpp").write_text(READ)
    by_file = {}
    for _, constants in RULES:
        for name in constants:
            by_file.setdefault(name.split(".")[0], set()).add(name)
    copy = scratch / "dsp" / "3_beats"
    for path in sorted(STAGE.rglob("*.?pp")):
        target = copy / path.relative_to(STAGE)
        target.parent.mkdir(parents=True, exist_ok=True)
        text = path.read_text()
        mine = sorted(by_file.get(path.stem, ()))
        other = path.with_suffix(".hpp" if path.suffix == ".cpp" else ".cpp")
        here = [n for n in mine if re.search(rf"\b{n.split('.')[1]}(?:\{{| = ){NUMBER}|\.{n.split('.')[1]} = ", text)
                and (path.suffix == ".cpp" or not other.is_file()
                     or not re.search(rf"constexpr [^;\n]*\b{n.split('.')[1]}(?:\{{| = )", other.read_text()))]
        text = loosened(text, path, here) if here else text
        target.write_text(text)
    objects = []
    for entry in json.loads((BUILD / "compile_commands.json").read_text()):
        path = pathlib.Path(entry["file"])
        of_stage = STAGE / "ecg" in path.parents or path.stem in ("viterbi_path", "doubtful_stretches")
        if not of_stage and "pulsewright_accuracy.dir" not in entry["command"]:
            continue
        out = scratch / (path.stem + ".o")
        source = copy / path.relative_to(STAGE) if of_stage else path
        command = re.sub(r" -o \S+", f" -o {out}", entry["command"]).replace(f" -c {path}", f" -c {source}")
        command = re.sub(r" -include \S+cmake_pch\S+| -Winvalid-pch| -fpch-preprocess", "", command)
        command = command.replace(f"-I{SOURCE / 'dsp'} ", f"-I{scratch / 'dsp'} -I{SOURCE / 'dsp'} ")
        subprocess.run(command + f" -include {scratch / 'ablated.hpp'} -w", shell=True, cwd=entry["directory"], check=True)
        objects.append(str(out))
    program = scratch / "accuracy"
    rule = re.search(r"^build tests/accuracy/pulsewright_accuracy: .*?^  LINK_LIBRARIES = ([^\n]*)",
                     (BUILD / "build.ninja").read_text(), re.M | re.S)
    subprocess.run(f"c++ -o {program} {' '.join(objects)} {rule.group(1)}", shell=True, cwd=BUILD, check=True)
    return program


def rates(program, data, constants):
    """DER in per cent: first signal, all signals, the three noise stress records."""
    environment = {**os.environ, "PULSEWRIGHT_ABLATED": ";".join(f"{k}={v}" for k, v in constants.items())}
    result = []
    for options in (["--set", "arrhythmia", "--development", "--summary"],
                    ["--set", "arrhythmia", "--development", "--summary", "--all-signals"],
                    ["--set", "arrhythmia-noise", "--development", "--summary"]):
        with subprocess.Popen([program, data, *options], env=environment, stdout=subprocess.PIPE, text=True) as run:
            wrong = beats = 0
            for line in run.stdout:
                cells = [cell.strip() for cell in line.split("|")]
                if len(cells) > 6 and cells[2].isdigit():
                    beats += int(cells[2])
                    wrong += int(cells[3]) + int(cells[4])
                if not line.strip() and beats:  # the noise mixed into other records is not scored here
                    run.kill()
                    break
            result.append(100.0 * wrong / beats)
    return result


def main():
    data, chosen = sys.argv[1], sys.argv[2:]
    with tempfile.TemporaryDirectory(prefix="pulsewright-ablation-") as scratch:
        program = build(pathlib.Path(scratch))
        whole = rates(program, data, {})
        print("| taken out | first signal | all signals | under noise |\n|---|---|---|---|")
        print("| nothing: DER % | " + " | ".join(f"{rate:.3f}" for rate in whole) + " |", flush=True)
        for rule, constants in RULES:
            if chosen and not any(word in rule for word in chosen):
                continue
            try:
                moved = [f"{a - b:+.3f}" for a, b in zip(rates(program, data, constants), whole)]
            except ZeroDivisionError:
                moved = ["no beats"] * 3
            print(f"| {rule} | " + " | ".join(moved) + " |", flush=True)


main()
