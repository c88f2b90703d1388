//! Every paper opens in two independent readers, is tagged, embeds its fonts, and is the same every time.

use crate::readers::{file, said, text};
use crate::shop::{CHANGED, CHECKED, STRIPPED, Weighed, cover, example};
use toothsayer_quantity::System;
use toothsayer_report::{Cover, Matter, PaperKind, PaperSize, Photo, Standing, customer_parts, write_paper};

/// The largest hand-over that may be sent, bytes.
const MOST_BYTES: usize = 400_000;

fn jobs() -> [(&'static str, &'static Weighed); 3] {
    [("stripped", &STRIPPED), ("checked", &CHECKED), ("changed", &CHANGED)]
}

#[test]
fn two_readers_open_every_paper_without_a_warning() {
    for (name, job) in jobs() {
        for kind in PaperKind::ALL {
            let written = job.paper(kind, &cover());
            let path = file(&format!("{name}-{}", kind.name()), &written.bytes);
            let path = path.to_str().unwrap();
            assert!(said("qpdf", &["--check", path]).contains("No syntax or stream encoding errors found"));
            let told = said("pdfinfo", &[path]);
            assert!(told.contains("Tagged:          yes"), "{path}: {told}");
            assert!(told.contains(&format!("Title:           {}", written.title)), "{path}: {told}");
            assert!(written.bytes.len() < MOST_BYTES, "{path}: {} bytes", written.bytes.len());
        }
    }
}

#[test]
fn every_font_is_embedded_with_the_letters_that_are_used() {
    for kind in PaperKind::ALL {
        let path = file(&format!("fonts-{}", kind.name()), &STRIPPED.paper(kind, &cover()).bytes);
        let listing = said("pdffonts", &[path.to_str().unwrap()]);
        let fonts: Vec<&str> = listing.lines().skip(2).collect();
        assert!(!fonts.is_empty());
        for font in fonts {
            // Columns: name, type, encoding, embedded, subset, unicode.
            let columns: Vec<&str> = font.split_whitespace().rev().skip(2).take(3).collect();
            assert_eq!(columns, ["yes", "yes", "yes"], "{font}");
        }
    }
}

#[test]
fn screen_readers_are_led_through_headings_lists_tables_and_pictures() {
    let path = file("tags", &STRIPPED.paper(PaperKind::HandOver, &cover()).bytes);
    let tree = said("pdfinfo", &["-struct", path.to_str().unwrap()]);
    for tag in ["H1", "H2", "P", "L (block)", "LI", "Lbl", "LBody", "Table", "TR", "TH", "TD", "Figure"] {
        assert!(tree.lines().any(|line| line.trim_start().starts_with(tag)), "{tag}: {tree}");
    }
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    for kind in PaperKind::ALL {
        let [one, other] = [(); 2].map(|()| STRIPPED.paper(kind, &cover()).bytes);
        assert!(one == other, "{}", kind.name());
    }
}

#[track_caller]
fn check(kind: PaperKind, job: &Weighed, sentences: &[&str]) {
    let name = format!("says-{}-{}", kind.name(), sentences[0].len());
    let text = text(&name, &job.paper(kind, &cover()).bytes);
    for sentence in sentences {
        assert!(text.contains(sentence), "\"{sentence}\" is not in {text}");
    }
}

#[test]
fn each_paper_says_what_it_is_for() {
    check(
        PaperKind::HandOver,
        &STRIPPED,
        &[
            "Tarnhorn 6: hand-over",
            "Millrace Models · for A. Fernhill · job 1042 · 2026-12-01",
            "What happened",
            "Can the motor be rocked in its mount? Yes, measured 0.45 mm.",
            "What was done",
            "What to do next",
            "Cautions Take the battery out",
            "page 1 of 2",
            "page 2 of 2",
        ],
    );
    check(
        PaperKind::Quote,
        &STRIPPED,
        &["New gears only 94.65 EUR", "Smallest sound, recommended", "Your choice", "signature"],
    );
    check(
        PaperKind::BenchSheet,
        &STRIPPED,
        &["Before and while you work", "motor to mount: 2.04 to 3.86 N·m, no tighter", "Which screw goes where"],
    );
    check(
        PaperKind::Appendix,
        &STRIPPED,
        &["ISO 6336-3", "formula:", "What was assumed", "The sums of the repairs", "gears.spur.hardness = 300 HV"],
    );
    check(PaperKind::Label, &STRIPPED, &["1042", "Tarnhorn 6", "Battery out before fingers go near gears."]);
    check(
        PaperKind::WarrantyPack,
        &CHANGED,
        &["Steps are named, not persons.", "What was fitted or set since it was sold", "Margins as sold"],
    );
}

/// What the customer reads, without the page around it.
fn page(matter: &Matter<'_>) -> String {
    let parts = customer_parts(matter).unwrap();
    parts.happened + &parts.work + &parts.details
}

#[test]
fn a_hand_over_tells_the_work_as_far_as_it_is() {
    for (standing, says, never) in [
        (Standing::Done, "What was done", "is proposed"),
        (Standing::Proposed, "What is proposed The work that we recommend. Time:", "What was done"),
        (Standing::LookedAt, "What was proposed Nothing was agreed on: the truck is as it came.", "Runs are counted"),
        (Standing::Declined, "What was proposed It was not wanted: the truck is as it came.", "Runs are counted"),
    ] {
        let cover = Cover { standing, ..cover() };
        let paper = text(&format!("as-far-{standing:?}"), &STRIPPED.paper(PaperKind::HandOver, &cover).bytes);
        let page = page(&STRIPPED.matter(&cover, System::Metric, PaperSize::A4));
        assert!(paper.contains(says) && !paper.contains(never), "{standing:?}: {paper}");
        let title =
            says.split(" It ").next().unwrap().split(" The ").next().unwrap().split(" Nothing ").next().unwrap();
        assert!(page.contains(title) && !page.contains(never), "{standing:?} on the page");
    }
}

#[test]
fn what_did_not_strip_is_checked_and_not_repaired() {
    check(PaperKind::Quote, &CHECKED, &["Check only", "53 min", "nothing Sturdiest"]);
    check(
        PaperKind::HandOver,
        &CHECKED,
        &["The truck runs and is looked over.", "The recommended work, as it was planned."],
    );
}

#[test]
fn nobody_is_blamed_in_the_warranty_pack() {
    for (name, job) in jobs() {
        let text = text(&format!("blame-{name}"), &job.paper(PaperKind::WarrantyPack, &cover()).bytes).to_lowercase();
        for word in ["fault of", "guilt", "blame", "abuse", "careless", "misuse", "negligen"] {
            assert!(!text.contains(word), "{name} says \"{word}\"");
        }
    }
}

#[test]
fn a_hand_over_has_two_pages_where_the_notes_leave_them() {
    let pages = |name: &str, job: &Weighed, cover: &Cover| {
        let path = file(&format!("two-{name}"), &job.paper(PaperKind::HandOver, cover).bytes);
        let told = said("pdfinfo", &[path.to_str().unwrap()]);
        told.lines().find_map(|line| line.strip_prefix("Pages:")).unwrap().trim().to_owned()
    };
    for (name, job) in jobs() {
        assert_eq!(pages(name, job, &cover()), "2", "{name}");
    }
    // A few lines make the drawing smaller; many take a page of their own.
    let notes = |lines: usize| Cover { notes: Some("Sold with new tyres.\n".repeat(lines)), ..cover() };
    assert_eq!(pages("few", &CHANGED, &notes(3)), "2");
    assert_eq!(pages("many", &CHANGED, &notes(40)), "3");
}

#[test]
fn no_page_of_a_warranty_pack_stays_half_empty_for_a_drawing() {
    let looked_at =
        ["mount-rocks", "set-screw-turns", "pinion-wanders", "shaft-swings", "fragments-seen", "shaft-scored"]
            .into_iter()
            .chain(["flanks-blue", "teeth-thin", "bruises-seen", "metal-dust", "tips-sheared", "mesh-rattles"]);
    let more: String =
        looked_at.map(|check| format!("\n[[findings]]\ncheck = \"{check}\"\nanswer = \"no\"\n")).collect();
    let job = Weighed::new(&(example("tarnhorn.toml") + &more));
    let path = file("half-empty", &job.paper(PaperKind::WarrantyPack, &cover()).bytes);
    let first = said("pdftotext", &["-l", "1", path.to_str().unwrap(), "-"]);
    assert!(first.contains("Where it falls short"), "what follows the drawing stands on its page: {first}");
}

#[test]
fn letter_and_us_units_go_through_every_paper() {
    let cover = cover();
    let matter = STRIPPED.matter(&cover, System::Us, PaperSize::Letter);
    for kind in PaperKind::ALL {
        let name = format!("us-{}", kind.name());
        let written = write_paper(kind, &matter, None).unwrap();
        let text = text(&name, &written.bytes);
        // Stiffness in rotation has no customary US unit at the bench.
        let text = text.replace("N·m/rad", "");
        assert!(!text.contains("N·m") && !text.contains(" MPa"), "{text}");
        if kind != PaperKind::Label {
            let told = said("pdfinfo", &[file(&name, &written.bytes).to_str().unwrap()]);
            assert!(told.contains("612 x 792 pts (letter)"), "{told}");
        }
    }
    assert!(
        text("us", &write_paper(PaperKind::BenchSheet, &matter, None).unwrap().bytes).contains("lbf·in, no tighter")
    );
}

#[test]
fn a_photo_stands_in_the_warranty_pack() {
    // One red dot, written by hand from ISO/IEC 15948: signature, header, data, end.
    let png = [
        0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52, 0, 0, 0, 1, 0, 0, 0, 1, 8,
        2, 0, 0, 0, 0x90, 0x77, 0x53, 0xde, 0, 0, 0, 12, 0x49, 0x44, 0x41, 0x54, 8, 0xd7, 0x63, 0xf8, 0xcf, 0xc0, 0, 0,
        3, 1, 1, 0, 0x18, 0xdd, 0x8d, 0xb0, 0, 0, 0, 0, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82,
    ];
    let photo = |bytes: &[u8]| Photo { told: "pinion.png".into(), bytes: bytes.to_vec() };
    let with = Cover { photos: vec![photo(&png)], ..cover() };
    let path = file("photo", &STRIPPED.paper(PaperKind::WarrantyPack, &with).bytes);
    assert!(said("pdfimages", &["-list", path.to_str().unwrap()]).contains("image"));
    let wrong = Cover { photos: vec![photo(b"GIF89a")], ..cover() };
    let matter = STRIPPED.matter(&wrong, System::Metric, PaperSize::A4);
    let error = write_paper(PaperKind::WarrantyPack, &matter, None).unwrap_err();
    assert_eq!(error.to_string(), "the photo \"pinion.png\" cannot be read: it is no JPEG or PNG");
}
