//! What the papers and the customer's page of a job are written from: its file, what the shop writes above it, a verdict.

use crate::app::App;
use crate::job::deal::Deal;
use crate::page::trouble::Trouble;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job as JobFile;
use toothsayer_quantity::{Currency, Money, System};
use toothsayer_records::{
    Customer, Error, Job, JobState, Line, LineKind, Moment, NeedState, Offer, Reach, Shop, Truck, Units, WallClock,
    export, needs_of, shop_of,
};
use toothsayer_report::{Cover, Error as ReportError, Matter, Offered, OwnLine, PaperSize, Standing};
use toothsayer_verdict::{FIRST_DRAWS, MOST_DRAWS, Memo, Narrow, Ranges, StateMargins, Statement, USUAL_SEED, Verdict};

/// What is known of a job before anything is computed.
#[derive(Clone, Debug)]
pub(crate) struct Ground {
    /// The job file.
    pub text: String,
    /// What the shop writes above it.
    pub cover: Cover,
    /// The units that the shop sees.
    pub system: System,
    /// The sheet of its printer.
    pub size: PaperSize,
    /// The clock on the shop's wall.
    pub clock: WallClock,
}

impl Ground {
    /// As the records hold it.
    pub(crate) async fn of(app: &App, job: &Job) -> Result<Self, Trouble> {
        let store = app.store();
        let (truck, shop): (Truck, Shop) = (store.get(job.truck).await?, shop_of(store).await?);
        let customer: Customer = store.get(truck.customer).await?;
        let named = |text: String| Some(text).filter(|text| !text.is_empty());
        let deal = Deal::of(store, job).await?;
        let (us, clock) = (shop.units == Units::Us, shop.wall_clock());
        let cover = Cover {
            shop: named(shop.name),
            customer: named(customer.name),
            number: Some(job.number.to_string()),
            date: Some(clock.day(Moment::now())),
            taken: deal.taken().map(|offer| offered(job, offer)).transpose()?,
            lines: deal.lines.iter().map(|line| own_line(job, line)).collect::<Result<_, _>>()?,
            agreed: deal.agreed().filter(|_| !deal.is_free).map(|up_to| money(job, up_to)).transpose()?,
            is_free: deal.is_free,
            standing: standing(job.state, &deal),
            fitted: fitted(store, job).await?,
            ..Cover::default()
        };
        Ok(Self {
            text: export(store, job).await?,
            cover,
            system: if us { System::Us } else { System::Metric },
            size: if us { PaperSize::Letter } else { PaperSize::A4 },
            clock,
        })
    }

    /// All that it comes from, as a key of what is made of it.
    pub(crate) fn key(&self, what: &str) -> String {
        let Self { text, cover, system, size, clock: _ } = self;
        let Cover {
            shop,
            customer,
            number,
            date,
            taken,
            lines,
            agreed,
            is_free,
            standing,
            fitted,
            notes: _,
            photos: _,
        } = cover;
        let named = (shop, customer, number, date, standing, fitted);
        let deal = (taken, lines, agreed, is_free);
        format!("{what}\n{named:?}\n{deal:?}\n{system:?} {size:?}\n{text}")
    }

    /// Weighs the job with ranges and hands the matter to whoever writes it.
    pub(crate) fn tell<T>(
        &self,
        book: &FaultBook,
        memo: &Memo,
        tell: impl FnOnce(&Matter<'_>) -> Result<T, ReportError>,
    ) -> Result<T, Trouble> {
        self.weigh(Some(Narrow::Never), book, memo, tell)
    }

    /// The same with ranges, or at point values where nothing is to be drawn.
    pub(crate) fn weigh<T>(
        &self,
        narrow: Option<Narrow>,
        book: &FaultBook,
        memo: &Memo,
        tell: impl FnOnce(&Matter<'_>) -> Result<T, ReportError>,
    ) -> Result<T, Trouble> {
        let job = JobFile::parse(&self.text, book)?;
        let verdict = Verdict::new(&job, book, memo)?;
        let margins = judged(&verdict, narrow, memo)?;
        let matter = Matter {
            verdict: &verdict,
            memo,
            margins: &margins,
            care: &verdict.care(USUAL_SEED, memo)?,
            statement: &Statement::new(&verdict, &margins, memo)?,
            cover: &self.cover,
            system: self.system,
            size: self.size,
        };
        Ok(tell(&matter)?)
    }
}

/// The parts that went into the truck; none where the job has no list of parts.
async fn fitted(at: &impl Reach, job: &Job) -> Result<Option<Vec<String>>, Trouble> {
    let needs = needs_of(at, job.id).await?;
    let used = needs.iter().filter(|need| need.state == NeedState::Used);
    let told = used.map(|need| match need.quantity {
        1 => need.text.clone(),
        pieces => format!("{pieces} × {}", need.text),
    });
    Ok((!needs.is_empty()).then(|| told.collect()))
}

/// The margins as the command line draws them; at point values where nothing is to be drawn.
pub(crate) fn judged(
    verdict: &Verdict<'_>,
    narrow: Option<Narrow>,
    memo: &Memo,
) -> Result<Vec<StateMargins>, toothsayer_verdict::Error> {
    let watch = |_: u32, _: u32| true;
    let ranges =
        narrow.map(|narrow| Ranges { first: FIRST_DRAWS, most: MOST_DRAWS, seed: USUAL_SEED, narrow, watch: &watch });
    verdict.margins(ranges.as_ref(), memo)
}

/// How far a job is for its customer.
fn standing(state: JobState, deal: &Deal) -> Standing {
    match state {
        JobState::Declined => Standing::Declined,
        JobState::Checked | JobState::Ready | JobState::Collected | JobState::Rechecked => match deal.is_agreed() {
            true => Standing::Done,
            false if deal.answers.is_empty() => Standing::LookedAt,
            false => Standing::Declined,
        },
        _ => Standing::Proposed,
    }
}

/// An offer as the papers tell it.
fn offered(job: &Job, offer: &Offer) -> Result<Offered, Trouble> {
    let Offer { name, price, minutes, comeback_ppm, .. } = offer;
    Ok(Offered { name: name.clone(), price: money(job, *price)?, minutes: *minutes, comeback_ppm: *comeback_ppm })
}

fn own_line(job: &Job, line: &Line) -> Result<OwnLine, Trouble> {
    let Line { text, kind, quantity, price, minutes, .. } = line;
    Ok(OwnLine {
        text: text.clone(),
        is_work: *kind == LineKind::Work,
        quantity: *quantity,
        each: money(job, *price)?,
        minutes: *minutes,
    })
}

/// An amount of a job with its currency.
pub(crate) fn money(job: &Job, minor: i64) -> Result<Money, Trouble> {
    let wrong = || Error::Value {
        of: "currency".into(),
        value: job.currency.clone(),
        allowed: "three capital letters of ISO 4217",
    };
    Ok(Money { minor, currency: Currency::parse(&job.currency).ok_or_else(wrong)? })
}
