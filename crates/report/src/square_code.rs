//! Square codes (QR code, ISO/IEC 18004): a text as dark and light modules, and as a drawing for a page.

use crate::Error;
use fast_qr::{ECL, QRBuilder};

/// Light modules around a code, so that readers find it (ISO/IEC 18004, 6.3.8).
const QUIET: usize = 4;

/// The modules, row by row; dark is true.
pub(crate) fn modules(text: &str) -> Result<Vec<Vec<bool>>, Error> {
    let made = QRBuilder::new(text).ecl(ECL::M).build();
    let made = made.map_err(|_| Error::CodeTooLong { letters: text.chars().count() })?;
    Ok((0..made.size).map(|row| (0..made.size).map(|column| made[row][column].value()).collect()).collect())
}

/// A text to be read by a camera.
#[derive(Clone, Copy, Debug)]
pub struct SquareCode<'a> {
    /// What is read.
    pub text: &'a str,
    /// What it is, for whoever cannot see it.
    pub told: &'a str,
}

impl SquareCode<'_> {
    /// The code as SVG, dark on light in every theme, for readers need the contrast.
    ///
    /// # Errors
    /// The text is longer than a code holds.
    pub fn svg(&self) -> Result<String, Error> {
        let modules = modules(self.text)?;
        let side = modules.len() + 2 * QUIET;
        let dark = modules.iter().enumerate().flat_map(|(row, modules)| {
            modules.iter().enumerate().filter(|(_, dark)| **dark).map(move |(column, _)| (column + QUIET, row + QUIET))
        });
        let path: String = dark.map(|(x, y)| format!("M{x} {y}h1v1h-1z")).collect();
        let title = crate::page::escaped(self.told);
        Ok(format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" role=\"img\" \
             shape-rendering=\"crispEdges\">\n<title>{title}</title>\n\
             <path fill=\"#ffffff\" d=\"M0 0h{side}v{side}h-{side}z\"/>\n<path fill=\"#000000\" d=\"{path}\"/>\n</svg>"
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pixels a module: enough for the reader to find its corners.
    const SCALE: usize = 4;

    #[track_caller]
    fn check(text: &str) {
        let svg = SquareCode { text, told: "the link" }.svg().unwrap();
        let side: usize = svg.split("viewBox=\"0 0 ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
        let mut dark = vec![vec![false; side]; side];
        for module in svg.split("fill=\"#000000\" d=\"").nth(1).unwrap().split('M').skip(1) {
            let (x, y) = module.split('h').next().unwrap().split_once(' ').unwrap();
            dark[y.parse::<usize>().unwrap()][x.parse::<usize>().unwrap()] = true;
        }
        // Read by a reader that shares nothing with the maker.
        let mut image = rqrr::PreparedImage::prepare_from_greyscale(side * SCALE, side * SCALE, |x, y| {
            if dark[y / SCALE][x / SCALE] { 0 } else { 255 }
        });
        assert_eq!(image.detect_grids()[0].decode().unwrap().1, text);
    }

    #[test]
    fn another_reader_reads_what_was_written() {
        check("https://bench.example:7878/link/0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef");
        check("12");
    }

    #[test]
    fn what_no_code_holds_is_refused() {
        let error = SquareCode { text: &"x".repeat(5000), told: "too long" }.svg().unwrap_err();
        assert_eq!(error, Error::CodeTooLong { letters: 5000 });
    }
}
