//! A line of the care plan in words: when, what, how tight, why, and the cautions that go with it.

use crate::torque::torque_window;
use toothsayer_quantity::{Force, Kind, Length, System, Torque, show};
use toothsayer_verdict::{BearingCare, CareItem, CareTask, Due, Grease, JointCare, LAST_RUNS, LONGEST_RUNS, TeethCare};

/// Cautions for whatever is done in the gear bay, as ids of the fault book.
const GEAR_BAY: [&str; 2] = ["battery-out", "hot"];

/// One line in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CareWords {
    /// After which runs.
    pub when: String,
    /// What is done, how tight, to which figure.
    pub what: String,
    /// Why, with the figure that says so.
    pub why: String,
    /// Cautions, as ids of the fault book.
    pub cautions: Vec<&'static str>,
}

/// A line of the care plan in words.
pub fn care_words(item: &CareItem, system: System) -> CareWords {
    let (what, why, more): (String, String, &[&'static str]) = match &item.task {
        CareTask::PlasticAndWheels => (
            "every screw on plastic once more by hand, and the wheel nuts as their maker says".into(),
            "embedding and creep take most of their clamp in the first run (common practice, no source)".into(),
            &["plastic-by-hand", "wheels-in-air"],
        ),
        CareTask::Joint(joint) => {
            let cautions: &[&str] = if joint.plastic { &["plastic-by-hand"] } else { &["locker-on-metal"] };
            (joint_what(joint, system), joint_why(joint, system), cautions)
        }
        CareTask::SetScrew { size, torque, margin } => {
            (set_screw_what(size, *torque, system), set_screw_why(*margin), &["locker-on-metal"])
        }
        CareTask::Mesh { low, high } => (mesh_what([*low, *high], system), MESH_WHY.into(), &[]),
        CareTask::Teeth(teeth) => (
            "look at every tooth of pinion and spur: a cracked, bent or missing one ends the run".into(),
            teeth_why(teeth),
            &["eyes"],
        ),
        CareTask::NewGears(teeth) => ("new pinion and new spur, both together".into(), teeth_why(teeth), &["eyes"]),
        CareTask::Bearing(bearing) => (bearing_what(bearing), bearing_why(bearing), &[]),
        CareTask::NewBearing(bearing) => (format!("new {}", name(bearing.part)), bearing_why(bearing), &["eyes"]),
    };
    CareWords { when: when(item.due), what, why, cautions: GEAR_BAY.iter().chain(more).copied().collect() }
}

fn when(due: Due) -> String {
    let after = |run: u32| if run == 1 { "after the first run".to_owned() } else { format!("after run {run}") };
    match due.every {
        _ if due.is_every_run() => "after every run".into(),
        None => after(due.first),
        Some(every) if every == due.first => format!("every {every} runs"),
        Some(1) => format!("{}, then after every run", after(due.first)),
        Some(every) => format!("{}, then every {every} runs", after(due.first)),
    }
}

fn joint_what(joint: &JointCare, system: System) -> String {
    let name = &joint.name;
    let Some([low, high]) = joint.window else {
        return format!(
            "{name}: no torque both clamps enough and spares its weakest part: change the joint (`toothsayer screws` \
             says how), and look at it after every run until then"
        );
    };
    let window = match joint.upper_end {
        true => format!("to the upper end of {}", torque_window(low, high, system)),
        false => torque_window(low, high, system),
    };
    let hand = if joint.plastic { " by hand" } else { "" };
    if joint.left_loose {
        return format!("{name}: found loose and not in this repair: tighten it{hand} before it runs, {window}");
    }
    if let Some(left) = joint.left_at {
        let left = show(Kind::Torque, left.to_n_m(), system);
        return format!(
            "tighten{hand} before it runs and again then: {name}; it was left at {left}; {window}, no tighter"
        );
    }
    if joint.holds_motor {
        return format!(
            "try the screws of {name} with a driver: none may turn; one that does is tightened{hand} again, {window}, no tighter"
        );
    }
    format!("tighten again{hand}: {name}; {window}, no tighter")
}

fn joint_why(joint: &JointCare, system: System) -> String {
    let force = |force: Force| show(Kind::Force, force.to_n(), system);
    let set = match joint.upper_end {
        true => "at the window's upper end".to_owned(),
        false => format!("tightened to {}", show(Kind::Torque, joint.torque.to_n_m(), system)),
    };
    let after =
        |run: f64| joint.over_runs.iter().find(|(runs, _)| *runs == run).map_or(Force::ZERO, |(_, clamp)| *clamp);
    let needed = force(joint.needed);
    let often = if joint.holds_motor {
        "the motor's screws are found loose most often (common practice, no source); by the figures, "
    } else {
        ""
    };
    if joint.left_loose {
        return format!("as found it clamps nothing, and {needed} a screw are needed");
    }
    let settles =
        format!("{set} a screw clamps {}, {} of it after the first run", force(joint.fresh), force(after(1.0)));
    let lasts = match joint.lasts {
        None => format!("{needed} are needed, more than it has when fresh"),
        Some(0) => format!(
            "{needed} are needed: it does not outlast the first run, so keep that one short and gentle; a washer or a longer \
             screw would lose less{}",
            lasts_again(joint)
        ),
        Some(LONGEST_RUNS) => format!("{} after {LONGEST_RUNS} runs, and {needed} are needed", force(after(50.0))),
        Some(runs) => format!("{needed} are needed, and less is left after run {}", runs + 1),
    };
    format!("{often}{settles}; {lasts}")
}

/// What the next tightening gives, where it gives something.
fn lasts_again(joint: &JointCare) -> String {
    match joint.lasts_again.filter(|runs| *runs > 0) {
        Some(runs) if runs >= LONGEST_RUNS => {
            format!("; tightened again after it, it keeps enough for {LONGEST_RUNS} runs")
        }
        Some(runs) => format!("; tightened again after it, it keeps enough for {runs} more"),
        None => String::new(),
    }
}

fn set_screw_what(size: &str, torque: Option<Torque>, system: System) -> String {
    let tight = torque.map_or(String::new(), |torque| {
        format!("; one that does is seated again with {} and locker", show(Kind::Torque, torque.to_n_m(), system))
    });
    format!("try the pinion's set screw ({size}) with a proper driver: it may not turn{tight}")
}

fn set_screw_why(margin: Option<f64>) -> String {
    let often = "heat and blows work on it (interval: common practice, no source)";
    match margin {
        Some(margin) if margin < 1.0 => {
            format!(
                "it holds {margin:.2} of the hardest blow, which is too little: `toothsayer change` says what helps; {often}"
            )
        }
        Some(margin) => format!("seated so it holds {margin:.1} times the hardest blow; {often}"),
        None => often.into(),
    }
}

const MESH_WHY: &str =
    "bearings seat, flanks run in and screws settle (figure and interval: common practice, no source)";

fn mesh_what([low, high]: [Length; 2], system: System) -> String {
    let [low, high] = [low, high].map(|play| show(Kind::Length, play.to_m(), system));
    format!("feel the play of the mesh: {low} to {high} at the pitch circle, over a whole turn of the spur")
}

fn teeth_why(teeth: &TeethCare) -> String {
    let half = teeth.median.map_or(format!("over {LAST_RUNS:.0} runs"), |runs| format!("{runs:.0} runs"));
    match teeth.low {
        None => format!("by this driver's blows not one set in twenty strips within {LAST_RUNS:.0} runs (computed)"),
        Some(low) if low < 1.0 => {
            "one set in twenty strips in the first run (computed): `toothsayer change` says what would hold".into()
        }
        Some(low) => {
            format!("one set in twenty has stripped after {low:.0} runs, half of them after {half} (computed)")
        }
    }
}

/// A part of the margins in words.
fn name(part: &str) -> String {
    part.replace('-', " ")
}

fn bearing_what(bearing: &BearingCare) -> String {
    let grease = match bearing.grease {
        Some(Grease::Special) => "; grease for high speed, or oil, by its maker's words",
        Some(Grease::Beyond) => "; it turns faster than greases usually stand: oil, and look twice as often",
        Some(Grease::Ordinary) | None => "",
    };
    format!("turn the {} slowly by hand: smooth, without play{grease}", name(bearing.part))
}

fn bearing_why(bearing: &BearingCare) -> String {
    let interval = "interval: common practice, no source";
    match bearing.runs {
        None => format!("no steady load is known of it ({interval})"),
        Some(runs) if runs > LAST_RUNS => {
            format!(
                "by load alone nine in ten last over {LAST_RUNS:.0} runs (ISO 281); dust and heat end them sooner ({interval})"
            )
        }
        Some(runs) => {
            format!(
                "by load alone nine in ten last {runs:.0} runs (ISO 281); dust and heat end them sooner ({interval})"
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(first: u32, every: Option<u32>, wanted: &str) {
        assert_eq!(when(Due { first, every }), wanted);
    }

    #[test]
    fn times_are_told_as_people_say_them() {
        check(1, None, "after the first run");
        check(7, None, "after run 7");
        check(1, Some(1), "after every run");
        check(1, Some(25), "after the first run, then every 25 runs");
        check(25, Some(25), "every 25 runs");
        check(30, Some(20), "after run 30, then every 20 runs");
        check(3, Some(1), "after run 3, then after every run");
    }

    #[test]
    fn a_set_screw_that_holds_too_little_is_told_so() {
        assert!(set_screw_why(Some(0.8)).starts_with("it holds 0.80 of the hardest blow, which is too little"));
        assert!(set_screw_why(Some(2.5)).starts_with("seated so it holds 2.5 times the hardest blow"));
    }

    #[test]
    fn a_life_that_ends_at_once_is_no_matter_of_care() {
        let why = |low, median| teeth_why(&TeethCare { low, median });
        assert!(why(Some(0.4), Some(3.0)).contains("`toothsayer change` says what would hold"));
        assert_eq!(
            why(Some(56.97), None),
            "one set in twenty has stripped after 57 runs, half of them after over 10000 runs (computed)"
        );
        assert!(why(None, None).contains("not one set in twenty strips within 10000 runs"));
    }
}
