//! The way through one job: its pages in the order of the work, the same on each of them.

use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use toothsayer_records::Deed;

/// The job's pages: name, the end of the address, and what somebody must be allowed to do there.
const PAGES: &[(&str, &str, Deed)] = &[
    ("Bench sheet", "", Deed::Look),
    ("Build", "/build", Deed::Look),
    ("Will it hold", "/verdict", Deed::Look),
    ("Alternatives", "/alternatives", Deed::Look),
    ("Work", "/work", Deed::Look),
    ("Photos", "/photos", Deed::Look),
    ("Hand-over", "/hand-over", Deed::Look),
];

/// Links to the job's pages; the one that is shown (by its address' end) is told as such.
pub(crate) fn way(seat: &Seat, number: i64, here: &str) -> Html {
    let links = PAGES.iter().filter(|(.., deed)| seat.may(*deed)).map(|(name, end, _)| {
        let link = tag("a").with("href", &format!("/jobs/{number}{end}")).say(name);
        let link = if *end == here { link.with("aria-current", "page") } else { link };
        link.into()
    });
    let past = tag("a").class("skip").with("href", "#past-way").say("Past the job's pages");
    let nav = tag("nav").class("way").with("aria-label", &format!("Job {number}")).hold(past).all(links);
    Html::of([nav.into(), tag("span").with("id", "past-way").with("tabindex", "-1").into()])
}
