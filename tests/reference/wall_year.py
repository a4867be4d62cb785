"""Heat and moisture of one wall through hourly weather, by the method of lines (SciPy's LSODA, banded Jacobian, right-hand side compiled by Numba).

The same cells and the same laws as the engine, but nothing of its numerics: closed forms instead of tables, ordinary differential equations in
(ln suction, temperature) of each cell with the two faces solved as algebraic equations, steps and order chosen by the integrator for a tolerance. Weather
stands still within an hour, and the integrator starts anew with each.

Input: {"widths_m", "material", "latent_j_kg", "start": [T_k, suction_pa], "inner": {"air_k", "vapour_pa", "heat", "vapour"}, "outer": the same as lists by
the hour with "absorbed", "longwave" and one "emissivity", "probes": cell numbers, "rtol" (the absolute
tolerances are 1e3 times that in ln suction and 1e4 times in K), "time": how often to time each solver, or null}. Output: "t_k" and "humidity", by the
hour and probe. With "time" also, for each solver tried, its processor seconds and root-mean-square errors against the tight one.
"""

import json
import math
import sys
import time

import numpy as np
from numba import njit
from scipy.integrate import odeint

# Heat of water, J/(kg K); gas constant of vapour, J/(kg K); density of water, kg/m3; Stefan-Boltzmann: the engine's `physics::constants`.
ZERO, CW, RV, RHO, SIGMA = 273.15, 4187.0, 8.314462618 / 0.018015268, 1000.0, 5.670374419e-8


@njit(inline="always")
def point(y, t, m):
    """Water, its slope by y, potential of liquid, vapour factor, vapour pressure."""
    ws, a, n = m[0], m[1], m[2]
    suction = math.exp(y)
    x = (a * suction) ** n
    w = ws * (1.0 + x) ** (1.0 / n - 1.0)
    slope = -w * (n - 1.0) * x / (1.0 + x)
    potential = 3.8 * (m[3] / ws) ** 2 * ws * 1000.0 ** (w / ws - 1.0) / math.log(1000.0)
    c = t - 273.15
    p = 610.5 * math.exp(17.269 * c / (237.3 + c) - suction / (RHO * RV * t))
    return w, slope, potential, max(1.0 - w / ws, 0.0) / m[4], p


@njit(inline="always")
def link(a, b, ta, tb, inverse, conduction, latent):
    """Flow of water and of heat from a to b."""
    air = 2.0e-7 * (0.5 * (ta + tb)) ** 0.81 / 101325.0 * inverse
    vapour = air * 0.5 * (a[3] + b[3]) * (a[4] - b[4])
    water = vapour + (a[2] - b[2]) * inverse
    return water, conduction * (ta - tb) + latent * vapour + water * CW * (0.5 * (ta + tb) - ZERO)


@njit(inline="always")
def face_residual(y, t, cell, tc, inverse, conduction, c, latent, m):
    """What the wall brings to a face less what the film takes away: c = air, vapour, heat film, vapour film, absorbed, emissivity, long-wave."""
    p = point(y, t, m)
    water, heat = link(cell, p, tc, t, inverse, conduction, latent)
    gone = c[3] * (p[4] - c[1])
    lost = c[2] * (t - c[0]) - c[4] + c[5] * (SIGMA * t**4 - c[6]) + (CW * (t - ZERO) + latent) * gone
    return water - gone, heat - lost, gone, lost


@njit
def face(guess, cell, tc, inverse, conduction, c, latent, m):
    """State of a face without volume, and the flows out through it."""
    y, t = guess[0], guess[1]
    for _ in range(60):
        r0, h0, gone, lost = face_residual(y, t, cell, tc, inverse, conduction, c, latent, m)
        r1, h1, _, _ = face_residual(y + 1e-6, t, cell, tc, inverse, conduction, c, latent, m)
        r2, h2, _, _ = face_residual(y, t + 1e-5, cell, tc, inverse, conduction, c, latent, m)
        ry, hy, rt, ht = (r1 - r0) * 1e6, (h1 - h0) * 1e6, (r2 - r0) * 1e5, (h2 - h0) * 1e5
        d = ry * ht - rt * hy
        dy, dt = -(r0 * ht - rt * h0) / d, -(ry * h0 - r0 * hy) / d
        y = min(max(y + min(max(dy, -1.0), 1.0), -5.0), 24.0)
        t += min(max(dt, -15.0), 15.0)
        if abs(dy) < 1e-9 and abs(dt) < 1e-8:
            break
    guess[0], guess[1] = y, t
    return gone, lost


@njit
def rates(now, u, widths, m, inner, outer, latent, guesses):
    """Derivatives of (y, T) of every cell."""
    n = widths.size
    out = np.empty(2 * n)
    here = point(u[0], u[1], m)
    conductivity = m[5] + m[6] * here[0]
    water_in, heat_in = face(guesses[0], here, u[1], 2.0 / widths[0], conductivity * 2.0 / widths[0], inner, latent, m)
    water_in, heat_in = -water_in, -heat_in
    for i in range(n):
        t = u[2 * i + 1]
        nearest = here
        if i + 1 < n:
            here = point(u[2 * i + 2], u[2 * i + 3], m)
            other = m[5] + m[6] * here[0]
            resistance = 0.5 * widths[i] / conductivity + 0.5 * widths[i + 1] / other
            water, heat = link(nearest, here, t, u[2 * i + 3], 2.0 / (widths[i] + widths[i + 1]), 1.0 / resistance, latent)
            conductivity = other
        else:
            water, heat = face(guesses[1], nearest, t, 2.0 / widths[i], conductivity * 2.0 / widths[i], outer, latent, m)
        wetting = (water_in - water) / widths[i]
        warming = (heat_in - heat) / widths[i]
        out[2 * i] = wetting / nearest[1]
        out[2 * i + 1] = (warming - CW * (t - ZERO) * wetting) / (m[7] + CW * nearest[0])
        water_in, heat_in = water, heat
    return out


def read(asked):
    """The case as arrays."""
    law = asked["material"]
    names = ("saturation", "a", "n", "absorption", "resistance", "conductivity", "conductivity_per_water", "dry_heat")
    m = np.array([law[name] for name in names])
    widths = np.array(asked["widths_m"])
    i, o = asked["inner"], asked["outer"]
    inner = np.array([i["air_k"], i["vapour_pa"], i["heat"], i["vapour"], 0.0, 0.0, 0.0])
    hours = len(o["air_k"])
    columns = [o["air_k"], o["vapour_pa"], o["heat"], o["vapour"], o["absorbed"], [o["emissivity"]] * hours, o["longwave"]]
    outer = np.array(columns).T.copy()
    start = np.tile([math.log(asked["start"][1]), asked["start"][0]], widths.size)
    return m, widths, inner, outer, start


def integrate(asked, rtol, atol):
    """State at the end of every hour."""
    m, widths, inner, outer, u = read(asked)
    guesses = np.array([[u[0], u[1]], [u[0], u[1]]])
    latent = asked["latent_j_kg"]
    found = np.empty((len(outer), u.size))
    span = np.array([0.0, 3600.0])
    for hour in range(len(found)):
        told = (widths, m, inner, outer[hour], latent, guesses)
        u = odeint(rates, u, span, args=told, tfirst=True, ml=3, mu=3, rtol=rtol, atol=atol, mxstep=20000)[1]
        found[hour] = u
    return found


def seen(found):
    """Temperature and relative humidity of every cell."""
    y, t = found[:, 0::2], found[:, 1::2]
    return t, np.exp(-np.exp(y) / (RHO * RV * t))


def error(found, truth):
    """Root-mean-square errors of temperature and humidity over all hours and cells."""
    (t, humidity), (t0, humidity0) = seen(found), seen(truth)
    return [float(np.sqrt(np.mean((t - t0) ** 2))), float(np.sqrt(np.mean((humidity - humidity0) ** 2)))]


if __name__ == "__main__":
    asked = json.load(sys.stdin)
    rtol = asked["rtol"]
    truth = integrate(asked, rtol, np.tile([1e3 * rtol, 1e4 * rtol], len(asked["widths_m"])))
    t, humidity = seen(truth)
    answer = {"t_k": t[:, asked["probes"]].ravel().tolist(), "humidity": humidity[:, asked["probes"]].ravel().tolist()}
    if asked.get("time"):
        from wall_year_numba import implicit

        answer["solvers"] = []
        case, latent = read(asked), asked["latent_j_kg"]
        tried = {
            "SciPy LSODA, rtol 1e-4": lambda: integrate(asked, 1e-4, 1e-4),
            "SciPy LSODA, rtol 1e-6, atol 0.01 and 0.3 K": lambda: integrate(asked, 1e-6, np.tile([0.01, 0.3], case[1].size)),
            "Numba implicit, to 0.1 and 0.3 K": lambda: implicit(case, latent, 0.1, 0.3),
        }
        for name, run in tried.items():
            run()
            seconds = []
            for _ in range(asked["time"]):
                began = time.process_time()
                found = run()
                seconds.append(time.process_time() - began)
            answer["solvers"].append({"name": name, "seconds": min(seconds), "error": error(found, truth)})
    json.dump(answer, sys.stdout)
