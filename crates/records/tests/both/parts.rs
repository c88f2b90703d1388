//! Parts: chosen for a job, ordered, used; the wrong one is refused, by the program and by the tables.

use crate::ground::on_both;
use crate::writes::{now, taken_in};
use sea_orm::ConnectionTrait;
use toothsayer_quantity::{Currency, Length, Money};
use toothsayer_records::{
    Advice, Error, Gear, Job, KeptGear, Measures, Need, NeedState, Part, PartRefusal, Reach, Saved, Stock, StockChange,
    Store, Subject, Write, every_part, find, needs_for, on_shelf, order_list, pick_list, shelves, stock_of,
};

const PINION: Measures =
    Measures { gear: Gear::Pinion, teeth: 19, module: Length::mm(0.8), bore: Some(Length::mm(5.0)) };

async fn desk(store: &Store) -> Write {
    store.begin(now(1)).await.unwrap()
}

fn price() -> Money {
    Money { minor: 1_450, currency: Currency::EUR }
}

async fn pinion(write: &Write, measures: &Measures) -> Part {
    let name = format!("pinion {}", measures.teeth);
    write
        .add(Part { supplier: "Ratchet Row".into(), cost: 900, ..Part::new(write, &name, price()).with(measures) })
        .await
        .unwrap()
}

async fn lead(store: &Store, need: Need, way: &[NeedState]) -> Need {
    let mut need = need;
    for to in way {
        let write = desk(store).await;
        need = write.lead_need(&need, *to).await.unwrap().saved().unwrap();
        write.commit().await.unwrap();
    }
    need
}

/// A job that needs a pinion, and the right one chosen.
async fn need(store: &Store) -> (Part, Need) {
    let job = taken_in(store, "Anna Vogel").await;
    let write = desk(store).await;
    let part = pinion(&write, &PINION).await;
    let need = write.add(Need::new(&write, job.id, "pinion 19").of(&PINION)).await.unwrap();
    let need = write.choose(&need, &part).await.unwrap().saved().unwrap();
    write.commit().await.unwrap();
    (part, need)
}

#[test]
fn a_part_is_ordered_arrives_is_used_and_the_shelf_tells_of_it() {
    on_both(|store| async move {
        let (part, need) = need(&store).await;
        let job = need.job.unwrap();
        assert_eq!(pick_list(&store, job).await.unwrap()[0].advice, Advice::Order);
        let orders = order_list(&store).await.unwrap();
        let cells = orders[0].cells();
        assert_eq!(cells, ["Ratchet Row", "", "pinion 19", "1", "9.00", "9.00", "EUR", "", "1"]);

        let need = lead(&store, need, &[NeedState::Ordered]).await;
        assert!(order_list(&store).await.unwrap().is_empty(), "what is on its way is not ordered again");
        assert_eq!(pick_list(&store, job).await.unwrap()[0].advice, Advice::Wait);
        let need = lead(&store, need, &[NeedState::Arrived]).await;
        assert_eq!(pick_list(&store, job).await.unwrap()[0].advice, Advice::Take);
        let need = lead(&store, need, &[NeedState::Used, NeedState::Arrived, NeedState::Returned]).await;
        assert_eq!(need.state, NeedState::Returned);
        let counts: Vec<i64> = stock_of(&store, part.id).await.unwrap().iter().map(|line| line.on_shelf).collect();
        assert_eq!(counts, [1, 0, 1, 0]);
    });
}

#[test]
fn what_lies_there_for_one_job_is_not_free_for_another() {
    on_both(|store| async move {
        let (part, first) = need(&store).await;
        lead(&store, first, &[NeedState::Ordered, NeedState::Arrived]).await;
        let other = taken_in(&store, "Jan Maas").await;
        let write = desk(&store).await;
        let need = write.add(Need::new(&write, other.id, "pinion 19").of(&PINION)).await.unwrap();
        write.choose(&need, &part).await.unwrap().saved().unwrap();
        let line = pick_list(&write, other.id).await.unwrap().remove(0);
        assert_eq!((line.on_shelf, line.free, line.advice), (1, 0, Advice::Order));
        write.count_shelf(part.id, 3, "").await.unwrap();
        let line = pick_list(&write, other.id).await.unwrap().remove(0);
        assert_eq!((line.on_shelf, line.free, line.advice), (3, 2, Advice::Take));
        // One lies there for the first job and one for this: with five to be kept, four are short.
        write.save(Part { keep: 5, ..part }).await.unwrap().saved().unwrap();
        assert_eq!(order_list(&write).await.unwrap()[0].quantity, 5 + 2 - 3);
    });
}

#[test]
fn the_wrong_gear_is_refused_with_what_differs() {
    on_both(|store| async move {
        let (_, need) = need(&store).await;
        let write = desk(&store).await;
        let wrong = Measures { teeth: 17, module: Length::mm(25.4 / 32.0), bore: Some(Length::mm(8.0)), ..PINION };
        let part = pinion(&write, &wrong).await;
        let Error::Part(PartRefusal::Wrong { differs, .. }) = write.choose(&need, &part).await.unwrap_err() else {
            unreachable!("the wrong gear was not refused as such")
        };
        assert_eq!(differs.len(), 3, "{differs:?}");
        let past = write.save(Need { part: Some(part.id), ..need.clone() }).await;
        assert!(matches!(past, Err(Error::Constraint { .. })), "{past:?}");
    });
}

/// What a module and a bore may be off, nanometres, and whether it is still the same gear.
const EDGES: [([i64; 2], bool); 5] =
    [([800, 0], true), ([801, 0], false), ([-801, 0], false), ([0, 20_000], true), ([0, -20_001], false)];

#[test]
fn program_and_tables_agree_on_what_is_the_same_gear() {
    on_both(|store| async move {
        let (_, need) = need(&store).await;
        for ([module, bore], same) in EDGES {
            let write = desk(&store).await;
            let part = pinion(&write, &PINION).await;
            let KeptGear { module_nm, bore_nm, .. } = part.gear;
            let [module_nm, bore_nm] = [module_nm.map(|nm| nm + module), bore_nm.map(|nm| nm + bore)];
            let part = write
                .save(Part { gear: KeptGear { module_nm, bore_nm, ..part.gear }, ..part })
                .await
                .unwrap()
                .saved()
                .unwrap();
            assert_eq!(write.choose(&need, &part).await.is_ok(), same, "{module} {bore}: the program");
            write.commit().await.unwrap();
            let sql = format!("UPDATE need SET part = '{}' WHERE id = '{}'", part.id, need.id);
            assert_eq!(store.connection().execute_unprepared(&sql).await.is_ok(), same, "{module} {bore}: the tables");
        }
    });
}

#[test]
fn more_than_lies_there_does_not_leave_the_shelf() {
    on_both(|store| async move {
        let (part, need) = need(&store).await;
        let write = desk(&store).await;
        let error = write.lead_need(&need, NeedState::Used).await.unwrap_err();
        let told = PartRefusal::TooFew { part: "pinion 19".into(), on_shelf: 0, wanted: 1 };
        assert_eq!(error, Error::Part(told));
        assert!(write.count_shelf(part.id, -1, "").await.is_err());
        assert_eq!(on_shelf(&write, part.id).await.unwrap(), 0);
    });
}

#[test]
fn no_other_hand_moves_pieces_without_a_line_of_the_shelf() {
    on_both(|store| async move {
        let (part, need) = need(&store).await;
        let (write, id) = (desk(&store).await, "00000000-0000-7000-8000-000000000001");
        write.count_shelf(part.id, 4, "").await.unwrap();
        write.commit().await.unwrap();
        let line = |change: i64, on_shelf: i64, why: &str, need: &str| {
            format!(
                "INSERT INTO stock (id, step, part, need, change, on_shelf, why, note, at) \
                 VALUES ('{id}', 2, '{}', {need}, {change}, {on_shelf}, '{why}', '', 0)",
                part.id
            )
        };
        let own = format!("'{}'", need.id);
        for sql in [
            format!("UPDATE need SET state = 'used' WHERE id = '{}'", need.id),
            format!("UPDATE need SET state = 'returned' WHERE id = '{}'", need.id),
            "UPDATE stock SET on_shelf = 9".into(),
            "DELETE FROM stock".into(),
            line(-1, 4, "lost", "NULL"),
            line(-5, -1, "lost", "NULL"),
            line(-2, 2, "used", &own),
            line(-1, 3, "used", "NULL"),
            line(1, 5, "used", &own),
            format!("UPDATE part SET teeth = 20 WHERE id = '{}'", part.id),
            format!("UPDATE part SET teeth = NULL WHERE id = '{}'", part.id),
        ] {
            assert!(store.connection().execute_unprepared(&sql).await.is_err(), "{sql}");
        }
        store.connection().execute_unprepared(&line(-1, 3, "used", &own)).await.unwrap();
        let used = format!("UPDATE need SET state = 'used' WHERE id = '{}'", need.id);
        store.connection().execute_unprepared(&used).await.unwrap();
    });
}

#[test]
fn the_loser_of_a_race_for_a_need_moves_no_pieces() {
    on_both(|store| async move {
        let (part, need) = need(&store).await;
        lead(&store, need.clone(), &[NeedState::Ordered]).await;
        let write = desk(&store).await;
        assert!(matches!(write.lead_need(&need, NeedState::Dropped).await.unwrap(), Saved::Clash { .. }));
        assert!(stock_of(&write, part.id).await.unwrap().is_empty());
    });
}

#[test]
fn parts_are_found_by_name_and_by_the_suppliers_number() {
    on_both(|store| async move {
        let (part, _) = need(&store).await;
        let write = desk(&store).await;
        write.save(Part { order_number: "RR-4471".into(), ..part.clone() }).await.unwrap().saved().unwrap();
        write.commit().await.unwrap();
        for question in ["pinion", "4471", "ratchet"] {
            let hits = find(&store, question, 9).await.unwrap();
            assert!(hits.iter().any(|hit| hit.subject == Subject::Part(part.id)), "{question}");
        }
        // Jobs that speak of pinions are newer than the part and do not crowd it out.
        for name in ["Brandt", "Zwirner"] {
            let job = taken_in(&store, name).await;
            let write = desk(&store).await;
            write.save(Job { said: "the pinion went".into(), ..job }).await.unwrap().saved().unwrap();
            write.commit().await.unwrap();
        }
        let hits = find(&store, "pinion", 1).await.unwrap();
        let kinds = hits.iter().map(|hit| matches!(hit.subject, Subject::Part(own) if own == part.id));
        assert_eq!(kinds.collect::<Vec<_>>(), [true, false], "one of each kind: {hits:?}");
    });
}

/// Writers at once, and pieces that lie there for them.
const WRITERS: usize = 8;
const PIECES: i64 = 3;

#[test]
fn the_last_pieces_go_to_as_many_jobs_as_there_are_pieces() {
    on_both(|store| async move {
        let (part, first) = need(&store).await;
        let write = desk(&store).await;
        write.count_shelf(part.id, PIECES, "").await.unwrap();
        let mut needs = vec![first.clone()];
        for _ in 1..WRITERS {
            let need = write.add(Need::new(&write, first.job.unwrap(), "pinion 19").of(&PINION)).await.unwrap();
            needs.push(write.choose(&need, &part).await.unwrap().saved().unwrap());
        }
        write.commit().await.unwrap();
        let writers: Vec<_> = needs.into_iter().map(|need| tokio::spawn(use_it(store.clone(), need))).collect();
        let mut used = 0;
        for writer in writers {
            used += i64::from(writer.await.unwrap());
        }
        assert_eq!((used, on_shelf(&store, part.id).await.unwrap()), (PIECES, 0));
    });
}

async fn use_it(store: Store, need: Need) -> bool {
    let write = desk(&store).await;
    match write.lead_need(&need, NeedState::Used).await {
        Ok(led) => {
            led.saved().unwrap();
            write.commit().await.unwrap();
            true
        }
        Err(error) => {
            assert!(matches!(error, Error::Part(PartRefusal::TooFew { .. })), "{error:?}");
            false
        }
    }
}

#[test]
fn what_is_thrown_away_is_told_with_its_reason_and_never_more_than_lies_there() {
    on_both(|store| async move {
        let (part, need) = need(&store).await;
        let write = desk(&store).await;
        let gone = write.add(Part { active: false, ..Part::new(&write, "a part of old", price()) }).await.unwrap();
        write.count_shelf(part.id, 3, "").await.unwrap();
        let Stock { change, on_shelf, why, note, .. } = write.throw_away(&part, 2, " teeth chipped ").await.unwrap();
        assert_eq!((change, on_shelf, why, note.as_str()), (-2, 1, StockChange::Lost, "teeth chipped"));
        let more = write.throw_away(&part, 2, "lost").await.unwrap_err();
        assert!(matches!(more, Error::Part(PartRefusal::TooFew { on_shelf: 1, wanted: 2, .. })), "{more:?}");
        for (pieces, reason) in [(0, "lost"), (-1, "lost"), (1, " ")] {
            let error = write.throw_away(&part, pieces, reason).await.unwrap_err();
            assert!(matches!(error, Error::Value { .. }), "{pieces} {reason}: {error:?}");
        }
        assert_eq!(shelves(&write).await.unwrap().into_iter().collect::<Vec<_>>(), [(part.id, 1)]);
        let names: Vec<String> = every_part(&write).await.unwrap().into_iter().map(|part| part.name).collect();
        assert_eq!(names, [part.name.as_str(), gone.name.as_str()], "what is no longer to be had comes last");
        assert_eq!(needs_for(&write, part.id).await.unwrap(), std::slice::from_ref(&need));
        write.lead_need(&need, NeedState::Used).await.unwrap().saved().unwrap();
        assert_eq!(needs_for(&write, part.id).await.unwrap(), []);
    });
}
