//! Work on a job: steps signed for, torques held against their windows, clocks, parts, two people at once.

use crate::ground::{Answer, Shop, wait};
use axum::http::StatusCode;
use toothsayer_quantity::{Currency, Money};
use toothsayer_records::{
    Acting, Channel, GoAhead, JobState, Moment, NeedState, Part, job_by_number, needs_of, on_shelf, sign_offs_of,
    stints_of,
};

const WORK: &str = "/jobs/1/work";

/// A job whose motor rocks, so that its screws are tightened; owner, counter, technician.
async fn job() -> (Shop, [String; 3]) {
    let (shop, cookies) = Shop::with_people().await;
    shop.take_in(&cookies[1], &[]).await;
    let form = [("check", "motor-rocks"), ("answer", "yes"), ("value", "0.45 mm"), ("version", "0")];
    shop.post(&cookies[2], "/jobs/1/findings", &form).await;
    (shop, cookies)
}

/// The job agreed on.
async fn agreed(shop: &Shop) {
    let write = shop.store.begin(Acting { who: None, at: Moment::now() }).await.unwrap();
    let mut job = job_by_number(&write, 1).await.unwrap();
    write.add(GoAhead::yes(&write, job.id, Channel::Counter, 100_000)).await.unwrap();
    for state in [JobState::LookedAt, JobState::Priced, JobState::Agreed] {
        job = write.lead(&job, state, "").await.unwrap().saved().unwrap();
    }
    write.commit().await.unwrap();
}

/// The hidden fields of the first form with this action behind a place of the page.
fn hidden(page: &str, action: &str, behind: &str) -> Vec<(String, String)> {
    let from = page.find(behind).unwrap_or_else(|| panic!("{behind} is not on the page"));
    let form = page[from..].split(&format!("action=\"{action}\"")).nth(1).unwrap_or_else(|| panic!("no {action}"));
    let form = form.split("</form>").next().unwrap();
    let fields = form.split("type=\"hidden\" name=\"").skip(1).map(|field| {
        let (name, rest) = field.split_once("\" value=\"").unwrap();
        (name.to_owned(), rest.split('"').next().unwrap().replace("&quot;", "\"").replace("&amp;", "&"))
    });
    fields.collect()
}

/// Fills a form of the page and sends it.
async fn fill(shop: &Shop, cookie: &str, page: &str, at: [&str; 2], more: &[(&str, &str)]) -> Answer {
    let [action, behind] = at;
    let own = hidden(page, action, behind);
    let mut form: Vec<(&str, &str)> = own.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    form.extend_from_slice(more);
    shop.post(cookie, action, &form).await
}

#[test]
fn the_steps_stand_in_bench_order_with_torques_and_the_screw_map() {
    wait(async {
        let (shop, [_, _, technician]) = job().await;
        let page = shop.get(&technician, WORK).await.body;
        for told in [
            "Take off: gear cover",
            "Before and while you work",
            "N·m, no tighter",
            "Which screw goes where",
            "assumed: look at the screws first",
            "No repair is agreed on yet",
            "0 of ",
            "Done",
        ] {
            assert!(page.contains(told), "{told}");
        }
        let place = |text: &str| page.find(text).unwrap_or_else(|| panic!("{text}"));
        assert!(place("Take off: gear cover") < place("New pinion and spur"));
        assert!(place("New pinion and spur") < place("Put back: gear cover"));
    });
}

#[test]
fn a_step_is_signed_for_once_and_by_whoever_was_first() {
    wait(async {
        let (shop, [owner, _, technician]) = job().await;
        let page = shop.get(&technician, WORK).await.body;
        let at = ["/jobs/1/sign", "id=\"step-1\""];
        let answer = fill(&shop, &technician, &page, at, &[("note", "cover had a crack")]).await;
        assert_eq!(answer.to(), "/jobs/1/work#step-2");
        assert_eq!(fill(&shop, &technician, &page, at, &[("note", "cover had a crack")]).await.to(), answer.to());
        let late = fill(&shop, &owner, &page, at, &[("note", "mine")]).await;
        assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(late.body.contains("Tilda Torque signed for this meanwhile"), "the faster one is told");
        assert!(late.body.contains("value=\"mine\""), "what was typed is still there");
        let after = shop.get(&owner, WORK).await.body;
        assert!(after.contains("1 of ") && after.contains("“cover had a crack”"));
        let job = job_by_number(&shop.store, 1).await.unwrap();
        assert_eq!(sign_offs_of(&shop.store, job.id).await.unwrap().len(), 1);
    });
}

#[test]
fn a_torque_that_the_joint_does_not_bear_needs_its_reason() {
    wait(async {
        let (shop, [_, _, technician]) = job().await;
        let page = shop.get(&technician, WORK).await.body;
        let joint = "<input type=\"hidden\" name=\"joint\" value=\"";
        let behind = format!("{joint}{}", first_joint(&page));
        let step = page[..page.find(&behind).unwrap()].rfind("id=\"step-").unwrap();
        let step = page[step..].split('>').next().unwrap().to_owned();
        let try_it = |tightened: &'static str, note: &'static str| {
            let (shop, technician, page, step) = (&shop, &technician, &page, &step);
            let more = [("tightened", tightened), ("note", note)];
            async move { fill(shop, technician, page, ["/jobs/1/sign", step], &more).await }
        };
        for (tightened, told) in [
            ("", "How tight is missing"),
            ("3.4", "“3.4” has no unit"),
            ("3.4 mm", "torque"),
            ("-3 N*m", "tightens nothing"),
            ("90 N*m", "is above what"),
            ("0.01 N*m", "is below what"),
        ] {
            let answer = try_it(tightened, "").await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{tightened}");
            assert!(answer.body.contains(told), "{tightened}: {told}");
            assert!(answer.body.contains(&format!("value=\"{tightened}\"")), "{tightened} is still there");
        }
        let kept = try_it("90,5 N*m", "customer's own screw, told him").await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
        assert!(shop.get(&technician, WORK).await.body.contains("90.5 N*m"));
    });
}

/// The name of the first joint that a step of the page tightens.
fn first_joint(page: &str) -> String {
    let joints = page.split("name=\"joint\" value=\"").skip(1).map(|rest| rest.split('"').next().unwrap());
    joints.into_iter().find(|name| !name.is_empty()).expect("a joint is tightened").to_owned()
}

#[test]
fn a_clock_goes_on_with_the_next_step_and_holds_the_job_on_the_bench() {
    wait(async {
        let (shop, [owner, counter, technician]) = job().await;
        agreed(&shop).await;
        let page = shop.get(&technician, WORK).await.body;
        let start = ["/jobs/1/clock/start", "id=\"step-1\""];
        assert_eq!(fill(&shop, &technician, &page, start, &[]).await.to(), "/jobs/1/work#step-1");
        fill(&shop, &technician, &page, start, &[]).await;
        let job = job_by_number(&shop.store, 1).await.unwrap();
        assert_eq!(job.state, JobState::OnTheBench, "agreed work that is begun is on the bench");
        assert_eq!(stints_of(&shop.store, job.id).await.unwrap().len(), 1, "started twice is started once");
        let page = shop.get(&technician, WORK).await.body;
        assert!(page.contains("Your clock runs"));
        fill(&shop, &technician, &page, ["/jobs/1/sign", "id=\"step-1\""], &[]).await;
        let stints = stints_of(&shop.store, job.id).await.unwrap();
        assert_eq!((stints.len(), stints[0].ended.is_some(), stints[1].ended), (2, true, None));

        let lead = [("state", "checked"), ("version", &job.version.to_string()), ("at", "work")];
        let early = shop.post(&technician, "/jobs/1/lead", &lead).await;
        assert!(early.body.contains("clocks still run") && early.body.contains("Steps, in bench order"));
        shop.take_in(&counter, &[("truck_name", "Tarnhorn 6 of the other")]).await;
        assert!(shop.get(&technician, "/jobs/2/work").await.body.contains("Your clock runs on other jobs too"));
        let page = shop.get(&owner, WORK).await.body;
        let stop = ["/jobs/1/clock/stop", "id=\"step-2\""];
        assert!(page.contains("Tilda Torque&#39;s clock runs"));
        assert_eq!(fill(&shop, &owner, &page, stop, &[]).await.to(), "/jobs/1/work#step-2");
        assert_eq!(fill(&shop, &owner, &page, stop, &[]).await.status, StatusCode::SEE_OTHER, "stopped is stopped");
    });
}

#[test]
fn parts_go_from_the_plan_to_the_truck_and_the_wrong_gear_does_not() {
    wait(async {
        let (shop, [_, counter, technician]) = job().await;
        let write = shop.store.begin(Acting { who: None, at: Moment::now() }).await.unwrap();
        let price = Money { minor: 1_450, currency: Currency::EUR };
        let part = write.add(Part::new(&write, "spur 53", price)).await.unwrap();
        write.count_shelf(part.id, 1, "").await.unwrap();
        write.commit().await.unwrap();
        let page = shop.get(&technician, WORK).await.body;
        assert!(page.contains("The work needs also: ") && page.contains("pinion 19"));
        assert_eq!(shop.post(&technician, "/jobs/1/needs", &[("plan", "yes")]).await.to(), "/jobs/1/work#parts");
        let job = job_by_number(&shop.store, 1).await.unwrap();
        let needs = needs_of(&shop.store, job.id).await.unwrap();
        let spur = needs.iter().find(|need| need.text == "spur 53").unwrap();
        assert_eq!(
            (spur.part, spur.state),
            (None, NeedState::Wanted),
            "a part of no measures is not taken for the gear"
        );

        let choose = |part: String| [("need", spur.id.to_string()), ("version", "1".into()), ("part", part)];
        let form = choose(part.id.to_string());
        let form: Vec<(&str, &str)> = form.iter().map(|(name, value)| (*name, value.as_str())).collect();
        let wrong = shop.post(&technician, "/jobs/1/needs/choose", &form).await;
        assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(wrong.body.contains("it is no gear, wanted is a spur"));

        let write = shop.store.begin(Acting { who: None, at: Moment::now() }).await.unwrap();
        let right = Part { gear: spur.gear, ..part.clone() };
        write.save(right).await.unwrap().saved().unwrap();
        write.commit().await.unwrap();
        assert_eq!(shop.post(&technician, "/jobs/1/needs/choose", &form).await.to(), "/jobs/1/work#parts");
        let spur_id = spur.id.to_string();
        let lead = |state, version| [("need", spur_id.as_str()), ("version", version), ("state", state)];
        let order = shop.post(&technician, "/jobs/1/needs/lead", &lead("ordered", "2")).await;
        assert!(order.body.contains("ordered by the counter"), "a technician orders nothing");
        assert_eq!(
            shop.post(&technician, "/jobs/1/needs/lead", &lead("used", "2")).await.status,
            StatusCode::SEE_OTHER
        );
        let late = shop.post(&counter, "/jobs/1/needs/lead", &lead("ordered", "2")).await;
        assert!(late.body.contains("it is now in the truck"), "the slower one is told");
        assert_eq!(on_shelf(&shop.store, part.id).await.unwrap(), 0);
    });
}

#[test]
fn what_is_typed_at_work_is_shown_as_text_and_nonsense_is_told() {
    wait(async {
        let (shop, [_, _, technician]) = job().await;
        let evil = "<script>alert(1)</script>'; DROP TABLE need; --";
        let page = shop.get(&technician, WORK).await.body;
        fill(&shop, &technician, &page, ["/jobs/1/sign", "id=\"step-1\""], &[("note", evil)]).await;
        let need = [("text", evil), ("quantity", "2"), ("key", "a-need-sent-twice")];
        for _ in 0..2 {
            assert_eq!(shop.post(&technician, "/jobs/1/needs", &need).await.to(), "/jobs/1/work#parts");
        }
        let job = job_by_number(&shop.store, 1).await.unwrap();
        assert_eq!(needs_of(&shop.store, job.id).await.unwrap().len(), 1, "sent twice, wanted once");
        let page = shop.get(&technician, WORK).await.body;
        assert!(!page.contains("<script>alert") && page.contains("2 × &lt;script&gt;alert(1)"));
        let form = [("step", "no-such-step"), ("seen", "0"), ("place", "1")];
        assert!(shop.post(&technician, "/jobs/1/sign", &form).await.body.contains("no such step"));
        for quantity in ["0", "-1", "many", "1001"] {
            let answer = shop.post(&technician, "/jobs/1/needs", &[("text", "shim"), ("quantity", quantity)]).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{quantity}");
        }
        let form = [("need", "no-id"), ("version", "1"), ("state", "used")];
        assert_eq!(shop.post(&technician, "/jobs/1/needs/lead", &form).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    });
}
