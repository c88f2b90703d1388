//! A shop with something in every table: it moves from one database to the other and back without losing a byte.

use crate::ground::{on_postgres, on_sqlite, wait};
use crate::writes::{now, taken_in};
use image::{DynamicImage, ImageFormat};
use sea_orm::{ConnectionTrait, Statement};
use std::io::Cursor;
use toothsayer_quantity::{Currency, Money};
use toothsayer_records::{
    Acting, Answer, Channel, Finding, GoAhead, Line, LineKind, Need, NeedState, Offer, PASSING, Part, Person, Photo,
    Picture, Reach, Role, Signed, Store, TABLES, Verdict, restore, shop_of, write_archive,
};

/// A row in every table.
async fn a_whole_shop(store: &Store) {
    let job = taken_in(store, "Anna Vogel").await;
    let write = store.begin(now(1)).await.unwrap();
    let mira = write.add(Person::new(&write, "Mira", Role::Owner)).await.unwrap().id;
    let write = write.going_on(Acting { who: Some(mira), ..now(2) });
    write.add(Finding::new(&write, job.id, "motor-rocks", Answer::Yes)).await.unwrap();
    write.add(Offer::new(&write, job.id, "new gears only", 5_900)).await.unwrap();
    write.add(Line::new(&write, job.id, LineKind::Work, "stickers")).await.unwrap();
    write.add(GoAhead::yes(&write, job.id, Channel::Phone, 9_000)).await.unwrap();
    let body = serde_json::json!({ "chance": 0.1, "nested": [1, null, "ä"] });
    let (id, made) = (write.id(), write.now());
    let verdict = Verdict { id, job: job.id, program: "0.1.0".into(), book: "pinion and spur".into(), body, made };
    write.add(verdict).await.unwrap();
    write.start_clock(job.id, "set-mesh", 10).await.unwrap();
    write.sign(Signed { job: job.id, step: "set-mesh", joint: "", tightened: "", note: "" }).await.unwrap();
    let price = Money { minor: 420, currency: Currency::EUR };
    let part = write.add(Part::new(&write, "support bearing", price)).await.unwrap();
    write.count_shelf(part.id, 3, "").await.unwrap();
    let need = write.add(Need::new(&write, job.id, "support bearing")).await.unwrap();
    let need = write.choose(&need, &part).await.unwrap().saved().unwrap();
    write.lead_need(&need, NeedState::Used).await.unwrap().saved().unwrap();
    let mut file = Cursor::new(Vec::new());
    DynamicImage::new_rgb8(20, 10).write_to(&mut file, ImageFormat::Png).unwrap();
    let photo = write.keep_photo(Picture::read(file.get_ref()).unwrap(), "").await.unwrap();
    write.save(Photo { job: Some(job.id), ..photo }).await.unwrap().saved().unwrap();
    write.set_shop(shop_of(&write).await.unwrap()).await.unwrap().saved().unwrap();
    write.link(job.id, "hand-over", 600).await.unwrap();
    write.was_done("form-0001", b"name=Anna", serde_json::json!("kept")).await.unwrap();
    write.sign_in(mira, "tablet", 60).await.unwrap();
    write.commit().await.unwrap();
}

async fn rows(store: &Store, table: &str) -> i64 {
    let sql = format!("SELECT COUNT(*) FROM {table}");
    let statement = Statement::from_string(store.connection().get_database_backend(), sql);
    store.connection().query_one_raw(statement).await.unwrap().unwrap().try_get_by_index(0).unwrap()
}

async fn archive(store: &Store) -> Vec<u8> {
    let mut out = Vec::new();
    write_archive(&store.view().await.unwrap(), &mut out, |_| {}).await.unwrap();
    out
}

#[test]
fn every_table_moves_to_the_other_database_and_back() {
    let (here, there, back) = (on_sqlite(), on_postgres(), on_sqlite());
    wait(async {
        let store = Store::open(&here.place).await.unwrap();
        a_whole_shop(&store).await;
        for table in TABLES.iter().chain(&PASSING) {
            assert!(rows(&store, table.name).await > 0, "this test leaves {} empty", table.name);
        }
        let first = archive(&store).await;
        for place in [&there.place, &back.place] {
            let other = Store::open(place).await.unwrap();
            restore(&other, &mut Cursor::new(&first), |_| {}).await.unwrap();
            assert!(archive(&other).await == first, "{place} gives back something else");
            for table in &PASSING {
                assert_eq!(rows(&other, table.name).await, 0, "{} lets somebody in after a restore", table.name);
            }
        }
    });
}
