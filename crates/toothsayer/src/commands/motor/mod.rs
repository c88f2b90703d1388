//! `motor`: speeds and currents, what limits the launch, the heat of a run, the way to a stop, the makers' limits.

mod figures;
mod text;

use crate::args::StateArgs;
use crate::failure::Failure;
use crate::input::{Desk, state};
use crate::json;
use crate::paper::Paper;
use crate::words::state_words;
use toothsayer_job::Build;
use toothsayer_mechanics::motor::TruckSpeeds;
use toothsayer_verdict::{
    Bay, BearingSpeed, MakersLimit, Memo, RunHeat, Stopping, Verdict, bearing_speeds, makers_limits, run_heat,
    stopping_distance, truck_speeds,
};

/// Brake strengths that are shown beside the one that is set.
const STRENGTHS: [f64; 4] = [1.0, 0.8, 0.6, 0.4];

/// Everything that the command tells.
struct Told {
    build: Build,
    speeds: TruckSpeeds,
    heat: RunHeat,
    as_set: Stopping,
    at_strengths: Vec<(f64, Stopping)>,
    limits: [MakersLimit; 3],
    bearings: Vec<BearingSpeed>,
}

/// The motor of a job file.
pub fn run(desk: &Desk<'_>, args: &StateArgs) -> Result<String, Failure> {
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let stage = verdict.stage(state(args.state))?;
    let build = stage.sheet.build().map_err(toothsayer_verdict::Error::from)?;
    let told = Told::of(build, stage.run_in)?;
    if desk.global.json {
        return json::text(&told.as_json());
    }
    let mut paper = Paper::new();
    told.write(desk, state_words(stage.state), &mut paper);
    Ok(paper.finish())
}

impl Told {
    fn of(build: Build, run_in: bool) -> Result<Self, Failure> {
        let bay = Bay::new(&build, run_in)?;
        let at = |strength: f64| Ok::<_, Failure>((strength, stopping_distance(&build, &bay, strength)?));
        Ok(Self {
            speeds: truck_speeds(&build, &bay)?,
            heat: run_heat(&build, &bay)?,
            as_set: at(build.controller.brake_strength)?.1,
            at_strengths: STRENGTHS.into_iter().map(at).collect::<Result<_, _>>()?,
            limits: makers_limits(&build, &bay),
            bearings: bearing_speeds(&build, &bay)?,
            build,
        })
    }
}
