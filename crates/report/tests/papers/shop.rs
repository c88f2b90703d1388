//! Jobs of the invented shop, weighed once, and papers written from them.

use std::path::Path;
use std::sync::LazyLock;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_quantity::System;
use toothsayer_report::{Cover, Matter, PaperKind, PaperSize, Written, verdict_page, write_paper};
use toothsayer_verdict::{CareItem, Memo, StateMargins, Statement, Verdict};

/// A job with everything that papers show, at point values.
pub struct Weighed {
    verdict: Verdict<'static>,
    memo: Memo,
    margins: Vec<StateMargins>,
    care: Vec<CareItem>,
    statement: Statement,
}

/// Teeth that went, for a motor that rocks.
pub static STRIPPED: LazyLock<Weighed> = LazyLock::new(|| Weighed::new(&example("tarnhorn.toml")));
/// Nothing went, nothing was found.
pub static CHECKED: LazyLock<Weighed> = LazyLock::new(|| Weighed::new(&example("tarnhorn-check.toml")));
/// What was sold is in the file, and other parts were fitted.
pub static CHANGED: LazyLock<Weighed> = LazyLock::new(|| Weighed::new(&example("tarnhorn-wheels.toml")));

pub fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

impl Weighed {
    pub fn new(text: &str) -> Weighed {
        let job: &'static Job = Box::leak(Box::new(Job::parse(text, FaultBook::built_in()).unwrap()));
        let memo = Memo::default();
        let verdict = Verdict::new(job, FaultBook::built_in(), &memo).unwrap();
        let margins = verdict.margins(None, &memo).unwrap();
        let care = verdict.care(1, &memo).unwrap();
        let statement = Statement::new(&verdict, &margins, &memo).unwrap();
        Weighed { verdict, memo, margins, care, statement }
    }

    pub fn matter<'a>(&'a self, cover: &'a Cover, system: System, size: PaperSize) -> Matter<'a> {
        let Weighed { verdict, memo, margins, care, statement } = self;
        Matter { verdict, memo, margins, care, statement, cover, system, size }
    }

    pub fn paper(&self, kind: PaperKind, cover: &Cover) -> Written {
        write_paper(kind, &self.matter(cover, System::Metric, PaperSize::A4), None).unwrap()
    }

    pub fn page(&self, cover: &Cover) -> String {
        let written = verdict_page(&self.matter(cover, System::Metric, PaperSize::A4)).unwrap();
        String::from_utf8(written.bytes).unwrap()
    }
}

pub fn cover() -> Cover {
    Cover {
        shop: Some("Millrace Models".into()),
        customer: Some("A. Fernhill".into()),
        number: Some("1042".into()),
        date: Some("2026-12-01".parse().unwrap()),
        ..Cover::default()
    }
}
