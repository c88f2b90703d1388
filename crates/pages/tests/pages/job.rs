//! A truck's way through the pages: taken in, looked at, answered, judged; and what is typed stays text.

use crate::ground::{Shop, wait};
use axum::http::StatusCode;

#[test]
fn a_truck_is_taken_in_and_stands_in_todays_list() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        assert_eq!(shop.take_in(&technician, &[]).await.status, StatusCode::FORBIDDEN);
        assert_eq!(shop.take_in(&counter, &[]).await.to(), "/jobs/1");
        let today = shop.get(&technician, "/").await.body;
        for told in ["To be looked at (1)", "1 · Tarnhorn 6", "A. Fernhill"] {
            assert!(today.contains(told), "{told}");
        }
        for (question, told) in
            [("fernhil", "A. Fernhill"), ("fernhill", "555-0142 · 1 truck<"), ("tarnhron", "truck "), ("1", "/jobs/1")]
        {
            let found = shop.get(&technician, &format!("/find?q={question}")).await.body;
            assert!(found.contains(told), "{question}");
        }
    });
}

#[test]
fn a_form_that_is_sent_twice_counts_once() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        let key = [("key", "the-same-form-twice")];
        assert_eq!(shop.take_in(&counter, &key).await.to(), "/jobs/1");
        assert_eq!(shop.take_in(&counter, &key).await.to(), "/jobs/1");
        assert_eq!(shop.get(&counter, "/jobs/2").await.status, StatusCode::NOT_FOUND);
    });
}

#[test]
fn what_is_wrong_with_a_take_in_is_told_and_nothing_is_kept() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        for (field, value, told) in [
            ("mass", "10.4", "has no unit"),
            ("mass", "9,500 kg", "Mass ready to run: “9,500 kg” has a comma"),
            ("cells", "many", "no whole number"),
            ("kv", "980 mm", "980 mm"),
            ("battery", "", "battery"),
            ("name", " ", "0 letters"),
        ] {
            let answer = shop.take_in(&counter, &[(field, value)]).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{field}");
            assert!(answer.body.contains(told), "{field}: {told}");
            assert!(answer.body.contains("It went after six runs."), "what was typed is still there");
        }
        assert!(shop.get(&counter, "/").await.body.contains("No job is open"));
    });
}

#[test]
fn an_answer_moves_the_causes_and_can_be_changed() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let before = shop.get(&technician, "/jobs/1").await.body;
        assert!(before.contains("href=\"#part-3\"") && before.contains("id=\"part-3\""), "the drawing leads to checks");
        let answer = |version, word| {
            [("check", "motor-rocks"), ("answer", word), ("value", "0.45 mm"), ("note", "a lot"), ("version", version)]
        };
        let kept = shop.post(&technician, "/jobs/1/findings", &answer("0", "yes")).await;
        assert_eq!(kept.to(), "/jobs/1#next");
        let after = shop.get(&technician, "/jobs/1").await.body;
        assert!(after.contains("Yes, 0.45 mm") && after.contains("Tilda Torque") && after.contains("“a lot”"));
        let causes =
            |page: &str| page.split("id=\"causes\"").nth(1).unwrap().split("</section>").next().unwrap().to_owned();
        assert_ne!(causes(&before), causes(&after));
        let late = shop.post(&technician, "/jobs/1/findings", &answer("0", "no")).await;
        assert!(late.body.contains("Somebody else answered this meanwhile"), "an unseen answer is not written over");
        assert_eq!(shop.post(&technician, "/jobs/1/findings", &answer("1", "no")).await.to(), "/jobs/1#next");
        assert!(shop.get(&technician, "/jobs/1").await.body.contains("No, 0.45 mm"));
    });
}

#[test]
fn an_answer_that_cannot_be_computed_is_told_and_not_kept() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        for (check, value, told) in
            [("motor-rocks", "0.45 kg", "The measured value: “kg” measures"), ("no-such-check", "", "no-such-check")]
        {
            let form = [("check", check), ("answer", "yes"), ("value", value), ("version", "0")];
            let answer = shop.post(&technician, "/jobs/1/findings", &form).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
            assert!(answer.body.contains(told), "{told}: {}", answer.body);
        }
        assert!(!shop.get(&technician, "/jobs/1").await.body.contains("class=\"given\""));
    });
}

#[test]
fn whoever_answers_again_loses_nothing_of_the_answer() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        // A bare number is in the unit beside the field, and a comma is a point where nothing else can be meant.
        let form = [("check", "motor-rocks"), ("answer", "yes"), ("value", "0,45"), ("note", "left"), ("version", "0")];
        assert_eq!(shop.post(&technician, "/jobs/1/findings", &form).await.to(), "/jobs/1#next");
        let sheet = shop.get(&technician, "/jobs/1").await.body;
        assert!(sheet.contains("<strong>Yes, 0.45 mm</strong>"), "{sheet}");
        let again = sheet.split("id=\"check-motor-rocks\"").nth(1).unwrap().split("</details>").next().unwrap();
        assert!(
            again.contains("Measured, in mm")
                && again.contains("value=\"0.45 mm\"")
                && again.contains("value=\"left\"")
        );
        // An answer that its own measurement contradicts is kept, and the page says so.
        let form = [("check", "motor-rocks"), ("answer", "no"), ("value", "0.45 mm"), ("version", "1")];
        shop.post(&technician, "/jobs/1/findings", &form).await;
        let sheet = shop.get(&technician, "/jobs/1").await.body;
        assert!(sheet.contains("notice doubt") && sheet.contains("is answered no, but 0.45 mm says yes"), "{sheet}");
        assert!(!sheet.contains("finding &quot;motor-rocks"), "in the check's words");
    });
}

#[test]
fn an_answer_that_is_refused_stays_in_its_form() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let form =
            [("check", "motor-rocks"), ("answer", "yes"), ("value", "a lot"), ("note", "left"), ("version", "0")];
        let sheet = shop.post(&technician, "/jobs/1/findings", &form).await.body;
        let fold = sheet.split("id=\"check-motor-rocks\"").nth(1).unwrap().split("</details>").next().unwrap();
        assert!(
            fold.contains("value=\"a lot\"") && fold.contains("value=\"left\"") && fold.contains("class=\"wrong\""),
            "{fold}"
        );
        assert!(sheet.contains("href=\"#check-motor-rocks\""), "the way to it");
    });
}

#[test]
fn an_answer_is_taken_back_as_it_stood_on_the_page() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let answer = |answer, version| [("check", "motor-rocks"), ("answer", answer), ("version", version)];
        shop.post(&technician, "/jobs/1/findings", &answer("yes", "0")).await;
        shop.post(&technician, "/jobs/1/findings", &answer("no", "1")).await;
        let back = |version| [("check", "motor-rocks"), ("version", version)];
        let late = shop.post(&technician, "/jobs/1/findings/back", &back("1")).await;
        assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(late.body.contains("Somebody else answered this meanwhile"));
        for _ in 0..2 {
            assert_eq!(shop.post(&technician, "/jobs/1/findings/back", &back("2")).await.to(), "/jobs/1#next");
        }
        assert!(!shop.get(&technician, "/jobs/1").await.body.contains("class=\"given\""));
    });
}

#[test]
fn a_job_is_led_on_as_its_life_cycle_allows() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        // Taking in writes the job twice, so that its second version is read.
        let lead = |state, version| [("state", state), ("version", version)];
        let early = shop.post(&technician, "/jobs/1/lead", &lead("checked", "2")).await;
        assert_eq!(early.status, StatusCode::CONFLICT);
        assert!(early.body.contains("cannot become"));
        assert_eq!(shop.post(&technician, "/jobs/1/lead", &lead("looked-at", "2")).await.to(), "/jobs/1");
        assert_eq!(shop.post(&technician, "/jobs/1/lead", &lead("declined", "2")).await.status, StatusCode::CONFLICT);
        assert!(shop.get(&technician, "/").await.body.contains("To be priced (1)"));
        assert_eq!(shop.post(&technician, "/jobs/1/lead", &lead("priced", "3")).await.to(), "/jobs/1");
        assert_eq!(shop.post(&technician, "/jobs/1/lead", &lead("waiting-for-answer", "4")).await.to(), "/jobs/1");
        let page = shop.get(&technician, "/jobs/1").await.body;
        let lead = page.split("id=\"lead\"").nth(1).unwrap();
        assert!(lead.contains("It waits for the customer&#39;s answer."));
        // The way on first, a no behind it, the way back last and told as such.
        let places = ["href=\"/jobs/1/alternatives#answer\"", "The customer said no", "Back: it was priced"]
            .map(|told| lead.find(told).unwrap_or_else(|| panic!("{told}")));
        assert!(places.is_sorted());
        assert!(!lead.contains("value=\"agreed\""), "a yes is noted with its price, not stepped over");
    });
}

#[test]
fn the_verdict_has_the_shops_look_and_nothing_inline() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let verdict = shop.get(&technician, "/jobs/1/verdict").await;
        assert_eq!(verdict.status, StatusCode::OK);
        for told in ["What holds and what fails", "for A. Fernhill", "job 1", "as built"] {
            assert!(verdict.body.contains(told), "{told}");
        }
        for inline in ["<style", "<script", " style=", "onclick"] {
            assert!(!verdict.without_own_scripts().contains(inline), "{inline}");
        }
        let file = shop.get(&technician, "/jobs/1/file").await;
        assert!(file.body.contains("stripped-again") && file.body.contains("10.4 kg"));
    });
}

#[test]
fn the_truck_comes_again_as_it_was_built() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let customer = shop.get(&counter, "/find?q=fernhill").await.body;
        let address = customer.split("href=\"/customers/").nth(1).unwrap().split('"').next().unwrap();
        let page = shop.get(&counter, &format!("/customers/{address}")).await.body;
        let tag = page.split("/take-in?truck=").nth(1).unwrap().split('"').next().unwrap().to_owned();
        assert!(shop.get(&counter, &format!("/take-in?truck={tag}")).await.body.contains("As the last time"));
        let form = [
            ("key", "again-as-it-was"),
            ("truck", tag.as_str()),
            ("same_build", "yes"),
            ("complaint", "check"),
            ("battery", "none"),
        ];
        assert_eq!(shop.post(&counter, "/take-in", &form).await.to(), "/jobs/2");
        assert!(shop.get(&counter, "/jobs/2/file").await.body.contains("10.4 kg"));
    });
}

#[test]
fn what_people_type_is_shown_as_text() {
    wait(async {
        let (shop, [owner, counter, technician]) = Shop::with_people().await;
        let evil = "<script>alert(1)</script>\"'><img src=x onerror=alert(1)>'; DROP TABLE job; --";
        let change = [("name", evil), ("truck_name", evil), ("said", evil), ("phone", evil)];
        assert_eq!(shop.take_in(&counter, &change).await.to(), "/jobs/1");
        let form = [("check", "motor-rocks"), ("answer", "yes"), ("note", evil), ("version", "0")];
        shop.post(&technician, "/jobs/1/findings", &form).await;
        let found = shop.get(&counter, "/find?q=script").await.body;
        let customer = found.split("href=\"/customers/").nth(1).unwrap().split('"').next().unwrap().to_owned();
        let customer = format!("/customers/{customer}");
        for path in ["/", "/jobs/1", "/jobs/1/verdict", "/find?q=%3Cscript%3Ealert(1)", "/take-in", &customer] {
            let body = shop.get(&owner, path).await.without_own_scripts();
            assert!(!body.contains("<script") && !body.contains("<img src=x"), "{path}");
        }
        assert!(shop.get(&owner, "/").await.body.contains("&lt;script&gt;alert(1)"), "it is shown");
    });
}
