//! Taken in again, and by a name that is known: nothing that was told gets lost, nobody is written down twice.

use crate::ground::{Shop, wait};
use axum::http::StatusCode;

/// The tag that a job's sheet tells.
async fn tag(shop: &Shop, cookie: &str, job: &str) -> String {
    shop.get(cookie, job).await.body.split("tag ").nth(1).unwrap().split(' ').next().unwrap().to_owned()
}

#[test]
fn a_truck_that_comes_again_is_as_the_last_time_but_for_what_is_changed() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let tag = tag(&shop, &counter, "/jobs/1").await;
        let page = shop.get(&counter, &format!("/take-in?truck={tag}")).await.body;
        assert!(
            page.contains("value=\"188 mm\"") && page.contains("name=\"same_build\" value=\"yes\" checked"),
            "{page}"
        );
        assert!(
            page.contains("in the shop already") && page.contains("href=\"/jobs/1\""),
            "a truck that is here is told"
        );
        let again = [("truck", tag.as_str()), ("same_build", "yes"), ("wheel", "220 mm"), ("mass", "")];
        assert_eq!(shop.take_in(&counter, &again).await.to(), "/jobs/2");
        let file = shop.get(&counter, "/jobs/2/file").await.body;
        assert!(file.contains("diameter = \"220 mm\"") && file.contains("mass = \"10.4 kg\""), "{file}");
        let history = shop.get(&counter, &format!("/trucks/{tag}")).await.body;
        assert!(history.contains("188 mm") && history.contains("220 mm"), "{history}");
    });
}

#[test]
fn nobody_is_written_down_twice_unasked() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let tag = tag(&shop, &counter, "/jobs/1").await;
        let asked = shop.take_in(&counter, &[("who", "")]).await;
        assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
        let truck = format!("truck {tag}");
        for told in [
            "Who is it?",
            "A. Fernhill, 555-0142",
            "value=\"new\"",
            &format!("value=\"{truck}\""),
            "It went after six runs.",
        ] {
            assert!(asked.body.contains(told), "{told}: {}", asked.body);
        }
        let customer = asked.body.split("value=\"customer ").nth(1).unwrap().split('"').next().unwrap().to_owned();
        assert_eq!(shop.take_in(&counter, &[("who", &truck)]).await.to(), "/jobs/2");
        assert_eq!(shop.take_in(&counter, &[("who", &format!("customer {customer}"))]).await.to(), "/jobs/3");
        let page = shop.get(&counter, &format!("/customers/{customer}")).await.body;
        for job in ["/jobs/1", "/jobs/2", "/jobs/3"] {
            assert!(page.contains(&format!("href=\"{job}\"")), "{job}");
        }
        assert_eq!(page.matches("class=\"small\">tag ").count(), 2, "two trucks: {page}");
    });
}
