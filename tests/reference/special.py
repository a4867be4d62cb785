"""Special functions and roots by SciPy.

Input: {"x": [...], "ratio": [...]}. Output: erf, erfc, erfcx of each x, and for each ratio r the root of sqrt(pi) L exp(L^2) erf(L) = r.
"""

import json
import sys

import numpy as np
from scipy.optimize import brentq
from scipy.special import erf, erfc, erfcx

asked = json.load(sys.stdin)
x = np.array(asked["x"])
roots = [brentq(lambda l: np.sqrt(np.pi) * l * np.exp(l * l) * erf(l) - r, 0.0, 5.0, xtol=1e-15, rtol=1e-14) for r in asked["ratio"]]
json.dump({"erf": erf(x).tolist(), "erfc": erfc(x).tolist(), "erfcx": erfcx(x).tolist(), "root": roots}, sys.stdout)
