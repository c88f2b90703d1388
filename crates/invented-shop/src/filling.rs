//! The visits written into empty records, stage by stage, as a shop would write them.

use crate::error::Error;
use crate::names;
use crate::nature::{Nature, unopened};
use crate::stages::{Event, Stage, events};
use crate::visits::{End, TRUCKS, Visit, steps, visits};
use serde_json::json;
use std::collections::BTreeMap;
use toothsayer_evidence::{Belief, CauseId, CauseSet, Evidence, Posterior};
use toothsayer_fault_book::{FaultBook, Step};
use toothsayer_quantity::{Currency, Length, Money};
use toothsayer_records::{
    Acting, Answer, Channel, Customer, Gear, GoAhead, Id, Incoming, Job, JobKind, JobState, Measures, Moment, Need,
    NeedState, Offer, OfferAnswer, Part, Person, Reach, Role, Shop, Signed, Store, Truck, Verdict, Write,
    job_by_number, latest_jobs, needs_of, offers_of, on_shelf, shop_of,
};

/// A cause is cured from this probability on.
const CURED_FROM: f64 = 0.5;
/// Price of an hour, minor units.
const RATE: i64 = 5_500;
/// What looking costs, minor units.
const LOOKING: i64 = 2_500;

/// What the shop keeps: the book's word, the name on the list, price and cost in minor units, days until it arrives, how
/// many should lie there.
const PARTS: [(&str, &str, i64, i64, i64, i64); 15] = [
    ("pinion", "pinion 19", 1_450, 900, 4, 3),
    ("spur", "spur 53", 1_690, 1_050, 4, 3),
    ("smaller pinion", "pinion 17", 1_400, 880, 4, 1),
    ("hardened pinion", "pinion 19 hardened", 2_650, 1_800, 6, 0),
    ("hardened spur", "spur 53 hardened", 2_990, 2_000, 6, 0),
    ("support bearing", "support bearing", 420, 210, 3, 6),
    ("input bearings", "input bearings", 980, 560, 4, 2),
    ("gearbox half", "gearbox half", 1_900, 1_200, 7, 0),
    ("spacer", "spacer", 250, 90, 3, 3),
    ("set screw", "set screw", 80, 15, 3, 10),
    ("motor mount", "motor mount", 2_400, 1_500, 7, 0),
    ("motor", "motor", 13_900, 9_900, 7, 0),
    ("gear cover", "gear cover", 1_100, 640, 7, 0),
    ("wheels", "wheels", 6_400, 4_300, 7, 0),
    ("cleaner", "cleaner", 700, 350, 3, 2),
];

/// How tight the scenario's joints are, by what they carry.
const TIGHTENED: [(&str, &str, &str); 4] = [
    ("motor", "motor to mount", "3.4 N*m"),
    ("mount", "mount to chassis", "1.6 N*m"),
    ("input shaft", "input shaft cover, into plastic", "0.7 N*m"),
    ("pinion", "set screw", "4 N*m"),
];

/// The gear that a name of the list is.
fn measures(name: &str) -> Option<Measures> {
    let mut words = name.split(' ');
    let gear = match words.next()? {
        "pinion" => Gear::Pinion,
        "spur" => Gear::Spur,
        _ => return None,
    };
    let bore = (gear == Gear::Pinion).then_some(Length::mm(8.0));
    Some(Measures { gear, teeth: words.next()?.parse().ok()?, module: Length::mm(1.0), bore })
}

/// Fills empty records with the invented shop, all of it or nothing; answers how many jobs it has.
///
/// # Errors
/// The records hold something already, or cannot keep it.
pub async fn fill(store: &Store, book: &FaultBook, nature: &Nature, seed: u64) -> Result<usize, Error> {
    let visits = visits(nature, seed);
    let events = events(&visits)?;
    let opened = events.first().map_or(Moment::from_ms(0)?, |event| event.at.after_minutes(-60));
    let mut write = store.begin(Acting { who: None, at: opened }).await?;
    if shop_of(&write).await?.version > 0 || !latest_jobs(&write, None, 1).await?.is_empty() {
        return Err(Error::NotEmpty);
    }
    let mut shop = Filling {
        book,
        nature,
        visits: &visits,
        people: [None; 3],
        trucks: vec![],
        jobs: vec![None; visits.len()],
        beliefs: BTreeMap::new(),
        parts: BTreeMap::new(),
    };
    shop.open(&write).await?;
    for event in events {
        write = write.going_on(Acting { who: shop.at_work(event.stage), at: event.at });
        shop.happens(&write, event).await?;
    }
    write.commit().await?;
    Ok(visits.len())
}

struct Filling<'a> {
    book: &'a FaultBook,
    nature: &'a Nature,
    visits: &'a [Visit],
    /// Owner, counter, technician.
    people: [Option<Id<Person>>; 3],
    trucks: Vec<Id<Truck>>,
    /// The numbers of the visits' jobs.
    jobs: Vec<Option<Id<Job>>>,
    /// What the verdict believed when a truck was looked at, until it is priced.
    beliefs: BTreeMap<Id<Job>, Belief>,
    parts: BTreeMap<&'static str, Part>,
}

impl Filling<'_> {
    async fn open(&mut self, write: &Write) -> Result<(), Error> {
        let name = "Millrace Models (invented)".to_owned();
        let (labour_rate, looking_fee) = (RATE, LOOKING);
        let shop = Shop { name, labour_rate, looking_fee, ..shop_of(write).await? };
        let _only_writer = write.set_shop(shop).await?;
        for (place, role) in [Role::Owner, Role::Counter, Role::Technician].into_iter().enumerate() {
            self.people[place] = Some(write.add(Person::new(write, names::PEOPLE[place], role)).await?.id);
        }
        for (word, name, price, cost, lead_days, keep) in PARTS {
            let price = Money { minor: price, currency: Currency::EUR };
            let part = Part {
                supplier: "Ratchet & Rack (invented)".into(),
                cost,
                lead_days: Some(lead_days),
                keep,
                ..Part::new(write, name, price)
            };
            let part = measures(name).map_or(part.clone(), |measures| part.with(&measures));
            let part = write.add(part).await?;
            write.count_shelf(part.id, keep, "opening count").await?;
            self.parts.insert(word, part);
        }
        for number in 0..TRUCKS {
            let customer = Customer {
                phone: names::phone(number),
                email: names::email(number),
                note: "invented".into(),
                ..Customer::new(write, &names::customer(number))
            };
            let customer = write.add(customer).await?;
            self.trucks.push(write.truck(customer.id, "Tarnhorn 6").await?.id);
        }
        Ok(())
    }

    /// Who does what belongs to a stage: the counter, or the bench.
    fn at_work(&self, stage: Stage) -> Option<Id<Person>> {
        let counter =
            matches!(stage, Stage::TakeIn | Stage::Price | Stage::Ask | Stage::Answer | Stage::Order | Stage::Collect);
        self.people[if counter { 1 } else { 2 }]
    }

    async fn happens(&mut self, write: &Write, event: Event) -> Result<(), Error> {
        let visit = &self.visits[event.visit];
        match self.jobs[event.visit] {
            None => self.jobs[event.visit] = Some(self.take_in(write, event.visit).await?),
            Some(job) => {
                let job = write.get(job).await?;
                match event.stage {
                    Stage::TakeIn | Stage::Ask => lead(write, &job, JobState::WaitingForAnswer, "").await?,
                    Stage::LookAt => self.look_at(write, &job, visit).await?,
                    Stage::Price => self.price(write, &job, visit).await?,
                    Stage::Answer => self.answer(write, &job, visit).await?,
                    Stage::Order => self.order(write, &job, visit).await?,
                    Stage::Arrive => arrive(write, &job).await?,
                    Stage::Work => self.work(write, &job, visit).await?,
                    Stage::Check => self.check(write, &job).await?,
                    Stage::Ready => {
                        let reason = if visit.end == End::LookedOver { "nothing to be repaired" } else { "" };
                        lead(write, &job, JobState::Ready, reason).await?;
                    }
                    Stage::Collect => lead(write, &job, JobState::Collected, "").await?,
                }
            }
        }
        Ok(())
    }

    /// The job file as the counter takes it: the truck, and what the customer came with.
    async fn take_in(&self, write: &Write, place: usize) -> Result<Id<Job>, Error> {
        let visit = &self.visits[place];
        let text = unopened().replacen("complaint = \"stripped\"", &format!("complaint = \"{}\"", visit.complaint), 1);
        let truck = self.trucks[visit.truck];
        let comeback_of = visit.comeback_of.and_then(|earlier| self.jobs[earlier]);
        let job = write.import(Incoming { truck, comeback_of, text: &text, book: self.book }).await?;
        let said =
            if visit.end == End::LookedOver { "Please look it over." } else { names::SAID[place % names::SAID.len()] };
        let due = Some(write.now().after_minutes(7 * 24 * 60));
        let kind = if visit.end == End::LookedOver { JobKind::Check } else { JobKind::Repair };
        let told = Job { said: said.to_owned(), looking_fee: LOOKING, due, kind, ..job.clone() };
        let _only_writer = write.save(told).await?;
        Ok(job.id)
    }

    async fn look_at(&mut self, write: &Write, job: &Job, visit: &Visit) -> Result<(), Error> {
        for (place, answer) in &visit.seen {
            let asked = &self.nature.network.findings()[*place].name;
            let answer = if *answer { Answer::Yes } else { Answer::No };
            write.add(toothsayer_records::Finding::new(write, job.id, asked, answer)).await?;
        }
        let belief = self.belief(visit)?;
        let mut causes: Vec<(f64, &str)> = self
            .nature
            .network
            .causes()
            .iter()
            .enumerate()
            .map(|(place, cause)| (belief.present(CauseId(place)), cause.name.as_str()))
            .collect();
        causes.sort_by(|a, b| b.0.total_cmp(&a.0));
        let told: Vec<_> = causes.iter().take(5).map(|(present, id)| json!({ "id": id, "present": present })).collect();
        let verdict = Verdict {
            id: write.id(),
            job: job.id,
            program: env!("CARGO_PKG_VERSION").into(),
            book: self.book.name().into(),
            body: json!({ "invented": true, "causes": told }),
            made: write.now(),
        };
        self.beliefs.insert(job.id, belief);
        write.add(verdict).await?;
        lead(write, job, JobState::LookedAt, "").await
    }

    fn belief(&self, visit: &Visit) -> Result<Belief, Error> {
        let mut answers = vec![None; self.nature.network.findings().len()];
        visit.seen.iter().for_each(|(place, answer)| answers[*place] = Some(*answer));
        let evidence = Evidence { answers, some_mode: visit.end != End::LookedOver };
        Ok(Posterior::new(&self.nature.network, evidence).map_err(Error::model)?.belief().clone())
    }

    /// Two repairs with their prices and the computed chance of a comeback.
    async fn price(&mut self, write: &Write, job: &Job, visit: &Visit) -> Result<(), Error> {
        let Some(belief) = self.beliefs.remove(&job.id) else { return Ok(()) };
        let known = (0..self.nature.network.causes().len()).map(CauseId);
        let cured = known.filter(|cause| belief.present(*cause) >= CURED_FROM);
        let cured = cured.fold(CauseSet::default(), |set, cause| set.union(CauseSet::only(cause)));
        for (name, cures) in [("new gears only", false), ("gears and causes", true)] {
            let steps = steps(self.book, &self.nature.network, visit, cures);
            let cured = if cures { cured } else { CauseSet::default() };
            let comeback = belief.failure(&self.nature.ahead, cured).map_err(Error::model)?;
            let minutes: f64 = steps.iter().map(|step| step.minutes).sum();
            let rate = Money { minor: RATE, currency: Currency::EUR };
            let parts: i64 = steps
                .iter()
                .flat_map(|step| &step.parts)
                .filter_map(|word| Some(self.parts.get(word.as_str())?.price))
                .sum();
            let price = rate.for_minutes(minutes).minor + parts;
            let offer = Offer::new(write, job.id, name, price);
            let comeback_ppm = Some((comeback * 1e6).round() as i64);
            write.add(Offer { minutes: minutes.round() as i64, comeback_ppm, ..offer }).await?;
        }
        lead(write, job, JobState::Priced, "").await
    }

    async fn answer(&self, write: &Write, job: &Job, visit: &Visit) -> Result<(), Error> {
        let wanted = match visit.end {
            End::Cured => Some("gears and causes"),
            End::GearsOnly => Some("new gears only"),
            End::Declined | End::LookedOver => None,
        };
        for offer in offers_of(write, job.id).await? {
            let taken = wanted == Some(offer.name.as_str());
            if taken {
                let yes = GoAhead::yes(write, job.id, Channel::Phone, offer.price);
                write.add(GoAhead { said_by: "the customer (invented)".into(), ..yes }).await?;
            }
            let answer = if taken { OfferAnswer::Taken } else { OfferAnswer::Declined };
            let _only_writer = write.save(Offer { answer, ..offer }).await?;
        }
        match wanted {
            Some(_) => lead(write, job, JobState::Agreed, "").await,
            None => lead(write, job, JobState::Declined, "the customer wants to think about another truck").await,
        }
    }

    fn steps(&self, visit: &Visit) -> Vec<&Step> {
        steps(self.book, &self.nature.network, visit, visit.end == End::Cured)
    }

    async fn order(&self, write: &Write, job: &Job, visit: &Visit) -> Result<(), Error> {
        for part in
            self.steps(visit).iter().flat_map(|step| &step.parts).filter_map(|word| self.parts.get(word.as_str()))
        {
            let need = Need::new(write, job.id, &part.name);
            let need = part.measures().map_or(need.clone(), |measures| need.of(&measures));
            let need = write.add(need).await?;
            if let Some(need) = write.choose(&need, part).await?.saved()
                && on_shelf(write, part.id).await? < need.quantity
            {
                let _only_writer = write.lead_need(&need, NeedState::Ordered).await?;
            }
        }
        let waits = needs_of(write, job.id).await?.iter().any(|need| need.state == NeedState::Ordered);
        if waits { lead(write, job, JobState::WaitingForParts, "").await } else { Ok(()) }
    }

    async fn work(&self, write: &Write, job: &Job, visit: &Visit) -> Result<(), Error> {
        lead(write, job, JobState::OnTheBench, "").await?;
        for need in needs_of(write, job.id).await? {
            let short = match need.part {
                Some(part) => on_shelf(write, part).await? < need.quantity,
                None => true,
            };
            if need.state == NeedState::Wanted && short {
                // Another job took the last one meanwhile: it came with the next delivery.
                let ordered = write.lead_need(&need, NeedState::Ordered).await?.saved();
                if let Some(arrived) = match ordered {
                    Some(ordered) => write.lead_need(&ordered, NeedState::Arrived).await?.saved(),
                    None => None,
                } {
                    let _only_writer = write.lead_need(&arrived, NeedState::Used).await?;
                }
            } else {
                let _only_writer = write.lead_need(&need, NeedState::Used).await?;
            }
        }
        let mut began = write.now();
        for step in self.steps(visit) {
            self.sign(write, job, step).await?;
            let ended = began.after_minutes((step.minutes * visit.pace).round().max(1.0) as i64);
            self.clock(write, job, step, [began, ended]).await?;
            began = ended;
        }
        Ok(())
    }

    async fn sign(&self, write: &Write, job: &Job, step: &Step) -> Result<(), Error> {
        let known = step.tightens.as_deref().and_then(|carries| TIGHTENED.iter().find(|(own, _, _)| *own == carries));
        let (joint, tightened) = known.map_or(("", ""), |(_, joint, tightened)| (*joint, *tightened));
        write.sign(Signed { job: job.id, step: &step.id, joint, tightened, note: "" }).await?;
        Ok(())
    }

    /// A clock that ran between two moments.
    async fn clock(&self, write: &Write, job: &Job, step: &Step, ends: [Moment; 2]) -> Result<(), Error> {
        let stint = write.start_clock(job.id, &step.id, step.minutes.round() as i64).await?;
        let [began, ended] = ends;
        let _only_writer = write.save(toothsayer_records::Stint { began, ended: Some(ended), ..stint }).await?;
        Ok(())
    }

    async fn check(&self, write: &Write, job: &Job) -> Result<(), Error> {
        lead(write, job, JobState::Checked, "").await
    }
}

async fn arrive(write: &Write, job: &Job) -> Result<(), Error> {
    for need in needs_of(write, job.id).await?.into_iter().filter(|need| need.state == NeedState::Ordered) {
        let _only_writer = write.lead_need(&need, NeedState::Arrived).await?;
    }
    Ok(())
}

/// Leads the job as it now stands: there is one writer alone.
async fn lead(write: &Write, job: &Job, to: JobState, reason: &str) -> Result<(), Error> {
    let now = job_by_number(write, job.number).await?;
    let _only_writer = write.lead(&now, to, reason).await?;
    Ok(())
}
