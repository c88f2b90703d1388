//! The steady motor behind battery and controller: speed, torque, current, power and efficiency.
//!
//! A motor of one constant K = 1/Kv, a loop resistance R + Rb and a no-load current I0 (the permanent-magnet machine of
//! the textbooks): T = K (I - I0), V = K w + I (R + Rb). The controller is taken without loss.

use crate::driveline::motor::{Command, Motor, Supply};
use crate::driveline::{Parameters, limits};
use crate::range::{OutOfRange, Range};
use toothsayer_quantity::{AngularSpeed, Current, MotorConstant, Resistance, Torque, Voltage};

static SPEED: Range = Range { what: "rotor speed", min: 0.0, max: 1e6, unit: "rad/s" };

/// What the steady motor is computed from; ranges as those of the shock model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MotorParameters {
    /// Open-circuit voltage V of the pack, 0.5 to 200 V.
    pub voltage: Voltage,
    /// Speed per volt Kv, 1 to 5000 rad/s/V.
    pub kv: MotorConstant,
    /// Winding resistance R, 0.0001 to 20 ohm.
    pub resistance: Resistance,
    /// Resistance Rb of pack and leads, 0 to 10 ohm.
    pub battery_resistance: Resistance,
    /// Current I0 without load, 0 to 200 A.
    pub no_load_current: Current,
    /// The controller's limit, 0 to 5000 A.
    pub current_limit: Current,
}

/// A motor, checked.
#[derive(Clone, Copy, Debug)]
pub struct Steady {
    motor: Motor,
}

/// The motor at one speed under full throttle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OperatingPoint {
    /// Rotor speed.
    pub speed: AngularSpeed,
    /// Current of the motor (of its direct-current equivalent).
    pub current: Current,
    /// Current that the pack gives: less than the motor's where the controller holds that back.
    pub pack_current: Current,
    /// Torque at the shaft, K (I - I0).
    pub torque: Torque,
    /// Power that the pack's cells give, V Ip, W.
    pub electrical_power_w: f64,
    /// Power at the shaft, T w, W.
    pub shaft_power_w: f64,
    /// Shaft power over the cells' power; 0 where the shaft gives none.
    pub efficiency: f64,
}

/// Where the motor turns most of the power into torque.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BestEfficiency {
    /// sqrt(I0 V/R).
    pub current: Current,
    /// (1 - sqrt(I0 R/V))².
    pub efficiency: f64,
    /// Rotor speed at that current.
    pub speed: AngularSpeed,
}

impl Steady {
    /// A motor at full throttle strength; each number against its range.
    pub fn new(parameters: MotorParameters) -> Result<Self, OutOfRange> {
        let [voltage, battery, kv, resistance, no_load, limit] = [
            "battery voltage",
            "battery resistance",
            "motor speed per volt",
            "motor resistance",
            "no-load current",
            "drive current",
        ]
        .map(range_of);
        let drive_current_a = limit.check(parameters.current_limit.to_a())?;
        Ok(Self {
            motor: Motor {
                constant: 1.0 / kv.check(parameters.kv.to_rad_per_s_v())?,
                voltage_v: voltage.check(parameters.voltage.to_v())?,
                resistance_ohm: resistance.check(parameters.resistance.to_ohm())?,
                battery_resistance_ohm: battery.check(parameters.battery_resistance.to_ohm())?,
                no_load_current_a: no_load.check(parameters.no_load_current.to_a())?,
                drive_current_a,
                brake_current_a: drive_current_a,
                throttle_strength: 1.0,
                brake_strength: 1.0,
            },
        })
    }

    /// The motor of a truck with its throttle strength.
    pub(super) fn of(truck: &Parameters) -> Self {
        Self { motor: truck.motor() }
    }

    /// Torque per current K, N·m/A.
    pub fn torque_constant_n_m_a(&self) -> f64 {
        self.motor.constant
    }

    /// Current I0 without load.
    pub fn no_load_current(&self) -> Current {
        Current::a(self.motor.no_load_current_a)
    }

    fn loop_ohm(&self) -> f64 {
        self.motor.resistance_ohm + self.motor.battery_resistance_ohm
    }

    /// Speed where the voltage drives just I0: (V - I0 (R + Rb)/u) Kv, u the throttle strength; zero for a motor that
    /// cannot overcome its own loss.
    pub fn no_load_speed(&self) -> AngularSpeed {
        let Motor { voltage_v, no_load_current_a, throttle_strength, drive_current_a, constant, .. } = self.motor;
        if throttle_strength * drive_current_a < no_load_current_a {
            return AngularSpeed::ZERO;
        }
        let drop_v =
            if no_load_current_a > 0.0 { no_load_current_a * self.loop_ohm() / throttle_strength } else { 0.0 };
        AngularSpeed::rad_per_s(((voltage_v - drop_v) / constant).max(0.0))
    }

    /// Current at rest without the controller's limit: V/(R + Rb).
    pub fn stall_current(&self) -> Current {
        Current::a(self.motor.voltage_v / self.loop_ohm())
    }

    /// Torque at rest without the controller's limit: K (V/(R + Rb) - I0).
    pub fn stall_torque(&self) -> Torque {
        self.torque_of(self.stall_current())
    }

    /// Current at rest as the controller lets it be.
    pub fn limited_current(&self) -> Current {
        Current::a(self.motor.commanded_current_a(Command::Drive, 0.0))
    }

    /// Torque at rest as the controller lets it be.
    pub fn limited_torque(&self) -> Torque {
        self.torque_of(self.limited_current())
    }

    /// K (I - I0), not below 0.
    fn torque_of(&self, current: Current) -> Torque {
        Torque::n_m(self.motor.constant * (current.to_a() - self.motor.no_load_current_a).max(0.0))
    }

    /// The motor at a rotor speed of 0 to 10⁶ rad/s under full throttle.
    ///
    /// Pack current Ip by the power at the motor's leads: V Ip - Rb Ip² = I (K w + I R); Ip = I where nothing holds the
    /// current back.
    pub fn at(&self, speed: AngularSpeed) -> Result<OperatingPoint, OutOfRange> {
        let speed_rad_s = SPEED.check(speed.to_rad_per_s())?;
        let current_a = self.motor.commanded_current_a(Command::Drive, speed_rad_s);
        let torque = self.torque_of(Current::a(current_a));
        let pack_a = self.pack_current_a(speed_rad_s, current_a);
        let electrical_power_w = self.motor.voltage_v * pack_a;
        let shaft_power_w = torque.to_n_m() * speed_rad_s;
        let efficiency = if shaft_power_w > 0.0 { shaft_power_w / electrical_power_w } else { 0.0 };
        let (current, pack_current) = (Current::a(current_a), Current::a(pack_a));
        Ok(OperatingPoint { speed, current, pack_current, torque, electrical_power_w, shaft_power_w, efficiency })
    }

    fn pack_current_a(&self, speed_rad_s: f64, current_a: f64) -> f64 {
        let Motor { constant, voltage_v, resistance_ohm, battery_resistance_ohm, throttle_strength, .. } = self.motor;
        let open = self.motor.supply(Command::Drive, speed_rad_s) == Supply::Free && throttle_strength >= 1.0;
        if open {
            return current_a;
        }
        let leads_w = current_a * (constant * speed_rad_s + current_a * resistance_ohm);
        // The smaller root of Rb Ip² - V Ip + P = 0, written so that Rb may be 0.
        let root_v = (voltage_v * voltage_v - 4.0 * battery_resistance_ohm * leads_w).max(0.0).sqrt();
        2.0 * leads_w / (voltage_v + root_v)
    }

    /// Current, efficiency and speed of the best efficiency, at full throttle and without the controller's limit: where
    /// I0 V = I² R, with R the whole loop. None where the loss alone stops the motor.
    pub fn best_efficiency(&self) -> Option<BestEfficiency> {
        let Motor { voltage_v, no_load_current_a, constant, .. } = self.motor;
        let lost = (no_load_current_a * self.loop_ohm() / voltage_v).sqrt();
        (lost < 1.0).then(|| BestEfficiency {
            current: Current::a(lost * voltage_v / self.loop_ohm()),
            efficiency: (1.0 - lost).powi(2),
            speed: AngularSpeed::rad_per_s((1.0 - lost) * voltage_v / constant),
        })
    }
}

/// The shock model's range of a parameter.
fn range_of(what: &'static str) -> Range {
    let unknown = Range { what, min: 0.0, max: 0.0, unit: "" };
    limits::LIMITS.iter().map(|limit| limit.range).find(|range| range.what == what).unwrap_or(unknown)
}
