//! The care plan: what is looked at or tightened again, after which run, and the figures that say so.

mod due;
mod joint;
mod parts;

pub use due::Due;
pub use joint::{JointCare, aim};
pub use parts::{BearingCare, TeethCare};

use crate::Error;
use crate::figure::WorkFigure;
use crate::joint::Windows;
use crate::life::Life;
use crate::states::{Loaded, point_margins};
use toothsayer_fault_book::Figure;

/// Longest interval between two tightenings, runs (common practice, no source).
pub const LONGEST_RUNS: u32 = 50;
/// Runs after which the gear cover comes off for a look: seldom, for its screws wear plastic threads each time (common
/// practice, no source).
pub const COVER_OFF_RUNS: u32 = 25;

/// What a care plan is made from: the truck after the work.
pub struct CareAsk<'a> {
    /// Its build with its blows.
    pub loaded: &'a Loaded,
    /// Whether the work was done and its joints are as measured.
    pub done: bool,
    /// Windows that its joints are tightened in.
    pub windows: &'a Windows,
    /// The life of its teeth, with the runs that the shop wants them to last.
    pub life: &'a Life,
}

/// What is done.
#[derive(Clone, Debug, PartialEq)]
pub enum CareTask {
    /// Every screw on plastic and the wheel nuts once more.
    PlasticAndWheels,
    /// A joint whose clamp is known over the runs.
    Joint(JointCare),
    /// The pinion's set screw.
    SetScrew {
        /// Its size.
        size: String,
        /// The table's torque with a proper driver; none where no table has the screw.
        torque: Option<toothsayer_quantity::Torque>,
        /// Its least margin against the blows; none where nothing is asked.
        margin: Option<f64>,
    },
    /// The play of the mesh.
    Mesh {
        /// Least play at the pitch circle.
        low: toothsayer_quantity::Length,
        /// Most play.
        high: toothsayer_quantity::Length,
    },
    /// A look at the teeth.
    Teeth(TeethCare),
    /// New gears before too many sets have stripped.
    NewGears(TeethCare),
    /// A bearing turned by hand.
    Bearing(BearingCare),
    /// A new bearing at the end of its rating life.
    NewBearing(BearingCare),
}

/// One line of the care plan.
#[derive(Clone, Debug, PartialEq)]
pub struct CareItem {
    /// After which runs.
    pub due: Due,
    /// What.
    pub task: CareTask,
}

/// The care plan of a truck whose joints are tightened within their windows, what comes first first.
pub fn care(ask: &CareAsk<'_>) -> Result<Vec<CareItem>, Error> {
    let Loaded { build, .. } = ask.loaded;
    let mut items = vec![CareItem { due: Due::once(1), task: CareTask::PlasticAndWheels }];
    for joint in &build.joints {
        items.extend(joint::item(joint, ask)?);
    }
    let margins = point_margins(ask.loaded, ask.windows, ask.life.horizon_runs)?;
    items.push(parts::set_screw(build, &margins));
    if let Some(WorkFigure::MeshPlay { low, high }) = WorkFigure::of(Figure::MeshPlay, build) {
        items.push(CareItem { due: Due::first_and_every(COVER_OFF_RUNS), task: CareTask::Mesh { low, high } });
    }
    items.extend(parts::teeth(ask.life));
    items.extend(parts::bearings(ask.loaded, &margins, ask.life.horizon_runs)?);
    items.sort_by_key(|item| (item.due.first, item.due.every));
    Ok(items)
}
