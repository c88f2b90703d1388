//! A truck as the solver takes it: its elements, and everything that follows from its parameters.

use super::Parameters;
use super::clutch::Shaft;
use super::contact::Contact;
use super::motor::Motor;
use super::suspension::Suspension;
use super::tyre::Tyre;

/// A truck with everything that follows from its parameters at hand.
#[derive(Clone, Debug)]
pub(super) struct System {
    pub motor: Motor,
    pub mesh: Contact,
    pub shaft: Shaft,
    pub ground: Contact,
    pub slap: Contact,
    pub suspension: Suspension,
    pub tyre: Tyre,
    pub pinion_radius_m: f64,
    pub spur_radius_m: f64,
    pub ratio: f64,
    pub tyre_radius_m: f64,
    pub rotor_inertia: f64,
    pub spur_inertia: f64,
    pub wheel_inertia: f64,
    pub road_mass_kg: f64,
    pub sprung_mass_kg: f64,
    pub unsprung_mass_kg: f64,
    pub mesh_rad_s: f64,
    pub shaft_rad_s: f64,
    pub current_lag_s: f64,
    pub drag_factor: f64,
}

impl System {
    pub fn new(truck: &Parameters) -> Self {
        Self {
            motor: truck.motor(),
            mesh: truck.mesh(),
            shaft: truck.shaft(),
            ground: truck.ground(),
            slap: truck.slap(),
            suspension: truck.suspension(),
            tyre: truck.tyre(),
            pinion_radius_m: truck.pinion_base_radius_m,
            spur_radius_m: truck.spur_base_radius_m,
            ratio: truck.ratio_after_spur,
            tyre_radius_m: truck.tyre_radius_m,
            rotor_inertia: truck.rotor_inertia_kg_m2,
            spur_inertia: truck.spur_inertia_kg_m2,
            wheel_inertia: truck.wheel_inertia_kg_m2(),
            road_mass_kg: truck.road_mass_kg(),
            sprung_mass_kg: truck.sprung_mass_kg(),
            unsprung_mass_kg: truck.unsprung_mass_kg(),
            mesh_rad_s: truck.mesh_frequency_rad_s(),
            shaft_rad_s: truck.shaft_frequency_rad_s(),
            current_lag_s: truck.current_lag_s,
            drag_factor: truck.drag_n(1.0),
        }
    }
}
