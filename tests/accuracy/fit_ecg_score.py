#!/usr/bin/python3
"""Sets the weights of the ECG score: logistic regressions over the candidates of the development records.

    build/tests/accuracy/pulsewright_feature_dump DATA > features.csv
    python3 tests/accuracy/fit_ecg_score.py features.csv
    build/tests/accuracy/pulsewright_feature_dump DATA all > together.csv
    python3 tests/accuracy/fit_ecg_score.py together.csv together

Columns: record (and the noise added to it), time_s, is_beat, accepted, features... The regressions are ridge-penalised maximum likelihood by
Newton's method. Prints the weight arrays of dsp/3_beats/ecg/ecg_score.cpp, or with `together` that of dsp/3_beats/ecg/ecg_fuse.cpp.
"""
import sys

import numpy as np

FIRST, CONTEXT, SHAPE, DOUBT = 10, 13, 43, 42  # features of the first look, of the second, of the third; place of doubt
RIDGE = 0.1
RIDGE_OF_SHAPES = 1.0
# How much a candidate counts when noise was added to its record: there are more of them, and clean records matter most.
SHAPE_WEIGHT = {"": 1.0, "em3": 0.1, "em-3": 0.03, "em-9": 0.01, "ma6": 0.03, "bw0": 0.03, "ma-3": 0.0}
NOISE_WEIGHT = {"": 12.0, "em3": 0.2, "em-3": 0.1, "em-9": 0.05, "ma6": 0.1, "bw0": 0.3, "ma-3": 0.02}
# Doubt from which on a candidate is judged as one in noise, and how near to a beat a candidate is neither that beat nor another thing.
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


def show(name, features, is_beat, weight, ridge):
    weights, wrong = fit(features, is_beat, weight, ridge)
    print(f"{name}: {', '.join(f'{w:.3f}' for w in weights)}  // {wrong} of {len(is_beat)} candidates on the wrong side")


def read(path):
    records, rows = [], []
    with open(path, encoding="utf-8") as f:
        for line in f:
            record, row = line.split(",", 1)
            records.append(record)
            rows.append(np.fromstring(row, sep=","))
    return np.array(records), np.array(rows)


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
    records, table = read(sys.argv[1])
    is_beat, features = table[:, 1], table[:, 3:]
    if len(sys.argv) > 2:
        kept = ~another_moment_of_a_beat(records, table[:, 0], is_beat, SAME_BEAT_S)
        show("weights", features[kept], is_beat[kept], np.ones(kept.sum()), RIDGE)
        return
    noise = np.array([record[3:] for record in records])
    clean = noise == ""
    ones = np.ones(clean.sum())
    show("first_weights", features[clean, :FIRST], is_beat[clean], ones, RIDGE)
    show("context_weights", features[clean, :CONTEXT], is_beat[clean], ones, RIDGE)
    # Shapes are measured of candidates that are not out of the question, and are above 0 then.
    asked = features[:, CONTEXT] != 0
    weight = np.array([SHAPE_WEIGHT[n] for n in noise])
    show("shape_weights", features[asked, :SHAPE], is_beat[asked], weight[asked], RIDGE_OF_SHAPES)
    beside = another_moment_of_a_beat(records, table[:, 0], is_beat, BESIDE_A_BEAT_S)
    asked &= ~beside & (features[:, DOUBT] > IN_NOISE_FROM)
    weight = np.array([NOISE_WEIGHT[n] for n in noise])
    show("noise_weights", features[asked], is_beat[asked], weight[asked], RIDGE_OF_SHAPES)


if __name__ == "__main__":
    main()
