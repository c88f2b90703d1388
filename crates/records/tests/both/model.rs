//! Random sequences of what a shop does, on both databases, against a plain model in memory.

use crate::ground::on_both;
use crate::writes::{new_job, now};
use proptest::prelude::*;
use proptest::test_runner::{RngSeed, TestRunner};
use std::collections::{BTreeMap, BTreeSet};
use toothsayer_quantity::Currency;
use toothsayer_records::{
    Answer, Build, Channel, Customer, Error, Facts, Finding, GoAhead, Id, Job, JobState, Line, LineKind, Offer,
    OfferAnswer, Reach, Saved, Store, Subject, Truck, Write, builds_of, find, findings_of, go_aheads_of, health_of,
    job_by_number, lines_of, moves_of, offers_of, price_of, step,
};

/// Sequences, and what is done in each: enough to meet every deed with every state some time (held below), few enough
/// for two databases in some seconds.
const SEQUENCES: u32 = 6;
const DEEDS: usize = 60;
/// Any, so that a failure comes back.
const SEED: u64 = 0x7007;

/// No two begin alike or are near each other, so that each is found by itself alone.
const NAMES: [&str; 4] = ["Anna", "Brandt", "Vogel", "Zwirner"];
const CHECKS: [&str; 3] = ["motor-rocks", "mount-rocks", "fragment"];

/// What somebody does. Numbers pick among what is there.
#[derive(Clone, Debug)]
enum Deed {
    NewCustomer(usize),
    Rename(usize, usize),
    NewTruck(usize),
    NewBuild(usize, u8),
    TakeIn(usize),
    Lead(usize, usize, bool),
    Find(usize, usize, bool),
    Offer(usize, i64),
    Take(usize),
    Yes(usize, i64),
    No(usize),
    Line(usize, i64),
    Fee(usize, i64),
    /// Saves what was read one change before.
    Stale(usize),
}

fn deeds() -> impl Strategy<Value = Vec<(Deed, bool)>> {
    // Few are picked among, so that each meets much.
    let (which, money) = (0..12_usize, 0..20_000_i64);
    let deed = prop_oneof![
        1 => which.clone().prop_map(Deed::NewCustomer),
        1 => (which.clone(), which.clone()).prop_map(|(who, name)| Deed::Rename(who, name)),
        1 => which.clone().prop_map(Deed::NewTruck),
        2 => (which.clone(), 5..9_u8).prop_map(|(truck, cells)| Deed::NewBuild(truck, cells)),
        1 => which.clone().prop_map(Deed::TakeIn),
        12 => (which.clone(), which.clone(), proptest::bool::ANY).prop_map(|(job, to, why)| Deed::Lead(job, to, why)),
        2 => (which.clone(), which.clone(), proptest::bool::ANY).prop_map(|(job, asked, yes)| Deed::Find(job, asked, yes)),
        2 => (which.clone(), money.clone()).prop_map(|(job, price)| Deed::Offer(job, price)),
        3 => which.clone().prop_map(Deed::Take),
        4 => (which.clone(), money.clone()).prop_map(|(job, price)| Deed::Yes(job, price)),
        1 => which.clone().prop_map(Deed::No),
        1 => (which.clone(), money.clone()).prop_map(|(job, price)| Deed::Line(job, price)),
        2 => (which.clone(), money).prop_map(|(job, fee)| Deed::Fee(job, fee)),
        2 => which.prop_map(Deed::Stale),
    ];
    // One write in eight is given up.
    let random = proptest::collection::vec((deed, prop::bool::weighted(0.875)), DEEDS);
    // A customer with a truck on the bench comes first.
    random.prop_map(|random| {
        let first = [Deed::NewCustomer(0), Deed::NewTruck(0), Deed::NewBuild(0, 7), Deed::TakeIn(0)];
        first.into_iter().map(|deed| (deed, true)).chain(random).collect()
    })
}

/// What a shop has.
#[derive(Clone, Debug, Default, PartialEq)]
struct Shop {
    customers: Vec<OneCustomer>,
    trucks: Vec<Vec<String>>,
    jobs: Vec<OneJob>,
    audit: usize,
}

#[derive(Clone, Debug, PartialEq)]
struct OneCustomer {
    name: String,
    version: i64,
}

#[derive(Clone, Debug, PartialEq)]
struct OneJob {
    number: i64,
    state: JobState,
    version: i64,
    fee: i64,
    moves: Vec<JobState>,
    findings: BTreeMap<String, bool>,
    offers: Vec<(i64, bool)>,
    lines: Vec<i64>,
    /// Up to which price each answer goes.
    answers: Vec<Option<i64>>,
    price: i64,
}

/// The ids of what the model has, in its order.
#[derive(Clone, Default)]
struct Ids {
    customers: Vec<Id<Customer>>,
    trucks: Vec<Id<Truck>>,
    jobs: Vec<Id<Job>>,
}

/// What came of a deed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Came {
    Done,
    Clash,
    Refused,
    Constraint,
}

fn pick<T>(among: &[T], number: usize) -> Option<usize> {
    (!among.is_empty()).then(|| number % among.len())
}

impl Shop {
    /// What the deed does by the rules as people say them; none where there is nothing to do it to.
    fn plays(&mut self, deed: &Deed) -> Option<Came> {
        let name = |number: usize| NAMES[number % NAMES.len()].to_owned();
        match deed {
            Deed::NewCustomer(number) => {
                self.customers.push(OneCustomer { name: name(*number), version: 1 });
                self.noted(1)
            }
            Deed::Rename(who, new) => {
                let at = pick(&self.customers, *who)?;
                let one = &mut self.customers[at];
                let changed = one.name != name(*new);
                one.name = name(*new);
                one.version += i64::from(changed);
                self.noted(usize::from(changed))
            }
            Deed::NewTruck(owner) => {
                pick(&self.customers, *owner)?;
                self.trucks.push(Vec::new());
                self.noted(1)
            }
            Deed::NewBuild(truck, cells) => {
                let at = pick(&self.trucks, *truck)?;
                let new = self.trucks[at].last() != Some(&tables(*cells));
                self.trucks[at].extend(new.then(|| tables(*cells)));
                self.noted(usize::from(new))
            }
            Deed::TakeIn(truck) => {
                let at = pick(&self.trucks, *truck)?;
                (!self.trucks[at].is_empty()).then_some(())?;
                let number = self.jobs.len() as i64 + 1;
                self.jobs.push(OneJob::new(number));
                self.noted(2)
            }
            of_job => self.job_plays(of_job),
        }
    }

    fn noted(&mut self, lines: usize) -> Option<Came> {
        self.audit += lines;
        Some(Came::Done)
    }

    fn job_plays(&mut self, deed: &Deed) -> Option<Came> {
        let at = pick(&self.jobs, deed.job()?)?;
        let job = &mut self.jobs[at];
        let (came, lines) = job.plays(deed)?;
        job.price = job.offers.iter().filter(|(_, taken)| *taken).map(|(price, _)| price).chain(&job.lines).sum();
        self.audit += lines;
        Some(came)
    }
}

impl Deed {
    fn job(&self) -> Option<usize> {
        match self {
            Self::Lead(job, ..) | Self::Find(job, ..) | Self::Offer(job, _) | Self::Take(job) => Some(*job),
            Self::Yes(job, _) | Self::No(job) | Self::Line(job, _) | Self::Fee(job, _) | Self::Stale(job) => Some(*job),
            _ => None,
        }
    }
}

impl OneJob {
    fn new(number: i64) -> Self {
        let state = JobState::TakenIn;
        Self {
            number,
            state,
            version: 1,
            fee: 2_500,
            moves: vec![state],
            findings: BTreeMap::new(),
            offers: Vec::new(),
            lines: Vec::new(),
            answers: Vec::new(),
            price: 0,
        }
    }

    /// What came, and how many lines of the audit trail.
    fn plays(&mut self, deed: &Deed) -> Option<(Came, usize)> {
        match deed {
            Deed::Lead(_, to, why) => {
                let to = JobState::ALL[to % JobState::ALL.len()];
                let agreed_up_to = self.answers.last().copied().flatten();
                let facts =
                    Facts { price: self.price, agreed_up_to, currency: Currency::EUR, clocks: 0, reason: reason(*why) };
                if step(self.state, to, &facts).is_err() {
                    return Some((Came::Refused, 0));
                }
                (self.state, self.version) = (to, self.version + 1);
                self.moves.push(to);
                Some((Came::Done, 2))
            }
            Deed::Find(_, asked, yes) => {
                let asked = CHECKS[asked % CHECKS.len()].to_owned();
                if self.findings.contains_key(&asked) {
                    return Some((Came::Constraint, 0));
                }
                self.findings.insert(asked, *yes);
                Some((Came::Done, 1))
            }
            Deed::Take(_) => {
                let open = self.offers.iter().position(|(_, taken)| !taken)?;
                if self.offers.iter().any(|(_, taken)| *taken) {
                    return Some((Came::Constraint, 0));
                }
                self.offers[open].1 = true;
                Some((Came::Done, 1))
            }
            Deed::Fee(_, fee) => {
                let changed = self.fee != *fee;
                (self.fee, self.version) = (*fee, self.version + i64::from(changed));
                Some((Came::Done, usize::from(changed)))
            }
            Deed::Stale(_) => Some((Came::Clash, 0)),
            Deed::Offer(_, price) => self.gains(|job| job.offers.push((*price, false))),
            Deed::Yes(_, up_to) => self.gains(|job| job.answers.push(Some(*up_to))),
            Deed::No(_) => self.gains(|job| job.answers.push(None)),
            Deed::Line(_, price) => self.gains(|job| job.lines.push(*price)),
            _ => None,
        }
    }

    fn gains(&mut self, gain: impl FnOnce(&mut Self)) -> Option<(Came, usize)> {
        gain(self);
        Some((Came::Done, 1))
    }
}

fn tables(cells: u8) -> String {
    format!("[battery]\ncells = {cells}\n")
}

fn reason(why: bool) -> &'static str {
    if why { "so it is" } else { "" }
}

/// Does the deed in a write, and gives it up or keeps it.
async fn does(store: &Store, ids: &mut Ids, deed: &Deed, keep: bool) -> Came {
    let write = store.begin(now(1)).await.unwrap();
    let before = ids.clone();
    let came = match acts(&write, ids, deed).await {
        Ok(came) => came,
        Err(Error::Refused(_)) => Came::Refused,
        Err(Error::Constraint { .. }) => Came::Constraint,
        Err(other) => panic!("{deed:?}: {other:?}"),
    };
    if keep && came == Came::Done {
        write.commit().await.unwrap();
    } else {
        *ids = before;
    }
    came
}

fn saved<T>(saved: Saved<T>) -> Came {
    if saved.saved().is_some() { Came::Done } else { Came::Clash }
}

async fn acts(write: &Write, ids: &mut Ids, deed: &Deed) -> Result<Came, Error> {
    let name = |number: usize| NAMES[number % NAMES.len()];
    match deed {
        Deed::NewCustomer(number) => ids.customers.push(write.add(Customer::new(write, name(*number))).await?.id),
        Deed::Rename(who, new) => {
            let id = ids.customers[who % ids.customers.len()];
            let customer: Customer = write.get(id).await?;
            return Ok(saved(write.save(Customer { name: name(*new).into(), ..customer }).await?));
        }
        Deed::NewTruck(owner) => {
            let owner = ids.customers[owner % ids.customers.len()];
            ids.trucks.push(write.truck(owner, "Tarnhorn 6").await?.id);
        }
        Deed::NewBuild(truck, cells) => {
            write.build(ids.trucks[truck % ids.trucks.len()], &tables(*cells), "").await?;
        }
        Deed::TakeIn(truck) => {
            let builds: Vec<Build> = builds_of(write, ids.trucks[truck % ids.trucks.len()]).await?;
            ids.jobs.push(write.take_in(new_job(builds[builds.len() - 1].id, None)).await?.id);
        }
        of_job => return acts_on_job(write, ids.jobs[of_job.job().unwrap() % ids.jobs.len()], of_job).await,
    }
    Ok(Came::Done)
}

async fn acts_on_job(write: &Write, id: Id<Job>, deed: &Deed) -> Result<Came, Error> {
    let job: Job = write.get(id).await?;
    match deed {
        Deed::Lead(_, to, why) => {
            let to = JobState::ALL[to % JobState::ALL.len()];
            return Ok(saved(write.lead(&job, to, reason(*why)).await?));
        }
        Deed::Find(_, asked, yes) => {
            let answer = if *yes { Answer::Yes } else { Answer::No };
            write.add(Finding::new(write, id, CHECKS[asked % CHECKS.len()], answer)).await?;
        }
        Deed::Offer(_, price) => {
            write.add(Offer::new(write, id, "mount and gears", *price)).await?;
        }
        Deed::Take(_) => {
            let open = offers_of(write, id).await?.into_iter().find(Offer::was_not_taken).unwrap();
            return Ok(saved(write.save(Offer { answer: OfferAnswer::Taken, ..open }).await?));
        }
        Deed::Yes(_, up_to) => {
            write.add(GoAhead::yes(write, id, Channel::Phone, *up_to)).await?;
        }
        Deed::No(_) => {
            write.add(GoAhead { answer: Answer::No, ..GoAhead::yes(write, id, Channel::Phone, 0) }).await?;
        }
        Deed::Line(_, price) => {
            write.add(Line { price: *price, ..Line::new(write, id, LineKind::Part, "bearing") }).await?;
        }
        Deed::Fee(_, fee) => return Ok(saved(write.save(Job { looking_fee: *fee, ..job }).await?)),
        _ => return Ok(saved(write.save(Job { said: "late".into(), version: job.version - 1, ..job }).await?)),
    }
    Ok(Came::Done)
}

/// What the records hold, as the model tells it.
async fn told(store: &Store, ids: &Ids) -> Shop {
    let mut shop = Shop::default();
    for id in &ids.customers {
        let Customer { name, version, .. } = store.get(*id).await.unwrap();
        shop.customers.push(OneCustomer { name, version });
    }
    for id in &ids.trucks {
        let builds = builds_of(store, *id).await.unwrap();
        shop.trucks.push(builds.into_iter().map(|build| build.tables).collect());
    }
    for place in 0..ids.jobs.len() {
        shop.jobs.push(told_job(store, ids, place).await);
    }
    let health = health_of(&store.view().await.unwrap(), |_| {}).await.unwrap();
    assert_eq!(health.faults, Vec::<String>::new());
    shop.audit = health.rows.iter().find(|(table, _)| *table == "audit").unwrap().1 as usize;
    shop
}

async fn told_job(store: &Store, ids: &Ids, place: usize) -> OneJob {
    let job = job_by_number(store, place as i64 + 1).await.unwrap();
    assert_eq!(job.id, ids.jobs[place]);
    let findings = findings_of(store, job.id).await.unwrap();
    OneJob {
        number: job.number,
        state: job.state,
        version: job.version,
        fee: job.looking_fee,
        moves: moves_of(store, job.id).await.unwrap().iter().map(|step| step.to_state).collect(),
        findings: findings.into_iter().map(|finding| (finding.asked, finding.answer == Answer::Yes)).collect(),
        offers: offers_of(store, job.id).await.unwrap().iter().map(|one| (one.price, !one.was_not_taken())).collect(),
        lines: lines_of(store, job.id).await.unwrap().iter().map(|line| line.price).collect(),
        answers: go_aheads_of(store, job.id).await.unwrap().iter().map(GoAhead::limit).collect(),
        price: price_of(store, &job).await.unwrap(),
    }
}

/// Each name finds those who bear it, and nobody else.
async fn found(store: &Store, ids: &Ids, shop: &Shop) {
    for name in NAMES {
        let hits = find(store, &name.to_lowercase(), 200).await.unwrap();
        let found: BTreeSet<String> = hits
            .iter()
            .filter_map(|hit| if let Subject::Customer(id) = hit.subject { Some(id.to_string()) } else { None })
            .collect();
        let bearers = ids.customers.iter().zip(&shop.customers).filter(|(_, one)| one.name == name);
        assert_eq!(found, bearers.map(|(id, _)| id.to_string()).collect(), "{name}");
    }
}

async fn agrees(store: &Store, deeds: &[(Deed, bool)], seen: &mut BTreeSet<String>) {
    let (mut shop, mut ids) = (Shop::default(), Ids::default());
    for (deed, keep) in deeds {
        let mut after = shop.clone();
        let Some(expected) = after.plays(deed) else { continue };
        let came = does(store, &mut ids, deed, *keep).await;
        assert_eq!(came, expected, "{deed:?}");
        if *keep && came == Came::Done {
            shop = after;
        }
        let word = format!("{deed:?}").split('(').next().unwrap().to_owned();
        seen.insert(format!("{word} {came:?}"));
    }
    assert_eq!(told(store, &ids).await, shop);
    found(store, &ids, &shop).await;
}

/// What must have come in some sequence, so that the test shows something.
const MUST_COME: [&str; 16] = [
    "NewCustomer Done",
    "Rename Done",
    "NewTruck Done",
    "NewBuild Done",
    "TakeIn Done",
    "Lead Done",
    "Lead Refused",
    "Find Done",
    "Find Constraint",
    "Offer Done",
    "Take Done",
    "Yes Done",
    "No Done",
    "Line Done",
    "Fee Done",
    "Stale Clash",
];

#[test]
fn whatever_a_shop_does_both_databases_hold_what_a_plain_model_holds() {
    let config = ProptestConfig {
        cases: SEQUENCES,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(SEED),
        max_shrink_iters: 200,
        ..ProptestConfig::default()
    };
    let seen = std::cell::RefCell::new(BTreeSet::new());
    let ran = TestRunner::new(config).run(&deeds(), |deeds| {
        on_both(|store| {
            let (deeds, seen) = (deeds.clone(), &seen);
            async move {
                let mut own = BTreeSet::new();
                agrees(&store, &deeds, &mut own).await;
                seen.borrow_mut().extend(own);
            }
        });
        Ok(())
    });
    ran.unwrap();
    let missing: Vec<&str> = MUST_COME.into_iter().filter(|word| !seen.borrow().contains(*word)).collect();
    assert!(missing.is_empty(), "never came: {missing:?}; came: {:?}", seen.borrow());
}
