//! The main job: margins by state and where they fail, causes, next checks, alternatives, work plan, care plan.
//!
//! Pure: a job, a fault book, a memo of simulations and the wish for ranges come in, a verdict goes out.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bay;
mod bearings;
mod care;
mod change;
mod derivation;
mod diagnosis;
mod error;
mod explanation;
mod explore;
mod figure;
mod grease;
mod heat;
mod influence;
mod joint;
mod landings;
mod life;
mod load_path;
mod makers_limits;
mod margin;
mod measure;
mod mesh_state;
mod motor;
mod peaks;
mod plan;
mod ranges;
mod roots;

mod second_look;
mod statement;
mod states;
mod stopping;
mod tightened;
mod trigger;
mod undecided;
mod usual;
mod verdict;
mod walk;

pub use bay::Bay;
pub use care::{
    BearingCare, COVER_OFF_RUNS, CareAsk, CareItem, CareTask, Due, JointCare, LONGEST_RUNS, TeethCare, aim, care,
};
pub use change::{Changed, MOST_CHANGES, Remedy, Share, Tried, Wanted, shapley};
pub use derivation::{Derivation, OF_CARE, OF_CAUSES, OF_REPAIRS};
pub use diagnosis::{CauseVerdict, Diagnosis, OpenCheck, Told};
pub use error::Error;
pub use explanation::{
    After, Beside, Explanation, FIRST_CAUSES, Known, LimitFrom, Measure, STRENGTHS, Speaks, Strength, Turn, strength,
};
pub use explore::{Answer as SmallestChanges, Combination, Curve, CurvePoint, Estimate, Explore, Explored, Wishes};
pub use figure::WorkFigure;
pub use grease::{BearingSpeed, Grease, bearing_speeds};
pub use heat::{RunHeat, run_heat};
pub use influence::influence;
pub use joint::{JointFriction, Shear, TightJoint, Windows, carries_motor, per_run};
pub use life::{GearLife, LAST_RUNS, Life, LifeAsk, RunsToStrip, Spent, Survival, life};
pub use load_path::{LoadPath, hardest_n};
pub use makers_limits::{MakersLimit, makers_limits};
pub use margin::{FailsAt, Holds, LIMITS, Limit, LimitRow, Margin, StateMargins, UNSURE_FROM};
pub use measure::{
    GearReading, GearReadings, MeshReadings, NewAndWorn, Readings, RimReading, StackReadings, mesh_by_rim, thinning_by,
};
pub use mesh_state::{MeshState, Shown, shown_by_mesh};
pub use motor::truck_speeds;
pub use peaks::{Blow, CasePeaks, LASH_PHASES, Memo, Phases, event, peaks};
pub use plan::{
    Alternative, FrontPoint, Left, NEW_GEARS_ONLY, Plan, PlanPart, PlanStep, RECOMMENDED, SMALLEST_SOUND, STURDIEST,
};
pub use ranges::{Answer, Drawn, FIRST_DRAWS, MOST_DRAWS, Narrow, Narrowing, Ranges, USUAL_SEED, Watch};
pub use second_look::{RootStresses, TOLD_FORCE, root_stresses};
pub use statement::{Shortfall, Statement};
pub use states::{Loaded, Staged, stages, state_margins, windows};
pub use stopping::{Stopping, stopping_distance};
pub use tightened::Tightened;
pub use toothsayer_evidence::DECIBANS_PER_NAT;
pub use verdict::Verdict;
pub use walk::{Driven, Grip, MOST_EVENTS, Walk, WalkAsk, WalkEnd, WalkPoint, walk};
