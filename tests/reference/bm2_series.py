"""HAMSTAD benchmark 2 by NumPy and SciPy: isothermal drying of a 200 mm slab (Hagentoft et al. 2004; inputs from memory of that paper).

Input: {"hours": [...], "depths_m": [...], "nodes": 801}; depths from the outside. Output, for each time, lists over the depths:
"fixed", the exact series with the faces held at the content of the air's humidity; "film", the slab behind vapour films of 1e-3 m/s (method of
lines on nodes, implicit in time); "fixed_mean" and "film_mean", means over the slab; "film_face_humidity", humidity of the two faces.
"""

import json
import sys

import numpy as np
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline

D, LENGTH, TEMPERATURE = 6e-10, 0.2, 293.15
SATURATED = 610.5 * np.exp(17.269 * 20.0 / (237.3 + 20.0))
FILM = 1e-3 / (8.314462618 / 0.01801528 * TEMPERATURE)
OUTSIDE, INSIDE, START = 0.45, 0.65, 0.95


def water(humidity):
    return 116.0 / (1.0 - np.log(humidity) / 0.118) ** 0.869


def humidity(w):
    return np.exp(0.118 * (1.0 - (116.0 / w) ** (1.0 / 0.869)))


def series(x, t):
    left, right, start = water(OUTSIDE), water(INSIDE), water(START)
    n = np.arange(1, 4001)
    b = 2.0 / (n * np.pi) * ((start - left) - (-1.0) ** n * (start - right))
    decay = np.exp(-D * (n * np.pi / LENGTH) ** 2 * t)
    profile = left + (right - left) * x / LENGTH + np.sin(np.outer(x, n) * np.pi / LENGTH) @ (b * decay)
    odd = n % 2 == 1
    mean = 0.5 * (left + right) + np.sum((b * decay * 2.0 / (n * np.pi))[odd])
    return profile, mean


def with_films(times, nodes):
    dx = LENGTH / (nodes - 1)
    cells = np.full(nodes, dx)
    cells[[0, -1]] = dx / 2

    def rate(_, w):
        flow = D * np.diff(w) / dx
        change = np.zeros_like(w)
        change[:-1] += flow
        change[1:] -= flow
        change[0] += FILM * SATURATED * (OUTSIDE - humidity(w[0]))
        change[-1] += FILM * SATURATED * (INSIDE - humidity(w[-1]))
        return change / cells

    start = np.full(nodes, water(START))
    found = solve_ivp(rate, (0.0, max(times)), start, "LSODA", t_eval=times, rtol=1e-8, atol=1e-8, lband=1, uband=1)
    if not found.success:
        raise SystemExit(found.message)
    return np.linspace(0.0, LENGTH, nodes), found.y.T, cells


asked = json.load(sys.stdin)
depths, times = np.array(asked["depths_m"]), [3600.0 * h for h in asked["hours"]]
grid, filmed, cells = with_films(times, asked.get("nodes", 801))
fixed = [series(depths, t) for t in times]
json.dump(
    {
        "fixed": [profile.tolist() for profile, _ in fixed],
        "fixed_mean": [float(mean) for _, mean in fixed],
        "film": [CubicSpline(grid, w)(depths).tolist() for w in filmed],
        "film_mean": [float(w @ cells / LENGTH) for w in filmed],
        "film_face_humidity": [[float(humidity(w[0])), float(humidity(w[-1]))] for w in filmed],
    },
    sys.stdout,
)
