"""Torsional shock model of a pinion-and-spur drive, solved by SciPy.

The equations of docs/theory.md, written again. Nothing is tuned for speed: a step short against every natural
period takes the place of event location. LSODA or an explicit method only: one with a finite-difference Jacobian
trips over the jumps of the contact law. All quantities are in SI units, the unit stands at the end of each name.
"""
import math

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

GRAVITY = 9.81  # m/s2
AIR_DENSITY = 1.2  # kg/m3
STOP_TIME = 0.010  # s, a stopped wheel comes to rest within it
BRAKE_TIME = 0.25  # s, braking before the throttle of a reversal

# Flank that is loaded (+1 drive, -1 coast), lash phase, driver's command.
CASES = {
    "launch": (1, 0.5, "drive"), "full-brake": (-1, 1.0, "brake"),
    "landing-on-throttle": (1, 0.0, "drive"), "landing-on-brake": (-1, 0.0, "brake"),
    "landing-coasting": (-1, 0.0, "coast"), "reversal": (-1, 1.0, "reverse"), "wheel-stop": (1, 0.0, "stop"),
}

# State: rotor, spur and wheel angle and speed, truck speed, current, tyre force, sprung and unsprung
# height and speed, slip of the clutch.
QM, WM, QS, WS, QW, WW, V, I, FX, ZS, US, ZU, UU, YP = range(14)


def contact(gap, rate, half_lash, stiffness, damping):
    """Force of a spring and damper behind lash; it pushes and never pulls."""
    if gap > half_lash:
        return max(0.0, stiffness * (gap - half_lash) + damping * rate)
    if gap < -half_lash:
        return min(0.0, stiffness * (gap + half_lash) + damping * rate)
    return 0.0


class Driveline:
    """Equations of motion for one set of parameters and one load case."""

    def __init__(self, parameters, case, phase=None):
        self.p = p = parameters
        self.sign, default_phase, self.command = CASES[case]
        self.phase = default_phase if phase is None else phase
        self.landing = case.startswith("landing")
        self.duration = 0.6 if case == "reversal" else 0.3
        self.gear = p["spur_teeth"] / p["pinion_teeth"]
        wheels = p["wheel_count"] * p["wheel_mass_kg"]
        driven = p["driven_wheels"] * p["wheel_mass_kg"]
        self.wheel_inertia = driven * (p["gyration_ratio"] * p["tyre_radius_m"]) ** 2
        self.road_mass = p["truck_mass_kg"] + (wheels - driven) * p["gyration_ratio"] ** 2
        self.unsprung, self.sprung = wheels, p["truck_mass_kg"] - wheels
        self.tyre_k = p["wheel_count"] * p["tyre_stiffness_n_per_m"]
        self.tyre_c = p["wheel_count"] * p["tyre_damping_n_s_per_m"]
        rb1, rb2 = p["pinion_base_radius_m"], p["spur_base_radius_m"]
        mesh_mass = 1 / (rb1**2 / p["rotor_inertia_kg_m2"] + rb2**2 / p["spur_inertia_kg_m2"])
        self.mesh_c = 2 * p["mesh_damping_ratio"] * math.sqrt(p["mesh_stiffness_n_per_m"] * mesh_mass)
        motor_side = p["spur_inertia_kg_m2"] + p["rotor_inertia_kg_m2"] * self.gear**2
        reduced = 1 / (1 / motor_side + p["ratio_after_spur"] ** 2 / self.wheel_inertia)
        self.shaft_c = 2 * p["shaft_damping_ratio"] * math.sqrt(p["shaft_stiffness_n_m_per_rad"] * reduced)
        self.half_backlash = p["normal_backlash_m"] / 2
        self.half_lash = p["ratio_after_spur"] * p["wheel_lash_rad"] / 2
        self.start = self.initial_state(case)
        self.first_wheel_speed = self.start[WW]

    def loaded_top_speed(self):
        """Truck speed (m/s) at which the motor's drive equals the air drag, without tyre slip."""
        p = self.p
        ratio = self.gear * p["ratio_after_spur"] / p["tyre_radius_m"]  # rotor rad/s per m/s

        def surplus(speed):
            rotor = speed * ratio
            volts = p["battery_voltage_v"] - p["motor_constant_n_m_per_a"] * rotor
            current = min(volts / (p["motor_resistance_ohm"] + p["battery_resistance_ohm"]), p["drive_current_a"])
            current -= p["no_load_current_a"] * math.tanh(rotor / 50)
            return p["motor_constant_n_m_per_a"] * current * ratio - 0.5 * AIR_DENSITY * p["drag_area_m2"] * speed**2

        return brentq(surplus, 1e-6, p["battery_voltage_v"] / p["motor_constant_n_m_per_a"] / ratio, xtol=1e-12)

    def initial_state(self, case):
        p, y = self.p, np.zeros(14)
        opening = self.sign * (1 - 2 * self.phase)
        y[QM] = opening * self.half_backlash / p["pinion_base_radius_m"]
        y[QW] = -opening * self.half_lash / p["ratio_after_spur"]
        if self.landing:
            y[V] = p["landing_speed_m_s"]
            y[US] = y[UU] = -math.sqrt(2 * GRAVITY * p["drop_height_m"])
            if case == "landing-on-throttle":
                free = p["battery_voltage_v"] / p["motor_constant_n_m_per_a"]
                y[WW] = 0.95 * free / self.gear / p["ratio_after_spur"]
            elif case == "landing-coasting":
                y[WW] = y[V] / p["tyre_radius_m"]
        else:
            y[ZU] = -p["truck_mass_kg"] * GRAVITY / self.tyre_k
            y[ZS] = y[ZU] - self.static_compression()
            if case != "launch":
                y[V] = p["brake_from_speed_m_s"] or 0.9 * self.loaded_top_speed()
                y[WW] = y[V] / p["tyre_radius_m"]
        y[WS] = p["ratio_after_spur"] * y[WW]
        y[WM] = self.gear * y[WS]
        return y

    def static_compression(self):
        p, weight = self.p, self.sprung * GRAVITY
        free = weight / p["suspension_stiffness_n_per_m"]
        if free <= p["suspension_travel_m"]:
            return free
        stop = p["stop_stiffness_n_per_m"]
        return (weight + stop * p["suspension_travel_m"]) / (p["suspension_stiffness_n_per_m"] + stop)

    def commanded_current(self, t, rotor):
        p, command = self.p, self.command
        if command == "reverse":
            command = "brake" if t < BRAKE_TIME else "drive"
        if command == "drive":
            volts = p["battery_voltage_v"] - p["motor_constant_n_m_per_a"] * rotor
            current = volts / (p["motor_resistance_ohm"] + p["battery_resistance_ohm"])
            return p["throttle_strength"] * max(0.0, min(current, p["drive_current_a"]))
        if command == "brake":
            shorted = p["motor_constant_n_m_per_a"] * abs(rotor) / p["motor_resistance_ohm"]
            limit = min(p["brake_current_a"], shorted)
            return -p["brake_strength"] * math.copysign(limit, rotor) if rotor else 0.0
        return 0.0

    def wheel_speed(self, t, y):
        if self.command == "stop":
            return self.first_wheel_speed * max(0.0, 1 - t / STOP_TIME)
        return y[WW]

    def forces(self, t, y):
        """Normal tooth force, shaft torque, ground force, suspension force, slap, rate of clutch slip."""
        p = self.p
        gap = p["pinion_base_radius_m"] * y[QM] - p["spur_base_radius_m"] * y[QS]
        rate = p["pinion_base_radius_m"] * y[WM] - p["spur_base_radius_m"] * y[WS]
        tooth = contact(gap, rate, self.half_backlash, p["mesh_stiffness_n_per_m"], self.mesh_c)
        twist = y[QS] - p["ratio_after_spur"] * y[QW] - y[YP]
        twist_rate = y[WS] - p["ratio_after_spur"] * self.wheel_speed(t, y)
        law = contact(twist, twist_rate, self.half_lash, p["shaft_stiffness_n_m_per_rad"], self.shaft_c)
        shaft, clutch_rate = law, 0.0
        if p["clutch_torque_n_m"] and abs(law) > p["clutch_torque_n_m"]:
            shaft = math.copysign(p["clutch_torque_n_m"], law)
            clutch_rate = (law - shaft) / self.shaft_c
        ground = max(0.0, -self.tyre_k * y[ZU] - self.tyre_c * y[UU]) if y[ZU] < 0 else 0.0
        compression = y[ZU] - y[ZS]
        suspension = p["suspension_damping_n_s_per_m"] * (y[UU] - y[US])
        if compression < 0:
            suspension += p["stop_stiffness_n_per_m"] * compression
        else:
            suspension += p["suspension_stiffness_n_per_m"] * compression
            suspension += p["stop_stiffness_n_per_m"] * max(0.0, compression - p["suspension_travel_m"])
        slap = 0.0
        if p["chassis_clearance_m"] and y[ZS] < -p["chassis_clearance_m"]:
            depth = -y[ZS] - p["chassis_clearance_m"]
            slap = max(0.0, p["slap_stiffness_n_per_m"] * depth - p["slap_damping_n_s_per_m"] * y[US])
        return tooth, shaft, ground, suspension, slap, clutch_rate

    def rates(self, t, y):
        """Time derivative of the state."""
        p = self.p
        y = y.tolist()  # plain floats are several times faster than array elements
        tooth, shaft, ground, suspension, slap, clutch_rate = self.forces(t, y)
        wheel, speed = self.wheel_speed(t, y), y[V]
        rim = p["tyre_radius_m"] * wheel
        reference = max(abs(speed), abs(rim), 1.0)
        slip = (rim - speed) / reference
        target = p["grip"] * p["driven_load_share"] * ground * math.sin(p["slip_shape"] * math.atan(p["slip_stiffness"] * slip))
        torque = p["motor_constant_n_m_per_a"] * (y[I] - p["no_load_current_a"] * math.tanh(y[WM] / 50))
        drag = 0.5 * AIR_DENSITY * p["drag_area_m2"] * speed * abs(speed)
        if self.command == "stop":
            wheel_rate = -self.first_wheel_speed / STOP_TIME if t < STOP_TIME else 0.0
        else:
            wheel_rate = (p["ratio_after_spur"] * shaft - p["tyre_radius_m"] * y[FX]) / self.wheel_inertia
        return (
            y[WM], (torque - tooth * p["pinion_base_radius_m"]) / p["rotor_inertia_kg_m2"],
            y[WS], (tooth * p["spur_base_radius_m"] - shaft) / p["spur_inertia_kg_m2"],
            wheel, wheel_rate,
            (y[FX] - drag) / self.road_mass,
            (self.commanded_current(t, y[WM]) - y[I]) / p["current_lag_s"],
            (target - y[FX]) * reference / p["relaxation_length_m"],
            y[US], (suspension + slap) / self.sprung - GRAVITY,
            y[UU], (ground - suspension) / self.unsprung - GRAVITY,
            clutch_rate,
        )


def refined_peak(times, values):
    """Largest value and its time, by the parabola through the largest sample and its neighbours."""
    k = int(np.argmax(values))
    if values[k] <= 0:
        return 0.0, 0.0
    if not 0 < k < len(values) - 1 or min(values[k - 1], values[k + 1]) <= 0:
        return float(values[k]), float(times[k])
    t = times[k - 1 : k + 2] - times[k]
    a, b, c = np.polyfit(t / t[2], values[k - 1 : k + 2], 2)
    vertex = -b / (2 * a) if a < 0 else 0.0
    if abs(vertex) > 1:
        return float(values[k]), float(times[k])
    return float(c + vertex * (b + a * vertex)), float(times[k] + vertex * t[2])


def solve(case, parameters, phase=None, method="LSODA", max_step=2e-6):
    """Integrates one load case and returns its peaks."""
    model = Driveline(parameters, case, phase)
    breaks = [0.0, model.duration]
    if model.command in ("stop", "reverse"):
        breaks.insert(1, STOP_TIME if model.command == "stop" else BRAKE_TIME)
    times, states, y = [], [], model.start
    for begin, end in zip(breaks, breaks[1:]):
        part = solve_ivp(model.rates, (begin, end), y, method=method, max_step=max_step, rtol=1e-9, atol=1e-11)
        if not part.success:
            raise RuntimeError(part.message)
        times.append(part.t)
        states.append(part.y)
        y = part.y[:, -1].copy()
    t, y = np.concatenate(times), np.concatenate(states, axis=1)
    forces = np.array([model.forces(now, column)[:3] for now, column in zip(t.tolist(), y.T.tolist())])
    drive, drive_time = refined_peak(t, forces[:, 0])
    coast, coast_time = refined_peak(t, -forces[:, 0])
    return {
        "peak_drive_flank_n": drive, "peak_drive_time_s": drive_time,
        "peak_coast_flank_n": coast, "peak_coast_time_s": coast_time,
        "peak_shaft_n_m": float(np.abs(forces[:, 1]).max()), "peak_ground_n": float(forces[:, 2].max()),
        "peak_current_a": float(np.abs(y[I]).max()), "final_truck_speed_m_s": float(y[V, -1]),
    }
