//! The interface for programs: described by itself, in by a token, problems told as such, the same deeds as the pages.

use crate::ground::{Answer, Shop, request, wait};
use crate::hand_over::shop_with_a_job;
use axum::body::Body;
use axum::http::StatusCode;
use axum::http::header::{AUTHORIZATION, CONTENT_TYPE, LOCATION, WWW_AUTHENTICATE};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use toothsayer_pages::{Access, Verb, routes};

/// A token with which a program comes in as somebody.
pub async fn token(shop: &Shop, owner: &str, name: &str) -> String {
    let page = shop.get(owner, "/tokens").await.body;
    let person = page.split("<option value=\"").skip(1).find(|option| option.contains(name)).unwrap();
    let person = person.split('"').next().unwrap();
    let key = page.split("name=\"key\" value=\"").nth(1).unwrap().split('"').next().unwrap();
    let form = [("key", key), ("label", "a test"), ("person", person), ("days", "30")];
    let made = shop.post(owner, "/tokens", &form).await;
    assert_eq!(made.status, StatusCode::CREATED);
    made.body.split("<code>").nth(1).unwrap().split('<').next().unwrap().to_owned()
}

pub async fn ask_api(shop: &Shop, method: &str, path: &str, token: &str, body: &str) -> Answer {
    let mut asked = request(method, path, "").header("idempotency-key", "a-key-of-the-tests");
    if !token.is_empty() {
        asked = asked.header(AUTHORIZATION, format!("Bearer {token}"));
    }
    let asked = asked.header(CONTENT_TYPE, "application/json");
    shop.send(asked.body(Body::from(body.to_owned())).unwrap()).await
}

fn read(answer: &Answer) -> Value {
    serde_json::from_str(&answer.body).unwrap()
}

/// The file of the invented shop's truck.
fn tarnhorn() -> String {
    std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/tarnhorn.toml")).unwrap()
}

#[test]
fn every_address_is_described_and_nothing_else() {
    wait(async {
        let shop = Shop::empty().await;
        let description = read(&shop.get("", "/api/v1/openapi.json").await);
        assert!(description["openapi"].as_str().unwrap().starts_with("3.1."));
        let mut described = BTreeSet::new();
        for (path, item) in description["paths"].as_object().unwrap() {
            described.extend(item.as_object().unwrap().keys().map(|method| format!("{method} {path}")));
        }
        let word = |verb: Verb| if verb == Verb::Get { "get" } else { "post" };
        let table = routes().iter().filter(|row| row.path.starts_with("/api/"));
        let table: BTreeSet<String> = table.map(|row| format!("{} {}", word(row.verb), row.path)).collect();
        assert_eq!(described, table);
        for row in routes().iter().filter(|row| matches!(row.access, Access::Program(_))) {
            let told = &description["paths"][row.path][word(row.verb)];
            assert!(told["security"][0].get("token").is_some(), "{}", row.path);
            for status in ["401", "403", "429", "503"] {
                assert!(told["responses"].get(status).is_some(), "{} {status}", row.path);
            }
        }
    });
}

#[test]
fn what_goes_wrong_is_told_as_a_problem() {
    wait(async {
        let (shop, [owner, ..]) = shop_with_a_job().await;
        let token = token(&shop, &owner, "Mira Oakshott").await;
        let long = "x".repeat(600_000);
        for (method, path, by, body, status) in [
            ("GET", "/api/v1/jobs", "", "", 401),
            ("GET", "/api/v1/jobs/99", &*token, "", 404),
            ("GET", "/api/v1/jobs/first", &token, "", 404),
            ("GET", "/api/v1/jobs/1/verdict?points=perhaps", &token, "", 400),
            ("GET", "/api/v1/none", &token, "", 404),
            ("POST", "/api/v1/jobs/1/findings", &token, "{", 400),
            ("POST", "/api/v1/jobs/1/findings", &token, "{}", 422),
            ("POST", "/api/v1/jobs/1/findings", &token, r#"{"check":"none","answer":"yes","version":0}"#, 422),
            ("POST", "/api/v1/jobs", &token, r#"{"file":"[job]"}"#, 422),
            ("POST", "/api/v1/jobs", &token, &long, 413),
        ] {
            let answer = ask_api(&shop, method, path, by, body).await;
            assert_eq!(answer.status.as_u16(), status, "{path}: {}", answer.body);
            assert_eq!(answer.headers[CONTENT_TYPE], "application/problem+json", "{path}");
            // RFC 9457, 3.1: the members of problem details.
            let problem = read(&answer);
            assert_eq!((&problem["type"], &problem["status"]), (&json!("about:blank"), &json!(status)), "{path}");
            assert!(!problem["title"].as_str().unwrap().is_empty() && !problem["detail"].as_str().unwrap().is_empty());
        }
        let answer = ask_api(&shop, "GET", "/api/v1/jobs", "", "").await;
        assert_eq!(answer.headers[WWW_AUTHENTICATE], "Bearer");
    });
}

#[test]
fn a_job_file_goes_in_once_and_comes_out_as_it_was() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        let token = token(&shop, &owner, "Cosmo Counter").await;
        let new = json!({ "customer": "A. Fernhill", "truck": "Tarnhorn 6", "said": "Gone.", "file": tarnhorn() });
        let [first, again] = [
            ask_api(&shop, "POST", "/api/v1/jobs", &token, &new.to_string()).await,
            ask_api(&shop, "POST", "/api/v1/jobs", &token, &new.to_string()).await,
        ];
        assert_eq!((first.status, again.status), (StatusCode::CREATED, StatusCode::OK));
        assert_eq!((first.headers[LOCATION].to_str().unwrap(), &first.body), ("/api/v1/jobs/1", &again.body));
        let job = read(&ask_api(&shop, "GET", "/api/v1/jobs/1", &token, "").await);
        assert_eq!((&job["customer"], &job["state"]), (&json!("A. Fernhill"), &json!("taken-in")));
        let other = json!({ "tag": job["tag"], "file": tarnhorn() });
        let answer = ask_api(&shop, "POST", "/api/v1/jobs", &token, &other.to_string()).await;
        assert_eq!(answer.status, StatusCode::CONFLICT, "the key with something else");
        let file = ask_api(&shop, "GET", "/api/v1/jobs/1/file", &token, "").await;
        assert_eq!(file.headers[CONTENT_TYPE], "application/toml");
        let book = toothsayer_fault_book::FaultBook::built_in();
        let [was, is] = [&tarnhorn(), &file.body].map(|text| toothsayer_job::Job::parse(text, book).unwrap());
        assert_eq!((was.built, was.findings), (is.built, is.findings));
        let jobs = read(&ask_api(&shop, "GET", "/api/v1/jobs", &token, "").await);
        assert_eq!(jobs["jobs"], json!([job]));
    });
}

#[test]
fn findings_are_kept_by_their_version() {
    wait(async {
        let (shop, [owner, ..]) = shop_with_a_job().await;
        let token = token(&shop, &owner, "Tilda Torque").await;
        let path = "/api/v1/jobs/1/findings";
        let rocks = |value: &str, version: i64| {
            json!({ "check": "motor-rocks", "answer": "yes", "value": value, "version": version }).to_string()
        };
        let clash = ask_api(&shop, "POST", path, &token, &rocks("0.3 mm", 0)).await;
        assert_eq!(clash.status, StatusCode::CONFLICT, "{}", clash.body);
        let kept = read(&ask_api(&shop, "POST", path, &token, &rocks("0.3 mm", 1)).await);
        assert_eq!((&kept["version"], &kept["seen_by"]), (&json!(2), &json!("Tilda Torque")));
        let again = ask_api(&shop, "POST", path, &token, &rocks("0.3 mm", 1)).await;
        assert_eq!(again.status, StatusCode::OK, "the same again changes nothing");
        let told = read(&ask_api(&shop, "GET", path, &token, "").await);
        assert_eq!(told["findings"], json!([kept]));
    });
}

#[test]
fn the_verdict_has_what_the_commands_print() {
    wait(async {
        let (shop, [owner, ..]) = shop_with_a_job().await;
        let token = token(&shop, &owner, "Tilda Torque").await;
        let verdict = read(&ask_api(&shop, "GET", "/api/v1/jobs/1/verdict?points=true", &token, "").await);
        // The keys that the file and output contract fixes for `margins`, `why` and `plan`.
        for key in ["/margins/states/0/margins/0/margin", "/why/causes/0/next_set", "/why/next_checks/0/worth"] {
            assert!(verdict.pointer(key).is_some(), "{key}");
        }
        assert_eq!(verdict["plan"]["alternatives"][0]["name"], "new-gears-only");
        assert_eq!(verdict["margins"]["ranges"], false);
        let found = verdict["margins"]["states"].as_array().unwrap().iter().find(|state| state["state"] == "found");
        assert_eq!(found.unwrap()["holds"], "no", "a motor that rocks 0.45 mm does not hold");
    });
}

#[test]
fn a_revoked_token_opens_nothing_and_guesses_are_counted() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        let token = token(&shop, &owner, "Tilda Torque").await;
        let page = shop.get(&owner, "/tokens").await.body;
        assert!(page.contains("a test") && !page.contains(&token), "shown once");
        let revoke = page.split("action=\"/tokens/").nth(1).unwrap().split('"').next().unwrap();
        assert_eq!(ask_api(&shop, "GET", "/api/v1/jobs", &token, "").await.status, StatusCode::OK);
        let revoke = format!("/tokens/{revoke}");
        assert_eq!(shop.post(&owner, &revoke, &[("version", "3")]).await.status, StatusCode::CONFLICT);
        assert_eq!(shop.post(&owner, &revoke, &[("version", "1")]).await.to(), "/tokens");
        assert_eq!(ask_api(&shop, "GET", "/api/v1/jobs", &token, "").await.status, StatusCode::UNAUTHORIZED);
        let mut last = StatusCode::OK;
        for guess in 0..40 {
            last = ask_api(&shop, "GET", "/api/v1/jobs", &format!("{guess:064x}"), "").await.status;
        }
        assert_eq!(last, StatusCode::TOO_MANY_REQUESTS);
    });
}

#[test]
fn a_token_that_cannot_be_is_told_with_the_form_as_it_was_typed() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        for (label, days, told) in [("", "30", "0 letters"), ("a till", "731", "1 to 730"), ("a till", "x", "As whom")]
        {
            let form = [("key", "a-form-of-tokens"), ("label", label), ("person", "nobody"), ("days", days)];
            let answer = shop.post(&owner, "/tokens", &form).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{label} {days}");
            assert!(answer.body.contains(told) && answer.body.contains(&format!("value=\"{days}\"")), "{told}");
        }
    });
}
