//! The verdict page: one file, no script, nothing from elsewhere, ids that belong together.

use crate::shop::{CHANGED, CHECKED, STRIPPED, cover};
use std::collections::BTreeSet;
use toothsayer_figures::{Look, Role, contrast};

/// Least contrast of text (WCAG 2.2, 1.4.3).
const LEAST_CONTRAST: f64 = 4.5;

/// What stands in quotes behind `name=`.
fn attributes<'a>(page: &'a str, name: &str) -> Vec<&'a str> {
    let begin = format!(" {name}=\"");
    page.split(begin.as_str()).skip(1).filter_map(|rest| rest.split('"').next()).collect()
}

#[test]
fn the_page_holds_no_script_and_asks_for_nothing_from_elsewhere() {
    for job in [&STRIPPED, &CHECKED, &CHANGED] {
        let page = job.page(&cover());
        for word in [
            "<script",
            "javascript:",
            " onclick",
            " onload",
            "<link",
            "<img",
            "<iframe",
            "@import",
            "http-equiv=\"refresh",
        ] {
            assert!(!page.contains(word), "{word}");
        }
        let elsewhere: Vec<&str> =
            page.split("http").skip(1).filter(|rest| rest.starts_with("://") || rest.starts_with("s://")).collect();
        assert!(elsewhere.iter().all(|rest| rest.starts_with("://www.w3.org/2000/svg\"")), "{elsewhere:?}");
        assert!(page.contains("default-src 'none'"));
    }
}

#[test]
fn every_id_stands_once_and_every_reference_leads_to_one() {
    let page = STRIPPED.page(&cover());
    let ids = attributes(&page, "id");
    let known: BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(ids.len(), known.len(), "an id stands twice");
    assert!(known.len() > 20);
    let named = attributes(&page, "aria-labelledby").into_iter().flat_map(str::split_whitespace);
    let linked = attributes(&page, "href").into_iter().filter_map(|to| to.strip_prefix('#'));
    let painted = page.split("url(#").skip(1).filter_map(|rest| rest.split(')').next());
    let references: Vec<&str> = named.chain(linked).chain(painted).collect();
    assert!(references.len() > 20);
    for reference in references {
        assert!(known.contains(reference), "nothing has the id {reference}");
    }
}

#[test]
fn the_page_says_the_verdict_first() {
    // Between a number and its unit no line ends.
    let page = STRIPPED.page(&cover());
    assert!(page.contains("16\u{a0}%"));
    let page = page.replace('\u{a0}', " ");
    let first = page.split("<nav").next().unwrap();
    for words in ["<h1>Tarnhorn 6</h1>", "does not hold", "101.07 EUR", "1 h 16 min", "16 %"] {
        assert!(first.contains(words), "{words}");
    }
    assert!(page.contains("Take the battery out"));
}

#[test]
fn a_truck_that_did_not_strip_is_not_told_so() {
    let page = CHECKED.page(&cover());
    assert!(page.contains("What could take the teeth") && !page.contains("Why the teeth went</h2>"));
}

#[test]
fn text_stands_out_from_what_lies_behind_it_in_every_look() {
    let pairs = [
        (Role::Ink, Role::Paper),
        (Role::Quiet, Role::Paper),
        (Role::Accent, Role::Paper),
        (Role::Ink, Role::Metal),
        (Role::Ink, Role::BadTint),
        (Role::Ink, Role::DoubtTint),
        (Role::Ink, Role::GoodTint),
        (Role::Bad, Role::BadTint),
        (Role::Doubt, Role::DoubtTint),
        (Role::Good, Role::GoodTint),
        (Role::Bad, Role::Paper),
        (Role::Doubt, Role::Paper),
        (Role::Good, Role::Paper),
    ];
    for look in [Look::Light, Look::Dark, Look::Print] {
        for (text, behind) in pairs {
            let ratio = contrast(text.colour(look), behind.colour(look)).unwrap();
            assert!(ratio >= LEAST_CONTRAST, "{text:?} on {behind:?}, {look:?}: {ratio:.2}");
        }
    }
}
