//! The program as it serves: the demo from its first line to its last.

#![cfg(unix)]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, ChildStdout, Command, Stdio};

/// A program that serves, and what it prints; it ends with the test.
struct Serving {
    child: Child,
    output: BufReader<ChildStdout>,
    folder: PathBuf,
}

impl Serving {
    /// Starts it, with a folder of its own for what passes.
    fn start(name: &str, arguments: &[&str]) -> Self {
        let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let mut command = Command::new(env!("CARGO_BIN_EXE_toothsayer"));
        command.args(arguments).env("TMPDIR", &folder).stdout(Stdio::piped());
        let mut child = command.spawn().unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        Self { child, output, folder }
    }

    /// What it prints up to and with a line that holds these words.
    fn until(&mut self, words: &str) -> String {
        let mut told = String::new();
        while !told.lines().next_back().is_some_and(|line| line.contains(words)) {
            let read = self.output.read_line(&mut told).unwrap();
            assert!(read > 0, "it ended before it told {words:?}:\n{told}");
        }
        told
    }

    /// Sends a signal, waits for the end, and answers whether it ended well and what it told last.
    fn end_by(&mut self, signal: &str) -> (bool, String) {
        let pid = self.child.id().to_string();
        assert!(Command::new("kill").args([signal, &pid]).status().unwrap().success());
        let mut rest = String::new();
        self.output.read_to_string(&mut rest).unwrap();
        (self.child.wait().unwrap().success(), rest)
    }

    /// What lies in its folder for what passes.
    fn left(&self) -> usize {
        std::fs::read_dir(&self.folder).unwrap().count()
    }
}

impl Drop for Serving {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

/// Asks for an address and answers what comes back, head and all.
fn get(url: &str, cookie: &str) -> String {
    let (host, path) = url.strip_prefix("http://").unwrap().split_once('/').unwrap();
    let mut stream = TcpStream::connect(host).unwrap();
    write!(stream, "GET /{path} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nConnection: close\r\n\r\n").unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer
}

/// The first address with this in it.
fn address<'a>(told: &'a str, part: &str) -> &'a str {
    told.split_whitespace().find(|word| word.starts_with("http://") && word.contains(part)).unwrap()
}

#[test]
fn the_demo_serves_an_invented_shop_with_the_example_on_its_bench_and_throws_it_away() {
    let mut demo = Serving::start("demo", &["demo"]);
    let told = demo.until("Ctrl-C ends it");
    assert!(told.contains("Why did the teeth go?"), "the job is printed first");
    assert_eq!(told.matches("/come-in?code=").count(), 3, "a way in for each role");
    assert_eq!(demo.left(), 1, "the shop lies in one folder");
    let answer = get(address(&told, "/come-in?code="), "");
    let cookie = answer.lines().find_map(|line| line.strip_prefix("set-cookie: ")).unwrap().split(';').next().unwrap();
    let sheet = get(address(&told, "/jobs/"), cookie);
    assert!(sheet.starts_with("HTTP/1.1 200") && sheet.contains("Tarnhorn 6"), "{sheet}");
    assert!(sheet.contains("0.45 mm"), "what was found stands on the sheet");
    let (well, last) = demo.end_by("-INT");
    assert!(well && last.contains("stopped"), "{last}");
    assert_eq!(demo.left(), 0, "nothing stays behind");
}

#[test]
fn the_demo_that_ends_while_its_shop_is_made_leaves_nothing_behind() {
    let mut demo = Serving::start("demo-cut", &["demo"]);
    demo.until("follow in some seconds");
    let (well, last) = demo.end_by("-INT");
    assert!(well && last.contains("stopped"), "{last}");
    assert_eq!(demo.left(), 0, "nothing stays behind");
}
