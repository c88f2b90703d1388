//! The pages in a real browser, Debian's Chromium by its own driver.

mod access;
pub mod driver;
mod keyboard;
mod line;
mod sliders;
mod two_people;
mod whole_job;

use crate::ground::{PASSWORD, Shop, fresh_path, wait};
use driver::{Browser, Window, is_there};
use tokio::net::TcpListener;
use toothsayer_pages::serve;
use toothsayer_records::Place;

/// A window on a desk that may run scripts.
pub const DESK: Window = Window { width: 1280, script: true, dark: false };

/// Serves a shop with people and one truck taken in, and hands the address to what is to be seen there.
#[track_caller]
pub fn served(seen: impl FnOnce(&str) + Send + 'static) {
    served_from(Place::File(fresh_path()), seen);
}

/// The same from a database of one's choice.
#[track_caller]
pub fn served_from(place: Place, seen: impl FnOnce(&str) + Send + 'static) {
    if !is_there() {
        assert!(std::env::var_os("CI").is_none(), "the browser is missing: install chromium and chromium-driver");
        eprintln!("skipped: chromium or chromedriver is missing");
        return;
    }
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people_at(place).await;
        assert_eq!(shop.take_in(&owner, &[]).await.to(), "/jobs/1");
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let base = format!("http://{}", listener.local_addr().unwrap());
        let app = shop.app.clone();
        let (stop, stopped) = tokio::sync::oneshot::channel::<()>();
        let served = tokio::spawn(async move { serve(&app, listener, async { drop(stopped.await) }).await });
        tokio::task::spawn_blocking(move || seen(&base)).await.unwrap();
        stop.send(()).unwrap();
        served.await.unwrap().unwrap();
    });
}

/// Signs somebody in.
pub fn sign_in(browser: &Browser, base: &str, name: &str) {
    browser.go(&format!("{base}/sign-in"));
    browser.fill("[name=name]", name);
    browser.fill("[name=password]", PASSWORD);
    browser.press("main button");
    assert_eq!(browser.text("h1"), "Today");
}
