//! By keyboard alone: from the sign-in to an answer, with the focus seen all the way.

use crate::browser::driver::Browser;
use crate::browser::{DESK, served};
use crate::ground::PASSWORD;

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

#[test]
fn a_check_is_answered_by_keyboard_alone() {
    served(|base| {
        let browser = Browser::open(DESK);
        browser.go(&format!("{base}/sign-in"));
        tab_to(&browser, "[name=name]");
        browser.type_keys("Tilda Torque");
        tab_to(&browser, "[name=password]");
        browser.type_keys(&format!("{PASSWORD}{ENTER}"));
        browser.until("document.querySelector('h1')?.textContent === 'Today'");
        tab_to(&browser, ".cards a");
        browser.type_keys(ENTER);
        browser.until("document.querySelector('#bay') !== null");
        // From the drawing to the part's checks.
        tab_to(&browser, "#bay figure.wide a[href='#part-6']");
        browser.type_keys(ENTER);
        tab_to(&browser, "[data-live=check-motor-rocks] > summary");
        browser.type_keys(ENTER);
        tab_to(&browser, "[data-live=check-motor-rocks] [name=value]");
        browser.type_keys("0.45 mm");
        tab_to(&browser, "[data-live=check-motor-rocks] button[value=yes]");
        browser.type_keys(ENTER);
        browser.until("document.querySelector('[data-live=check-motor-rocks] .given') !== null");
    });
}
