"""The step of EN 15026:2007, Annex A, solved as a boundary-value problem by SciPy.

A half-space at 20 C and 50 % relative humidity whose face is held at 30 C and 95 % from t = 0 has no length of its own, so moisture and
temperature depend on eta = x / sqrt(t) alone. With fluxes G and Q times sqrt(t), and a prime for d/d(eta):

    G = -delta p_v' + K p_c'           G' = (eta / 2) w'
    Q = -lambda T' - L delta p_v'      Q' = (eta / 2) (rho c + c_w w) T'

The unknowns are ln p_c, T, G and Q. The functions are those of the standard, written out here again, independent of the engine's.

Input: {"eta_m_s05": [...]} in metres per square root of a second; optional "latent_j_kg" (2.5e6), "water_heat_j_kgk" (4187).
Output: w (kg/m3), t_c and humidity at each eta; "uptake_kg_m2_s05", the moisture taken up since the start over the square root of time;
"residual", the greatest relative residual that solve_bvp left.
"""

import json
import sys

import numpy as np
from scipy.integrate import solve_bvp
from scipy.special import erfc

GAS = 8.314462618 / 0.01801528
WATER = 1000.0


def saturation(t):
    c = t - 273.15
    return 610.5 * np.exp(17.269 * c / (237.3 + c))


def water(pc):
    return 146.0 / (1.0 + (8e-8 * pc) ** 1.6) ** 0.375


def water_slope(pc):
    x = (8e-8 * pc) ** 1.6
    return -146.0 * 0.375 * 1.6 * x / pc / (1.0 + x) ** 1.375


def permeability(w, t):
    dry = 1.0 - w / 146.0
    return 26.1e-6 / 200.0 / (GAS * t) * dry / (0.503 * dry**2 + 0.497)


def conductivity(w):
    return np.exp(np.polyval([2.5969e-9, -1.1566e-7, -2.7953e-6, -1.7420e-4, 0.0704, -39.2619], w - 73.0))


def suction(humidity, t):
    return -WATER * GAS * t * np.log(humidity)


def solve(latent, water_heat):
    """Solves over a stretched coordinate s, eta = SCALE * (exp(s) - 1), from the face to 60 times the reach of heat."""
    scale, far = 2e-6, 0.06
    end = np.log1p(far / scale)

    def slopes(s, y):
        u, t, g, q = y
        eta = scale * np.expm1(s)
        pc = np.exp(u)
        w = water(pc)
        delta = permeability(w, t)
        p = saturation(t) * np.exp(-pc / (WATER * GAS * t))
        p_t = p * (17.269 * 237.3 / (237.3 + t - 273.15) ** 2 + pc / (WATER * GAS * t * t))
        p_u = -p * pc / (WATER * GAS * t)
        a11, a12 = -delta * p_u + conductivity(w) * pc, -delta * p_t
        a21, a22 = -latent * delta * p_u, -(1.5 + 0.0158 * w) - latent * delta * p_t
        det = a11 * a22 - a12 * a21
        du = (g * a22 - a12 * q) / det
        dt = (a11 * q - a21 * g) / det
        dg = 0.5 * eta * water_slope(pc) * pc * du
        dq = 0.5 * eta * (1.824e6 + water_heat * w) * dt
        return np.array([du, dt, dg, dq]) * scale * np.exp(s)

    face, inside = (np.log(suction(0.95, 303.15)), 303.15), (np.log(suction(0.5, 293.15)), 293.15)

    def ends(a, b):
        return np.array([a[0] - face[0], a[1] - face[1], b[0] - inside[0], b[1] - inside[1]])

    s = np.linspace(0.0, end, 1500)
    eta = scale * np.expm1(s)
    damp, warm = erfc(eta / 6e-5), erfc(eta / 2.2e-3)
    guess = np.array([inside[0] + (face[0] - inside[0]) * damp, inside[1] + (face[1] - inside[1]) * warm, 1e-4 * damp, 20e3 * warm])
    found = solve_bvp(slopes, ends, s, guess, tol=1e-8, max_nodes=60000)
    if found.status != 0:
        raise SystemExit(f"the boundary-value problem was not solved: {found.message}")
    return found, scale


asked = json.load(sys.stdin)
found, scale = solve(asked.get("latent_j_kg", 2.5e6), asked.get("water_heat_j_kgk", 4187.0))
eta = np.array(asked["eta_m_s05"])
u, t, _, _ = found.sol(np.log1p(eta / scale))
json.dump(
    {
        "w_kg_m3": water(np.exp(u)).tolist(),
        "t_c": (t - 273.15).tolist(),
        "humidity": np.exp(-np.exp(u) / (WATER * GAS * t)).tolist(),
        "uptake_kg_m2_s05": 2.0 * float(found.y[2][0]),
        "residual": float(np.max(found.rms_residuals)),
    },
    sys.stdout,
)
