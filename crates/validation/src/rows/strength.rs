//! Tooth strength: Lewis, ISO 6336 form and stress factors, zone and elasticity factors, stiffness, load across the face.

use super::geometry::spec;
use crate::check::{Check, Printed, Status};
use toothsayer_mechanics::Error;
use toothsayer_mechanics::gear::{
    DynamicLoad, FaceLoad, LewisLoad, Member, MeshFlank, MeshStiffness, Pair, PairSpec, Rack, ToothFinish, ToothRoot,
    centre_distance_for_contact_ratio, dynamic_factor, elasticity_factor, face_factors, lewis_form_factor,
    lewis_stress, mesh_stiffness, tooth_root, velocity_factor, zone_factor,
};
use toothsayer_mechanics::material::{Elastic, ElasticPair};
use toothsayer_quantity::{Force, Length, Pressure, Speed};

const SUBJECT: &str = "Tooth strength";

pub(super) fn rows() -> Vec<Check> {
    [
        lewis(),
        velocity(),
        shigley_lewis(),
        tip_loaded(),
        single_contact(),
        sharper(),
        zone(),
        stiffness(),
        face(),
        dynamic(),
    ]
    .concat()
}

fn lewis() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "Shigley, table 14-2, Lewis form factor, 20° full depth",
        status: Status::Memory,
        unit: "",
        tolerance: 1e-12,
        because: "the table is read, not fitted",
    };
    let printed = [
        (12, 0.245),
        (13, 0.261),
        (14, 0.277),
        (15, 0.290),
        (16, 0.296),
        (17, 0.303),
        (18, 0.309),
        (19, 0.314),
        (20, 0.322),
        (21, 0.328),
        (22, 0.331),
        (24, 0.337),
        (26, 0.346),
        (28, 0.353),
        (30, 0.359),
        (34, 0.371),
        (38, 0.384),
        (43, 0.397),
        (50, 0.409),
        (60, 0.422),
        (75, 0.435),
        (100, 0.447),
        (150, 0.460),
        (300, 0.472),
    ];
    printed.iter().map(|(z, y)| table.row(format!("{z} teeth"), *y, lewis_form_factor(*z))).collect()
}

fn velocity() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "Shigley, equations 14-4 and 14-6 at 600 ft/min (3.048 m/s): 1200 and 600 ft/min hobbed and cut",
        status: Status::Printed,
        unit: "",
        tolerance: 0.01,
        because: "metric and US constants are each rounded",
    };
    let at = |finish| velocity_factor(finish, Speed::m_per_s(3.048));
    vec![
        table.row("cast teeth, (600 + V)/600", 2.0, at(ToothFinish::Cast)),
        table.row("cut teeth, (1200 + V)/1200", 1.5, at(ToothFinish::Cut)),
        table.row("hobbed teeth, (50 + √V)/50", (50.0 + 600f64.sqrt()) / 50.0, at(ToothFinish::Hobbed)),
        table.row("shaved teeth, √((78 + √V)/78)", ((78.0 + 600f64.sqrt()) / 78.0).sqrt(), at(ToothFinish::Ground)),
    ]
}

fn shigley_lewis() -> Vec<Check> {
    let book = Printed {
        subject: SUBJECT,
        source: "Shigley, example 14-1 (16 teeth, 8 per inch, face 1.5 in, 628 ft/min, 10 kpsi allowed)",
        status: Status::Memory,
        unit: "lbf",
        tolerance: 1.0,
        because: "the book rounds Kv to 1.52",
    };
    let speed = Speed::m_per_s(628.3 * 0.3048 / 60.0);
    let kv = velocity_factor(ToothFinish::Cut, speed);
    let wt_lbf = || -> Result<f64, Error> {
        let load = LewisLoad {
            teeth: 16,
            module: Length::inch(0.125),
            face_width: Length::inch(1.5),
            tangential_force: Force::n(1000.0),
            velocity_factor: 1.0,
        };
        let kpsi_per_kn = lewis_stress(&load)?.to_mpa() / 6.894_757;
        let kv = velocity_factor(ToothFinish::Cut, speed)?;
        Ok(10.0 / kv / kpsi_per_kn * 1000.0 / 4.448_221_6)
    };
    vec![book.with("", 0.006).row("velocity factor", 1.52, kv), book.row("tooth load", 365.0, wt_lbf())]
}

fn root(spec: &PairSpec, member: Member) -> Result<ToothRoot, Error> {
    tooth_root(&Pair::new(*spec)?, member)
}

/// The root of a tooth loaded at its tip: the mesh is open to a contact ratio below one.
fn root_at_tip(teeth: u32) -> Result<ToothRoot, Error> {
    let spec = spec([teeth, 52], 20.0);
    let centre_distance = centre_distance_for_contact_ratio(&spec, 0.9)?.unwrap_or(spec.centre_distance);
    tooth_root(&Pair::measured(PairSpec { centre_distance, ..spec })?, Member::Pinion)
}

fn tip_loaded() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "textbook table YFa, YSa after GB/T 3480 (= ISO 6336), load at the tip, radius 0.38 m",
        status: Status::Printed,
        unit: "",
        tolerance: 0.02,
        because: "print and formula differ by up to 0.015",
    };
    let printed = [
        (17, 2.97, 1.52),
        (18, 2.91, 1.53),
        (20, 2.80, 1.55),
        (25, 2.62, 1.59),
        (30, 2.52, 1.625),
        (40, 2.40, 1.67),
        (50, 2.32, 1.70),
        (60, 2.28, 1.73),
        (80, 2.22, 1.77),
        (100, 2.18, 1.79),
        (150, 2.14, 1.83),
        (200, 2.12, 1.865),
    ];
    let row = |(z, form, stress): &(u32, f64, f64)| {
        [
            table.row(format!("YF, {z} teeth"), *form, root_at_tip(*z).map(|root| root.form_factor)),
            table.row(format!("YS, {z} teeth"), *stress, root_at_tip(*z).map(|root| root.stress_factor)),
        ]
    };
    printed.iter().flat_map(row).collect()
}

fn single_contact() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 6336-3 method B at the outer point of single contact, 17/52 teeth, module 1 mm",
        status: Status::Calculated,
        unit: "",
        tolerance: 0.5e-5,
        because: "half of the last digit",
    };
    let of = |member, read: fn(&ToothRoot) -> f64| root(&spec([17, 52], 20.0), member).map(|root| read(&root));
    let (pinion, gear) = (Member::Pinion, Member::Spur);
    vec![
        table.with("mm", 0.5e-5).row("pinion, root chord", 1.88402, of(pinion, |root| root.root_chord.to_mm())),
        table.with("mm", 0.5e-5).row("pinion, lever", 0.98213, of(pinion, |root| root.bending_lever.to_mm())),
        table.with("mm", 0.5e-5).row("pinion, fillet radius", 0.58110, of(pinion, |root| root.fillet_radius.to_mm())),
        table.with("deg", 0.5e-4).row("pinion, load angle", 17.2322, of(pinion, |root| root.load_angle.to_deg())),
        table.row("pinion, YF", 1.68741, of(pinion, |root| root.form_factor)),
        table.row("pinion, YS", 1.77122, of(pinion, |root| root.stress_factor)),
        table.with("mm", 0.5e-5).row("gear, root chord", 2.17718, of(gear, |root| root.root_chord.to_mm())),
        table.with("mm", 0.5e-5).row("gear, lever", 1.06293, of(gear, |root| root.bending_lever.to_mm())),
        table.with("mm", 0.5e-5).row("gear, fillet radius", 0.51103, of(gear, |root| root.fillet_radius.to_mm())),
        table.row("gear, YF", 1.34590, of(gear, |root| root.form_factor)),
        table.row("gear, YS", 2.02764, of(gear, |root| root.stress_factor)),
    ]
}

fn sharper() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 6336-3 method B with a tool radius of 0.25 m, 17/52 teeth",
        status: Status::Calculated,
        unit: "",
        tolerance: 0.5e-4,
        because: "half of the last digit",
    };
    let sharp = PairSpec { rack: Rack { root_radius: 0.25, ..Rack::ISO_53_A }, ..spec([17, 52], 20.0) };
    vec![
        table.row("pinion, YF", 1.7895, root(&sharp, Member::Pinion).map(|root| root.form_factor)),
        table.row("pinion, YS", 1.8392, root(&sharp, Member::Pinion).map(|root| root.stress_factor)),
        table.row("gear, YF", 1.3946, root(&sharp, Member::Spur).map(|root| root.form_factor)),
        table.row("gear, YS", 2.1793, root(&sharp, Member::Spur).map(|root| root.stress_factor)),
    ]
}

fn elastic(gpa: [f64; 2]) -> ElasticPair {
    let [pinion, spur] = gpa.map(|gpa| Elastic { modulus: Pressure::gpa(gpa), poisson: 0.3 });
    ElasticPair { pinion, spur }
}

fn zone() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 6336-2, zone factor of 20° spur gears and elasticity factors",
        status: Status::Memory,
        unit: "√MPa",
        tolerance: 0.05,
        because: "half of the last printed digit",
    };
    let ze = |gpa| elasticity_factor(&elastic(gpa)).map(|factor| factor / 1e3);
    let zh = Pair::new(spec([17, 52], 20.0)).map(|pair| zone_factor(&pair));
    vec![
        table.with("", 0.5e-2).row("ZH without shift", 2.495, zh),
        table.row("ZE steel on steel", 189.8, ze([206.0, 206.0])),
        table.row("ZE steel on nodular iron", 181.4, ze([206.0, 173.0])),
        table.row("ZE steel on grey iron", 162.0, ze([206.0, 118.0])),
        table.row("ZE grey iron on grey iron", 143.7, ze([118.0, 118.0])),
    ]
}

fn stiffness() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 6336-1, mesh stiffness of 17/52 steel teeth, formula from memory",
        status: Status::Calculated,
        unit: "N/(mm µm)",
        tolerance: 0.5e-2,
        because: "half of the last digit",
    };
    let of = |read: fn(&MeshStiffness) -> f64| {
        let stiffness = mesh_stiffness(&Pair::new(spec([17, 52], 20.0))?, &ElasticPair::STEEL)?;
        Ok::<f64, Error>(read(&stiffness))
    };
    vec![
        table.row("c'", 12.717, of(|stiffness| stiffness.single_n_per_mm_um)),
        table.row("cγα", 18.80, of(|stiffness| stiffness.c_gamma_alpha_n_per_mm_um)),
        table.row("cγβ", 15.98, of(|stiffness| stiffness.c_gamma_beta_n_per_mm_um)),
    ]
}

fn face() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 6336-1 method C, KHβ at a stiffness of 20 N/(mm µm)",
        status: Status::Calculated,
        unit: "",
        tolerance: 1e-9,
        because: "rounding",
    };
    let quick = MeshStiffness {
        single_n_per_mm_um: 14.0,
        c_gamma_alpha_n_per_mm_um: 20.0 / 0.85,
        c_gamma_beta_n_per_mm_um: 20.0,
        in_validity: true,
    };
    let flank = MeshFlank { surface_hardened: false, sigma_h_lim: Pressure::mpa(800.0) };
    let at = |steady_um: f64, line_n_per_mm: f64| {
        let load = FaceLoad {
            tangential_force: Force::n(10.0 * line_n_per_mm),
            face_width: Length::mm(10.0),
            steady_misalignment: Length::um(steady_um),
            rocking_misalignment: Length::ZERO,
            pinion: flank,
            spur: flank,
            run_in: false,
            pitch_line_speed: Speed::m_per_s(3.0),
        };
        face_factors(&Pair::new(spec([17, 52], 20.0))?, &quick, &load).map(|factors| factors.k_h_beta)
    };
    vec![
        table.row("10 µm at 200 N/mm", 1.5, at(10.0, 200.0)),
        table.row("20 µm at 100 N/mm", 8f64.sqrt(), at(20.0, 100.0)),
        table.row("20 µm at 200 N/mm, where both branches meet", 2.0, at(20.0, 200.0)),
    ]
}

fn dynamic() -> Vec<Check> {
    let table = Printed {
        subject: SUBJECT,
        source: "ISO 6336-1 method C, Kv = 1 + (K1/(Ft/b) + 0.0193) K3 (v z1/100) √(u²/(1+u²)), spur",
        status: Status::Memory,
        unit: "",
        tolerance: 1e-3,
        because: "half of the last digit",
    };
    // 20/40 teeth, 1 m/s, 200 N/mm: v z1/100 √(u²/(1+u²)) = 0.1789, so K3 = 2.0.
    let at = |accuracy_grade: u8, k1: f64| {
        let expected = 1.0 + (k1 / 200.0 + 0.0193) * 2.0 * 0.2 * (4.0f64 / 5.0).sqrt();
        let load = DynamicLoad {
            tangential_force: Force::n(2000.0),
            face_width: Length::mm(10.0),
            application_factor: 1.0,
            pitch_line_speed: Speed::m_per_s(1.0),
            accuracy_grade,
        };
        let got = Pair::new(spec([20, 40], 20.0)).and_then(|pair| dynamic_factor(&pair, &load)).map(|kv| kv.k_v);
        table.row(format!("grade {accuracy_grade}, K1 {k1}"), expected, got)
    };
    vec![at(6, 14.9), at(7, 26.8), at(8, 39.1), at(9, 52.8), at(10, 76.6)]
}
