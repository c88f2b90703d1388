//! `manual`: the manual pages, made from the same words as `--help`.

use crate::args::{Cli, ManualArgs};
use crate::failure::Failure;
use clap::{Command, CommandFactory};
use clap_mangen::Man;
use std::path::Path;
use toothsayer_quantity::nearest;

/// Prints one page, or writes all of them.
pub fn run(args: &ManualArgs) -> Result<String, Failure> {
    let mut program = Cli::command().disable_help_subcommand(true);
    program.build();
    match (&args.into, &args.command) {
        (Some(folder), _) => write_all(&program, folder),
        (None, None) => page(&program),
        (None, Some(name)) => page(named(&program, name)?),
    }
}

fn named<'a>(program: &'a Command, name: &str) -> Result<&'a Command, Failure> {
    program.find_subcommand(name).ok_or_else(|| {
        let near = nearest(name, program.get_subcommands().map(Command::get_name));
        let hint = near.map_or("`toothsayer --help` lists the commands".into(), |near| format!("did you mean {near}?"));
        Failure::usage(format!("there is no command \"{name}\""), hint)
    })
}

/// A page in roff, the manual's own format.
fn page(command: &Command) -> Result<String, Failure> {
    let mut roff = Vec::new();
    let title = file_stem(command);
    let page = Man::new(command.clone()).title(title.to_uppercase()).manual("Toothsayer");
    page.render(&mut roff).map_err(|error| Failure::could(format!("the page cannot be made: {error}"), ""))?;
    Ok(String::from_utf8_lossy(&roff).into_owned())
}

fn file_stem(command: &Command) -> String {
    command.get_display_name().unwrap_or_else(|| command.get_name()).to_owned()
}

fn write_all(program: &Command, folder: &Path) -> Result<String, Failure> {
    let cannot = |path: &Path, error: std::io::Error| {
        Failure::could(format!("{} cannot be written: {error}", path.display()), "check the folder")
    };
    std::fs::create_dir_all(folder).map_err(|error| cannot(folder, error))?;
    let mut written = String::new();
    for command in std::iter::once(program).chain(program.get_subcommands()) {
        let path = folder.join(format!("{}.1", file_stem(command)));
        std::fs::write(&path, page(command)?).map_err(|error| cannot(&path, error))?;
        written.push_str(&format!("{}\n", path.display()));
    }
    Ok(written)
}
