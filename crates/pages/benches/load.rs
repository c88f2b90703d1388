//! Times of the pages under load: fifty users at once on a shop larger than any, over real sockets.
//!
//! `cargo bench -p toothsayer-pages`, with the number of jobs behind `--` where another one is wanted. Each page is asked for
//! by users who look at what they got for a second before they go on, and by users who do not look at all: those
//! show what the machine can do. A static page of the same process stands beside them.

use std::borrow::Cow;
use std::net::SocketAddr;
use std::path::Path;
use std::time::{Duration, Instant};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::oneshot;
use toothsayer_fault_book::FaultBook;
use toothsayer_invented_shop::{LARGE, Large, fill_large};
use toothsayer_pages::{App, Hosts, Log, Setting, serve};
use toothsayer_records::{Acting, Incoming, Person, Place, Role, Store, Subject, find, trucks_of};

/// Users at once.
const USERS: u32 = 50;
/// Requests of each user.
const ROUNDS: u32 = 30;
/// How long a user looks at a page.
const LOOK: Duration = Duration::from_secs(1);
/// Jobs on the bench, which the sheets are of.
const ON_THE_BENCH: usize = 12;
/// The example's file: the large shop's own jobs have no build that could be computed.
const TARNHORN: &str = include_str!("../../../examples/tarnhorn.toml");
/// What is looked for: names, tags of trucks, mistyped words, words of notes.
const WORDS: [&str; 8] =
    ["vernier", "tarnhorn", "batun", "vernir+maple", "5550123", "screamed+landing", "motor+rocks", "hazel"];

type Failed = Box<dyn std::error::Error + Send + Sync>;

fn main() -> Result<(), Failed> {
    let jobs = std::env::args().filter_map(|word| word.parse().ok()).next().unwrap_or(LARGE.jobs);
    let size = Large { jobs, trucks: (jobs / 5).max(1), ..LARGE };
    let folder = std::env::temp_dir().join(format!("load_{}", std::process::id()));
    std::fs::create_dir_all(&folder)?;
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    let done = runtime.block_on(all(size, &folder));
    std::fs::remove_dir_all(&folder)?;
    done
}

async fn all(size: Large, folder: &Path) -> Result<(), Failed> {
    let store = Store::open(&Place::File(folder.join("records.sqlite"))).await?;
    let rows = fill_large(&store, size, |_| {}).await?;
    println!("{} jobs, {rows} rows in SQLite; {USERS} users, {ROUNDS} requests each; times in ms", size.jobs);
    println!("load of the machine before: {}", std::fs::read_to_string("/proc/loadavg").unwrap_or_default().trim());
    let sheets = on_the_bench(&store).await?;
    let listener = TcpListener::bind("127.0.0.1:0").await?;
    let at = listener.local_addr()?;
    let (book, hosts) = (Cow::Borrowed(FaultBook::built_in()), Hosts::new(at, &[]));
    let app = App::new(Setting { store: store.clone(), book, hosts, https: false, log: Log::Quiet })?;
    let way_in = app.way_in(owner(&store).await?)?;
    let (stop, stopped) = oneshot::channel::<()>();
    let served = tokio::spawn(async move { serve(&app, listener, async { drop(stopped.await) }).await });
    asked(at, &way_in, &sheets).await?;
    drop(stop);
    served.await??;
    Ok(store.close().await?)
}

async fn owner(store: &Store) -> Result<toothsayer_records::Id<Person>, Failed> {
    let write = store.begin(Acting::program()).await?;
    let owner = write.add(Person::new(&write, "Owner (invented)", Role::Owner)).await?.id;
    write.commit().await?;
    Ok(owner)
}

/// Takes some trucks in with the example's build; answers the paths of their sheets.
async fn on_the_bench(store: &Store) -> Result<Vec<String>, Failed> {
    let hits = find(store, "vernier", ON_THE_BENCH).await?;
    let write = store.begin(Acting::program()).await?;
    let mut sheets = Vec::new();
    for hit in hits {
        let Subject::Customer(customer) = hit.subject else { continue };
        for truck in trucks_of(&write, customer).await? {
            let incoming = Incoming { truck: truck.id, comeback_of: None, text: TARNHORN, book: FaultBook::built_in() };
            sheets.push(format!("/jobs/{}", write.import(incoming).await?.number));
        }
    }
    write.commit().await?;
    if sheets.is_empty() { Err("no truck was taken in".into()) } else { Ok(sheets) }
}

async fn asked(at: SocketAddr, way_in: &str, sheets: &[String]) -> Result<(), Failed> {
    let mut user = User::come(at, way_in).await?;
    let style = user.style().await?;
    let searches: Vec<String> = WORDS.iter().map(|word| format!("/find?q={word}")).collect();
    for sheet in sheets {
        // The first look at a sheet computes it; what is measured is a shop at work.
        user.get(sheet).await?;
    }
    let pages = [
        ("static page", vec![style]),
        ("today", vec!["/".to_owned()]),
        ("job sheet", sheets.to_vec()),
        ("search", searches),
    ];
    for (look, words) in [(LOOK, "who look for a second"), (Duration::ZERO, "who do not look")] {
        println!("users {words}:");
        for (name, paths) in &pages {
            let (mut times, took) = crowd(at, way_in, paths, look).await?;
            times.sort_by(f64::total_cmp);
            let at = |share: f64| times[((times.len() - 1) as f64 * share) as usize];
            let (median, p99, each_second) = (at(0.5), at(0.99), times.len() as f64 / took);
            println!("{name:>12}: median {median:7.2}, 99 in 100 below {p99:7.2}, {each_second:6.0} requests/s");
        }
    }
    Ok(())
}

/// All users at once; the times of their requests, ms, and how long it took, s.
async fn crowd(at: SocketAddr, way_in: &str, paths: &[String], look: Duration) -> Result<(Vec<f64>, f64), Failed> {
    let mut users = Vec::new();
    for _ in 0..USERS {
        users.push(User::come(at, way_in).await?);
    }
    let began = Instant::now();
    let walks = users.into_iter().zip(0_u32..).map(|(mut user, number)| {
        let paths = paths.to_vec();
        tokio::spawn(async move {
            // Nobody begins at the same moment as somebody else.
            tokio::time::sleep(look * number / USERS).await;
            let mut times = Vec::new();
            for round in 0..ROUNDS {
                let asked = Instant::now();
                user.get(&paths[(number + round) as usize % paths.len()]).await?;
                times.push(asked.elapsed().as_secs_f64() * 1e3);
                tokio::time::sleep(look).await;
            }
            Ok::<_, Failed>(times)
        })
    });
    let walks: Vec<_> = walks.collect();
    let mut times = Vec::new();
    for walk in walks {
        times.extend(walk.await??);
    }
    Ok((times, began.elapsed().as_secs_f64()))
}

/// Somebody signed in, on a connection that stays open.
struct User {
    stream: TcpStream,
    cookie: String,
}

impl User {
    async fn come(at: SocketAddr, way_in: &str) -> Result<Self, Failed> {
        let mut user = Self { stream: TcpStream::connect(at).await?, cookie: String::new() };
        user.stream.set_nodelay(true)?;
        let head = user.ask(way_in).await?.0;
        let cookie = head.lines().find_map(|line| line.strip_prefix("set-cookie: ")).ok_or("nobody was let in")?;
        user.cookie = cookie.split(';').next().unwrap_or_default().to_owned();
        Ok(user)
    }

    /// The style sheet's address.
    async fn style(&mut self) -> Result<String, Failed> {
        let page = self.get("/").await?;
        let address = page.split('"').find(|word| word.starts_with("/assets/")).ok_or("the page has no style")?;
        Ok(address.to_owned())
    }

    /// A page, which must be there.
    async fn get(&mut self, path: &str) -> Result<String, Failed> {
        let (head, body) = self.ask(path).await?;
        if head.starts_with("HTTP/1.1 200") { Ok(body) } else { Err(format!("{path}: {head}\n{body}").into()) }
    }

    /// One request; the answer's head and body.
    async fn ask(&mut self, path: &str) -> Result<(String, String), Failed> {
        let cookie = &self.cookie;
        let request = format!("GET {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: {cookie}\r\n\r\n");
        self.stream.write_all(request.as_bytes()).await?;
        let mut bytes = Vec::with_capacity(64 * 1024);
        let body = loop {
            if self.stream.read_buf(&mut bytes).await? == 0 {
                return Err("the connection was closed".into());
            }
            if let Some(end) = bytes.windows(4).position(|four| four == b"\r\n\r\n") {
                break end + 4;
            }
        };
        let head = String::from_utf8(bytes[..body].to_vec())?;
        let length = head.lines().find_map(|line| line.strip_prefix("content-length: ")).unwrap_or("0");
        let length: usize = length.parse()?;
        while bytes.len() < body + length {
            if self.stream.read_buf(&mut bytes).await? == 0 {
                return Err("the connection was closed".into());
            }
        }
        Ok((head, String::from_utf8(bytes.split_off(body))?))
    }
}
