#!/usr/bin/env python3
"""The heart rate of a pulse signal as anyone would take it with scipy: band-pass, and the largest spectral peak of each window.

    scipy_rates.py SAMPLES RATE_HZ CHANNELS [REPEATS]    times it on a file of 32-bit floats, the first channel being the pulse, and prints JSON

It is the yardstick of the `track` benchmark. It knows nothing of motion.
"""
import json
import sys

import numpy as np
from scipy import signal

from scipy_beats import best_of


def rates(pulse, rate, window=8.0, step=2.0):
    sos = signal.butter(2, [0.5, 4.0], "bandpass", fs=rate, output="sos")
    band = signal.sosfiltfilt(sos, pulse)
    size, hop = round(window * rate), round(step * rate)
    frequency, _, power = signal.spectrogram(band, rate, window="hann", nperseg=size, noverlap=size - hop, nfft=8 * size)
    inside = (frequency >= 0.5) & (frequency <= 3.8)
    return 60.0 * frequency[inside][np.argmax(power[inside], axis=0)]


def main():
    samples = np.fromfile(sys.argv[1], dtype=np.float32).astype(np.float64)
    rate, channels = float(sys.argv[2]), int(sys.argv[3])
    pulse = samples.reshape(channels, -1)[0]
    found, best_ms = best_of(int(sys.argv[4]) if len(sys.argv) > 4 else 10, lambda: rates(pulse, rate))
    print(json.dumps({"windows": len(found), "best_ms": best_ms}))


if __name__ == "__main__":
    main()
