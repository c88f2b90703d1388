//! The truck along the road, rolling without slip: forces of motor, drag and grip, and the mass that they move.

use super::performance::Steady;
use crate::Error;
use crate::driveline::Parameters;
use crate::driveline::derived::GRAVITY_M_S2;

/// A truck on the level, the driven wheels with their share of its weight; load transfer is left out.
#[derive(Clone, Copy, Debug)]
pub(super) struct Road<'a> {
    truck: &'a Parameters,
    pub turns_per_m: f64,
    /// Mass m that the tyres move, the wheels that are not driven rolling along.
    pub mass_kg: f64,
    /// Mass m' with the rotating parts, m + (Jw + i² (Js + Jm (z2/z1)²))/r².
    pub effective_mass_kg: f64,
    /// Largest force of the driven tyres, mu g x the truck's mass x their share of it.
    pub grip_n: f64,
}

impl<'a> Road<'a> {
    pub fn new(truck: &'a Parameters) -> Result<Self, Error> {
        truck.check()?;
        let turns_per_m = truck.overall_ratio() / truck.tyre_radius_m;
        let per_ampere_n = truck.motor_constant() * turns_per_m;
        Ok(Self {
            truck,
            turns_per_m,
            mass_kg: truck.road_mass_kg(),
            effective_mass_kg: per_ampere_n / truck.launch_acceleration_m_s2(1.0),
            grip_n: truck.grip * truck.truck_mass_kg * GRAVITY_M_S2 * truck.driven_load_share,
        })
    }

    pub fn motor(&self) -> Steady {
        Steady::of(self.truck)
    }

    /// Force at the tread of a motor current, its loss taken off, N.
    pub fn force_n(&self, current_a: f64) -> f64 {
        self.truck.motor_constant() * (current_a - self.truck.no_load_current_a) * self.turns_per_m
    }

    /// Current that gives a force at the tread, A.
    pub fn current_a(&self, force_n: f64) -> f64 {
        self.truck.no_load_current_a + force_n / (self.truck.motor_constant() * self.turns_per_m)
    }

    /// Force at the tread whose part that reaches the road is all that the tyres hold, N; the rest spins the rotating
    /// parts up: F = (m' (mu N - D) + m D)/m, so that mu N - D accelerates the mass m.
    pub fn gripped_force_n(&self, drag_n: f64) -> f64 {
        let road_m_s2 = (self.grip_n - drag_n) / self.mass_kg;
        self.effective_mass_kg * road_m_s2 + drag_n
    }

    /// Force at the tread that a slipper clutch lets through, N.
    pub fn clutch_n(&self) -> Option<f64> {
        Some(self.truck.clutch_torque_n_m? * self.truck.ratio_after_spur / self.truck.tyre_radius_m)
    }
}
