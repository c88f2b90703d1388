//! What is told of the deal: nothing is called agreed or owed that nobody said yes to, and no yes goes to what has moved on.

use crate::decide::{offer, offered, say, value_after};
use crate::ground::{Answer, Shop, wait};
use crate::hand_over::link;
use crate::link::between;
use axum::http::StatusCode;

/// A line of 30.00 EUR that the shop adds.
const LINE: [(&str, &str); 5] =
    [("text", "Glue the body shell"), ("kind", "work"), ("quantity", "1"), ("price", "30.00"), ("minutes", "30")];
/// An answer that makes another plan of the example.
const FINDING: [(&str, &str); 3] = [("check", "motor-rocks"), ("answer", "no"), ("version", "1")];
/// What a customer reads whose offers no longer stand.
const ANEW: &str = "the shop reckons it anew, and you are asked again";

/// The first offer on the customer's page, answered as the page's form would.
async fn reply(shop: &Shop, path: &str, page: &str, word: &str) -> Answer {
    let form = between(page, "/answer\"", "</form>");
    let value = |name: &str| between(form, &format!("name=\"{name}\" value=\""), "\"");
    let form = [
        ("version", value("version")),
        ("lines", value("lines")),
        ("offer", value("offer")),
        ("said_by", "A. Fernhill"),
        ("answer", word),
    ];
    shop.post("", &format!("{path}/answer"), &form).await
}

#[test]
fn a_price_that_rose_is_neither_agreed_nor_owed_and_is_asked_again_by_the_link() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        let page = offered(&shop, &counter).await;
        say(&shop, &counter, &page, &[]).await;
        let path = link(&shop, &counter, 1).await;
        let [reads, settle] = [shop.get("", &path).await.body, shop.get(&counter, "/jobs/1/hand-over").await.body];
        assert!(reads.contains("You said yes: the work begins soon.") && reads.contains(", as was agreed on."));
        assert!(settle.contains("the work that was agreed on") && !reads.contains("<form"));
        assert!(!shop.get(&technician, "/").await.body.contains("The customer&#39;s answer"));
        shop.post(&counter, "/jobs/1/lines", &LINE).await;
        let [reads, settle] = [shop.get("", &path).await.body, shop.get(&counter, "/jobs/1/hand-over").await.body];
        for told in
            ["we ask you again", "Agreed on: up to ", "You agreed up to ", "Glue the body shell", "href=\"#answer\""]
        {
            assert!(reads.contains(told), "{told}: {reads}");
        }
        assert!(!reads.contains("You said yes") && !reads.contains("To pay"), "nothing of it is agreed on");
        assert!(settle.contains("Now it comes to") && settle.contains("ask the customer again"), "{settle}");
        assert!(!settle.contains("The customer owes"), "nobody owes what they did not agree to");
        assert!(shop.get(&technician, "/").await.body.contains("The customer&#39;s answer (1)"));
        assert_eq!(reply(&shop, &path, &reads, "yes").await.to(), path);
        let reads = shop.get("", &path).await.body;
        assert!(reads.contains("You said yes: the work begins soon.") && !reads.contains("<form"), "{reads}");
        assert!(reads.contains("Glue the body shell"), "what was added is named in the work");
    });
}

#[test]
fn no_yes_goes_to_more_than_stood_on_the_page() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        offered(&shop, &counter).await;
        let path = link(&shop, &counter, 1).await;
        let before = shop.get("", &path).await.body;
        let desk = shop.get(&counter, "/jobs/1/alternatives").await.body;
        shop.post(&counter, "/jobs/1/lines", &LINE).await;
        let late = reply(&shop, &path, &before, "yes").await;
        assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(
            late.body.contains("look at the price, then answer again") && late.body.contains("Glue the body shell")
        );
        let late = say(&shop, &counter, &desk, &[]).await;
        assert!(late.body.contains("look at the price, then answer again"));
        let now = shop.get("", &path).await.body;
        assert_eq!(reply(&shop, &path, &now, "yes").await.to(), path);
    });
}

#[test]
fn offers_that_no_longer_stand_take_no_yes() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        let desk = offered(&shop, &counter).await;
        let path = link(&shop, &counter, 1).await;
        let before = shop.get("", &path).await.body;
        shop.post(&technician, "/jobs/1/findings", &FINDING).await;
        let stale = shop.get("", &path).await.body;
        assert!(stale.contains(ANEW) && !stale.contains("<form") && stale.contains("we reckon it anew"), "{stale}");
        for word in ["yes", "no"] {
            let late = reply(&shop, &path, &before, word).await;
            assert!(late.status == StatusCode::UNPROCESSABLE_ENTITY && late.body.contains(ANEW), "{word}");
        }
        let late = say(&shop, &counter, &desk, &[]).await;
        assert!(late.status == StatusCode::UNPROCESSABLE_ENTITY && late.body.contains(ANEW), "{}", late.body);
        let page = shop.get(&counter, "/jobs/1/alternatives").await.body;
        assert!(
            page.contains("A yes goes only to what is still as it was offered.")
                && page.contains("Offer anew, as above")
        );
        offer(&shop, &counter, &page).await;
        let asked = shop.get("", &path).await.body;
        assert!(asked.contains("It leaves:") && asked.contains("in 100 such trucks come back"), "{asked}");
        assert_eq!(reply(&shop, &path, &asked, "yes").await.to(), path);
    });
}

#[test]
fn another_repair_is_not_passed_off_as_the_agreed_one() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        let page = offered(&shop, &counter).await;
        say(&shop, &counter, &page, &[]).await;
        let path = link(&shop, &counter, 1).await;
        shop.post(&technician, "/jobs/1/findings", &FINDING).await;
        let reads = shop.get("", &path).await.body;
        assert!(reads.contains("Agreed on was: ") && reads.contains("the plan no longer has that repair"), "{reads}");
        assert!(!reads.contains("You said yes: the work begins soon.") && !reads.contains("To pay"), "{reads}");
        assert!(!reads.contains("Will it hold?"), "what is told of another repair is not told of this one");
        let desk = shop.get(&counter, "/jobs/1/alternatives").await.body;
        assert!(desk.contains("offer anew before the work goes on"), "{desk}");
        let work = shop.get(&technician, "/jobs/1/work").await.body;
        assert!(work.contains("The plan no longer has that repair as it was agreed on"), "{work}");
    });
}

#[test]
fn what_is_owed_says_what_for() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let lead = async |state: &str| {
            let page = shop.get(&counter, "/jobs/1/hand-over").await.body;
            let version = value_after(&page, "/jobs/1/lead", "version");
            let form =
                [("state", state), ("version", &version), ("at", "hand-over"), ("reason", "it was only looked at")];
            assert_eq!(shop.post(&counter, "/jobs/1/lead", &form).await.to(), "/jobs/1/hand-over", "{state}");
            shop.get(&counter, "/jobs/1/hand-over").await.body
        };
        shop.post(&counter, "/jobs/1/lines", &LINE).await;
        let taken_in = shop.get(&counter, "/jobs/1/hand-over").await.body;
        assert!(taken_in.contains("Nothing yet") && taken_in.contains("Without any work the customer owes"));
        assert!(
            !taken_in.contains("The customer owes") && !taken_in.contains("30.00 EUR"),
            "nobody agreed to the line"
        );
        lead("looked-at").await;
        assert!(lead("ready").await.contains("The customer owes"));
        let page = lead("collected").await;
        assert!(page.contains("The job came to") && !page.contains("owes"));
        assert!(page.contains("Nothing was agreed on: the truck is as it came"), "no work was done");
    });
}
