//! The whole job in a real browser without script, on a phone and on a desk, on both databases: from take-in to hand-over.

use crate::browser::driver::{Browser, Window};
use crate::browser::{served_from, sign_in};
use crate::ground::{TARNHORN, fresh_path};
use crate::postgres;
use toothsayer_records::Place;

/// The least height of what is tapped, px: a fingertip (WCAG 2.2, 2.5.5).
const TARGET_PX: f64 = 44.0;

/// The whole way at a width; every page must fit it.
fn way(base: &str, width: u32) {
    let browser = Browser::open(Window { width, script: false, dark: false });
    browser.go(&format!("{base}/sign-in"));
    fits(&browser, width);
    sign_in(&browser, base, "Mira Oakshott");
    fits(&browser, width);
    browser.go(&format!("{base}/take-in"));
    for (name, value) in TARNHORN.into_iter().filter(|(name, _)| !["complaint", "battery"].contains(name)) {
        browser.fill(&format!("[name={name}]"), if name == "name" { "B. Alder" } else { value });
    }
    browser.click("[name=battery][value=sound]");
    browser.click("[name=complaint] option[value=stripped-again]");
    fits(&browser, width);
    browser.press("main form > button");
    assert!(browser.text("h1").ends_with("Tarnhorn 6"), "{}", browser.source());
    fits(&browser, width);
    assert!(browser.places("#bay figure").iter().any(|[.., height]| *height > 100.0), "the drawing is seen");
    let job = browser.url();
    browser.click("#part-6 [data-live=check-motor-rocks] > summary");
    browser.fill("#part-6 form:has([value=motor-rocks]) [name=value]", "0.45 mm");
    browser.press("#part-6 form:has([value=motor-rocks]) button[value=yes]");
    assert_eq!(browser.url(), format!("{job}#next"));
    assert!(browser.text("#part-6 .given").starts_with("Yes, 0.45 mm"));
    browser.go(&format!("{job}/verdict"));
    assert!(browser.text("h1").contains("Tarnhorn 6"));
    fits(&browser, width);
    let pages = ["/counter", "/parts", "/settings", "/people", "/people/me", "/photos", "/tokens", "/help"];
    let own = ["/photos", "/build", "/build?of=after"].map(|end| format!("{job}{end}"));
    for page in pages.map(|end| format!("{base}{end}")).into_iter().chain(own) {
        browser.go(&page);
        fits(&browser, width);
    }
    agree(&browser, &job, width);
    work(&browser, &job, width);
    hand_over(&browser, &job, width);
}

/// The repairs are offered, and the customer says yes at the counter.
fn agree(browser: &Browser, job: &str, width: u32) {
    browser.go(&format!("{job}/alternatives"));
    fits(browser, width);
    browser.press("form[action$='/offers'] button");
    fits(browser, width);
    browser.press("form[action$='/answer'] button[value=yes]");
    browser.go(job);
    assert_eq!(browser.text(".kicker").to_lowercase(), "to be begun");
}

/// Work begins, the first step is signed for, and the work is checked.
fn work(browser: &Browser, job: &str, width: u32) {
    browser.press("#lead button[value=on-the-bench]");
    browser.go(&format!("{job}/work"));
    fits(browser, width);
    browser.press("#step-1 form[action$='/sign'] button");
    assert!(browser.text("#step-1 .given").starts_with("Done"), "{}", browser.source());
    browser.go(job);
    browser.press("#lead button[value=checked]");
}

/// The truck can be collected, its customer gets a link, and has it again.
fn hand_over(browser: &Browser, job: &str, width: u32) {
    browser.go(&format!("{job}/hand-over"));
    fits(browser, width);
    browser.press("form[action$='/lead'] button[value=ready]");
    browser.go(&format!("{job}/hand-over"));
    browser.fill("[name=label]", "their phone");
    browser.press("form[action$='/links'] button");
    fits(browser, width);
    assert!(browser.source().contains("<svg"), "the link's square code is shown");
    browser.go(&format!("{job}/hand-over"));
    browser.press("form[action$='/lead'] button[value=collected]");
    browser.go(job);
    assert_eq!(browser.text(".kicker").to_lowercase(), "nothing: the customer has it");
}

/// Nothing is wider than the page, and what is tapped is large enough.
#[track_caller]
fn fits(browser: &Browser, width: u32) {
    // Asked for their places first, so that the page is laid out when its width is read.
    let tapped = "button, .button, .bar a, .way a, .cards a, .pick, select, summary, input:not([type=hidden]):not([type=radio]):not([type=checkbox])";
    for [x, y, w, h] in browser.places(tapped) {
        assert!(w == 0.0 || h >= TARGET_PX, "{}: {w} x {h} px at {x}, {y}", browser.url());
    }
    let wide = browser.content_width();
    assert!(wide <= f64::from(width), "{} is {wide} px wide", browser.url());
}

/// Both widths on both databases where time is no matter; else each width once, and each database once.
fn widths(usual: u32) -> Vec<u32> {
    if std::env::var_os("TOOTHSAYER_LONG").is_some() { vec![390, 1280] } else { vec![usual] }
}

#[test]
fn the_whole_job_goes_through_a_real_browser_on_sqlite() {
    served_from(Place::File(fresh_path()), |base| widths(390).into_iter().for_each(|width| way(base, width)));
}

#[test]
fn the_whole_job_goes_through_a_real_browser_on_postgresql() {
    served_from(postgres::fresh(), |base| widths(1280).into_iter().for_each(|width| way(base, width)));
}
