//! Will it hold, of a job: every state with the step at which parts fail, changes tried by form and by slider.

use crate::ground::{Shop, wait};
use axum::http::StatusCode;

/// A job with its motor rocking.
async fn rocking(shop: &Shop, counter: &str) {
    shop.take_in(counter, &[]).await;
    let finding = [("check", "motor-rocks"), ("answer", "yes"), ("value", "0.45 mm"), ("version", "0")];
    assert_eq!(shop.post(counter, "/jobs/1/findings", &finding).await.to(), "/jobs/1#next");
}

#[test]
fn every_state_is_told_with_the_step_at_which_parts_fail() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        rocking(&shop, &counter).await;
        let page = shop.get(&technician, "/jobs/1/verdict").await.body;
        let live = page.split("<h2>What would have to change").next().unwrap();
        for told in ["As found", "does not hold", "in the condition found", "The blow that leaves least", "repaired"] {
            assert!(live.contains(told), "{told}");
        }
        assert!(page.contains("name=\"brake\"") && page.contains("It has 7."));
    });
}

/// What is told of a try.
#[track_caller]
fn check((status, body): (StatusCode, &str), expected: StatusCode, told: &str) {
    assert_eq!(status, expected, "{body}");
    assert!(body.contains(told), "{told}: {body}");
    assert!(!body.contains("<html"), "it is a part of a page");
}

#[test]
fn changes_are_tried_and_nonsense_is_told() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        rocking(&shop, &counter).await;
        let ask = async |wish: &str| {
            let answer = shop.get(&technician, &format!("/jobs/1/hold?{wish}")).await;
            (answer.status, answer.body)
        };
        for (wish, status, told) in [
            ("", StatusCode::OK, "As it is, it "),
            ("of=found", StatusCode::OK, "does not hold"),
            ("brake=40", StatusCode::OK, "venue and bystanders decide"),
            ("pinion=25&cells=8", StatusCode::OK, "does not hold"),
            ("brake=40&wheel=300,5&pinion=18&cells=6&drop=50&throttle=80", StatusCode::OK, "With that it "),
            ("brake=many", StatusCode::UNPROCESSABLE_ENTITY, "Brake strength"),
            ("brake=400", StatusCode::UNPROCESSABLE_ENTITY, "Brake strength is 400"),
            ("wheel=1,000", StatusCode::UNPROCESSABLE_ENTITY, "has a comma in its number"),
            ("wheel=1e999", StatusCode::UNPROCESSABLE_ENTITY, "Mass of one wheel"),
            ("pinion=NaN", StatusCode::UNPROCESSABLE_ENTITY, "Teeth of the pinion"),
            ("pinion=3", StatusCode::UNPROCESSABLE_ENTITY, "Teeth of the pinion"),
            ("cells=-1", StatusCode::UNPROCESSABLE_ENTITY, "Cells in series"),
            ("brake=%3Cb%3E", StatusCode::UNPROCESSABLE_ENTITY, "&lt;b&gt;"),
            ("of=broken", StatusCode::UNPROCESSABLE_ENTITY, "no such state"),
        ] {
            let (got, body) = ask(wish).await;
            check((got, &body), status, told);
        }
        let page = shop.get(&technician, "/jobs/1/verdict?brake=40").await.body;
        assert!(page.contains("venue and bystanders decide"), "without script the page itself tells");
    });
}

#[test]
fn the_smallest_changes_are_sought_when_asked_for() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        rocking(&shop, &counter).await;
        let before = shop.get(&technician, "/jobs/1/verdict").await.body;
        assert!(before.contains("Seek the three smallest changes"));
        let page = shop.get(&technician, "/jobs/1/verdict?changes=yes").await.body;
        assert!(page.contains("what is broken, loose or worn is put right first"), "no gears hold on a loose motor");
    });
}
