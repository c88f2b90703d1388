//! Places for labels on a line, near what they name and never over each other.

/// Where labels go that would like to stand at `wanted` (rising or not), at least `gap` apart and within the ends.
///
/// Each is pushed past the one before it; what runs over the far end is pushed back. Where the line is too short for
/// all of them they share it evenly.
pub(crate) fn spread(wanted: &[f64], gap: f64, [low, high]: [f64; 2]) -> Vec<f64> {
    let count = wanted.len();
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|a, b| wanted[*a].total_cmp(&wanted[*b]));
    let gap = if count > 1 { gap.min((high - low) / (count - 1) as f64) } else { gap };
    let mut places = vec![0.0; count];
    let mut least = low;
    for (rank, index) in order.iter().enumerate() {
        let most = high - gap * (count - 1 - rank) as f64;
        places[*index] = wanted[*index].max(least).min(most);
        least = places[*index] + gap;
    }
    places
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[track_caller]
    fn check(wanted: &[f64], expected: &[f64]) {
        assert_eq!(spread(wanted, 10.0, [0.0, 100.0]), expected);
    }

    #[test]
    fn labels_stay_where_they_want_if_they_can() {
        check(&[20.0, 40.0, 5.0], &[20.0, 40.0, 5.0]);
    }

    #[test]
    fn labels_are_pushed_apart_and_back_from_the_ends() {
        check(&[50.0, 50.0, 50.0], &[50.0, 60.0, 70.0]);
        check(&[99.0, 120.0], &[90.0, 100.0]);
        check(&[-5.0], &[0.0]);
    }
}
