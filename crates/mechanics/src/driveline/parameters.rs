//! What the shock model needs to know of a truck.

use super::DrivelineError;
use super::limits::{LIMITS, PARAMETER_COUNT};
use crate::Error;

/// A truck as the shock model sees it, SI units. Defaults are the caller's business: every value has to be given.
#[derive(Clone, Debug, PartialEq)]
pub struct Parameters {
    /// Mass m of the whole truck, kg.
    pub truck_mass_kg: f64,
    /// Number of wheels nw that the truck stands on.
    pub wheel_count: u32,
    /// Number of driven wheels nd among them.
    pub driven_wheels: u32,
    /// Share wd of the ground force that the driven wheels carry, 0..1; 1 where all are driven.
    pub driven_load_share: f64,
    /// Mass mw of one wheel with its tyre, kg.
    pub wheel_mass_kg: f64,
    /// Tyre radius r, m.
    pub tyre_radius_m: f64,
    /// Radius of gyration of a wheel over its tyre radius, kg.
    pub gyration_ratio: f64,
    /// Friction mu at the top of the tyre curve.
    pub grip: f64,
    /// Drag coefficient times frontal area, m².
    pub drag_area_m2: f64,
    /// Open-circuit voltage V of the battery, V.
    pub battery_voltage_v: f64,
    /// Resistance Rb of the battery, ohm.
    pub battery_resistance_ohm: f64,
    /// Speed per volt Kv of the motor, rad/s/V; its inverse is the torque per current.
    pub motor_kv_rad_s_v: f64,
    /// Resistance R of the motor, ohm.
    pub motor_resistance_ohm: f64,
    /// Current I0 without load, A.
    pub no_load_current_a: f64,
    /// Inertia Jm of the rotor, kg·m².
    pub rotor_inertia_kg_m2: f64,
    /// Time constant tau of the current, s.
    pub current_lag_s: f64,
    /// Controller's limit Idrive when driving, A.
    pub drive_current_a: f64,
    /// Controller's limit Ibrake when braking, A.
    pub brake_current_a: f64,
    /// Brake strength s, 0..1.
    pub brake_strength: f64,
    /// Throttle strength u at full throttle, 0..1.
    pub throttle_strength: f64,
    /// Base radius rb1 of the pinion, m.
    pub pinion_base_radius_m: f64,
    /// Base radius rb2 of the spur, m; rb2/rb1 is the tooth ratio.
    pub spur_base_radius_m: f64,
    /// Backlash jn along the line of action, m.
    pub normal_backlash_m: f64,
    /// Mesh stiffness km along the line of action, teeth in series with the motor shaft, N/m.
    pub mesh_stiffness_n_m: f64,
    /// Damping ratio zm of the mesh.
    pub mesh_damping_ratio: f64,
    /// Inertia Js of the spur and its shaft, kg·m².
    pub spur_inertia_kg_m2: f64,
    /// Turns i of the spur for one of the wheel.
    pub ratio_after_spur: f64,
    /// Stiffness Kd of the driveline behind the spur, at the spur, N·m/rad.
    pub shaft_stiffness_n_m_rad: f64,
    /// Damping ratio zd of the driveline behind the spur.
    pub shaft_damping_ratio: f64,
    /// Lash Lw of the driveline at the wheels, rad.
    pub lash_rad: f64,
    /// Torque Tc at which the clutch slips, at the spur, N·m.
    pub clutch_torque_n_m: Option<f64>,
    /// Stiffness ks of the suspension, whole truck, N/m.
    pub suspension_stiffness_n_m: f64,
    /// Damping cs of the suspension, whole truck, N·s/m.
    pub suspension_damping_n_s_m: f64,
    /// Travel of the suspension, m.
    pub suspension_travel_m: f64,
    /// Stiffness kb of the suspension's stops, N/m.
    pub stop_stiffness_n_m: f64,
    /// Vertical stiffness of one tyre, N/m.
    pub tyre_stiffness_n_m: f64,
    /// Vertical damping of one tyre, N·s/m.
    pub tyre_damping_n_s_m: f64,
    /// Height hc that the chassis sinks from touch-down of the tyres until it slaps, m.
    pub chassis_clearance_m: Option<f64>,
    /// Stiffness kc of the slap, N/m.
    pub slap_stiffness_n_m: f64,
    /// Damping cc of the slap, N·s/m.
    pub slap_damping_n_s_m: f64,
    /// Factor B of the tyre curve.
    pub tyre_slip_stiffness: f64,
    /// Factor C of the tyre curve.
    pub tyre_slip_shape: f64,
    /// Relaxation length sr of the tyre, m.
    pub relaxation_length_m: f64,
}

/// Least damping ratio of the shaft together with a clutch: the slip is resolved through the damper.
pub(super) const MIN_CLUTCH_DAMPING_RATIO: f64 = 0.005;

impl Parameters {
    /// Refuses what the model is not valid for: a value outside its range (see [`LIMITS`]), wheels as heavy as
    /// the truck, a clutch on a shaft without damping.
    pub fn check(&self) -> Result<(), Error> {
        for limit in &LIMITS {
            if let Some(value) = (limit.read)(self) {
                limit.range.check(value)?;
            }
        }
        if f64::from(self.wheel_count) * self.wheel_mass_kg >= self.truck_mass_kg {
            let Self { truck_mass_kg, wheel_count, wheel_mass_kg, .. } = *self;
            return Err(DrivelineError::NoSprungMass { truck_mass_kg, wheel_count, wheel_mass_kg }.into());
        }
        if self.driven_wheels > self.wheel_count {
            let Self { driven_wheels, wheel_count, .. } = *self;
            return Err(DrivelineError::MoreDrivenThanThere { driven_wheels, wheel_count }.into());
        }
        if self.clutch_torque_n_m.is_some() && self.shaft_damping_ratio < MIN_CLUTCH_DAMPING_RATIO {
            let (damping_ratio, min) = (self.shaft_damping_ratio, MIN_CLUTCH_DAMPING_RATIO);
            return Err(DrivelineError::ClutchWithoutDamping { damping_ratio, min }.into());
        }
        Ok(())
    }

    /// The bits of all values, for use as a key: equal trucks have equal bits; an absent value is all ones.
    pub fn bits(&self) -> [u64; PARAMETER_COUNT] {
        LIMITS.each_ref().map(|limit| (limit.read)(self).map_or(u64::MAX, f64::to_bits))
    }
}
