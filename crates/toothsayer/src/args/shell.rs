//! What may be typed for completions and manual pages.

use super::Cli;
use clap::{Args, CommandFactory};
use clap_complete::{Shell, generate};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct CompletionsArgs {
    /// The shell
    pub shell: Shell,
}

#[derive(Debug, Args)]
pub struct ManualArgs {
    /// The command whose page is printed; the program's own where none is named
    pub command: Option<String>,
    /// Write every page into this folder instead
    #[arg(long, value_name = "FOLDER", conflicts_with = "command")]
    pub into: Option<PathBuf>,
}

/// The completion script of a shell.
pub fn completions(shell: Shell) -> String {
    let mut script = Vec::new();
    generate(shell, &mut Cli::command(), "toothsayer", &mut script);
    String::from_utf8_lossy(&script).into_owned()
}
