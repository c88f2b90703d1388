//! `records show`: one job as the bench and the counter read it.

use super::told::{Owned, amount, called, kind, labelled, state};
use super::truck;
use crate::args::ShowArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::{Cell, Paper, Table};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use toothsayer_records::{
    Answer, Channel, Earlier, Finding, GoAhead, Id, Line, LineKind, Move, Need, Offer, OfferAnswer, Person, Reach,
    SignOff, Stint, Store, WallClock, Word, comeback_of, findings_of, go_aheads_of, job_by_number, lines_of, moves_of,
    needs_of, offers_of, photos_of, price_of, sign_offs_of, stints_of,
};

/// A job by its number, or a truck by its label.
pub async fn run(desk: &Desk<'_>, store: &Store, args: &ShowArgs) -> Result<String, Failure> {
    let view = store.view().await?;
    let Ok(number) = args.what.trim().trim_start_matches('#').parse() else {
        return truck::run(desk, &view, &args.what).await;
    };
    let sheet = Sheet::of(&view, number).await?;
    if desk.global.json {
        return json::text(&sheet.json());
    }
    let mut paper = Paper::new();
    sheet.write(desk, &mut paper);
    Ok(paper.finish())
}

/// Everything of a job.
struct Sheet {
    owned: Owned,
    earlier: Option<Earlier>,
    findings: Vec<Finding>,
    offers: Vec<Offer>,
    lines: Vec<Line>,
    go_aheads: Vec<GoAhead>,
    price: i64,
    stints: Vec<Stint>,
    sign_offs: Vec<SignOff>,
    needs: Vec<Need>,
    photos: usize,
    moves: Vec<Move>,
    people: BTreeMap<Id<Person>, String>,
    /// The clock on the shop's wall.
    clock: WallClock,
}

impl Sheet {
    async fn of(at: &impl Reach, number: i64) -> Result<Self, Failure> {
        let job = job_by_number(at, number).await?;
        let id = job.id;
        let mut sheet = Self {
            earlier: comeback_of(at, &job).await?,
            findings: findings_of(at, id).await?,
            offers: offers_of(at, id).await?,
            lines: lines_of(at, id).await?,
            go_aheads: go_aheads_of(at, id).await?,
            price: price_of(at, &job).await?,
            stints: stints_of(at, id).await?,
            sign_offs: sign_offs_of(at, id).await?,
            needs: needs_of(at, id).await?,
            photos: photos_of(at, id).await?.len(),
            moves: moves_of(at, id).await?,
            people: BTreeMap::new(),
            clock: WallClock::of_shop(at).await?,
            owned: Owned::of(at, job).await?,
        };
        for who in sheet.everybody() {
            let person: Person = at.get(who).await?;
            sheet.people.insert(who, person.name);
        }
        Ok(sheet)
    }

    /// Whoever of the shop had a hand in it.
    fn everybody(&self) -> Vec<Id<Person>> {
        let earlier = self.earlier.iter().flat_map(|earlier| &earlier.moves);
        let moves = self.moves.iter().chain(earlier).filter_map(|step| step.who);
        let seen = self.findings.iter().filter_map(|finding| finding.seen_by);
        let heard = self.go_aheads.iter().filter_map(|answer| answer.taken_by);
        let worked = self.stints.iter().map(|stint| stint.who).chain(self.sign_offs.iter().map(|signed| signed.who));
        let mut all: Vec<Id<Person>> = moves.chain(seen).chain(heard).chain(worked).collect();
        all.sort();
        all.dedup();
        all
    }

    fn name(&self, who: Option<Id<Person>>) -> &str {
        who.and_then(|who| self.people.get(&who)).map_or("", String::as_str)
    }

    /// " by Jan Maas" where somebody is known.
    fn by(&self, who: Option<Id<Person>>) -> String {
        match self.name(who) {
            "" => String::new(),
            name => format!(" by {name}"),
        }
    }

    fn json(&self) -> Value {
        let mut told = self.owned.json();
        told["comeback_of"] = self.earlier.as_ref().map_or(Value::Null, |earlier| self.earlier_json(earlier));
        told["findings"] = self.findings.iter().map(|one| self.finding_json(one)).collect();
        told["offers"] = self.offers.iter().map(offer_json).collect();
        told["lines"] = self.lines.iter().map(|line| json!({
            "kind": line_kind(line.kind), "text": line.text, "quantity": line.quantity, "price_minor": line.price,
            "minutes": line.minutes,
        })).collect();
        told["go_aheads"] = self
            .go_aheads
            .iter()
            .map(|one| {
                json!({
                    "answer": yes_no(one.answer), "channel": channel(one.channel), "up_to_minor": one.up_to,
                    "said_by": one.said_by, "taken_by": self.name(one.taken_by), "at": one.at.to_string(),
                })
            })
            .collect();
        told["price_minor"] = json!(self.price);
        told["stints"] = self
            .stints
            .iter()
            .map(|one| {
                json!({
                    "step": one.step, "planned_minutes": one.planned_minutes, "who": self.name(Some(one.who)),
                    "began": one.began.to_string(), "ended": one.ended.map(|ended| ended.to_string()),
                })
            })
            .collect();
        told["sign_offs"] = self
            .sign_offs
            .iter()
            .map(|one| {
                json!({
                    "step": one.step, "joint": one.joint, "tightened": one.tightened, "note": one.note,
                    "who": self.name(Some(one.who)), "at": one.at.to_string(),
                })
            })
            .collect();
        let needs = self.needs.iter().map(
            |one| json!({ "text": one.text, "quantity": one.quantity, "state": one.state.word(), "note": one.note }),
        );
        told["needs"] = needs.collect();
        told["photos"] = json!(self.photos);
        told["moves"] = self.moves.iter().map(|step| self.move_json(step)).collect();
        told
    }

    fn earlier_json(&self, earlier: &Earlier) -> Value {
        json!({
            "job": earlier.job.number,
            "taken_in": earlier.job.taken_in.to_string(),
            "complaint": earlier.job.complaint,
            "said": earlier.job.said,
            "currency": earlier.job.currency,
            "declined": earlier.declined.iter().map(offer_json).collect::<Vec<_>>(),
            "moves": earlier.moves.iter().map(|step| self.move_json(step)).collect::<Vec<_>>(),
        })
    }

    fn finding_json(&self, one: &Finding) -> Value {
        json!({
            "check": one.asked, "answer": yes_no(one.answer), "value": one.value, "note": one.note,
            "seen_by": self.name(one.seen_by), "seen_at": one.seen_at.to_string(),
        })
    }

    fn move_json(&self, step: &Move) -> Value {
        json!({
            "from": step.from_state, "to": step.to_state.word(), "reason": step.reason, "who": self.name(step.who),
            "at": step.at.to_string(),
        })
    }

    fn write(&self, desk: &Desk<'_>, paper: &mut Paper) {
        let Owned { job, truck, customer } = &self.owned;
        paper.heading(&format!("Job {}: {}, {}", job.number, labelled(truck), state(job)));
        let due = job.due.map_or(String::new(), |due| format!(", promised for {}", self.clock.day(due)));
        let reach = if customer.phone.is_empty() { String::new() } else { format!(", {}", customer.phone) };
        paper.paragraph(&format!("{}{reach}. Taken in {}{due}.", called(customer), self.clock.when(job.taken_in)));
        paper.paragraph(&format!("A {}; came with: {}.", kind(job.kind), job.complaint.replace('-', " ")));
        if !job.said.is_empty() {
            paper.paragraph(&format!("The customer said: “{}”", job.said));
        }
        [&customer.note, &truck.note]
            .into_iter()
            .filter(|note| !note.is_empty())
            .for_each(|note| paper.item("!", note));
        self.write_earlier(paper);
        self.write_findings(desk, paper);
        self.write_price(paper);
        self.write_work(desk, paper);
        paper.heading("Its life so far");
        self.moves.iter().for_each(|step| paper.item("·", &self.step(step)));
        if job.open {
            paper.blank();
            paper.paragraph(
                "Battery out, motor leads unplugged and a moment for the controller's capacitors before fingers go \
                 near gears; motor and gears are hot after a run.",
            );
        }
    }

    /// "2026-03-02 09:00 UTC: declined by Jan Maas: too dear".
    fn step(&self, step: &Move) -> String {
        let reason = if step.reason.is_empty() { String::new() } else { format!(": {}", step.reason) };
        format!("{}: {}{}{reason}", self.clock.when(step.at), Word(step.to_state), self.by(step.who))
    }

    fn write_earlier(&self, paper: &mut Paper) {
        let Some(earlier) = &self.earlier else { return };
        let job = &earlier.job;
        paper.heading(&format!("Comes back from job {}, taken in {}", job.number, self.clock.day(job.taken_in)));
        paper.paragraph(&format!("Came with: {}.", job.complaint.replace('-', " ")));
        if !job.said.is_empty() {
            paper.paragraph(&format!("The customer said then: “{}”", job.said));
        }
        if earlier.declined.is_empty() {
            paper.paragraph("Nothing that was offered then was declined or left open.");
        }
        for offer in &earlier.declined {
            let word = if offer.answer == OfferAnswer::Open { "left open" } else { "declined" };
            let chance = offer.comeback_ppm.map_or(String::new(), |ppm| format!(", comeback {}", percent(ppm)));
            paper.item("·", &format!("{word} then: {} for {}{chance}", offer.name, amount(offer.price, job)));
        }
        for step in earlier.moves.iter().filter(|step| !step.reason.is_empty()) {
            paper.item("·", &self.step(step));
        }
    }

    fn write_findings(&self, desk: &Desk<'_>, paper: &mut Paper) {
        paper.heading("Found");
        if self.findings.is_empty() {
            paper.paragraph("Nothing is noted yet.");
        }
        if self.photos > 0 {
            paper.paragraph(&format!("Photos: {}.", self.photos));
        }
        for one in &self.findings {
            let question = desk.book.finding(&one.asked).map_or(one.asked.as_str(), |entry| entry.question.as_str());
            let value = one.value.as_ref().map_or(String::new(), |value| format!(", {value}"));
            let note = if one.note.is_empty() { String::new() } else { format!(" {}", one.note) };
            let seen = format!("{}{}", self.clock.when(one.seen_at), self.by(one.seen_by));
            paper.item("·", &format!("{question} {}{value} ({seen}).{note}", yes_no(one.answer)));
        }
    }

    fn write_price(&self, paper: &mut Paper) {
        let job = &self.owned.job;
        paper.heading("Offered and agreed");
        if !self.offers.is_empty() {
            let mut table = Table::new(&["Repair", "Price>", "Minutes>", "Comeback>", "Answer"]);
            for offer in &self.offers {
                table.row(vec![
                    Cell::plain(&offer.name),
                    Cell::plain(amount(offer.price, job)),
                    Cell::plain(offer.minutes.to_string()),
                    Cell::plain(offer.comeback_ppm.map_or("–".to_owned(), percent)),
                    Cell::plain(offer_word(offer.answer)),
                ]);
            }
            paper.table(&table);
        }
        for line in &self.lines {
            let total = amount(line.price.saturating_mul(line.quantity), job);
            paper.item("·", &format!("{} x {} ({}): {total}", line.quantity, line.text, line_kind(line.kind)));
        }
        let fee = if job.looking_fee == 0 { "nothing".to_owned() } else { amount(job.looking_fee, job) };
        paper.paragraph(&match (self.offers.len() + self.lines.len(), self.price) {
            (0, _) => format!("Nothing is offered yet. Looking alone costs {fee}."),
            (_, 0) => format!("Nothing was taken yet. Looking alone costs {fee}."),
            (_, price) => format!("What was taken costs {}. Looking alone costs {fee}.", amount(price, job)),
        });
        for one in &self.go_aheads {
            let who = if one.said_by.is_empty() { "the customer" } else { &one.said_by };
            let said = match one.answer {
                Answer::Yes => format!("yes up to {}", amount(one.up_to, job)),
                Answer::No => "no".to_owned(),
            };
            let heard = if self.name(one.taken_by).is_empty() { "" } else { ", heard" };
            let way = channel_words(one.channel);
            paper.item(
                "·",
                &format!("{}: {who} said {said} {way}{heard}{}", self.clock.when(one.at), self.by(one.taken_by)),
            );
        }
    }

    fn write_work(&self, desk: &Desk<'_>, paper: &mut Paper) {
        if !self.needs.is_empty() {
            paper.heading("Parts");
        }
        for one in &self.needs {
            let note = if one.note.is_empty() { String::new() } else { format!(" ({})", one.note) };
            paper.item("·", &format!("{} x {}: {}{note}", one.quantity, one.text, one.state.word()));
        }
        if self.stints.is_empty() && self.sign_offs.is_empty() {
            return;
        }
        paper.heading("Done");
        let words = |step: &str| desk.book.step(step).map_or(step.to_owned(), |entry| entry.name.clone());
        for stint in &self.stints {
            let minutes = stint.ended.map(|ended| (ended.to_ms() - stint.began.to_ms()) / 60_000);
            let took = minutes.map_or("the clock runs".to_owned(), |minutes| format!("{minutes} min"));
            let who = self.name(Some(stint.who));
            paper.item("·", &format!("{}: {took}, planned {} min, {who}", words(&stint.step), stint.planned_minutes));
        }
        for one in &self.sign_offs {
            let tight = if one.joint.is_empty() { String::new() } else { format!(", {} {}", one.joint, one.tightened) };
            let note = if one.note.is_empty() { String::new() } else { format!(" {}", one.note) };
            let who = self.name(Some(one.who));
            paper
                .item("✓", &format!("{}{tight}: signed {} by {who}.{note}", words(&one.step), self.clock.when(one.at)));
        }
    }
}

fn offer_json(offer: &Offer) -> Value {
    json!({
        "name": offer.name, "price_minor": offer.price, "minutes": offer.minutes,
        "comeback": offer.comeback_ppm.map(|ppm| ppm as f64 / 1e6), "answer": offer_word(offer.answer),
    })
}

/// A chance in millionths.
fn percent(ppm: i64) -> String {
    format!("{:.1} %", ppm as f64 / 1e4)
}

fn yes_no(answer: Answer) -> &'static str {
    if answer == Answer::Yes { "yes" } else { "no" }
}

fn offer_word(answer: OfferAnswer) -> &'static str {
    match answer {
        OfferAnswer::Open => "open",
        OfferAnswer::Taken => "taken",
        OfferAnswer::Declined => "declined",
    }
}

fn line_kind(kind: LineKind) -> &'static str {
    if kind == LineKind::Work { "work" } else { "part" }
}

fn channel(channel: Channel) -> &'static str {
    match channel {
        Channel::Counter => "counter",
        Channel::Phone => "phone",
        Channel::Link => "link",
    }
}

fn channel_words(channel: Channel) -> &'static str {
    match channel {
        Channel::Counter => "at the counter",
        Channel::Phone => "on the telephone",
        Channel::Link => "by the link",
    }
}
