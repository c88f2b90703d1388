//! Golden pictures: every kind of drawing of the first example looks as it did when somebody last looked at it.
//!
//! Letters are left out, for fonts differ between machines; that texts stand clear is held by their boxes. Where a picture
//! differs the new one is laid beside the build: look at it, and put it in place of the old one if it is right.

use crate::builds::{changed, stages};
use crate::gallery::{comeback_drawer, every_kind_of_a_state, every_kind_of_a_verdict};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};
use std::path::{Path, PathBuf};
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::{Figure, Frame, Look};
use toothsayer_job::Job;
use toothsayer_quantity::System;

/// Width of a golden picture, px.
const WIDTH: f64 = 480.0;
/// Edge of the squares whose means are compared, px: what nobody sees is smaller.
const SQUARE: u32 = 6;
/// Difference of a square's mean brightness that an eye takes for a change, of 255: about one step of a fine grey scale.
const SEEN: f64 = 12.0;
/// Share of the squares that may differ: rounding along edges on another processor.
const STRAY: f64 = 0.001;

/// The picture without its letters.
fn picture(figure: &Figure) -> Pixmap {
    let mut svg = figure.svg.clone();
    while let Some(from) = svg.find("<text") {
        let to = from + svg[from..].find("</text>").unwrap() + "</text>".len();
        svg.replace_range(from..to, "");
    }
    let tree = Tree::from_str(&svg, &Options::default()).unwrap();
    let size = tree.size().to_int_size();
    let mut dots = Pixmap::new(size.width(), size.height()).unwrap();
    resvg::render(&tree, Transform::identity(), &mut dots.as_mut());
    dots
}

/// Mean brightness of each square, row by row.
fn squares(dots: &Pixmap) -> Vec<f64> {
    let (columns, rows) = (dots.width() / SQUARE, dots.height() / SQUARE);
    let mean = |column: u32, row: u32| {
        let place = |n: u32| (column * SQUARE + n % SQUARE, row * SQUARE + n / SQUARE);
        let all = (0..SQUARE * SQUARE).map(place).map(|(x, y)| brightness(dots, x, y));
        all.sum::<f64>() / f64::from(SQUARE * SQUARE)
    };
    (0..rows).flat_map(|row| (0..columns).map(move |column| (column, row))).map(|(c, r)| mean(c, r)).collect()
}

fn brightness(dots: &Pixmap, x: u32, y: u32) -> f64 {
    let dot = dots.pixel(x, y).unwrap();
    0.2126 * f64::from(dot.red()) + 0.7152 * f64::from(dot.green()) + 0.0722 * f64::from(dot.blue())
}

fn name(figure: &Figure) -> String {
    let words: String = figure.title.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    format!("{}.png", words.to_ascii_lowercase().trim_matches('-').replace("--", "-"))
}

/// What is wrong with a picture against its golden one.
fn differs(new: &Pixmap, old: &Pixmap) -> Option<String> {
    if (old.width(), old.height()) != (new.width(), new.height()) {
        return Some(format!("{} x {} px, was {} x {}", new.width(), new.height(), old.width(), old.height()));
    }
    let (old, new) = (squares(old), squares(new));
    let seen = old.iter().zip(&new).filter(|(a, b)| (**a - **b).abs() > SEEN).count();
    let share = seen as f64 / old.len() as f64;
    (share > STRAY).then(|| format!("{:.2} % of it looks different", 100.0 * share))
}

#[test]
fn every_kind_looks_as_it_did() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/golden");
    let job = Job::parse(&changed(&[]), FaultBook::built_in()).unwrap();
    let frame = Frame::new(WIDTH, Look::Light, System::Metric).unwrap();
    let mut wrong = Vec::new();
    let found = stages(&changed(&[])).pop().unwrap();
    let mut gallery = every_kind_of_a_state(&found, &[frame]);
    gallery.extend(every_kind_of_a_verdict(&job, &[frame]).into_iter().skip(1));
    comeback_drawer(&job, |draw| gallery.push(draw(&frame)));
    for figure in &gallery {
        let (name, new) = (name(figure), picture(figure));
        let golden = Pixmap::load_png(folder.join(&name));
        let what = golden.map_or(Some("there is no golden picture".into()), |golden| differs(&new, &golden));
        if let Some(what) = what {
            let beside = Path::new(env!("CARGO_TARGET_TMPDIR")).join(&name);
            new.save_png(&beside).unwrap();
            wrong.push(format!("{name}: {what}; the new one is {}", beside.display()));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn a_picture_with_a_part_moved_looks_different() {
    let frame = Frame::new(WIDTH, Look::Light, System::Metric).unwrap();
    let [as_it_is, moved] = ["length = \"12 mm\"", "length = \"11 mm\""].map(|length| {
        let stage = &stages(&changed(&[("length = \"12 mm\"", length)]))[0];
        let gallery = every_kind_of_a_state(stage, &[frame]);
        picture(gallery.iter().find(|figure| figure.title.starts_with("Which screw")).unwrap())
    });
    assert_eq!(differs(&as_it_is, &as_it_is), None);
    assert!(differs(&moved, &as_it_is).unwrap().ends_with("looks different"));
}
