#!/usr/bin/env python3
"""Sets and scores the rhythm states of dsp/5_derive/rhythm.cpp on open data.

    tests/accuracy/fit_rhythm_state.py fit DATA     prints dsp/5_derive/rhythm_weights.hpp, from the development records
    tests/accuracy/fit_rhythm_state.py cross DATA   development records, each scored by a fit without it and others
    tests/accuracy/fit_rhythm_state.py score DATA   the development and the other records, by the program's own weights

DATA holds rhythm_marks, arrhythmia and activity_beats. Features and probabilities come from build/tests/accuracy/pulsewright_rhythm_dump
(PULSEWRIGHT_RHYTHM_DUMP says where else it is), so that there is one definition of them. A window of 30 intervals is one of
fibrillation or flutter when more than half of its beats lie in a stretch so marked; otherwise one with early beats when three or more of its
beats are marked as such; otherwise regular. Windows without a rhythm mark, or with an interval above 4 s, are left out.
"""
import os
import pathlib
import subprocess
import sys

import numpy as np

WINDOW, HIDDEN, STATES = 30, 12, 3
IRREGULAR_FROM = 0.27
COUNTS = {"rhythm_marks": 1, "arrhythmia": 2, "activity_beats": 5}  # of a set, so that the few healthy people in exercise are heard
ARRHYTHMIA_DEVELOPMENT = [101, 106, 108, 109, 112, 114, 115, 116, 118, 119, 122, 124, 201, 203, 205, 207, 208, 209, 215, 220, 223, 230]
PACED = [102, 104, 107, 217]
RHYTHM_DEVELOPMENT, ACTIVITY_DEVELOPMENT = 24, 12
EARLY = {4, 5, 6, 7, 8, 9}  # codes of aberrated, ventricular, fusion, junctional, atrial and supraventricular beats
BEATS = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 25, 30, 34, 35, 38, 41}


def annotations(path):
    """Times in samples, codes and texts of an annotation file in the open record format."""
    words = np.frombuffer(path.read_bytes()[: path.stat().st_size // 2 * 2], "<u2")
    time, i, found = 0, 0, []
    while i < len(words):
        code, low = int(words[i]) >> 10, int(words[i]) & 1023
        i += 1
        if code == 0 and low == 0:
            break
        if code == 59:
            skip = int(words[i]) << 16 | int(words[i + 1])
            time += skip - (1 << 32) if skip >> 31 else skip
            i += 2
        elif code == 63:
            found[-1][2] = words[i:i + (low + 1) // 2].tobytes()[:low].decode("latin1").rstrip("\0")
            i += (low + 1) // 2
        elif code < 50:
            time += low
            found.append([time, code, ""])
    return found


def windows_of_marks(path, rate, step):
    found = annotations(path)
    beats = np.array([(t, c in EARLY) for t, c, _ in found if c in BEATS])
    marks = [(t, text) for t, c, text in found if c == 28]
    times, early = beats[:, 0], beats[:, 1]
    state = np.full(len(times), -1)
    for (start, text), (end, _) in zip(marks, marks[1:] + [(times[-1] + 1, "")]):
        i, j = np.searchsorted(times, [start, end])
        state[i:j] = text in ("(AFIB", "(AFL")
    sliding = lambda values: np.lib.stride_tricks.sliding_window_view(values, WINDOW)[::step]
    x, s, e = sliding(np.diff(times) / rate), sliding(state[1:]), sliding(early[1:])
    kept = (s >= 0).all(1) & (x.max(1) < 4) & (x.min(1) > 0.15)
    x, s, e = x[kept], s[kept], e[kept]
    return x, np.where((s == 1).mean(1) > 0.5, 2, np.where(e.sum(1) >= 3, 1, 0))


def windows_of_activity(data, person):
    found = []
    for path in sorted((data / "activity_beats").glob(f"subject_{person:02d}__*_cs.tsv")):
        x = np.diff(np.loadtxt(path, usecols=0) / 250)
        if len(x) > WINDOW:
            found.append(np.lib.stride_tricks.sliding_window_view(x, WINDOW)[::5])
    if not found:
        return np.empty((0, WINDOW)), np.empty(0, int)
    x = np.concatenate(found)
    x = x[(x.max(1) < 3) & (x.min(1) > 0.2)]
    return x, np.zeros(len(x), int)


def records(data, development):
    """(set, name, windows in seconds, states) of each record."""
    names = sorted(p.stem for p in (data / "rhythm_marks").glob("*.atr"))
    for name in names[:RHYTHM_DEVELOPMENT] if development else names[RHYTHM_DEVELOPMENT:]:
        yield ("rhythm_marks", name, *windows_of_marks(data / "rhythm_marks" / f"{name}.atr", 128, 15))
    numbers = sorted(int(p.stem) for p in (data / "arrhythmia").glob("*.atr"))
    for number in numbers:
        if number not in PACED and (number in ARRHYTHMIA_DEVELOPMENT) == development:
            yield ("arrhythmia", str(number), *windows_of_marks(data / "arrhythmia" / f"{number}.atr", 360, 3))
    for person in range(ACTIVITY_DEVELOPMENT) if development else range(ACTIVITY_DEVELOPMENT, 25):
        yield ("activity_beats", f"{person:02d}", *windows_of_activity(data, person))


def dumped(x):
    """Features and probabilities of each window, as the library has them."""
    program = os.environ.get("PULSEWRIGHT_RHYTHM_DUMP", "build/tests/accuracy/pulsewright_rhythm_dump")
    text = "\n".join(" ".join(f"{1000 * value:.3f}" for value in row) for row in x)
    out = subprocess.run([program], input=text, capture_output=True, text=True, check=True).stdout
    values = np.array([[float(v) for v in line.split()] for line in out.splitlines()])
    return values[:, :-STATES], values[:, -STATES:]


def weights_of(sets, state, record):
    """Each state counts the same, of it each record by the root of its windows, and its set as above."""
    weight = np.zeros(len(state))
    for r in np.unique(record):
        for s in range(STATES):
            some = (record == r) & (state == s)
            if some.any():
                weight[some] = np.sqrt(min(some.sum(), 2000)) / some.sum()
    for s in range(STATES):
        weight[state == s] /= weight[state == s].sum()
    return weight * len(state) / STATES * np.vectorize(COUNTS.get)(sets)


def fit(z, state, weight, epochs=30, shrink=1e-4):
    """A network of one layer, by Adam (Kingma & Ba 2015) with a rate that falls like a cosine."""
    rng = np.random.default_rng(0)
    parts = [rng.normal(0, 1 / np.sqrt(z.shape[1]), (z.shape[1], HIDDEN)), np.zeros(HIDDEN),
             rng.normal(0, 1 / np.sqrt(HIDDEN), (HIDDEN, STATES)), np.zeros(STATES)]
    first, second = [np.zeros_like(p) for p in parts], [np.zeros_like(p) for p in parts]
    target, turn = np.eye(STATES)[state], 0
    for epoch in range(epochs):
        order, rate = rng.permutation(len(z)), 0.005 * (1 + np.cos(np.pi * epoch / epochs))
        for k in range(0, len(z), 2048):
            some = order[k:k + 2048]
            hidden = np.tanh(z[some] @ parts[0] + parts[1])
            pull = (softmax(hidden @ parts[2] + parts[3]) - target[some]) * (weight[some] / weight[some].sum())[:, None]
            back = pull @ parts[2].T * (1 - hidden ** 2)
            slopes = [z[some].T @ back + shrink * parts[0], back.sum(0), hidden.T @ pull + shrink * parts[2], pull.sum(0)]
            turn += 1
            for i, slope in enumerate(slopes):
                first[i] = 0.9 * first[i] + 0.1 * slope
                second[i] = 0.999 * second[i] + 0.001 * slope ** 2
                parts[i] = parts[i] - rate * (first[i] / (1 - 0.9 ** turn)) / (np.sqrt(second[i] / (1 - 0.999 ** turn)) + 1e-8)
    return parts


def softmax(a):
    p = np.exp(a - a.max(1, keepdims=True))
    return p / p.sum(1, keepdims=True)


def scaled(x, centre, scale):
    return np.clip((x - centre) / scale, -4, 4)


def print_header(centre, scale, parts):
    rows = lambda name, shape, values: (f"inline constexpr {shape} {name}{{{{\n    "
                                        + ", ".join(f"{v:.5f}" for v in np.ravel(values)) + "}};\n")
    print("/// Weights of the rhythm states. Written by tests/accuracy/fit_rhythm_state.py; not to be changed by hand.\n#pragma once\n")
    print("#include <array>\n\nnamespace pulsewright::rhythm_weights {\n")
    count = len(centre)
    print(f"inline constexpr std::size_t hidden = {HIDDEN};")
    print(rows("centre", f"std::array<double, {count}>", centre) + rows("scale", f"std::array<double, {count}>", scale)
          + rows("first", f"std::array<double, {count * HIDDEN}>", parts[0].T) + rows("first_bias", f"std::array<double, {HIDDEN}>", parts[1])
          + rows("second", f"std::array<double, {HIDDEN * STATES}>", parts[2].T) + rows("second_bias", f"std::array<double, {STATES}>", parts[3]))
    print("}  // namespace pulsewright::rhythm_weights")


def print_scores(sets, state, probability):
    irregular = probability[:, 2] >= IRREGULAR_FROM
    told = np.where(irregular, 2, probability[:, :2].argmax(1))
    print("| set | windows irregular throughout | sensitivity % | specificity % | early beats found % | regular told regular % |\n|---|---|---|---|---|---|")
    share = lambda part, whole: f"{100 * part[whole].mean():.2f}" if whole.any() else ""
    for name in dict.fromkeys(sets):
        own = sets == name
        print(f"| {name} | {(own & (state == 2)).sum()} of {own.sum()} | {share(irregular, own & (state == 2))} | {share(~irregular, own & (state < 2))} "
              f"| {share(told > 0, own & (state == 1))} | {share(told == 0, own & (state == 0))} |")


def gathered(data, development):
    sets, names, x, state = [], [], [], []
    for index, (set_, _, windows, states) in enumerate(records(data, development)):
        sets += [set_] * len(states)
        names += [index] * len(states)
        x.append(windows)
        state.append(states)
    features, probability = dumped(np.concatenate(x))
    return np.array(sets), np.array(names), np.concatenate(state), features, probability


def main():
    if len(sys.argv) != 3 or sys.argv[1] not in ("fit", "cross", "score"):
        sys.exit(__doc__)
    data = pathlib.Path(sys.argv[2])
    if sys.argv[1] == "score":
        for development in (True, False):
            sets, _, state, _, probability = gathered(data, development)
            print("Development records\n" if development else "\nOther records\n")
            print_scores(sets, state, probability)
        return
    sets, record, state, features, _ = gathered(data, True)
    centre, scale = features.mean(0), features.std(0)
    z = scaled(features, centre, scale)
    if sys.argv[1] == "fit":
        print_header(centre, scale, fit(z, state, weights_of(sets, state, record)))
        return
    order, probability = np.random.default_rng(5).permutation(record.max() + 1), np.zeros((len(state), STATES))
    for k in range(4):
        out = np.isin(record, order[k::4])
        parts = fit(z[~out], state[~out], weights_of(sets, state, record)[~out])
        probability[out] = softmax(np.tanh(z[out] @ parts[0] + parts[1]) @ parts[2] + parts[3])
    print_scores(sets, state, probability)


main()
