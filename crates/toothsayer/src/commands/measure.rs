//! `measure`: what bench tools should read on the gears, and what a reading tells.

use crate::args::{GearName, MeasureArgs};
use crate::failure::Failure;
use crate::input::{Desk, quantity, state};
use crate::json;
use crate::paper::{Cell, Paper, Table};
use crate::words::{state_words, value};
use serde_json::{Map, Value, json};
use toothsayer_mechanics::gear::{Member, UpperEnd};
use toothsayer_quantity::{Kind, Length};
use toothsayer_verdict::{
    Bay, GearReading, GearReadings, Memo, MeshReadings, NewAndWorn, Readings, Verdict, mesh_by_rim, thinning_by,
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
    rim: Option<toothsayer_verdict::RimReading>,
}

impl Told {
    fn as_json(&self) -> Value {
        let mut map = Map::new();
        for (name, gear) in GEARS.iter().zip(&self.readings.gears) {
            map.insert((*name).to_owned(), gear_json(gear));
        }
        map.insert("mesh".into(), mesh_json(&self.readings.mesh));
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
        paper.paragraph("Battery out and motor leads unplugged before fingers go near the gears.");
        if desk.global.explain {
            paper.paragraph(
                "Span and size over pins: ISO 21771 and handbook form; worn: teeth thinner by 0.1 module (common practice, no \
                 source). Play at the rim: play at the pitch circle x tip radius / working radius. Window: play of 0.04 to \
                 0.12 module and a contact ratio of 1.2 (common practice, no source).",
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
        let mut table = Table::new(&["mesh", "value>"]);
        let mut row = |what: &str, text: String| table.row(vec![Cell::plain(what), Cell::plain(text)]);
        row("calipers over both shafts, less half of each", shown(mesh.centre_distance));
        row("play at the pitch circle", shown(mesh.backlash));
        row("play read at the spur's rim, the pinion held", shown(mesh.backlash_at_rim));
        row("the same as a swing of the spur", value(Kind::Angle, mesh.swing.to_rad(), desk.system));
        if mesh.window.is_empty() {
            row("centre distance to set", "none keeps play and contact ratio".into());
        } else {
            row("centre distance to set, least", shown(mesh.window.low));
            row("centre distance to set, most", shown(mesh.window.high));
        }
        row("run-out of the motor's shaft that this mesh bears", shown(mesh.allowed_run_out));
        paper.blank();
        paper.table(&table);
        if mesh.window.ended_by == UpperEnd::ContactRatio {
            paper.paragraph(
                "The upper end is where the contact ratio falls to 1.2, not where the play grows too large.",
            );
        }
    }
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
        "centre_distance_low_m": mesh.window.low.to_m(),
        "centre_distance_high_m": mesh.window.high.to_m(),
        "allowed_run_out_m": mesh.allowed_run_out.to_m(),
    })
}
