//! The motor behind its controller: current commanded, torque, loss without load.

use pulp::Simd;

use super::contact::Guard;
use super::elementary::tanh;
use super::lanes::{Lanes, PerLane};
use super::real::Real;

/// What the driver asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    /// Throttle, at the throttle strength.
    Drive,
    /// Brake, at the brake strength.
    Brake,
    /// Neither: no current.
    Coast,
}

/// Motor, battery and controller as one source of current.
#[derive(Clone, Copy, Debug)]
pub struct Motor {
    /// Torque per current and voltage per speed, N·m/A = V·s/rad.
    pub constant: f64,
    /// Open-circuit voltage of the battery, V.
    pub voltage_v: f64,
    /// Resistance of the motor, ohm.
    pub resistance_ohm: f64,
    /// Resistance of the battery, ohm.
    pub battery_resistance_ohm: f64,
    /// Current without load, A.
    pub no_load_current_a: f64,
    /// Controller's limit when driving, A.
    pub drive_current_a: f64,
    /// Controller's limit when braking, A.
    pub brake_current_a: f64,
    /// Throttle strength, 0..1.
    pub throttle_strength: f64,
    /// Brake strength, 0..1.
    pub brake_strength: f64,
}

/// What bounds the commanded current.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Supply {
    /// The resistance alone.
    Free,
    /// The lower bound: nothing when driving, the brake limit when braking forward.
    Low,
    /// The upper bound: the controller's limit.
    High,
}

/// A current that is a straight line over the rotor speed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Line<T = f64> {
    /// Current at rest, A.
    pub at_rest: T,
    /// Change with the speed, A·s/rad.
    pub slope: T,
}

impl<T: Real> Line<T> {
    /// Every number the same.
    pub fn filled(value: T) -> Self {
        Self { at_rest: value, slope: value }
    }

    /// Current at a rotor speed, A.
    #[inline(always)]
    pub fn at(&self, speed_rad_s: T) -> T {
        self.at_rest + self.slope * speed_rad_s
    }
}

impl<S: Simd> PerLane for Line<Lanes<S>> {
    type One = Line;

    fn put(&mut self, lane: usize, one: &Line) {
        self.at_rest.put(lane, &one.at_rest);
        self.slope.put(lane, &one.slope);
    }
}

impl Supply {
    /// The supply that follows when the guard with this number became positive.
    pub fn after(self, guard: usize) -> Self {
        match (self, guard) {
            (Self::Free, 0) => Self::Low,
            (Self::Free, _) => Self::High,
            (Self::Low | Self::High, _) => Self::Free,
        }
    }
}

/// Speed over which the no-load loss changes sign, rad/s.
const NO_LOAD_SPEED_RAD_S: f64 = 50.0;

impl Motor {
    /// Current commanded at a rotor speed w (rad/s), A.
    ///
    /// Drive: u max(0, min((V - K w)/(R + Rb), Idrive)). Brake: -s min(Ibrake, K |w|/R) sign(w). Coast: 0.
    pub fn commanded_current_a(&self, command: Command, speed_rad_s: f64) -> f64 {
        self.current_line(command, self.supply(command, speed_rad_s)).at(speed_rad_s)
    }

    /// What bounds the current at a rotor speed.
    pub fn supply(&self, command: Command, speed_rad_s: f64) -> Supply {
        let free_a = self.free_line(command).at(speed_rad_s);
        let [low_a, high_a] = self.bounds_a(command);
        if free_a > high_a {
            Supply::High
        } else if free_a < low_a {
            Supply::Low
        } else {
            Supply::Free
        }
    }

    /// The commanded current as a straight line over the speed, while the supply stays as it is.
    pub fn current_line(&self, command: Command, supply: Supply) -> Line {
        let strength = match command {
            Command::Drive => self.throttle_strength,
            Command::Brake => self.brake_strength,
            Command::Coast => 0.0,
        };
        let [low_a, high_a] = self.bounds_a(command);
        let line = match supply {
            Supply::Free => self.free_line(command),
            Supply::Low => Line { at_rest: low_a, slope: 0.0 },
            Supply::High => Line { at_rest: high_a, slope: 0.0 },
        };
        Line { at_rest: strength * line.at_rest, slope: strength * line.slope }
    }

    /// What ends a supply, over the rotor speed.
    pub fn guards(&self, command: Command, supply: Supply) -> [Guard; 2] {
        let free = self.free_line(command);
        let [low_a, high_a] = self.bounds_a(command);
        let above = |a: f64| Guard { x_share: free.slope, dx_share: 0.0, constant: free.at_rest - a };
        let below = |a: f64| Guard { x_share: -free.slope, dx_share: 0.0, constant: a - free.at_rest };
        match supply {
            Supply::Free => [below(low_a), above(high_a)],
            Supply::Low => [above(low_a), Guard::NEVER],
            Supply::High => [below(high_a), Guard::NEVER],
        }
    }

    /// Current that the voltage drives through the resistance, at full strength and without the controller's limits.
    fn free_line(&self, command: Command) -> Line {
        let loop_ohm = self.resistance_ohm + self.battery_resistance_ohm;
        match command {
            Command::Drive => Line { at_rest: self.voltage_v / loop_ohm, slope: -self.constant / loop_ohm },
            Command::Brake => Line { at_rest: 0.0, slope: -self.constant / self.resistance_ohm },
            Command::Coast => Line { at_rest: 0.0, slope: 0.0 },
        }
    }

    fn bounds_a(&self, command: Command) -> [f64; 2] {
        match command {
            Command::Drive => [0.0, self.drive_current_a],
            Command::Brake => [-self.brake_current_a, self.brake_current_a],
            Command::Coast => [0.0, 0.0],
        }
    }

    /// Torque of the no-load loss at a rotor speed w (rad/s), N·m: K I0 tanh(w/50).
    pub fn no_load_torque_n_m(&self, speed_rad_s: f64) -> f64 {
        no_load_torque_n_m(self.constant * self.no_load_current_a, speed_rad_s)
    }
}

/// Torque of the no-load loss, N·m, from the full one and the rotor speed (rad/s): full tanh(w/50).
#[inline(always)]
pub fn no_load_torque_n_m<T: Real>(full_n_m: T, speed_rad_s: T) -> T {
    full_n_m * tanh(speed_rad_s * speed_rad_s.of(1.0 / NO_LOAD_SPEED_RAD_S))
}

#[cfg(test)]
mod tests {
    use super::*;

    const MOTOR: Motor = Motor {
        constant: 0.01,
        voltage_v: 20.0,
        resistance_ohm: 0.01,
        battery_resistance_ohm: 0.01,
        no_load_current_a: 3.0,
        drive_current_a: 200.0,
        brake_current_a: 100.0,
        throttle_strength: 0.5,
        brake_strength: 0.25,
    };

    /// Roundings of a few operations.
    const REL_TOL: f64 = 1e-12;

    #[test]
    fn the_throttle_is_limited_by_controller_and_voltage() {
        check(Command::Drive, 0.0, 0.5 * 200.0);
        check(Command::Drive, 1900.0, 0.5 * (20.0 - 19.0) / 0.02);
        check(Command::Drive, 2100.0, 0.0);
    }

    #[test]
    fn the_brake_works_against_either_turning_and_not_at_rest() {
        check(Command::Brake, 1000.0, -0.25 * 100.0);
        check(Command::Brake, 50.0, -0.25 * 50.0);
        check(Command::Brake, -50.0, 0.25 * 50.0);
        check(Command::Brake, 0.0, 0.0);
        check(Command::Coast, 1000.0, 0.0);
    }

    #[test]
    fn the_no_load_loss_saturates() {
        assert!((MOTOR.no_load_torque_n_m(50.0) - 0.03 * 1.0_f64.tanh()).abs() < 1e-15);
        assert_eq!(MOTOR.no_load_torque_n_m(-3000.0), -0.03);
    }

    #[track_caller]
    fn check(command: Command, speed_rad_s: f64, expected_a: f64) {
        let got_a = MOTOR.commanded_current_a(command, speed_rad_s);
        assert!((got_a - expected_a).abs() <= REL_TOL * expected_a.abs(), "{got_a} A, expected {expected_a} A");
    }
}
