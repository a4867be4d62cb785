"""Special functions and roots by SciPy.

Input: {"x": [...], "ratio": [...], "freezing": [[face, freezing, start, k_f, k_u, C_f, C_u, latent], ...]}; any list may be empty.
Output: "erf", "erfc", "erfcx" of each x; "root", for each ratio r the root of sqrt(pi) L exp(L^2) erf(L) = r; "neumann", for each freezing half-space the
constant of Neumann's front (Carslaw and Jaeger 11.2).
"""

import json
import sys

import numpy as np
from scipy.optimize import brentq
from scipy.special import erf, erfc, erfcx



def neumann(face, freezing, start, k_f, k_u, c_f, c_u, latent):
    nu = np.sqrt(k_f / c_f / (k_u / c_u))
    share = k_u / k_f * nu * (start - freezing) / (freezing - face)
    load = np.sqrt(np.pi) * latent / (c_f * (freezing - face))
    return brentq(
        lambda l: np.exp(-l * l) / erf(l) - share * np.exp(-((nu * l) ** 2)) / erfc(nu * l) - load * l, 1e-9, 3.0, xtol=1e-15, rtol=1e-14
    )


asked = json.load(sys.stdin)
x = np.array(asked["x"])
roots = [brentq(lambda l: np.sqrt(np.pi) * l * np.exp(l * l) * erf(l) - r, 0.0, 5.0, xtol=1e-15, rtol=1e-14) for r in asked["ratio"]]
json.dump({"erf": erf(x).tolist(), "erfc": erfc(x).tolist(), "erfcx": erfcx(x).tolist(), "root": roots, "neumann": [neumann(*case) for case in asked["freezing"]]}, sys.stdout)
