//! The motor behind its controller: current commanded, torque, loss without load.

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

/// Speed over which the no-load loss changes sign, rad/s.
const NO_LOAD_SPEED_RAD_S: f64 = 50.0;

/// tanh of more than this is 1 to the last bit.
const TANH_FULL: f64 = 20.0;

impl Motor {
    /// Current commanded at a rotor speed w (rad/s), A.
    ///
    /// Drive: u max(0, min((V - K w)/(R + Rb), Idrive)). Brake: -s min(Ibrake, K |w|/R) sign(w). Coast: 0.
    pub fn commanded_current_a(&self, command: Command, speed_rad_s: f64) -> f64 {
        let back_v = self.constant * speed_rad_s;
        match command {
            Command::Drive => {
                let free_a = (self.voltage_v - back_v) / (self.resistance_ohm + self.battery_resistance_ohm);
                self.throttle_strength * free_a.min(self.drive_current_a).max(0.0)
            }
            Command::Brake => {
                let short_a = back_v / self.resistance_ohm;
                -self.brake_strength * short_a.clamp(-self.brake_current_a, self.brake_current_a)
            }
            Command::Coast => 0.0,
        }
    }

    /// Torque of the no-load loss at a rotor speed w (rad/s), N·m: K I0 tanh(w/50).
    pub fn no_load_torque_n_m(&self, speed_rad_s: f64) -> f64 {
        let scaled = speed_rad_s / NO_LOAD_SPEED_RAD_S;
        let share = if scaled.abs() > TANH_FULL { scaled.signum() } else { scaled.tanh() };
        self.constant * self.no_load_current_a * share
    }
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
