//! By keyboard alone: from the sign-in to the hand-over, with the focus seen all the way.

use crate::browser::driver::Browser;
use crate::browser::{DESK, served};
use crate::ground::{PASSWORD, TARNHORN};
use serde_json::Value;

/// Keys that are no letters (W3C WebDriver, 17.4.2).
const TAB: &str = "\u{E004}";
const ENTER: &str = "\u{E007}";

/// Goes on by Tab until the focused element fits a selector.
#[track_caller]
fn tab_to(browser: &Browser, selector: &str) {
    for _ in 0..400 {
        if browser.script(&format!("return document.activeElement.matches(\"{selector}\")")) == true {
            let seen = "const style = getComputedStyle(document.activeElement); \
                        return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) > 0";
            assert_eq!(browser.script(seen), true, "the focus on {selector} is seen");
            return;
        }
        browser.type_keys(TAB);
    }
    panic!("{selector} is not reached by Tab at {}", browser.url());
}

/// Goes to what a selector names by Tab, and presses Enter there.
#[track_caller]
fn enter_on(browser: &Browser, selector: &str) {
    tab_to(browser, selector);
    browser.type_keys(ENTER);
}

#[track_caller]
fn sign_in(browser: &Browser, base: &str, name: &str) {
    browser.go(&format!("{base}/sign-in"));
    tab_to(browser, "[name=name]");
    browser.type_keys(name);
    tab_to(browser, "[name=password]");
    browser.type_keys(&format!("{PASSWORD}{ENTER}"));
    browser.until("document.querySelector('h1')?.textContent === 'Today'");
}

/// From the drawing's list to a part's check, and its answer; the Enter key in a field answers nothing.
fn answer(browser: &Browser) {
    enter_on(browser, "#bay figure.wide a[href='#part-6']");
    enter_on(browser, "[data-live=check-motor-rocks] > summary");
    tab_to(browser, "[data-live=check-motor-rocks] [name=value]");
    browser.type_keys(&format!("0.45 mm{ENTER}"));
    assert_eq!(browser.script("return document.querySelector('[data-live=check-motor-rocks] .given')"), Value::Null);
    enter_on(browser, "[data-live=check-motor-rocks] button[value=yes]");
    browser.until("document.querySelector('[data-live=check-motor-rocks] .given') !== null");
    let kept = "return document.querySelector('[data-live=check-motor-rocks]').contains(document.activeElement)";
    assert_eq!(browser.script(kept), true, "the focus stays where the answer was given");
}

/// Fields of the take-in in the order in which Tab meets them.
const FIELDS: [&str; 12] =
    ["name", "phone", "truck_name", "said", "runs", "mass", "cells", "kv", "pinion", "spur", "pitch", "wheel"];

fn take_in(browser: &Browser) {
    enter_on(browser, ".row-of-pages a[href='/take-in']");
    browser.until("document.querySelector('h1')?.textContent === 'Take in'");
    let typed = |field: &str| match field {
        "name" => "B. Alder",
        field => TARNHORN.iter().find(|(name, _)| *name == field).unwrap().1,
    };
    for field in FIELDS {
        if field == "said" {
            tab_to(browser, "[name=battery]");
            browser.type_keys(" ");
        }
        tab_to(browser, &format!("[name={field}]"));
        browser.type_keys(typed(field));
    }
    tab_to(browser, "[name=wheel_mass]");
    browser.type_keys(typed("wheel_mass"));
    enter_on(browser, "form[action='/take-in'] > button");
    browser.until("document.querySelector('#bay') !== null");
}

/// To another page of the job by the row of its pages.
#[track_caller]
fn to_page(browser: &Browser, end: &str) {
    enter_on(browser, &format!(".way a[href$='/{end}']"));
    browser.until(&format!("location.pathname.endsWith('/{end}') && document.readyState === 'complete'"));
}

/// Leads the job on from where it stands, until its page says so.
#[track_caller]
fn lead(browser: &Browser, state: &str, waits_for: &str) {
    enter_on(browser, &format!("form[action$='/lead'] button[value={state}]"));
    browser.until(&format!("document.querySelector('header .kicker')?.textContent === '{waits_for}'"));
}

#[test]
fn the_whole_job_goes_by_keyboard_alone() {
    served(|base| {
        let browser = Browser::open(DESK);
        sign_in(&browser, base, "Mira Oakshott");
        take_in(&browser);
        answer(&browser);
        to_page(&browser, "alternatives");
        enter_on(&browser, "form[action$='/offers'] button");
        browser.until("document.querySelector(\"form[action$='/answer']\") !== null");
        enter_on(&browser, "form[action$='/answer'] button[value=yes]");
        browser.until("document.querySelector('#standing')?.textContent.includes('Taken')");
        to_page(&browser, "work");
        enter_on(&browser, "#step-1 form[action$='/sign'] button");
        browser.until("document.querySelector('#step-1 .given') !== null");
        lead(&browser, "checked", "To be made ready");
        to_page(&browser, "hand-over");
        lead(&browser, "ready", "To be collected");
        tab_to(&browser, "[name=label]");
        browser.type_keys("their phone");
        enter_on(&browser, "form[action$='/links'] button");
        browser.until("document.querySelector('figure.code svg') !== null");
        to_page(&browser, "hand-over");
        lead(&browser, "collected", "Nothing: the customer has it");
    });
}
