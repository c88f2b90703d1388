//! `records`: what the shop knows, asked and changed at the command line.

mod check;
mod erase;
mod export;
mod find;
mod import;
mod invent;
mod list;
mod show;
mod told;
mod truck;

use crate::args::{RecordsArgs, RecordsCommand};
use crate::desk_records::{closed, existing, made, waiting};
use crate::failure::Failure;
use crate::input::{Desk, text_file};

/// Does what is asked of the records, and leaves them closed: SQLite's file is then whole without its log.
pub fn run(desk: &Desk<'_>, args: &RecordsArgs) -> Result<String, Failure> {
    let file = match &args.command {
        RecordsCommand::Import(import) => Some(text_file(&import.file)?),
        _ => None,
    };
    waiting(async {
        let makes = file.is_some() || matches!(args.command, RecordsCommand::Invent);
        let store = if makes { made(&args.kept).await? } else { existing(&args.kept).await? };
        let answer = match &args.command {
            RecordsCommand::List(list) => list::run(desk, &store, list).await,
            RecordsCommand::Show(show) => show::run(desk, &store, show).await,
            RecordsCommand::Find(find) => find::run(desk, &store, find).await,
            RecordsCommand::Import(import) => import::run(desk, &store, import, file.as_deref().unwrap_or("")).await,
            RecordsCommand::Invent => invent::run(desk, &store).await,
            RecordsCommand::Export(export) => export::run(desk, &store, export).await,
            RecordsCommand::Erase(erase) => erase::run(desk, &store, erase).await,
            RecordsCommand::Check => check::run(desk, &store).await,
        };
        closed(store, answer).await
    })
}
