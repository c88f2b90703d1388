//! `shock`: one event of the driveline, simulated until its peaks have settled.

use crate::args::ShockArgs;
use crate::failure::Failure;
use crate::input::{Desk, quantity, share, state};
use crate::json;
use crate::paper::{Cell, Paper, Table};
use crate::plot::{Band, plot};
use crate::words::{mesh_words, state_words, value};
use serde_json::json;
use std::path::Path;
use toothsayer_mechanics::driveline::{Case, Event, Options, Outcome, Parameters, simulate_with};
use toothsayer_quantity::Kind;
use toothsayer_verdict::{Bay, LASH_PHASES, Memo, MeshState, Verdict, event};

/// Points of a written trace: a tenth of a millisecond or two apart.
const TRACE_POINTS: u32 = 3001;
/// Columns beside a plot: a force, its unit and the axis.
const PLOT_MARGIN: usize = 14;

/// One event of a job file.
pub fn run(desk: &Desk<'_>, args: &ShockArgs) -> Result<String, Failure> {
    let job = desk.job(&args.of.file)?;
    let memo = Memo::default();
    let case: Case = args.case.parse().map_err(|error: toothsayer_mechanics::driveline::DrivelineError| {
        Failure::usage(error.to_string(), "the cases are listed by `toothsayer shock --help`")
    })?;
    let which = state(args.of.state);
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let stage = verdict.stage(which)?;
    let build = stage.sheet.build().map_err(toothsayer_verdict::Error::from)?;
    let bay = Bay::new(&build, stage.run_in)?;
    let mut parameters = bay.parameters(&build);
    let mut event = event(case, &build.driver, None);
    set(args, &mut event, &mut parameters)?;
    let mut paper = Paper::new();
    let columns = paper.columns(PLOT_MARGIN);
    let trace_points = if args.trace.is_some() { TRACE_POINTS } else { columns as u32 + 1 };
    let outcome = simulate_with(&parameters, &event, &Options { trace_points, ..Options::default() })?;
    if let Some(path) = &args.trace {
        write_trace(path, &outcome)?;
    }
    if desk.global.json {
        return as_json(case, &outcome);
    }
    write(desk, case, state_words(stage.state), &outcome, &mut paper);
    if case.is_landing() {
        paper.paragraph(&landing_words(desk, &event, &parameters)?);
    }
    match MeshState::of(&bay) {
        MeshState::Binds { once_a_turn: false, .. } => paper.item("note:", "the mesh binds: it was run without play."),
        MeshState::Binds { once_a_turn: true, .. } => {
            paper.item("note:", "the mesh binds once a turn: it was run with the play of the wide end.");
        }
        MeshState::Apart => paper.item("note:", &mesh_words(MeshState::Apart, desk.system).unwrap_or_default()),
        MeshState::Runs => {}
    }
    draw(desk, &outcome, columns, &mut paper);
    if let Some(path) = &args.trace {
        paper.paragraph(&format!("{} holds {} points over time, in SI units.", path.display(), outcome.trace.len()));
    }
    Ok(paper.finish())
}

/// From what height, how fast and with which lash it was run, and how hard the lash can make it.
fn landing_words(desk: &Desk<'_>, event: &Event, parameters: &Parameters) -> Result<String, Failure> {
    let shown = |kind: Kind, si: f64| value(kind, si, desk.system);
    let from = format!(
        "Dropped from {} at {}",
        shown(Kind::Length, event.drop_height_m),
        shown(Kind::Speed, event.landing_speed_m_s)
    );
    if let Some(phase) = event.lash_phase {
        return Ok(format!("{from}, the lash open against the blow at {phase} (0 to 1)."));
    }
    let mut hardest = (0.0, 0.0_f64);
    for phase in LASH_PHASES {
        let outcome = simulate_with(parameters, &Event { lash_phase: Some(phase), ..*event }, &Options::default())?;
        let force_n = outcome.peak_drive_flank.force_n.max(outcome.peak_coast_flank.force_n);
        if force_n > hardest.1 {
            hardest = (phase, force_n);
        }
    }
    Ok(format!(
        "{from}, the lash closed. A landing comes at any place of the lash: the hardest, at --phase {}, is {}.",
        hardest.0,
        shown(Kind::Force, hardest.1)
    ))
}

/// The tooth force over time, the least and largest in each column.
fn draw(desk: &Desk<'_>, outcome: &Outcome, columns: usize, paper: &mut Paper) {
    let Some(last) = outcome.trace.last() else { return };
    let mut bands = vec![[0.0_f64; 2]; columns];
    for point in &outcome.trace {
        let place = (point.time_s / last.time_s * columns as f64) as usize;
        if let Some(band) = bands.get_mut(place.min(columns.saturating_sub(1))) {
            *band = [band[0].min(point.mesh_force_min_n), band[1].max(point.mesh_force_max_n)];
        }
    }
    let time = |si: f64| value(Kind::Time, si, desk.system);
    let ends = [time(0.0), time(last.time_s)];
    let force = |si: f64| value(Kind::Force, si, desk.system);
    paper.blank();
    paper.paragraph("Tooth force over time: up on the drive flank, down on the coast flank.");
    paper.lines(&plot(&Band { columns: &bands, value: &force, ends }));
}

/// The trace as comma-separated values (RFC 4180), SI, the unit at the end of each head.
fn write_trace(path: &Path, outcome: &Outcome) -> Result<(), Failure> {
    let mut text = String::from(
        "time_s,mesh_force_n,mesh_force_min_n,mesh_force_max_n,shaft_torque_n_m,ground_force_n,tyre_force_n,current_a,\
         rotor_speed_rad_s,wheel_speed_rad_s,truck_speed_m_s,sprung_height_m,unsprung_height_m\r\n",
    );
    for point in &outcome.trace {
        let numbers = [
            point.time_s,
            point.mesh_force_n,
            point.mesh_force_min_n,
            point.mesh_force_max_n,
            point.shaft_torque_n_m,
            point.ground_force_n,
            point.tyre_force_n,
            point.current_a,
            point.rotor_speed_rad_s,
            point.wheel_speed_rad_s,
            point.truck_speed_m_s,
            point.sprung_height_m,
            point.unsprung_height_m,
        ];
        text.push_str(&numbers.map(|number| format!("{number}")).join(","));
        text.push_str("\r\n");
    }
    std::fs::write(path, text).map_err(|error| {
        Failure::could(format!("{} cannot be written: {error}", path.display()), "check the path of --trace")
    })
}

fn set(args: &ShockArgs, event: &mut Event, parameters: &mut Parameters) -> Result<(), Failure> {
    if let Some(text) = &args.drop {
        event.drop_height_m = quantity("drop", Kind::Length, text)?;
    }
    if let Some(text) = &args.speed {
        let speed = quantity("speed", Kind::Speed, text)?;
        if event.case.is_landing() { event.landing_speed_m_s = speed } else { event.start_speed_m_s = Some(speed) }
    }
    if let Some(text) = &args.strength {
        let strength = share("strength", text)?;
        match event.case {
            Case::FullBrake | Case::LandingOnBrake | Case::Reversal => parameters.brake_strength = strength,
            _ => parameters.throttle_strength = strength,
        }
    }
    if let Some(text) = &args.phase {
        event.lash_phase = Some(share("phase", text)?);
    }
    Ok(())
}

fn as_json(case: Case, outcome: &Outcome) -> Result<String, Failure> {
    json::text(&json!({
        "case": case.name(),
        "peak_drive_flank_n": outcome.peak_drive_flank.force_n,
        "peak_coast_flank_n": outcome.peak_coast_flank.force_n,
        "peak_drive_time_s": outcome.peak_drive_flank.time_s,
        "peak_coast_time_s": outcome.peak_coast_flank.time_s,
        "peak_shaft_n_m": outcome.peak_shaft_torque_n_m,
        "peak_ground_n": outcome.peak_ground_force_n,
        "peak_current_a": outcome.peak_current_a,
        "final_truck_speed_m_s": outcome.final_truck_speed_m_s,
        "energy_residual": outcome.energy.residual,
        "impacts": outcome.impacts,
        "largest_closing_speed_m_s": outcome.largest_closing_speed_m_s,
    }))
}

fn write(desk: &Desk<'_>, case: Case, words: &str, outcome: &Outcome, paper: &mut Paper) {
    let shown = |kind: Kind, si: f64| value(kind, si, desk.system);
    let (driving, coasting) = (outcome.peak_drive_flank, outcome.peak_coast_flank);
    let (flank, hardest) = if driving.force_n >= coasting.force_n { ("drive", driving) } else { ("coast", coasting) };
    let force = shown(Kind::Force, hardest.force_n);
    paper.paragraph(&format!(
        "{} {words}: the hardest blow is {force} on the {flank} flank, {} after the start.",
        crate::words::sentence(case.name()),
        shown(Kind::Time, hardest.time_s)
    ));
    let mut table = Table::new(&["peak", "value>", "at>"]);
    for (name, blow) in
        [("tooth force, drive flank", outcome.peak_drive_flank), ("tooth force, coast flank", outcome.peak_coast_flank)]
    {
        table.row(vec![
            Cell::plain(name),
            Cell::plain(shown(Kind::Force, blow.force_n)),
            Cell::plain(shown(Kind::Time, blow.time_s)),
        ]);
    }
    for (name, kind, si) in [
        ("shaft torque at the spur", Kind::Torque, outcome.peak_shaft_torque_n_m),
        ("ground force, all tyres", Kind::Force, outcome.peak_ground_force_n),
        ("motor current", Kind::Current, outcome.peak_current_a),
        ("truck speed at the end", Kind::Speed, outcome.final_truck_speed_m_s),
    ] {
        table.row(vec![Cell::plain(name), Cell::plain(shown(kind, si)), Cell::plain("")]);
    }
    paper.blank();
    paper.table(&table);
    paper.blank();
    paper.paragraph(&format!(
        "{} impacts of teeth or lash, the fastest closing at {}; energy in and out agree to {:.0e} of the largest share. Not in the model: pitch and roll, separate axles, tyre growth.",
        outcome.impacts, shown(Kind::Speed, outcome.largest_closing_speed_m_s), outcome.energy.residual
    ));
    if desk.global.explain {
        paper.paragraph("Rotor, spur, wheels, truck and suspension as one torsional model with contacts that push and never pull; run at tighter tolerances until the peaks have settled.");
    }
}
