//! The hand-over: papers, calendar, what is owed, leading on from there; links are given out and revoked.

use crate::ground::{Shop, request, wait};
use axum::body::Body;
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};

/// A shop with the example's truck in it, its motor rocking; owner, counter, technician.
pub async fn shop_with_a_job() -> (Shop, [String; 3]) {
    let (shop, cookies) = Shop::with_people().await;
    shop.take_in(&cookies[1], &[]).await;
    let rocks = [("check", "motor-rocks"), ("answer", "yes"), ("value", "0.45 mm"), ("note", "ours"), ("version", "0")];
    assert_eq!(shop.post(&cookies[2], "/jobs/1/findings", &rocks).await.to(), "/jobs/1#next");
    (shop, cookies)
}

/// Makes a link to a job and answers its path.
pub async fn link(shop: &Shop, cookie: &str, job: i64) -> String {
    let page = shop.get(cookie, &format!("/jobs/{job}/hand-over")).await.body;
    let key = page.split("name=\"key\" value=\"").nth(1).unwrap().split('"').next().unwrap();
    let form = [("key", key), ("label", "Fernhill's phone"), ("days", "60")];
    let made = shop.post(cookie, &format!("/jobs/{job}/links"), &form).await;
    assert_eq!(made.status, StatusCode::CREATED);
    let address = made.body.split("http://127.0.0.1:7878").nth(1).unwrap();
    address.split('"').next().unwrap().to_owned()
}

#[test]
fn every_paper_of_a_job_is_a_pdf() {
    wait(async {
        let (shop, [_, counter, _]) = shop_with_a_job().await;
        for name in ["hand-over", "quote", "bench-sheet", "appendix", "label", "warranty-pack"] {
            let asked = request("GET", &format!("/jobs/1/papers/{name}.pdf"), &counter).body(Body::empty()).unwrap();
            let (status, headers, bytes) = shop.bytes(asked).await;
            assert_eq!((status.as_u16(), headers[CONTENT_TYPE].to_str().unwrap()), (200, "application/pdf"), "{name}");
            // ISO 32000-1, 7.5.2 and 7.5.5: how a PDF begins and ends.
            assert!(bytes.starts_with(b"%PDF-") && bytes.trim_ascii_end().ends_with(b"%%EOF"), "{name}");
        }
        for name in ["none.pdf", "hand-over", "hand-over.pdf.pdf", "..%2fhand-over.pdf"] {
            let status = shop.get(&counter, &format!("/jobs/1/papers/{name}")).await.status;
            assert_eq!(status, StatusCode::NOT_FOUND, "{name}");
        }
    });
}

#[test]
fn the_care_plan_comes_as_a_calendar_by_the_customers_rhythm() {
    wait(async {
        let (shop, [_, _, technician]) = shop_with_a_job().await;
        let calendar = shop.get(&technician, "/jobs/1/care.ics?from=2026-12-01&runs_per_week=2").await;
        assert_eq!(calendar.headers[CONTENT_TYPE], "text/calendar; charset=utf-8");
        assert_eq!(calendar.headers[CONTENT_DISPOSITION], "attachment; filename=\"care-1.ics\"");
        // The first run of two a week from 1 December on falls on the 4th: 7/2 days later, whole days.
        for told in ["BEGIN:VCALENDAR", "DTSTART;VALUE=DATE:20261204", "Tarnhorn 6: care after run 1"] {
            assert!(calendar.body.contains(told), "{told}");
        }
        let told = shop.get(&technician, "/jobs/1/care.ics?runs_per_week=-3").await.body;
        assert!(told.contains("Runs a week: “-3” is not taken") && !told.contains("runs_per_week"), "{told}");
        for wrong in ["from=soon", "from=1969-01-01", "from=9999-12-31", "runs_per_week=0", "runs_per_week=many"] {
            let status = shop.get(&technician, &format!("/jobs/1/care.ics?{wrong}")).await.status;
            assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{wrong}");
        }
    });
}

#[test]
fn the_hand_over_tells_what_is_owed_and_what_the_customer_reads() {
    wait(async {
        let (shop, [_, counter, technician]) = shop_with_a_job().await;
        let page = shop.get(&counter, "/jobs/1/hand-over").await.body;
        for told in ["A. Fernhill", "Nothing yet", "Recheck", "What happened", "What is proposed", "What to do next"] {
            assert!(page.contains(told), "{told}");
        }
        assert!(!shop.get(&technician, "/jobs/1/hand-over").await.body.contains("Make a link"), "the counter's to do");
        let version = page.split("name=\"version\" value=\"").nth(1).unwrap().split('"').next().unwrap();
        let step = [("version", version), ("at", "hand-over"), ("state", "looked-at")];
        assert_eq!(shop.post(&counter, "/jobs/1/lead", &step).await.to(), "/jobs/1/hand-over");
        let page = shop.get(&counter, "/jobs/1/hand-over").await.body;
        let version = page.split("name=\"version\" value=\"").nth(1).unwrap().split('"').next().unwrap();
        let early = [("version", version), ("at", "hand-over"), ("state", "collected")];
        let early = shop.post(&counter, "/jobs/1/lead", &early).await;
        assert!(early.body.contains("cannot become collected") && early.body.contains("the customer owes"));
        let away = [("version", version), ("at", "//elsewhere.example"), ("state", "priced")];
        assert_eq!(shop.post(&counter, "/jobs/1/lead", &away).await.to(), "/jobs/1", "nobody is sent elsewhere");
    });
}

#[test]
fn a_link_is_shown_once_listed_and_revoked() {
    wait(async {
        let (shop, [_, counter, technician]) = shop_with_a_job().await;
        let path = link(&shop, &counter, 1).await;
        let page = shop.get(&counter, "/jobs/1/hand-over").await.body;
        assert!(page.contains("Fernhill&#39;s phone") && page.contains("goes until") && !page.contains(&path), "once");
        let revoke = page.split("action=\"/jobs/1/links/").nth(1).unwrap().split('"').next().unwrap().to_owned();
        let revoke = format!("/jobs/1/links/{revoke}");
        assert_eq!(shop.post(&technician, &revoke, &[("version", "1")]).await.status, StatusCode::FORBIDDEN);
        assert_eq!(shop.post(&counter, &revoke, &[("version", "7")]).await.status, StatusCode::CONFLICT);
        assert_eq!(shop.get("", &path).await.status, StatusCode::OK);
        for _ in 0..2 {
            assert_eq!(shop.post(&counter, &revoke, &[("version", "1")]).await.to(), "/jobs/1/hand-over#links");
        }
        assert_eq!(shop.get("", &path).await.status, StatusCode::NOT_FOUND);
        shop.take_in(&counter, &[("name", "B. Sedgemoor")]).await;
        let elsewhere = revoke.replace("/jobs/1/", "/jobs/2/");
        assert_eq!(shop.post(&counter, &elsewhere, &[("version", "1")]).await.status, StatusCode::NOT_FOUND);
    });
}

#[test]
fn a_link_that_cannot_be_is_told_with_the_form_as_it_was_typed() {
    wait(async {
        let (shop, [_, counter, _]) = shop_with_a_job().await;
        let long = "x".repeat(81);
        for (label, days, told) in
            [("a phone", "0", "1 to 365"), ("a phone", "366", "1 to 365"), (&long, "60", "81 letters")]
        {
            let form = [("key", "a-form-of-links"), ("label", label), ("days", days)];
            let answer = shop.post(&counter, "/jobs/1/links", &form).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{days}");
            assert!(answer.body.contains(told) && answer.body.contains(&format!("value=\"{label}\"")), "{told}");
        }
        let form = [("key", "a-form-sent-twice"), ("label", "<b>"), ("days", "7")];
        assert_eq!(shop.post(&counter, "/jobs/1/links", &form).await.status, StatusCode::CREATED);
        assert_eq!(shop.post(&counter, "/jobs/1/links", &form).await.to(), "/jobs/1/hand-over#links");
        let page = shop.get(&counter, "/jobs/1/hand-over").await.body;
        assert_eq!(page.matches("/revoke").count(), 1, "sent twice, made once");
        assert!(page.contains("&lt;b&gt;"));
    });
}
