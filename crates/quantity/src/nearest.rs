//! "Did you mean": the known word closest to a mistyped one.

/// The candidate nearest to `word` by edits (a change of case counts half), if it is near enough to be meant.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let limit = 2 * (1 + word.chars().count() / 3);
    candidates
        .into_iter()
        .map(|candidate| (half_edits(word, candidate), candidate))
        .filter(|(edits, _)| *edits <= limit)
        .min_by_key(|(edits, _)| *edits)
        .map(|(_, candidate)| candidate)
}

/// Levenshtein distance in half steps, so that a wrong case weighs less than a wrong letter.
fn half_edits(a: &str, b: &str) -> usize {
    let target: Vec<char> = b.chars().take(64).collect();
    let mut row: Vec<usize> = (0..=target.len()).map(|n| 2 * n).collect();
    for (i, letter) in a.chars().take(64).enumerate() {
        let mut diagonal = row[0];
        row[0] = 2 * (i + 1);
        for (j, other) in target.iter().enumerate() {
            let swap = diagonal + swap_cost(letter, *other);
            diagonal = row[j + 1];
            row[j + 1] = swap.min(row[j] + 2).min(diagonal + 2);
        }
    }
    row[target.len()]
}

fn swap_cost(a: char, b: char) -> usize {
    match (a == b, a.eq_ignore_ascii_case(&b)) {
        (true, _) => 0,
        (_, true) => 1,
        _ => 2,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_words_are_offered_and_far_ones_are_not() {
        let keys = ["mass", "drag_area", "start", "name"];
        assert_eq!(nearest("mas", keys), Some("mass"));
        assert_eq!(nearest("drag-area", keys), Some("drag_area"));
        assert_eq!(nearest("zebra_crossing", keys), None);
    }
}
