//! Strips to pages: what keeps together stays together, no page begins with empty space.

use super::strip::Strip;

/// A strip at its height on a page.
#[derive(Clone, Debug)]
pub(crate) struct OnPage {
    pub y_pt: f32,
    pub strip: Strip,
}

/// The pages of a paper whose column is `column_pt` high.
pub(crate) fn pages(strips: Vec<Strip>, column_pt: f32) -> Vec<Vec<OnPage>> {
    let mut pages: Vec<Vec<OnPage>> = vec![Vec::new()];
    let mut y_pt = 0.0;
    for group in groups(strips) {
        let height_pt: f32 = group.iter().map(|strip| strip.height_pt).sum();
        let too_high = y_pt + height_pt > column_pt && height_pt <= column_pt;
        if too_high && y_pt > 0.0 {
            pages.push(Vec::new());
            y_pt = 0.0;
        }
        for strip in group {
            let full = y_pt + strip.height_pt > column_pt;
            if full && y_pt > 0.0 {
                pages.push(Vec::new());
                y_pt = 0.0;
            }
            if y_pt == 0.0 && strip.space {
                continue;
            }
            let Some(page) = pages.last_mut() else { continue };
            if let (true, Some(heads)) = (y_pt == 0.0, strip.again.as_deref()) {
                page.push(OnPage { y_pt, strip: heads.clone() });
                y_pt += heads.height_pt;
            }
            let height_pt = strip.height_pt;
            page.push(OnPage { y_pt, strip });
            y_pt += height_pt;
        }
    }
    pages.retain(|page| !page.is_empty());
    pages
}

/// Strips that stay on one page.
fn groups(strips: Vec<Strip>) -> Vec<Vec<Strip>> {
    let mut groups: Vec<Vec<Strip>> = Vec::new();
    let mut open = false;
    for strip in strips {
        let keeps = strip.keep;
        match groups.last_mut() {
            Some(group) if open => group.push(strip),
            _ => groups.push(vec![strip]),
        }
        open = keeps;
    }
    groups
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(height_pt: f32, keep: bool) -> Strip {
        Strip { height_pt, keep, ..Strip::default() }
    }

    #[track_caller]
    fn check(strips: Vec<Strip>, expected: &[&[f32]]) {
        let got: Vec<Vec<f32>> =
            pages(strips, 100.0).iter().map(|page| page.iter().map(|one| one.y_pt).collect()).collect();
        assert_eq!(got, expected);
    }

    #[test]
    fn a_page_ends_where_the_next_strip_does_not_fit() {
        check(vec![text(60.0, false), text(40.0, false), text(10.0, false)], &[&[0.0, 60.0], &[0.0]]);
    }

    #[test]
    fn what_keeps_together_moves_together() {
        check(vec![text(60.0, false), text(20.0, true), text(30.0, false)], &[&[0.0], &[0.0, 20.0]]);
    }

    #[test]
    fn no_page_begins_with_space() {
        check(vec![Strip::space(9.0), text(100.0, false), Strip::space(9.0), text(5.0, false)], &[&[0.0], &[0.0]]);
    }

    #[test]
    fn a_group_higher_than_a_page_is_parted() {
        check(vec![text(60.0, true), text(60.0, true), text(60.0, false)], &[&[0.0], &[0.0], &[0.0]]);
    }

    #[test]
    fn heads_stand_again_on_the_next_page() {
        let row = || Strip { again: Some(Box::new(text(10.0, false))), ..text(50.0, false) };
        check(vec![text(10.0, true), row(), row()], &[&[0.0, 10.0], &[0.0, 10.0]]);
    }
}
