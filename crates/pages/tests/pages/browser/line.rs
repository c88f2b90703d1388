//! The line drops in mid-entry: what was typed stays, and is sent once when the line is back.

use crate::browser::driver::Browser;
use crate::browser::{DESK, served, sign_in};

#[test]
fn what_was_typed_survives_a_lost_line_and_is_sent_once() {
    served(|base| {
        let browser = Browser::open(DESK);
        sign_in(&browser, base, "Tilda Torque");
        browser.go(&format!("{base}/jobs/1"));
        browser.click("[data-live=check-motor-rocks] > summary");
        browser.fill("[data-live=check-motor-rocks] [name=value]", "0.45 mm");
        browser.go(&format!("{base}/jobs/1"));
        let typed = "document.querySelector('[data-live=check-motor-rocks] [name=value]').value";
        assert_eq!(browser.script(&format!("return {typed}")), "0.45 mm", "typed before the page was loaded again");
        browser.line(false);
        browser.click("[data-live=check-motor-rocks] button[value=yes]");
        browser.until("document.querySelector('.told').textContent.includes('waits for the line')");
        browser.line(true);
        browser.until("document.querySelector('[data-live=check-motor-rocks] .given') !== null");
        assert!(browser.text("[data-live=check-motor-rocks] .given").starts_with("Yes, 0.45 mm"));
        assert_eq!(browser.script("return localStorage.getItem('toothsayer.waiting')"), "[]");
    });
}

/// Fills the take-in's form for a customer, and sends it without a line.
fn take_in_without_a_line(browser: &Browser, base: &str, customer: &str) {
    browser.go(&format!("{base}/take-in"));
    for (name, value) in crate::ground::TARNHORN.into_iter().filter(|(name, _)| !CHOSEN.contains(name)) {
        browser.fill(&format!("[name={name}]"), if name == "name" { customer } else { value });
    }
    browser.click("[name=battery][value=sound]");
    browser.click("[name=complaint] option[value=stripped]");
    browser.line(false);
    browser.click("form[action='/take-in'] > button");
    browser.until("document.querySelector('.told').textContent.includes('waits for the line')");
    browser.line(true);
    browser.until("localStorage.getItem('toothsayer.waiting') === '[]'");
}

#[test]
fn a_truck_taken_in_without_a_line_is_taken_in_once() {
    served(|base| {
        let browser = Browser::open(DESK);
        sign_in(&browser, base, "Mira Oakshott");
        take_in_without_a_line(&browser, base, "B. Alder");
        browser.go(&format!("{base}/"));
        let jobs = "return document.querySelectorAll('.cards a').length";
        assert_eq!(browser.script(jobs), 2, "the one that was there, and this one once");
    });
}

#[test]
fn what_is_refused_when_the_line_is_back_stands_in_its_form_again() {
    served(|base| {
        let browser = Browser::open(DESK);
        sign_in(&browser, base, "Mira Oakshott");
        // Somebody of this name is known: the shop asks who it is.
        take_in_without_a_line(&browser, base, "A. Fernhill");
        browser.until("document.querySelector('.told').textContent.includes('Not kept')");
        browser.go(&format!("{base}/take-in"));
        let typed = "return document.querySelector('[name=name]').value + document.querySelector('[name=mass]').value";
        assert_eq!(browser.script(typed), "A. Fernhill10.4 kg");
    });
}

#[test]
fn a_photo_taken_without_a_line_is_kept_and_sent_once() {
    served(|base| {
        let file = std::env::temp_dir().join(format!("toothsayer-photo-{}.jpg", std::process::id()));
        std::fs::write(&file, crate::photos::jpeg(&[])).unwrap();
        let browser = Browser::open(DESK);
        sign_in(&browser, base, "Tilda Torque");
        browser.go(&format!("{base}/jobs/1/photos"));
        browser.fill("[name=photo]", file.to_str().unwrap());
        browser.line(false);
        browser.click("#take button:not([disabled])");
        browser.until("document.querySelector('.told').textContent.includes('waits for the line')");
        browser.line(true);
        browser.until("document.querySelector('.told').textContent.includes('was sent')");
        browser.go(&format!("{base}/jobs/1/photos"));
        assert_eq!(browser.script("return document.querySelectorAll('.photos .photo').length"), 1);
        std::fs::remove_file(&file).unwrap();
    });
}

/// Fields that are chosen, not typed.
const CHOSEN: [&str; 2] = ["complaint", "battery"];
