#!/usr/bin/env python3
"""Times SciPy's LSODA on one shock event: lsoda_time.py CASE PEAK_N ERROR < parameters

Reads the shock model's parameters as Rust prints them, tightens LSODA's tolerance by powers of ten until the larger
flank's peak is within ERROR (relative) of PEAK_N twice on end (once can be luck), and prints the looser one's tolerance,
time (ms), error and evaluations of the right-hand side. LSODA knows nothing of the events; peaks are taken at its steps.
"""
import re
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp

import driveline

NAMES = {
    "tyre_stiffness_n_m": "tyre_stiffness_n_per_m", "tyre_damping_n_s_m": "tyre_damping_n_s_per_m",
    "tyre_slip_stiffness": "slip_stiffness", "tyre_slip_shape": "slip_shape",
    "mesh_stiffness_n_m": "mesh_stiffness_n_per_m", "shaft_stiffness_n_m_rad": "shaft_stiffness_n_m_per_rad",
    "lash_rad": "wheel_lash_rad", "suspension_stiffness_n_m": "suspension_stiffness_n_per_m",
    "suspension_damping_n_s_m": "suspension_damping_n_s_per_m", "stop_stiffness_n_m": "stop_stiffness_n_per_m",
    "slap_stiffness_n_m": "slap_stiffness_n_per_m", "slap_damping_n_s_m": "slap_damping_n_s_per_m",
}
EVENT = {"drop_height_m": 0.8, "landing_speed_m_s": 8.0, "brake_from_speed_m_s": None}  # the usual one
DECADES = range(3, 12)  # relative tolerance 1e-3 to 1e-11
ABSOLUTE = 1e-2  # absolute over relative tolerance: a micrometre of mesh gives some 50 N
PAIR = re.compile(r"(\w+): (?:Some\()?([-+.\de]+|None)")


def parameters(text):
    found = {NAMES.get(key, key): None if value == "None" else float(value) for key, value in PAIR.findall(text)}
    found["motor_constant_n_m_per_a"] = 1 / found["motor_kv_rad_s_v"]
    found["pinion_teeth"], found["spur_teeth"] = found["pinion_base_radius_m"], found["spur_base_radius_m"]
    return found | EVENT


def timed(case, values, relative):
    """Seconds, larger flank's peak and evaluations of one solution."""
    model = driveline.Driveline(values, case)
    breaks = [0.0, model.duration]
    if model.command in ("stop", "reverse"):
        breaks.insert(1, driveline.STOP_TIME if model.command == "stop" else driveline.BRAKE_TIME)
    parts, y, begun = [], model.start, time.perf_counter()
    for span in zip(breaks, breaks[1:]):
        part = solve_ivp(model.rates, span, y, method="LSODA", rtol=relative, atol=ABSOLUTE * relative)
        parts.append(part)
        y = part.y[:, -1].copy()
    taken_s = time.perf_counter() - begun
    times = np.concatenate([part.t for part in parts])
    columns = np.concatenate([part.y for part in parts], axis=1).T.tolist()
    tooth_n = np.array([model.forces(now, column)[0] for now, column in zip(times.tolist(), columns)])
    peak_n = max(driveline.refined_peak(times, sign * tooth_n)[0] for sign in (1, -1))
    return taken_s, peak_n, sum(part.nfev for part in parts)


def main():
    case, peak_n, allowed = sys.argv[1], float(sys.argv[2]), float(sys.argv[3])
    values, found = parameters(sys.stdin.read()), None
    for decade in DECADES:
        taken_s, got_n, evaluations = timed(case, values, 10.0**-decade)
        error = abs(got_n - peak_n) / peak_n
        if error > allowed:
            found = None
        elif found:
            break
        else:
            found = f"1e-{decade} {taken_s * 1e3:.1f} {error:.1e} {evaluations}"
    print(found or "none")


if __name__ == "__main__":
    main()
