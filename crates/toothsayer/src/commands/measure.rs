//! `measure`: what bench tools should read on the gears, and what a reading tells.

use crate::args::{GearName, MeasureArgs};
use crate::failure::Failure;
use crate::input::{Desk, quantity, state};
use crate::json;
use crate::paper::{Cell, Paper, Table};
use crate::words::{mesh_words, state_words, value};
use serde_json::{Map, Value, json};
use toothsayer_mechanics::gear::{Member, UpperEnd};
use toothsayer_quantity::{Kind, Length};
use toothsayer_verdict::{
    Bay, GearReading, GearReadings, Memo, MeshReadings, MeshState, NewAndWorn, Readings, RimReading, StackReadings,
    Verdict, mesh_by_rim, thinning_by,
};

const GEARS: [&str; 2] = ["pinion", "spur"];

/// The readings of a job file's gears.
pub fn run(desk: &Desk<'_>, args: &MeasureArgs) -> Result<String, Failure> {
    let job = desk.job(&args.of.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let stage = verdict.stage(state(args.of.state))?;
    let build = stage.sheet.build().map_err(toothsayer_verdict::Error::from)?;
    let bay = Bay::new(&build, stage.run_in)?;
    let readings = Readings::new(&build, &bay)?;
    let length = |option: &str, text: &Option<String>| {
        text.as_deref().map(|text| quantity(option, Kind::Length, text).map(Length::m)).transpose()
    };
    let pin = length("pin", &args.pin)?;
    let on_gear = match (length("span", &args.span)?, length("over-pins", &args.over_pins)?) {
        (Some(length), _) => Some(GearReading::Span { teeth: args.span_teeth, length }),
        (None, Some(size)) => Some(GearReading::OverPins { pin, size }),
        (None, None) => None,
    };
    let member = if args.gear == GearName::Pinion { Member::Pinion } else { Member::Spur };
    let told = Told {
        words: state_words(stage.state),
        readings,
        state: MeshState::of(&bay),
        warnings: job.warnings.clone(),
        thinning: on_gear.map(|reading| thinning_by(&build, member, reading)).transpose()?,
        member,
        rim: length("backlash-at-rim", &args.backlash_at_rim)?
            .map(|at_rim| mesh_by_rim(&build, &bay, at_rim))
            .transpose()?,
    };
    if desk.global.json {
        return json::text(&told.as_json());
    }
    let mut paper = Paper::new();
    told.write(desk, &mut paper);
    Ok(paper.finish())
}

struct Told {
    words: &'static str,
    readings: Readings,
    member: Member,
    thinning: Option<Length>,
    rim: Option<RimReading>,
    state: MeshState,
    warnings: Vec<String>,
}

impl Told {
    fn as_json(&self) -> Value {
        let mut map = Map::new();
        for (name, gear) in GEARS.iter().zip(&self.readings.gears) {
            map.insert((*name).to_owned(), gear_json(gear));
        }
        map.insert("mesh".into(), mesh_json(&self.readings.mesh));
        map.insert("stack".into(), stack_json(&self.readings.stack));
        map.insert("warnings".into(), json!(self.warnings));
        if let Some(thinning) = self.thinning {
            map.insert("gear".into(), json!(self.member.to_string()));
            map.insert("thinning_m".into(), json!(thinning.to_m()));
        }
        if let Some(rim) = &self.rim {
            map.insert("backlash_m".into(), json!(rim.backlash.to_m()));
            map.insert("centre_distance_m".into(), json!(rim.centre_distance.to_m()));
        }
        Value::Object(map)
    }

    fn write(&self, desk: &Desk<'_>, paper: &mut Paper) {
        let shown = |length: Length| value(Kind::Length, length.to_m(), desk.system);
        if let Some(thinning) = self.thinning {
            let told = if thinning.to_m() >= 0.0 { "thinner" } else { "thicker" };
            paper.paragraph(&format!(
                "By this reading the {}'s teeth are {} {told} than nominal: put `thinning = \"{}\"` under gears.{} in the file.",
                self.member, shown(thinning.abs()), shown(thinning.max(Length::ZERO)), self.member
            ));
        }
        if let Some(rim) = &self.rim {
            paper.paragraph(&format!(
                "Read at the spur's rim that is a backlash of {} at the pitch circle, and a centre distance of {}.",
                shown(rim.backlash),
                shown(rim.centre_distance)
            ));
        }
        paper.paragraph(&format!("What tools should read, {}.", self.words));
        self.gears(desk, paper);
        self.mesh(desk, paper);
        for warning in &self.warnings {
            paper.item("note:", warning);
        }
        paper.paragraph("Battery out and motor leads unplugged before fingers go near the gears.");
        if desk.global.explain {
            paper.paragraph(
                "Span and size over pins: ISO 21771 and handbook form; worn: teeth thinner by 0.1 module (common practice, no \
                 source). Play at the rim: play at the pitch circle x tip radius / working radius; between the shafts: centre \
                 distance less that without play (ISO 21771, 6). Centre distance: play of 0.04 to 0.12 module and a contact \
                 ratio of 1.2; run-out: twice the way to the nearer end, as the centre distance swings by half of it; overlap \
                 0.8 of the narrower face; gap at least the lengths' tolerance and 0.05 mm, and as much short of 1 mm (common \
                 practice, no source).",
            );
        }
    }

    fn gears(&self, desk: &Desk<'_>, paper: &mut Paper) {
        let shown = |length: Length| value(Kind::Length, length.to_m(), desk.system);
        let mut table = Table::new(&["gear", "reading", "new>", "worn below>"]);
        for (name, gear) in GEARS.iter().zip(&self.readings.gears) {
            let mut row = |what: String, reading: Option<NewAndWorn>| {
                let (new, worn) =
                    reading.map_or(("no reading".into(), String::new()), |read| (shown(read.new), shown(read.worn)));
                table.row(vec![Cell::plain(*name), Cell::plain(what), Cell::plain(new), Cell::plain(worn)]);
            };
            row(format!("calipers over {} teeth", gear.span_teeth), gear.span);
            row(format!("over two pins of {}", shown(gear.pin)), gear.over_pins);
            let tips = [*name, "calipers over the tips"].map(Cell::plain);
            table.row(tips.into_iter().chain([Cell::plain(shown(gear.tip_diameter)), Cell::plain("")]).collect());
        }
        paper.blank();
        paper.table(&table);
    }

    fn mesh(&self, desk: &Desk<'_>, paper: &mut Paper) {
        let shown = |length: Length| value(Kind::Length, length.to_m(), desk.system);
        let mesh = &self.readings.mesh;
        let mut table = Table::new(&["mesh", "as it stands>", "should be>"]);
        let mut row = |what: &str, stands: String, should: String| {
            table.row(vec![Cell::plain(what), Cell::plain(stands), Cell::plain(should)]);
        };
        let to_set = mesh.to_set().map_or("none keeps play and contact".into(), |window| {
            format!("{} to {}", shown(window.low), shown(window.high))
        });
        row("calipers over both shafts, less half of each", shown(mesh.centre_distance), to_set);
        row("play at the pitch circle", shown(mesh.backlash), String::new());
        row("play read at the spur's rim, the pinion held", shown(mesh.backlash_at_rim), String::new());
        let swing = value(Kind::Angle, mesh.swing.to_rad(), desk.system);
        row("the same as a swing of the spur", swing, String::new());
        let radial = mesh.radial_play.map_or("beyond the teeth's height".into(), shown);
        row("the same as play between the shafts", radial, String::new());
        row("run-out of the motor's shaft that this mesh bears", String::new(), run_out(mesh, &shown));
        let stack = &self.readings.stack;
        let least = format!("at least {}", shown(stack.least_overlap));
        row("ink on the teeth: width on which the faces meet", shown(stack.overlap), least);
        if let Some(gap) = stack.gap {
            let [least, most] = stack.gap_limits.map(&shown);
            row("gap between pinion and cover bearing", shown(gap), format!("{least} to {most}"));
        }
        paper.blank();
        paper.table(&table);
        if let Some(told) = mesh_words(self.state, desk.system) {
            paper.paragraph(&told);
        }
        if let Some(told) = off_the_window(mesh, &shown) {
            paper.paragraph(&told);
        }
        if mesh.to_set().is_some_and(|window| window.ended_by == UpperEnd::ContactRatio) {
            paper.paragraph(
                "The upper end is where the contact ratio falls to 1.2, not where the play grows too large.",
            );
        }
    }
}

/// How far a mesh is to be moved until it lies within its window.
fn off_the_window(mesh: &MeshReadings, shown: &dyn Fn(Length) -> String) -> Option<String> {
    let window = mesh.to_set()?;
    let (near, far) = (window.low - mesh.centre_distance, mesh.centre_distance - window.high);
    if near > Length::ZERO {
        return Some(format!("The shafts stand {} too near for that play.", shown(near)));
    }
    (far > Length::ZERO).then(|| format!("The shafts stand {} too far apart.", shown(far)))
}

/// The run-out that a mesh bears; nothing is left to one that is not set within its window.
fn run_out(mesh: &MeshReadings, shown: &dyn Fn(Length) -> String) -> String {
    if mesh.is_set() {
        return format!("at most {}", shown(mesh.allowed_run_out));
    }
    let middle = mesh.to_set().map(|window| window.high - window.low);
    middle.map_or("none".into(), |room| format!("none here; at most {} set mid-way", shown(room)))
}

fn gear_json(gear: &GearReadings) -> Value {
    json!({
        "tip_diameter_m": gear.tip_diameter.to_m(),
        "span_teeth": gear.span_teeth,
        "span_m": gear.span.map(|span| span.new.to_m()),
        "span_worn_m": gear.span.map(|span| span.worn.to_m()),
        "pin_m": gear.pin.to_m(),
        "over_pins_m": gear.over_pins.map(|size| size.new.to_m()),
        "over_pins_worn_m": gear.over_pins.map(|size| size.worn.to_m()),
    })
}

fn mesh_json(mesh: &MeshReadings) -> Value {
    json!({
        "centre_distance_m": mesh.centre_distance.to_m(),
        "backlash_m": mesh.backlash.to_m(),
        "backlash_at_rim_m": mesh.backlash_at_rim.to_m(),
        "swing_rad": mesh.swing.to_rad(),
        "radial_play_m": mesh.radial_play.map(Length::to_m),
        "centre_distance_low_m": mesh.to_set().map(|window| window.low.to_m()),
        "centre_distance_high_m": mesh.to_set().map(|window| window.high.to_m()),
        "allowed_run_out_m": mesh.allowed_run_out.to_m(),
    })
}

fn stack_json(stack: &StackReadings) -> Value {
    let [least, most] = stack.gap_limits;
    json!({
        "overlap_m": stack.overlap.to_m(),
        "overlap_least_m": stack.least_overlap.to_m(),
        "gap_m": stack.gap.map(Length::to_m),
        "gap_least_m": least.to_m(),
        "gap_most_m": most.to_m(),
    })
}
