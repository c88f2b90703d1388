//! A shop larger than any, for benches: rows by the hundred thousand, without a model behind them.

use crate::error::Error;
use crate::names;
use toothsayer_records::{
    Acting, Answer, AuditEntry, Build, Channel, Customer, Finding, GoAhead, Id, Job, JobKind, JobState, Line, LineKind,
    Moment, Move, Offer, OfferAnswer, Person, Photo, PhotoMoment, Record, Role, SignOff, Stint, Store, Tag, Truck,
    Write, latest_jobs, read_tag,
};

/// How large.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Large {
    /// Trucks, each with a customer and a build.
    pub trucks: u64,
    /// Jobs.
    pub jobs: u64,
    /// Photos of each job: rows alone, as lists read no pixels.
    pub photos_a_job: u64,
}

/// What the benches ask for.
pub const LARGE: Large = Large { trucks: 20_000, jobs: 100_000, photos_a_job: 3 };

/// Jobs at the end of the list that are open.
const OPEN: u64 = 60;
/// Rows that are made and written at once.
const CHUNK: u64 = 2_000;
/// Letters of a tag, as the records know them.
const LETTERS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// Syllables of the words that notes are made of: some eight thousand words.
const SYLLABLES: [&str; 20] = [
    "ba", "cor", "den", "fil", "gra", "hul", "jin", "kam", "lor", "mes", "nop", "pur", "quo", "rik", "sta", "tun",
    "ver", "wex", "yor", "zin",
];
/// Checks and steps of the book that the rows name.
const CHECKS: [&str; 3] = ["motor-rocks", "pinion-loose", "metal-left"];

/// The tables, each with its own ids.
#[derive(Clone, Copy)]
enum Of {
    Customer = 1,
    Truck,
    Build,
    Job,
    Move,
    Finding,
    Offer,
    Line,
    GoAhead,
    Stint,
    SignOff,
    Photo,
    Audit,
}

/// The id of the n-th row of a table.
fn id<T>(of: Of, number: u64) -> Result<Id<T>, Error> {
    let mut bytes = [0; 10];
    bytes[0] = of as u8;
    bytes[2..].copy_from_slice(&number.to_be_bytes());
    Ok(Id::drawn(at(number / 100)?, bytes))
}

/// So many minutes after the shop opened.
fn at(minute: u64) -> Result<Moment, Error> {
    Ok(Moment::parse("2020-01-06T08:00:00Z")?.after_minutes(i64::try_from(minute).unwrap_or(0)))
}

/// A word of three syllables, by its number.
fn word(number: u64) -> String {
    let place = number.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 40;
    let syllable = |at: u64| SYLLABLES[((place / at) % 20) as usize];
    [syllable(1), syllable(20), syllable(400)].concat()
}

/// The tag of the n-th truck: its number in letters, and the last one that fits.
fn tag(number: u64) -> Result<Tag, Error> {
    let letters: String = (0..6).map(|place| char::from(LETTERS[((number >> (5 * place)) % 32) as usize])).collect();
    let fits = LETTERS.iter().find_map(|last| read_tag(&format!("{letters}{}", char::from(*last))).ok());
    fits.ok_or_else(|| Error::model("no letter makes a tag of this number"))
}

/// Fills empty records; `tell` hears how many rows are in.
///
/// # Errors
/// The records hold something already, or cannot keep it.
pub async fn fill_large(store: &Store, size: Large, mut tell: impl FnMut(u64)) -> Result<u64, Error> {
    if !latest_jobs(store, None, 1).await?.is_empty() {
        return Err(Error::NotEmpty);
    }
    let write = store.begin(Acting { who: None, at: at(0)? }).await?;
    let person = write.add(Person::new(&write, names::PEOPLE[2], Role::Technician)).await?.id;
    let mut large = Filling { write: &write, size, person, rows: 1, tell: &mut tell };
    large.trucks().await?;
    large.jobs().await?;
    let rows = large.rows;
    write.index_anew().await?;
    write.commit().await?;
    Ok(rows)
}

struct Filling<'a, T> {
    write: &'a Write,
    size: Large,
    person: Id<Person>,
    rows: u64,
    tell: &'a mut T,
}

impl<T: FnMut(u64)> Filling<'_, T> {
    /// Writes `count` rows that `make` gives by their number.
    async fn rows<R: Record>(&mut self, count: u64, make: impl Fn(u64) -> Result<R, Error>) -> Result<(), Error> {
        for first in (0..count).step_by(CHUNK as usize) {
            let rows = (first..(first + CHUNK).min(count)).map(&make).collect::<Result<Vec<R>, Error>>()?;
            self.write.add_all(&rows).await?;
            self.rows += rows.len() as u64;
            (self.tell)(self.rows);
        }
        Ok(())
    }

    async fn trucks(&mut self) -> Result<(), Error> {
        let trucks = self.size.trucks;
        self.rows(trucks, customer).await?;
        self.rows(trucks, truck).await?;
        self.rows(trucks, build).await
    }

    async fn jobs(&mut self) -> Result<(), Error> {
        let (size, person, jobs) = (self.size, self.person, self.size.jobs);
        self.rows(jobs, |number| job(number, size)).await?;
        self.rows(5 * jobs, |number| moved(number, person)).await?;
        self.rows(3 * jobs, |number| finding(number, person)).await?;
        self.rows(2 * jobs, offer).await?;
        self.rows(jobs, line).await?;
        self.rows(jobs, |number| go_ahead(number, person)).await?;
        self.rows(2 * jobs, |number| stint(number, person)).await?;
        self.rows(jobs, |number| sign_off(number, person)).await?;
        let photos = size.photos_a_job;
        self.rows(photos * jobs, |number| photo(number, photos, person)).await?;
        // One line stands there already: of the person.
        self.rows(2 * jobs, |number| audit(number, person)).await
    }
}

fn customer(number: u64) -> Result<Customer, Error> {
    let place = usize::try_from(number).unwrap_or(0);
    Ok(Customer {
        id: id(Of::Customer, number)?,
        name: names::customer(place),
        phone: format!("555 01{:02} {number}", number % 100),
        email: names::email(place),
        address: format!("{number} Nowhere Lane"),
        note: String::new(),
        erased: false,
        version: 1,
        changed: at(number)?,
    })
}

fn truck(number: u64) -> Result<Truck, Error> {
    let (id, customer, tag) = (id(Of::Truck, number)?, id(Of::Customer, number)?, tag(number)?);
    let (name, note) = ("Tarnhorn 6".to_owned(), word(number));
    Ok(Truck { id, customer, tag, name, note, version: 1, changed: at(number)? })
}

fn build(number: u64) -> Result<Build, Error> {
    let tables = format!("[truck]\nmass = \"{}.4 kg\"\n[gears]\npinion.teeth = 19\nspur.teeth = 53\n", 9 + number % 3);
    let (id, truck, made) = (id(Of::Build, number)?, id(Of::Truck, number)?, at(number)?);
    Ok(Build { id, truck, number: 1, tables, reason: "as it came".into(), who: None, made })
}

fn job(number: u64, size: Large) -> Result<Job, Error> {
    let open = number + OPEN >= size.jobs;
    let truck = number % size.trucks.max(1);
    Ok(Job {
        id: id(Of::Job, number)?,
        number: as_number(number + 1),
        truck: id(Of::Truck, truck)?,
        build: id(Of::Build, truck)?,
        kind: JobKind::Repair,
        complaint: "stripped".into(),
        state: if open { JobState::LookedAt } else { JobState::Collected },
        open,
        comeback_of: None,
        said: format!("{} {} {}", names::SAID[(number % 6) as usize], word(number), word(number + 7)),
        tables: "[job]\ncomplaint = \"stripped\"\n".into(),
        currency: "EUR".into(),
        looking_fee: 2_500,
        due: if open { Some(at(60 * number + 10_000)?) } else { None },
        taken_in: at(60 * number)?,
        version: 5,
        changed: at(60 * number + 600)?,
    })
}

/// Numbers of rows are far below the largest that both types hold.
fn as_number(number: u64) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

fn moved(number: u64, person: Id<Person>) -> Result<Move, Error> {
    const WAY: [(&str, JobState); 5] = [
        ("", JobState::TakenIn),
        ("taken-in", JobState::LookedAt),
        ("looked-at", JobState::Priced),
        ("priced", JobState::Agreed),
        ("agreed", JobState::OnTheBench),
    ];
    let (from, to_state) = WAY[(number % 5) as usize];
    Ok(Move {
        id: id(Of::Move, number)?,
        job: id(Of::Job, number / 5)?,
        step: as_number(number % 5 + 1),
        from_state: from.to_owned(),
        to_state,
        reason: String::new(),
        who: Some(person),
        at: at(60 * (number / 5) + number % 5)?,
    })
}

fn finding(number: u64, person: Id<Person>) -> Result<Finding, Error> {
    let seen_at = at(60 * (number / 3) + 30)?;
    Ok(Finding {
        id: id(Of::Finding, number)?,
        job: id(Of::Job, number / 3)?,
        asked: CHECKS[(number % 3) as usize].to_owned(),
        answer: if number.is_multiple_of(2) { Answer::Yes } else { Answer::No },
        value: None,
        note: word(number + 13),
        seen_by: Some(person),
        seen_at,
        version: 1,
        changed: seen_at,
    })
}

fn offer(number: u64) -> Result<Offer, Error> {
    let first = number.is_multiple_of(2);
    Ok(Offer {
        id: id(Of::Offer, number)?,
        job: id(Of::Job, number / 2)?,
        name: if first { "new gears only" } else { "gears and causes" }.to_owned(),
        price: if first { 5_900 } else { 9_900 },
        minutes: 40,
        comeback_ppm: Some(120_000),
        answer: if first { OfferAnswer::Declined } else { OfferAnswer::Taken },
        version: 2,
        changed: at(60 * (number / 2) + 90)?,
    })
}

fn line(number: u64) -> Result<Line, Error> {
    let (id, job) = (id(Of::Line, number)?, id(Of::Job, number)?);
    let text = format!("support bearing {}", word(number + 29));
    Ok(Line {
        id,
        job,
        kind: LineKind::Part,
        text,
        quantity: 1,
        price: 420,
        minutes: 0,
        version: 1,
        changed: at(60 * number)?,
    })
}

fn go_ahead(number: u64, person: Id<Person>) -> Result<GoAhead, Error> {
    Ok(GoAhead {
        id: id(Of::GoAhead, number)?,
        job: id(Of::Job, number)?,
        channel: Channel::Phone,
        answer: Answer::Yes,
        up_to: 12_000,
        said_by: String::new(),
        taken_by: Some(person),
        at: at(60 * number + 120)?,
    })
}

fn stint(number: u64, person: Id<Person>) -> Result<Stint, Error> {
    let began = at(60 * (number / 2) + 20 * (number % 2))?;
    Ok(Stint {
        id: id(Of::Stint, number)?,
        job: id(Of::Job, number / 2)?,
        step: ["new-gears", "set-mesh"][(number % 2) as usize].to_owned(),
        planned_minutes: 15,
        who: person,
        began,
        ended: Some(began.after_minutes(as_number(10 + number % 13))),
        version: 2,
        changed: began,
    })
}

fn sign_off(number: u64, who: Id<Person>) -> Result<SignOff, Error> {
    let text = |text: &str| text.to_owned();
    let (step, joint, tightened) = (text("motor-screws"), text("motor to mount"), text("3.4 N*m"));
    let (id, job, at) = (id(Of::SignOff, number)?, id(Of::Job, number)?, at(60 * number + 200)?);
    Ok(SignOff { id, job, step, joint, tightened, note: String::new(), who, at })
}

fn photo(number: u64, a_job: u64, person: Id<Person>) -> Result<Photo, Error> {
    let job = number / a_job.max(1);
    let taken = at(60 * job + number % a_job.max(1))?;
    Ok(Photo {
        id: id(Of::Photo, number)?,
        job: Some(id(Of::Job, job)?),
        finding: None,
        shows: "pinion".into(),
        moment: Some(PhotoMoment::Before),
        note: String::new(),
        media: "image/jpeg".into(),
        width: 4_000,
        height: 3_000,
        orientation: 1,
        size: 3_100_000,
        sha256: format!("{number:064x}"),
        taken_by: Some(person),
        taken,
        version: 2,
        changed: taken,
    })
}

fn audit(number: u64, person: Id<Person>) -> Result<AuditEntry, Error> {
    Ok(AuditEntry {
        id: id(Of::Audit, number)?,
        step: as_number(number + 2),
        at: at(60 * (number / 2))?,
        who: Some(person),
        subject: "job".into(),
        row_key: id::<Job>(Of::Job, number / 2)?.to_string(),
        act: "changed".into(),
        what: serde_json::json!({ "state": ["taken-in", "looked-at"] }),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn rows_of_all_tables_have_ids_of_their_own_that_sort_by_age() {
        let ids: Vec<String> = (0..3_000).map(|number| id::<Job>(Of::Job, number).unwrap().to_string()).collect();
        assert!(ids.is_sorted());
        let others = (0..3_000).map(|number| id::<Job>(Of::Photo, number).unwrap().to_string());
        assert_eq!(ids.iter().cloned().chain(others).collect::<BTreeSet<_>>().len(), 6_000);
    }

    #[test]
    fn there_are_words_and_tags_enough_to_make_a_search_work() {
        let words: BTreeSet<String> = (0..20_000).map(word).collect();
        assert!(words.len() > 5_000, "{}", words.len());
        let tags: BTreeSet<String> = (0..500).map(|number| tag(number).unwrap().to_string()).collect();
        assert_eq!(tags.len(), 500);
    }
}
