#!/usr/bin/env python3
"""How the intervals of repeated-measures limits were chosen: simulated studies, four ways to an interval, how often each holds the truth.

    /usr/bin/python3 tests/accuracy/choose_limits.py [STUDIES]

People's SDs are log-normal around 1, their biases normal with SD 1, a person's 100 differences an autoregression. The truth is what the whole
population has: limits -+ 1.96 sqrt(1 + mean over people of the variance). Ways:

    one SD      variance components by people's mean squares, recovered from chi-squared intervals (Zou 2013, Stat Methods Med Res 22:630)
    bootstrap   percentiles over people drawn with replacement, widened for few people (Hesterberg 2015, Am Stat 69:371)
    flat tau    people's SDs log-normal, their means normal, evenly spread draws of what is likely; every spread of log SD as likely before
    half-normal the same with a half-normal of SD 1 for that spread: what dsp/7_agreement/population_draws.cpp does

Written from the definitions in numpy and scipy, it shares nothing with the library; limits_coverage.cpp puts the library itself to the test.
"""
import sys

import numpy as np
from scipy import signal, special, stats

NODES, WEIGHTS = np.polynomial.hermite.hermgauss(7)
TAUS = np.concatenate([[0.01], np.arange(0.04, 3.05, 0.08)])
TURNS = np.linspace(-6, 6, 31)
PAIRS = 100


def halton(count, base):
    index, value, share = np.arange(1, count + 1), np.zeros(count), 1.0
    while index.any():
        share /= base
        value += share * (index % base)
        index //= base
    return value


SHARES = [halton(2000, base) for base in (2, 3, 5, 7)]


def study(rng, people, log_sd, dependent):
    sd, bias = np.exp(log_sd * rng.standard_normal(people)), rng.standard_normal(people)
    shocks = rng.standard_normal((people, PAIRS)) * np.sqrt(1 - dependent ** 2)
    shocks[:, 0] /= np.sqrt(1 - dependent ** 2)
    return bias[:, None] + sd[:, None] * signal.lfilter([1], [1, -dependent], shocks, axis=1)


def components(d):
    n, k = d.shape
    within = ((d - d.mean(1, keepdims=True)) ** 2).sum() / (n * (k - 1))
    between = max(0.0, d.mean(1).var(ddof=1) - within / k)
    return d.mean(), between, within


def one_sd(d):
    n, k = d.shape
    bias, between, within = components(d)
    parts = [(d.mean(1).var(ddof=1), n - 1), ((1 - 1 / k) * within, n * (k - 1))]
    total = between + within
    low = total - np.sqrt(sum((v * (1 - f / stats.chi2.ppf(0.975, f))) ** 2 for v, f in parts))
    high = total + np.sqrt(sum((v * (f / stats.chi2.ppf(0.025, f) - 1)) ** 2 for v, f in parts))
    error = np.sqrt(between / n + within / n / k)
    distance = lambda end: np.hypot(1.96 * error, 1.96 * (np.sqrt(max(end, 0)) - np.sqrt(total)))
    upper = bias + 1.96 * np.sqrt(total)
    return (upper - distance(low), upper + distance(high)), (np.sqrt(max(low, 0)), np.sqrt(high))


def bootstrap(d, rng):
    n = len(d)
    drawn = [components(d[rng.integers(0, n, n)]) for _ in range(500)]
    tail = stats.norm.cdf(-stats.t.ppf(0.975, n - 1) * np.sqrt(n / (n - 1)))
    uppers = [b + 1.96 * np.sqrt(v + w) for b, v, w in drawn]
    sds = [np.sqrt(v + w) for _, v, w in drawn]
    return np.quantile(uppers, [tail, 1 - tail]), np.quantile(sds, [tail, 1 - tail])


def at_share(x, density, share):
    sums = np.concatenate([[0], np.cumsum((density[1:] + density[:-1]) / 2 * np.diff(x))])
    return np.interp(share * sums[-1], sums, x)


def dependence(d):
    z = (d - d.mean(1, keepdims=True)) / d.std(1, keepdims=True)
    found = []
    for lag in range(1, PAIRS // 2):
        r = (z[:, lag:] * z[:, :-lag]).mean()
        r += (1 + 3 * r) / PAIRS if lag == 1 else 1 / PAIRS
        if r < 0.05:
            break
        found.append(min(r, 0.99))
    r, kept = np.array(found), 1 - np.arange(1, len(found) + 1) / PAIRS
    return min(1 + 2 * (kept * r).sum(), 0.8 * PAIRS), 1 + 2 * (kept * r ** 2).sum()


def hierarchical(d, prior):
    n = len(d)
    inflation, repeated = dependence(d)
    s2 = ((d - d.mean(1, keepdims=True)) ** 2).sum(1) / (PAIRS - inflation)
    degrees = np.clip((PAIRS - 1) / repeated, 1, 300)
    log_sd, error2 = 0.5 * np.log(s2), 1 / (2 * degrees)
    grids, densities = [], []
    for tau in TAUS:
        middle = log_sd.mean()
        reach = np.sqrt((tau ** 2 + error2) / n) * np.sqrt(max(1, ((log_sd - middle) ** 2).sum() / (tau ** 2 + error2) / (n - 1)))
        m = middle + TURNS * reach
        scale = 1 / np.sqrt(1 / tau ** 2 + 1 / error2)
        x = ((m[:, None] / tau ** 2 + log_sd / error2) * scale ** 2)[..., None] + np.sqrt(2) * scale * NODES
        below = log_sd[:, None] - x
        f = degrees * below + degrees / 2 * (1 - np.exp(2 * below)) - 0.5 * ((x - m[:, None, None]) / tau) ** 2 + NODES ** 2 + np.log(WEIGHTS)
        densities.append((special.logsumexp(f, axis=2) + np.log(scale / tau)).sum(1))
        grids.append(m)
    top = max(l.max() for l in densities)
    densities = [np.exp(l - top) for l in densities]
    of_tau = np.array([np.trapz(l, m) for l, m in zip(densities, grids)]) * prior(TAUS)
    tau = at_share(TAUS, of_tau, SHARES[0])
    nearest = np.abs(TAUS[:, None] - tau).argmin(0)
    m = np.empty_like(tau)
    for t in np.unique(nearest):
        m[nearest == t] = at_share(grids[t], densities[t], SHARES[1][nearest == t])
    within = np.exp(2 * m + 2 * tau ** 2)

    means, tau_typical = d.mean(1), np.median(tau)
    shrunken = np.exp(2 * (np.median(m) / tau_typical ** 2 + log_sd / error2) / (1 / tau_typical ** 2 + 1 / error2))
    known = shrunken * inflation / PAIRS
    typical = 1 / np.mean(1 / known)
    sds = np.concatenate([[0], np.geomspace(0.02, 30, 160) * np.sqrt(means.var(ddof=1) + typical)])
    weight = 1 / (sds[:, None] ** 2 + known)
    centre = (weight * means).sum(1) / weight.sum(1)
    fit = 0.5 * (np.log(weight).sum(1) - np.log(weight.sum(1)) - (weight * (means - centre[:, None]) ** 2).sum(1))
    between = at_share(sds, np.exp(fit - fit.max()) * 2 * sds / (sds ** 2 + typical), SHARES[2])
    mean = np.interp(between, sds, centre) + np.interp(between, sds, 1 / np.sqrt(weight.sum(1))) * stats.norm.ppf(SHARES[3])
    sd = np.sqrt(between ** 2 + within)
    return np.quantile(mean + 1.96 * sd, [0.025, 0.975]), np.quantile(sd, [0.025, 0.975])


def main():
    studies = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    ways = {"one SD": lambda d, rng: one_sd(d), "bootstrap": bootstrap, "flat tau": lambda d, rng: hierarchical(d, np.ones_like),
            "half-normal": lambda d, rng: hierarchical(d, lambda tau: np.exp(-tau ** 2 / 2))}
    print(f"Per cent of {studies} simulated studies whose 95 % interval holds the upper limit / the SD; median of the SD's upper end over the truth\n")
    print("| people | spread of log SD | dependence | " + " | ".join(ways) + " |\n|---|---|---|" + "---|" * len(ways))
    for people in (8, 14, 30):
        for log_sd, dependent in ((0.0, 0.0), (0.0, 0.7), (0.8, 0.7), (1.2, 0.7)):
            rng = np.random.default_rng(11)
            sd = np.sqrt(1 + np.exp(2 * log_sd ** 2))
            held = {way: np.zeros(2) for way in ways}
            ends = {way: [] for way in ways}
            for _ in range(studies):
                d = study(rng, people, log_sd, dependent)
                for way, interval in ways.items():
                    upper, spread = interval(d, rng)
                    held[way] += [upper[0] <= 1.96 * sd <= upper[1], spread[0] <= sd <= spread[1]]
                    ends[way].append(spread[1] / sd)
            cells = [f"{100 * held[w][0] / studies:.0f} / {100 * held[w][1] / studies:.0f}; {np.median(ends[w]):.1f}" for w in ways]
            print(f"| {people} | {log_sd} | {dependent} | " + " | ".join(cells) + " |", flush=True)


main()
