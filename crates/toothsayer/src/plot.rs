//! A plot of a band over time, drawn with the characters of any terminal.

use unicode_width::UnicodeWidthStr;

/// Lines of the plot without its foot.
const HEIGHT: usize = 13;
/// Eighths of a line, from none to whole.
const EIGHTHS: [char; 9] = [' ', '▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/// What is drawn.
pub struct Band<'a> {
    /// Least and largest value in each column.
    pub columns: &'a [[f64; 2]],
    /// A value in words, for the axis at the left.
    pub value: &'a dyn Fn(f64) -> String,
    /// Words at the left and right end of the foot.
    pub ends: [String; 2],
}

/// The lines of the plot: values above zero grow up from the zero line, values below it down.
pub fn plot(band: &Band<'_>) -> Vec<String> {
    let highest = band.columns.iter().map(|column| column[1]).fold(0.0, f64::max);
    let lowest = band.columns.iter().map(|column| column[0]).fold(0.0, f64::min);
    let span = highest - lowest;
    if span <= 0.0 {
        return Vec::new();
    }
    // The zero line lies between two lines of text, so that both sides are told to an eighth of a line.
    let share = |part: f64| ((part / span * HEIGHT as f64).round() as usize).clamp(usize::from(part > 0.0), HEIGHT);
    let above = share(highest).min(HEIGHT - usize::from(lowest < 0.0));
    let below = if lowest < 0.0 { HEIGHT - above } else { 0 };
    let labels: Vec<String> = [highest, 0.0, lowest].iter().map(|value| (band.value)(*value)).collect();
    let width = labels.iter().map(|label| label.width()).max().unwrap_or(0);
    let mut lines = Vec::with_capacity(HEIGHT + 2);
    for line in 0..above {
        let label = if line == 0 { labels[0].as_str() } else { "" };
        let drawn = band.columns.iter().map(|column| upwards(column[1] / highest, above, line));
        lines.push(labelled(label, width, '│', drawn.collect()));
    }
    lines.push(labelled(&labels[1], width, '┼', "─".repeat(band.columns.len())));
    for line in 0..below {
        let label = if line + 1 == below { labels[2].as_str() } else { "" };
        let drawn = band.columns.iter().map(|column| downwards(column[0] / lowest, below, line));
        lines.push(labelled(label, width, '│', drawn.collect()));
    }
    lines.push(foot(band, width));
    lines
}

fn labelled(label: &str, width: usize, axis: char, drawn: String) -> String {
    let room = " ".repeat(width - label.width());
    format!("{room}{label} {axis}{}", drawn.trim_end())
}

/// The part of a column that stands in one line, counted from the top.
fn upwards(share: f64, lines: usize, line: usize) -> char {
    let eighths = (share.clamp(0.0, 1.0) * lines as f64 * 8.0).round() as usize;
    EIGHTHS[eighths.saturating_sub(8 * (lines - 1 - line)).min(8)]
}

/// Blocks hang from the top only whole or by half.
fn downwards(share: f64, lines: usize, line: usize) -> char {
    let halves = (share.clamp(0.0, 1.0) * lines as f64 * 2.0).round() as usize;
    [' ', '▀', '█'][halves.saturating_sub(2 * line).min(2)]
}

fn foot(band: &Band<'_>, width: usize) -> String {
    let [left, right] = &band.ends;
    let room = band.columns.len().saturating_sub(left.width() + right.width());
    format!("{} {left}{}{right}", " ".repeat(width + 1), " ".repeat(room))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blows_on_both_flanks_stand_on_either_side_of_the_zero_line() {
        let columns = [[0.0, 0.0], [0.0, 10.0], [-5.0, 0.0], [-5.0, 10.0]];
        let ends = ["0".to_owned(), "1".to_owned()];
        let lines = plot(&Band { columns: &columns, value: &|value| format!("{value}"), ends });
        assert_eq!(lines.len(), HEIGHT + 2);
        assert_eq!(lines[0], "10 │ █ █");
        assert_eq!(lines[9], " 0 ┼────");
        assert_eq!(lines[10], "   │  ██");
        assert_eq!(lines[13], "-5 │  ██");
        assert_eq!(lines[14], "    0  1");
    }

    #[test]
    fn nothing_is_drawn_of_nothing() {
        let ends = [String::new(), String::new()];
        assert!(plot(&Band { columns: &[[0.0, 0.0]; 3], value: &|_| String::new(), ends }).is_empty());
    }
}
