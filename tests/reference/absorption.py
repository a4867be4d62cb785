"""Uptake of water by a dry half-space whose diffusivity grows a thousandfold from dry to full, D = 3.8 (A/w_f)^2 1000^(w/w_f - 1), by SciPy.

In the reduced form share = w/w_f, y = eta / (sqrt(3.8) A / w_f), the problem has no constants left, so both answers are pure numbers.
Input: {"nodes": 800}. Output: "absorption_ratio", the absorption coefficient that comes out over the A put in (similarity solution); "ponding", time for
the face to fill under a steady flux i, over (A_out / i)^2 (method of lines).
"""

import json
import sys

import numpy as np
from scipy.integrate import solve_bvp, solve_ivp

K = np.log(1000.0)


def diffusivity(share):
    return np.exp(K * (share - 1.0))


def sorptivity():
    """Over the flux potential m = exp(K (share - 1)) / K, m' = -g, g' = (y / 2) share': smooth where the share is steep."""

    def slopes(y, state):
        share, g = state
        slope = -g / diffusivity(share)
        return np.array([slope, 0.5 * y * slope])

    end = 1.0
    y = np.concatenate([np.linspace(0.0, 0.45, 300), np.linspace(0.4502, 0.75, 4000), np.linspace(0.751, end, 100)])
    share = 1.0 + np.log(np.clip(1.0 - (y / 0.55), 1e-3, 1.0)) / K
    guess = np.array([share, 0.26 * np.clip(1.0 - y / 0.55, 0.0, 1.0)])
    found = solve_bvp(slopes, lambda a, b: np.array([a[0] - 1.0, b[0]]), y, guess, tol=1e-7, max_nodes=200000)
    if found.status != 0:
        raise SystemExit(found.message)
    return 2.0 * float(found.y[1][0])


def ponding(reduced_sorptivity, nodes):
    """Reduced: flux 1 at the face of a column long enough, until the face is full; the time over sorptivity squared."""
    x = np.linspace(0.0, 1.0, nodes) ** 1.5 * 0.45
    dx = np.diff(x)
    cells = np.zeros(nodes)
    cells[:-1] += dx / 2
    cells[1:] += dx / 2

    def rate(_, share):
        potential = diffusivity(share) / K
        flow = -np.diff(potential) / dx
        change = np.zeros(nodes)
        change[0] = 1.0
        change[:-1] -= flow
        change[1:] += flow
        return change / cells

    def full(_, share):
        return share[0] - 1.0

    full.terminal = True
    found = solve_ivp(rate, (0.0, 1.0), np.zeros(nodes), "LSODA", events=full, rtol=1e-7, atol=1e-9, lband=1, uband=1)
    if found.status != 1:
        raise SystemExit("the face never filled")
    return float(found.t_events[0][0]) / reduced_sorptivity**2


asked = json.load(sys.stdin)
reduced = sorptivity()
json.dump({"absorption_ratio": np.sqrt(3.8) * reduced, "ponding": ponding(reduced, asked["nodes"])}, sys.stdout)
