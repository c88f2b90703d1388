//! The shop's settings and its people: read, changed, refused, not written over.

use crate::ground::{PASSWORD, Shop, wait};
use axum::http::StatusCode;
use toothsayer_records::{Units, everybody, shop_of};

const SETTINGS: [(&str, &str); 9] = [
    ("version", "0"),
    ("name", "Millrace Models"),
    ("currency", "eur"),
    ("labour_rate", "55"),
    ("looking_fee", "15,00 EUR"),
    ("comeback_cost", "120"),
    ("horizon_runs", "40"),
    ("units", "us"),
    ("time_zone", "pacific/kiritimati"),
];

fn with(field: &'static str, value: &'static str) -> Vec<(&'static str, &'static str)> {
    SETTINGS.into_iter().map(|(name, own)| (name, if name == field { value } else { own })).collect()
}

#[test]
fn settings_hold_for_the_next_job_and_are_not_written_over() {
    wait(async {
        let (shop, [owner, counter, _]) = Shop::with_people().await;
        assert_eq!(shop.post(&owner, "/settings", &SETTINGS).await.to(), "/settings?kept=yes");
        let kept = shop_of(&shop.store).await.unwrap();
        assert_eq!((kept.labour_rate, kept.looking_fee, kept.horizon_runs), (5_500, 1_500, 40));
        assert_eq!((kept.currency.as_str(), kept.units), ("EUR", Units::Us));
        let page = shop.get(&owner, "/settings?kept=yes").await.body;
        assert!(page.contains("value=\"55.00\"") && page.contains("Kept.") && page.contains("Millrace Models"));
        let late = shop.post(&owner, "/settings", &with("labour_rate", "70")).await;
        assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(late.body.contains("changed the settings meanwhile") && late.body.contains("value=\"70\""));
        shop.take_in(&counter, &[]).await;
        assert!(shop.get(&counter, "/jobs/1/file").await.body.contains("labour_rate = \"55.00 EUR/h\""));
        // Kiritimati is 14 hours before UTC (IANA time zone database).
        assert_eq!(kept.time_zone, "Pacific/Kiritimati");
        assert!(shop.get(&counter, "/jobs/1").await.body.contains(" +14"), "the bench sheet tells the shop's time");
    });
}

#[test]
fn settings_that_are_none_are_told_and_stay_on_the_page() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        for (field, value, told) in [
            ("labour_rate", "much", "An hour&#39;s work “much” is no amount"),
            ("labour_rate", "-5", "is no amount"),
            ("looking_fee", "15 GBP", "Looking fee is in GBP"),
            ("comeback_cost", "1,250", "What a comeback costs the shop “1,250” is no amount"),
            ("currency", "euros", "three letters"),
            ("horizon_runs", "0", "Runs that count “0” is no whole number of 1 to 10000 runs"),
            ("horizon_runs", "some", "1 to 10000 runs"),
            ("time_zone", "Millrace", "such as Europe/Berlin"),
        ] {
            let answer = shop.post(&owner, "/settings", &with(field, value)).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{field}: {value}");
            assert!(answer.body.contains(told), "{field}: {value}: {told}");
            assert!(answer.body.contains(&format!("value=\"{value}\"")), "{field}: {value} is still there");
        }
        assert_eq!(shop_of(&shop.store).await.unwrap().version, 0);
    });
}

#[test]
fn a_shop_without_a_name_and_parts_in_another_currency_are_told() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        let told = ["The shop has no name yet", "1 of the parts on the list have their price in another currency"];
        let doubts = async || {
            let page = shop.get(&owner, "/settings").await.body;
            told.map(|told| page.contains(told))
        };
        assert_eq!(doubts().await, [true, false]);
        shop.post(&owner, "/settings", &SETTINGS).await;
        shop.post(&owner, "/parts", &crate::parts::SPUR).await;
        assert_eq!(doubts().await, [false, false]);
        let mut changed = with("currency", "GBP");
        changed.retain(|(field, _)| !["version", "looking_fee"].contains(field));
        changed.extend([("version", "1"), ("looking_fee", "15")]);
        assert_eq!(shop.post(&owner, "/settings", &changed).await.to(), "/settings?kept=yes");
        assert_eq!(doubts().await, [false, true]);
    });
}

#[test]
fn a_changed_password_signs_every_other_device_out() {
    wait(async {
        let (shop, [.., technician]) = Shop::with_people().await;
        let other = shop.sign_in("Tilda Torque", PASSWORD).await.cookie();
        let change = |now, new, again| [("now", now), ("password", new), ("again", again)];
        for (form, told) in [
            (change("wrong password", "three right spanners", "three right spanners"), "does not fit"),
            (change(PASSWORD, "short", "short"), "5 letters"),
            (change(PASSWORD, "three right spanners", "three left spanners"), "differ"),
        ] {
            let answer = shop.post(&technician, "/people/me", &form).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{told}");
            assert!(answer.body.contains(told), "{told}");
        }
        let form = change(PASSWORD, "three right spanners", "three right spanners");
        let changed = shop.post(&technician, "/people/me", &form).await;
        assert_eq!(changed.to(), "/people/me");
        assert_eq!(shop.get(&changed.cookie(), "/people/me").await.status, StatusCode::OK);
        for gone in [&technician, &other] {
            assert_eq!(shop.get(gone, "/").await.to(), "/sign-in");
        }
        assert_eq!(shop.sign_in("Tilda Torque", PASSWORD).await.status, StatusCode::UNAUTHORIZED);
    });
}

#[test]
fn guessing_ones_own_password_is_stopped_as_at_the_door() {
    wait(async {
        let (shop, [.., technician]) = Shop::with_people().await;
        let form = |now| [("now", now), ("password", "three right spanners"), ("again", "three right spanners")];
        for _ in 0..8 {
            shop.post(&technician, "/people/me", &form("a guess of it")).await;
        }
        assert!(shop.post(&technician, "/people/me", &form(PASSWORD)).await.body.contains("Too many tries"));
    });
}

#[test]
fn the_owner_lets_people_go_and_sets_passwords_but_stays() {
    wait(async {
        let (shop, [owner, _, technician]) = Shop::with_people().await;
        let people = everybody(&shop.store).await.unwrap();
        let of = |name: &str| format!("/people/{}", people.iter().find(|person| person.name == name).unwrap().id);
        let tilda = of("Tilda Torque");
        assert_eq!(shop.post(&owner, &tilda, &[("version", "1"), ("to", "gone")]).await.to(), "/people");
        assert_eq!(shop.get(&technician, "/").await.to(), "/sign-in");
        assert_eq!(shop.sign_in("Tilda Torque", PASSWORD).await.status, StatusCode::UNAUTHORIZED);
        let late = shop.post(&owner, &tilda, &[("version", "1"), ("to", "here")]).await;
        assert!(late.body.contains("changed this account meanwhile"));
        assert_eq!(shop.post(&owner, &tilda, &[("version", "2"), ("to", "here")]).await.to(), "/people");
        let set =
            |password, again| [("version", "3"), ("to", "with-password"), ("password", password), ("again", again)];
        for (weak, told) in [
            (set("short", "short"), "5 letters"),
            (set("three right spanners", "three left spanners"), "The two passwords differ"),
        ] {
            let refused = shop.post(&owner, &tilda, &weak).await;
            assert!(refused.status == StatusCode::UNPROCESSABLE_ENTITY && refused.body.contains(told), "{told}");
        }
        let strong = set("three right spanners", "three right spanners");
        assert_eq!(shop.post(&owner, &tilda, &strong).await.to(), "/people");
        assert_eq!(shop.sign_in("Tilda Torque", "three right spanners").await.to(), "/");
        let last = shop.post(&owner, &of("Mira Oakshott"), &[("version", "1"), ("to", "gone")]).await;
        assert!(last.body.contains("at least one owner"), "{}", last.body);
    });
}

#[test]
fn who_goes_is_asked_for_once_more() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        let page = shop.get(&owner, "/people").await.body;
        let fold = page.split("<summary>No longer works here</summary>").nth(1).unwrap();
        let fold = fold.split("</details>").next().unwrap();
        assert!(fold.contains("name=\"to\" value=\"gone\"") && fold.contains("Yes, sign them out: Cosmo Counter"));
        assert_eq!(page.matches("value=\"gone\"").count(), 2, "one each for the others, none outside its fold");
    });
}

#[test]
fn the_owner_changes_names_and_roles_and_one_owner_stays() {
    wait(async {
        let (shop, [owner, _, technician]) = Shop::with_people().await;
        let people = everybody(&shop.store).await.unwrap();
        let of = |name: &str| format!("/people/{}", people.iter().find(|person| person.name == name).unwrap().id);
        let named = |name, role, version| [("to", "named"), ("name", name), ("role", role), ("version", version)];
        let [tilda, mira] = [of("Tilda Torque"), of("Mira Oakshott")];
        for (path, form, told) in [
            (&tilda, named("cosmo counter", "counter", "1"), "There is somebody of the name cosmo counter already"),
            (&tilda, named(" ", "counter", "1"), "0 letters"),
            (&tilda, named("Tilda Tork", "counter", "7"), "changed this account meanwhile"),
            (&mira, named("Mira Oakshott", "counter", "1"), "at least one owner"),
        ] {
            let refused = shop.post(&owner, path, &form).await;
            assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{told}");
            assert!(
                refused.body.contains(told) && refused.body.contains(&format!("value=\"{}\"", form[1].1)),
                "{told}"
            );
        }
        assert_eq!(shop.post(&technician, &tilda, &named("Tilda", "owner", "1")).await.status, StatusCode::FORBIDDEN);
        assert_eq!(shop.get(&technician, "/take-in").await.status, StatusCode::FORBIDDEN);
        assert_eq!(shop.post(&owner, &tilda, &named("Tilda Tork", "counter", "1")).await.to(), "/people");
        assert_eq!(shop.get(&technician, "/take-in").await.status, StatusCode::OK, "the role holds at once");
        assert_eq!(shop.sign_in("Tilda Tork", PASSWORD).await.to(), "/");
        let own = shop.post(&owner, &mira, &named("Mira Oak", "owner", "1")).await;
        assert_eq!(own.to(), "/people");
        assert!(shop.get(&owner, "/people").await.body.contains("Mira Oak"), "a new name signs nobody out");
    });
}
