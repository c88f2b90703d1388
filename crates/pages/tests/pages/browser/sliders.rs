//! Sliders answer while they are dragged, and nothing else on the page moves.

use crate::browser::driver::{Browser, Window};
use crate::browser::{DESK, served, sign_in};
use serde_json::json;

/// Where the verdict below the sliders begins, px.
const BELOW: &str = "return document.querySelector('main').getBoundingClientRect().top + scrollY";
/// Drags the brake's slider through some strengths, faster than answers come.
const DRAG: &str = "const slider = document.querySelector('[name=brake]').closest('.knob').querySelector('[type=range]'); \
                    for (const percent of [90, 80, 70, 60, 50, 40]) { slider.value = percent; slider.dispatchEvent(new Event('input')); }";

#[test]
fn a_slider_answers_while_it_is_dragged_and_nothing_moves() {
    served(|base| {
        for window in [DESK, Window { width: 390, ..DESK }] {
            let browser = Browser::open(window);
            sign_in(&browser, base, "Mira Oakshott");
            browser.go(&format!("{base}/jobs/1/verdict"));
            let before = browser.script(BELOW);
            assert!(browser.text("#held").starts_with("As it is, it "), "{}", browser.text("#held"));
            browser.script(DRAG);
            // The newest wins, and the address leads back to it.
            browser.until("new URLSearchParams(location.search).get('brake') === '40'");
            assert!(browser.text("#held").starts_with("With that it "), "{}", browser.text("#held"));
            assert!(browser.text("#held").contains("A longer way to a stop"));
            assert_eq!(browser.script("return document.querySelector('[name=brake]').value"), json!("40"));
            assert_eq!(browser.script(BELOW), before, "{} px wide", window.width);
            browser.fill("[name=brake]", "0");
            browser.until("document.querySelector('#held').innerText.includes('Brake strength')");
            assert_eq!(browser.script(BELOW), before, "what is wrong is told in the same place");
        }
    });
}
