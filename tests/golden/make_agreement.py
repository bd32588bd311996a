#!/usr/bin/env python3
"""Statistics of agreement computed with numpy and scipy alone, from their textbook definitions: agreement.json.

Intraclass correlations come here from the two-way table of means squares built with array operations, the equivalence test from scipy's own one-sided t tests, the
intervals of limits from scipy's noncentral t, the trend from scipy.stats.linregress. Run with the system's Python; values are written with 12 digits.
"""
import json
import pathlib

import numpy as np
from scipy import stats

rng = np.random.default_rng(20)

# Bland & Altman 1986, Lancet i:307: peak flow, first readings of both meters.
W1 = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427]
M1 = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]


def limits(d):
    n, bias, sd = len(d), np.mean(d), np.std(d, ddof=1)
    lo, hi = stats.nct.ppf([0.025, 0.975], n - 1, 1.96 * np.sqrt(n)) / np.sqrt(n)
    t = stats.t.ppf(0.975, n - 1) * sd / np.sqrt(n)
    return {"bias": [bias, bias - t, bias + t], "sd": sd, "lower": [bias - 1.96 * sd, bias - hi * sd, bias - lo * sd],
            "upper": [bias + 1.96 * sd, bias + lo * sd, bias + hi * sd]}


def intraclass(table):
    n, k = table.shape
    grand = table.mean()
    msr = k * ((table.mean(axis=1) - grand) ** 2).sum() / (n - 1)
    msc = n * ((table.mean(axis=0) - grand) ** 2).sum() / (k - 1)
    residual = table - table.mean(axis=1, keepdims=True) - table.mean(axis=0, keepdims=True) + grand
    mse = (residual ** 2).sum() / ((n - 1) * (k - 1))
    msw = ((table - table.mean(axis=1, keepdims=True)) ** 2).sum() / (n * (k - 1))
    f = lambda a, b: stats.f.ppf(0.975, a, b)

    def single(noise, df):
        low, high = msr / noise / f(n - 1, df), msr / noise * f(df, n - 1)
        return [(msr - noise) / (msr + (k - 1) * noise), (low - 1) / (low + k - 1), (high - 1) / (high + k - 1)]

    value = (msr - mse) / (msr + (k - 1) * mse + k * (msc - mse) / n)
    a, b = k * value / (n * (1 - value)), 1 + k * value * (n - 1) / (n * (1 - value))
    df = (a * msc + b * mse) ** 2 / ((a * msc) ** 2 / (k - 1) + (b * mse) ** 2 / ((n - 1) * (k - 1)))
    both, fl, fu = k * msc + (k * n - k - n) * mse, f(n - 1, df), f(df, n - 1)
    return {"one_way": single(msw, n * (k - 1)), "consistency": single(mse, (n - 1) * (k - 1)),
            "agreement": [value, n * (msr - fl * mse) / (fl * both + n * msr), n * (fu * msr - mse) / (both + n * fu * msr)]}


def equivalence(units, margin):
    upper = stats.ttest_1samp(units, margin, alternative="less").pvalue
    lower = stats.ttest_1samp(units, -margin, alternative="greater").pvalue
    n = len(units)
    t = stats.t.ppf(0.95, n - 1) * np.std(units, ddof=1) / np.sqrt(n)
    return {"margin": margin, "p": max(upper, lower), "bias": [np.mean(units), np.mean(units) - t, np.mean(units) + t]}


def line(x, y):
    fit = stats.linregress(x, y)
    t = stats.t.ppf(0.975, len(x) - 2) * fit.stderr
    return fit, {"slope": [fit.slope, fit.slope - t, fit.slope + t], "intercept": fit.intercept, "p": fit.pvalue}


def case(reference, test, person, margin):
    reference, test, person = np.array(reference, float), np.array(test, float), np.array(person)
    d, mean = test - reference, (test + reference) / 2
    fit, trend = line(mean, d)
    _, spread = line(mean, np.abs(d - fit.intercept - fit.slope * mean))
    r = stats.pearsonr(reference, test)
    ends = r.confidence_interval(0.95)
    people = np.unique(person)
    units = np.array([d[person == p].mean() for p in people]) if len(people) > 1 else d
    ratio = limits(np.log(test / reference))
    covariance = np.cov(reference, test, ddof=0)
    return {
        "reference": reference.tolist(), "test": test.tolist(), "person": person.tolist(),
        "limits": limits(d), "trend": trend, "spread": spread, "pearson": [r.statistic, ends.low, ends.high],
        "intraclass": intraclass(np.column_stack([reference, test])), "equivalence": equivalence(units, margin),
        "ratio": {key: np.exp(ratio[key]).tolist() for key in ["bias", "lower", "upper"]},
        "concordance": 2 * covariance[0, 1] / (covariance[0, 0] + covariance[1, 1] + d.mean() ** 2),
        "mean_absolute": np.abs(d).mean(), "mean_absolute_percent": 100 * (np.abs(d) / reference).mean(),
        "root_mean_square": np.sqrt((d ** 2).mean()),
        "within": [100 * (np.abs(d) <= 5).mean(), 100 * (np.abs(d) <= 10).mean(), 100 * (np.abs(d) <= np.maximum(5, 0.1 * reference)).mean()],
    }


def rounded(value):
    if isinstance(value, dict):
        return {key: rounded(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple, np.ndarray)):
        return [rounded(inner) for inner in value]
    return float(f"{value:.12g}") if isinstance(value, float) else value


person = np.repeat(np.arange(8), [3, 5, 4, 6, 2, 7, 4, 5])
reference = np.round(rng.uniform(60, 180, len(person)), 1)
own_bias = rng.normal(1.5, 2, 8)
test = np.round(reference + own_bias[person] + rng.normal(0, 1 + reference / 60), 1)
noncentral = [[p, df, nc, stats.nct.ppf(p, df, nc)] for p in (0.025, 0.975) for df, nc in ((1, 2.77), (16, 8.081), (99, 19.6), (899, 58.8))]
result = {"peak_flow": case(W1, M1, list(range(17)), 20.0), "rates": case(reference, test, person, 5.0),
          "noncentral": [[float(v) for v in row] for row in noncentral],
          "half_width": [[sd, n, sd / np.sqrt(n) / 2 * float(np.diff(stats.nct.ppf([0.025, 0.975], n - 1, 1.96 * np.sqrt(n)))[0])]
                         for sd, n in ((5.0, 10), (5.0, 50), (3.0, 200))]}
target = pathlib.Path(__file__).with_name("agreement.json")
target.write_text(json.dumps(rounded(result), indent=1) + "\n")
