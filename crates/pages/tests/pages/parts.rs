//! Parts and prices: the list, the shelf as a ledger, what is to be ordered; and a truck's history.

use crate::ground::{Shop, wait};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use toothsayer_records::{Gear, every_part, on_shelf};

pub const SPUR: [(&str, &str); 12] = [
    ("name", "spur 53"),
    ("price", "16,90"),
    ("cost", "9"),
    ("currency", "EUR"),
    ("supplier", "Ratchet Row"),
    ("order_number", "0012"),
    ("lead_days", "4"),
    ("keep", "2"),
    ("gear", "spur"),
    ("teeth", "53"),
    ("pitch", "1,0 mm"),
    ("bore", ""),
];

fn with(field: &'static str, value: &'static str) -> Vec<(&'static str, &'static str)> {
    SPUR.into_iter().map(|(name, own)| (name, if name == field { value } else { own })).collect()
}

/// The list with one spur on it, and its page.
async fn listed(shop: &Shop, owner: &str) -> String {
    let path = shop.post(owner, "/parts", &SPUR).await.to().to_owned();
    assert!(path.starts_with("/parts/"), "{path}");
    path
}

#[test]
fn a_part_is_put_on_the_list_found_and_changed_by_the_owner_alone() {
    wait(async {
        let (shop, [owner, counter, technician]) = Shop::with_people().await;
        assert_eq!(shop.post(&counter, "/parts", &SPUR).await.status, StatusCode::FORBIDDEN);
        let path = listed(&shop, &owner).await;
        let part = every_part(&shop.store).await.unwrap().pop().unwrap();
        assert_eq!(
            (part.gear.gear, part.gear.teeth, part.gear.module_nm),
            (Some(Gear::Spur), Some(53), Some(1_000_000))
        );
        for (question, found) in [("", true), ("RATCHET spur", true), ("0012", true), ("pinion", false)] {
            let page = shop.get(&technician, &format!("/parts?q={}", question.replace(' ', "+"))).await.body;
            assert_eq!(page.contains("16.90 EUR"), found, "{question}");
        }
        let mut form = with("price", "18.50");
        form.push(("version", "1"));
        assert_eq!(shop.post(&owner, &path, &form).await.to(), path);
        let late = shop.post(&owner, &path, &form).await;
        assert!(late.body.contains("changed this part meanwhile") && late.body.contains("18.50 EUR"));
        shop.take_in(&counter, &[]).await;
        assert!(shop.get(&counter, "/jobs/1/file").await.body.contains("price = \"18.50 EUR\""), "jobs know the price");
        let mut inch = with("pitch", "32 1/in");
        inch.push(("version", "2"));
        shop.post(&owner, &path, &inch).await;
        let part = every_part(&shop.store).await.unwrap().pop().unwrap();
        // An inch is 25.4 mm (the international yard of 1959).
        assert_eq!(part.gear.module_nm, Some(793_750));
    });
}

#[test]
fn a_part_that_is_none_is_told_and_stays_on_the_page() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        for (field, value, told) in [
            ("name", " ", "0 letters"),
            ("price", "dear", "is no amount"),
            ("price", "1,690", "nothing between thousands"),
            ("bore", "8,000 mm", "“8,000 mm” has a comma in its number"),
            ("currency", "euro", "three letters"),
            ("keep", "-1", "whole number of 0"),
            ("lead_days", "soon", "whole number of 0"),
            ("teeth", "3", "whole number of 5"),
            ("pitch", "1", "no unit"),
            ("pitch", "0 mm", "more than nothing"),
            ("bore", "8 kg", "a length is expected"),
        ] {
            let answer = shop.post(&owner, "/parts", &with(field, value)).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{field}: {value}");
            assert!(answer.body.contains(told), "{field}: {value}: {told}");
            assert!(answer.body.contains(&format!("value=\"{value}\"")), "{field}: {value} is still there");
        }
        assert!(every_part(&shop.store).await.unwrap().is_empty());
    });
}

#[test]
fn two_parts_of_one_name_are_refused_with_the_way_to_the_one_that_is_there() {
    wait(async {
        let (shop, [owner, ..]) = Shop::with_people().await;
        let path = listed(&shop, &owner).await;
        let again = shop.post(&owner, "/parts", &with("name", "Spur 53")).await;
        assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(again.body.contains("There is a part “spur 53” already"));
        assert!(again.body.contains(&format!("href=\"{path}\"")) && again.body.contains("value=\"Spur 53\""));
        let mut spur = with("name", "spur 54");
        let numbered = shop.post(&owner, "/parts", &spur).await;
        assert!(numbered.body.contains("“spur 53” has the order number 0012 of “Ratchet Row” already"));
        spur.retain(|(field, _)| *field != "order_number");
        spur.push(("order_number", "0013"));
        let other = shop.post(&owner, "/parts", &spur).await.to().to_owned();
        let mut renamed = with("order_number", "0013");
        renamed.push(("version", "1"));
        assert!(shop.post(&owner, &other, &renamed).await.body.contains("There is a part “spur 53”"));
        assert_eq!(every_part(&shop.store).await.unwrap().len(), 2);
    });
}

#[test]
fn the_shelf_is_counted_filled_and_emptied_with_its_reasons() {
    wait(async {
        let (shop, [owner, _, technician]) = Shop::with_people().await;
        let path = listed(&shop, &owner).await;
        let part = every_part(&shop.store).await.unwrap().pop().unwrap();
        let shelf = format!("{path}/shelf");
        let deed = |deed, pieces, reason| [("deed", deed), ("pieces", pieces), ("reason", reason)];
        for (form, expected) in [
            (deed("counted", "3", ""), 3),
            (deed("came", "2", "bought over the counter"), 5),
            (deed("thrown", "1", "<i>teeth chipped</i>"), 4),
        ] {
            assert_eq!(shop.post(&technician, &shelf, &form).await.to(), format!("{path}#shelf"));
            assert_eq!(on_shelf(&shop.store, part.id).await.unwrap(), expected);
        }
        for (form, told) in [
            (deed("thrown", "9", "lost"), "4 of spur 53 lie on the shelf"),
            (deed("thrown", "1", " "), "a few words"),
            (deed("counted", "-1", ""), "whole number"),
            (deed("came", "many", ""), "whole number"),
            (deed("came", "0", ""), "1 or more"),
        ] {
            let answer = shop.post(&technician, &shelf, &form).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{told}");
            assert!(answer.body.contains(told), "{told}");
        }
        let page = shop.get(&technician, &path).await.body;
        assert!(page.contains("4 on the shelf") && page.contains("&lt;i&gt;teeth chipped"));
    });
}

#[test]
fn what_is_short_is_ordered_by_supplier_and_comes() {
    wait(async {
        let (shop, [owner, counter, technician]) = Shop::with_people().await;
        listed(&shop, &owner).await;
        let part = every_part(&shop.store).await.unwrap().pop().unwrap();
        shop.take_in(&counter, &[]).await;
        shop.post(&technician, "/jobs/1/needs", &[("plan", "yes")]).await;
        let page = shop.get(&technician, "/parts/orders").await.body;
        assert!(page.contains("Ratchet Row") && page.contains("3 × spur 53") && page.contains("for job 1"));
        assert!(page.contains("Why 3: jobs need 1, the shelf should keep 2; none is free there."));
        assert!(page.contains("usually comes 4 days after ordering"));
        let file = shop.get(&counter, "/parts/orders.csv").await;
        assert!(file.headers[CONTENT_TYPE].to_str().unwrap().starts_with("text/csv"));
        assert!(
            file.body.contains("\"Ratchet Row\",\"0012\",\"spur 53\",3,9.00,27.00,\"EUR\",4,\"1\"\r\n"),
            "{}",
            file.body
        );
        let id = part.id.to_string();
        let order = |quantity| [("part", id.as_str()), ("quantity", quantity)];
        assert_eq!(shop.post(&technician, "/parts/orders", &order("3")).await.status, StatusCode::FORBIDDEN);
        assert!(shop.post(&counter, "/parts/orders", &order("2")).await.body.contains("The list moved meanwhile"));
        assert_eq!(shop.post(&counter, "/parts/orders", &order("3")).await.to(), "/parts/orders");
        let page = shop.get(&technician, "/parts/orders").await.body;
        assert!(
            page.contains("Nothing is to be ordered") && page.contains("for the shelf") && page.contains("for job 1")
        );
        let need = page.split("name=\"need\" value=\"").nth(1).unwrap().split('"').next().unwrap();
        let came = [("need", need), ("version", "3")];
        assert_eq!(shop.post(&technician, "/parts/orders/came", &came).await.to(), "/parts/orders#coming");
        assert_eq!(on_shelf(&shop.store, part.id).await.unwrap(), 1);
        assert!(shop.post(&technician, "/parts/orders/came", &came).await.body.contains("it is now here for this job"));
    });
}

#[test]
fn a_truck_tells_its_jobs_and_what_its_builds_changed() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let found = shop.get(&technician, "/find?q=tarnhorn").await.body;
        let tag = found.split("href=\"/trucks/").nth(1).unwrap().split('"').next().unwrap().to_owned();
        let change = [("truck", tag.as_str()), ("pinion", "17"), ("name", ""), ("truck_name", "")];
        assert_eq!(shop.take_in(&counter, &change).await.to(), "/jobs/2");
        let page = shop.get(&technician, &format!("/trucks/{tag}")).await.body;
        for told in ["Build 2", "Build 1", "gears · pinion · teeth", "href=\"/jobs/2\"", "/jobs/2/papers/label.pdf"] {
            assert!(page.contains(told), "{told}");
        }
        assert!(page.find("Build 2") < page.find("Build 1"), "the newest comes first");
        assert_eq!(shop.get(&technician, "/trucks/no-tag").await.status, StatusCode::NOT_FOUND);
    });
}
