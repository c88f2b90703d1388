//! `materials`: the names that a job file takes for gears, threads and screws, with what is known of each.

use crate::args::MaterialsArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::words::{sentence, value};
use serde_json::{Value, json};
use toothsayer_mechanics::material::{
    GearMaterial, JointMaterial, ScrewClass, gear_materials, joint_materials, screw_classes,
};
use toothsayer_quantity::{Kind, Length, Pressure, nearest};

/// Diameter at which a screw class is told: some classes differ by size beyond any truck's screws.
const TOLD_SCREW: Length = Length::mm(4.0);

/// Lists every material, or explains one.
pub fn run(desk: &Desk<'_>, args: &MaterialsArgs) -> Result<String, Failure> {
    let all = All { gears: gear_materials()?, joints: joint_materials()?, classes: screw_classes()? };
    if desk.global.json {
        return json::text(&all.as_json()?);
    }
    let mut paper = Paper::new();
    match &args.name {
        Some(name) => all.explain(desk, name, &mut paper)?,
        None => all.list(desk, &mut paper)?,
    }
    Ok(paper.finish())
}

struct All {
    gears: &'static [GearMaterial],
    joints: &'static [JointMaterial],
    classes: &'static [ScrewClass],
}

impl All {
    fn as_json(&self) -> Result<Value, Failure> {
        let gears = self.gears.iter().map(gear_json).collect::<Result<Vec<_>, _>>()?;
        let joints: Vec<Value> = self.joints.iter().map(joint_json).collect();
        let classes: Vec<Value> = self
            .classes
            .iter()
            .map(|class| json!({ "name": class.name, "proof_stress_pa": class.proof_stress(TOLD_SCREW).to_pa() }))
            .collect();
        Ok(json!({ "gears": gears, "joints": joints, "screw_classes": classes }))
    }

    fn list(&self, desk: &Desk<'_>, paper: &mut Paper) -> Result<(), Failure> {
        paper.heading("Gears (gears.pinion.material, gears.spur.material)");
        let mut table = Table::new(&["name: what it is", "bears once>", "for ever>"]);
        for material in self.gears {
            let [once, ever] = root_strengths(material)?.map(|pressure| shown(desk, pressure));
            let named = format!("{}: {}", material.name, material.words);
            table.row([named, once, ever].map(Cell::plain).into());
        }
        paper.table(&table);
        paper.paragraph("Root stress at the usual hardness: once, and in three million turns under load one way.");
        paper.heading("Threads and under heads (joints.thread_in, joints.under_head)");
        let mut table = Table::new(&["name: what it is", "shear>", "pressure>"]);
        for material in self.joints {
            let [shear, pressure] =
                [material.shear_strength, material.bearing_pressure].map(|pressure| shown(desk, pressure));
            let named = format!("{}: {}", material.name, material.words);
            table.row([named, shear, pressure].map(Cell::plain).into());
        }
        paper.table(&table);
        paper.heading("Screws (joints.class)");
        let mut table = Table::new(&["class", "proof stress>"]);
        for class in self.classes {
            table.row(vec![Cell::plain(&*class.name), Cell::plain(shown(desk, class.proof_stress(TOLD_SCREW)))]);
        }
        paper.table(&table);
        paper.paragraph("toothsayer materials NAME tells lines, scatter and source of one.");
        Ok(())
    }

    fn explain(&self, desk: &Desk<'_>, name: &str, paper: &mut Paper) -> Result<(), Failure> {
        let gear = self.gears.iter().find(|material| material.name == name);
        let joint = self.joints.iter().find(|material| material.name == name);
        if gear.is_none() && joint.is_none() {
            let names = self.gears.iter().map(|row| &*row.name).chain(self.joints.iter().map(|row| &*row.name));
            let hint = nearest(name, names)
                .map_or("`toothsayer materials` lists them".into(), |near| format!("did you mean {near}?"));
            return Err(Failure::usage(format!("no material is named \"{name}\""), hint));
        }
        if let Some(material) = gear {
            explain_gear(desk, material, paper)?;
        }
        if let Some(material) = joint {
            explain_joint(desk, material, paper);
        }
        Ok(())
    }
}

fn shown(desk: &Desk<'_>, pressure: Pressure) -> String {
    value(Kind::Pressure, pressure.to_pa(), desk.system)
}

/// Root strength at once and for ever, at the usual hardness.
fn root_strengths(material: &GearMaterial) -> Result<[Pressure; 2], Failure> {
    use toothsayer_mechanics::gear::{RootDuty, root_strength};
    let at = |cycles: f64| {
        let duty = RootDuty { hardness: material.usual_hardness(), cycles, both_flanks: false };
        root_strength(material, &duty)
    };
    Ok([at(1.0)?, at(3e6)?])
}

fn gear_json(material: &GearMaterial) -> Result<Value, Failure> {
    let [once, ever] = root_strengths(material)?.map(|pressure| pressure.to_pa());
    let hardness = material.hardness.map(|range| [range.least, range.usual, range.most].map(|hv| hv.to_hv()));
    Ok(json!({
        "name": material.name,
        "words": material.words,
        "hardness_hv": hardness,
        "root_static_pa": once,
        "root_endurance_pa": ever,
        "flank_limit_pa": material.sigma_h_lim(material.usual_hardness())?.to_pa(),
        "modulus_pa": material.elastic.modulus.to_pa(),
        "density_kg_per_m3": material.density_kg_m3,
        "scatter_root": material.scatter.root,
        "scatter_flank": material.scatter.flank,
        "source": material.source,
    }))
}

fn joint_json(material: &JointMaterial) -> Value {
    json!({
        "name": material.name,
        "words": material.words,
        "shear_strength_pa": material.shear_strength.to_pa(),
        "weak_shear_strength_pa": material.weak_shear_strength.to_pa(),
        "bearing_pressure_pa": material.bearing_pressure.to_pa(),
        "weak_bearing_pressure_pa": material.weak_bearing_pressure.to_pa(),
        "creep_exponent": material.creep_exponent,
        "modulus_pa": material.modulus.to_pa(),
        "plastic": material.plastic,
        "scatter": material.scatter,
        "source": material.source,
    })
}

fn explain_gear(desk: &Desk<'_>, material: &GearMaterial, paper: &mut Paper) -> Result<(), Failure> {
    let head = paper.tint(Tint::Strong, &sentence(&material.words));
    paper.paragraph(&format!("{head} (gear material \"{}\")", material.name));
    let [once, ever] = root_strengths(material)?.map(|pressure| shown(desk, pressure));
    let flank = shown(desk, material.sigma_h_lim(material.usual_hardness())?);
    paper.paragraph(&format!(
        "At its usual hardness a root bears {once} once and {ever} for three million turns; a flank's endurance limit is {flank}."
    ));
    if let Some(range) = material.hardness {
        let [least, usual, most] =
            [range.least, range.usual, range.most].map(|hardness| value(Kind::Hardness, hardness.to_hv(), desk.system));
        paper.paragraph(&format!("Its strength follows its hardness from {least} to {most}; {usual} is usual."));
    }
    if material.is_plastic() {
        paper.paragraph("A plastic: its strength falls with temperature; taken at 60 °C.");
    }
    let scatter = &material.scatter;
    paper.paragraph(&format!(
        "Scatter of the strength (standard deviation, elicited): root {:.0} %, flank {:.0} %.",
        100.0 * scatter.root,
        100.0 * scatter.flank
    ));
    paper.item("source:", &material.source);
    Ok(())
}

fn explain_joint(desk: &Desk<'_>, material: &JointMaterial, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &sentence(&material.words));
    paper.paragraph(&format!("{head} (joint material \"{}\")", material.name));
    let range = |weak: Pressure, usual: Pressure| format!("{} (weak end {})", shown(desk, usual), shown(desk, weak));
    paper.paragraph(&format!(
        "Its threads bear {} in shear, its face {} under a head.",
        range(material.weak_shear_strength, material.shear_strength),
        range(material.weak_bearing_pressure, material.bearing_pressure)
    ));
    if material.plastic {
        paper.paragraph(&format!(
            "A plastic: a clamp falls as (1 + runs)^-{}; screws are finished by hand, without thread locker.",
            material.creep_exponent
        ));
    }
    paper.item("source:", &material.source);
}
