//! The invented shop of `demo`: in a folder that is thrown away, served to this machine alone until Ctrl-C.

use crate::commands::signals::stop;
use crate::desk_records::{closed, waiting};
use crate::failure::Failure;
use crate::input::Desk;
use crate::paper::{self, Paper};
use crate::progress;
use std::io::ErrorKind;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use tokio::net::TcpListener;
use toothsayer_invented_shop::{Nature, SEED, fill};
use toothsayer_pages::{App, Hosts, Log, Setting, serve};
use toothsayer_records::{Acting, Customer, Incoming, Job, Place, Role, Saved, Secret, Store, Write, everybody};

/// Where `serve` listens too; another one where it is taken.
const PORT: u16 = 7878;
/// Whose truck the example's is.
const CUSTOMER: &str = "A. Fernhill (invented)";
/// What they say.
const SAID: &str = "It screamed on the landing, then the motor ran free. New gears six runs ago.";

/// A folder that goes away with its value.
struct Folder(PathBuf);

impl Folder {
    /// A new one that nobody else reads, of a name that nobody knows beforehand.
    fn new() -> Result<Self, Failure> {
        let secret = Secret::drawn()?;
        let name = format!("toothsayer-demo-{}", secret.reveal().get(..16).unwrap_or_default());
        let path = std::env::temp_dir().join(name);
        let mut builder = std::fs::DirBuilder::new();
        #[cfg(unix)]
        std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
        let wrong =
            |error| Failure::could(format!("{} cannot be made: {error}", path.display()), "make some room there");
        builder.create(&path).map_err(wrong)?;
        Ok(Self(path))
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // What cannot be taken away is the system's to clear: its folder is for what may go.
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// Serves the invented shop, with this job in it, until Ctrl-C.
pub fn serve_until_ctrl_c(desk: &Desk<'_>, job: &str) -> Result<String, Failure> {
    waiting(async {
        let stop = stop()?;
        progress::leave_ctrl_c();
        paper::print("\nThe pages of an invented shop follow in some seconds.\n\n");
        let folder = Folder::new()?;
        let store = Store::open(&Place::File(folder.0.join("shop.sqlite"))).await?;
        let served = tokio::select! {
            served = served(desk, job, store.clone()) => served,
            () = stop => Ok(()),
        };
        closed(store, served).await
    })?;
    Ok("stopped; the invented shop is thrown away\n".into())
}

async fn served(desk: &Desk<'_>, text: &str, store: Store) -> Result<(), Failure> {
    let book = desk.book.clone();
    // Computed elsewhere, so that Ctrl-C is heard meanwhile.
    let nature = tokio::task::spawn_blocking(move || Nature::of(&book)).await;
    let nature = nature.map_err(|_| Failure::could("the invented shop cannot be drawn", "start it again"))??;
    fill(&store, &desk.book, &nature, SEED).await?;
    let job = taken_in(desk, text, &store).await?;
    let listener = listener().await?;
    let unknown = |error: std::io::Error| Failure::could(format!("the port is not known: {error}"), "start it again");
    let address = listener.local_addr().map_err(unknown)?;
    let (book, hosts) = (desk.book.clone(), Hosts::new(address, &[]));
    let app = App::new(Setting { store: store.clone(), book, hosts, https: false, log: Log::Quiet })?;
    paper::print(&told(address, &job, &ways_in(&app, &store).await?));
    serve(&app, listener, std::future::pending())
        .await
        .map_err(|error| Failure::could(error.to_string(), "start it again"))
}

/// At the usual port, or at any that is free: to this machine alone.
async fn listener() -> Result<TcpListener, Failure> {
    let at = |port| SocketAddr::from((Ipv4Addr::LOCALHOST, port));
    let bound = match TcpListener::bind(at(PORT)).await {
        Err(error) if error.kind() == ErrorKind::AddrInUse => TcpListener::bind(at(0)).await,
        bound => bound,
    };
    bound.map_err(|error| {
        let hint = "give --no-serve to print the job alone";
        Failure::could(format!("the pages cannot be served at 127.0.0.1: {error}"), hint)
    })
}

/// The example's job, with its findings, as the counter takes it in.
async fn taken_in(desk: &Desk<'_>, text: &str, store: &Store) -> Result<Job, Failure> {
    let counter = everybody(store).await?.into_iter().find(|person| person.role == Role::Counter);
    let write = store.begin(Acting { who: counter.map(|person| person.id), ..Acting::program() }).await?;
    let job = kept(&write, desk, text).await?;
    write.commit().await?;
    Ok(job)
}

async fn kept(write: &Write, desk: &Desk<'_>, text: &str) -> Result<Job, Failure> {
    let customer = write.add(Customer { note: "invented".into(), ..Customer::new(write, CUSTOMER) }).await?;
    let truck = write.truck(customer.id, "Tarnhorn 6").await?.id;
    let job = write.import(Incoming { truck, comeback_of: None, text, book: &desk.book }).await?;
    let due = Some(write.now().after_minutes(3 * 24 * 60));
    match write.save(Job { said: SAID.into(), due, ..job }).await? {
        Saved::Saved(job) | Saved::Clash { theirs: job, .. } => Ok(job),
    }
}

/// Everybody of the shop, with the path that lets them in.
async fn ways_in(app: &App, store: &Store) -> Result<Vec<(String, String)>, Failure> {
    let people = everybody(store).await?;
    people.into_iter().map(|person| Ok((person.name, app.way_in(person.id)?))).collect()
}

/// Where the pages are, and what to look at.
fn told(address: SocketAddr, job: &Job, ways_in: &[(String, String)]) -> String {
    let mut paper = Paper::new();
    paper.heading("The same at the bench: the pages of Millrace Models");
    paper.paragraph(
        "An invented shop with two years of invented jobs is served to this machine alone, with nobody's \
         data in it. Come in as one of its people:",
    );
    paper.blank();
    let first = ways_in.iter().map(|(name, path)| format!("  {name}\n    http://{address}{path}"));
    paper.lines(&first.collect::<Vec<_>>());
    paper.blank();
    paper.paragraph("Then look at:");
    for (path, what) in [
        (
            format!("/jobs/{}", job.number),
            "the Tarnhorn 6 on the bench: touch a part of the drawing, write what you find",
        ),
        (format!("/jobs/{}/verdict", job.number), "what holds, why the teeth went, what to do"),
        ("/".to_owned(), "today: what the shop's open jobs wait for"),
        ("/take-in".to_owned(), "your own truck, from five facts"),
    ] {
        paper.lines(&[format!("  http://{address}{path}")]);
        paper.item("   ", what);
    }
    paper.blank();
    paper.paragraph("Ctrl-C ends it and throws the shop away.");
    paper.finish()
}
