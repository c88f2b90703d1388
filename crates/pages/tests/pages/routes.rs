//! Every address of the table, asked for by everybody: nobody in who may not.

use crate::ground::{Shop, request, wait};
use crate::interface::{ask_api, token};
use axum::body::Body;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use toothsayer_pages::{Access, Route, Verb, routes};
use toothsayer_records::Role;

/// A path of the table with something in place of what varies.
fn path(route: &Route) -> String {
    let varying = [
        ("{number}", "1"),
        ("{name}", "none.css"),
        ("{id}", "no-id"),
        ("{scale}", "small"),
        ("{tag}", "no-tag"),
        ("{file}", "none"),
        ("{secret}", "none"),
    ];
    varying.into_iter().fold(route.path.to_owned(), |path, (name, value)| path.replace(name, value))
}

async fn ask(shop: &Shop, route: &Route, cookie: &str) -> (StatusCode, String) {
    let method = if route.verb == Verb::Get { "GET" } else { "POST" };
    let form = request(method, &path(route), cookie).header(CONTENT_TYPE, "application/x-www-form-urlencoded");
    let answer = shop.head(form.body(Body::empty()).unwrap()).await;
    let to = answer.to().to_owned();
    (answer.status, to)
}

#[test]
fn every_route_lets_in_whom_its_row_says_and_nobody_else() {
    wait(async {
        let (shop, cookies) = Shop::with_people().await;
        // Signing out ends the very session that the other rows are asked with.
        let asked = |route: &&Route| route.path != "/sign-out" && !matches!(route.access, Access::Program(_));
        for route in routes().iter().filter(asked) {
            let roles = [Role::Owner, Role::Counter, Role::Technician];
            for (role, cookie) in roles.into_iter().zip(&cookies) {
                let (status, to) = ask(&shop, route, cookie).await;
                let allowed = match route.access {
                    Access::Anybody => true,
                    Access::May(deed) | Access::Program(deed) => role.may(deed),
                };
                let told = format!("{:?} {} as {role:?}: {status} {to}", route.verb, route.path);
                assert_eq!(status == StatusCode::FORBIDDEN, !allowed && route.path != "/first-run", "{told}");
                assert!(!status.is_server_error(), "{told}");
            }
            let (status, to) = ask(&shop, route, "").await;
            let turned_away = status == StatusCode::SEE_OTHER && to.starts_with("/sign-in");
            let open = route.access == Access::Anybody;
            assert!(turned_away != open || route.path == "/first-run", "{} signed out: {status} {to}", route.path);
        }
    });
}

#[test]
fn every_address_for_programs_lets_in_whose_token_its_row_says() {
    wait(async {
        let (shop, cookies) = Shop::with_people().await;
        let names = ["Mira Oakshott", "Cosmo Counter", "Tilda Torque"];
        for (role, name) in [Role::Owner, Role::Counter, Role::Technician].into_iter().zip(names) {
            let token = token(&shop, &cookies[0], name).await;
            for route in routes() {
                let Access::Program(deed) = route.access else { continue };
                let method = if route.verb == Verb::Get { "GET" } else { "POST" };
                let path = path(route);
                let told = format!("{method} {path} as {role:?}");
                let status = ask_api(&shop, method, &path, &token, "").await.status;
                assert_eq!(status == StatusCode::FORBIDDEN, !role.may(deed), "{told}: {status}");
                assert!(status != StatusCode::UNAUTHORIZED && !status.is_server_error(), "{told}: {status}");
                for nobodys in ["", "none"] {
                    let answer = ask_api(&shop, method, &path, nobodys, "").await;
                    assert_eq!(answer.status, StatusCode::UNAUTHORIZED, "{told}, token \"{nobodys}\"");
                }
                let by_cookie = shop.get(&cookies[0], &path).await.status;
                let odd = [StatusCode::UNAUTHORIZED, StatusCode::METHOD_NOT_ALLOWED];
                assert!(odd.contains(&by_cookie), "a session is no token: {told}");
            }
        }
    });
}

#[test]
fn only_doors_and_what_a_secret_opens_are_open_to_anybody() {
    let open = routes().iter().filter(|route| route.access == Access::Anybody).map(|route| route.path);
    let open: Vec<&str> =
        open.filter(|path| !path.starts_with("/link/{secret}") && *path != "/api/v1/openapi.json").collect();
    assert_eq!(open, ["/health", "/assets/{name}", "/first-run", "/first-run", "/sign-in", "/sign-in", "/come-in"]);
}

#[test]
fn what_changes_something_is_never_asked_for_by_a_link() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        for route in routes().iter().filter(|route| route.verb == Verb::Post) {
            let only_post = !routes().iter().any(|other| other.verb == Verb::Get && other.path == route.path);
            if only_post {
                let answer = shop.get(&owner, &path(route)).await;
                assert_eq!(answer.status, StatusCode::METHOD_NOT_ALLOWED, "{}", route.path);
                let told = answer.body.contains("takes what a form sends");
                assert_eq!(told, !route.path.starts_with("/api/"), "{}", route.path);
            }
        }
        let reloaded = shop.get(&owner, "/jobs/1/lines").await;
        assert!(reloaded.body.contains("<a class=\"button\" href=\"/jobs/1\">"), "{}", reloaded.body);
        assert_eq!(reloaded.headers["allow"], "POST");
    });
}

#[test]
fn addresses_that_are_not_there_are_told_plainly() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        for path in ["/none", "/jobs/99", "/assets/../Cargo.toml", "/customers/no-id", "/%2e%2e/etc/passwd"] {
            let answer = shop.get(&owner, path).await;
            assert_eq!(answer.status, StatusCode::NOT_FOUND, "{path}");
            assert!(!answer.body.contains("toothsayer") && !answer.body.contains('`'), "{path}: {}", answer.body);
        }
    });
}
