//! The program as it serves: the demo from its first line to its last, encryption, what is told of requests.

#![cfg(unix)]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStderr, ChildStdout, Command, Stdio};

/// A folder that goes with its test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// A program that serves, and what it prints; it ends with the test.
struct Serving {
    child: Child,
    output: BufReader<ChildStdout>,
    errors: BufReader<ChildStderr>,
    folder: Folder,
}

impl Serving {
    /// Starts it, with a folder of its own for what passes.
    fn start(name: &str, arguments: &[&str]) -> Self {
        let folder = Folder::new(&format!("{name}-passing"));
        let mut command = Command::new(env!("CARGO_BIN_EXE_toothsayer"));
        command.args(arguments).env("TMPDIR", &folder.0).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        let errors = BufReader::new(child.stderr.take().unwrap());
        Self { child, output, errors, folder }
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

    /// The next line on its standard error.
    fn error_line(&mut self) -> String {
        let mut line = String::new();
        self.errors.read_line(&mut line).unwrap();
        line
    }

    fn signal(&self, signal: &str) {
        let pid = self.child.id().to_string();
        assert!(Command::new("kill").args([signal, &pid]).status().unwrap().success());
    }

    /// Sends a signal, waits for the end, and answers whether it ended well and what it told last.
    fn end_by(&mut self, signal: &str) -> (bool, String) {
        self.signal(signal);
        let mut rest = String::new();
        self.output.read_to_string(&mut rest).unwrap();
        (self.child.wait().unwrap().success(), rest)
    }

    /// What lies in its folder for what passes.
    fn left(&self) -> usize {
        std::fs::read_dir(&self.folder.0).unwrap().count()
    }
}

impl Drop for Serving {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
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

/// A certificate of this name with its key, in a folder, made by the machine's own tool.
fn certificate(folder: &Path, name: &str) -> [String; 2] {
    let files = ["shop.pem", "shop-key.pem"].map(|file| folder.join(file).display().to_string());
    let [certificate, key] = &files;
    let arguments = "req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 2";
    let mut command = Command::new("openssl");
    command.args(arguments.split_whitespace()).args([
        "-subj",
        &format!("/CN={name}"),
        "-out",
        certificate,
        "-keyout",
        key,
    ]);
    let made = command.output().expect("openssl is missing: install Debian's openssl");
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    files
}

/// The name on the certificate that is shown at an address.
fn shown(url: &str) -> String {
    let host = url.strip_prefix("https://").unwrap().trim_end_matches('/');
    let mut command = Command::new("openssl");
    let answer = command.args(["s_client", "-connect", host]).stdin(Stdio::null()).output().unwrap();
    let text = String::from_utf8_lossy(&answer.stdout).into_owned();
    text.lines().find(|line| line.starts_with("subject=")).unwrap_or_else(|| panic!("{text}")).to_owned()
}

#[test]
fn pages_are_served_encrypted_and_a_renewed_certificate_is_taken_up_at_a_hang_up() {
    let folder = Folder::new("encrypted");
    let [pem, key] = certificate(&folder.0, "first.example");
    let records = folder.0.join("records.sqlite").display().to_string();
    let arguments = ["serve", "--listen", "127.0.0.1:0", "--database", &records, "--certificate", &pem, "--key", &key];
    let mut serving = Serving::start("encrypted", &arguments);
    let told = serving.until("Ctrl-C ends it");
    assert!(told.contains("/first-run?code=") && !told.contains("without encryption"), "{told}");
    let url = told.split_whitespace().find(|word| word.starts_with("https://")).unwrap();
    assert!(shown(url).contains("first.example"));
    certificate(&folder.0, "second.example");
    serving.signal("-HUP");
    assert!(serving.error_line().contains("the certificate was read again"));
    assert!(shown(url).contains("second.example"));
    let (well, last) = serving.end_by("-TERM");
    assert!(well && last.contains("what was under way is finished"), "{last}");
}

#[test]
fn a_certificate_without_its_key_is_wrong_usage_and_a_missing_file_is_told() {
    let refused = |arguments: &[&str], code: i32, told: &str| {
        let output = Command::new(env!("CARGO_BIN_EXE_toothsayer")).args(arguments).output().unwrap();
        let error = String::from_utf8(output.stderr).unwrap();
        assert_eq!((output.status.code(), error.contains(told)), (Some(code), true), "{error}");
    };
    refused(&["serve", "--certificate", "shop.pem"], 2, "--key");
    refused(&["serve", "--certificate", "none.pem", "--key", "none.pem"], 1, "none.pem cannot be read");
}

#[test]
fn each_request_is_one_line_of_json_that_tells_nothing_of_what_was_asked_for() {
    let folder = Folder::new("log");
    let records = folder.0.join("records.sqlite").display().to_string();
    let mut serving =
        Serving::start("log", &["serve", "--listen", "127.0.0.1:0", "--database", &records, "--log", "json"]);
    let told = serving.until("Ctrl-C ends it");
    let base = told.split_whitespace().find(|word| word.starts_with("http://")).unwrap();
    let answer = get(&format!("{base}jobs/Vernier?q=Fernhill"), "bench=secret");
    assert!(answer.starts_with("HTTP/1.1 303"), "{answer}");
    let id = answer.lines().find_map(|line| line.strip_prefix("x-request-id: ")).unwrap();
    let line = serving.error_line();
    for word in ["Vernier", "Fernhill", "secret", "127.0.0.1"] {
        assert!(!line.contains(word), "{line}");
    }
    let object: serde_json::Value = serde_json::from_str(&line).unwrap();
    assert_eq!((&object["route"], &object["method"]), (&"/jobs/{number}".into(), &"GET".into()));
    assert_eq!((&object["status"], object["request"].as_str()), (&303.into(), Some(id)));
    assert!(object["milliseconds"].is_number() && object["time"].as_str().unwrap().ends_with('Z'), "{line}");
}
