//! `figure`: one drawing of a job, as SVG or PNG.

use crate::args::{FigureArgs, FigureKind, LookName};
use crate::failure::Failure;
use crate::input::{Desk, state};
use crate::json;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};
use serde_json::json;
use std::path::Path;
use std::sync::Arc;
use toothsayer_figures::{BayScene, Figure, Frame, Look, gear_bay};
use toothsayer_job::State;
use toothsayer_verdict::{Memo, StateMargins, Verdict};

/// Dots of a PNG for each px of the drawing: sharp on paper and on dense screens.
const DOTS: f32 = 2.0;

/// A drawing of a job file.
pub fn run(desk: &Desk<'_>, args: &FigureArgs) -> Result<String, Failure> {
    let path = args.output.as_deref();
    let png = path.is_some_and(|path| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("png")));
    let look = match args.look {
        LookName::Page if png => Look::Light,
        LookName::Page => Look::Page,
        LookName::Light => Look::Light,
        LookName::Dark => Look::Dark,
        LookName::Print => Look::Print,
    };
    let frame = Frame::new(args.width, look, desk.system)
        .map_err(|error| Failure::usage(format!("--width: {error}"), "700 fill a page of A4, 360 a phone"))?;
    let figure = drawn(desk, args, &frame)?;
    let Some(path) = path else { return Ok(figure.svg + "\n") };
    let bytes = if png { as_png(&figure)? } else { figure.svg.clone().into_bytes() };
    std::fs::write(path, bytes).map_err(|error| {
        Failure::could(format!("{} cannot be written: {error}", path.display()), "check the path of --output")
    })?;
    told(desk, &figure, path)
}

fn told(desk: &Desk<'_>, figure: &Figure, path: &Path) -> Result<String, Failure> {
    if desk.global.json {
        return json::text(&json!({
            "title": figure.title,
            "description": figure.description,
            "file": path.display().to_string(),
            "width_px": figure.width_px,
            "height_px": figure.height_px,
        }));
    }
    Ok(format!("{} holds: {}.\n", path.display(), figure.title))
}

fn drawn(desk: &Desk<'_>, args: &FigureArgs, frame: &Frame) -> Result<Figure, Failure> {
    let job = desk.job(&args.of.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let margins = verdict.margins(None, &memo)?;
    match args.kind {
        FigureKind::GearBay => {
            let states = [Some(args.of.state), args.beside].into_iter().flatten().map(state);
            let scenes = states.map(|which| scene(&verdict, &margins, which)).collect::<Result<Vec<_>, Failure>>()?;
            Ok(gear_bay(&scenes, frame)?)
        }
    }
}

fn scene<'a>(verdict: &'a Verdict<'_>, margins: &'a [StateMargins], which: State) -> Result<BayScene<'a>, Failure> {
    let stage = verdict.stage(which)?;
    Ok(BayScene { stage, margins: margins.iter().find(|margins| margins.state == stage.state) })
}

/// The drawing in dots.
fn as_png(figure: &Figure) -> Result<Vec<u8>, Failure> {
    let mut fonts = fontdb::Database::new();
    fonts.load_system_fonts();
    if fonts.is_empty() {
        return Err(Failure::could("no font is installed to draw a PNG with", "install DejaVu Sans, or write an .svg"));
    }
    let family =
        fonts.faces().find_map(|face| face.families.first()).map_or_else(String::new, |(name, _)| name.clone());
    fonts.set_sans_serif_family(family);
    let options = Options { fontdb: Arc::new(fonts), ..Options::default() };
    let undrawn = |what: String| Failure::could(format!("the drawing cannot be made a PNG: {what}"), "write an .svg");
    let tree = Tree::from_str(&figure.svg, &options).map_err(|error| undrawn(error.to_string()))?;
    let size = tree.size().to_int_size().scale_by(DOTS).ok_or_else(|| undrawn("it is too large".into()))?;
    let mut dots = Pixmap::new(size.width(), size.height()).ok_or_else(|| undrawn("it is too large".into()))?;
    resvg::render(&tree, Transform::from_scale(DOTS, DOTS), &mut dots.as_mut());
    dots.encode_png().map_err(|error| undrawn(error.to_string()))
}
