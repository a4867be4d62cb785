"""Rain on a lime-like layer and its drying, as a general-purpose stiff integrator solves it: SciPy's BDF on water and enthalpy by cell.

Written apart from the engine: explicit balances of a method of lines, liquid by the trapezoid of K over ln(suction), the face solved at every evaluation by
bracketing. Input: rain_mm_h, hours (list, rising), cells. Output: water, kg/m2, and run-off, kg/m2, at those hours.
"""

import json
import sys

import numpy as np
from scipy.integrate import cumulative_trapezoid, solve_ivp
from scipy.optimize import brentq

WS, A, N, M = 250.0, 2e-5, 1.6, 0.375
RHO_C, C_W, LATENT, R_V = 1700.0 * 850.0, 4187.0, 2.5e6, 461.5
THICKNESS, T_AIR, PHI_AIR, H_FILM, BETA = 0.05, 283.15, 0.8, 20.0, 1.4e-7
T_RAIN = 281.33


def p_sat(t):
    c = t - 273.15
    return 610.5 * np.exp(17.269 * c / (237.3 + c))


def water(pc):
    return WS * (1.0 + (A * pc) ** N) ** (-M)


def suction(w):
    share = np.clip(w / WS, 1e-6, 1.0 - 1e-12)
    return (share ** (-1.0 / M) - 1.0) ** (1.0 / N) / A


LN_PC = np.linspace(np.log(1e-3), np.log(1e9), 20001)
PC = np.exp(LN_PC)
CONDUCTIVITY = 2e-10 * (water(PC) / WS) ** 6
# Flux potential from each suction to the driest: the integral of K dp = K p dln p.
POTENTIAL = np.concatenate(([0.0], cumulative_trapezoid(CONDUCTIVITY * PC, LN_PC)))
POTENTIAL = POTENTIAL[-1] - POTENTIAL


def potential(pc):
    return np.interp(np.log(np.maximum(pc, 1e-3)), LN_PC, POTENTIAL)


def vapour(pc, t):
    return p_sat(t) * np.exp(-pc / (1000.0 * R_V * t))


class Layer:
    def __init__(self, cells, rain):
        growth = 20.0 ** (1.0 / (cells - 1))
        widths = growth ** np.arange(cells)
        self.dx = widths * THICKNESS / widths.sum()  # outermost first
        self.cells, self.rain = cells, rain
        self.between = 0.5 * (self.dx[:-1] + self.dx[1:])

    def face(self, pc, t, w):
        """Flow into the outermost cell, kg/(m2 s) liquid and vapour, heat, W/m2, and run-off."""
        half, lam = 0.5 * self.dx[0], 0.7 + 0.003 * w
        delta = 1.9e-11 * max(1.0 - w / WS, 0.0)
        p_air, p_cell, phi_cell = PHI_AIR * p_sat(T_AIR), vapour(pc, t), potential(pc)

        def temperature(pc_face):
            def heat(ts):
                pf = vapour(pc_face, ts)
                arriving = H_FILM * (T_AIR - ts) + LATENT * BETA * (p_air - pf)
                return arriving - lam * (ts - t) / half - LATENT * delta * (pf - p_cell) / half

            return brentq(heat, t - 20.0, t + 20.0, xtol=1e-10)

        def flows(pc_face):
            ts = temperature(pc_face)
            pf = vapour(pc_face, ts)
            return ts, (potential(pc_face) - phi_cell) / half, delta * (pf - p_cell) / half, BETA * (p_air - pf)

        def short(ln_pc):
            _, liquid, inward, film = flows(np.exp(ln_pc))
            return self.rain + film - liquid - inward

        low, high, runoff = np.log(1e-3), np.log(5e8), 0.0
        if short(low) > 0.0:  # even a saturated face cannot take it all
            root, runoff = low, short(low)
        else:
            root = brentq(short, low, high, xtol=1e-12)
        ts, liquid, inward, film = flows(np.exp(root))
        heat = H_FILM * (T_AIR - ts) + LATENT * film
        return liquid, inward, heat + C_W * (self.rain - runoff) * (T_RAIN - 273.15) + C_W * film * (ts - 273.15), runoff, ts

    def rates(self, _, state):
        w, energy = state[: 2 * self.cells : 2], state[1 : 2 * self.cells : 2]
        t = 273.15 + energy / (RHO_C + C_W * w)
        pc = suction(w)
        p, phi = vapour(pc, t), potential(pc)
        delta = 1.9e-11 * np.maximum(1.0 - w / WS, 0.0)
        lam = 0.7 + 0.003 * w
        half = 0.5 * self.dx
        liquid = (phi[:-1] - phi[1:]) / self.between
        vap = (p[:-1] - p[1:]) / (half[:-1] / np.maximum(delta[:-1], 1e-30) + half[1:] / np.maximum(delta[1:], 1e-30))
        upwind = np.where(liquid + vap > 0.0, t[:-1], t[1:]) - 273.15
        heat = (t[:-1] - t[1:]) / (half[:-1] / lam[:-1] + half[1:] / lam[1:]) + LATENT * vap + C_W * (liquid + vap) * upwind
        into_liquid, into_vapour, into_heat, runoff, _ = self.face(pc[0], t[0], w[0])
        mass_in = np.concatenate(([into_liquid + into_vapour], liquid + vap))
        heat_in = np.concatenate(([into_heat], heat))
        dw = (mass_in - np.append(mass_in[1:], 0.0)) / self.dx
        dh = (heat_in - np.append(heat_in[1:], 0.0)) / self.dx
        rates = np.empty_like(state)
        rates[: 2 * self.cells : 2], rates[1 : 2 * self.cells : 2], rates[-1] = dw, dh, runoff
        return rates


def main():
    asked = json.load(sys.stdin)
    cells, hours = asked["cells"], asked["hours"]
    w0 = water(-1000.0 * R_V * T_AIR * np.log(0.8))
    state = np.empty(2 * cells + 1)
    state[: 2 * cells : 2], state[1 : 2 * cells : 2], state[-1] = w0, (RHO_C + C_W * w0) * 10.0, 0.0
    band = np.abs(np.subtract.outer(np.arange(2 * cells + 1), np.arange(2 * cells + 1))) <= 3
    band[-1, :4] = True
    totals, runoffs, now = [], [], 0.0
    for hour in hours:
        for start, end, rain in ((now, min(hour, 6.0), asked["rain_mm_h"] / 3600.0), (max(now, 6.0), hour, 0.0)):
            if end <= start:
                continue
            layer = Layer(cells, rain)
            done = solve_ivp(
                layer.rates, (3600.0 * start, 3600.0 * end), state, method="BDF", rtol=1e-5, atol=1e-5, jac_sparsity=band, first_step=1e-3
            )
            assert done.success, done.message
            state = done.y[:, -1]
        now = hour
        totals.append(float((state[: 2 * cells : 2] * Layer(cells, 0.0).dx).sum()))
        runoffs.append(float(state[-1]))
    json.dump({"water_kg_m2": totals, "run_off_kg_m2": runoffs}, sys.stdout)


main()
