//! Who is slow, hostile or simply there when the program stops: over real sockets, with limits short enough for a test.

use crate::ground::{Shop, wait};
use std::time::Duration;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::oneshot::{Sender, channel};
use tokio::task::JoinHandle;
use tokio::time::{Instant, timeout};
use toothsayer_pages::{Limits, Listening, serve_at};

/// What the tests put up with: long enough for a busy machine to send a head.
const SHORT: Duration = Duration::from_millis(400);
/// Longer than a busy machine takes for anything here; whoever waits longer waits for ever.
const PATIENCE: Duration = Duration::from_secs(20);
/// A request of no page that costs anything.
const HEALTH: &[u8] = b"GET /health HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n";

/// Pages that are served at a port.
struct Served {
    at: std::net::SocketAddr,
    stop: Sender<()>,
    ended: JoinHandle<()>,
    _shop: Shop,
}

impl Served {
    async fn with(limits: Limits) -> Self {
        let shop = Shop::empty().await;
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let (at, app) = (listener.local_addr().unwrap(), shop.app.clone());
        let (stop, stopped) = channel::<()>();
        let listening = Listening { listener, encryption: None, limits };
        let ended =
            tokio::spawn(async move { serve_at(&app, listening, async { drop(stopped.await) }).await.unwrap() });
        Self { at, stop, ended, _shop: shop }
    }

    async fn connect(&self) -> TcpStream {
        TcpStream::connect(self.at).await.unwrap()
    }
}

/// All that comes until the other end closes.
async fn rest(stream: &mut TcpStream) -> String {
    let mut bytes = Vec::new();
    // A connection that is reset is closed too.
    let _ = timeout(PATIENCE, stream.read_to_end(&mut bytes)).await.expect("it stays open");
    String::from_utf8(bytes).unwrap()
}

/// The next piece that comes.
async fn piece(stream: &mut TcpStream) -> String {
    let mut bytes = [0; 4096];
    let count = timeout(PATIENCE, stream.read(&mut bytes)).await.expect("nothing comes").unwrap();
    String::from_utf8(bytes[..count].to_vec()).unwrap()
}

/// What is sent, and how the answer begins once the connection is closed.
#[track_caller]
fn check(sent: &[u8], answer: &str) {
    wait(async {
        let limits = Limits { head: SHORT, body: SHORT, ..Limits::default() };
        let (served, began) = (Served::with(limits).await, Instant::now());
        let mut stream = served.connect().await;
        stream.write_all(sent).await.unwrap();
        let told = rest(&mut stream).await;
        assert!(told.starts_with(answer), "{:?} after {:?}", told, began.elapsed());
    });
}

#[test]
fn who_sends_nothing_or_half_a_head_is_not_waited_for() {
    for sent in [&b""[..], b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: "] {
        check(sent, "");
    }
}

#[test]
fn who_sends_nothing_more_after_an_answer_is_not_waited_for() {
    check(HEALTH, "HTTP/1.1 200 OK");
}

#[test]
fn a_form_that_stops_in_the_middle_is_refused() {
    let head = "POST /sign-in HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/x-www-form-urlencoded\r\n";
    check(format!("{head}Content-Length: 100\r\n\r\nname=Mira").as_bytes(), "HTTP/1.1 4");
}

#[test]
fn heads_without_end_are_refused() {
    let large = format!("GET /health HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Large: {}\r\n\r\n", "x".repeat(20_000));
    check(large.as_bytes(), "HTTP/1.1 431");
    let many: String = (0..100).map(|number| format!("X-{number}: y\r\n")).collect();
    check(format!("GET /health HTTP/1.1\r\nHost: 127.0.0.1\r\n{many}\r\n").as_bytes(), "HTTP/1.1 431");
}

#[test]
fn what_is_no_request_is_refused() {
    check(b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03 this is no text\r\n\r\n", "HTTP/1.1 400");
    check(
        b"GET /health HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n",
        "HTTP/1.1 ",
    );
}

#[test]
fn more_connections_than_allowed_wait_for_a_place() {
    wait(async {
        let served = Served::with(Limits { connections: 2, ..Limits::default() }).await;
        let (first, mut second) = (served.connect().await, served.connect().await);
        second.write_all(HEALTH).await.unwrap();
        assert!(piece(&mut second).await.starts_with("HTTP/1.1 200"));
        let mut third = served.connect().await;
        third.write_all(HEALTH).await.unwrap();
        let mut byte = [0];
        assert!(timeout(SHORT, third.peek(&mut byte)).await.is_err(), "there is a place for a third");
        drop(first);
        assert!(piece(&mut third).await.starts_with("HTTP/1.1 200"));
    });
}

#[test]
fn who_only_keeps_a_connection_open_does_not_keep_the_program_from_ending() {
    wait(async {
        let served = Served::with(Limits::default()).await;
        let mut idle = served.connect().await;
        idle.write_all(HEALTH).await.unwrap();
        assert!(piece(&mut idle).await.starts_with("HTTP/1.1 200"));
        let began = Instant::now();
        served.stop.send(()).unwrap();
        timeout(PATIENCE, served.ended).await.expect("it does not end").unwrap();
        assert!(began.elapsed() < Limits::default().farewell, "it was waited for");
    });
}

#[test]
fn a_request_that_never_ends_delays_the_end_no_longer_than_the_farewell() {
    wait(async {
        let served = Served::with(Limits { farewell: SHORT, ..Limits::default() }).await;
        let mut slow = served.connect().await;
        slow.write_all(b"POST /sign-in HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 100\r\n\r\nname").await.unwrap();
        tokio::time::sleep(SHORT).await;
        served.stop.send(()).unwrap();
        timeout(PATIENCE, served.ended).await.expect("it does not end").unwrap();
    });
}
