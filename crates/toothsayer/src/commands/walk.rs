//! `walk`: a motor that slides away from the spur, event after event.

use crate::args::WalkArgs;
use crate::failure::Failure;
use crate::input::{Desk, quantity, state};
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::plot::{Band, plot};
use crate::words::{mesh_words, number, sentence, state_words, value};
use serde_json::{Value, json};
use toothsayer_job::{Driver, Job};
use toothsayer_mechanics::driveline::{Case, DrivelineError};
use toothsayer_quantity::{Force, Kind, Length, Torque};
use toothsayer_verdict::{
    Driven, Grip, MOST_EVENTS, Memo, MeshState, Verdict, Walk, WalkAsk, WalkEnd, WalkPoint, per_run, walk,
};

/// Columns beside a plot: a length, its unit and the axis.
const PLOT_MARGIN: usize = 14;
/// Rows of the table.
const ROWS: usize = 12;
/// Events from which a curve is drawn.
const LEAST_DRAWN: usize = 3;
/// Points of a walk in machine-readable results; a longer walk is told at even distances.
const MOST_POINTS: usize = 1001;

/// The walk of a job file's motor.
pub fn run(desk: &Desk<'_>, args: &WalkArgs) -> Result<String, Failure> {
    let job = desk.job(&args.of.file)?;
    let driven = driven(args)?;
    let ask = WalkAsk {
        driven,
        joint: args.joint.as_deref(),
        torque: args.torque.as_deref().map(|text| quantity("torque", Kind::Torque, text)).transpose()?.map(Torque::n_m),
        clearance: clearance(args)?,
        grip: Grip::USUAL,
    };
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let stage = verdict.stage(state(args.of.state))?;
    let loaded = verdict.loaded(state(args.of.state), &memo)?;
    let of = |grip: Grip| walk(&loaded, stage.run_in, &verdict.windows, &WalkAsk { grip, ..ask }).map_err(failure);
    let [soonest, latest] = Grip::ENDS;
    let told = Told { usual: of(Grip::USUAL)?, soonest: of(soonest)?, latest: of(latest)? };
    let times = Times::of(driven, &loaded.build.driver);
    if desk.global.json {
        return json::text(&as_json(stage.state.name(), &told, &times));
    }
    let mut paper = Paper::new();
    write(desk, state_words(stage.state), &told, &times, &mut paper);
    if let Some(words) = mesh_words(MeshState::of(&loaded.bay), desk.system) {
        paper.item("note:", &words);
    }
    notes(desk, &job, &told.usual, &mut paper);
    Ok(paper.finish())
}

fn driven(args: &WalkArgs) -> Result<Driven, Failure> {
    if args.every_event {
        return Ok(Driven::Run);
    }
    let case: Case = args.case.parse().map_err(|error: DrivelineError| {
        Failure::usage(error.to_string(), "the cases are listed by `toothsayer shock --help`")
    })?;
    Ok(Driven::Case(case))
}

fn clearance(args: &WalkArgs) -> Result<Option<Length>, Failure> {
    let given = args.clearance.as_deref().map(|text| quantity("clearance", Kind::Length, text)).transpose()?;
    Ok(given.map(Length::m))
}

fn failure(error: toothsayer_verdict::Error) -> Failure {
    match error {
        toothsayer_verdict::Error::NoMotorJoint | toothsayer_verdict::Error::NotMotorJoint { .. } => Failure::could(
            error.to_string(),
            "a joint that holds the motor has carries = \"motor\" or \"mount\", and a circle",
        ),
        other => other.into(),
    }
}

/// A walk at usual grip, and at the ends of what is stated of it.
struct Told {
    usual: Walk,
    soonest: Walk,
    latest: Walk,
}

impl Told {
    /// Something of the walk that comes soonest and latest; none where it does not come.
    fn ends(&self, when: impl Fn(&Walk) -> Option<usize>) -> [Option<usize>; 2] {
        [when(&self.soonest), when(&self.latest)]
    }
}

/// Events until the walk is over: the teeth ride over, or the holes stop the motor.
fn over(walk: &Walk) -> Option<usize> {
    matches!(walk.end, WalkEnd::RidesOver | WalkEnd::AtTheHole).then(|| walk.points.len().saturating_sub(1))
}

/// What the events are called, and how many come in a run.
struct Times {
    one: &'static str,
    a_run: f64,
    mixed: bool,
}

impl Times {
    fn of(driven: Driven, driver: &Driver) -> Self {
        match driven {
            Driven::Case(case) => Self { one: case.name(), a_run: per_run(driver, case), mixed: false },
            Driven::Run => {
                Self { one: "an event", a_run: Case::ALL.map(|case| per_run(driver, case)).iter().sum(), mixed: true }
            }
        }
    }

    /// So many events, and how many runs that is.
    fn words(&self, events: usize) -> String {
        let runs = if self.a_run > 0.0 { events as f64 / self.a_run } else { 0.0 };
        let runs = if runs >= 0.1 { format!(" ({runs:.1} runs)") } else { String::new() };
        match (self.mixed, events) {
            (true, 1) => format!("1 event{runs}"),
            (true, _) => format!("{events} events{runs}"),
            (false, _) => format!("{events} × {}{runs}", self.one),
        }
    }
}

fn end_name(end: WalkEnd) -> &'static str {
    match end {
        WalkEnd::Holds => "holds",
        WalkEnd::RidesOver => "rides-over",
        WalkEnd::AtTheHole => "at-the-hole",
        WalkEnd::Rests => "rests",
        WalkEnd::GoesOn => "goes-on",
    }
}

/// Every point, or of a long walk as many at even distances; the last one always.
fn told(points: &[WalkPoint], most: usize) -> Vec<(usize, &WalkPoint)> {
    let step = points.len().saturating_sub(1).div_ceil(most.saturating_sub(1).max(1)).max(1);
    let last = points.len().saturating_sub(1);
    points.iter().enumerate().filter(|(place, _)| place % step == 0 || *place == last).collect()
}

fn as_json(state: &str, told_walks: &Told, times: &Times) -> Value {
    let walk = &told_walks.usual;
    let point = |(events, point): (usize, &WalkPoint)| {
        json!({
            "events": events,
            "case": point.case.map(Case::name),
            "centre_distance_m": point.centre_distance.to_m(),
            "clamp_n": point.clamp.to_n(),
            "contact_ratio": point.contact_ratio,
            "peak_force_n": point.peak.to_n(),
            "slip_margin": point.slip_margin.is_finite().then_some(point.slip_margin),
            "root_margin": point.root_margin.is_finite().then_some(point.root_margin),
        })
    };
    json!({
        "state": state,
        "joint": walk.joint,
        "clearance_m": walk.clearance.to_m(),
        "events_per_run": times.a_run,
        "end": end_name(walk.end),
        "events": walk.points.len().saturating_sub(1),
        "events_soonest_and_latest": told_walks.ends(over),
        "events_until_moved": walk.first_moved(),
        "events_until_contact_ratio_1_2": walk.first_short(),
        "events_until_teeth_break": walk.first_broken(),
        "points": told(&walk.points, MOST_POINTS).into_iter().map(point).collect::<Vec<_>>(),
    })
}

fn write(desk: &Desk<'_>, words: &str, told: &Told, times: &Times, paper: &mut Paper) {
    let walk = &told.usual;
    let events = walk.points.len().saturating_sub(1);
    let after = times.words(events);
    let end = match walk.end {
        WalkEnd::Holds => "nothing slips, the mesh stays as it is set".to_owned(),
        WalkEnd::RidesOver if events == 0 => "the teeth ride over each other as it stands".to_owned(),
        WalkEnd::RidesOver => format!("the teeth ride over each other after {after}"),
        WalkEnd::AtTheHole => format!("the motor stands at the end of its holes after {after}"),
        WalkEnd::Rests => format!("the motor comes to rest after {after}"),
        WalkEnd::GoesOn => format!("it goes on after {MOST_EVENTS} events"),
    };
    paper.paragraph(&format!("{}, \"{}\": {end}.", sentence(words), walk.joint));
    let shown = |kind: Kind, si: f64| value(kind, si, desk.system);
    for (what, when) in [
        ("The motor first moves after", walk.first_moved()),
        ("The contact ratio falls below the needed 1.2 after", walk.first_short()),
        ("A blow above the static strength of a root comes after", walk.first_broken()),
    ] {
        match when {
            Some(0) => paper.item("-", &format!("{what} no event: it is so from the start.")),
            Some(events) => paper.item("-", &format!("{what} {}.", times.words(events))),
            None => {}
        }
    }
    match told.ends(over) {
        [Some(soonest), Some(latest)] if soonest < latest => {
            paper.item("-", &format!("Over the range of friction and loss it is over after {soonest} to {latest}."));
        }
        [Some(soonest), None] => {
            paper.item("-", &format!("With the least friction it is over after {soonest}, with the most it holds."));
        }
        _ => {}
    }
    if walk.end == WalkEnd::AtTheHole {
        let way = shown(Kind::Length, walk.clearance.to_m());
        paper.item("-", &format!("From where it stood its screws had {way} to go; in slots it goes on (--clearance)."));
    }
    paper.blank();
    paper.table(&table(desk, walk, times));
    draw(desk, walk, times, paper);
}

fn table(desk: &Desk<'_>, walk: &Walk, times: &Times) -> Table {
    let shown = |kind: Kind, si: f64| value(kind, si, desk.system);
    let mut table = Table::new(&[
        "events",
        "centre distance>",
        "clamp a screw>",
        "slip>",
        "contact ratio>",
        "hardest blow>",
        "root",
    ]);
    for (events, point) in told(&walk.points, ROWS) {
        let ratio = match point.contact_ratio {
            ratio if ratio < 1.0 => Cell::tinted(Tint::Bad, format!("{ratio:.2}")),
            ratio if ratio < 1.2 => Cell::tinted(Tint::Doubt, format!("{ratio:.2}")),
            ratio => Cell::plain(format!("{ratio:.2}")),
        };
        let event = match point.case.filter(|_| times.mixed) {
            Some(case) => format!("{events} {}", case.name()),
            None => format!("after {events}"),
        };
        let slip = match point.slip_margin {
            margin if margin < 1.0 => Cell::tinted(Tint::Bad, format!("{} SLIPS", number(margin))),
            margin => Cell::plain(format!("{} holds", number(margin))),
        };
        let root = match point.root_margin {
            margin if margin < 1.0 => Cell::tinted(Tint::Bad, format!("{} BREAKS", number(margin))),
            margin => Cell::plain(format!("{} holds", number(margin))),
        };
        table.row(vec![
            Cell::plain(event),
            Cell::plain(shown(Kind::Length, point.centre_distance.to_m())),
            Cell::plain(shown(Kind::Force, point.clamp.to_n())),
            slip,
            ratio,
            Cell::plain(shown(Kind::Force, point.peak.to_n())),
            root,
        ]);
    }
    table
}

/// How far the motor has gone, over the events.
fn draw(desk: &Desk<'_>, walk: &Walk, times: &Times, paper: &mut Paper) {
    let columns = paper.columns(PLOT_MARGIN);
    let (Some(first), Some(last)) = (walk.points.first(), walk.points.len().checked_sub(1)) else { return };
    if last < LEAST_DRAWN {
        return;
    }
    let at = |column: usize| {
        let place = (last as f64 * column as f64 / columns.saturating_sub(1).max(1) as f64).round() as usize;
        walk.points.get(place).map_or(0.0, |point| (point.centre_distance - first.centre_distance).to_m())
    };
    let bands: Vec<[f64; 2]> = (0..columns).map(|column| [0.0, at(column)]).collect();
    let length = |si: f64| value(Kind::Length, si, desk.system);
    let lines = plot(&Band { columns: &bands, value: &length, ends: ["0".to_owned(), times.words(last)] });
    if lines.is_empty() {
        return;
    }
    paper.blank();
    paper.paragraph("How far the motor has gone from the spur:");
    paper.lines(&lines);
}

fn notes(desk: &Desk<'_>, job: &Job, walk: &Walk, paper: &mut Paper) {
    paper.blank();
    if walk.points.first().is_some_and(|first| first.clamp <= Force::ZERO) {
        paper.item(
            "note:",
            "These screws clamp nothing: found loose, or embedding takes their whole clamp in the first run; tightened \
             again after it they keep more.",
        );
    }
    if walk.end != WalkEnd::Holds {
        paper.item(
            "note:",
            "`toothsayer screws` tells how tight; the window of the joint keeps the mesh where it is set.",
        );
    }
    paper.item(
        "note:",
        "Friction 0.16 (0.12 to 0.20) and 0.5 % (0.1 to 2 %) of the clamp lost per slip are estimates. A joint that already slips sideways holds less outward than is counted here, and walks sooner.",
    );
    paper.item(
        "note:",
        "Battery out before fingers or tools go near the gears; motor and screws are hot after a run. Thread locker on \
         metal only.",
    );
    for warning in &job.warnings {
        paper.item("note:", warning);
    }
    if desk.global.explain {
        paper.heading("How the figures come about");
        paper.item("  slide:", "m x'' = |Fn| sin αw - μ ΣF while it moves, away from the spur on either flank, at most to the end of the holes (ISO 273, medium)");
        paper.item(
            "  clamp:",
            "F falls by 0.5 % in each event in which Fn/n + Kt I/(n R) passes μ F (elicited, no source)",
        );
        paper.item(
            "  mesh:",
            "play, contact ratio and blow are computed anew at the centre distance that each event leaves (ISO 21771)",
        );
    }
}
