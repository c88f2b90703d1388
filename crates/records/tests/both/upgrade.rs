//! Records of every earlier schema are brought up to date with all that they hold.

use crate::ground::{Fresh, on_postgres, on_sqlite, wait};
use sea_orm::ConnectionTrait;
use toothsayer_records::{
    Answer, Customer, Id, JobState, LATEST, Reach, Store, Subject, Truck, audit_of, builds_of, find, findings_of,
    go_aheads_of, health_of, job_by_number, lines_of, migrate_to, moves_of, offers_of, schema_of, sign_offs_of,
    stints_of, verdicts_of,
};

const CUSTOMER: &str = "01950000-0000-7000-8000-000000000001";
const TRUCK: &str = "01950000-0000-7000-8000-000000000002";

/// What a program of schema 1 wrote.
const OF_SCHEMA_1: &str = "
INSERT INTO person VALUES ('01950000-0000-7000-8000-000000000009', 'Jan Maas', 'owner', 1, NULL, 1, 1000);
INSERT INTO customer VALUES ('01950000-0000-7000-8000-000000000001', 'Anna Vogel', '030 1234567', '', '', '', 0, 1, 1000);
INSERT INTO truck VALUES ('01950000-0000-7000-8000-000000000002', '01950000-0000-7000-8000-000000000001', '9B0PGRW', 'Tarnhorn 6', '', 1, 1000);
INSERT INTO build VALUES ('01950000-0000-7000-8000-000000000003', '01950000-0000-7000-8000-000000000002', 1, '[battery]
cells = 7
', '', NULL, 1000);
INSERT INTO job VALUES ('01950000-0000-7000-8000-000000000004', 1, '01950000-0000-7000-8000-000000000002', '01950000-0000-7000-8000-000000000003', 'repair', 'stripped', 'declined', 1, NULL, 'It screamed.', '', 'EUR', 2500, NULL, 1000, 2, 2000);
INSERT INTO job_move VALUES ('01950000-0000-7000-8000-000000000005', '01950000-0000-7000-8000-000000000004', 1, '', 'taken-in', '', NULL, 1000);
INSERT INTO job_move VALUES ('01950000-0000-7000-8000-000000000006', '01950000-0000-7000-8000-000000000004', 2, 'taken-in', 'declined', 'too dear', NULL, 2000);
INSERT INTO finding VALUES ('01950000-0000-7000-8000-000000000007', '01950000-0000-7000-8000-000000000004', 'motor-rocks', 'yes', '0.45 mm', 'slots worn', NULL, 1500, 1, 1500);
INSERT INTO verdict VALUES ('01950000-0000-7000-8000-000000000008', '01950000-0000-7000-8000-000000000004', '0.1.0', '1', '{\"margin\":0.98}', 1600);
INSERT INTO offer VALUES ('01950000-0000-7000-8000-00000000000a', '01950000-0000-7000-8000-000000000004', 'mount and gears', 14900, 90, 40000, 'declined', 1, 1700);
INSERT INTO line VALUES ('01950000-0000-7000-8000-00000000000b', '01950000-0000-7000-8000-000000000004', 'part', 'support bearing', 1, 420, 0, 1, 1700);
INSERT INTO go_ahead VALUES ('01950000-0000-7000-8000-00000000000c', '01950000-0000-7000-8000-000000000004', 'phone', 'no', 0, 'Anna Vogel', NULL, 1900);
INSERT INTO audit VALUES ('01950000-0000-7000-8000-00000000000d', 1, 1000, NULL, 'truck', '01950000-0000-7000-8000-000000000002', 'added', '{\"name\":\"Tarnhorn 6\",\"tag\":\"9B0PGRW\"}');
";
/// What a program of schema 3 wrote besides.
const OF_SCHEMA_3: &str = "
INSERT INTO stint VALUES ('01950000-0000-7000-8000-00000000000e', '01950000-0000-7000-8000-000000000004', 'mesh', 10, '01950000-0000-7000-8000-000000000009', 1000, 2000, 1, 2000);
INSERT INTO sign_off VALUES ('01950000-0000-7000-8000-00000000000f', '01950000-0000-7000-8000-000000000004', 'mesh', 'motor to mount', '3.4 N*m', '', '01950000-0000-7000-8000-000000000009', 2000);
";

/// Records of an old schema, as an old program left them.
async fn old(fresh: &Fresh, schema: i64) {
    let store = Store::open_as_it_is(&fresh.place).await.unwrap();
    migrate_to(&store, schema).await.unwrap();
    let rows = if schema >= 3 { format!("{OF_SCHEMA_1}{OF_SCHEMA_3}") } else { OF_SCHEMA_1.to_owned() };
    for statement in rows.split(";\n").map(str::trim).filter(|statement| !statement.is_empty()) {
        store.connection().execute_unprepared(statement).await.unwrap();
    }
    store.close().await.unwrap();
}

async fn everything_is_there(store: &Store, schema: i64) {
    assert_eq!(schema_of(store).await.unwrap(), LATEST);
    let job = job_by_number(store, 1).await.unwrap();
    assert_eq!((job.state, job.said.as_str(), job.looking_fee), (JobState::Declined, "It screamed.", 2_500));
    assert_eq!(moves_of(store, job.id).await.unwrap()[1].reason, "too dear");
    let finding = &findings_of(store, job.id).await.unwrap()[0];
    assert_eq!((finding.answer, finding.value.as_deref()), (Answer::Yes, Some("0.45 mm")));
    assert_eq!(verdicts_of(store, job.id).await.unwrap()[0].body["margin"], 0.98);
    assert_eq!(offers_of(store, job.id).await.unwrap()[0].comeback_ppm, Some(40_000));
    assert_eq!(lines_of(store, job.id).await.unwrap()[0].text, "support bearing");
    assert_eq!(go_aheads_of(store, job.id).await.unwrap()[0].answer, Answer::No);
    assert_eq!(builds_of(store, job.truck).await.unwrap()[0].tables, "[battery]\ncells = 7\n");
    let bench = [stints_of(store, job.id).await.unwrap().len(), sign_offs_of(store, job.id).await.unwrap().len()];
    assert_eq!(bench, if schema >= 3 { [1, 1] } else { [0, 0] });
    let hit = find(store, "vogle", 9).await.unwrap();
    assert_eq!(hit[0].subject, Subject::Customer(Id::<Customer>::parse(CUSTOMER).unwrap()));
    assert_eq!(find(store, "slots", 9).await.unwrap()[0].subject, Subject::Job(job.id));
    let truck = Id::<Truck>::parse(TRUCK).unwrap();
    let told = audit_of(store, &truck.to_string()).await.unwrap();
    assert_eq!(told[0].what, serde_json::json!({ "name": true, "tag": "9B0PGRW" }));
    let health = health_of(&store.view().await.unwrap(), |_| {}).await.unwrap();
    assert_eq!(health.faults, Vec::<String>::new());
}

fn check(fresh: impl Fn() -> Fresh) {
    for schema in 1..LATEST {
        let fresh = fresh();
        wait(async {
            old(&fresh, schema).await;
            let store = Store::open(&fresh.place).await.unwrap();
            everything_is_there(&store, schema).await;
            store.close().await.unwrap();
        });
    }
}

#[test]
fn every_earlier_schema_is_brought_up_to_date_on_sqlite() {
    check(on_sqlite);
}

#[test]
fn every_earlier_schema_is_brought_up_to_date_on_postgresql() {
    check(on_postgres);
}
