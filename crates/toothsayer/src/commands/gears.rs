//! `gears`: the pair at its centre distance, and the stack on the motor's shaft.

use crate::args::GearsArgs;
use crate::failure::Failure;
use crate::input::{Desk, state};
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::words::{state_words, value};
use serde_json::{Map, Value, json};
use std::f64::consts::PI;
use toothsayer_mechanics::gear::{Member, Tooth, outline};
use toothsayer_quantity::{Kind, Length};
use toothsayer_verdict::{Bay, Memo, MeshState, RootStresses, TOLD_FORCE, Verdict, root_stresses};

/// How far a drawn flank may lie off the true one.
const OUTLINE_TOLERANCE: Length = Length::um(0.2);

/// The gears of a job file.
pub fn run(desk: &Desk<'_>, args: &GearsArgs) -> Result<String, Failure> {
    let job = desk.job(&args.of.file)?;
    let memo = Memo::default();
    let which = state(args.of.state);
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let stage = verdict.stage(which)?;
    let build = stage.sheet.build().map_err(toothsayer_verdict::Error::from)?;
    let bay = Bay::new(&build, stage.run_in)?;
    let stresses = [root_stresses(&build, &bay, Member::Pinion)?, root_stresses(&build, &bay, Member::Spur)?];
    if desk.global.json {
        let mut map = as_json(&bay, &stresses);
        if args.outlines {
            add_outlines(&bay, &mut map)?;
        }
        return json::text(&Value::Object(map));
    }
    let mut paper = Paper::new();
    write(desk, state_words(stage.state), &bay, &stresses, &mut paper);
    for warning in &job.warnings {
        paper.item("note:", warning);
    }
    Ok(paper.finish())
}

fn as_json(bay: &Bay, stresses: &[RootStresses; 2]) -> Map<String, Value> {
    let pair = &bay.pair;
    let gear = |member: Member| {
        let (tooth, root) = (pair.tooth(member), bay.root(member));
        json!({
            "tip_radius_m": tooth.tip_radius().to_m(),
            "base_radius_m": tooth.base_radius().to_m(),
            "root_radius_m": tooth.root_radius().to_m(),
            "tip_thickness_m": tooth.tip_thickness().to_m(),
            "form_factor": root.form_factor,
            "stress_factor": root.stress_factor,
            "undercut": tooth.undercut(),
            "root_stress_per_kn_pa": stresses[member as usize].iso.to_pa(),
            "lewis_stress_per_kn_pa": stresses[member as usize].lewis.map(|stress| stress.to_pa()),
        })
    };
    let figures = json!({
        "centre_distance_m": pair.spec().centre_distance.to_m(),
        "working_pressure_angle_rad": pair.working_pressure_angle().to_rad(),
        "contact_ratio": pair.contact_ratio(),
        "normal_backlash_m": pair.normal_backlash().to_m(),
        "circumferential_backlash_m": pair.circumferential_backlash().to_m(),
        "contact_ratio_at_widest": bay.widest().contact_ratio(),
        "normal_backlash_at_tightest_m": bay.least_backlash().to_m(),
        "tip_clearance_m": pair.tip_clearance().to_m(),
        "mesh_stiffness_n_per_m": bay.mesh_stiffness.to_n_per_m(),
        "face_overlap_m": bay.overlap.to_m(),
        "stack_gap_m": bay.gap.to_m(),
        "pinion": gear(Member::Pinion),
        "spur": gear(Member::Spur),
    });
    match figures {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

/// Both outlines in mesh: the pinion's tooth on the line of centres, a gap of the spur around it.
fn add_outlines(bay: &Bay, map: &mut Map<String, Value>) -> Result<(), Failure> {
    let pinion = outline(bay.pair.tooth(Member::Pinion), OUTLINE_TOLERANCE)?;
    let spur = outline(bay.pair.tooth(Member::Spur), OUTLINE_TOLERANCE)?;
    let spur_teeth = f64::from(bay.pair.spec().spur.teeth);
    let turn = PI + PI / spur_teeth;
    map.insert("pinion_outline_m".into(), json!(pinion.points_m));
    map.insert("spur_outline_m".into(), json!(spur.placed_m(turn, bay.pair.spec().centre_distance.to_m())));
    Ok(())
}

fn write(desk: &Desk<'_>, words: &str, bay: &Bay, stresses: &[RootStresses; 2], paper: &mut Paper) {
    let length = |length: Length| value(Kind::Length, length.to_m(), desk.system);
    let pair = &bay.pair;
    let verdict = match MeshState::of(bay) {
        MeshState::Runs => paper.tint(Tint::Good, "the mesh runs"),
        MeshState::Binds { by, once_a_turn } => {
            let when = if once_a_turn { " once a turn" } else { "" };
            paper.tint(Tint::Bad, &format!("the mesh BINDS by {}{when}", length(by)))
        }
        MeshState::Apart => paper.tint(Tint::Bad, "the gears do NOT MEET"),
    };
    paper.paragraph(&format!(
        "Gears {words}: {verdict}, contact ratio {:.2}, backlash {}.",
        pair.contact_ratio(),
        length(pair.circumferential_backlash())
    ));
    let mut table = Table::new(&["figure", "value>"]);
    let mut row = |name: &str, shown: String| table.row(vec![Cell::plain(name), Cell::plain(shown)]);
    row("centre distance", length(pair.spec().centre_distance));
    row("reference centre distance", length(pair.reference_centre_distance()));
    row("working pressure angle", value(Kind::Angle, pair.working_pressure_angle().to_rad(), desk.system));
    row("contact ratio", format!("{:.3}", pair.contact_ratio()));
    row("backlash at the pitch circle", length(pair.circumferential_backlash()));
    row("backlash along the line of action", length(pair.normal_backlash()));
    if bay.swings() {
        row("contact ratio at the wide end of the bent shaft's swing", format!("{:.3}", bay.widest().contact_ratio()));
        row("backlash along the line of action at its narrow end", length(bay.least_backlash()));
    }
    row("tip clearance", length(pair.tip_clearance()));
    row("mesh stiffness with the shaft", value(Kind::LinearStiffness, bay.mesh_stiffness.to_n_per_m(), desk.system));
    row("width on which the faces meet", length(bay.overlap));
    row("gap to the cover bearing", length(bay.gap));
    paper.blank();
    paper.table(&table);
    paper.blank();
    let mut table =
        Table::new(&["gear", "teeth>", "tip diameter>", "root diameter>", "tip width>", "YF>", "YS>", "notes"]);
    for (member, name) in [(Member::Pinion, "pinion"), (Member::Spur, "spur")] {
        let (tooth, root) = (pair.tooth(member), bay.root(member));
        let notes = [
            (tooth.undercut(), "undercut"),
            (tooth.pointed() && !worn_low(tooth), "pointed tips"),
            (worn_low(tooth), "worn to a point"),
            (pair.interferes(member), "root interference"),
        ];
        let notes: Vec<String> = notes.into_iter().filter(|(is, _)| *is).map(|(_, word)| word.to_owned()).collect();
        table.row(vec![
            Cell::plain(name),
            Cell::plain(tooth.teeth().to_string()),
            Cell::plain(length(tooth.tip_radius() * 2.0)),
            Cell::plain(length(tooth.root_radius() * 2.0)),
            Cell::plain(if worn_low(tooth) { "none".into() } else { length(tooth.tip_thickness()) }),
            Cell::plain(format!("{:.3}", root.form_factor)),
            Cell::plain(format!("{:.3}", root.stress_factor)),
            Cell::plain(crate::words::list(&notes)),
        ]);
    }
    paper.table(&table);
    second_look(desk, stresses, paper);
    if !bay.stiffness.in_validity {
        paper.item(
            "note:",
            "the stiffness formula is stated for x1 >= x2 and -0.5 <= x1 + x2 <= 2: these gears lie outside.",
        );
    }
    if desk.global.explain {
        paper.blank();
        paper.paragraph("Geometry: ISO 21771 at the actual centre distance. YF, YS: ISO 6336-3 method B, load at the outer point of single contact (at the tip where the contact ratio is 1 or less). Stiffness: ISO 6336-1 method B in series with the propped shaft.");
    }
}

/// Whether a tooth is so worn that its flanks meet below where its tip was.
fn worn_low(tooth: &Tooth) -> bool {
    tooth.spec().gear.tip_shortening > 0.0
}

/// The older Lewis stress as a check that owes nothing to the standard.
fn second_look(desk: &Desk<'_>, stresses: &[RootStresses; 2], paper: &mut Paper) {
    let stress = |pressure: toothsayer_quantity::Pressure| value(Kind::Pressure, pressure.to_pa(), desk.system);
    let force = value(Kind::Force, TOLD_FORCE.to_n(), desk.system);
    let told = ["pinion", "spur"].iter().zip(stresses).map(|(name, both)| {
        let lewis = both.lewis.map_or("no value below 12 teeth".into(), stress);
        format!("{name} {} (ISO 6336-3), {lewis} (Lewis)", stress(both.iso))
    });
    paper.blank();
    paper.paragraph(&format!(
        "Root stress for {force} at the pitch circle: {}. Lewis bends the tooth from its tip and counts no notch, ISO where \
         one pair carries all, with the notch: the two should be of one size.",
        told.collect::<Vec<_>>().join("; ")
    ));
}
