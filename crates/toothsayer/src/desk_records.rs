//! Opening the shop's records: where they are, whether they are there, and waiting for what they answer.

use crate::args::Kept;
use crate::failure::Failure;
use crate::progress::Progress;
use std::fs::File;
use std::future::Future;
use std::path::{Path, PathBuf};
use toothsayer_records::{Place, Store};

/// The variable that names the records where no option does.
const VARIABLE: &str = "TOOTHSAYER_DATABASE";
/// The name of the file in the user's data folder.
const FILE: &str = "records.sqlite";

/// Waits for a piece of work with the records.
pub fn waiting<T>(work: impl Future<Output = Result<T, Failure>>) -> Result<T, Failure> {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build();
    runtime.map_err(|error| Failure::could(format!("no work can be begun: {error}"), ""))?.block_on(work)
}

/// Opens records that are there.
pub async fn existing(kept: &Kept) -> Result<Store, Failure> {
    let place = place_of(kept)?;
    match &place {
        Place::File(path) if !path.exists() => {
            let hint = "name them with --database, or begin with `toothsayer records import`";
            Err(Failure::could(format!("there are no records at {place}"), hint))
        }
        _ => Ok(Store::open(&place).await?),
    }
}

/// Opens records, and makes them where there are none.
pub async fn made(kept: &Kept) -> Result<Store, Failure> {
    let place = place_of(kept)?;
    if let Place::File(path) = &place
        && let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty())
    {
        let wrong = |error| Failure::could(format!("{} cannot be made: {error}", folder.display()), "check the path");
        std::fs::create_dir_all(folder).map_err(wrong)?;
    }
    if let Place::File(path) = &place
        && !path.exists()
    {
        // An empty file is an empty database; its log and index take over its rights.
        private(path)?;
    }
    Ok(Store::open(&place).await?)
}

/// Closes the records behind an answer. What went wrong before says more than a failure to close.
pub async fn closed<T>(store: Store, answer: Result<T, Failure>) -> Result<T, Failure> {
    let closed = store.close().await;
    let answer = answer?;
    closed?;
    Ok(answer)
}

/// Where the records are: the option, else the variable, else the user's data folder.
fn place_of(kept: &Kept) -> Result<Place, Failure> {
    let named = kept.database.clone().or_else(|| std::env::var(VARIABLE).ok().filter(|text| !text.is_empty()));
    match named {
        Some(text) => Place::parse(&text).map_err(|error| Failure::usage(error.to_string(), "")),
        None => Ok(Place::File(data_folder()?.join("toothsayer").join(FILE))),
    }
}

/// The folder for a user's data by the habit of the system.
fn data_folder() -> Result<PathBuf, Failure> {
    let set = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    let home = || set("HOME").or_else(|| set("USERPROFILE"));
    let folder = if cfg!(windows) {
        set("APPDATA")
    } else if cfg!(target_os = "macos") {
        home().map(|home| home.join("Library/Application Support"))
    } else {
        set("XDG_DATA_HOME").filter(|path| path.is_absolute()).or_else(|| home().map(|home| home.join(".local/share")))
    };
    folder.ok_or_else(|| Failure::usage("no folder for your data is known", "name the records with --database"))
}

/// A new empty file for what tells of customers: nobody but its owner reads it, where the system can say so.
pub fn private(path: &Path) -> Result<File, Failure> {
    let mut options = File::options();
    options.write(true).create(true).truncate(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(path).map_err(|error| unwritable(path, &error))
}

/// A file that cannot be written.
pub fn unwritable(path: &Path, error: &std::io::Error) -> Failure {
    let hint = match error.kind() {
        std::io::ErrorKind::StorageFull => "free some space, or name another disk: the records are as they were",
        _ => "check the path",
    };
    Failure::could(format!("{} cannot be written: {error}", path.display()), hint)
}

/// A new file beside the one that is meant, put in its place when it is whole.
pub fn beside(path: &Path) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(".part");
    path.with_file_name(name)
}

/// How many rows of how many are done, told as all progress is.
pub struct Counted {
    progress: Progress,
    most: u32,
}

impl Counted {
    /// Begins to count up to `most`.
    pub fn new(most: u64) -> Self {
        Self { progress: Progress::at_once(), most: u32::try_from(most).unwrap_or(u32::MAX) }
    }

    /// Begins to count where nobody knows how far.
    pub fn unknown() -> Self {
        Self { progress: Progress::at_once(), most: 0 }
    }

    /// So many are done.
    pub fn tell(&self, done: u64) {
        self.progress.tell(u32::try_from(done).unwrap_or(u32::MAX), self.most);
    }
}
