#!/usr/bin/env python3
"""Fits the certainty of the rate track on what pulsewright_rate_dump prints for the development recordings and for noise.

usage: pulsewright_rate_dump DATA > windows.csv; fit_rate_certainty.py windows.csv

One logistic curve for each form (whole or causal, with or without motion channels): the probability that a window's rate lies within 5 beats/min of
the reference, from the log-odds of the agreement and the log of the concentration. Every set of recordings counts alike. Noise is always wrong. The scale of the double
exponential is that of the errors within 5 beats/min, widened until the interval covers 95.5 % of all windows with a heart in them.
Put the printed lines into dsp/3_beats/rate_track/rate_certainty.cpp."""
import sys

import numpy
import pandas
from scipy import optimize

NEAR = 5.0


def features(rows):
    agreement = rows.agreement.clip(0.01, 0.9999)
    return numpy.column_stack([numpy.ones(len(rows)), numpy.log(agreement / (1 - agreement)),
                               numpy.log(rows.concentration.clip(1e-3))])


def fit(rows):
    x = features(rows)
    right = ((rows.bpm - rows.truth_bpm).abs() <= NEAR).to_numpy(float)
    weight = 1.0 / rows.groupby("set").bpm.transform("size").to_numpy()
    weight /= weight.sum()

    def loss(w):
        z = x @ w
        return numpy.sum(weight * (numpy.logaddexp(0, z) - right * z)) + 1e-4 * numpy.sum(w[1:] ** 2)

    # More agreement or concentration never lowers the confidence.
    return optimize.minimize(loss, numpy.array([0.0, 0.5, 0.5]), bounds=[(None, None), (0, None), (0, None)]).x


def main():
    rows = pandas.read_csv(sys.argv[1], dtype={"name": str})
    for causal in (False, True):
        form = rows[rows.form.str.endswith("_causal") == causal]
        kind = form.form.str.removesuffix("_causal")
        moving = (form.set.isin(["treadmill", "wrist"]) & (kind != "still")) | form.name.str.startswith("noise_moving")
        for motion in (True, False):
            part = form[moving == motion]
            w = fit(part)
            confidence = 1 / (1 + numpy.exp(-features(part) @ w))
            heart = part.set != "noise"
            error = (part.bpm - part.truth_bpm).abs()
            near = heart & (error <= NEAR)
            scale = error[near].mean()
            bands = pandas.cut(confidence, [0, .1, .3, .5, .7, .9, .97, 1])
            print(f"// causal {causal}, motion {motion}")
            print("{%.3f, %.3f, %.3f, %.2f}" % (*w, scale))
            table = pandas.DataFrame({"c": confidence, "right": near.astype(float)}).groupby(bands, observed=True).agg(
                n=("c", "size"), stated=("c", "mean"), found=("right", "mean"))
            print(table.round(3).to_string())
            inside = (part.truth_bpm >= part.low_bpm) & (part.truth_bpm <= part.high_bpm)
            print("coverage of the intervals as dumped, by set:",
                  inside[heart].groupby(part.set).mean().round(3).to_dict(), "all", round(inside[heart].mean(), 4))
            print("noise: stated", confidence[~heart].mean().round(3), "above one half",
                  (confidence[~heart] > 0.5).mean().round(3))


main()
