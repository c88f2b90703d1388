//! `figure`: one drawing of a job, as SVG or PNG.

use super::margins::{Shown, judge};
use crate::args::{FigureArgs, FigureKind, LookName, StateArgs, StateName};
use crate::failure::Failure;
use crate::input::{Desk, state};
use crate::json;
use crate::picture::as_png;
use clap::ValueEnum;
use serde_json::json;
use std::path::Path;
use toothsayer_figures::{self as figures, BayScene, Comebacks, Figure, Frame, Look, Sweep};
use toothsayer_job::{Setting, State};
use toothsayer_verdict::{LifeAsk, Memo, Narrow, Staged, StateMargins, Verdict, life};

/// A drawing of a job file.
pub fn run(desk: &Desk<'_>, args: &FigureArgs) -> Result<String, Failure> {
    let path = args.output.as_deref();
    let png = path.map(is_png).transpose()?.unwrap_or(false);
    let look = match args.look {
        LookName::Page if png => Look::Light,
        LookName::Page => Look::Page,
        LookName::Light => Look::Light,
        LookName::Dark => Look::Dark,
        LookName::Print => Look::Print,
    };
    let frame = Frame::new(args.width, look, desk.system)
        .map_err(|error| Failure::usage(format!("--width: {error}"), "700 fill a page of A4, 360 a phone"))?;
    let figure = drawn(desk, args, &frame)?;
    let Some(path) = path else { return Ok(figure.svg + "\n") };
    let bytes = if png { as_png(&figure)? } else { figure.svg.clone().into_bytes() };
    std::fs::write(path, bytes).map_err(|error| {
        Failure::could(format!("{} cannot be written: {error}", path.display()), "check the path of --output")
    })?;
    told(desk, &figure, path)
}

/// Whether a picture is wanted, by how the name ends; else a drawing.
fn is_png(path: &Path) -> Result<bool, Failure> {
    let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or_default().to_ascii_lowercase();
    match ending.as_str() {
        "png" => Ok(true),
        "svg" => Ok(false),
        _ => Err(Failure::usage(
            format!("--output {}: its name ends in neither .svg nor .png", path.display()),
            "end it with .svg for a drawing that scales, with .png for a picture",
        )),
    }
}

fn told(desk: &Desk<'_>, figure: &Figure, path: &Path) -> Result<String, Failure> {
    if desk.global.json {
        return json::text(&json!({
            "title": figure.title,
            "description": figure.description,
            "file": path.display().to_string(),
            "width_px": figure.width_px,
            "height_px": figure.height_px,
        }));
    }
    Ok(format!("{} holds: {}.\n", path.display(), figure.title))
}

/// Drawings by their kind's name, each with why it cannot be drawn where that is so.
pub(super) type Drawings = Vec<(String, Result<Figure, Failure>)>;

/// Every drawing of a job as found; margins go over the brake's strength in the sweep.
pub(super) fn every(desk: &Desk<'_>, file: &Path, verdict: &Verdict<'_>, memo: &Memo) -> Result<Drawings, Failure> {
    let args = FigureArgs {
        of: StateArgs { file: file.to_owned(), state: StateName::Found },
        kind: FigureKind::GearBay,
        beside: None,
        cause: None,
        sweep: Some("controller.brake_strength=20 % .. 100 %".into()),
        points: true,
        width: WIDTH_PX,
        look: LookName::Page,
        output: None,
    };
    let frame = Frame::new(args.width, Look::Page, desk.system)?;
    let truck = verdict.job.built.fields.word("truck.name").unwrap_or("Truck");
    let drawer = Drawer { desk, args: &args, verdict, memo, frame, truck };
    let name =
        |kind: &FigureKind| kind.to_possible_value().map_or_else(String::new, |value| value.get_name().to_owned());
    Ok(FigureKind::value_variants().iter().map(|kind| (name(kind), drawer.draw(*kind))).collect())
}

/// Width where none is asked for, px.
const WIDTH_PX: f64 = 960.0;

/// A job with all that its drawings show.
struct Drawer<'a> {
    desk: &'a Desk<'a>,
    args: &'a FigureArgs,
    verdict: &'a Verdict<'a>,
    memo: &'a Memo,
    frame: Frame,
    truck: &'a str,
}

fn drawn(desk: &Desk<'_>, args: &FigureArgs, frame: &Frame) -> Result<Figure, Failure> {
    let job = desk.job(&args.of.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let truck = job.built.fields.word("truck.name").unwrap_or("Truck");
    let drawer = Drawer { desk, args, verdict: &verdict, memo: &memo, frame: *frame, truck };
    drawer.draw(args.kind)
}

impl Drawer<'_> {
    fn draw(&self, kind: FigureKind) -> Result<Figure, Failure> {
        let (verdict, memo, frame, truck) = (self.verdict, self.memo, &self.frame, self.truck);
        match kind {
            FigureKind::GearBay => self.gear_bay(),
            FigureKind::Margins => self.margins(),
            FigureKind::Causes => Ok(figures::causes(&verdict.diagnosis, frame)?),
            FigureKind::Evidence => self.evidence(),
            FigureKind::Force => self.force(),
            FigureKind::Price => Ok(figures::price_and_comeback(verdict, frame)?),
            FigureKind::Comeback => Ok(figures::comeback_over_runs(verdict, &Comebacks::new(verdict, memo)?, frame)?),
            FigureKind::Sweep => self.sweep(),
            FigureKind::Clamp => self.clamp(),
            FigureKind::Life => self.life(),
            FigureKind::Mesh => Ok(figures::mesh_cycle(truck, self.stage()?, frame)?),
            FigureKind::Stack => Ok(figures::axial_stack(truck, self.stage()?, frame)?),
            FigureKind::Screws => self.screws(),
            FigureKind::Removal => self.removal(),
        }
    }

    /// The stages that are asked for, the state first.
    fn stages(&self) -> Result<Vec<&Staged>, Failure> {
        let asked = [Some(self.args.of.state), self.args.beside].into_iter().flatten().map(state);
        asked.map(|which| Ok(self.verdict.stage(which)?)).collect()
    }

    fn stage(&self) -> Result<&Staged, Failure> {
        Ok(self.verdict.stage(state(self.args.of.state))?)
    }

    fn gear_bay(&self) -> Result<Figure, Failure> {
        let margins = self.verdict.margins(None, self.memo)?;
        let of = |which: State| margins.iter().find(|margins| margins.state == which);
        let scenes = self.stages()?.into_iter().map(|stage| BayScene { stage, margins: of(stage.state) });
        Ok(figures::gear_bay(&scenes.collect::<Vec<_>>(), &self.frame)?)
    }

    fn margins(&self) -> Result<Figure, Failure> {
        let shown = Shown { points: self.args.points, all: false, narrow: Narrow::WhereUnsure };
        let margins = judge(self.desk, self.verdict, self.memo, &shown)?;
        let of = |stage: &Staged| margins.iter().find(|margins| margins.state == stage.state);
        let states: Vec<&StateMargins> = self.stages()?.into_iter().filter_map(of).collect();
        Ok(figures::margins(self.truck, &states, &self.frame)?)
    }

    fn evidence(&self) -> Result<Figure, Failure> {
        let diagnosis = &self.verdict.diagnosis;
        let first = diagnosis.ranked().first().map(|cause| cause.id.clone());
        let id = self.args.cause.clone().or(first).unwrap_or_default();
        Ok(figures::cause_evidence(&diagnosis.explain(&id)?, diagnosis, &self.frame)?)
    }

    fn force(&self) -> Result<Figure, Failure> {
        let stage = self.stage()?;
        let loaded = self.verdict.loaded(stage.state, self.memo)?;
        let margins = self.verdict.margins(None, self.memo)?;
        let own = margins.iter().find(|margins| margins.state == stage.state);
        let own = own.ok_or(toothsayer_verdict::Error::NoState { state: stage.state.name() })?;
        Ok(figures::tooth_force(self.truck, &loaded, own, &self.frame)?)
    }

    fn sweep(&self) -> Result<Figure, Failure> {
        let stage = self.stage()?;
        let hint = "write --sweep \"wheels.mass=300 g .. 900 g\"";
        let text = self.args.sweep.as_deref().unwrap_or_default();
        let parts = text.split_once('=').and_then(|(key, ends)| Some((key, ends.split_once("..")?)));
        let (key, (from, to)) =
            parts.ok_or_else(|| Failure::usage("a sweep needs a setting and its two ends", hint))?;
        let setting = |value: &str| {
            let text = format!("{key}={value}");
            Setting::parse(&text, &stage.sheet)
                .map_err(|error| Failure::usage(format!("--sweep \"{text}\": {}", error.message), error.hint))
        };
        let ends = [setting(from)?, setting(to)?];
        let (windows, horizon_runs) = (&self.verdict.windows, self.verdict.job.shop.horizon_runs);
        let sweep = Sweep { stage, ends: [&ends[0], &ends[1]], windows, horizon_runs };
        Ok(figures::margins_against(self.truck, &sweep.run(self.memo)?, &self.frame)?)
    }

    fn clamp(&self) -> Result<Figure, Failure> {
        let stage = self.stage()?;
        let loaded = self.verdict.loaded(stage.state, self.memo)?;
        Ok(figures::clamp_over_runs(self.truck, stage.state, &loaded, &self.verdict.windows, &self.frame)?)
    }

    fn screws(&self) -> Result<Figure, Failure> {
        let stage = self.stage()?;
        let loaded = self.verdict.loaded(stage.state, self.memo)?;
        Ok(figures::screw_map(self.truck, stage.state, &loaded, &self.verdict.windows, &self.frame)?)
    }

    fn removal(&self) -> Result<Figure, Failure> {
        let steps = self.verdict.plan.recommended().map_or(&[][..], |recommended| &recommended.steps);
        let off: Vec<&str> = steps.iter().filter_map(|step| step.id.strip_prefix("off ")).collect();
        Ok(figures::removal_map(self.truck, &self.desk.book, &off, &self.frame)?)
    }

    fn life(&self) -> Result<Figure, Failure> {
        let stage = self.stage()?;
        let ask = LifeAsk { horizon_runs: self.verdict.job.shop.horizon_runs, seed: self.desk.global.seed };
        Ok(figures::life_curves(self.truck, stage.state, &life(stage, &ask)?, &self.frame)?)
    }
}
