//! Tooth force over time, a panel for each load case on one scale: drive flank upwards, coast flank downwards.

use crate::canvas::{Area, BODY, Canvas, HEAD, SMALL, Shape, polyline};
use crate::chart::{Measure, Plot, Ruler, panels};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::{sentence, state_words};
use crate::{Error, Figure};
use toothsayer_mechanics::driveline::{Case, Options, Outcome, simulate_with};
use toothsayer_quantity::Kind;
use toothsayer_verdict::{CasePeaks, LASH_PHASES, Limit, Loaded, Margin, StateMargins, event};

/// A panel is at least this wide, px.
const PANEL: f64 = 300.0;
/// Height of a panel's plot, px.
const HEIGHT: f64 = 150.0;
/// Points of a trace: more than a wide panel has columns.
const TRACE_POINTS: u32 = 1501;

/// One load case's hardest event.
struct Shock {
    case: Case,
    outcome: Outcome,
}

impl Shock {
    fn run(peaks: &CasePeaks, loaded: &Loaded) -> Result<Shock, Error> {
        let event = event(peaks.case, &loaded.build.driver, hardest_phase(peaks));
        let options = Options { trace_points: TRACE_POINTS, ..Options::default() };
        let outcome = simulate_with(&loaded.bay.parameters(&loaded.build), &event, &options)?;
        Ok(Shock { case: peaks.case, outcome })
    }

    fn ends_n(&self) -> [f64; 2] {
        [-self.outcome.peak_coast_flank.force_n, self.outcome.peak_drive_flank.force_n]
    }

    fn name(&self) -> String {
        self.case.name().replace("-on-", " on the ").replace('-', " ")
    }

    /// An accident is drawn on a scale of its own.
    fn is_accident(&self) -> bool {
        self.case == Case::WheelStop
    }
}

/// The phase of the lash with the hardest blow, where the case was run at several.
fn hardest_phase(peaks: &CasePeaks) -> Option<f64> {
    let both = peaks.blows.chunks(2).map(|flanks| flanks.iter().map(|blow| blow.force_n).fold(0.0, f64::max));
    let hardest = both.enumerate().max_by(|a, b| a.1.total_cmp(&b.1))?;
    LASH_PHASES.get(hardest.0).copied().filter(|_| peaks.blows.len() == 2 * LASH_PHASES.len())
}

/// The tooth force of a state's load cases, each at its hardest; `margins` tell where its first part gives way.
pub fn tooth_force(truck: &str, loaded: &Loaded, margins: &StateMargins, frame: &Frame) -> Result<Figure, Error> {
    draw(truck, &shocks(loaded)?, margins, frame)
}

/// The tooth force of the usual load case that leaves its first part the least margin, at its hardest.
pub fn worst_tooth_force(truck: &str, loaded: &Loaded, margins: &StateMargins, frame: &Frame) -> Result<Figure, Error> {
    let usual = shocks(loaded)?.into_iter().filter(|shock| !shock.is_accident());
    let left = |shock: &Shock| first_to_give(margins, shock).and_then(|(margin, _)| margin.margin).unwrap_or(f64::MAX);
    let worst: Vec<Shock> = usual.min_by(|a, b| left(a).total_cmp(&left(b))).into_iter().collect();
    draw(truck, &worst, margins, frame)
}

/// Every load case, each at its hardest.
fn shocks(loaded: &Loaded) -> Result<Vec<Shock>, Error> {
    loaded.peaks.iter().map(|peaks| Shock::run(peaks, loaded)).collect()
}

fn draw(truck: &str, shocks: &[Shock], margins: &StateMargins, frame: &Frame) -> Result<Figure, Error> {
    let usual = shocks.iter().filter(|shock| !shock.is_accident()).map(Shock::ends_n);
    let ends_n = usual.fold([0.0_f64; 2], |ends, own| [ends[0].min(own[0]), ends[1].max(own[1])]);
    if ends_n[1] <= ends_n[0] {
        return Err(Error::Nothing { what: "tooth force" });
    }
    let title = format!("Tooth force over time, {}", state_words(margins.state));
    let mut canvas = Canvas::new("tooth-force", frame);
    let under =
        format!("{truck} · upwards on the drive flank, downwards on the coast flank · one scale for usual cases");
    let y = canvas.heading(&title, &under);
    let area = canvas.area().below(y);
    let bottom = panels(&mut canvas, area, (shocks.len(), PANEL), |canvas, area, place| {
        let shock = &shocks[place];
        let ends_n = if shock.is_accident() { shock.ends_n() } else { ends_n };
        let scales = Scales { force: Measure::of(Kind::Force, ends_n[1].max(-ends_n[0]), frame.system), ends_n };
        Ok(panel(canvas, area, shock, &scales, first_to_give(margins, shock)))
    })?;
    let foot = "The dashed lines stand where the first part gives way in that case, by its margin: forces beyond them \
                are not reached. Each case is shown as its hardest: landings at the phase of the lash that hits hardest, \
                on all wheels at once.";
    let area = canvas.area().below(bottom + 10.0);
    let bottom = canvas.paragraph(area, SMALL, Role::Quiet, foot);
    canvas.reach(bottom);
    let told: Vec<String> = shocks.iter().map(|shock| format!("{}: {}", shock.name(), words(shock, frame))).collect();
    Ok(Figure::of(canvas, &title, &format!("{truck}. {}.", told.join("; "))))
}

struct Scales {
    force: Measure,
    ends_n: [f64; 2],
}

fn words(shock: &Shock, frame: &Frame) -> String {
    let [coast_n, drive_n] = shock.ends_n().map(f64::abs);
    let (blow, flank) = if drive_n >= coast_n {
        (shock.outcome.peak_drive_flank, "drive")
    } else {
        (shock.outcome.peak_coast_flank, "coast")
    };
    let force = frame.show(Kind::Force, blow.force_n.round());
    let time = frame.show(Kind::Time, (blow.time_s * 1e4).round() / 1e4);
    format!("hardest {force} on the {flank} flank, after {time}")
}

/// The counted part with the least margin of a case, with the force that this margin leaves it, N.
///
/// Demand is taken to grow with the force: exact for shafts, joints and set screws, near for roots and flanks.
fn first_to_give<'a>(margins: &'a StateMargins, shock: &Shock) -> Option<(&'a Margin, f64)> {
    const BY_FORCE: [Limit; 5] = [Limit::Root, Limit::Bending, Limit::Hold, Limit::Static, Limit::Slip];
    let [coast_n, drive_n] = shock.ends_n();
    let hardest = drive_n.max(-coast_n);
    let own = margins.margins.iter().filter(|margin| margin.case == shock.case.name());
    let own = own.filter(|margin| BY_FORCE.contains(&margin.limit));
    let loads = own.filter_map(|margin| Some((margin, margin.margin.filter(|value| *value > 0.0)?)));
    let (margin, value) = loads.min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some((margin, value * hardest))
}

fn panel(canvas: &mut Canvas, area: Area, shock: &Shock, scales: &Scales, limit: Option<(&Margin, f64)>) -> f64 {
    let words = words(shock, &canvas.frame);
    let accident = if shock.is_accident() { ": an accident, on a scale of its own" } else { "" };
    let y = canvas.paragraph(area, HEAD, Role::Ink, &format!("{}{accident}", sentence(&shock.name())));
    let mut y = canvas.paragraph(area.below(y), BODY, Role::Ink, &words);
    if let Some((margin, force_n)) = limit {
        let force = canvas.frame.show(Kind::Force, (force_n / 10.0).round() * 10.0);
        let role = if margin.fails() { Role::Bad } else { Role::Quiet };
        let first = format!("first to give way: {}, at about {force}", margin.part.replace('-', " "));
        y = canvas.paragraph(area.below(y), BODY, role, &first);
    }
    let trace = &shock.outcome.trace;
    let last_s = trace.last().map_or(0.0, |point| point.time_s);
    let time = Measure::of(Kind::Time, last_s, canvas.frame.system);
    let values = scales.ends_n.map(|force_n| scales.force.count(force_n));
    let across = Ruler { title: &time.titled("time"), values: &[], ends: Some([0.0, time.count(last_s)]) };
    let upright = Ruler { title: &scales.force.titled("tooth force"), values: &values, ends: None };
    let plot = Plot::new(canvas, area.below(y + 4.0), HEIGHT, &across, &upright);
    let mut group = Shape::group(canvas.id(shock.case.name())).told(&words);
    if let Some((margin, force_n)) = limit {
        let role = if margin.fails() { Role::Bad } else { Role::Quiet };
        for side in [1.0, -1.0] {
            let level = scales.force.count(side * force_n);
            if plot.y.holds(level) {
                group.push(plot.level(level).stroke(canvas.paint(role), 1.4).dashed(&[6.0, 4.0]));
            }
        }
    }
    let band = band(&plot, shock, |si| time.count(si), |si| scales.force.count(si));
    group.push(Shape::path(band).fill(canvas.paint(Role::Accent)).stroke(canvas.paint(Role::Accent), 1.0));
    canvas.draw(group);
    plot.bottom
}

/// The band between the least and the largest force of each column of the plot, as a closed path.
fn band(plot: &Plot, shock: &Shock, time: impl Fn(f64) -> f64, force: impl Fn(f64) -> f64) -> String {
    let [from, to] = plot.x.ends_px();
    let mut columns = vec![[0.0_f64; 2]; (to - from).max(2.0) as usize];
    let last = columns.len() - 1;
    for point in &shock.outcome.trace {
        let place = ((plot.x.at(time(point.time_s)) - from) / (to - from) * last as f64) as usize;
        let [low, high] = &mut columns[place.min(last)];
        *low = low.min(point.mesh_force_min_n);
        *high = high.max(point.mesh_force_max_n);
    }
    let x = |place: usize| from + (to - from) * place as f64 / last as f64;
    let upper = columns.iter().enumerate().map(|(place, ends)| [x(place), plot.y.at(force(ends[1]))]);
    let lower = columns.iter().enumerate().rev().map(|(place, ends)| [x(place), plot.y.at(force(ends[0]))]);
    polyline(&upper.chain(lower).collect::<Vec<_>>(), true)
}
