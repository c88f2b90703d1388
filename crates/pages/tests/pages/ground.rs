//! A shop with one person of each role in a database of its own, and requests to its pages.

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, LOCATION, SET_COOKIE};
use axum::http::{HeaderMap, Request, StatusCode};
use std::borrow::Cow;
use std::future::Future;
use std::path::PathBuf;
use std::sync::atomic::{AtomicU32, Ordering};
use toothsayer_fault_book::FaultBook;
use toothsayer_pages::{App, Hosts, Log, Setting, router};
use toothsayer_records::{Place, Store};
use tower::ServiceExt;

/// The password of everybody in the tests' shop.
pub const PASSWORD: &str = "two left spanners";
/// Larger than any page.
const LARGEST: usize = 16 << 20;

static SHOPS: AtomicU32 = AtomicU32::new(0);

/// Runs a test's future.
pub fn wait<T>(future: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap().block_on(future)
}

/// A shop with its pages; its file goes with it.
pub struct Shop {
    pub app: App,
    pub store: Store,
    pub pages: Router,
    place: Place,
}

impl Drop for Shop {
    fn drop(&mut self) {
        let Place::File(path) = &self.place else { return };
        for end in ["", "-wal", "-shm"] {
            let _ = std::fs::remove_file(format!("{}{end}", path.display()));
        }
    }
}

/// A file of this shop alone.
pub fn fresh_path() -> PathBuf {
    let name = format!("toothsayer-pages-{}-{}.sqlite", std::process::id(), SHOPS.fetch_add(1, Ordering::Relaxed));
    std::env::temp_dir().join(name)
}

/// What came back.
pub struct Answer {
    pub status: StatusCode,
    pub body: String,
    pub headers: HeaderMap,
}

impl Answer {
    /// Where a browser would go on.
    pub fn to(&self) -> &str {
        self.headers.get(LOCATION).map_or("", |place| place.to_str().unwrap())
    }

    /// The page without the scripts that these pages bring along: whatever else is a script came from outside.
    pub fn without_own_scripts(&self) -> String {
        self.body.replace("<script type=\"module\" src=\"/assets/", "")
    }

    /// The cookie that was set, as a browser would send it back.
    pub fn cookie(&self) -> String {
        let set = self.headers.get(SET_COOKIE).map_or("", |cookie| cookie.to_str().unwrap());
        set.split(';').next().unwrap_or("").to_owned()
    }
}

impl Shop {
    /// Without anybody.
    pub async fn empty() -> Shop {
        Self::new(false).await
    }

    /// Without anybody, reached by https alone.
    pub async fn encrypted() -> Shop {
        Self::new(true).await
    }

    async fn new(https: bool) -> Shop {
        Self::at(Place::File(fresh_path()), https).await
    }

    async fn at(place: Place, https: bool) -> Shop {
        let store = Store::open(&place).await.unwrap();
        let hosts = Hosts::new("127.0.0.1:7878".parse().unwrap(), &[]);
        let book = Cow::Borrowed(FaultBook::built_in());
        let app = App::new(Setting { store: store.clone(), book, hosts, https, log: Log::Quiet }).unwrap();
        Shop { pages: router(&app), app, store, place }
    }

    /// With one person of each role, and a session of each: owner, counter, technician.
    pub async fn with_people() -> (Shop, [String; 3]) {
        Self::with_people_at(Place::File(fresh_path())).await
    }

    /// The same in a database of one's choice.
    pub async fn with_people_at(place: Place) -> (Shop, [String; 3]) {
        let shop = Shop::at(place, false).await;
        let code = shop.app.first_code().to_owned();
        let form = [("code", code.as_str()), ("name", "Mira Oakshott"), ("password", PASSWORD), ("again", PASSWORD)];
        let owner = shop.post("", "/first-run", &form).await.cookie();
        for (name, role) in [("Cosmo Counter", "counter"), ("Tilda Torque", "technician")] {
            let form = [("name", name), ("role", role), ("password", PASSWORD), ("again", PASSWORD)];
            assert_eq!(shop.post(&owner, "/people", &form).await.to(), "/people");
        }
        let mut cookies = vec![owner];
        for name in ["Cosmo Counter", "Tilda Torque"] {
            cookies.push(shop.sign_in(name, PASSWORD).await.cookie());
        }
        (shop, cookies.try_into().unwrap())
    }

    pub async fn sign_in(&self, name: &str, password: &str) -> Answer {
        self.post("", "/sign-in", &[("name", name), ("password", password)]).await
    }

    pub async fn get(&self, cookie: &str, path: &str) -> Answer {
        self.send(request("GET", path, cookie).body(Body::empty()).unwrap()).await
    }

    pub async fn post(&self, cookie: &str, path: &str, form: &[(&str, &str)]) -> Answer {
        let request = request("POST", path, cookie).header(CONTENT_TYPE, "application/x-www-form-urlencoded");
        self.send(request.body(Body::from(encoded(form))).unwrap()).await
    }

    /// What is answered, without what comes after the head: streams of news have no end.
    pub async fn head(&self, request: Request<Body>) -> Answer {
        let response = self.pages.clone().oneshot(request).await.unwrap();
        Answer { status: response.status(), headers: response.headers().clone(), body: String::new() }
    }

    pub async fn send(&self, request: Request<Body>) -> Answer {
        let (status, headers, body) = self.bytes(request).await;
        Answer { status, headers, body: String::from_utf8(body).unwrap() }
    }

    /// What is no text.
    pub async fn bytes(&self, request: Request<Body>) -> (StatusCode, HeaderMap, Vec<u8>) {
        let response = self.pages.clone().oneshot(request).await.unwrap();
        let (status, headers) = (response.status(), response.headers().clone());
        let body = to_bytes(response.into_body(), LARGEST).await.unwrap();
        (status, headers, body.into())
    }

    /// Takes the example's truck in as this person and answers the job's path.
    pub async fn take_in(&self, cookie: &str, change: &[(&str, &str)]) -> Answer {
        let mut form = TARNHORN.to_vec();
        let key = format!("form-of-test-{}", SHOPS.fetch_add(1, Ordering::Relaxed));
        form.push(("key", &key));
        // Whoever has the name already is somebody else.
        form.push(("who", "new"));
        for (name, value) in change {
            form.retain(|(known, _)| known != name);
            form.push((name, value));
        }
        self.post(cookie, "/take-in", &form).await
    }
}

/// The truck of the invented shop, as its customer brings it.
pub const TARNHORN: [(&str, &str); 15] = [
    ("name", "A. Fernhill"),
    ("phone", "555-0142"),
    ("truck_name", "Tarnhorn 6"),
    ("complaint", "stripped-again"),
    ("said", "It went after six runs."),
    ("runs", "6"),
    ("battery", "sound"),
    ("mass", "10.4 kg"),
    ("cells", "7"),
    ("kv", "980 rpm/V"),
    ("pinion", "19"),
    ("spur", "53"),
    ("pitch", "1 mm"),
    ("wheel", "188 mm"),
    ("wheel_mass", "410 g"),
];

pub fn request(method: &str, path: &str, cookie: &str) -> axum::http::request::Builder {
    let request = Request::builder().method(method).uri(path).header(HOST, "127.0.0.1:7878");
    if cookie.is_empty() { request } else { request.header(COOKIE, cookie) }
}

/// A form as browsers send it (URL Standard, 5.2).
pub fn encoded(form: &[(&str, &str)]) -> String {
    let letter = |byte: u8| match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'*' => char::from(byte).to_string(),
        other => format!("%{other:02X}"),
    };
    let encode = |text: &str| text.bytes().map(letter).collect::<String>();
    form.iter().map(|(name, value)| format!("{}={}", encode(name), encode(value))).collect::<Vec<_>>().join("&")
}
