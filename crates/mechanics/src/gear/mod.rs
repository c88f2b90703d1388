//! Spur gears: geometry of one tooth and of a pair, strength of root and flank, load across the face.
//!
//! External spur gears (helix angle 0) with involute flanks cut by a basic rack.
//! Geometry after ISO 21771, strength after ISO 6336 method B, each function names its clause.

mod backlash;
mod error;
mod face_load;
mod fillet;
mod flank;
mod identify;
mod involute;
mod lewis;
mod limits;
mod outline;
mod pair;
mod pins;
mod pitch_match;
mod quasi_static;
mod rack;
mod root;
mod root_stress;
mod span;
mod stiffness;
mod strength_points;
mod tooth;
mod worn_tip;

pub use backlash::{
    Backlash, UpperEnd, Window, WindowLimits, centre_distance_for_backlash, centre_distance_for_contact_ratio,
    lateral_shift,
};
pub use error::GearError;
pub use face_load::{FaceFactors, FaceLoad, MeshFlank, face_factors};
pub use flank::{
    FILM_FACTORS, FlankDuty, FlankLoad, elasticity_factor, flank_pressure, flank_strength, hardness_factor,
    single_contact_factor, zone_factor,
};
pub use identify::{Candidate, GearReading, SpanReading, TIP_READING_TOLERANCE, identify};
pub use involute::{inv, inv_inverse};
pub use lewis::{LewisLoad, ToothFinish, lewis_form_factor, lewis_stress, velocity_factor};
pub use limits::LIMITS;
pub use outline::{Outline, outline};
pub use pair::{Engagement, Member, Pair, PairSpec, reference_centre_distance};
pub use pins::{best_pin, size_over_pins, thinning_from_pins};
pub use pitch_match::{PitchOf, check_same_pitch};
pub use quasi_static::{DynamicFactor, DynamicLoad, ToothForces, dynamic_factor};
pub use rack::Rack;
pub use root::{LoadPoint, ToothRoot, tooth_root};
pub use root_stress::{Rim, RootDuty, RootLoad, deep_tooth_factor, rim_factor, root_strength, root_stress};
pub use span::{Span, span_measurement, teeth_to_span, thinning_from_span};
pub use stiffness::{MeshStiffness, mesh_stiffness};
pub use strength_points::{StrengthAt, StrengthPoint, strength_points};
pub use tooth::{Gear, Tooth, ToothSpec};
pub use worn_tip::worn_tip_shortening;
