"""Relative conductivity of pores by Mualem's integral, evaluated by SciPy with van Genuchten's retention.

k(S) = sqrt(S) * (I(S) / I(1))^2, I(S) = integral of dS / p_c from 0 to S.
Input: a list of [n, S]. Output: a list of k.
"""

import json
import sys

import numpy as np
from scipy.integrate import quad


def relative(n, s):
    m = 1.0 - 1.0 / n

    def integral(top):
        # S = z^m turns the end at S = 1, where suction vanishes, into a weak algebraic one that quad's weight takes exactly.
        if top < 1.0:
            return quad(lambda z: m * z ** (m - 1.0 + 1.0 / n) * (1.0 - z) ** (-1.0 / n), 0.0, top ** (1.0 / m), epsabs=0, epsrel=1e-12)[0]
        return quad(lambda z: m, 0.0, 1.0, weight="alg", wvar=(m - 1.0 + 1.0 / n, -1.0 / n), epsabs=0, epsrel=1e-12)[0]

    return np.sqrt(s) * (integral(s) / integral(1.0)) ** 2


json.dump([float(relative(n, s)) for n, s in json.load(sys.stdin)], sys.stdout)
