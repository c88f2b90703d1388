//! A drawing in dots: SVG to PNG with the fonts that the machine has.

use crate::failure::Failure;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};
use std::sync::Arc;
use toothsayer_figures::Figure;

/// Dots of a PNG for each px of the drawing: sharp on paper and on dense screens.
const DOTS: f32 = 2.0;

/// The drawing as PNG.
pub fn as_png(figure: &Figure) -> Result<Vec<u8>, Failure> {
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
