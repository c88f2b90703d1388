//! The diagnosis on trucks drawn from its own model, and from a book that is wrong: a self-test, no outside source.

use toothsayer_validation::calibration::{Calibration, FULL, Size, calibration};

/// A part of what the documents show; all of it in the slow suites.
const PART: Size = Size { own: 400, other: 100, sessions: 2 };
/// Predictions of a truck's causes come together: their scatter is a little larger than that of independent ones.
const MOST_STANDARD_ERRORS: f64 = 4.0;
/// Bins with fewer predictions tell nothing.
const LEAST_IN_BIN: u32 = 30;
/// With odds twice off and links a fifth, what is predicted is not further off than this.
const GRACEFUL: f64 = 0.25;

#[test]
fn predictions_come_true_and_degrade_gracefully_and_checks_find_causes_sooner() {
    let size = if std::env::var_os("TOOTHSAYER_LONG").is_some() { FULL } else { PART };
    let Calibration { own, other, minutes } = calibration(size).expect("a self-test");
    for bin in own.bins.iter().filter(|bin| bin.count >= LEAST_IN_BIN) {
        let apart = (bin.observed() - bin.mean()) / bin.standard_error();
        assert!(apart.abs() < MOST_STANDARD_ERRORS, "{bin:?}: {apart}");
    }
    assert!(own.brier < 0.7 * own.brier_of_priors, "{own:?}");
    for bin in other.bins.iter().filter(|bin| bin.count >= LEAST_IN_BIN) {
        assert!((bin.observed() - bin.mean()).abs() < GRACEFUL, "{bin:?}");
    }
    assert!(other.brier > own.brier && other.brier < other.brier_of_priors, "{other:?}");
    assert!(minutes.next < minutes.bench, "{minutes:?}");
}
