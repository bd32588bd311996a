#!/usr/bin/python3
"""Sets the weights of the ECG score: logistic regression over the candidates of the development records.

    build/tests/accuracy/pulsewright_feature_dump DATA > features.csv
    python3 tests/accuracy/fit_ecg_score.py features.csv

Columns: record, time_s, is_beat, accepted, features... The regression is ridge-penalised maximum likelihood by Newton's method.
Prints the two weight arrays of dsp/3_beats/ecg_score.cpp.
"""
import sys

import numpy as np

FIRST = 10  # features known before the context is
RIDGE = 0.1


def fit(features, is_beat):
    x = np.column_stack([features, np.ones(len(features))])
    weights = np.zeros(x.shape[1])
    penalty = np.full(x.shape[1], RIDGE)
    penalty[-1] = 0.0
    for _ in range(50):
        p = 1.0 / (1.0 + np.exp(-x @ weights))
        gradient = x.T @ (is_beat - p) - penalty * weights
        hessian = (x * (p * (1 - p))[:, None]).T @ x + np.diag(penalty)
        step = np.linalg.solve(hessian, gradient)
        weights += step
        if np.abs(step).max() < 1e-9:
            break
    wrong = ((x @ weights > 0) != (is_beat > 0)).sum()
    return weights, wrong


def main():
    table = np.loadtxt(sys.argv[1], delimiter=",", usecols=None, ndmin=2)
    is_beat, features = table[:, 2], table[:, 4:]
    for name, columns in (("first_weights", FIRST), ("context_weights", features.shape[1])):
        weights, wrong = fit(features[:, :columns], is_beat)
        print(f"{name}: {', '.join(f'{w:.3f}' for w in weights)}  // {wrong} of {len(is_beat)} candidates on the wrong side")


if __name__ == "__main__":
    main()
