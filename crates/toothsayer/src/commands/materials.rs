//! `materials`: the names that a job file takes for gears, threads and screws, with what is known of each.

use crate::args::MaterialsArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::words::{sentence, value};
use serde_json::{Value, json};
use toothsayer_mechanics::gear::{StrengthAt, StrengthPoint, strength_points};
use toothsayer_mechanics::material::{
    GearMaterial, JointMaterial, ScrewClass, gear_materials, joint_materials, screw_classes,
};
use toothsayer_quantity::{Kind, Length, Pressure, nearest};

/// Diameter at which a screw class is told: some classes differ by size beyond any truck's screws.
const TOLD_SCREW: Length = Length::mm(4.0);

/// Lists every material, or explains one.
pub fn run(desk: &Desk<'_>, args: &MaterialsArgs) -> Result<String, Failure> {
    let all = Rows::all()?;
    let told = args.name.as_deref().map(|name| all.named(name)).transpose()?;
    if desk.global.json {
        return json::text(&told.as_ref().unwrap_or(&all).as_json()?);
    }
    let mut paper = Paper::new();
    match told {
        Some(rows) => rows.explain(desk, &mut paper)?,
        None => all.list(desk, &mut paper)?,
    }
    Ok(paper.finish())
}

struct Rows {
    gears: Vec<&'static GearMaterial>,
    joints: Vec<&'static JointMaterial>,
    classes: Vec<&'static ScrewClass>,
}

impl Rows {
    fn all() -> Result<Rows, Failure> {
        Ok(Rows {
            gears: gear_materials()?.iter().collect(),
            joints: joint_materials()?.iter().collect(),
            classes: screw_classes()?.iter().collect(),
        })
    }

    /// What goes by a name: some plastics are a gear's and a joint's.
    fn named(&self, name: &str) -> Result<Rows, Failure> {
        let rows = Rows {
            gears: self.gears.iter().copied().filter(|row| row.name == name).collect(),
            joints: self.joints.iter().copied().filter(|row| row.name == name).collect(),
            classes: self.classes.iter().copied().filter(|row| row.name == name).collect(),
        };
        if !(rows.gears.is_empty() && rows.joints.is_empty() && rows.classes.is_empty()) {
            return Ok(rows);
        }
        let gears = self.gears.iter().map(|row| &*row.name);
        let names = gears.chain(self.joints.iter().map(|row| &*row.name));
        let hint = nearest(name, names.chain(self.classes.iter().map(|row| &*row.name)))
            .map_or("`toothsayer materials` lists them".into(), |near| format!("did you mean {near}?"));
        Err(Failure::usage(format!("no material is named \"{name}\""), hint))
    }

    fn as_json(&self) -> Result<Value, Failure> {
        let gears = self.gears.iter().map(|row| gear_json(row)).collect::<Result<Vec<_>, _>>()?;
        let joints: Vec<Value> = self.joints.iter().map(|row| joint_json(row)).collect();
        let classes: Vec<Value> = self.classes.iter().map(|row| class_json(row)).collect();
        Ok(json!({ "gears": gears, "joints": joints, "screw_classes": classes }))
    }

    fn list(&self, desk: &Desk<'_>, paper: &mut Paper) -> Result<(), Failure> {
        paper.heading("Gears (gears.pinion.material, gears.spur.material)");
        let mut table = Table::new(&["name: what it is", "bears once>", "for ever>"]);
        for material in &self.gears {
            let [once, ever] = root_strengths(material)?.map(|pressure| shown(desk, pressure));
            let named = format!("{}: {}", material.name, material.words);
            table.row([named, once, ever].map(Cell::plain).into());
        }
        paper.table(&table);
        paper.paragraph("Root stress at the usual hardness: once, and in three million turns under load one way.");
        paper.heading("Threads and under heads (joints.thread_in, joints.under_head)");
        let mut table = Table::new(&["name: what it is", "shear>", "pressure>"]);
        for material in &self.joints {
            let [shear, pressure] =
                [material.shear_strength, material.bearing_pressure].map(|pressure| shown(desk, pressure));
            let named = format!("{}: {}", material.name, material.words);
            table.row([named, shear, pressure].map(Cell::plain).into());
        }
        paper.table(&table);
        paper.heading("Screws (joints.class)");
        let mut table = Table::new(&["class", "proof stress>"]);
        for class in &self.classes {
            table.row(vec![Cell::plain(&*class.name), Cell::plain(shown(desk, class.proof_stress(TOLD_SCREW)))]);
        }
        paper.table(&table);
        paper.paragraph("toothsayer materials NAME tells what the trade calls one, its lines, scatter and source.");
        Ok(())
    }

    fn explain(&self, desk: &Desk<'_>, paper: &mut Paper) -> Result<(), Failure> {
        for material in &self.gears {
            explain_gear(desk, material, paper)?;
        }
        self.joints.iter().for_each(|material| explain_joint(desk, material, paper));
        self.classes.iter().for_each(|class| explain_class(desk, class, paper));
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
    let points: Vec<Value> = strength_points(material)?.iter().map(point_json).collect();
    Ok(json!({
        "name": material.name,
        "words": material.words,
        "trade": material.trade,
        "hardness_hv": hardness,
        "root_static_pa": once,
        "root_endurance_pa": ever,
        "flank_limit_pa": material.sigma_h_lim(material.usual_hardness())?.to_pa(),
        "strengths": points,
        "modulus_pa": material.elastic.modulus.to_pa(),
        "density_kg_per_m3": material.density_kg_m3,
        "scatter_root": material.scatter.root,
        "scatter_flank": material.scatter.flank,
        "source": material.source,
    }))
}

fn point_json(point: &StrengthPoint) -> Value {
    let (hardness_hv, temperature_k) = match point.at {
        StrengthAt::Hardness(hardness) => (Some(hardness.to_hv()), None),
        StrengthAt::Temperature(temperature) => (None, Some(temperature.to_k())),
        StrengthAt::Any => (None, None),
    };
    json!({
        "hardness_hv": hardness_hv,
        "temperature_k": temperature_k,
        "root_static_pa": point.root_once.to_pa(),
        "root_endurance_pa": point.root_lasting.to_pa(),
        "flank_limit_pa": point.flank_lasting.to_pa(),
    })
}

fn joint_json(material: &JointMaterial) -> Value {
    json!({
        "name": material.name,
        "words": material.words,
        "trade": material.trade,
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

fn class_json(class: &ScrewClass) -> Value {
    json!({
        "name": class.name,
        "proof_stress_pa": class.proof_stress(TOLD_SCREW).to_pa(),
        "yield_stress_pa": class.yield_stress.to_pa(),
        "tensile_strength_pa": class.tensile_strength.to_pa(),
        "source": class.source,
    })
}

fn explain_gear(desk: &Desk<'_>, material: &GearMaterial, paper: &mut Paper) -> Result<(), Failure> {
    let head = paper.tint(Tint::Strong, &sentence(&material.words));
    paper.paragraph(&format!("{head} (gear material \"{}\")", material.name));
    paper.item("sold as:", &material.trade);
    let points = strength_points(material)?;
    let place = match points.first().map(|point| point.at) {
        Some(StrengthAt::Hardness(_)) => "hardness",
        Some(StrengthAt::Temperature(_)) => "of the tooth",
        _ => "at any hardness",
    };
    let mut table = Table::new(&[place, "root bears once>", "root, for ever>", "flank, for ever>"]);
    for point in &points {
        let at = match point.at {
            StrengthAt::Hardness(hardness) => value(Kind::Hardness, hardness.to_hv(), desk.system),
            StrengthAt::Temperature(temperature) => value(Kind::Temperature, temperature.to_k(), desk.system),
            StrengthAt::Any => "one strength".into(),
        };
        let borne = [point.root_once, point.root_lasting, point.flank_lasting].map(|pressure| shown(desk, pressure));
        table.row(std::iter::once(at).chain(borne).map(Cell::plain).collect());
    }
    paper.table(&table);
    paper.paragraph("Root: for ever is three million turns under load one way. Flank: pressure without pitting.");
    if let Some(range) = material.hardness {
        let usual = value(Kind::Hardness, range.usual.to_hv(), desk.system);
        paper.paragraph(&format!(
            "Unmeasured it is taken at {usual}; a hardness outside these counts as the nearer end, with a note."
        ));
    }
    if let Ok(plastic) = material.plastic() {
        let usual = value(Kind::Temperature, plastic.usual_temperature().to_k(), desk.system);
        paper.paragraph(&format!("A plastic: its strength falls with temperature; taken at {usual}."));
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
    paper.item("sold as:", &material.trade);
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
    paper.paragraph(&format!("Scatter (standard deviation, elicited): {:.0} %.", 100.0 * material.scatter));
    paper.item("source:", &material.source);
}

fn explain_class(desk: &Desk<'_>, class: &ScrewClass, paper: &mut Paper) {
    let head = paper.tint(Tint::Strong, &format!("Screws of class {}", class.name));
    let (marked, metal) = match class.name.starts_with('A') {
        true => ("stamped on the head", "stainless"),
        false => (
            "stamped on the head: a hundredth of the tensile strength in N/mm², a dot, ten times the yield ratio",
            "steel",
        ),
    };
    paper.paragraph(&format!("{head} ({metal}), {marked}."));
    paper.paragraph(&format!(
        "Proof stress {} up to 16 mm, yield at least {}, tensile strength at least {}.",
        shown(desk, class.proof_stress(TOLD_SCREW)),
        shown(desk, class.yield_stress),
        shown(desk, class.tensile_strength)
    ));
    paper.item("source:", &class.source);
}
