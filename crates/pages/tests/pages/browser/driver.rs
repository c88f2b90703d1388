//! A browser driven by its own driver over the WebDriver protocol (W3C WebDriver, 2018): the few commands of the tests.
//!
//! Plain HTTP to this machine and JSON, so that no client library with its hundred crates has to be built for it.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

/// How long a started driver and a page that loads are waited for.
const PATIENCE: Duration = Duration::from_secs(120);
/// Height of a window, px.
const HEIGHT_PX: u32 = 900;
/// The key under which the protocol names an element (W3C WebDriver, 12).
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// A driver with one open browser; both end with it.
pub struct Browser {
    driver: Child,
    port: u16,
    session: String,
    /// Kept open: a driver that cannot write its lines any more ends.
    _output: BufReader<ChildStdout>,
}

/// Whether Debian's browser and its driver are there.
pub fn is_there() -> bool {
    let there =
        |program: &str| Command::new(program).arg("--version").output().is_ok_and(|output| output.status.success());
    there("chromium") && there("chromedriver")
}

/// How a window is opened.
#[derive(Clone, Copy)]
pub struct Window {
    /// px
    pub width: u32,
    /// Whether pages may run scripts.
    pub script: bool,
    /// Whether the reader asks for dark pages.
    pub dark: bool,
}

impl Browser {
    /// Opens a window.
    pub fn open(window: Window) -> Browser {
        let Window { width, script, dark } = window;
        let mut driver =
            Command::new("chromedriver").arg("--port=0").stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
        let (port, output) = port_of(&mut driver);
        let mut browser = Browser { driver, port, session: String::new(), _output: output };
        let size = format!("--window-size={width},{HEIGHT_PX}");
        let flags =
            ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars", &size];
        let scripts = json!({ "profile.managed_default_content_settings.javascript": if script { 1 } else { 2 } });
        let options = json!({ "binary": "/usr/bin/chromium", "args": flags, "prefs": scripts });
        let wanted = json!({ "capabilities": { "alwaysMatch": { "goog:chromeOptions": options } } });
        let made = browser.ask("POST", "/session", &wanted);
        browser.session = made["sessionId"].as_str().unwrap_or_else(|| panic!("{made}")).to_owned();
        // The window has an edge of its own; a phone is narrower than a window may be.
        browser.tell(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width, "height": HEIGHT_PX, "deviceScaleFactor": 1, "mobile": width < 500 }),
        );
        let scheme = if dark { "dark" } else { "light" };
        let features = json!([{ "name": "prefers-color-scheme", "value": scheme }]);
        browser.tell("Emulation.setEmulatedMedia", json!({ "features": features }));
        browser
    }

    /// Takes the line away, or gives it back.
    pub fn line(&self, there: bool) {
        self.tell("Network.enable", json!({}));
        let conditions = json!({ "offline": !there, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 });
        self.tell("Network.emulateNetworkConditions", conditions);
    }

    /// A command of the browser's own protocol.
    fn tell(&self, command: &str, params: Value) -> Value {
        self.command("POST", "/goog/cdp/execute", &json!({ "cmd": command, "params": params }))
    }

    /// What a script answers.
    pub fn script(&self, script: &str) -> Value {
        self.command("POST", "/execute/sync", &json!({ "script": script, "args": [] }))
    }

    /// What a script hands to its last argument once it is done.
    pub fn script_later(&self, script: &str) -> Value {
        self.command("POST", "/execute/async", &json!({ "script": script, "args": [] }))
    }

    /// Types on the keyboard, wherever the focus is (W3C WebDriver, 17.4.2 for keys beside letters).
    pub fn type_keys(&self, text: &str) {
        let actions: Vec<Value> = text
            .chars()
            .flat_map(|key| ["keyDown", "keyUp"].map(|kind| json!({ "type": kind, "value": key.to_string() })))
            .collect();
        let keyboard = json!({ "actions": [{ "type": "key", "id": "keyboard", "actions": actions }] });
        self.command("POST", "/actions", &keyboard);
    }

    /// Waits until a script answers true.
    #[track_caller]
    pub fn until(&self, script: &str) {
        let began = Instant::now();
        while self.script(&format!("return {script}")) != json!(true) {
            assert!(began.elapsed() < PATIENCE, "never: {script}, at {}", self.url());
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    pub fn go(&self, url: &str) {
        self.command("POST", "/url", &json!({ "url": url }));
    }

    pub fn url(&self) -> String {
        self.command("GET", "/url", &Value::Null).as_str().unwrap().to_owned()
    }

    pub fn source(&self) -> String {
        self.command("GET", "/source", &Value::Null).as_str().unwrap().to_owned()
    }

    /// Types into the field that a CSS selector names.
    pub fn fill(&self, selector: &str, text: &str) {
        let element = self.find(selector);
        self.command("POST", &format!("/element/{element}/value"), &json!({ "text": text }));
    }

    /// Clicks what leads to another page, and waits until that page is there and not the old one.
    pub fn press(&self, selector: &str) {
        let (before, began) = (self.find("html"), Instant::now());
        self.click(selector);
        let root = json!({ "using": "css selector", "value": "html" });
        while began.elapsed() < PATIENCE {
            let now = self.command("POST", "/element", &root)[ELEMENT].as_str().map(str::to_owned);
            if now.is_some_and(|now| now != before) {
                return;
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        panic!("{selector} led nowhere within {PATIENCE:?}");
    }

    /// Clicks what changes this page alone.
    pub fn click(&self, selector: &str) {
        let element = self.find(selector);
        self.command("POST", &format!("/element/{element}/click"), &json!({}));
    }

    /// The text of an element, as it is seen.
    pub fn text(&self, selector: &str) -> String {
        let element = self.find(selector);
        self.command("GET", &format!("/element/{element}/text"), &Value::Null).as_str().unwrap().to_owned()
    }

    /// Left, top, width and height of every element that a selector names, px.
    pub fn places(&self, selector: &str) -> Vec<[f64; 4]> {
        let found = self.command("POST", "/elements", &json!({ "using": "css selector", "value": selector }));
        let ids = found.as_array().unwrap().iter().map(|one| one[ELEMENT].as_str().unwrap().to_owned());
        ids.map(|id| {
            let place = self.command("GET", &format!("/element/{id}/rect"), &Value::Null);
            ["x", "y", "width", "height"].map(|key| place[key].as_f64().unwrap())
        })
        .collect()
    }

    /// How wide the page's content is, px: more than the window where it must be pushed sideways.
    pub fn content_width(&self) -> f64 {
        let metrics = self.tell("Page.getLayoutMetrics", json!({}));
        metrics["cssContentSize"]["width"].as_f64().unwrap()
    }

    fn find(&self, selector: &str) -> String {
        let found = self.command("POST", "/element", &json!({ "using": "css selector", "value": selector }));
        found[ELEMENT].as_str().unwrap_or_else(|| panic!("{selector}: {found} at {}", self.url())).to_owned()
    }

    fn command(&self, method: &str, path: &str, body: &Value) -> Value {
        self.ask(method, &format!("/session/{}{path}", self.session), body)
    }

    /// One request; the answer's value, or the driver's error.
    fn ask(&self, method: &str, path: &str, body: &Value) -> Value {
        let body = if body.is_null() { String::new() } else { body.to_string() };
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
            body.len()
        )
        .unwrap();
        let mut reader = BufReader::new(stream);
        let mut length = 0;
        loop {
            let mut line = String::new();
            reader.read_line(&mut line).unwrap();
            if let Some(value) = line.to_ascii_lowercase().strip_prefix("content-length:") {
                length = value.trim().parse().unwrap();
            }
            if line.trim().is_empty() {
                break;
            }
        }
        let mut text = vec![0; length];
        reader.read_exact(&mut text).unwrap();
        let answer: Value = serde_json::from_slice(&text).unwrap();
        answer["value"].clone()
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if !std::thread::panicking() {
            self.command("DELETE", "", &Value::Null);
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

/// The port that the driver chose, as it tells on its output.
fn port_of(driver: &mut Child) -> (u16, BufReader<ChildStdout>) {
    let began = Instant::now();
    let mut output = BufReader::new(driver.stdout.take().unwrap());
    while began.elapsed() < PATIENCE {
        let mut line = String::new();
        assert!(output.read_line(&mut line).unwrap() > 0, "the driver ended before it told its port");
        if let Some((_, port)) = line.split_once("started successfully on port ") {
            return (port.trim().trim_end_matches('.').parse().unwrap(), output);
        }
    }
    panic!("the driver told no port within {PATIENCE:?}")
}
