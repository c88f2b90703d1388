//! The gear bay as the way to its checks: each part of the drawing is a link to what is asked of it.

use crate::page::html::{Html, tag};
use crate::page::trouble::Trouble;
use toothsayer_figures::{BayScene, Error, Figure, Frame, Look, Within, gear_bay, part_names};
use toothsayer_quantity::System;

/// Widths of the drawing, px, for a desk and for a phone, each with the name that the style sheet shows it by.
const WIDTHS: [(&str, f64); 2] = [("wide", 984.0), ("narrow", 372.0)];

/// The drawing in both widths, with its parts.
pub(crate) struct Drawn {
    /// For the page.
    pub html: Html,
    /// The parts' names in bench order.
    pub parts: Vec<String>,
}

/// The address of a part's checks within its page: where the drawing's links lead.
pub(crate) fn anchor(number: usize) -> String {
    format!("part-{number}")
}

/// A drawing in both widths, told in words behind a fold.
pub(crate) fn in_both_widths(system: System, draw: impl Fn(&Frame) -> Result<Figure, Error>) -> Result<Html, Trouble> {
    let (mut shown, mut described) = (Vec::new(), String::new());
    for (variant, width_px) in WIDTHS {
        let within = Within { variant, styled: true, linked: false };
        let figure = draw(&Frame::new(width_px, Look::Page, system)?.within(within))?;
        shown.push(tag("figure").class(variant).hold(Html::written(figure.svg)).into());
        described = figure.description;
    }
    Ok(Html::of([Html::of(shown), in_words(&described)]))
}

fn in_words(described: &str) -> Html {
    tag("details").hold(tag("summary").say("This drawing in words")).hold(tag("p").say(described)).into()
}

/// Both widths, linked.
pub(crate) fn drawn(scene: &BayScene<'_>, system: System) -> Result<Drawn, Trouble> {
    let (mut shown, mut parts, mut described) = (Vec::new(), Vec::new(), String::new());
    for (variant, width_px) in WIDTHS {
        let within = Within { variant, styled: true, linked: true };
        let frame = Frame::new(width_px, Look::Page, system)?.within(within);
        let figure = gear_bay(&[*scene], &frame)?;
        shown.push(tag("figure").class(variant).hold(Html::written(figure.svg)).into());
        (parts, described) = (part_names(scene, &frame)?, figure.description);
    }
    Ok(Drawn { html: Html::of([Html::of(shown), in_words(&described)]), parts })
}
