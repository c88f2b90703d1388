//! Prints the validation page, or the self-test of the diagnosis: `calibration`.

use std::io::Write;
use std::process::ExitCode;
use toothsayer_validation::{Check, calibration};

fn main() -> ExitCode {
    let asked = std::env::args().nth(1);
    let (page, holds) = match asked.as_deref() {
        None => {
            let checks = toothsayer_validation::all();
            (toothsayer_validation::page(&checks), checks.iter().all(Check::holds))
        }
        Some("calibration") => match calibration::calibration(calibration::FULL) {
            Ok(made) => (calibration::page(&made), true),
            Err(error) => (format!("could not: {error}\n"), false),
        },
        Some(other) => (format!("`{other}` is no page: leave it out, or ask for `calibration`\n"), false),
    };
    let printed = std::io::stdout().lock().write_all(page.as_bytes());
    if printed.is_ok() && holds { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
