//! Who is let in, what the shop set, and what the tables refuse of it by themselves.

use crate::ground::on_both;
use crate::writes::{now, taken_in};
use sea_orm::ConnectionTrait;
use toothsayer_records::{
    Channel, Deed, Error, GoAhead, JobKind, JobState, Line, LineKind, Offer, OfferAnswer, Person, Reach, Role, Saved,
    Shop, Store, Units, audit_of, owed, session_of, sessions_of, shop_of, token_of,
};

async fn person(store: &Store, role: Role) -> Person {
    let write = store.begin(now(0)).await.unwrap();
    let person = write.add(Person::new(&write, "Mira", role)).await.unwrap();
    write.commit().await.unwrap();
    person
}

async fn refused(store: &Store, sql: &str) {
    assert!(store.connection().execute_unprepared(sql).await.is_err(), "{sql}");
}

#[test]
fn a_session_lets_in_until_it_ends_and_only_who_still_works_here() {
    on_both(|store| async move {
        let mira = person(&store, Role::Technician).await;
        let write = store.begin(now(0)).await.unwrap();
        let secret = write.sign_in(mira.id, "tablet at the bench", 60).await.unwrap();
        write.commit().await.unwrap();
        let opens = async |minutes| session_of(&store, secret.reveal(), now(minutes).at).await.unwrap();
        let (session, who) = opens(59).await.unwrap();
        assert_eq!((who.id, session.device.as_str()), (mira.id, "tablet at the bench"));
        assert!(opens(60).await.is_none(), "it ended");
        assert!(session_of(&store, "another", now(1).at).await.unwrap().is_none());

        let write = store.begin(now(50)).await.unwrap();
        write.was_seen(&session, 60).await.unwrap();
        write.commit().await.unwrap();
        assert!(opens(109).await.is_some(), "it goes on");
        let write = store.begin(now(51)).await.unwrap();
        write.save(Person { active: false, ..mira.clone() }).await.unwrap().saved().unwrap();
        write.commit().await.unwrap();
        assert!(opens(52).await.is_none(), "who left is not let in");
        let write = store.begin(now(52)).await.unwrap();
        assert_eq!(write.sign_out_everywhere(mira.id).await.unwrap(), 1);
        write.commit().await.unwrap();
        assert!(sessions_of(&store, mira.id).await.unwrap().is_empty());
    });
}

#[test]
fn neither_session_nor_token_is_kept_as_the_secret_that_opens_it() {
    on_both(|store| async move {
        let mira = person(&store, Role::Owner).await;
        let write = store.begin(now(0)).await.unwrap();
        let session = write.sign_in(mira.id, "", 60).await.unwrap();
        let (token, secret) = write.program_token(mira.id, "label printer", 60).await.unwrap();
        write.commit().await.unwrap();
        for (table, secret) in [("session", session.reveal()), ("token", secret.reveal())] {
            let column = if table == "session" { "id" } else { "secret" };
            let sql = format!("DELETE FROM {table} WHERE {column} = '{secret}'");
            assert_eq!(store.connection().execute_unprepared(&sql).await.unwrap().rows_affected(), 0, "{table}");
        }
        let trail = audit_of(&store, &token.id.to_string()).await.unwrap();
        assert_eq!(trail[0].what["secret"], true, "the trail tells no hash");
        assert!(token_of(&store, secret.reveal(), now(1).at).await.unwrap().is_some());
    });
}

#[test]
fn a_link_opens_one_jobs_page_until_it_is_revoked_for_good() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let write = store.begin(now(0)).await.unwrap();
        let (token, secret) = write.link(job.id, "hand-over", 60).await.unwrap();
        write.commit().await.unwrap();
        let found = token_of(&store, secret.reveal(), now(1).at).await.unwrap().unwrap();
        assert_eq!((found.job, found.person), (Some(job.id), None));
        assert!(token_of(&store, secret.reveal(), now(60).at).await.unwrap().is_none(), "it ended");
        let write = store.begin(now(2)).await.unwrap();
        let token = write.revoke(&token).await.unwrap().saved().unwrap();
        write.commit().await.unwrap();
        assert!(token_of(&store, secret.reveal(), now(3).at).await.unwrap().is_none(), "it was revoked");
        for set in ["revoked = NULL", "secret = upper(secret)", "job = NULL", "kind = 'program'"] {
            refused(&store, &format!("UPDATE token SET {set} WHERE id = '{}'", token.id)).await;
        }
    });
}

#[test]
fn a_password_is_kept_as_its_slow_hash_alone_and_an_owner_remains() {
    on_both(|store| async move {
        let owner = person(&store, Role::Owner).await;
        let write = store.begin(now(1)).await.unwrap();
        let hash = "$argon2id$v=19$m=19456,t=2,p=1$c29tZXNhbHQ$aGFzaA";
        let owner = write.save(Person { password: Some(hash.into()), ..owner }).await.unwrap().saved().unwrap();
        write.commit().await.unwrap();
        for sql in [
            "UPDATE person SET password = 'horse battery'".to_owned(),
            format!("UPDATE person SET active = 0 WHERE id = '{}'", owner.id),
            format!("UPDATE person SET role = 'counter' WHERE id = '{}'", owner.id),
        ] {
            refused(&store, &sql).await;
        }
        person(&store, Role::Owner).await;
        let write = store.begin(now(2)).await.unwrap();
        write.save(Person { active: false, ..owner }).await.unwrap().saved().unwrap();
    });
}

#[test]
fn roles_may_more_from_the_bench_to_the_owner() {
    let may = |role: Role| [Deed::Look, Deed::Work, Deed::Counter, Deed::Own].map(|deed| role.may(deed));
    assert_eq!(may(Role::Technician), [true, true, false, false]);
    assert_eq!(may(Role::Counter), [true, true, true, false]);
    assert_eq!(may(Role::Owner), [true; 4]);
}

#[test]
fn the_shop_has_usual_settings_until_it_sets_its_own() {
    on_both(|store| async move {
        let usual = shop_of(&store).await.unwrap();
        assert_eq!((usual.version, usual.money(usual.labour_rate).unwrap().to_string()), (0, "60.00 EUR".to_owned()));
        let write = store.begin(now(1)).await.unwrap();
        let own = Shop { labour_rate: 5_500, units: Units::Us, ..usual.clone() };
        let own = write.set_shop(own).await.unwrap().saved().unwrap();
        assert!(matches!(write.set_shop(usual.clone()).await.unwrap(), Saved::Clash { .. }), "both set it first");
        let own = write.set_shop(Shop { looking_fee: 2_500, ..own }).await.unwrap().saved().unwrap();
        assert!(write.set_shop(Shop { currency: "eur".into(), ..own.clone() }).await.is_err());
        write.commit().await.unwrap();
        assert_eq!(shop_of(&store).await.unwrap(), own);
        for set in ["horizon_runs = 0", "labour_rate = -1", "units = 'both'", "id = 'other'", "currency = 'EURO'"] {
            refused(&store, &format!("UPDATE shop SET {set}")).await;
        }
    });
}

#[test]
fn no_other_hand_works_without_a_yes_or_above_it() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let write = store.begin(now(1)).await.unwrap();
        let offer = write.add(Offer::new(&write, job.id, "mount and gears", 14_900)).await.unwrap();
        write.save(Offer { answer: OfferAnswer::Taken, ..offer }).await.unwrap().saved().unwrap();
        write
            .add(Line { price: 100, quantity: 3, ..Line::new(&write, job.id, LineKind::Part, "screw") })
            .await
            .unwrap();
        write.commit().await.unwrap();
        let go = async |state: JobState| {
            let sql = format!("UPDATE job SET state = '{}' WHERE id = '{}'", state.word(), job.id);
            store.connection().execute_unprepared(&sql).await.is_ok()
        };
        assert!(go(JobState::LookedAt).await && go(JobState::Priced).await);
        assert!(!go(JobState::Agreed).await, "nobody said yes");
        for (minutes, up_to, allowed) in [(2, 15_199, false), (3, 15_200, true)] {
            let write = store.begin(now(minutes)).await.unwrap();
            write.add(GoAhead::yes(&write, job.id, Channel::Counter, up_to)).await.unwrap();
            write.commit().await.unwrap();
            assert_eq!(go(JobState::Agreed).await, allowed, "a yes up to {up_to}");
        }
        let write = store.begin(now(4)).await.unwrap();
        write.add(Line { price: 1, ..Line::new(&write, job.id, LineKind::Work, "stickers") }).await.unwrap();
        write.commit().await.unwrap();
        assert!(!go(JobState::OnTheBench).await, "the price rose");
    });
}

#[test]
fn a_job_that_is_checked_has_no_clock_running_whoever_says_so() {
    on_both(|store| async move {
        let mira = person(&store, Role::Technician).await;
        let job = taken_in(&store, "Anna Vogel").await;
        let mut acting = now(1);
        acting.who = Some(mira.id);
        let write = store.begin(acting).await.unwrap();
        write.lead(&job, JobState::LookedAt, "").await.unwrap().saved().unwrap();
        write.start_clock(job.id, "look", 10).await.unwrap();
        write.commit().await.unwrap();
        let ready = format!("UPDATE job SET state = 'ready' WHERE id = '{}'", job.id);
        refused(&store, &ready).await;
        store.connection().execute_unprepared("UPDATE stint SET ended = began").await.unwrap();
        store.connection().execute_unprepared(&ready).await.unwrap();
    });
}

#[test]
fn looking_costs_something_where_nothing_was_agreed_on() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        assert_eq!(owed(&store, &job).await, Ok(job.looking_fee));
        let write = store.begin(now(1)).await.unwrap();
        write.add(Line { price: 900, ..Line::new(&write, job.id, LineKind::Part, "bearing") }).await.unwrap();
        let job = write.save(toothsayer_records::Job { looking_fee: 3_000, ..job }).await.unwrap().saved().unwrap();
        assert_eq!(owed(&write, &job).await, Ok(3_000), "a line that nobody agreed to is not owed");
        for (up_to, owes) in [(1_200, 900), (700, 700)] {
            write.add(GoAhead::yes(&write, job.id, Channel::Phone, up_to)).await.unwrap();
            assert_eq!(owed(&write, &job).await, Ok(owes), "a yes up to {up_to}");
        }
        let warranty = toothsayer_records::Job { kind: JobKind::Warranty, ..job };
        assert_eq!(owed(&write, &warranty).await, Ok(0));
        let error = write.add(Line { quantity: 0, ..Line::new(&write, warranty.id, LineKind::Part, "none") }).await;
        assert!(matches!(error, Err(Error::Constraint { .. })), "{error:?}");
    });
}
