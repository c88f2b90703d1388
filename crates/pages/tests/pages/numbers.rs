//! The pages' numbers: who sees them, and what is counted.

use crate::ground::{Shop, wait};
use crate::interface::{ask_api, token};
use crate::operate::with_owner;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;

/// The value of a line of the numbers.
#[track_caller]
fn value(text: &str, line: &str) -> f64 {
    let found = text.lines().find_map(|own| own.strip_prefix(line)?.strip_prefix(' '));
    found.unwrap_or_else(|| panic!("{line} is missing in\n{text}")).parse().unwrap()
}

#[test]
fn only_the_owner_sees_the_numbers() {
    wait(async {
        let (shop, [owner, counter, technician]) = Shop::with_people().await;
        let answer = shop.get(&owner, "/metrics").await;
        assert_eq!(answer.status, StatusCode::OK);
        // OpenMetrics 1.0, "Overall Structure" and "Protocol Negotiation".
        assert_eq!(answer.headers[CONTENT_TYPE], "application/openmetrics-text; version=1.0.0; charset=utf-8");
        assert!(answer.body.ends_with("\n# EOF\n") && answer.body.matches("# EOF").count() == 1);
        for cookie in [&counter, &technician] {
            assert_eq!(shop.get(cookie, "/metrics").await.status, StatusCode::FORBIDDEN);
        }
        assert_eq!(shop.get("", "/metrics").await.to(), "/sign-in?to=%2Fmetrics");
        let secret = token(&shop, &owner, "Mira Oakshott").await;
        let collected = ask_api(&shop, "GET", "/api/v1/metrics", &secret, "").await;
        assert_eq!(collected.headers[CONTENT_TYPE], answer.headers[CONTENT_TYPE]);
        assert!(collected.body.contains("toothsayer_requests_total{route=\"/metrics\""));
    });
}

#[test]
fn requests_are_counted_by_their_row_and_never_by_what_was_asked_for() {
    wait(async {
        let (shop, owner) = with_owner().await;
        for path in ["/jobs/41", "/jobs/42", "/find?q=Fernhill", "/no/such/page", "/customers/no-id"] {
            shop.get(&owner, path).await;
        }
        let text = shop.get(&owner, "/metrics").await.body;
        let total = |route: &str, status: &str| {
            format!("toothsayer_requests_total{{route=\"{route}\",method=\"GET\",status=\"{status}\"}}")
        };
        assert_eq!(value(&text, &total("/jobs/{number}", "4xx")), 2.0);
        assert_eq!(value(&text, &total("/find", "2xx")), 1.0);
        assert_eq!(value(&text, &total("none", "4xx")), 1.0);
        assert!(!text.contains("Fernhill") && !text.contains("no-id") && !text.contains("such"), "{text}");
    });
}

#[test]
fn every_bucket_holds_those_before_it_and_the_last_one_holds_all() {
    wait(async {
        let (shop, owner) = with_owner().await;
        for _ in 0..3 {
            shop.get(&owner, "/").await;
        }
        let text = shop.get(&owner, "/metrics").await.body;
        let of_today = "toothsayer_request_seconds_bucket{route=\"/\",le=";
        let buckets = text.lines().filter(|line| line.starts_with(of_today));
        let buckets: Vec<u64> = buckets.map(|line| line.rsplit(' ').next().unwrap().parse().unwrap()).collect();
        assert!(buckets.len() > 3 && buckets.is_sorted(), "{buckets:?}");
        assert_eq!(buckets.last(), Some(&3));
        assert_eq!(value(&text, "toothsayer_request_seconds_count{route=\"/\"}"), 3.0);
        assert!(value(&text, "toothsayer_request_seconds_sum{route=\"/\"}") > 0.0);
    });
}

#[test]
fn verdicts_and_sessions_are_counted() {
    wait(async {
        let (shop, owner) = with_owner().await;
        let job = shop.take_in(&owner, &[]).await.to().to_owned();
        for _ in 0..2 {
            assert_eq!(shop.get(&owner, &job).await.status, StatusCode::OK);
        }
        let text = shop.get(&owner, "/metrics").await.body;
        assert_eq!(value(&text, "toothsayer_verdicts_total{from=\"computed\"}"), 1.0);
        assert_eq!(value(&text, "toothsayer_verdicts_total{from=\"known\"}"), 1.0);
        assert_eq!(value(&text, "toothsayer_sessions"), 1.0);
    });
}

#[test]
fn every_answer_has_an_id_of_its_own() {
    wait(async {
        let (shop, owner) = with_owner().await;
        let mut ids = std::collections::BTreeSet::new();
        for path in ["/", "/health", "/no/such/page", "/jobs/9"] {
            ids.insert(shop.get(&owner, path).await.headers["x-request-id"].to_str().unwrap().to_owned());
        }
        assert_eq!(ids.len(), 4);
    });
}
