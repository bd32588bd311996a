#!/usr/bin/env python3
"""Fits the confidence of pulse beats on what pulsewright_pulse_feature_dump prints for the development recordings and for noise.

usage: pulsewright_pulse_feature_dump DATA > features.csv; fit_pulse_confidence.py features.csv

Two logistic curves, for candidates that the best path chose and for the others. Every set of recordings counts alike.
Put the printed lines into dsp/3_beats/pulse/pulse_confidence.cpp."""
import sys

import numpy
import pandas
from scipy import optimize

FEATURES = ["log-odds", "likeness (spread)", "likeness around (spread)", "irregularity"]


def main():
    rows = pandas.read_csv(sys.argv[1], dtype={"name": str})
    for chosen in (1, 0):
        part = rows[rows.chosen == chosen]
        x = numpy.column_stack([numpy.ones(len(part))] + [part[f] for f in FEATURES])
        right = part.right.to_numpy(float)
        weight = (1.0 / part.groupby("set").right.transform("size")).to_numpy()
        weight /= weight.sum()

        def loss(w):
            z = x @ w
            return numpy.sum(weight * (numpy.logaddexp(0, z) - right * z)) + 1e-5 * numpy.sum(w[1:] ** 2)

        w = optimize.minimize(loss, numpy.zeros(x.shape[1])).x
        confidence = 1 / (1 + numpy.exp(-x @ w))
        print(f"// chosen {chosen}: {len(part)} candidates")
        print("{%.3f, {%s}}" % (w[0], ", ".join("%.3f" % v for v in w[1:])))
        bands = pandas.cut(confidence, [0, .1, .3, .5, .7, .9, .97, .99, 1])
        print(pandas.DataFrame({"c": confidence, "right": right}).groupby(bands, observed=True).agg(
            n=("c", "size"), stated=("c", "mean"), found=("right", "mean")).round(3).to_string())
        print(pandas.DataFrame({"set": part.set.to_numpy(), "c": confidence, "right": right, "half": confidence > .5}).groupby("set").mean().round(3).to_string())


main()
