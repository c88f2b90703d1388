//! Nothing breaks the layout: long names, other scripts, long notes, trucks at the ends of what is drawn.

use crate::readers::{Word, file, said, text, words};
use crate::shop::{STRIPPED, Weighed, cover, example};
use toothsayer_quantity::System;
use toothsayer_report::{Cover, Error, PaperKind, PaperSize, write_paper};

/// The margin of a sheet and of a label, pt, less what a letter reaches over its advance.
const MARGIN_PT: f64 = 18.0 / 25.4 * 72.0 - 1.0;
const LABEL_MARGIN_PT: f64 = 4.0 / 25.4 * 72.0 - 1.0;
/// The line at the foot stands this far into the lower margin, pt.
const FOOT_PT: f64 = 26.0;
/// Boxes of words hold room above and below their letters: so much of each side may lie over another's.
const BOX_SHARE: f64 = 0.25;

#[track_caller]
fn check_layout(name: &str, kind: PaperKind, pdf: &[u8]) {
    let ([width, height], words) = words(name, pdf);
    let margin = if kind == PaperKind::Label { LABEL_MARGIN_PT } else { MARGIN_PT };
    let foot = if kind == PaperKind::Label { 0.0 } else { FOOT_PT };
    for word in &words {
        let inside = word.left >= margin
            && word.top >= margin
            && word.right <= width - margin
            && word.bottom <= height - margin + foot;
        assert!(inside, "{name}: {word:?} lies outside {width} x {height} less {margin}");
    }
    for (place, one) in words.iter().enumerate() {
        let other = words[place + 1..].iter().find(|other| overlap(one, other));
        assert!(other.is_none(), "{name}: {one:?} lies over {other:?}");
    }
}

/// Whether the middles of two words' boxes share room.
fn overlap(one: &Word, other: &Word) -> bool {
    let shrunk = |word: &Word| {
        let [wide, high] = [word.right - word.left, word.bottom - word.top].map(|side| BOX_SHARE * side.min(20.0));
        [word.left + wide, word.top + high, word.right - wide, word.bottom - high]
    };
    let ([left, top, right, bottom], [l, t, r, b]) = (shrunk(one), shrunk(other));
    one.page == other.page && left < r && l < right && top < b && t < bottom
}

#[test]
fn every_word_lies_within_the_margins_and_over_no_other() {
    for kind in PaperKind::ALL {
        check_layout(&format!("layout-{}", kind.name()), kind, &STRIPPED.paper(kind, &cover()).bytes);
    }
}

#[test]
fn long_names_and_thirty_lines_of_notes_stay_in_the_column() {
    let long = "Bartholomew-Featherstonehaugh of Upper Millrace-on-the-Weir and Sons ".repeat(4);
    let unbroken = "x".repeat(400);
    let notes: Vec<String> =
        (1..=30).map(|line| format!("Note {line}: {}", "the belt squeals in wet grass ".repeat(3))).collect();
    let cover = Cover { shop: Some(long.clone()), customer: Some(unbroken), notes: Some(notes.join("\n")), ..cover() };
    for kind in PaperKind::ALL {
        let name = format!("long-{}", kind.name());
        let pdf = STRIPPED.paper(kind, &cover).bytes;
        check_layout(&name, kind, &pdf);
        if kind != PaperKind::Label {
            let text = text(&name, &pdf);
            assert!(text.contains("Note 1:") && text.contains("Note 30:"), "{name}: {text}");
        }
    }
}

#[test]
fn latin_greek_and_cyrillic_are_printed_as_they_are() {
    let named = |customer: &str| Cover { customer: Some(customer.into()), ..cover() };
    for customer in ["Žofie Růžičková-Ångström", "Ελένη Παπαδοπούλου", "Людмила Щербакова"]
    {
        let written = STRIPPED.paper(PaperKind::HandOver, &named(customer));
        assert!(written.missing.is_empty(), "{customer}: {:?}", written.missing);
        assert!(text("scripts", &written.bytes).contains(customer), "{customer}");
    }
}

#[test]
fn letters_that_no_font_has_are_told() {
    let written = STRIPPED.paper(PaperKind::HandOver, &Cover { customer: Some("山田太郎".into()), ..cover() });
    assert_eq!(written.missing, ['山', '田', '太', '郎']);
    let text = text("missing", &written.bytes);
    assert!(text.contains("for □□□□") && text.contains("U+5C71, U+7530, U+592A, U+90CE"), "{text}");
    let path = file("missing", &written.bytes);
    assert!(said("qpdf", &["--check", path.to_str().unwrap()]).contains("No syntax"));
}

#[test]
fn a_truck_whose_name_no_font_has_is_drawn_all_the_same() {
    let job = Weighed::new(&example("tarnhorn.toml").replace("\"Tarnhorn 6\"", "\"狐 & <b>Ω\\\"\""));
    for kind in PaperKind::ALL {
        let written = job.paper(kind, &cover());
        assert_eq!(written.missing, ['狐'], "{}", kind.name());
        assert!(text("name", &written.bytes).contains("□ & <b>Ω\""), "{}", kind.name());
    }
    assert!(job.page(&cover()).contains("<h1>狐 &amp; &lt;b&gt;Ω&quot;</h1>"));
}

#[test]
fn trucks_at_the_ends_of_what_is_drawn_stay_in_the_column() {
    let truck = |from: &str, to: &str| {
        let text = example("tarnhorn.toml");
        assert!(text.contains(from), "{from}");
        Weighed::new(&text.replace(from, to))
    };
    for (name, job) in [
        ("opened", truck("centre_distance = \"36.05 mm\"", "centre_distance = \"37.5 mm\"")),
        ("no-spacer", truck("spacer = \"4.0 mm\"", "spacer = \"0 mm\"")),
        ("negative-gap", truck("spacer = \"4.0 mm\"", "spacer = \"5.1 mm\"")),
    ] {
        for kind in [PaperKind::HandOver, PaperKind::WarrantyPack] {
            check_layout(&format!("{name}-{}", kind.name()), kind, &job.paper(kind, &cover()).bytes);
        }
    }
}

#[test]
fn what_is_no_font_is_refused() {
    let cover = cover();
    let matter = STRIPPED.matter(&cover, System::Metric, PaperSize::A4);
    let error = write_paper(PaperKind::Label, &matter, Some(b"no font")).unwrap_err();
    assert_eq!(error, Error::Font { name: "the further font".into() });
}
