//! The counter: an answer from five facts, nothing kept, a job with one tap, and the taps to printed alternatives.

use crate::forms::{Form, Hand};
use crate::ground::{Shop, TARNHORN, wait};
use axum::http::StatusCode;

/// The five facts of the demo story (examples/tarnhorn.toml): what is told behind name, complaint and battery.
const FACTS: &[(&str, &str)] = TARNHORN.split_at(7).1;

/// From the customer's first word to printed alternatives: the most that a hand may do (the product's target).
const MOST_TAPS: u32 = 40;

#[test]
fn the_counter_answers_from_five_facts_and_keeps_nothing() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        let mut hand = Hand::default();
        let page = shop.get(&counter, "/counter").await.body;
        let form =
            FACTS.iter().fold(Form::of(&page, "/counter"), |form, (name, value)| form.fill(&mut hand, name, value));
        let answer = form.press(&mut hand, &shop, &counter, None).await;
        assert_eq!(answer.status, StatusCode::OK);
        for told in
            ["Tightest: ", "What would firm it up most", "Which pinion", "19 teeth, as asked", "18 teeth", "N·m"]
        {
            assert!(answer.body.contains(told), "{told}");
        }
        let take_in = Form::of(&answer.body, "/take-in").press(&mut hand, &shop, &counter, None).await;
        let form = Form::of(&take_in.body, "/take-in");
        FACTS.iter().for_each(|(name, value)| assert_eq!(form.value(name), *value, "nothing typed is lost"));
        assert!(shop.get(&counter, "/").await.body.contains("No job is open"), "nothing is kept");
        let asked = shop
            .get(
                &technician,
                "/counter?mass=10.4+kg&cells=7&kv=980+rpm/V&pinion=19&spur=53&pitch=1+mm&wheel=188+mm&wheel_mass=410+g",
            )
            .await;
        assert!(!asked.body.contains("Make it a job"), "a technician takes nothing in");
    });
}

#[test]
fn nonsense_at_the_counter_is_told_and_stays_on_the_page() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        for (name, value, told) in [
            ("mass", "10.4", "has no unit"),
            ("mass", "10.4 kg\"\n[shop]", "10.4 kg"),
            ("cells", "seven", "no whole number"),
            ("kv", "980 mm", "980 mm"),
            ("pinion", "0", "0"),
            ("spur", "99999999999", "no whole number"),
            ("pitch", "<script>alert(1)</script>", "&lt;script&gt;"),
            ("wheel_mass", "nan g", "nan g"),
            ("start", "none such", "none such"),
        ] {
            let form: Vec<(&str, &str)> =
                FACTS.iter().filter(|(known, _)| *known != name).copied().chain([(name, value)]).collect();
            let answer = shop.get(&counter, &format!("/counter?{}", crate::ground::encoded(&form))).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}={value}");
            assert!(answer.body.contains(told) && answer.body.contains("Not enough yet"), "{name}={value}: {told}");
            assert!(answer.body.contains("value=\"188 mm\"") && !answer.body.contains("<script>"), "{name}={value}");
        }
    });
}

/// Takes a pasted job file in.
async fn paste(shop: &Shop, counter: &str, text: &str) -> crate::ground::Answer {
    let page = shop.get(counter, "/take-in").await.body;
    let hand = &mut Hand::default();
    let form = Form::of(&page, "/take-in").fill(hand, "name", "A. Fernhill").fill(hand, "battery", "none");
    form.fill(hand, "file", text).press(hand, shop, counter, None).await
}

#[test]
fn a_job_file_is_taken_in_whole_or_its_problems_are_told_by_line() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        let text = include_str!("../../../../examples/tarnhorn.toml");
        let wrong = paste(&shop, &counter, &text.replace("mass = \"10.4 kg\"", "mass = \"10.4 mm\"")).await;
        assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
        let line = 1 + text.lines().position(|line| line.starts_with("mass = \"10.4 kg\"")).unwrap();
        assert!(wrong.body.contains(&format!("Job file, line {line}, truck.mass")), "the line and the key are told");
        assert!(wrong.body.contains("10.4 mm"), "what was pasted is still there");
        assert!(paste(&shop, &counter, "no = [toml").await.body.contains("Job file, line 1"));
        assert_eq!(paste(&shop, &counter, text).await.to(), "/jobs/1");
        let page = shop.get(&counter, "/jobs/1").await.body;
        assert!(page.contains("Tarnhorn 6") && page.contains("Yes, 0.45 mm"), "its name and its findings came with it");
    });
}

#[test]
fn from_the_first_word_to_printed_alternatives_takes_few_taps() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        let hand = &mut Hand::default();
        let today = shop.get(&counter, "/").await.body;
        let page = hand.follow(&shop, &counter, &today, "/counter").await.body;
        let form = FACTS.iter().fold(Form::of(&page, "/counter"), |form, (name, value)| form.fill(hand, name, value));
        let page = form.press(hand, &shop, &counter, None).await.body;
        let page = Form::of(&page, "/take-in").press(hand, &shop, &counter, None).await.body;
        let form = Form::of(&page, "/take-in");
        assert_eq!(form.value("complaint"), "stripped", "the usual complaint needs no tap");
        let form = form.fill(hand, "name", "A. Fernhill").fill(hand, "phone", "555-0142");
        let form = form.fill(hand, "truck_name", "Tarnhorn 6").fill(hand, "runs", "6").fill(hand, "battery", "sound");
        assert_eq!(form.press(hand, &shop, &counter, None).await.to(), "/jobs/1");
        let page = shop.get(&counter, "/jobs/1").await.body;
        let rocks = page.split("value=\"motor-rocks\"").next().unwrap().rfind("<form").unwrap();
        let form = Form::of(&page[rocks..], "/jobs/1/findings").fill(hand, "value", "0.45 mm");
        assert_eq!(form.press(hand, &shop, &counter, Some(("answer", "yes"))).await.to(), "/jobs/1#next");
        let page = shop.get(&counter, "/jobs/1").await.body;
        let page = hand.follow(&shop, &counter, &page, "/jobs/1/alternatives").await.body;
        let offered = Form::of(&page, "/jobs/1/offers").press(hand, &shop, &counter, None).await;
        assert_eq!(offered.to(), "/jobs/1/alternatives#answer");
        let page = shop.get(&counter, "/jobs/1/alternatives").await.body;
        let (status, _, quote) = hand.fetch(&shop, &counter, &page, "/jobs/1/papers/quote.pdf").await;
        assert!(status == StatusCode::OK && quote.starts_with(b"%PDF-"), "the alternatives can be printed");
        println!("{} taps and fields from the first word to printed alternatives", hand.taps);
        assert!(hand.taps <= MOST_TAPS, "{} taps", hand.taps);
    });
}
