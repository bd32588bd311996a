#!/usr/bin/env python3
"""Makes the golden values of logarithms, exponentials, angles and roots, with mpmath as the independent witness.

    /usr/bin/python3 tests/golden/make_elementary.py                writes elementary.json beside itself
    /usr/bin/python3 tests/golden/make_elementary.py coefficients   prints those of dsp/elementary/error_function.cpp

For each function arguments, the nearest double of the value, and what the value has more than that, in units of that
double's last place.
"""
import json
import math
import os
import random
import sys

import mpmath as mp

mp.mp.prec = 400
HERE = os.path.dirname(os.path.abspath(__file__))
ARGUMENTS = 80
random.seed(20240229)


def uniform(low, high):
    return lambda: random.uniform(low, high)


def log_uniform(low, high):
    return lambda: math.exp(random.uniform(math.log(low), math.log(high)))


def mixed(*makers):
    return lambda: random.choice(makers)()


positive = mixed(log_uniform(1e-300, 1e300), log_uniform(1e-3, 1e3), uniform(0.9, 1.1), uniform(0.9999, 1.0001))
angle = mixed(uniform(-7, 7), uniform(-0.1, 0.1), uniform(-1e5, 1e5), uniform(-1e14, 1e14),
              lambda: random.randint(-400, 400) * math.pi / 4)
small = mixed(uniform(-1, 1), uniform(-1e-3, 1e-3))
moderate = mixed(uniform(-20, 20), small)

FUNCTIONS = {
    "log": (mp.log, [positive]),
    "log2": (lambda x: mp.log(x) / mp.log(2), [positive]),
    "log10": (mp.log10, [positive]),
    "exp": (mp.exp, [mixed(uniform(-700, 700), moderate)]),
    "pow": (mp.power, [log_uniform(1e-10, 1e10), uniform(-25, 25)]),
    "sin": (mp.sin, [angle]),
    "cos": (mp.cos, [angle]),
    "tan": (mp.tan, [angle]),
    "sine_of_turns": (lambda x: mp.sin(2 * mp.pi * x), [mixed(uniform(-30, 30), uniform(-0.3, 0.3))]),
    "atan": (mp.atan, [mixed(moderate, log_uniform(1e-9, 1e9))]),
    "atan2": (mp.atan2, [moderate, moderate]),
    "acos": (mp.acos, [mixed(small, uniform(0.99, 1), uniform(-1, -0.99))]),
    "sinh": (mp.sinh, [mixed(moderate, uniform(-700, 700))]),
    "tanh": (mp.tanh, [moderate]),
    "atanh": (mp.atanh, [mixed(small, uniform(0.99, 1))]),
    "erfc": (mp.erfc, [mixed(uniform(-6, 6), uniform(0, 26), small)]),
    "hypot": (mp.hypot, [mixed(moderate, log_uniform(1e-300, 1e300)), mixed(moderate, log_uniform(1e-300, 1e300))]),
}


def golden():
    out = {}
    for name, (function, makers) in FUNCTIONS.items():
        rows = []
        while len(rows) < ARGUMENTS:
            arguments = [make() for make in makers]
            value = function(*[mp.mpf(a) for a in arguments])
            nearest = float(value)
            if nearest == 0 or not math.isfinite(nearest):
                continue
            rest = float((value - mp.mpf(nearest)) / mp.mpf(math.ulp(nearest)))
            rows.append([*arguments, nearest, round(rest, 6)])
        out[name] = rows
    with open(os.path.join(HERE, "elementary.json"), "w") as file:
        file.write("{\n" + ",\n".join(f'"{name}": [\n' + ",\n".join(json.dumps(row) for row in rows) + "]"
                                      for name, rows in out.items()) + "\n}\n")


def scaled_erfc(t):
    """(1 + 2 x) e^(x^2) erfc x at t = (x - 2) / (x + 2)."""
    x = 2 * (1 + t) / (1 - t)
    if x < 60:
        return (1 + 2 * x) * mp.exp(x * x) * mp.erfc(x)
    total, term = mp.mpf(0), mp.mpf(1)  # asymptotic series
    for n in range(40):
        total += term
        term *= -(2 * n + 1) / (2 * x * x)
    return (1 + 2 * x) / x / mp.sqrt(mp.pi) * total


def coefficients(nodes=80, degree=27):
    """The Chebyshev series cut off after `degree`, as a polynomial in t."""
    at = [mp.cos(mp.pi * (k + mp.mpf(1) / 2) / nodes) for k in range(nodes)]
    values = [scaled_erfc(t) for t in at]
    series = [2 / mp.mpf(nodes) * sum(v * mp.cos(mp.pi * j * (k + mp.mpf(1) / 2) / nodes) for k, v in enumerate(values))
              for j in range(degree + 1)]
    series[0] /= 2
    polynomials = [[mp.mpf(1)], [mp.mpf(0), mp.mpf(1)]]
    while len(polynomials) <= degree:
        double = [mp.mpf(0)] + [2 * c for c in polynomials[-1]]
        before = polynomials[-2] + [mp.mpf(0)] * (len(double) - len(polynomials[-2]))
        polynomials.append([a - b for a, b in zip(double, before)])
    for power in range(degree + 1):
        print(float(sum(c * p[power] for c, p in zip(series, polynomials) if power < len(p))).hex() + ",")


coefficients() if sys.argv[1:] == ["coefficients"] else golden()
