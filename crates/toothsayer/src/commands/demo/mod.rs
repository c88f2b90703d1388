//! `demo`: the whole job on the example truck, then the bench pages of an invented shop.

mod shop;

use crate::args::DemoArgs;
use crate::commands::margins::{self, Shown};
use crate::commands::{plan, why};
use crate::failure::Failure;
use crate::input::Desk;
use crate::paper::{self, Paper, Tint};
use toothsayer_verdict::{Memo, Verdict};

/// The example that the program carries.
static TARNHORN: &str = include_str!("../../../../../examples/tarnhorn.toml");

/// Margins, causes and plan of the Tarnhorn 6; then its shop, until Ctrl-C.
pub fn run(desk: &Desk<'_>, args: &DemoArgs) -> Result<String, Failure> {
    let job = printed(desk)?;
    if args.no_serve || desk.global.json {
        return Ok(job);
    }
    paper::print(&job);
    shop::serve_until_ctrl_c(desk, TARNHORN)
}

fn printed(desk: &Desk<'_>) -> Result<String, Failure> {
    let job = desk.job_of("tarnhorn.toml", TARNHORN)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    if desk.global.json {
        return margins::json(desk, &verdict, &memo, &Shown::USUAL);
    }
    let mut paper = Paper::new();
    let title = paper.tint(Tint::Strong, "The Tarnhorn 6 comes to the bench of Millrace Models");
    paper.paragraph(&title);
    paper.paragraph(
        "An invented truck of an invented shop: 10.4 kg, seven cells, 19 on 53 teeth. Its teeth went after six runs; \
         with the gear cover off, the motor rocks 0.45 mm in its mount. The file is examples/tarnhorn.toml.",
    );
    paper.heading("1 Does it hold? (toothsayer margins)");
    margins::write(desk, &verdict, &memo, &Shown::USUAL, &mut paper)?;
    paper.heading("2 Why did the teeth go? (toothsayer why)");
    why::write(desk, &job, &verdict, &mut paper);
    paper.heading("3 What to do? (toothsayer plan)");
    plan::write(desk, &job, &verdict, &memo, &mut paper)?;
    paper.heading("Your truck");
    paper.paragraph("toothsayer begin --help shows how to begin with five facts.");
    Ok(paper.finish())
}
