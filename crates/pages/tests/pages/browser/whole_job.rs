//! A real browser, without script, on a phone and on a desk: sign-in, take-in, one finding, the verdict.

use crate::browser::driver::{Browser, Window};
use crate::browser::{served, sign_in};
use crate::ground::TARNHORN;

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
        browser.fill(&format!("[name={name}]"), value);
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
}

/// Nothing is wider than the page, and what is tapped is large enough.
#[track_caller]
fn fits(browser: &Browser, width: u32) {
    let wide = browser.content_width();
    assert!(wide <= f64::from(width), "{} is {wide} px wide", browser.url());
    for [x, y, w, h] in
        browser.places("button, .button, .bar a, .cards a, input:not([type=hidden]):not([type=radio]), select")
    {
        assert!(w == 0.0 || h >= TARGET_PX, "{}: {w} x {h} px at {x}, {y}", browser.url());
    }
}

#[test]
fn the_job_goes_through_a_real_browser_on_a_phone_and_on_a_desk() {
    served(|base| [390, 1280].into_iter().for_each(|width| way(base, width)));
}
