//! Margins against a setting: what stays above 1 while one value of the truck is changed from one end to the other.

use crate::canvas::{BODY, Canvas, SMALL, Shape};
use crate::chart::{Mark, Measure, Plot, Ruler, legend_of_curves, marker, stroke_of};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::{number, state_words, worst_of_each};
use crate::{Error, Figure};
use toothsayer_job::{Fields, Setting, Sheet};
use toothsayer_quantity::Kind;
use toothsayer_verdict::{Holds, JointFriction, Limit, LoadPath, Loaded, Margin, Memo, Staged, StateMargins, Windows};

/// Values that are computed between the ends, these among them.
const STEPS: u32 = 9;
/// Curves that are drawn: the tightest anywhere on the way.
const CURVES: usize = 5;
/// Margins above this are drawn on the upper end.
const HIGHEST: f64 = 4.0;
/// A margin that moves by less stays where it is.
const MOVES: f64 = 0.01;
/// Height of the plot, px.
const HEIGHT: f64 = 280.0;

/// A setting between two ends, on a truck in one state.
#[derive(Clone, Copy)]
pub struct Sweep<'a> {
    /// The state's stage.
    pub stage: &'a Staged,
    /// The setting at one end and at the other.
    pub ends: [&'a Setting; 2],
    /// Windows of the joints.
    pub windows: &'a Windows,
    /// Runs that endurance is asked for.
    pub horizon_runs: f64,
}

/// The margins on the way from one end to the other.
#[derive(Clone, Debug)]
pub struct Swept {
    what: String,
    kind: Kind,
    now: Option<f64>,
    values: Vec<f64>,
    states: Vec<StateMargins>,
}

/// The entry of a setting in a sheet's fields, its joint's where it belongs to one.
fn value_of(sheet: &Sheet, setting: &Setting) -> Option<f64> {
    let joint = |name: &String| sheet.joints.iter().find(|joint| joint.name == *name);
    match &setting.joint {
        Some(name) => joint(name)?.fields.number(setting.input),
        None => sheet.fields.number(setting.input),
    }
}

/// The setting with another value.
fn set(setting: &Setting, value: f64) -> Sheet {
    let mut over = setting.over.clone();
    let put = |fields: &mut Fields| {
        if let Some(entry) = fields.numbers.get_mut(setting.input) {
            (entry.value, entry.low, entry.high) = (value, value, value);
        }
    };
    match &setting.joint {
        Some(name) => {
            over.joints.iter_mut().filter(|joint| joint.name == *name).for_each(|joint| put(&mut joint.fields))
        }
        None => put(&mut over.fields),
    }
    over
}

impl Sweep<'_> {
    /// Computes the margins at point values.
    pub fn run(&self, memo: &Memo) -> Result<Swept, Error> {
        let [first, last] = self.ends;
        let ends = (value_of(&first.over, first), value_of(&last.over, last));
        let (Some(from), Some(to)) = ends else {
            return Err(Error::Nothing { what: "number in the setting, so nothing" });
        };
        let values: Vec<f64> =
            (0..STEPS).map(|step| from + (to - from) * f64::from(step) / f64::from(STEPS - 1)).collect();
        let states =
            values.iter().map(|value| self.margins(&set(first, *value), memo)).collect::<Result<_, Error>>()?;
        let input = toothsayer_inputs::find(first.input);
        let kind = input.map_or(Kind::Number, toothsayer_inputs::Input::kind);
        let what = input.map_or(first.key.clone(), |input| input.help.to_owned());
        let what = first.joint.as_ref().map_or(what.clone(), |joint| format!("{joint}: {what}"));
        Ok(Swept { what, kind, now: value_of(&self.stage.sheet, first), values, states })
    }

    fn margins(&self, over: &Sheet, memo: &Memo) -> Result<StateMargins, Error> {
        let Loaded { build, bay, peaks } = Loaded::new(&self.stage.sheet.overlaid(over), self.stage.run_in, memo)?;
        let path = LoadPath {
            build: &build,
            bay: &bay,
            peaks: &peaks,
            windows: self.windows,
            horizon_runs: self.horizon_runs,
            friction: JointFriction::NOMINAL,
            strength: [1.0; 2],
        };
        let margins = path.margins()?;
        let holds = Holds::of(&margins);
        Ok(StateMargins { state: self.stage.state, holds, margins, drawn: None, narrowing: None })
    }
}

/// One part's margin over the values.
struct Course<'a> {
    part: &'a str,
    limit: Limit,
    margins: Vec<f64>,
}

impl Course<'_> {
    fn least(&self) -> f64 {
        self.margins.iter().copied().fold(f64::MAX, f64::min)
    }

    /// Whether the setting moves it enough to be seen.
    fn moves(&self) -> bool {
        self.margins.iter().copied().fold(0.0, f64::max) - self.least() > MOVES
    }
}

impl Swept {
    /// The parts that fall short or that the setting moves, the tightest first; wear and accidents aside, and a lost clamp
    /// that is told by the slip that it brings. Where it moves none the tightest ones as they are.
    fn courses(&self) -> Vec<Course<'_>> {
        let Some(first) = self.states.first() else { return Vec::new() };
        let counted = worst_of_each(&first.margins).into_iter().filter(|margin| margin.counts());
        let of = |margin: &Margin, state: &StateMargins| {
            let own = worst_of_each(&state.margins).into_iter();
            let mut own = own.filter(|other| other.part == margin.part && other.limit == margin.limit);
            own.next().and_then(|known| known.margin)
        };
        let course =
            |margin: &'_ Margin| -> Option<Vec<f64>> { self.states.iter().map(|state| of(margin, state)).collect() };
        let mut courses: Vec<Course<'_>> = counted
            .filter_map(|margin| Some(Course { part: &margin.part, limit: margin.limit, margins: course(margin)? }))
            .filter(|course| course.least() < HIGHEST)
            .collect();
        let slips: Vec<&str> =
            courses.iter().filter(|course| course.limit == Limit::Slip).map(|course| course.part).collect();
        courses.retain(|course| course.limit != Limit::Clamp || !slips.contains(&course.part));
        if courses.iter().any(Course::moves) {
            courses.retain(|course| course.moves() || course.least() < 1.0);
        }
        courses.sort_by(|a, b| a.least().total_cmp(&b.least()));
        courses.truncate(CURVES);
        courses
    }
}

/// Draws a sweep.
pub fn margins_against(truck: &str, swept: &Swept, frame: &Frame) -> Result<Figure, Error> {
    let (courses, Some(state)) = (swept.courses(), swept.states.first()) else {
        return Err(Error::Nothing { what: "margin" });
    };
    if courses.is_empty() {
        return Err(Error::Nothing { what: "margin that is anywhere near 1" });
    }
    let most = swept.values.iter().copied().fold(0.0_f64, |most, value| most.max(value.abs()));
    let measure = Measure::of(swept.kind, most, frame.system);
    let title = format!("Margins against one setting, {}", state_words(state.state));
    let mut canvas = Canvas::new("sweep", frame);
    let y = canvas.heading(&title, &format!("{truck} · {}", swept.what));
    let area = canvas.area().below(y);
    let words: Vec<String> = courses
        .iter()
        .map(|course| {
            let [first, last] = [course.margins.first(), course.margins.last()].map(|end| number(*end.unwrap_or(&0.0)));
            format!("{}, {}: {first} to {last}", course.part.replace('-', " "), course.limit.row().plain)
        })
        .collect();
    let y = legend_of_curves(&mut canvas, area, &words);
    let counted: Vec<f64> = swept.values.iter().map(|value| measure.count(*value)).collect();
    let (least, most) =
        counted.iter().fold((f64::MAX, f64::MIN), |(low, high), value| (low.min(*value), high.max(*value)));
    let margins: Vec<f64> =
        courses.iter().flat_map(|course| course.margins.iter().map(|margin| margin.min(HIGHEST))).collect();
    let heading = measure.titled("value of the setting");
    let across = Ruler { title: &heading, values: &[], ends: Some([least, most]) };
    let upright = Ruler { title: "bears / asked", values: &[margins, vec![1.5]].concat(), ends: None };
    let plot = Plot::new(&mut canvas, area.below(y + 6.0), HEIGHT, &across, &upright);
    draw(&mut canvas, &plot, &courses, &counted);
    if let Some(now) = swept.now.map(|now| measure.count(now)).filter(|now| plot.x.holds(*now)) {
        let [bottom, top] = plot.y.ends_px();
        let line = Shape::line([plot.x.at(now), top], [plot.x.at(now), bottom]).stroke(canvas.paint(Role::Ink), 1.2);
        canvas.draw(line.dashed(&[3.0, 3.0]).with("id", canvas.id("now")));
    }
    let told = told(swept, frame);
    let y = canvas.paragraph(area.below(plot.bottom + 2.0), BODY, Role::Ink, &told);
    let foot = "The heavy line stands at 1, the dotted one at the truck's own value. Point values; a weaker brake lengthens \
                the way to a stop.";
    let bottom = canvas.paragraph(area.below(y + 2.0), SMALL, Role::Quiet, foot);
    canvas.reach(bottom);
    Ok(Figure::of(canvas, &title, &format!("{truck}, {}. {told} {}.", swept.what, words.join("; "))))
}

fn draw(canvas: &mut Canvas, plot: &Plot, courses: &[Course<'_>], counted: &[f64]) {
    let mut group = Shape::group(canvas.id("curves"));
    group.push(plot.level(1.0).stroke(canvas.paint(Role::Bad), 2.2));
    for (place, course) in courses.iter().enumerate() {
        let points: Vec<[f64; 2]> =
            counted.iter().zip(&course.margins).map(|(value, margin)| [*value, margin.min(HIGHEST)]).collect();
        group.push(stroke_of(canvas, plot.curve(&points), place));
        for point in points {
            group.push(marker(canvas, Mark::nth(place), plot.at(point), Role::Ink));
        }
    }
    canvas.draw(group);
}

/// At which of the values every part holds.
fn told(swept: &Swept, frame: &Frame) -> String {
    let holds: Vec<bool> = swept.states.iter().map(|state| state.holds != Holds::No).collect();
    let shown: Vec<String> = swept
        .values
        .iter()
        .zip(&holds)
        .filter(|(_, holds)| **holds)
        .map(|(value, _)| frame.show(swept.kind, *value))
        .collect();
    match shown.len() {
        0 => "No value on the way makes every part hold.".into(),
        _ if !swept.courses().iter().any(Course::moves) => {
            "This setting moves no margin that is anywhere near 1.".into()
        }
        count if count == holds.len() => "Every part holds on the whole way.".into(),
        _ => format!("Every part holds at {}; not at the other values computed.", shown.join(", ")),
    }
}
