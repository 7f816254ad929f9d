#!/usr/bin/python3
"""The rig of rig_bench's "hanging", solved by scipy: solve_ivp (DOP853) up the line from a guessed bait depth and up the air span from
a guessed lift, brentq on each. Same laws (Cheng across, Glauert and Lighthill's fit along), same rig, current and wind, written down
here as numbers from the start values (12 C, wind 2 m/s at 10 m, depth 1.62 m).
usage: /usr/bin/python3 rig_scipy.py [runs]   CSV: runs, median ms, bait to the right m"""
import sys
import time
from math import exp, log, pi, sqrt

from scipy.integrate import solve_ivp
from scipy.optimize import brentq

RIG = dict(zip("rho mu rho_air mu_air skin skin_m c0 c1 c2 per_e z0 depth below above tip".split(), (999.8004935, 0.001234035441, 1.237900349, 1.774868571e-05, 0.03860628439, 0.01, 0.01139371561, -0.04700472484, 0.03561100922, 0.2172102071, 0.001002673514, 1.62, 1.52, 0.5, 0.3)))
LINE = (0.00015, 30.92505268, 0.0001975595037, 2.429626746e-05)  # diameter, EA, weight in air, in water
HOOKLENGTH = (0.00012, 19.79203372, 0.0001264380823, 1.554961118e-05)
KNOT = 0.15
END = (0.00035923258, 0.005450300744, (25.16205715, 0.1878648783, 0.6567, 0.9948214506, 1499.458261))  # weight in water, diameter, drag law a b n c d
SHOTS = [(0.17, 1, 0.0002682611574, 0.001715944324), (0.31, 1, 0.0002682611574, 0.001715944324), (0.4543239087, 5, 0.0005365223148, 0.002161954375), (0.4608097719, 1, 0.0002682611574, 0.001715944324)]  # place, count, weight in water, diameter
SPHERE = (24, 0.15, 0.681, 0.407, 8710)
FLOAT = (0.003722199376, 0.01108884712, 0.0012, 0.03, 0.006285847815, 0.02514339126, 0.0008, 0.045, 0.000139352294)  # lift less trimmers, N a metre of bristle, bristle, its length, body, its length, stem, its length, meniscus
GAUSS = [(0.1127016653792583, 5 / 18), (0.5, 8 / 18), (0.8872983346207417, 5 / 18)]


def across(re):
    return 11 * re**-0.75 + 0.9 * (1 - exp(-1000 / re)) + 1.2 * (1 - exp(-((re / 4500) ** 0.7)))


def along(nu, length, u, d):
    x = min(16.8, max(0.7, log(4 * nu * length / (u * d * d))))
    return 2 * pi / (0.901522998 + x * (0.336197543 + x * (0.0149320391 - x * 0.000456361729)))


def current(z):
    s = min(max(z, 0), RIG["depth"]) / RIG["depth"]
    return RIG["skin"] * exp(-max(z, 0) / RIG["skin_m"]) + RIG["c0"] + s * (RIG["c1"] + s * RIG["c2"])


def wind(z):
    return RIG["per_e"] * log(-z / RIG["z0"]) if -z > RIG["z0"] else 0.0


def slope(s, y, line, is_air, length):
    d, ea, weight = line[0], line[1], line[2] if is_air else line[3]
    rho, mu = (RIG["rho_air"], RIG["mu_air"]) if is_air else (RIG["rho"], RIG["mu"])
    pull = sqrt(y[2] * y[2] + y[3] * y[3])
    tx, tz = y[2] / pull, y[3] / pull
    u = wind(y[1]) if is_air else current(y[1])
    ut = u * tx
    nx, nz = u - ut * tx, -ut * tz
    un = sqrt(nx * nx + nz * nz)
    kn = 0.5 * rho * d * across(un * d * rho / mu) * un if un > 1e-9 else 0
    kt = mu * along(mu / rho, length, abs(ut), d) if abs(ut) > 1e-9 else 0
    return [tx * (1 + pull / ea), tz * (1 + pull / ea), -(kn * nx + kt * ut * tx), -(weight + kn * nz + kt * ut * tz)]


def climb(y, line, is_air, by, length):
    return solve_ivp(slope, (0, by), y, "DOP853", args=(line, is_air, length), rtol=1e-7, atol=1e-9).y[:, -1] if by > 0 else y


def round_drag(law, d, u):
    a, b, n, c, e = law
    re = abs(u) * d * RIG["rho"] / RIG["mu"]
    return 0.5 * RIG["rho"] * (a / re * (1 + b * re**n) + c / (1 + e / re)) * pi / 4 * d * d * abs(u) * u if re > 0 else 0


def water(depth):
    y, at = [0, depth, -round_drag(END[2], END[1], current(depth)), -END[0]], 0
    for place, count, weight, d in SHOTS + [(RIG["below"], 0, 0, 0)]:
        y = climb(y, HOOKLENGTH, False, min(place, KNOT) - at, RIG["below"])
        y = climb(y, LINE, False, place - max(at, KNOT), RIG["below"])
        at = place
        if count:
            y = [y[0], y[1], y[2] - count * round_drag(SPHERE, d, current(y[1])), y[3] - count * weight]
    return y


def slices(from_m, long_m, d, flow, rho, mu, is_spindle=False):
    total = 0
    for panel in range(4):
        for at, w in GAUSS:
            x = (panel + at) / 4
            wide = d * sqrt(1 - (2 * x - 1) ** 2) if is_spindle else d
            u = flow(from_m + x * long_m)
            if u:
                total += 0.5 * rho * across(abs(u) * wide * rho / mu) * wide * abs(u) * u * w / 4 * long_m
    return total


def air(lift, head):
    carries, per_m, bristle, bristle_long, body, body_long, stem, stem_long, meniscus = FLOAT
    dry = min(max(bristle_long - (-head[3] - lift + meniscus - carries) / per_m, 0), bristle_long)
    wet = bristle_long - dry
    water_of, air_of = (RIG["rho"], RIG["mu"]), (RIG["rho_air"], RIG["mu_air"])
    push = slices(-dry, dry, bristle, wind, *air_of) if dry > 0 else 0
    push += slices(0, wet, bristle, current, *water_of) + slices(wet, body_long, body, current, *water_of, True)
    push += slices(wet + body_long, stem_long, stem, current, *water_of)
    return climb([0, 0, head[2] - push, -lift], LINE, True, RIG["above"], RIG["above"])


def solve():
    depth = brentq(lambda z: water(z)[1], 0.5 * RIG["below"], 1.02 * RIG["below"], xtol=1e-7)
    head = water(depth)
    lift = brentq(lambda v: -air(v, head)[1] - RIG["tip"], 1e-9, 1e-3, xtol=1e-12, rtol=1e-7)
    return -head[0] - air(lift, head)[0]


if __name__ == "__main__":
    times, off = [], 0
    for _ in range(int(sys.argv[1]) if len(sys.argv) > 1 else 5):
        start = time.perf_counter()
        off = solve()
        times.append((time.perf_counter() - start) * 1e3)
    print(f"runs,median_ms,right_m\n{len(times)},{sorted(times)[len(times) // 2]:.2f},{off:.6f}")
