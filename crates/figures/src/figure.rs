//! A finished figure: its text, size, title and description.

use crate::canvas::{Canvas, clean};
use crate::lettering::FACES;
use svg::Node;
use svg::node::Text;
use svg::node::element::Element;

/// A figure as SVG, complete in itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// The SVG document.
    pub svg: String,
    /// Width, px.
    pub width_px: f64,
    /// Height, px.
    pub height_px: f64,
    /// Title, as screen readers say it.
    pub title: String,
    /// What is to be seen, in words.
    pub description: String,
}

impl Figure {
    /// Wraps what was drawn; `id` stands before every id in the figure.
    pub(crate) fn of(canvas: Canvas, title: &str, description: &str) -> Figure {
        let (width_px, height_px) = (canvas.frame.width_px(), canvas.height_px().ceil());
        let mut root = Element::new("svg");
        root.assign("xmlns", "http://www.w3.org/2000/svg");
        root.assign("viewBox", format!("0 0 {width_px} {height_px}"));
        root.assign("width", width_px);
        root.assign("height", height_px);
        // What holds links is no single picture.
        root.assign("role", if canvas.frame.within.linked { "group" } else { "img" });
        root.assign("class", "bench-figure");
        root.assign("aria-labelledby", format!("{0}-title {0}-description", canvas.id));
        root.assign("font-family", FACES);
        for (name, text) in [("title", title), ("desc", description)] {
            let mut element = Element::new(name);
            let end = if name == "title" { "title" } else { "description" };
            element.assign("id", format!("{}-{end}", canvas.id));
            element.append(Text::new(clean(text)));
            root.append(element);
        }
        for element in canvas.finish(height_px) {
            root.append(element);
        }
        let (title, description) = (title.to_owned(), description.to_owned());
        Figure { svg: root.to_string(), width_px, height_px, title, description }
    }
}
