//! Running the pages: coming in without typing, where and only where that was given out.

use crate::ground::{PASSWORD, Shop, request, wait};
use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::StatusCode;
use std::net::SocketAddr;
use toothsayer_records::{Acting, Person, Role};

/// A shop whose owner has no password, and the path that lets them in.
async fn with_a_way_in() -> (Shop, String) {
    let shop = Shop::empty().await;
    let write = shop.store.begin(Acting::program()).await.unwrap();
    let owner = write.add(Person::new(&write, "Mira Oakshott", Role::Owner)).await.unwrap();
    write.commit().await.unwrap();
    let path = shop.app.way_in(owner.id).unwrap();
    (shop, path)
}

/// A shop whose owner came in without typing, and their session: no password is hashed for it.
pub async fn with_owner() -> (Shop, String) {
    let (shop, path) = with_a_way_in().await;
    let cookie = ask(&shop, &path, "127.0.0.1:50000").await.cookie();
    (shop, cookie)
}

/// Asks for a path as a browser at this address.
async fn ask(shop: &Shop, path: &str, from: &str) -> crate::ground::Answer {
    let peer: SocketAddr = from.parse().unwrap();
    shop.send(request("GET", path, "").extension(ConnectInfo(peer)).body(Body::empty()).unwrap()).await
}

#[test]
fn a_printed_address_lets_this_machine_in_and_goes_on_within_the_pages() {
    wait(async {
        let (shop, path) = with_a_way_in().await;
        for (to, expected) in [("", "/"), ("&to=/people", "/people"), ("&to=//elsewhere.example", "/")] {
            let answer = ask(&shop, &format!("{path}{to}"), "127.0.0.1:50000").await;
            assert_eq!((answer.status, answer.to()), (StatusCode::SEE_OTHER, expected));
            assert_eq!(shop.get(&answer.cookie(), "/people").await.status, StatusCode::OK);
        }
    });
}

#[test]
fn nobody_else_gets_in_by_it() {
    wait(async {
        let (shop, path) = with_a_way_in().await;
        let (wrong, shorter) = (format!("{path}0"), &path[..path.len() - 1]);
        for (path, from) in [(path.as_str(), "192.0.2.7:50000"), (&wrong, "127.0.0.1:50000")].into_iter().chain([
            (shorter, "127.0.0.1:50000"),
            ("/come-in?code=", "127.0.0.1:50000"),
            ("/come-in", "[::1]:50000"),
        ]) {
            let answer = ask(&shop, path, from).await;
            assert_eq!((answer.status, answer.cookie()), (StatusCode::NOT_FOUND, String::new()), "{path} from {from}");
        }
        let unseen = shop.get("", &path).await;
        assert_eq!(unseen.status, StatusCode::NOT_FOUND, "an address that is not known is not this machine's");
    });
}

#[test]
fn who_is_signed_out_of_such_a_shop_is_told_of_the_printed_addresses() {
    wait(async {
        let (shop, _) = with_a_way_in().await;
        let answer = shop.get("", "/sign-in").await;
        assert_eq!(answer.status, StatusCode::OK);
        assert!(answer.body.contains("Open one of the addresses that were printed"), "{}", answer.body);
    });
}

#[test]
fn a_shop_whose_people_have_no_password_gets_its_owner_on_the_first_run() {
    wait(async {
        let shop = Shop::empty().await;
        let write = shop.store.begin(Acting::program()).await.unwrap();
        write.add(Person::new(&write, "Owner (invented)", Role::Owner)).await.unwrap();
        write.commit().await.unwrap();
        assert!(shop.app.first_run_is_due().await.unwrap());
        let code = shop.app.first_code().to_owned();
        let form = [("code", code.as_str()), ("name", "Mira Oakshott"), ("password", PASSWORD), ("again", PASSWORD)];
        assert_eq!(shop.post("", "/first-run", &form).await.to(), "/");
        assert!(!shop.app.first_run_is_due().await.unwrap());
    });
}
