//! The self-test as a page.

use super::{Calibration, Reliability};
use std::fmt::Write;

/// Cells of a bar that stands for certainty.
const WIDTH: f64 = 40.0;

/// `docs/calibration.md`.
pub fn page(calibration: &Calibration) -> String {
    let mut out = String::from(
        "# Calibration: a self-test\n\n\
         Made by `cargo run --release -p toothsayer-validation -- calibration`. Trucks are drawn from the fault book's own\n\
         model with the mechanics' triggers of the example truck, their teeth gone, half of the checks made; each undecided\n\
         cause is predicted and compared with the truth. This shows that the inference keeps what the model promises, and\n\
         how it degrades where the book is wrong. It does not show that the book's numbers are those of real trucks.\n",
    );
    section(&mut out, "Trucks of the book's own model", &calibration.own);
    section(
        &mut out,
        "Trucks of another book: causes twice and half as likely in turn, links a fifth weaker, false alarms half as often again",
        &calibration.other,
    );
    let minutes = &calibration.minutes;
    let told = format!(
        "\n## Minutes of looking\n\n\
         {} trucks of which only the complaint is known; checks until every cause that is there, and takes a set by itself\n\
         with 30 % or more, stands at 80 %, or until no check is left: in the order that the program gives {:.1} minutes on\n\
         average, in the bench's order {:.1}.\n",
        minutes.trucks, minutes.next, minutes.bench
    );
    out.push_str(&told);
    out
}

fn section(out: &mut String, title: &str, reliability: &Reliability) {
    let trucks = reliability.trucks;
    // Writing into a string cannot fail.
    let _ = write!(
        out,
        "\n## {title}\n\n{trucks} trucks. Brier score {:.4}; of whoever only knows how common each cause is {:.4}.\n\n\
         | predicted | how often | mean predicted | came true | standard errors apart | ▒ predicted, █ came true |\n\
         |---|---:|---:|---:|---:|---|\n",
        reliability.brier, reliability.brier_of_priors
    );
    for (place, bin) in reliability.bins.iter().enumerate() {
        let apart = (bin.observed() - bin.mean()) / bin.standard_error().max(1e-9);
        let bar = |share: f64, mark: &str| mark.repeat((share * WIDTH).round() as usize);
        let _ = writeln!(
            out,
            "| {} to {} % | {} | {:.1} % | {:.1} % | {apart:+.1} | {}<br>{} |",
            10 * place,
            10 * (place + 1),
            bin.count,
            100.0 * bin.mean(),
            100.0 * bin.observed(),
            bar(bin.mean(), "▒"),
            bar(bin.observed(), "█")
        );
    }
}
