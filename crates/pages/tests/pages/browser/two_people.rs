//! Two technicians at one job: each sees the other's answer at once, and nothing moves under their fingers.

use crate::browser::driver::Browser;
use crate::browser::{DESK, served, sign_in};
use std::time::{Duration, Instant};

/// Within this the other one's answer is seen.
const SEEN_WITHIN: Duration = Duration::from_secs(1);
/// Room for a busy machine: the order of magnitude is held, not the second.
const BUSY: u32 = 10;
/// A page whose layout shifts by less is called good (W3C Layout Instability, as the Web Vitals set its bound).
const STEADY: f64 = 0.1;

/// How far things have moved without anybody's doing.
const SHIFTS: &str = "return window.shifted";
const WATCH: &str = "window.shifted = 0; new PerformanceObserver((list) => { for (const entry of list.getEntries()) \
                     if (!entry.hadRecentInput) window.shifted += entry.value; }).observe({ type: 'layout-shift' })";

#[test]
fn two_people_at_one_job_see_each_others_answers() {
    served(|base| {
        let [tilda, mira] = ["Tilda Torque", "Mira Oakshott"].map(|name| {
            let browser = Browser::open(DESK);
            sign_in(&browser, base, name);
            browser.go(&format!("{base}/jobs/1"));
            browser
        });
        mira.script(WATCH);
        // Mira is writing a note about something else meanwhile.
        mira.click("[data-live=check-spacer-missing] > summary");
        mira.fill("[data-live=check-spacer-missing] [name=note]", "looked from the left");
        tilda.click("[data-live=check-motor-rocks] > summary");
        tilda.fill("[data-live=check-motor-rocks] [name=value]", "0.45 mm");
        tilda.click("[data-live=check-motor-rocks] button[value=yes]");
        tilda.until("document.querySelector('[data-live=check-motor-rocks] .given') !== null");
        let answered = Instant::now();
        mira.until("document.querySelector('[data-live=check-motor-rocks] .given') !== null");
        assert!(answered.elapsed() < SEEN_WITHIN * BUSY, "seen after {:?}", answered.elapsed());
        assert!(mira.text("[data-live=check-motor-rocks] .given").contains("Tilda Torque"));
        let note = mira.script("return document.querySelector('[data-live=check-spacer-missing] [name=note]').value");
        assert_eq!(note, "looked from the left");
        let moved = mira.script(SHIFTS).as_f64().unwrap();
        assert!(moved < STEADY, "the page moved by {moved}");
        // Her own answer to what she was writing about is kept with its note, and Tilda sees it.
        mira.click("[data-live=check-spacer-missing] button[value=no]");
        let given = "document.querySelector('[data-live=check-spacer-missing] .given') !== null";
        [&mira, &tilda].into_iter().for_each(|one| one.until(given));
        assert!(tilda.text("[data-live=check-spacer-missing] .given").contains("looked from the left"));
        // Taken back, it is open again for both.
        mira.click("[data-live=check-spacer-missing] form[action$=back] button");
        tilda.until("document.querySelector('[data-live=check-spacer-missing] .given') === null");
    });
}
