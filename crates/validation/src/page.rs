//! The page of all rows, in Markdown.

use crate::check::{Check, Claim, Status};
use std::fmt::Write as _;

const HEAD: &str = "# Validation\n\n\
    What others have published beside what this program computes. Made by one command:\n\n\
    ```sh\ncargo run -p toothsayer-validation > docs/validation.md\n```\n\n\
    A test holds every row within its tolerance, and this page to what the command prints. `printed`: read in the named \
    source or in a page that reproduces it; `from memory`: of the named source; `own calculation`: no print exists, \
    calculated from the named formula by other means. A row marked **not** is a known misprint or slip of its source: it \
    holds when the figure does not come out.\n";

const TAIL: &str = "\n## Not computed here\n\n\
    AGMA's rating examples (another method than ISO 6336), the worked examples of ISO/TR 6336-30 (their figures could not \
    be read), rainflow counting, survival statistics and stocking (not part of the program yet). General solvers and \
    libraries are held against the program by `reference/check.py`: SciPy (involute, driveline), shapely (outlines in \
    mesh), pyAgrum (networks).\n";

/// Every check as one page.
pub fn page(checks: &[Check]) -> String {
    let mut out = String::from(HEAD);
    summary(checks, &mut out);
    let mut subject = "";
    let mut source = "";
    for check in checks {
        if check.subject != subject {
            subject = check.subject;
            source = "";
            let _ = writeln!(out, "\n## {subject}");
        }
        if check.source != source {
            source = check.source;
            let unit = if check.unit.is_empty() { String::new() } else { format!(" [{}]", check.unit) };
            let _ = writeln!(out, "\n**{source}** ({}; {}){unit}\n", check.status.words(), check.because);
            out.push_str("| of | expected | got | difference | allowed |\n|---|---:|---:|---:|---:|\n");
        }
        row(check, &mut out);
    }
    out.push_str(TAIL);
    out
}

fn summary(checks: &[Check], out: &mut String) {
    let of = |status: Status| checks.iter().filter(|check| check.status == status).count();
    let held = checks.iter().filter(|check| check.holds()).count();
    let mut sources: Vec<&str> = checks.iter().map(|check| check.source).collect();
    sources.sort_unstable();
    sources.dedup();
    let _ = writeln!(
        out,
        "\n{} rows from {} tables and examples: {} printed, {} from memory, {} own calculation; {held} hold.",
        checks.len(),
        sources.len(),
        of(Status::Printed),
        of(Status::Memory),
        of(Status::Calculated)
    );
}

fn row(check: &Check, out: &mut String) {
    let not = if check.claim == Claim::MustNotComeOut { "**not** " } else { "" };
    let unit = if check.unit.is_empty() { String::new() } else { format!(" {}", check.unit) };
    let _ = writeln!(
        out,
        "| {} | {not}{}{unit} | {}{unit} | {} | {} |",
        check.what,
        digits(check.expected, 10),
        digits(check.got, 7),
        digits(noise_free(check), 2),
        digits(check.tolerance, 2)
    );
}

/// The difference; what is rounding of doubles counts as none, so that the page is the same on every machine.
fn noise_free(check: &Check) -> f64 {
    const ROUNDING: f64 = 1e-9;
    let off = check.got - check.expected;
    if off.abs() <= ROUNDING * check.expected.abs().max(ROUNDING) { 0.0 } else { off }
}

/// A number of so many significant digits, without trailing zeros.
fn digits(value: f64, count: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value.is_nan() { "refused".into() } else { format!("{value}") };
    }
    let rounded: f64 = format!("{value:.*e}", count - 1).parse().unwrap_or(value);
    let size = rounded.abs();
    if (1e-5..1e7).contains(&size) { format!("{rounded}") } else { format!("{rounded:e}") }
}
