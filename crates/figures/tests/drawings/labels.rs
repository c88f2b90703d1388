//! No label lies over another one or leaves its sheet.

use crate::builds::{bay_of, changed, examples, extremes, stages};
use crate::read::check_texts;
use proptest::prelude::*;
use toothsayer_figures::{self as figures, Frame, Look};
use toothsayer_quantity::System;

/// A phone, a page of A4, a desk.
const WIDTHS: [f64; 3] = [320.0, 700.0, 1280.0];

#[test]
fn labels_of_every_example_and_extreme_build_stand_clear() {
    let texts = examples().into_iter().map(|(_, text)| text).chain(extremes().into_iter().map(|(_, text)| text));
    for text in texts {
        for stage in stages(&text) {
            for width in WIDTHS {
                check_texts(&bay_of(&stage, width).svg);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn labels_of_random_jobs_stand_clear(
        open_mm in -0.2..1.5f64,
        spacer_mm in 0.0..9.0f64,
        length_mm in 18.0..24.0f64,
        circle_mm in 14.0..60.0f64,
        name in "\\PC{1,60}",
        width in 320.0..1600.0f64,
    ) {
        let name = name.replace(['\\', '"'], "-");
        let text = changed(&[
            ("centre_distance", &format!("centre_distance = \"{} mm\"", 36.0 + open_mm)),
            ("spacer =", &format!("spacer = \"{spacer_mm} mm\"")),
            ("pinion_length", &format!("pinion_length = \"{length_mm} mm\"")),
            ("circle = \"28", &format!("circle = \"{circle_mm} mm\"")),
            ("name = \"Tarnhorn 6\"", &format!("name = \"{name} Tarnhorn\"")),
        ]);
        let frame = Frame::new(width, Look::Page, System::Us).unwrap();
        for stage in stages(&text) {
            check_texts(&bay_of(&stage, width).svg);
            check_texts(&figures::mesh_cycle(&name, &stage, &frame).unwrap().svg);
            check_texts(&figures::axial_stack(&name, &stage, &frame).unwrap().svg);
        }
    }
}
