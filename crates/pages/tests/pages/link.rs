//! The customer's link opens one job's page and nothing else, for whoever has it, until it ends.

use crate::ground::{Shop, request, wait};
use crate::hand_over::{link, shop_with_a_job};
use crate::interface::ask_api;
use axum::body::Body;
use axum::http::StatusCode;
use axum::http::header::{CONTENT_TYPE, REFERRER_POLICY};
use toothsayer_records::{Acting, Moment, everybody, job_by_number};

/// What is known of the second customer, and must not be seen by the first.
const OTHERS: [(&str, &str); 3] = [("name", "B. Sedgemoor"), ("truck_name", "Brackenhop"), ("phone", "555-0177")];

#[test]
fn a_link_shows_its_job_and_nobody_elses() {
    wait(async {
        let (shop, [_, counter, _]) = shop_with_a_job().await;
        shop.take_in(&counter, &OTHERS).await;
        let [own, other] = [link(&shop, &counter, 1).await, link(&shop, &counter, 2).await];
        let page = shop.get("", &own).await;
        assert_eq!(page.status, StatusCode::OK);
        for told in
            ["Tarnhorn 6", "What happened", "0.45\u{a0}mm", "What is proposed", "What to do next", "Battery out"]
        {
            assert!(page.body.contains(told), "{told}");
        }
        for (_, hidden) in OTHERS {
            assert!(!page.body.contains(hidden), "{hidden}");
        }
        assert!(shop.get("", &other).await.body.contains("Brackenhop"));
    });
}

#[test]
fn a_link_shows_nothing_of_the_shops_own() {
    wait(async {
        let (shop, [_, counter, _]) = shop_with_a_job().await;
        let page = shop.get("", &link(&shop, &counter, 1).await).await;
        for hidden in ["ours", "Tilda Torque", "Cosmo Counter", "Sign out", "href=\"/jobs", "<form", " min."] {
            assert!(!page.body.contains(hidden), "{hidden}");
        }
        assert_eq!(page.headers[REFERRER_POLICY], "no-referrer");
        assert_eq!(page.headers["x-robots-tag"], "noindex, nofollow");
    });
}

#[test]
fn a_link_gives_the_calendar_and_the_paper_and_is_no_key_to_the_shop() {
    wait(async {
        let (shop, [_, counter, _]) = shop_with_a_job().await;
        let path = link(&shop, &counter, 1).await;
        for (end, media) in [("care.ics", "text/calendar; charset=utf-8"), ("hand-over.pdf", "application/pdf")] {
            let asked = request("GET", &format!("{path}/{end}"), "").body(Body::empty()).unwrap();
            assert_eq!(shop.bytes(asked).await.1[CONTENT_TYPE], media);
        }
        let secret = path.trim_start_matches("/link/");
        let cookie = counter.split_once('=').unwrap();
        let forged = format!("{}={secret}", cookie.0);
        assert_eq!(shop.get(&forged, "/").await.status, StatusCode::SEE_OTHER, "no session");
        let session = shop.get("", &format!("/link/{}", cookie.1)).await;
        assert_eq!(session.status, StatusCode::NOT_FOUND, "a session is no link");
    });
}

#[test]
fn wrong_and_revoked_links_are_told_alike_and_not_tried_for_ever() {
    wait(async {
        let (shop, [_, counter, _]) = shop_with_a_job().await;
        let path = link(&shop, &counter, 1).await;
        let page = shop.get(&counter, "/jobs/1/hand-over").await.body;
        let revoke = page.split("action=\"/jobs/1/links/").nth(1).unwrap().split('"').next().unwrap().to_owned();
        shop.post(&counter, &format!("/jobs/1/links/{revoke}"), &[("version", "1")]).await;
        let [revoked, wrong] = [shop.get("", &path).await, shop.get("", "/link/none").await];
        assert_eq!((revoked.status, &revoked.body), (wrong.status, &wrong.body));
        assert_eq!(revoked.status, StatusCode::NOT_FOUND);
        assert!(!revoked.body.contains("Tarnhorn"));
        let good = link(&shop, &counter, 1).await;
        let mut statuses = Vec::new();
        for guess in 0..40 {
            statuses.push(shop.get("", &format!("/link/{guess:064x}")).await.status);
        }
        assert_eq!(statuses.last(), Some(&StatusCode::TOO_MANY_REQUESTS));
        assert_eq!(shop.get("", &good).await.status, StatusCode::TOO_MANY_REQUESTS, "an address that guesses waits");
        assert_eq!(shop.sign_in("Cosmo Counter", crate::ground::PASSWORD).await.to(), "/", "and can still sign in");
    });
}

#[test]
fn what_has_ended_opens_nothing_and_is_told_as_what_never_was() {
    wait(async {
        let (shop, [owner, ..]) = shop_with_a_job().await;
        let before = Acting { who: None, at: Moment::now().after_minutes(-120) };
        let write = shop.store.begin(before).await.unwrap();
        let job = job_by_number(&write, 1).await.unwrap();
        let (_, link) = write.link(job.id, "the customer", 60).await.unwrap();
        let mira = everybody(&write).await.unwrap().remove(0);
        let (_, token) = write.program_token(mira.id, "a program", 60).await.unwrap();
        write.commit().await.unwrap();
        let [ended, wrong] =
            [shop.get("", &format!("/link/{}", link.reveal())).await, shop.get("", "/link/none").await];
        assert_eq!((ended.status, &ended.body), (wrong.status, &wrong.body));
        assert_eq!(ended.status, StatusCode::NOT_FOUND);
        let answer = ask_api(&shop, "GET", "/api/v1/jobs", token.reveal(), "").await;
        assert_eq!(answer.status, StatusCode::UNAUTHORIZED);
        assert!(shop.get(&owner, "/jobs/1/hand-over").await.body.contains("ended"), "the shop sees that it has ended");
    });
}

#[test]
fn no_page_has_a_link_that_it_cannot_give() {
    wait(async {
        let (shop, _): (Shop, _) = Shop::with_people().await;
        for path in ["/link/x/photos/y", "/link/x/care.ics", "/link/x/hand-over.pdf", "/link/", "/link/..%2f..%2f"] {
            assert_eq!(shop.get("", path).await.status, StatusCode::NOT_FOUND, "{path}");
        }
    });
}

/// What stands between two texts on a page.
pub fn between<'a>(page: &'a str, before: &str, after: &str) -> &'a str {
    page.split(before).nth(1).unwrap_or_else(|| panic!("{before} is not on the page")).split(after).next().unwrap()
}

#[test]
fn a_customer_says_yes_by_the_link_once_and_up_to_what_they_saw() {
    wait(async {
        let (shop, [_, counter, _]) = shop_with_a_job().await;
        let path = link(&shop, &counter, 1).await;
        assert!(!shop.get("", &path).await.body.contains("Your answer"), "nothing is asked yet");
        let page = shop.get(&counter, "/jobs/1/alternatives").await.body;
        let form = between(&page, "action=\"/jobs/1/offers\"", "</form>");
        let [version, shown] =
            ["version", "shown"].map(|name| between(form, &format!("name=\"{name}\" value=\""), "\""));
        shop.post(&counter, "/jobs/1/offers", &[("version", version), ("shown", shown)]).await;
        let asked = shop.get("", &path).await.body;
        let form = between(&asked, "/answer\"", "</form>");
        assert!(form.contains("up to ") && form.contains(" EUR"), "{form}");
        let offer = between(form, "name=\"offer\" value=\"", "\"");
        let version = between(form, "name=\"version\" value=\"", "\"");
        let reply = |offer, name, word| [("offer", offer), ("said_by", name), ("answer", word), ("version", version)];
        let answer = format!("{path}/answer");
        for wrong in [reply("", "A. Fernhill", "yes"), reply(offer, "", "yes")] {
            assert_eq!(shop.post("", &answer, &wrong).await.status, StatusCode::UNPROCESSABLE_ENTITY);
        }
        assert_eq!(shop.post("", "/link/none/answer", &reply(offer, "A", "yes")).await.status, StatusCode::NOT_FOUND);
        assert_eq!(shop.post("", &answer, &reply(offer, "A. Fernhill", "yes")).await.to(), path);
        assert!(shop.get("", &path).await.body.contains("You said yes"));
        assert!(shop.get(&counter, "/jobs/1/alternatives").await.body.contains("Taken: "));
        let late = shop.post("", &answer, &reply(offer, "A. Fernhill", "no")).await;
        assert!(late.status == StatusCode::UNPROCESSABLE_ENTITY && late.body.contains("answered already"));
    });
}
