#!/usr/bin/env python3
"""Draws the rate that the track finds over the reference, a figure for each development recording, to be looked at one by one.

usage: pulsewright_rate_dump DATA > windows.csv; plot_rates.py windows.csv FOLDER [svg|png]

Above: with the motion channels, where the recording has any; below: from the pulse alone. Black: reference; blue line and band: whole-file form and its 95 % interval; orange: causal
form; grey along the foot: windows of which the track is less than half sure."""
import os
import sys

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt
import pandas

FORMS = {"all": "all channels", "still": "pulse alone"}


def draw(axes, rows, form):
    whole, causal = rows[rows.form == form], rows[rows.form == form + "_causal"]
    middle = whole.start_s + 4.0
    axes.fill_between(middle, whole.low_bpm, whole.high_bpm, color="tab:blue", alpha=0.2, linewidth=0)
    axes.plot(causal.start_s + 4.0, causal.bpm, color="tab:orange", linewidth=0.8)
    axes.plot(middle, whole.bpm, color="tab:blue", linewidth=1.2)
    axes.plot(middle, whole.truth_bpm, color="black", linewidth=1.0)
    unsure = middle[whole.confidence < 0.5]
    axes.plot(unsure, [32] * len(unsure), "s", color="grey", markersize=2)
    error = (whole.bpm - whole.truth_bpm).abs().mean()
    late = (causal.bpm - causal.truth_bpm).abs().mean()
    axes.set_title(f"{FORMS[form]}: mean absolute error {error:.2f}, causal {late:.2f} beats/min", fontsize=9)
    axes.set_ylim(30, 230)
    axes.set_ylabel("beats/min")


def main():
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    table, folder = sys.argv[1:3]
    ending = sys.argv[3] if len(sys.argv) == 4 else "svg"
    os.makedirs(folder, exist_ok=True)
    windows = pandas.read_csv(table, dtype={"name": str})
    for (kind, name), rows in windows[windows.set != "noise"].groupby(["set", "name"]):
        forms = [form for form in FORMS if (rows.form == form).any()]
        figure, panels = plt.subplots(len(forms), 1, figsize=(10, 3.2 * len(forms)), squeeze=False, sharex=True)
        for axes, form in zip(panels[:, 0], forms):
            draw(axes, rows, form)
        panels[-1, 0].set_xlabel("middle of the window, s")
        figure.suptitle(f"{kind} {name}", fontsize=10)
        figure.tight_layout()
        figure.savefig(os.path.join(folder, f"{kind}_{name}.{ending}"), dpi=60)
        plt.close(figure)


main()
