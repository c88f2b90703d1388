//! The doors: first run, signing in and out, its limits, other hosts, other sites.

use crate::ground::{PASSWORD, Shop, encoded, request, wait};
use axum::body::Body;
use axum::http::StatusCode;
use axum::http::header::{CONTENT_SECURITY_POLICY, CONTENT_TYPE, HOST, ORIGIN, SET_COOKIE};

#[test]
fn the_first_run_needs_the_code_and_happens_once() {
    wait(async {
        let shop = Shop::empty().await;
        assert_eq!(shop.get("", "/sign-in").await.to(), "/first-run");
        let code = shop.app.first_code().to_owned();
        let form = |code| [("code", code), ("name", "Mira Oakshott"), ("password", PASSWORD), ("again", PASSWORD)];
        assert_eq!(shop.post("", "/first-run", &form("guess")).await.status, StatusCode::FORBIDDEN);
        let made = shop.post("", "/first-run", &form(&code)).await;
        assert_eq!((made.status, made.to()), (StatusCode::SEE_OTHER, "/"));
        assert_eq!(shop.get(&made.cookie(), "/people").await.status, StatusCode::OK);
        let again = shop.post("", "/first-run", &form(&code)).await;
        assert_eq!((again.to(), again.cookie()), ("/sign-in", String::new()));
    });
}

#[test]
fn a_weak_account_is_refused_with_its_reasons() {
    wait(async {
        let shop = Shop::empty().await;
        let code = shop.app.first_code().to_owned();
        let form = [("code", code.as_str()), ("name", " "), ("password", "short"), ("again", "other")];
        let answer = shop.post("", "/first-run", &form).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        for told in ["The name has 0 letters", "The password has 5 letters", "The two passwords differ"] {
            assert!(answer.body.contains(told), "{told}");
        }
    });
}

#[test]
fn a_session_is_kept_from_scripts_and_ends_at_the_door() {
    wait(async {
        let (shop, _) = Shop::with_people().await;
        let answer = shop.sign_in("tilda torque ", PASSWORD).await;
        let set = answer.headers[SET_COOKIE].to_str().unwrap();
        assert!(set.contains("HttpOnly") && set.contains("SameSite=Lax"), "{set}");
        let cookie = answer.cookie();
        assert_eq!(shop.get(&cookie, "/").await.status, StatusCode::OK);
        shop.post(&cookie, "/sign-out", &[]).await;
        assert_eq!(shop.get(&cookie, "/").await.to(), "/sign-in");
    });
}

#[test]
fn guessing_is_stopped_even_for_the_right_password() {
    wait(async {
        let (shop, _) = Shop::with_people().await;
        for _ in 0..8 {
            assert_eq!(shop.sign_in("Tilda Torque", "wrong password").await.status, StatusCode::UNAUTHORIZED);
        }
        assert_eq!(shop.sign_in("Tilda Torque", PASSWORD).await.status, StatusCode::TOO_MANY_REQUESTS);
        assert_eq!(shop.sign_in("Cosmo Counter", PASSWORD).await.to(), "/", "others are not shut out");
    });
}

#[test]
fn who_is_sent_to_sign_in_comes_back_to_where_they_wanted() {
    wait(async {
        let (shop, _) = Shop::with_people().await;
        assert_eq!(shop.get("", "/jobs/3?a=b").await.to(), "/sign-in?to=%2Fjobs%2F3%3Fa%3Db");
        for (to, expected) in [("/jobs/3", "/jobs/3"), ("//elsewhere.example", "/")] {
            let form = [("name", "Tilda Torque"), ("password", PASSWORD), ("to", to)];
            assert_eq!(shop.post("", "/sign-in", &form).await.to(), expected);
        }
    });
}

#[test]
fn other_hosts_get_nothing() {
    wait(async {
        let (shop, _) = Shop::with_people().await;
        for (host, status) in [("rebound.example", 421), ("127.0.0.1:7878", 200), ("localhost", 200)] {
            let request = axum::http::Request::builder().uri("/health").header(HOST, host);
            assert_eq!(shop.send(request.body(Body::empty()).unwrap()).await.status, status, "{host}");
        }
    });
}

#[test]
fn other_sites_cannot_send_forms_for_somebody() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        let from = [
            ("sec-fetch-site", "cross-site", StatusCode::FORBIDDEN),
            ("sec-fetch-site", "same-site", StatusCode::FORBIDDEN),
            (ORIGIN.as_str(), "http://elsewhere.example", StatusCode::FORBIDDEN),
            (ORIGIN.as_str(), "http://127.0.0.1:7878", StatusCode::SEE_OTHER),
        ];
        for (number, (header, value, status)) in from.into_iter().enumerate() {
            let name = format!("Person {number}");
            let form = [("name", name.as_str()), ("role", "counter"), ("password", PASSWORD), ("again", PASSWORD)];
            let request = request("POST", "/people", &owner).header(header, value);
            let request = request.header(CONTENT_TYPE, "application/x-www-form-urlencoded");
            let answer = shop.send(request.body(Body::from(encoded(&form))).unwrap()).await;
            assert_eq!(answer.status, status, "{header}: {value}");
        }
    });
}

#[test]
fn every_answer_carries_the_policy_without_inline_script_or_style() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        for path in ["/", "/none", "/sign-in", "/health"] {
            let answer = shop.get(&owner, path).await;
            let policy = answer.headers[CONTENT_SECURITY_POLICY].to_str().unwrap();
            assert!(
                policy.starts_with("default-src 'none'; style-src 'self';") && !policy.contains("unsafe"),
                "{path}"
            );
            let rest = answer.without_own_scripts();
            assert!(!rest.contains("<script") && !rest.contains("style="), "{path}");
        }
    });
}

#[test]
fn a_form_without_end_is_refused() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        let long = "x".repeat(70_000);
        assert_eq!(shop.post(&owner, "/people", &[("name", &long)]).await.status, StatusCode::PAYLOAD_TOO_LARGE);
    });
}
