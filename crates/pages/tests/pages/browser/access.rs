//! No page keeps anybody out: the rules of an independent checker (axe-core) on every page, light and dark, desk and phone.

use crate::browser::driver::{Browser, Window};
use crate::browser::{served, sign_in};
use std::path::Path;

/// Where `./check` puts the checker; it is fetched for the tests and not part of this project.
const CHECKER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../.venv/axe.min.js");
/// Pages that are looked at; the job is the one that stands there.
const PAGES: [&str; 20] = [
    "/",
    "/help",
    "/take-in",
    "/counter?mass=10.4+kg&cells=7&kv=980+rpm/V&pinion=19&spur=53&pitch=1+mm&wheel=188+mm&wheel_mass=410+g",
    "/people",
    "/people/me",
    "/settings",
    "/parts",
    "/parts/orders",
    "/photos",
    "/tokens",
    "/find?q=tarn",
    "/jobs/1",
    "/jobs/1/build",
    "/jobs/1/build?of=after",
    "/jobs/1/verdict",
    "/jobs/1/alternatives",
    "/jobs/1/work",
    "/jobs/1/photos",
    "/jobs/1/hand-over",
];
/// Breaks of WCAG 2.2 AA that the checker calls serious or critical, each with the first place.
const RUN: &str = "const done = arguments[0]; axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'] }) \
                   .then(({ violations, passes }) => done(passes.length < 10 ? ['the checker looked at nothing'] : violations.filter((one) => ['serious', 'critical'].includes(one.impact)) \
                   .map((one) => `${one.id}: ${one.nodes[0].html} ${one.nodes[0].failureSummary}`)))";

#[test]
fn an_independent_checker_finds_nothing_serious_on_any_page() {
    let Ok(checker) = std::fs::read_to_string(Path::new(CHECKER)) else {
        assert!(std::env::var_os("CI").is_none(), "the checker is missing: ./check fetches it");
        eprintln!("skipped: ./check fetches the checker");
        return;
    };
    served(move |base| {
        for (width, dark) in [(1280, false), (390, true)] {
            let browser = Browser::open(Window { width, script: true, dark });
            let mut found = look(&browser, &checker, base, "/sign-in");
            sign_in(&browser, base, "Mira Oakshott");
            for page in PAGES {
                found.extend(look(&browser, &checker, base, page));
            }
            assert!(found.is_empty(), "{width} px, dark {dark}:\n{}", found.join("\n"));
        }
    });
}

fn look(browser: &Browser, checker: &str, base: &str, page: &str) -> Vec<String> {
    browser.go(&format!("{base}{page}"));
    browser.script(checker);
    let found = browser.script_later(RUN);
    let found = found.as_array().unwrap_or_else(|| panic!("{page}: {found}"));
    found.iter().map(|one| format!("{page}: {}", one.as_str().unwrap())).collect()
}
