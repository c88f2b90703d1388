//! A drawing in dots: SVG to PNG with the papers' own faces, and the machine's for letters that they lack.

use crate::failure::Failure;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};
use std::sync::Arc;
use toothsayer_figures::Figure;
use toothsayer_report::EMBEDDED;

/// Dots of a PNG for each px of the drawing: sharp on paper and on dense screens.
const DOTS: f32 = 2.0;

/// The drawing as PNG.
pub fn as_png(figure: &Figure) -> Result<Vec<u8>, Failure> {
    let mut fonts = fontdb::Database::new();
    EMBEDDED.into_iter().for_each(|face| fonts.load_font_data(face.to_vec()));
    fonts.load_system_fonts();
    fonts.set_sans_serif_family("DejaVu Sans");
    let options = Options { fontdb: Arc::new(fonts), ..Options::default() };
    let undrawn = |what: String| Failure::could(format!("the drawing cannot be made a PNG: {what}"), "write an .svg");
    let tree = Tree::from_str(&figure.svg, &options).map_err(|error| undrawn(error.to_string()))?;
    let size = tree.size().to_int_size().scale_by(DOTS).ok_or_else(|| undrawn("it is too large".into()))?;
    let mut dots = Pixmap::new(size.width(), size.height()).ok_or_else(|| undrawn("it is too large".into()))?;
    resvg::render(&tree, Transform::from_scale(DOTS, DOTS), &mut dots.as_mut());
    dots.encode_png().map_err(|error| undrawn(error.to_string()))
}
