"""The materials bench by SciPy: blends of sands as constrained least squares, baths of quicklime by their balance of enthalpy, and the temperature at
which Ca(OH)2 and one atmosphere of steam are in equilibrium.

Input: {"blends": [{"passing": rows of sieves by sands, "target": [...], "low": [...], "high": [...], "floor": [...], "ceiling": [...]}, ...],
"baths": [[kg water for a kg of quicklime, purity, start in Celsius], ...], "heat": J/kg of CaO, "bound": kg/kg, "slaked": kg/kg}.
Output: {"blends": [[share, ...], ...], "sums": [sum of squares, ...], "baths": [hottest in Celsius, without the limit of decomposition], "equilibrium":
Celsius}.
"""

import json
import sys

import numpy as np
from chemicals import heat_capacity
from chemicals.reaction import S0g, S0s, Hfg, Hfs
from scipy.integrate import quad
from scipy.optimize import brentq, minimize


def blended(case):
    table, target = np.array(case["passing"]), np.array(case["target"])
    count = table.shape[1]
    limits = [
        {"type": "eq", "fun": lambda x: x.sum() - 1.0, "jac": lambda x: np.ones(count)},
        {"type": "ineq", "fun": lambda x: table @ x - np.array(case["floor"]), "jac": lambda x: table},
        {"type": "ineq", "fun": lambda x: np.array(case["ceiling"]) - table @ x, "jac": lambda x: -table},
    ]
    start = np.full(count, 1.0 / count)
    found = minimize(
        lambda x: ((table @ x - target) ** 2).sum(),
        start,
        jac=lambda x: 2.0 * table.T @ (table @ x - target),
        bounds=list(zip(case["low"], case["high"])),
        constraints=limits,
        method="SLSQP",
        options={"ftol": 1e-16, "maxiter": 1000},
    )
    return found.x.tolist(), float(found.fun)


def bath(asked, water, purity, start):
    """Root of heat set free = heat taken up, the heat taken up integrated over temperature with boiling spread over a thousandth of a kelvin."""
    slaked = min(water / (asked["bound"] * purity), 1.0)
    free = water - asked["bound"] * purity * slaked
    heat = asked["heat"] * purity * slaked

    def taken(warm):
        def solids(hydrate):
            return purity * (slaked * asked["slaked"] * hydrate + (1.0 - slaked) * 850.0) + (1.0 - purity) * 850.0

        low = quad(lambda _: solids(1180.0) + free * 4190.0, start, min(warm, 100.0))[0]
        boiled = free * 2257000.0 * min(max((warm - 100.0) / 1e-3, 0.0), 1.0)
        high = quad(lambda _: solids(1450.0), 100.0, warm)[0] if warm > 100.0 else 0.0
        return low + boiled + high

    return brentq(lambda warm: taken(warm) - heat, start, 5000.0, xtol=1e-9)


def equilibrium():
    """Where the Gibbs energy of Ca(OH)2 = CaO + steam at one atmosphere is nought: CRC formation and entropy, NIST heat capacities."""
    heat_capacity._load_Cp_data()
    oxide = heat_capacity.WebBook_Shomate_solids["1305-78-8"]
    hydroxide = heat_capacity.WebBook_Shomate_solids["1305-62-0"]
    steam = heat_capacity.WebBook_Shomate_gases["7732-18-5"]

    def change(warm):
        return oxide.force_calculate(warm) + steam.force_calculate(max(warm, 298.15)) - hydroxide.force_calculate(warm)

    heat = Hfs("1305-78-8", method="CRC") + Hfg("7732-18-5", method="CRC") - Hfs("1305-62-0", method="CRC")
    entropy = S0s("1305-78-8", method="CRC") + S0g("7732-18-5", method="CRC") - S0s("1305-62-0", method="CRC")

    def gibbs(warm):
        return heat + quad(change, 298.15, warm)[0] - warm * (entropy + quad(lambda t: change(t) / t, 298.15, warm)[0])

    return brentq(gibbs, 500.0, 1100.0) - 273.15


asked = json.load(sys.stdin)
blends = [blended(case) for case in asked["blends"]]
json.dump(
    {
        "blends": [shares for shares, _ in blends],
        "sums": [total for _, total in blends],
        "baths": [bath(asked, *case) for case in asked["baths"]],
        "equilibrium": equilibrium(),
    },
    sys.stdout,
)
