//! Debian's PostgreSQL for tests: a server of their own, and a fresh database on it.
//!
//! The first test that needs it makes a cluster in a temporary folder, on a port of its own, as a user without rights (it
//! refuses to run as root). A shell holds it and takes it away when the tests end, however they end.
//! `TOOTHSAYER_TEST_POSTGRES_URL` names another server.

use std::io::{BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};
use toothsayer_records::Place;

static COUNT: AtomicU32 = AtomicU32::new(0);

fn name() -> String {
    format!("fresh_{}_{}", std::process::id(), COUNT.fetch_add(1, Ordering::SeqCst))
}

/// A database that holds nothing yet.
pub fn fresh() -> Place {
    let (name, server) = (name(), server());
    run(Command::new("psql").args([&format!("{server}/postgres"), "-qc", &format!("CREATE DATABASE {name}")]));
    Place::parse(&format!("{server}/{name}")).unwrap()
}

fn run(command: &mut Command) {
    let output = command.output().unwrap_or_else(|error| panic!("{command:?}: {error}"));
    assert!(output.status.success(), "{command:?}: {}", String::from_utf8_lossy(&output.stderr));
}

/// The address of the server, without a database.
fn server() -> &'static str {
    static SERVER: OnceLock<(String, Option<Server>)> = OnceLock::new();
    &SERVER
        .get_or_init(|| match std::env::var("TOOTHSAYER_TEST_POSTGRES_URL") {
            Ok(url) => (url.trim_end_matches('/').to_owned(), None),
            Err(_) => {
                let server = Server::start();
                (server.url.clone(), Some(server))
            }
        })
        .0
}

/// A server of our own, which can be stopped as a power cut does it, and started again.
pub struct Server {
    /// Its address, without a database.
    pub url: String,
    child: Child,
    told: BufReader<ChildStdout>,
}

/// Stops and starts the server as it is told, a word a line. Ends with its standard input: then it stops the server and
/// takes the folder away.
const HOLD: &str = r#"
bin="$1" folder="$2" port="$3"
"$bin/initdb" -D "$folder/data" -U bench -A trust --locale=C -E UTF8 >"$folder/log" 2>&1 || { cat "$folder/log" >&2; exit 1; }
start() {
    "$bin/pg_ctl" -D "$folder/data" -l "$folder/log" -w \
        -o "-p $port -c listen_addresses=127.0.0.1 -c unix_socket_directories='' -c fsync=off -c max_connections=200" start >/dev/null
}
stop() { "$bin/pg_ctl" -D "$folder/data" -m immediate stop >/dev/null; }
while read -r word; do
    "$word"
    echo "$word"
done
stop
rm -rf "$folder"
"#;

impl Server {
    pub fn start() -> Self {
        let bin = bin();
        let folder = std::env::temp_dir().join(format!("{}_cluster", name()));
        std::fs::create_dir_all(&folder).unwrap();
        let port = free_port();
        let root = Command::new("id").arg("-u").output().unwrap().stdout == b"0\n";
        let mut command = if root {
            run(Command::new("chown").arg("nobody").arg(&folder));
            let mut command = Command::new("setpriv");
            command.args(["--reuid=nobody", "--clear-groups", "sh"]);
            command
        } else {
            Command::new("sh")
        };
        command.args(["-c", HOLD, "sh"]).arg(&bin).arg(&folder).arg(port.to_string()).current_dir(&folder);
        let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
        let told = BufReader::new(child.stdout.take().unwrap());
        let mut server = Self { url: format!("postgres://bench@127.0.0.1:{port}"), child, told };
        server.tell("start");
        server
    }

    /// Tells the shell "stop" or "start", and waits until it is done.
    pub fn tell(&mut self, word: &str) {
        writeln!(self.child.stdin.as_mut().unwrap(), "{word}").unwrap();
        let mut line = String::new();
        self.told.read_line(&mut line).unwrap();
        assert_eq!(line.trim_end(), word, "PostgreSQL at {} did not do it", self.url);
    }
}

fn free_port() -> u16 {
    std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port()
}

/// The folder of the server's programs, the newest where there are several.
fn bin() -> PathBuf {
    let versions = std::fs::read_dir("/usr/lib/postgresql").into_iter().flatten();
    let folders = versions.map(|entry| entry.unwrap().path().join("bin"));
    let newest = folders.filter(|bin| bin.join("initdb").exists()).max();
    newest.unwrap_or_else(|| {
        panic!("PostgreSQL is missing: install Debian's postgresql, or name a server in TOOTHSAYER_TEST_POSTGRES_URL")
    })
}
