//! `identify`: which gear is this?

use crate::args::IdentifyArgs;
use crate::failure::Failure;
use crate::input::{Desk, quantity};
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::words::list;
use serde_json::{Value, json};
use toothsayer_mechanics::gear::{Candidate, GearReading, SpanReading, TIP_READING_TOLERANCE, identify};
use toothsayer_quantity::{Kind, Length, System, show};

/// Candidates that are told to people.
const SHOWN: usize = 5;

/// Candidates for a reading.
pub fn run(desk: &Desk<'_>, args: &IdentifyArgs) -> Result<String, Failure> {
    let tip = Length::m(quantity("tip-diameter", Kind::Length, &args.tip_diameter)?);
    let span = args.span.as_deref().map(|text| quantity("span", Kind::Length, text)).transpose()?;
    let span = span.map(|length_m| SpanReading { teeth: None, length: Length::m(length_m) });
    let reading = GearReading { teeth: args.teeth, tip_diameter: tip, span, tolerance: TIP_READING_TOLERANCE };
    let candidates = identify(&reading)?;
    if desk.global.json {
        let rows: Vec<Value> = candidates.iter().map(as_json).collect();
        return json::text(&json!({ "candidates": rows }));
    }
    let mut paper = Paper::new();
    write(desk, args.teeth, &candidates, &mut paper);
    Ok(paper.finish())
}

fn as_json(candidate: &Candidate) -> Value {
    json!({
        "module_m": candidate.module.to_m(),
        "diametral_pitch_per_in": 25.4 / candidate.module.to_mm(),
        "error": candidate.error,
        "span_error": candidate.span_error,
        "fits": candidate.fits,
        "not_told_apart": candidate.not_told_apart,
    })
}

fn name(candidate: &Candidate) -> String {
    match candidate.diametral_pitch {
        Some(pitch) => format!("{pitch:.0} DP ({:.3} mm module)", candidate.module.to_mm()),
        None => format!("module {} mm", candidate.module.to_mm()),
    }
}

/// The pitch as `begin` takes it.
fn pitch_argument(candidate: &Candidate) -> String {
    match candidate.diametral_pitch {
        Some(pitch) => format!("\"{pitch:.0} 1/in\""),
        None => format!("\"{} mm\"", candidate.module.to_mm()),
    }
}

/// Readings within this share of a pitch are told as that pitch with its tips worn or shifted.
const NEARLY: f64 = 0.03;

fn nearest_words(candidates: &[Candidate]) -> String {
    match candidates.first().filter(|candidate| candidate.error.abs() < NEARLY) {
        Some(near) => format!(
            "nearest is {}, its tips {:.1} % off: worn, or a shifted gear",
            name(near),
            100.0 * near.error.abs()
        ),
        None => "no usual pitch fits this reading: count the teeth and measure once more".to_owned(),
    }
}

fn write(desk: &Desk<'_>, teeth: u32, candidates: &[Candidate], paper: &mut Paper) {
    let fitting: Vec<String> = candidates.iter().filter(|candidate| candidate.fits).map(name).collect();
    let told = match &fitting[..] {
        [] => nearest_words(candidates),
        [one] => format!("this is {one}; begin a job with --pitch {}", pitch_argument(&candidates[0])),
        many => format!("{} cannot be told apart by this reading: measure a span over some teeth (--span)", list(many)),
    };
    paper.paragraph(&format!("A gear of {teeth} teeth: {told}."));
    let mut table = Table::new(&["pitch", "its tip diameter>", "off by>", "fits"]);
    for candidate in candidates.iter().take(SHOWN) {
        let fits = if candidate.fits { Cell::tinted(Tint::Good, "yes") } else { Cell::plain("no") };
        let off = format!("{:+.2} %", 100.0 * candidate.error);
        let tip = show(Kind::Length, candidate.tip_diameter.to_m(), desk.system);
        table.row(vec![Cell::plain(name(candidate)), Cell::plain(tip), Cell::plain(off), fits]);
    }
    paper.blank();
    paper.table(&table);
    let tolerance = show(Kind::Length, TIP_READING_TOLERANCE.to_m(), System::Metric);
    paper.paragraph(&format!(
        "Full-depth teeth of 20 degrees without shift; a reading counts as off beyond {tolerance}."
    ));
}
