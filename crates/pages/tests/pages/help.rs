//! Help: the drawing leads to its parts, and every word can be linked to.

use crate::ground::{Shop, wait};

#[test]
fn help_explains_the_drawing_and_every_word_has_its_place() {
    wait(async {
        let (shop, [.., technician]) = Shop::with_people().await;
        let page = shop.get(&technician, "/help").await.body;
        for told in ["Can the motor be rocked", "href=\"#part-1\"", "id=\"part-1\"", "Battery out", "5 %"] {
            assert!(page.contains(told), "{told}");
        }
        let mut ids: Vec<&str> = page.split("id=\"word-").skip(1).map(|rest| rest.split('"').next().unwrap()).collect();
        let count = ids.len();
        assert!(count > 10 && ids.contains(&"margin") && ids.contains(&"chance"), "{ids:?}");
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), count, "each word has a place of its own");
    });
}
