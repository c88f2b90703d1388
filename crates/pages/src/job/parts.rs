//! Which part of the gear bay a check belongs to, so that touching the part asks it.

/// Parts by their names in the drawing, with the checks of the built-in book that are made there.
const CHECKS: [(&str, &[&str]); 11] = [
    ("gear cover", &["cover-screws-turn", "cover-gap", "cover-does-not-seat"]),
    (
        "support bearing",
        &["support-bearing-destroyed", "support-seat-molten", "support-bearing-rough", "support-bearing-idle"],
    ),
    ("pinion", &["pinion-wanders", "pinion-off-face", "pinion-too-large", "pinion-presses-bearing", "pitch-differs"]),
    ("spacer", &["spacer-missing"]),
    ("set screw", &["set-screw-turns"]),
    ("motor to mount", &["motor-rocks", "motor-screws-turn", "fretting-marks"]),
    ("mount to chassis", &["mount-rocks", "mount-screws-turn", "crack-seen", "mount-flexes"]),
    (
        "mesh",
        &[
            "mesh-rattles",
            "centre-distance-wide",
            "mesh-binds",
            "mesh-uneven",
            "fragments-seen",
            "metal-dust",
            "bruises-seen",
        ],
    ),
    (
        "spur",
        &[
            "tips-sheared",
            "teeth-broken-at-root",
            "lone-tooth-broken",
            "worn-at-one-end-seen",
            "flanks-blue",
            "gears-tinted",
            "teeth-thin",
            "file-bites",
        ],
    ),
    ("motor shaft", &["shaft-swings", "shaft-scored", "shaft-wobbles"]),
    (
        INPUT_COVER,
        &[
            "input-shaft-plays",
            "input-cover-screws-turn",
            "input-cover-moves",
            "cover-threads-strip",
            "cover-screws-unequal",
            "input-shaft-rough",
        ],
    ),
];

/// The drawing names this part with what its screws hold in.
const INPUT_COVER: &str = "input shaft cover";

/// The part that a check belongs to; none where it asks about the whole truck or its driver.
pub(crate) fn part_of(check: &str) -> Option<&'static str> {
    CHECKS.iter().find(|(_, checks)| checks.contains(&check)).map(|(part, _)| *part)
}

/// The checks that are made at a part of the drawing.
pub(crate) fn checks_of(drawn: &str) -> impl Iterator<Item = &'static str> {
    CHECKS.iter().filter(move |(part, _)| is(drawn, part)).flat_map(|(_, checks)| checks.iter().copied())
}

/// Whether a part of the drawing is this one.
pub(crate) fn is(drawn: &str, part: &str) -> bool {
    drawn == part || (part == INPUT_COVER && drawn.starts_with(INPUT_COVER))
}

#[cfg(test)]
mod tests {
    use super::*;
    use toothsayer_fault_book::FaultBook;

    #[test]
    fn every_check_of_the_table_is_in_the_book_and_stands_once() {
        let mut all: Vec<&str> = CHECKS.iter().flat_map(|(_, checks)| checks.iter().copied()).collect();
        all.iter().for_each(|check| assert!(FaultBook::built_in().finding(check).is_some(), "{check}"));
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
    }

    #[test]
    fn every_check_that_needs_the_gear_bay_open_belongs_to_a_part() {
        for finding in FaultBook::built_in().findings().iter().filter(|one| !one.needs.is_empty()) {
            assert!(part_of(&finding.id).is_some(), "{}", finding.id);
        }
    }
}
