//! What all pages share: the records, the fault book, who tries to sign in, and what was computed already.

use crate::desk::Desk;
use crate::door::hosts::Hosts;
use crate::door::limiter::Limiter;
use crate::door::way_in::WaysIn;
use crate::operation::log::Log;
use crate::operation::metrics::Metrics;
use crate::operation::watch::Ids;
use std::borrow::Cow;
use std::ops::Deref;
use std::sync::Arc;
use tokio::sync::watch;
use toothsayer_fault_book::FaultBook;
use toothsayer_quantity::System;
use toothsayer_records::{Acting, Result, Secret, Store, Units, Write, shop_of};

/// What the pages are set up with.
pub struct Setting {
    /// The open records.
    pub store: Store,
    /// The fault book that checks are named in.
    pub book: Cow<'static, FaultBook>,
    /// Under which names the pages answer.
    pub hosts: Hosts,
    /// Whether browsers reach the pages by https alone: then cookies go no other way.
    pub https: bool,
    /// What is told of requests.
    pub log: Log,
}

/// The pages' common ground.
#[derive(Clone)]
pub struct App(Arc<Common>);

/// What stands behind an [`App`].
pub struct Common {
    pub(crate) setting: Setting,
    pub(crate) limiter: Limiter,
    pub(crate) desk: Desk,
    /// Whether the program ends: open streams end with it.
    ending: watch::Sender<bool>,
    /// Whoever knows it may make the owner's account while there is nobody.
    pub(crate) first_code: Secret,
    /// Who comes in without typing.
    pub(crate) ways_in: WaysIn,
    /// What is counted.
    pub(crate) metrics: Metrics,
    /// The requests' ids.
    pub(crate) ids: Ids,
}

impl Deref for App {
    type Target = Common;

    fn deref(&self) -> &Common {
        &self.0
    }
}

impl App {
    /// Over these records.
    ///
    /// # Errors
    /// The machine gives no chance to draw the first run's code from.
    pub fn new(setting: Setting) -> Result<Self> {
        let first_code = Secret::drawn()?;
        let (limiter, desk, ways_in) = (Limiter::default(), Desk::default(), WaysIn::default());
        let (metrics, ids, ending) = (Metrics::default(), Ids::default(), watch::Sender::new(false));
        Ok(Self(Arc::new(Common { setting, limiter, desk, ending, first_code, ways_in, metrics, ids })))
    }

    /// The code that the first run's page asks for; it is told to whoever started the program, and to nobody else.
    pub fn first_code(&self) -> &str {
        self.first_code.reveal()
    }

    /// Becomes true when the program ends.
    pub(crate) fn ending(&self) -> watch::Receiver<bool> {
        self.ending.subscribe()
    }

    /// Tells open streams to end.
    pub(crate) fn end(&self) {
        self.ending.send_replace(true);
    }

    pub(crate) fn store(&self) -> &Store {
        &self.setting.store
    }

    pub(crate) fn book(&self) -> &FaultBook {
        &self.setting.book
    }

    /// Begins a write of the program itself.
    pub(crate) async fn write(&self) -> Result<Write> {
        self.store().begin(Acting::program()).await
    }

    /// The units that the shop sees.
    pub(crate) async fn system(&self) -> Result<System> {
        let shop = shop_of(self.store()).await?;
        Ok(if shop.units == Units::Us { System::Us } else { System::Metric })
    }
}
