//! `screws`: each joint's clamp, its window, and what gives way first.

use crate::args::StateArgs;
use crate::failure::Failure;
use crate::input::{Desk, state};
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::words::{number, state_words, value, window as torque_window};
use serde_json::{Value, json};
use toothsayer_job::Joint;
use toothsayer_mechanics::driveline::Case;
use toothsayer_mechanics::screw::{Opening, Remedy, Weakest, Window};
use toothsayer_quantity::{Force, Kind, Torque};
use toothsayer_verdict::{JointFriction, Loaded, Memo, TightJoint, Verdict, Windows};

/// One joint as it is in the state asked for, with the window that it will be tightened in.
struct Sight {
    name: String,
    preload: Force,
    strips: Torque,
    window: Window,
    weakest: Weakest,
    over_runs: Vec<(f64, Force)>,
    slip: Option<f64>,
    needed: Option<Force>,
    torque: Torque,
    free: bool,
    plastic: bool,
}

impl Sight {
    /// Whether its clamp falls below what it needs within the runs that are shown.
    fn fades(&self) -> bool {
        self.needed.is_some_and(|needed| self.over_runs.iter().any(|(_, clamp)| *clamp < needed))
    }
}

/// The joints of a job file.
pub fn run(desk: &Desk<'_>, args: &StateArgs) -> Result<String, Failure> {
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let loaded = verdict.loaded(state(args.state), &memo)?;
    let sights: Vec<Sight> =
        loaded.build.joints.iter().map(|joint| sight(joint, &loaded, &verdict.windows)).collect::<Result<_, _>>()?;
    if desk.global.json {
        return json::text(&json!({ "joints": sights.iter().map(as_json).collect::<Vec<_>>() }));
    }
    let mut paper = Paper::new();
    write(desk, state_words(verdict.stage(state(args.state))?.state), &sights, &mut paper);
    Ok(paper.finish())
}

fn sight(joint: &Joint, loaded: &Loaded, windows: &Windows) -> Result<Sight, Failure> {
    let tight = TightJoint::new(joint, &loaded.build, &loaded.peaks, JointFriction::NOMINAL)?;
    let needed = tight.needed_clamp()?;
    let window = tight.window_among(windows)?;
    let torque = tight.torque(&window);
    let clamp = tight.clamp_after(torque, joint.runs_since_tightened)?;
    let worst = tight
        .shears()
        .iter()
        .filter(|shear| shear.case != Case::WheelStop)
        .map(|shear| shear.demand.to_n())
        .fold(0.0, f64::max);
    Ok(Sight {
        name: joint.name.clone(),
        preload: tight.preload(torque)?,
        strips: tight.torque_to_strip(),
        weakest: tight.weakest(),
        over_runs: tight.clamp_over_runs(torque)?,
        slip: (worst > 0.0).then(|| tight.face_friction() * clamp.to_n() / worst),
        needed,
        torque,
        free: joint.free,
        plastic: tight.into_plastic()?,
        window,
    })
}

fn as_json(sight: &Sight) -> Value {
    let clamps = sight.window.limited_by.clamps();
    json!({
        "name": sight.name,
        "torque_n_m": sight.torque.to_n_m(),
        "preload_n": sight.preload.to_n(),
        "torque_to_strip_n_m": sight.strips.to_n_m(),
        "window_low_n_m": clamps.then(|| sight.window.low.to_n_m()),
        "window_high_n_m": clamps.then(|| sight.window.high.to_n_m()),
        "window_open": sight.window.is_open(),
        "weakest": sight.weakest.name(),
        "needed_clamp_n": sight.needed.map(Force::to_n),
        "clamp_after_runs": sight.over_runs.iter().map(|(run, n)| json!({ "run": run.round() as i64, "n": n.to_n() })).collect::<Vec<_>>(),
        "slip_margin": sight.slip,
    })
}

fn write(desk: &Desk<'_>, words: &str, sights: &[Sight], paper: &mut Paper) {
    let torque = |torque: Torque| value(Kind::Torque, torque.to_n_m(), desk.system);
    let force = |force: Force| value(Kind::Force, force.to_n(), desk.system);
    let names = |which: &dyn Fn(&Sight) -> bool| -> Vec<String> {
        sights.iter().filter(|sight| which(sight)).map(|sight| sight.name.clone()).collect()
    };
    let loose = names(&|sight| sight.free || sight.slip.is_some_and(|slip| slip < 1.0));
    let fading = names(&|sight| !sight.free && sight.slip.is_none_or(|slip| slip >= 1.0) && sight.fades());
    let told = match (loose.is_empty(), fading.is_empty()) {
        (true, true) => "every joint holds".to_owned(),
        (false, _) => format!("does not hold: {}", crate::words::list(&loose)),
        (true, false) => format!(
            "freshly tightened every joint holds; after the first runs not enough clamp is left in {}",
            crate::words::list(&fading)
        ),
    };
    paper.paragraph(&format!("Joints {words}: {told}."));
    let mut table = Table::new(&["joint", "tighten to", "strips at>", "weakest", "now at>", "clamp a screw>", "slip"]);
    for sight in sights {
        let window = if sight.window.is_open() {
            Cell::plain(torque_window(sight.window.low, sight.window.high, desk.system))
        } else {
            Cell::tinted(Tint::Bad, "no torque does")
        };
        let slip = match sight.slip {
            None => Cell::plain("carries no blow"),
            Some(slip) if slip < 1.0 => Cell::tinted(Tint::Bad, format!("{} SLIPS", number(slip))),
            Some(slip) => Cell::tinted(Tint::Good, format!("{} holds", number(slip))),
        };
        let clamp =
            if sight.free { Cell::tinted(Tint::Bad, "none: found loose") } else { Cell::plain(force(sight.preload)) };
        table.row(vec![
            Cell::plain(sight.name.clone()),
            window,
            Cell::plain(torque(sight.strips)),
            Cell::plain(sight.weakest.name()),
            Cell::plain(torque(sight.torque)),
            clamp,
            slip,
        ]);
    }
    paper.blank();
    paper.table(&table);
    paper.heading("Clamp over runs");
    let mut table = Table::new(&["joint", "needed>", "run 1>", "run 2>", "run 5>", "run 20>", "run 50>"]);
    for sight in sights.iter().filter(|sight| !sight.free) {
        let mut cells =
            vec![Cell::plain(sight.name.clone()), Cell::plain(sight.needed.map_or("not stated".into(), force))];
        cells.extend(sight.over_runs.iter().map(|(_, clamp)| Cell::plain(force(*clamp))));
        table.row(cells);
    }
    paper.table(&table);
    notes(desk, sights, paper);
}

fn notes(desk: &Desk<'_>, sights: &[Sight], paper: &mut Paper) {
    paper.blank();
    for sight in sights.iter().filter(|sight| !sight.window.is_open()) {
        let openings: Vec<String> =
            sight.window.openings.iter().filter(|opening| opening.opens).map(|opening| remedy(desk, opening)).collect();
        let words =
            if openings.is_empty() { "a new part or an insert".to_owned() } else { crate::words::list(&openings) };
        paper.item("note:", &format!("{}: its window is empty; what opens it: {words}.", sight.name));
    }
    if sights.iter().any(|sight| sight.plastic) {
        paper.item("note:", "Screws into plastic: by hand, seat them, then stop at the first firm resistance; a power driver never seats them.");
    }
    paper.item("note:", "\"tighten to\" is for the joint as it will be after the repair; the clamp, its need and the slip are those of the state shown.");
    paper.item("note:", "Windows hold for clean screws or thread locker (friction 0.08 to 0.16); dry threads need more and give less. Thread locker on metal only.");
    if desk.global.explain {
        for row in toothsayer_verdict::LIMITS.iter().filter(|row| ["slip", "strip", "clamp"].contains(&row.name)) {
            paper.item(&format!("{}:", row.name), &format!("{} ({})", row.formula, row.source));
        }
    }
}

/// A remedy in words, with the length of the screw that goes with it.
fn remedy(desk: &Desk<'_>, opening: &Opening) -> String {
    let length = value(Kind::Length, opening.length.to_m(), desk.system);
    match opening.remedy {
        Remedy::Washer => "a washer under the head".to_owned(),
        Remedy::ScrewLength => format!("a screw of {length}"),
        Remedy::WasherAndScrewLength => format!("a washer with a screw of {length}"),
        Remedy::Insert => format!("a brass insert with a screw of {length}"),
        Remedy::NewPart => "a new part".to_owned(),
    }
}
