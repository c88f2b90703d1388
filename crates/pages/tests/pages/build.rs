//! The truck as built, put right on its page: values, states, joints, what the customer came with, and names.

use crate::ground::{Answer, Shop, wait};
use axum::http::StatusCode;

/// The version that stands in a form of a page.
fn version(page: &Answer, action: &str) -> String {
    let form = page.body.split(&format!("action=\"{action}\"")).nth(1).unwrap();
    form.split("name=\"version\" value=\"").nth(1).unwrap().split('"').next().unwrap().to_owned()
}

async fn keep(shop: &Shop, cookie: &str, of: &str, values: &[(&str, &str)]) -> Answer {
    let version = version(&shop.get(cookie, "/jobs/1/build").await, "/jobs/1/build");
    let mut form = vec![("version", version.as_str()), ("of", of)];
    form.extend_from_slice(values);
    shop.post(cookie, "/jobs/1/build", &form).await
}

async fn file(shop: &Shop, cookie: &str) -> String {
    shop.get(cookie, "/jobs/1/file").await.body
}

#[test]
fn a_value_is_put_right_and_the_truck_remembers_what_it_was() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let page = shop.get(&technician, "/jobs/1/build").await.body;
        assert!(page.contains("Assumed ") && page.contains("no source") && page.contains("value=\"53\""), "{page}");
        let values =
            [("gears.spur.teeth", "50"), ("driveline.stiffness", "36 N*m/rad"), ("stack.spacer", "4 mm ± 0.1 mm")];
        assert_eq!(keep(&shop, &technician, "", &values).await.to(), "/jobs/1/build?of=#values");
        let kept = file(&shop, &technician).await;
        for line in ["teeth = 50", "stiffness = \"36 N*m/rad\"", "plus_minus = \"0.1 mm\"", "teeth = 19"] {
            assert!(kept.contains(line), "{line}: {kept}");
        }
        let tag = shop.get(&counter, "/jobs/1").await.body;
        let tag = tag.split("tag ").nth(1).unwrap().split(' ').next().unwrap().to_owned();
        let history = shop.get(&technician, &format!("/trucks/{tag}")).await.body;
        assert!(history.contains("Build 2") && history.contains("As built at the bench, job 1"), "{history}");
        // Taken away, it is assumed again.
        keep(&shop, &technician, "", &[("driveline.stiffness", "")]).await;
        assert!(!file(&shop, &technician).await.contains("stiffness ="));
    });
}

#[test]
fn a_value_that_is_none_is_told_and_stays_on_the_page() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let before = file(&shop, &technician).await;
        for (name, typed, told) in [
            ("driveline.stiffness", "36", "unit"),
            ("gears.spur.teeth", "many", "whole number"),
            ("wheels.mass", "900 kg", "900 kg"),
            ("motor.kv", "", "motor.kv"),
            ("gears.diametral_pitch", "32 1/in", "one of"),
        ] {
            let answer = keep(&shop, &technician, "", &[(name, typed)]).await;
            assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}: {typed}");
            assert!(answer.body.contains(told), "{name}: {told}: {}", answer.body);
            assert!(answer.body.contains(&format!("value=\"{typed}\"")), "{name}: {typed} is still there");
        }
        assert_eq!(file(&shop, &technician).await, before);
        // Two ways to tell one thing are named by what they mean.
        keep(&shop, &technician, "", &[("gears.centre_distance", "36.1 mm")]).await;
        let both = keep(&shop, &technician, "", &[("gears.backlash", "0.1 mm")]).await.body;
        let told = both.split("role=\"alert\"").nth(1).unwrap().split("</div>").next().unwrap();
        assert!(told.contains("Distance between the shafts") && !told.contains("gears."), "{told}");
    });
}

#[test]
fn two_people_do_not_write_over_each_others_build() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let version = version(&shop.get(&counter, "/jobs/1/build").await, "/jobs/1/build");
        keep(&shop, &technician, "", &[("gears.spur.teeth", "50")]).await;
        let late = [("version", version.as_str()), ("of", ""), ("gears.pinion.teeth", "17")];
        let late = shop.post(&counter, "/jobs/1/build", &late).await;
        assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(late.body.contains("changed this job meanwhile") && late.body.contains("value=\"17\""));
        assert!(file(&shop, &counter).await.contains("teeth = 19"));
    });
}

#[test]
fn what_was_measured_after_the_work_is_handed_over_as_measured() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        assert_eq!(
            keep(&shop, &technician, "after", &[("gears.backlash", "0.12 mm")]).await.to(),
            "/jobs/1/build?of=after#values"
        );
        keep(&shop, &technician, "sold", &[("gears.spur.teeth", "50")]).await;
        let kept = file(&shop, &technician).await;
        assert!(kept.contains("[after.gears]\nbacklash = \"0.12 mm\"") && kept.contains("[stock.gears"), "{kept}");
        assert!(shop.get(&technician, "/jobs/1/verdict").await.body.contains("As measured after the work"));
        let page = shop.get(&technician, "/jobs/1/build?of=after").await.body;
        assert!(
            page.contains("value=\"0.12 mm\"") && !page.contains("name=\"driver."),
            "how it is driven is told once"
        );
    });
}

#[test]
fn a_joint_of_the_class_is_written_down_with_its_first_value() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let page = shop.get(&technician, "/jobs/1/build").await.body;
        assert!(page.contains("the class&#39;s"), "{page}");
        let name = page.split("name=\"joints.torque@").nth(1).unwrap().split('"').next().unwrap().to_owned();
        let field = format!("joints.torque@{name}");
        // A browser sends the joint's other fields too, empty.
        let size = format!("joints.size@{name}");
        let answer = keep(&shop, &technician, "", &[(&field, "2 N*m"), (&size, "")]).await;
        assert_eq!(answer.to(), "/jobs/1/build?of=#values", "{}", answer.body);
        let kept = file(&shop, &technician).await;
        assert!(
            kept.contains(&format!("name = \"{name}\""))
                && kept.contains("torque = \"2 N*m\"")
                && kept.contains("size = "),
            "{kept}"
        );
    });
}

#[test]
fn what_the_customer_came_with_is_put_right_by_the_counter() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[("due", "2031-03-01")]).await;
        assert!(shop.get(&counter, "/").await.body.contains("promised for 2031-03-01"));
        let version = version(&shop.get(&counter, "/jobs/1/build").await, "/jobs/1/visit");
        let form = |due| {
            let fixed = [
                ("kind", "warranty"),
                ("complaint", "noise"),
                ("runs", "9"),
                ("said", "It whines."),
                ("looking_fee", "0"),
            ];
            let mut form = vec![("version", version.as_str()), ("due", due)];
            form.extend(fixed);
            form
        };
        assert_eq!(shop.post(&technician, "/jobs/1/visit", &form("")).await.status, StatusCode::FORBIDDEN);
        let wrong = shop.post(&counter, "/jobs/1/visit", &form("soon")).await;
        assert!(wrong.status == StatusCode::UNPROCESSABLE_ENTITY && wrong.body.contains("is no day"), "{}", wrong.body);
        assert_eq!(shop.post(&counter, "/jobs/1/visit", &form("2031-03-02")).await.to(), "/jobs/1/build");
        let sheet = shop.get(&counter, "/jobs/1").await.body;
        for told in ["warranty", "It whines.", "promised for 2031-03-02"] {
            assert!(sheet.contains(told), "{told}");
        }
        let kept = file(&shop, &counter).await;
        assert!(kept.contains("complaint = \"noise\"") && kept.contains("runs_since_gears = 9"), "{kept}");
        assert!(shop.get(&counter, "/jobs/1/hand-over").await.body.contains("the shop or the maker pays"));
        let late = shop.post(&counter, "/jobs/1/visit", &form("")).await;
        assert!(late.body.contains("changed this job meanwhile"), "{}", late.body);
    });
}

#[test]
fn a_warranty_is_told_at_the_counter_and_a_day_that_is_none_refused() {
    wait(async {
        let (shop, [_, counter, _]) = Shop::with_people().await;
        let odd = shop.take_in(&counter, &[("due", "tomorrow")]).await;
        assert!(
            odd.status == StatusCode::UNPROCESSABLE_ENTITY && odd.body.contains("is no day such as"),
            "{}",
            odd.body
        );
        shop.take_in(&counter, &[("warranty", "yes")]).await;
        assert!(shop.get(&counter, "/jobs/1").await.body.contains("· warranty ·"));
    });
}

#[test]
fn a_mistyped_name_is_put_right_and_not_written_over() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let sheet = shop.get(&counter, "/jobs/1").await.body;
        let customer = format!("/customers/{}", sheet.split("/customers/").nth(1).unwrap().split('"').next().unwrap());
        let form = |name, phone, version| {
            [("version", version), ("name", name), ("phone", phone), ("email", ""), ("note", "")]
        };
        let (first, second) = (form("A. Fernhall", "555-0143", "1"), form(" ", "", "2"));
        assert_eq!(shop.post(&technician, &customer, &first).await.status, StatusCode::FORBIDDEN);
        assert_eq!(shop.post(&counter, &customer, &first).await.to(), customer);
        let page = shop.get(&counter, &customer).await.body;
        assert!(page.contains("A. Fernhall") && page.contains("555-0143"), "{page}");
        assert!(shop.get(&counter, "/find?q=fernhall").await.body.contains("A. Fernhall"), "found by the new name");
        assert!(shop.post(&counter, &customer, &second).await.body.contains("0 letters"));
        assert!(shop.post(&counter, &customer, &first).await.body.contains("changed this customer meanwhile"));

        let tag = sheet.split("tag ").nth(1).unwrap().split(' ').next().unwrap();
        let truck = format!("/trucks/{tag}");
        let named = |name, version| [("version", version), ("name", name), ("note", "bent axle <b>")];
        assert_eq!(shop.post(&technician, &truck, &named("Tarnhorn 6 red", "1")).await.to(), truck);
        let page = shop.get(&technician, &truck).await.body;
        assert!(page.contains("Tarnhorn 6 red") && page.contains("bent axle &lt;b&gt;"), "{page}");
        assert!(
            shop.post(&technician, &truck, &named("other", "1")).await.body.contains("changed this truck meanwhile")
        );
        assert!(shop.post(&technician, &truck, &named("", "2")).await.body.contains("0 letters"));
    });
}
