//! Jobs from the counter to the customer, and what the tables refuse.

use crate::ground::on_both;
use crate::writes::{now, taken_in};
use sea_orm::ConnectionTrait;
use toothsayer_quantity::{Currency, Money};
use toothsayer_records::{
    Acting, Answer, Channel, Error, Finding, GoAhead, Job, JobState, Line, LineKind, Offer, OfferAnswer, Person, Reach,
    Refusal, Role, Saved, Signed, Store, Write, audit_of, clocks_of, comeback_of, compare, find, job_by_number,
    minutes_of, moves_of, price_of, sign_offs_of, today, truck_by_tag,
};

async fn write(store: &Store) -> Write {
    store.begin(now(1)).await.unwrap()
}

async fn lead(store: &Store, number: i64, to: JobState, reason: &str) -> Result<Saved<Job>, Error> {
    let job = job_by_number(store, number).await.unwrap();
    let write = write(store).await;
    let led = write.lead(&job, to, reason).await?;
    write.commit().await.unwrap();
    Ok(led)
}

#[test]
fn a_job_goes_from_the_counter_to_the_customer() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        lead(&store, job.number, JobState::LookedAt, "").await.unwrap().saved().unwrap();
        lead(&store, job.number, JobState::Priced, "").await.unwrap().saved().unwrap();
        let refused = lead(&store, job.number, JobState::Agreed, "").await.unwrap_err();
        assert!(matches!(refused, Error::Refused(Refusal::NoYes { .. })), "{refused:?}");

        let desk = write(&store).await;
        let offer = desk.add(Offer::new(&desk, job.id, "mount and gears", 14_900)).await.unwrap();
        desk.add(GoAhead::yes(&desk, job.id, Channel::Phone, 15_000)).await.unwrap();
        desk.save(Offer { answer: OfferAnswer::Taken, ..offer }).await.unwrap().saved().unwrap();
        desk.commit().await.unwrap();
        lead(&store, job.number, JobState::Agreed, "").await.unwrap().saved().unwrap();
        lead(&store, job.number, JobState::OnTheBench, "").await.unwrap().saved().unwrap();

        let desk = write(&store).await;
        desk.add(Line { price: 900, ..Line::new(&desk, job.id, LineKind::Part, "support bearing") }).await.unwrap();
        desk.commit().await.unwrap();
        let rose = lead(&store, job.number, JobState::Checked, "").await.unwrap_err();
        let [price, up_to] = [15_800, 15_000].map(|minor| Money { minor, currency: Currency::EUR });
        assert_eq!(rose, Error::Refused(Refusal::PriceRose { price, up_to }));

        let desk = write(&store).await;
        desk.add(GoAhead::yes(&desk, job.id, Channel::Counter, 15_800)).await.unwrap();
        desk.commit().await.unwrap();
        for to in [JobState::Checked, JobState::Ready, JobState::Collected] {
            lead(&store, job.number, to, "").await.unwrap().saved().unwrap();
        }
        assert!(today(&store, 10).await.unwrap().is_empty());
        let moves = moves_of(&store, job.id).await.unwrap();
        assert_eq!(moves.len(), 8);
        assert_eq!(moves.last().unwrap().to_state, JobState::Collected);
    });
}

#[test]
fn a_line_is_taken_away_as_it_was_read_and_costs_nothing_then() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let desk = write(&store).await;
        let line = Line { price: 900, ..Line::new(&desk, job.id, LineKind::Part, "support bearing") };
        let line = desk.add(line).await.unwrap();
        assert_eq!(price_of(&desk, &job).await.unwrap(), 900);
        assert!(!desk.take_line_away(&Line { version: 2, ..line.clone() }).await.unwrap());
        assert!(desk.take_line_away(&line).await.unwrap());
        assert!(!desk.take_line_away(&line).await.unwrap(), "it is gone already");
        assert_eq!(price_of(&desk, &job).await.unwrap(), 0);
        let told = audit_of(&desk, &line.id.to_string()).await.unwrap();
        assert_eq!(told.iter().map(|one| one.act.as_str()).collect::<Vec<_>>(), ["added", "taken away"]);
        desk.commit().await.unwrap();
        let text = format!("{:?}", find(&store, "bearing", 10).await.unwrap());
        assert!(!text.contains("Job"), "what is gone is not found: {text}");
    });
}

#[test]
fn a_comeback_shows_what_was_said_and_declined_then() {
    on_both(|store| async move {
        let first = taken_in(&store, "Anna Vogel").await;
        let desk = write(&store).await;
        let offer = desk.add(Offer::new(&desk, first.id, "mount and gears", 14_900)).await.unwrap();
        desk.save(Offer { answer: OfferAnswer::Declined, ..offer }).await.unwrap().saved().unwrap();
        let again = crate::writes::new_job(first.build, Some(first.id));
        let again = desk.take_in(again).await.unwrap();
        desk.commit().await.unwrap();
        let earlier = comeback_of(&store, &again).await.unwrap().unwrap();
        assert_eq!(earlier.job.said, first.said);
        assert_eq!(earlier.declined[0].name, "mount and gears");
    });
}

#[test]
fn a_comeback_of_another_truck_is_refused() {
    on_both(|store| async move {
        let (one, other) = (taken_in(&store, "Anna Vogel").await, taken_in(&store, "Jan Maas").await);
        let desk = write(&store).await;
        let refused = desk.take_in(crate::writes::new_job(one.build, Some(other.id))).await.unwrap_err();
        assert!(matches!(refused, Error::Constraint { .. }), "{refused:?}");
    });
}

#[test]
fn no_other_hand_leaves_the_life_cycle() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        for to in JobState::ALL {
            let open = i64::from(to.is_open());
            let sql = format!("UPDATE job SET state = '{}', open = {open} WHERE id = '{}'", to.word(), job.id);
            let allowed = to == job.state || job.state.next().contains(&to);
            let done = store.connection().execute_unprepared(&sql).await;
            assert_eq!(done.is_ok(), allowed, "{to:?}: {done:?}");
            if to != job.state && allowed {
                break;
            }
        }
        let wrong = format!("UPDATE job SET open = 0 WHERE id = '{}'", job.id);
        assert!(store.connection().execute_unprepared(&wrong).await.is_err());
    });
}

#[test]
fn what_is_only_added_to_is_never_changed() {
    on_both(|store| async move {
        taken_in(&store, "Anna Vogel").await;
        for table in ["audit", "job_move", "build"] {
            for sql in [format!("DELETE FROM {table}"), format!("UPDATE {table} SET id = id")] {
                assert!(store.connection().execute_unprepared(&sql).await.is_err(), "{sql}");
            }
        }
    });
}

#[test]
fn builds_are_told_apart_and_a_truck_is_found_by_its_label() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let desk = write(&store).await;
        let first = desk.get(job.build).await.unwrap();
        let second = desk.build(job.truck, "[gears]\npinion.teeth = 17 # milder\n", "a smaller pinion").await.unwrap();
        let same = desk.build(job.truck, &second.tables, "").await.unwrap();
        assert_eq!((second.number, &same), (2, &second));
        let differ = compare(&first, &second).unwrap();
        assert_eq!(differ.len(), 1);
        assert_eq!(differ[0].key, "gears.pinion.teeth");
        assert_eq!((differ[0].was.as_deref(), differ[0].is.as_deref()), (Some("19"), Some("17")));
        desk.commit().await.unwrap();
        let truck = store.get(job.truck).await.unwrap();
        let typed = format!(" {} ", truck.tag.to_string().to_lowercase());
        assert_eq!(truck_by_tag(&store, &typed).await.unwrap(), truck);
    });
}

#[test]
fn clocks_stop_before_a_job_is_checked_and_hands_are_signed_for() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let desk = write(&store).await;
        let person = desk.add(Person::new(&desk, "Mira", Role::Technician)).await.unwrap();
        desk.commit().await.unwrap();
        let desk = store.begin(Acting { who: Some(person.id), ..now(2) }).await.unwrap();
        desk.start_clock(job.id, "set-mesh", 10).await.unwrap();
        let signed =
            Signed { job: job.id, step: "motor-screws", joint: "motor to mount", tightened: "3.4 N*m", note: "" };
        desk.sign(signed).await.unwrap();
        assert!(desk.sign(Signed { tightened: "", ..signed }).await.is_err());
        drop(desk);
        assert!(sign_offs_of(&store, job.id).await.unwrap().is_empty(), "a dropped write leaves nothing");
    });
}

#[test]
fn a_check_is_answered_once_in_a_job() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let desk = write(&store).await;
        desk.add(Finding::new(&desk, job.id, "motor-rocks", Answer::Yes)).await.unwrap();
        let twice = desk.add(Finding::new(&desk, job.id, "motor-rocks", Answer::No)).await.unwrap_err();
        assert!(matches!(twice, Error::Constraint { .. }), "{twice:?}");
    });
}

#[test]
fn minutes_that_run_on_two_jobs_at_once_are_shared_between_them() {
    on_both(|store| async move {
        let (first, second) = (taken_in(&store, "Anna Vogel").await, taken_in(&store, "Jan Maas").await);
        let desk = write(&store).await;
        let person = desk.add(Person::new(&desk, "Mira", Role::Technician)).await.unwrap().id;
        desk.commit().await.unwrap();
        let at = |minute| Acting { who: Some(person), ..now(minute) };
        let desk = store.begin(at(10)).await.unwrap();
        let mesh = desk.start_clock(first.id, "set-mesh", 10).await.unwrap();
        let desk = desk.going_on(at(14));
        let other = desk.start_clock(second.id, "look", 10).await.unwrap();
        let desk = desk.going_on(at(20));
        desk.stop_clock(&mesh).await.unwrap().saved().unwrap();
        assert_eq!(clocks_of(&desk, person).await.unwrap(), [other]);
        // Four minutes alone and half of six; then the other clock alone until it is asked.
        let told = |job, minute| minutes_of(&desk, job, now(minute).at);
        assert_eq!(told(first.id, 30).await.unwrap().into_iter().collect::<Vec<_>>(), [("set-mesh".to_owned(), 7.0)]);
        assert_eq!(told(second.id, 30).await.unwrap().into_iter().collect::<Vec<_>>(), [("look".to_owned(), 13.0)]);
    });
}
