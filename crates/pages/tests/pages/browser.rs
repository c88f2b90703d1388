//! A real browser, without script, on a phone and on a desk: sign-in, take-in, one finding, the verdict.

use crate::driver::{Browser, is_there};
use crate::ground::{PASSWORD, Shop, TARNHORN, wait};
use tokio::net::TcpListener;
use toothsayer_pages::serve;

/// The least height of what is tapped, px: a fingertip (WCAG 2.2, 2.5.5).
const TARGET_PX: f64 = 44.0;

/// The whole way at a width; every page must fit it.
fn way(base: &str, width: u32) {
    let browser = Browser::open(width, 900);
    browser.go(&format!("{base}/sign-in"));
    fits(&browser, width);
    browser.fill("[name=name]", "Mira Oakshott");
    browser.fill("[name=password]", PASSWORD);
    browser.press("main button");
    assert_eq!(browser.text("h1"), "Today");
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
    if !is_there() {
        assert!(std::env::var_os("CI").is_none(), "the browser is missing: install chromium and chromium-driver");
        eprintln!("skipped: chromium or chromedriver is missing");
        return;
    }
    wait(async {
        let (shop, _) = Shop::with_people().await;
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let base = format!("http://{}", listener.local_addr().unwrap());
        let app = shop.app.clone();
        let (stop, stopped) = tokio::sync::oneshot::channel::<()>();
        let served = tokio::spawn(async move { serve(&app, listener, async { drop(stopped.await) }).await });
        for width in [390, 1280] {
            let base = base.clone();
            tokio::task::spawn_blocking(move || way(&base, width)).await.unwrap();
        }
        stop.send(()).unwrap();
        served.await.unwrap().unwrap();
    });
}
