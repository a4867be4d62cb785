"""The problem of `wall_year.py` as someone would write it by hand with Numba: backward Euler by the hour, Newton's method on (ln suction, temperature) of
every cell and both faces, exact derivatives of the closed forms, block elimination. The baseline of the speed measurements.
"""

import math

import numpy as np
from numba import njit

from wall_year import CW, RHO, RV, SIGMA, ZERO


@njit(inline="always")
def point(y, t, m):
    """Water, potential, vapour factor, vapour pressure, and their slopes: by y, and the pressure's by T too."""
    ws, n = m[0], m[2]
    suction = math.exp(y)
    x = (m[1] * suction) ** n
    w = ws * (1.0 + x) ** (1.0 / n - 1.0)
    wy = -w * (n - 1.0) * x / (1.0 + x)
    diffusivity = 3.8 * (m[3] / ws) ** 2 * 1000.0 ** (w / ws - 1.0)
    c = t - 273.15
    kelvin = suction / (RHO * RV * t)
    p = 610.5 * math.exp(17.269 * c / (237.3 + c) - kelvin)
    pt = p * (17.269 * 237.3 / (237.3 + c) ** 2 + kelvin / t)
    return w, wy, diffusivity * ws / math.log(1000.0), diffusivity * wy, (1.0 - w / ws) / m[4], -wy / ws / m[4], p, -p * kelvin, pt


@njit(inline="always")
def add_link(a, b, ta, tb, inverse, conduction, latent, rows, left, right, i):
    """Adds the flows from node i to node i + 1 to both rows: residuals in rows, own blocks in rows, couplings in left and right."""
    air = 2.0e-7 * (0.5 * (ta + tb)) ** 0.81 / 101325.0 * inverse
    passing, fall = air * 0.5 * (a[4] + b[4]), a[6] - b[6]
    vapour = passing * fall
    water = vapour + (a[2] - b[2]) * inverse
    carried = CW * (0.5 * (ta + tb) - ZERO)
    heat = conduction * (ta - tb) + latent * vapour + water * carried
    vya, vyb = passing * a[7] + air * 0.5 * fall * a[5], air * 0.5 * fall * b[5] - passing * b[7]
    wya, wyb = a[3] * inverse + vya, vyb - b[3] * inverse
    wta, wtb = passing * a[8], -passing * b[8]
    hya, hyb = wya * carried + latent * vya, wyb * carried + latent * vyb
    hta, htb = conduction + (carried + latent) * wta + 0.5 * CW * water, (carried + latent) * wtb - conduction + 0.5 * CW * water
    r, s = rows[i], rows[i + 1]
    r[0] += water
    r[1] += heat
    r[2] += wya
    r[3] += wta
    r[4] += hya
    r[5] += hta
    s[0] -= water
    s[1] -= heat
    s[2] -= wyb
    s[3] -= wtb
    s[4] -= hyb
    s[5] -= htb
    right[i, 0], right[i, 1], right[i, 2], right[i, 3] = wyb, wtb, hyb, htb
    left[i + 1, 0], left[i + 1, 1], left[i + 1, 2], left[i + 1, 3] = -wya, -wta, -hya, -hta


@njit(inline="always")
def add_film(p, t, c, latent, row):
    """Adds what a film takes from a face."""
    gone, by_y, by_t = c[3] * (p[6] - c[1]), c[3] * p[7], c[3] * p[8]
    each = CW * (t - ZERO) + latent
    row[0] += gone
    row[1] += c[2] * (t - c[0]) - c[4] + c[5] * (SIGMA * t**4 - c[6]) + each * gone
    row[2] += by_y
    row[3] += by_t
    row[4] += each * by_y
    row[5] += c[2] + 4.0 * c[5] * SIGMA * t**3 + each * by_t + CW * gone


@njit
def run(widths, m, inner, outer, start, latent, tolerance_y, tolerance_k):
    """State at the end of every hour and the number of iterations."""
    cells, nodes, dt = widths.size, widths.size + 2, 3600.0
    y, t = np.empty(nodes), np.empty(nodes)
    y[:], t[:] = start[0], start[1]
    inverse, share = np.empty(nodes - 1), np.empty(nodes - 1)
    for i in range(nodes - 1):
        before, after = (widths[i - 1] if i > 0 else 0.0), (widths[i] if i < cells else 0.0)
        inverse[i], share[i] = 2.0 / (before + after), before / (before + after)
    points = np.empty((nodes, 9))
    rows, left, right = np.empty((nodes, 6)), np.zeros((nodes, 4)), np.zeros((nodes, 4))
    upper, change = np.zeros((nodes, 4)), np.empty((nodes, 2))
    water, heat, conductivity = np.empty(cells), np.empty(cells), np.empty(nodes)
    found = np.empty((outer.shape[0], 2 * cells))
    iterations = 0
    for hour in range(outer.shape[0]):
        for i in range(cells):
            w = m[0] * (1.0 + (m[1] * math.exp(y[i + 1])) ** m[2]) ** (1.0 / m[2] - 1.0)
            water[i], heat[i], conductivity[i + 1] = w, (m[7] + CW * w) * (t[i + 1] - ZERO), m[5] + m[6] * w
        conductivity[0], conductivity[nodes - 1] = conductivity[1], conductivity[nodes - 2]
        for _ in range(50):
            iterations += 1
            rows[:] = 0.0
            for i in range(nodes):
                p = point(y[i], t[i], m)
                for k in range(9):
                    points[i, k] = p[k]
                if 0 < i < nodes - 1:
                    rate, warmth, capacity = widths[i - 1] / dt, t[i] - ZERO, m[7] + CW * p[0]
                    rows[i, 0] = (p[0] - water[i - 1]) * rate
                    rows[i, 1] = (capacity * warmth - heat[i - 1]) * rate
                    rows[i, 2], rows[i, 4], rows[i, 5] = p[1] * rate, CW * warmth * p[1] * rate, capacity * rate
            for i in range(nodes - 1):
                a, b = conductivity[i], conductivity[i + 1]
                conduction = a * b * inverse[i] / (b * share[i] + a * (1.0 - share[i]))
                add_link(points[i], points[i + 1], t[i], t[i + 1], inverse[i], conduction, latent, rows, left, right, i)
            add_film(points[0], t[0], inner, latent, rows[0])
            add_film(points[nodes - 1], t[nodes - 1], outer[hour], latent, rows[nodes - 1])
            for i in range(nodes):
                r0, r1, a, b, c, d = rows[i, 0], rows[i, 1], rows[i, 2], rows[i, 3], rows[i, 4], rows[i, 5]
                if i > 0:
                    l0, l1, l2, l3 = left[i, 0], left[i, 1], left[i, 2], left[i, 3]
                    u0, u1, u2, u3 = upper[i - 1, 0], upper[i - 1, 1], upper[i - 1, 2], upper[i - 1, 3]
                    a -= l0 * u0 + l1 * u2
                    b -= l0 * u1 + l1 * u3
                    c -= l2 * u0 + l3 * u2
                    d -= l2 * u1 + l3 * u3
                    r0 += l0 * change[i - 1, 0] + l1 * change[i - 1, 1]
                    r1 += l2 * change[i - 1, 0] + l3 * change[i - 1, 1]
                over = 1.0 / (a * d - b * c)
                a, b, c, d = d * over, -b * over, -c * over, a * over
                g0, g1, g2, g3 = right[i, 0], right[i, 1], right[i, 2], right[i, 3]
                upper[i, 0], upper[i, 1] = a * g0 + b * g2, a * g1 + b * g3
                upper[i, 2], upper[i, 3] = c * g0 + d * g2, c * g1 + d * g3
                change[i, 0], change[i, 1] = -(a * r0 + b * r1), -(c * r0 + d * r1)
            most_y = most_t = 0.0
            for i in range(nodes - 1, -1, -1):
                if i + 1 < nodes:
                    change[i, 0] -= upper[i, 0] * change[i + 1, 0] + upper[i, 1] * change[i + 1, 1]
                    change[i, 1] -= upper[i, 2] * change[i + 1, 0] + upper[i, 3] * change[i + 1, 1]
                y[i] = min(max(y[i] + min(max(change[i, 0], -3.0), 1.0), 0.0), 24.0)
                t[i] += min(max(change[i, 1], -15.0), 15.0)
                most_y, most_t = max(most_y, abs(change[i, 0])), max(most_t, abs(change[i, 1]))
            if most_y < tolerance_y and most_t < tolerance_k:
                break
        for i in range(cells):
            found[hour, 2 * i], found[hour, 2 * i + 1] = y[i + 1], t[i + 1]
    return found, iterations


def implicit(case, latent, tolerance_y, tolerance_k):
    """State at the end of every hour."""
    m, widths, inner, outer, start = case
    return run(widths, m, inner, outer, start, latent, tolerance_y, tolerance_k)[0]
