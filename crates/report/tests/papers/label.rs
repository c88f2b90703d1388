//! The label's square code, read back by an independent reader from the printed page.

use crate::readers::{file, said};
use crate::shop::{STRIPPED, cover};
use toothsayer_report::{Cover, PaperKind};

/// Dots an inch of the page that is read: what a phone's camera sees from a hand's width.
const DOTS: &str = "150";

#[track_caller]
fn check(name: &str, number: Option<&str>, expected: &str) {
    let cover = Cover { number: number.map(str::to_owned), ..cover() };
    let path = file(&format!("label-{name}"), &STRIPPED.paper(PaperKind::Label, &cover).bytes);
    let picture = path.with_extension("");
    said("pdftoppm", &["-r", DOTS, "-gray", "-singlefile", path.to_str().unwrap(), picture.to_str().unwrap()]);
    let bytes = std::fs::read(picture.with_extension("pgm")).unwrap();
    let [width, height, from] = head(&bytes);
    let mut read = rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| bytes[from + y * width + x]);
    let grids = read.detect_grids();
    assert_eq!(grids.len(), 1, "{number:?}");
    assert_eq!(grids[0].decode().unwrap().1, expected);
}

/// Width, height and place of the first dot of a binary PGM.
fn head(bytes: &[u8]) -> [usize; 3] {
    let mut from = 0;
    let mut fields = Vec::new();
    while fields.len() < 4 {
        let end = from + bytes[from..].iter().position(u8::is_ascii_whitespace).unwrap();
        fields.push(std::str::from_utf8(&bytes[from..end]).unwrap());
        from = end + 1;
    }
    assert_eq!(fields[0], "P5");
    [fields[1].parse().unwrap(), fields[2].parse().unwrap(), from]
}

#[test]
fn a_reader_of_square_codes_reads_the_number_of_the_job() {
    check("plain", Some("1042"), "1042");
    check("scripts", Some("MM-2026/12 ß Ж"), "MM-2026/12 ß Ж");
}

#[test]
fn without_a_number_the_code_holds_the_trucks_name() {
    check("none", None, "Tarnhorn 6");
    check("blank", Some("  "), "Tarnhorn 6");
}
