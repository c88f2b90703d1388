//! Deciding with the customer: repairs offered, answered with yes or no, asked again where the price rises.

use crate::ground::{Answer, Shop, wait};
use axum::http::StatusCode;

/// The value of a form's field on a page, the first after a text.
#[track_caller]
pub fn value_after(page: &str, after: &str, name: &str) -> String {
    let rest = page.split_once(after).unwrap_or_else(|| panic!("{after} is not on the page")).1;
    let rest = rest.split_once(&format!("name=\"{name}\"")).unwrap_or_else(|| panic!("{name} is not on the page")).1;
    rest.split_once("value=\"").unwrap().1.split('"').next().unwrap().to_owned()
}

/// The offer whose name holds a word, as the form carries it.
#[track_caller]
fn offer_named(page: &str, word: &str) -> String {
    let picks = page.split("id=\"answer\"").nth(1).unwrap();
    let named = |pick: &&str| pick.contains("name=\"offer\"") && pick.to_lowercase().contains(word);
    let pick = picks.split("<label").find(named);
    value_after(pick.unwrap_or_else(|| panic!("no offer {word}")), "<input", "offer")
}

/// A truck taken in, looked at, and its repairs offered; the page behind.
pub async fn offered(shop: &Shop, counter: &str) -> String {
    assert_eq!(shop.take_in(counter, &[]).await.to(), "/jobs/1");
    let finding = [("check", "motor-rocks"), ("answer", "yes"), ("value", "0.45 mm"), ("version", "0")];
    assert_eq!(shop.post(counter, "/jobs/1/findings", &finding).await.to(), "/jobs/1#next");
    let page = shop.get(counter, "/jobs/1/alternatives").await.body;
    assert_eq!(offer(shop, counter, &page).await.to(), "/jobs/1/alternatives#answer");
    shop.get(counter, "/jobs/1/alternatives").await.body
}

pub async fn offer(shop: &Shop, counter: &str, page: &str) -> Answer {
    let [version, shown] = ["version", "shown"].map(|name| value_after(page, "/jobs/1/offers", name));
    shop.post(counter, "/jobs/1/offers", &[("version", &version), ("shown", &shown)]).await
}

/// An answer to what stands on a page.
pub async fn say(shop: &Shop, counter: &str, page: &str, change: &[(&str, &str)]) -> Answer {
    let [version, lines] = ["version", "lines"].map(|name| value_after(page, "/jobs/1/answer", name));
    let offer = offer_named(page, "recommended");
    let mut form = vec![
        ("offer", offer.as_str()),
        ("channel", "phone"),
        ("said_by", "A. Fernhill"),
        ("answer", "yes"),
        ("version", &version),
        ("lines", &lines),
    ];
    for (name, value) in change {
        form.retain(|(known, _)| known != name);
        form.push((name, value));
    }
    shop.post(counter, "/jobs/1/answer", &form).await
}

#[test]
fn a_truck_comes_in_is_looked_at_offered_and_agreed_on() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        let page = offered(&shop, &counter).await;
        for told in ["New gears only", "What we recommend", "It comes back within 50 runs", "papers/quote.pdf"] {
            assert!(page.contains(told), "{told}");
        }
        assert!(shop.get(&counter, "/").await.body.contains("The customer&#39;s answer (1)"));
        assert_eq!(say(&shop, &counter, &page, &[]).await.to(), "/jobs/1/alternatives#standing");
        let after = shop.get(&technician, "/jobs/1/alternatives").await.body;
        for told in ["To be begun", "Taken: ", "on the telephone by A. Fernhill", "yes, up to "] {
            assert!(after.contains(told), "{told}");
        }
        assert!(!after.contains("The customer said yes"), "a technician takes no answers");
    });
}

#[test]
fn a_no_is_kept_with_its_reason_and_can_become_a_yes() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        let page = offered(&shop, &counter).await;
        let no = [("answer", "no"), ("offer", ""), ("reason", "too dear"), ("channel", "counter")];
        assert_eq!(say(&shop, &counter, &page, &no).await.to(), "/jobs/1/alternatives#standing");
        let declined = shop.get(&counter, "/jobs/1/alternatives").await.body;
        assert!(declined.contains("Declined") && declined.contains("no, said at the counter by A. Fernhill"));
        assert!(declined.contains("Offered and not taken"));
        assert_eq!(say(&shop, &counter, &declined, &[]).await.to(), "/jobs/1/alternatives#standing");
        assert!(shop.get(&counter, "/jobs/1/alternatives").await.body.contains("To be begun"));
    });
}

#[test]
fn a_price_above_what_was_agreed_on_asks_again() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        let page = offered(&shop, &counter).await;
        say(&shop, &counter, &page, &[]).await;
        let line = [("text", "Body clips <b>"), ("kind", "part"), ("quantity", "2"), ("price", "1,20")];
        assert_eq!(shop.post(&counter, "/jobs/1/lines", &line).await.to(), "/jobs/1/alternatives#lines");
        let rose = shop.get(&counter, "/jobs/1/alternatives").await.body;
        assert!(
            rose.contains("The price rose to ") && rose.contains("Body clips &lt;b&gt;") && rose.contains("2.40 EUR")
        );
        let version = value_after(&shop.get(&counter, "/jobs/1").await.body, "/jobs/1/lead", "version");
        let begin = [("state", "on-the-bench"), ("version", version.as_str())];
        let refused = shop.post(&counter, "/jobs/1/lead", &begin).await;
        assert!(refused.status == StatusCode::CONFLICT && refused.body.contains(" EUR that the customer agreed to"));
        assert!(refused.body.contains("href=\"/jobs/1/alternatives#answer\""), "the way on stands there");
        let little = say(&shop, &counter, &rose, &[("up_to", "5.00")]).await;
        assert_eq!(little.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(
            little.body.contains("goes up to 5.00 EUR only") && little.body.contains("value=\"5.00\""),
            "it is still there"
        );
        assert_eq!(say(&shop, &counter, &rose, &[]).await.to(), "/jobs/1/alternatives#standing");
        assert!(!shop.get(&counter, "/jobs/1/alternatives").await.body.contains("The price rose to "));
        assert_eq!(shop.post(&counter, "/jobs/1/lead", &begin).await.to(), "/jobs/1");
    });
}

#[test]
fn a_line_is_taken_away_once_and_not_where_it_changed() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        for (price, minutes, told) in
            [("much", "", "no amount"), ("1", "-3", "no whole number"), ("1", "1.5", "no whole number")]
        {
            let line = [("text", "Body clips"), ("price", price), ("minutes", minutes)];
            let answer = shop.post(&counter, "/jobs/1/lines", &line).await;
            assert!(
                answer.status == StatusCode::UNPROCESSABLE_ENTITY && answer.body.contains(told),
                "{price}, {minutes}"
            );
        }
        shop.post(&counter, "/jobs/1/lines", &[("text", "Body clips"), ("price", "1.20")]).await;
        let page = shop.get(&counter, "/jobs/1/alternatives").await.body;
        let line = value_after(&page, "take-away", "line");
        let gone = |version| [("line", line.as_str()), ("version", version)];
        assert_eq!(shop.post(&counter, "/jobs/1/lines/take-away", &gone("2")).await.status, StatusCode::CONFLICT);
        for _ in 0..2 {
            let taken = shop.post(&counter, "/jobs/1/lines/take-away", &gone("1")).await;
            assert_eq!(taken.to(), "/jobs/1/alternatives#lines");
        }
        assert!(!shop.get(&counter, "/jobs/1/alternatives").await.body.contains("Body clips"));
    });
}

#[test]
fn of_two_who_decide_at_once_the_second_is_told() {
    wait(async {
        let (shop, [owner, counter, _]) = Shop::with_people().await;
        let page = offered(&shop, &counter).await;
        let [yes, no] =
            [[("answer", "yes"), ("said_by", "A. Fernhill")], [("answer", "no"), ("said_by", "B. Fernhill")]];
        let (first, second) = tokio::join!(say(&shop, &counter, &page, &yes), say(&shop, &owner, &page, &no));
        let kept = [&first, &second].into_iter().filter(|one| one.status == StatusCode::SEE_OTHER).count();
        assert_eq!(kept, 1, "{} and {}", first.status, second.status);
        let other = if first.status == StatusCode::SEE_OTHER { second } else { first };
        assert_eq!(other.status, StatusCode::CONFLICT);
        assert!(other.body.contains("Somebody else decided") && other.body.contains("Fernhill"));
    });
}

#[test]
fn nothing_is_offered_that_did_not_stand_on_the_page() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let page = shop.get(&counter, "/jobs/1/alternatives").await.body;
        let finding = [("check", "motor-rocks"), ("answer", "yes"), ("value", "0.45 mm"), ("version", "0")];
        shop.post(&counter, "/jobs/1/findings", &finding).await;
        let moved = offer(&shop, &counter, &page).await;
        assert!(moved.status == StatusCode::CONFLICT && moved.body.contains("Somebody else changed something"));
        let page = shop.get(&counter, "/jobs/1/alternatives").await.body;
        assert_eq!(offer(&shop, &counter, &page).await.to(), "/jobs/1/alternatives#answer");
        let before = shop.get(&counter, "/jobs/1/alternatives").await.body;
        let finding = [("check", "motor-rocks"), ("answer", "no"), ("version", "1")];
        shop.post(&counter, "/jobs/1/findings", &finding).await;
        let page = shop.get(&counter, "/jobs/1/alternatives").await.body;
        assert!(page.contains("Offer anew"), "more is known now");
        assert_eq!(offer(&shop, &counter, &page).await.to(), "/jobs/1/alternatives#answer");
        let late = say(&shop, &counter, &before, &[]).await;
        assert!(late.body.contains("That offer has changed meanwhile"), "a yes is to the price that was read");
    });
}
