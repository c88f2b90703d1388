//! Every published value comes out within its tolerance, and the page of them is fresh.

use toothsayer_validation::{Claim, all, page};

#[test]
fn every_published_value_comes_out() {
    let failed: Vec<String> = all()
        .iter()
        .filter(|check| !check.holds())
        .map(|check| {
            let not = if check.claim == Claim::MustNotComeOut { "not " } else { "" };
            format!("{}: {}: {} and not {not}{}", check.source, check.what, check.got, check.expected)
        })
        .collect();
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

#[test]
fn every_row_says_what_it_is_and_can_fail() {
    for check in all() {
        assert!(!check.what.is_empty() && check.source.len() > 8 && !check.because.is_empty(), "{check:?}");
        assert!(check.expected.is_finite() && check.tolerance >= 0.0, "{check:?}");
        if check.claim == Claim::Agrees {
            let wide = check.tolerance > 0.2 * check.expected.abs();
            assert!(!wide || check.expected.abs() < 0.3, "{check:?}: this tolerance passes anything");
        }
    }
}

#[test]
fn no_row_stands_twice() {
    let all = all();
    for (place, check) in all.iter().enumerate() {
        let twin = all[..place]
            .iter()
            .find(|other| other.source == check.source && other.what == check.what && other.unit == check.unit);
        assert!(twin.is_none(), "{check:?}");
    }
}

#[test]
fn the_page_in_docs_is_what_the_command_prints() {
    let path = format!("{}/../../docs/validation.md", env!("CARGO_MANIFEST_DIR"));
    let kept = std::fs::read_to_string(path).expect("docs/validation.md");
    assert!(kept == page(&all()), "stale: cargo run -p toothsayer-validation > docs/validation.md");
}
