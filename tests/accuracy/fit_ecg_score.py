#!/usr/bin/python3
"""Sets the weights of the ECG score: logistic regressions over the candidates of the development records.

    build/tests/accuracy/pulsewright_feature_dump DATA > features.csv
    build/tests/accuracy/pulsewright_feature_dump DATA all > together.csv
    python3 tests/accuracy/fit_ecg_score.py features.csv together.csv > dsp/3_beats/ecg/ecg_weights.hpp

A heading, then columns: record (and the noise added to it), time_s, is_beat, accepted, features...
The regressions are ridge-penalised maximum likelihood by Newton's method. Prints
dsp/3_beats/ecg/ecg_weights.hpp.
"""
import sys

import numpy as np

FIRST, CONTEXT, SHAPE, NOISE_LEVEL = 10, 13, 43, 42  # features of the first pass, of the second, of the third; place of the noise level
HEAD = """/// What each feature of a candidate weighs for its being a beat. Written by
/// tests/accuracy/fit_ecg_score.py: no number here is set by hand.
///
/// Logistic regressions on the development records of the MIT-BIH Arrhythmia Database (26 records, first
/// signal), `shape_weights` and `noise_weights` also with electrode motion, muscle noise and baseline
/// wander added; `lead_weights` on both signals. Templates and the first guess changed a little after
/// these were fitted, and which candidates are in strong noise, and what is measured of them, depends
/// on the weights themselves: fitted again, they come out a little different.
#pragma once

#include <array>
#include <string_view>

namespace pulsewright::beats_stage {

struct FeatureWeight {
  std::string_view feature;
  double weight;
};
"""
RIDGE = 0.1
RIDGE_OF_SHAPES = 1.0
# How much a candidate counts when noise was added to its record: there are more of them, and clean records matter most.
SHAPE_WEIGHT = {"": 1.0, "em3": 0.1, "em-3": 0.03, "em-9": 0.01, "ma6": 0.03, "bw0": 0.03, "ma-3": 0.0}
NOISE_WEIGHT = {"": 12.0, "em3": 0.2, "em-3": 0.1, "em-9": 0.05, "ma6": 0.1, "bw0": 0.3, "ma-3": 0.02}
# Noise level from which on a candidate is judged as one in noise, and how near to a beat a candidate is neither that beat nor another thing.
IN_NOISE_FROM = 0.5
BESIDE_A_BEAT_S = 0.090
SAME_BEAT_S = 0.150


def fit(features, is_beat, weight, ridge):
    x = np.column_stack([features, np.ones(len(features))])
    weights = np.zeros(x.shape[1])
    penalty = np.full(x.shape[1], ridge)
    penalty[-1] = 0.0
    for _ in range(50):
        p = 1.0 / (1.0 + np.exp(-np.clip(x @ weights, -40, 40)))
        gradient = x.T @ (weight * (is_beat - p)) - penalty * weights
        hessian = (x * (weight * p * (1 - p))[:, None]).T @ x + np.diag(penalty)
        step = np.linalg.solve(hessian, gradient)
        weights += step
        if np.abs(step).max() < 1e-6:
            break
    wrong = ((x @ weights > 0) != (is_beat > 0)).sum()
    return weights, wrong


def fitted(name, names, features, is_beat, weight, ridge):
    """The table of one regression: its name, and each feature with its weight, the constant last."""
    weights, wrong = fit(features, is_beat, weight, ridge)
    print(f"{name}: {wrong} of {len(is_beat)} candidates on the wrong side", file=sys.stderr)
    return name, list(zip([*names[: features.shape[1]], "constant"], weights))


def weights_file(tables):
    """The text of dsp/3_beats/ecg/ecg_weights.hpp."""
    lines = [HEAD]
    for name, rows in tables:
        lines.append(f"inline constexpr std::array<FeatureWeight, {len(rows)}> {name}{{{{")
        lines += [f'    {{"{feature}", {weight:.3f}}},' for feature, weight in rows]
        lines.append("}};\n")
    return "\n".join(lines) + "\n}  // namespace pulsewright::beats_stage\n"


def read(path):
    records, rows = [], []
    with open(path, encoding="utf-8") as f:
        names = f.readline().rstrip("\n").split(",")[4:]
        for line in f:
            record, row = line.split(",", 1)
            records.append(record)
            rows.append(np.fromstring(row, sep=","))
    return names, np.array(records), np.array(rows)


def another_moment_of_a_beat(records, times, is_beat, reach):
    """Moments that are no beat only because the mark went to another moment near by: they say nothing."""
    near = np.zeros(len(times), dtype=bool)
    for record in np.unique(records):
        mine = np.flatnonzero(records == record)
        beats = times[mine][is_beat[mine] > 0]
        after = np.clip(np.searchsorted(beats, times[mine]), 1, len(beats) - 1)
        distance = np.minimum(np.abs(beats[after] - times[mine]), np.abs(beats[after - 1] - times[mine]))
        near[mine] = (is_beat[mine] == 0) & (distance <= reach)
    return near


def main():
    names, records, table = read(sys.argv[1])
    is_beat, features = table[:, 1], table[:, 3:]
    noise = np.array([record[3:] for record in records])
    clean = noise == ""
    ones = np.ones(clean.sum())
    tables = [fitted("first_weights", names, features[clean, :FIRST], is_beat[clean], ones, RIDGE),
              fitted("context_weights", names, features[clean, :CONTEXT], is_beat[clean], ones, RIDGE)]
    # Shapes are measured of candidates that are not out of the question, and are above 0 then.
    asked = features[:, CONTEXT] != 0
    weight = np.array([SHAPE_WEIGHT[n] for n in noise])
    tables.append(fitted("shape_weights", names, features[asked, :SHAPE], is_beat[asked], weight[asked], RIDGE_OF_SHAPES))
    beside = another_moment_of_a_beat(records, table[:, 0], is_beat, BESIDE_A_BEAT_S)
    asked &= ~beside & (features[:, NOISE_LEVEL] > IN_NOISE_FROM)
    weight = np.array([NOISE_WEIGHT[n] for n in noise])
    tables.append(fitted("noise_weights", names, features[asked], is_beat[asked], weight[asked], RIDGE_OF_SHAPES))

    names, records, table = read(sys.argv[2])
    is_beat, features = table[:, 1], table[:, 3:]
    kept = ~another_moment_of_a_beat(records, table[:, 0], is_beat, SAME_BEAT_S)
    tables.append(fitted("lead_weights", names, features[kept], is_beat[kept], np.ones(kept.sum()), RIDGE))
    print(weights_file(tables), end="")


if __name__ == "__main__":
    main()
