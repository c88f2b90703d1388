//! Toothsayer at the command line: why the teeth went, and whether the next set will hold.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod args;
mod commands;
mod desk_records;
mod failure;
mod input;
mod json;
mod paper;
mod picture;
mod plot;
mod progress;
mod words;

use args::{Cli, Command};
use clap::Parser;
use failure::Failure;
use std::process::ExitCode;

fn main() -> ExitCode {
    let cli = Cli::parse();
    // Who serves ends by itself, once what is under way is finished.
    if !matches!(cli.command, Command::Serve(_)) {
        progress::mind_ctrl_c();
    }
    match run(&cli) {
        Ok(text) => paper::print(&text),
        Err(failure) => failure.report(),
    }
}

/// What the command prints.
fn run(cli: &Cli) -> Result<String, Failure> {
    let desk = input::Desk::new(&cli.global)?;
    match &cli.command {
        Command::Demo(args) => commands::demo::run(&desk, args),
        Command::Begin(args) => commands::begin::run(&desk, args),
        Command::Margins(args) => commands::margins::run(&desk, args),
        Command::Change(args) => commands::change::run(&desk, args),
        Command::Explore(args) => commands::explore::run(&desk, args),
        Command::Why(args) => commands::why::run(&desk, args),
        Command::Plan(args) => commands::plan::run(&desk, args),
        Command::Care(args) => commands::care::run(&desk, args),
        Command::Statement(args) => commands::statement::run(&desk, args),
        Command::Screws(args) => commands::screws::run(&desk, args),
        Command::Measure(args) => commands::measure::run(&desk, args),
        Command::Gears(args) => commands::gears::run(&desk, args),
        Command::Motor(args) => commands::motor::run(&desk, args),
        Command::Shock(args) => commands::shock::run(&desk, args),
        Command::Life(args) => commands::life::run(&desk, args),
        Command::Walk(args) => commands::walk::run(&desk, args),
        Command::Figure(args) => commands::figure::run(&desk, args),
        Command::Paper(args) => commands::paper::run(&desk, args),
        Command::Identify(args) => commands::identify::run(&desk, args),
        Command::Materials(args) => commands::materials::run(&desk, args),
        Command::FaultBook(args) => commands::fault_book::run(&desk, args),
        Command::Records(args) => commands::records::run(&desk, args),
        Command::Backup(args) => commands::backup::run(&desk, args),
        Command::Restore(args) => commands::restore::run(&desk, args),
        Command::Serve(args) => commands::serve::run(&desk, args),
        Command::Completions(args) => Ok(args::completions(args.shell)),
        Command::Manual(args) => commands::manual::run(args),
    }
}
