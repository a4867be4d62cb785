"""Carbonation of a body at a finite rate by the method of lines (SciPy).

    0 = D c_xx - r,   b_t = -r,   r = k c b / b0,   c = CO2 in the pore air at a place (mol/m3 of air), D per plan area

with the face at c = air, or behind a film, and no flow through the far side. The gas is solved anew for every state of the portlandite, so no
analytic step is shared with the engine's closed form.

Input: {"diffusivity_m2_s", "rate_per_s", "capacity_mol_m3", "air_mol_m3", "film_m_s" (null for none), "length_m", "nodes", "times_s": [...],
"shares": [...]}. Output for each time: "uptake_mol_m2", "depths_m" (for each share, the depth at which that share of portlandite is left; null if the
face has more), and "left" with "x_m", the whole profile.
"""

import json
import sys

import numpy as np
from scipy.integrate import solve_ivp
from scipy.linalg import solve_banded

asked = json.load(sys.stdin)
D, k, b0, air = (asked[name] for name in ("diffusivity_m2_s", "rate_per_s", "capacity_mol_m3", "air_mol_m3"))
film, nodes, times = asked.get("film_m_s"), asked["nodes"], asked["times_s"]
x = np.linspace(0.0, asked["length_m"], nodes)
dx = x[1]
cells = np.full(nodes, dx)
cells[[0, -1]] = dx / 2


def gas(share):
    """Steady concentration for a share of portlandite left at each node."""
    bands, right = np.zeros((3, nodes)), np.zeros(nodes)
    bands[0, 1:] = bands[2, :-1] = -D / dx
    bands[1] = k * share * cells + 2.0 * D / dx
    bands[1, 0] -= D / dx
    bands[1, -1] -= D / dx
    if film is None:
        bands[1, 0], bands[0, 1], right[0] = 1.0, 0.0, air
    else:
        bands[1, 0] += film
        right[0] = film * air
    return solve_banded((1, 1), bands, right)


def rate(_, share):
    share = np.clip(share, 0.0, 1.0)
    return -k * gas(share) * share / b0


found = solve_ivp(rate, (0.0, max(times)), np.ones(nodes), "DOP853", t_eval=times, rtol=1e-7, atol=1e-9)
if not found.success:
    raise SystemExit(found.message)

answer = {"x_m": x.tolist(), "uptake_mol_m2": [], "depths_m": [], "left": []}
for share in found.y.T:
    answer["uptake_mol_m2"].append(float(b0 * ((1.0 - share) @ cells)))
    answer["left"].append(share.tolist())
    answer["depths_m"].append([float(np.interp(s, share, x)) if s > share[0] else None for s in asked["shares"]])
json.dump(answer, sys.stdout)
