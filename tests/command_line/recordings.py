"""Small invented recordings with beats at known times, written as a logger would write them."""
import math

RATE = 250


def beat_times(duration_s, bpm=75.0, first_s=0.6):
    """Beats with a slow swing of the interval, so that variability is not zero."""
    times, t = [], first_s
    while t < duration_s - 0.4:
        times.append(t)
        t += 60.0 / bpm * (1.0 + 0.04 * math.sin(2 * math.pi * 0.1 * t))
    return times


def bump(x, width):
    return math.exp(-0.5 * (x / width) ** 2) if abs(x) < 6 * width else 0.0


def wave(times, duration_s, parts, rate=RATE):
    """A sum of Gaussians (delay s, width s, height) after each beat."""
    samples = [0.0] * round(duration_s * rate)
    for t in times:
        for delay, width, height in parts:
            centre = t + delay
            low, high = int((centre - 6 * width) * rate), int((centre + 6 * width) * rate) + 1
            for i in range(max(0, low), min(len(samples), high)):
                samples[i] += height * bump(i / rate - centre, width)
    return samples


# P, Q, R, S and T waves in mV; the R peak is the beat.
ECG = [(-0.16, 0.022, 0.12), (-0.025, 0.008, -0.12), (0.0, 0.009, 1.1), (0.025, 0.008, -0.25), (0.26, 0.045, 0.28)]
# Systolic and reflected wave in counts, 0.28 s after the R peak.
PULSE = [(0.28, 0.09, 120.0), (0.55, 0.11, 35.0)]


def ripple(i):
    """A little disturbance that is the same every time."""
    return math.sin(1.7 * i) + math.sin(0.61 * i + 1.0)


def ecg_samples(times, duration_s):
    return [v + 0.01 * ripple(i) for i, v in enumerate(wave(times, duration_s, ECG))]


def pulse_samples(times, duration_s):
    return [512.0 + v + 1.0 * ripple(i) for i, v in enumerate(wave(times, duration_s, PULSE))]


def write_table(path, names, columns, rate=RATE):
    with open(path, "w", encoding="utf-8") as file:
        file.write(",".join(["time_s"] + names) + "\n")
        for i, row in enumerate(zip(*columns)):
            file.write(",".join([f"{i / rate:.4f}"] + [f"{v:.4f}" for v in row]) + "\n")


def write_session(path, duration_s=60, bpm=75.0):
    """ECG and finger pulse of the same heart. Returns the times of the R peaks."""
    times = beat_times(duration_s, bpm)
    write_table(path, ["ecg_mV", "pulse"], [ecg_samples(times, duration_s), pulse_samples(times, duration_s)])
    return times


def write_flat(path, duration_s=30):
    write_table(path, ["ecg_mV"], [[0.25] * (duration_s * RATE)])
