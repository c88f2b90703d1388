//! Prints the validation page.

use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    let checks = toothsayer_validation::all();
    let page = toothsayer_validation::page(&checks);
    let printed = std::io::stdout().lock().write_all(page.as_bytes());
    if printed.is_ok() && checks.iter().all(toothsayer_validation::Check::holds) {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
