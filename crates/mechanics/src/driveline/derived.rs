//! What follows from the parameters: inertias, dampers, speeds, standing height, resting state.

use super::Parameters;
use super::clutch::Shaft;
use super::contact::Contact;
use super::motor::{Command, Motor};
use super::suspension::Suspension;
use super::tyre::Tyre;

/// Gravity, m/s².
pub const GRAVITY_M_S2: f64 = 9.81;

/// Density of air, kg/m³.
pub const AIR_DENSITY_KG_M3: f64 = 1.2;

/// Halvings until a speed is settled to the last bit of a double.
const BISECTIONS: u32 = 100;

impl Parameters {
    /// Torque per current and voltage per speed of the motor, N·m/A: Kt = Ke = 1/Kv.
    pub fn motor_constant(&self) -> f64 {
        1.0 / self.motor_kv_rad_s_v
    }

    /// Tooth ratio z2/z1 = rb2/rb1.
    pub fn mesh_ratio(&self) -> f64 {
        self.spur_base_radius_m / self.pinion_base_radius_m
    }

    /// Turns of the rotor for one of the wheel.
    pub fn overall_ratio(&self) -> f64 {
        self.mesh_ratio() * self.ratio_after_spur
    }

    /// Mass of all wheels, the unsprung mass, kg: mu_s = nw mw.
    pub fn unsprung_mass_kg(&self) -> f64 {
        f64::from(self.wheel_count) * self.wheel_mass_kg
    }

    /// Sprung mass, kg: ms = m - nw mw.
    pub fn sprung_mass_kg(&self) -> f64 {
        self.truck_mass_kg - self.unsprung_mass_kg()
    }

    /// Inertia of the driven wheels, kg·m²: Jw = nd mw (kg r)².
    pub fn wheel_inertia_kg_m2(&self) -> f64 {
        let driven_kg = f64::from(self.driven_wheels) * self.wheel_mass_kg;
        driven_kg * (self.gyration_ratio * self.tyre_radius_m).powi(2)
    }

    /// Mass that is moved along the road, kg: m + (nw - nd) mw kg²; wheels that are not driven roll along.
    pub fn road_mass_kg(&self) -> f64 {
        let rolling = self.wheel_count.saturating_sub(self.driven_wheels);
        self.truck_mass_kg + f64::from(rolling) * self.wheel_mass_kg * self.gyration_ratio.powi(2)
    }

    /// Effective mass of rotor and spur on the line of action, kg: me = 1/(rb1²/Jm + rb2²/Js).
    pub fn mesh_mass_kg(&self) -> f64 {
        let rotor = self.pinion_base_radius_m.powi(2) / self.rotor_inertia_kg_m2;
        let spur = self.spur_base_radius_m.powi(2) / self.spur_inertia_kg_m2;
        1.0 / (rotor + spur)
    }

    /// Damping of the mesh, N·s/m: cm = 2 zm sqrt(km me).
    pub fn mesh_damping_n_s_m(&self) -> f64 {
        2.0 * self.mesh_damping_ratio * (self.mesh_stiffness_n_m * self.mesh_mass_kg()).sqrt()
    }

    /// Effective inertia across the shaft, at the spur, kg·m²: Jd = 1/(1/(Js + Jm (z2/z1)²) + i²/Jw).
    pub fn shaft_inertia_kg_m2(&self) -> f64 {
        let before = self.spur_inertia_kg_m2 + self.rotor_inertia_kg_m2 * self.mesh_ratio().powi(2);
        1.0 / (1.0 / before + self.ratio_after_spur.powi(2) / self.wheel_inertia_kg_m2())
    }

    /// Damping of the shaft, N·m·s/rad: cd = 2 zd sqrt(Kd Jd).
    pub fn shaft_damping_n_m_s(&self) -> f64 {
        2.0 * self.shaft_damping_ratio * (self.shaft_stiffness_n_m_rad * self.shaft_inertia_kg_m2()).sqrt()
    }

    /// Frequency of rotor against spur in the closed mesh, the shaft cut, rad/s: sqrt(km/me).
    pub fn mesh_frequency_rad_s(&self) -> f64 {
        (self.mesh_stiffness_n_m / self.mesh_mass_kg()).sqrt()
    }

    /// Frequency of rotor and spur as one against the wheels, rad/s: sqrt(Kd/Jd).
    pub fn shaft_frequency_rad_s(&self) -> f64 {
        (self.shaft_stiffness_n_m_rad / self.shaft_inertia_kg_m2()).sqrt()
    }

    /// Lash at the spur, rad: l = i Lw.
    pub fn spur_lash_rad(&self) -> f64 {
        self.ratio_after_spur * self.lash_rad
    }

    /// Wheel speed in the air without any loss, rad/s: (V/Ke) (z1/z2)/i.
    pub fn no_load_wheel_speed_rad_s(&self) -> f64 {
        self.battery_voltage_v * self.motor_kv_rad_s_v / self.overall_ratio()
    }

    /// Speed at which the motor's force balances the drag, m/s.
    ///
    /// No slip, I = min((V - Ke w)/(R + Rb), Idrive), no-load loss and drag only.
    pub fn loaded_top_speed_m_s(&self) -> f64 {
        let motor = Motor { throttle_strength: 1.0, ..self.motor() };
        let turns_per_m = self.overall_ratio() / self.tyre_radius_m;
        let surplus_n = |speed_m_s: f64| {
            let rotor_rad_s = speed_m_s * turns_per_m;
            let current_a = motor.commanded_current_a(Command::Drive, rotor_rad_s);
            let torque_n_m = motor.constant * current_a - motor.no_load_torque_n_m(rotor_rad_s);
            torque_n_m * turns_per_m - self.drag_n(speed_m_s)
        };
        let (mut low, mut high) = (0.0, self.no_load_wheel_speed_rad_s() * self.tyre_radius_m);
        for _ in 0..BISECTIONS {
            let middle = 0.5 * (low + high);
            if surplus_n(middle) > 0.0 { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    /// Acceleration of a launch without slip at a steady current, m/s²: F/(m + (Jw + i² (Js + Jm (z2/z1)²))/r²), the wheels
    /// that are not driven rolling along.
    pub fn launch_acceleration_m_s2(&self, current_a: f64) -> f64 {
        let before = self.spur_inertia_kg_m2 + self.rotor_inertia_kg_m2 * self.mesh_ratio().powi(2);
        let turning = self.wheel_inertia_kg_m2() + self.ratio_after_spur.powi(2) * before;
        let force_n = self.motor_constant() * current_a * self.overall_ratio() / self.tyre_radius_m;
        force_n / (self.road_mass_kg() + turning / self.tyre_radius_m.powi(2))
    }

    /// Drag at a speed, N: 0.5 rho CdA v |v|.
    pub fn drag_n(&self, speed_m_s: f64) -> f64 {
        0.5 * AIR_DENSITY_KG_M3 * self.drag_area_m2 * speed_m_s * speed_m_s.abs()
    }

    /// Heights (sprung, unsprung) of the truck standing on its tyres, m; 0 where the tyres just touch.
    pub fn static_heights_m(&self) -> (f64, f64) {
        let tyres_n_m = f64::from(self.wheel_count) * self.tyre_stiffness_n_m;
        let unsprung_m = -self.truck_mass_kg * GRAVITY_M_S2 / tyres_n_m;
        let compression_m = self.suspension().static_compression_m(self.sprung_mass_kg() * GRAVITY_M_S2);
        (unsprung_m - compression_m, unsprung_m)
    }

    /// Motor, battery and controller.
    pub fn motor(&self) -> Motor {
        Motor {
            constant: self.motor_constant(),
            voltage_v: self.battery_voltage_v,
            resistance_ohm: self.motor_resistance_ohm,
            battery_resistance_ohm: self.battery_resistance_ohm,
            no_load_current_a: self.no_load_current_a,
            drive_current_a: self.drive_current_a,
            brake_current_a: self.brake_current_a,
            throttle_strength: self.throttle_strength,
            brake_strength: self.brake_strength,
        }
    }

    /// The mesh as a contact along the line of action.
    pub fn mesh(&self) -> Contact {
        let half_m = 0.5 * self.normal_backlash_m;
        let damping = self.mesh_damping_n_s_m();
        Contact { stiffness: self.mesh_stiffness_n_m, damping, upper: half_m, lower: -half_m }
    }

    /// The shaft behind the spur with its clutch.
    pub fn shaft(&self) -> Shaft {
        let half_rad = 0.5 * self.spur_lash_rad();
        let damping = self.shaft_damping_n_m_s();
        let contact = Contact { stiffness: self.shaft_stiffness_n_m_rad, damping, upper: half_rad, lower: -half_rad };
        Shaft { contact, clutch_torque_n_m: self.clutch_torque_n_m.unwrap_or(f64::INFINITY) }
    }

    /// All tyres as one contact with the ground, closed where the unsprung height is negative.
    pub fn ground(&self) -> Contact {
        let count = f64::from(self.wheel_count);
        Contact {
            stiffness: count * self.tyre_stiffness_n_m,
            damping: count * self.tyre_damping_n_s_m,
            upper: 0.0,
            lower: f64::NEG_INFINITY,
        }
    }

    /// The chassis as a contact with the ground; never closed where no clearance is given.
    pub fn slap(&self) -> Contact {
        Contact {
            stiffness: self.slap_stiffness_n_m,
            damping: self.slap_damping_n_s_m,
            upper: self.chassis_clearance_m.unwrap_or(f64::INFINITY),
            lower: f64::NEG_INFINITY,
        }
    }

    /// The suspension.
    pub fn suspension(&self) -> Suspension {
        Suspension {
            stiffness_n_m: self.suspension_stiffness_n_m,
            damping_n_s_m: self.suspension_damping_n_s_m,
            travel_m: self.suspension_travel_m,
            stop_stiffness_n_m: self.stop_stiffness_n_m,
        }
    }

    /// The driven tyres along the road.
    pub fn tyre(&self) -> Tyre {
        Tyre {
            grip: self.grip,
            load_share: self.driven_load_share,
            slip_stiffness: self.tyre_slip_stiffness,
            slip_shape: self.tyre_slip_shape,
            relaxation_length_m: self.relaxation_length_m,
        }
    }
}

/// Speed of a fall from a height, m/s: sqrt(2 g h).
pub fn fall_speed_m_s(drop_height_m: f64) -> f64 {
    (2.0 * GRAVITY_M_S2 * drop_height_m).sqrt()
}
