//! Readers of PDF that others wrote, asked by command: poppler-utils and qpdf.

use std::path::PathBuf;
use std::process::{Command, Output};

/// A paper in a file of its own.
pub fn file(name: &str, pdf: &[u8]) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.pdf"));
    std::fs::write(&path, pdf).unwrap();
    path
}

fn run(program: &str, args: &[&str]) -> Output {
    let output = Command::new(program).args(args).output();
    output.unwrap_or_else(|error| panic!("{program}: {error}; install poppler-utils and qpdf"))
}

/// What a reader says of a paper; it may not warn.
#[track_caller]
pub fn said(program: &str, args: &[&str]) -> String {
    let output = run(program, args);
    let warnings = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success() && warnings.is_empty(), "{program} {args:?}: {warnings}");
    String::from_utf8(output.stdout).unwrap()
}

/// The text of a paper, its lines joined.
#[track_caller]
pub fn text(name: &str, pdf: &[u8]) -> String {
    let path = file(name, pdf);
    said("pdftotext", &[path.to_str().unwrap(), "-"]).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A word with its box on its page, pt from the upper left corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Word {
    pub page: usize,
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
    pub text: String,
}

/// Every word of a paper, and the size of its pages.
#[track_caller]
pub fn words(name: &str, pdf: &[u8]) -> ([f64; 2], Vec<Word>) {
    let path = file(name, pdf);
    let listing = said("pdftotext", &["-bbox", path.to_str().unwrap(), "-"]);
    let mut words = Vec::new();
    let (mut page, mut size) = (0, [0.0; 2]);
    for line in listing.lines().map(str::trim) {
        let value = |name: &str| -> f64 {
            let from = line.split_once(&format!("{name}=\"")).unwrap().1;
            from.split('"').next().unwrap().parse().unwrap()
        };
        if line.starts_with("<page ") {
            page += 1;
            size = [value("width"), value("height")];
        } else if line.starts_with("<word ") {
            let inner = line.split_once('>').unwrap().1;
            let text = inner.strip_suffix("</word>").unwrap_or(inner).to_owned();
            let [left, top, right, bottom] = ["xMin", "yMin", "xMax", "yMax"].map(value);
            words.push(Word { page, left, top, right, bottom, text });
        }
    }
    assert!(words.len() > 5, "{name}: {} words", words.len());
    (size, words)
}
