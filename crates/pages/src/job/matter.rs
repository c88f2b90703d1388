//! What the papers and the customer's page of a job are written from: its file, what the shop writes above it, a verdict.

use crate::app::App;
use crate::page::trouble::Trouble;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job as JobFile;
use toothsayer_quantity::{Currency, Money, System};
use toothsayer_records::{
    Customer, Error, Job, JobState, Moment, Offer, Reach, Shop, Truck, Units, WallClock, export, offers_of, owed,
    shop_of,
};
use toothsayer_report::{Cover, Error as ReportError, Matter, PaperSize, Standing};
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
        let taken = offers_of(store, job.id).await?.into_iter().find(|offer| !offer.was_not_taken());
        let (us, clock) = (shop.units == Units::Us, shop.wall_clock());
        let cover = Cover {
            shop: named(shop.name),
            customer: named(customer.name),
            number: Some(job.number.to_string()),
            date: Some(clock.day(Moment::now())),
            price: if taken.is_some() { Some(money(job, owed(store, job).await?)?) } else { None },
            taken: taken.map(|offer: Offer| offer.name),
            standing: standing(job.state),
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
        let Cover { shop, customer, number, date, taken, price, standing, notes: _, photos: _ } = cover;
        let named = (shop, customer, number, date, taken, price, standing);
        format!("{what}\n{named:?}\n{system:?} {size:?}\n{text}")
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

/// How far a job of this state is for its customer.
fn standing(state: JobState) -> Standing {
    match state {
        JobState::Declined => Standing::Declined,
        JobState::Checked | JobState::Ready | JobState::Collected | JobState::Rechecked => Standing::Done,
        _ => Standing::Proposed,
    }
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
