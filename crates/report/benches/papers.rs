//! What a paper costs once the verdict is there: printed, not asserted.

use std::hint::black_box;
use std::path::Path;
use std::time::Instant;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_quantity::System;
use toothsayer_report::{Cover, Matter, PaperKind, PaperSize, verdict_page, write_paper};
use toothsayer_verdict::{Memo, Statement, Verdict};

/// Times that each paper is written; the least time counts.
const TIMES: usize = 5;

fn least_ms(mut work: impl FnMut() -> usize) -> (f64, usize) {
    let mut least = f64::MAX;
    let mut bytes = 0;
    for _ in 0..TIMES {
        let start = Instant::now();
        bytes = black_box(work());
        least = least.min(start.elapsed().as_secs_f64() * 1e3);
    }
    (least, bytes)
}

fn main() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/tarnhorn.toml");
    let text = std::fs::read_to_string(path).expect("the example is there");
    let job = Job::parse(&text, FaultBook::built_in()).expect("the example is a job");
    let memo = Memo::default();
    let verdict = Verdict::new(&job, FaultBook::built_in(), &memo).expect("the example has a verdict");
    let margins = verdict.margins(None, &memo).expect("the example has margins");
    let care = verdict.care(1, &memo).expect("the example has a care plan");
    let statement = Statement::new(&verdict, &margins, &memo).expect("the example has a statement");
    let cover = Cover::default();
    let matter = Matter {
        verdict: &verdict,
        memo: &memo,
        margins: &margins,
        care: &care,
        statement: &statement,
        cover: &cover,
        system: System::Metric,
        size: PaperSize::A4,
    };
    for kind in PaperKind::ALL {
        let write = || write_paper(kind, &matter, None).map_or(0, |written| written.bytes.len());
        let (ms, bytes) = least_ms(write);
        println!("{:<14} {ms:7.1} ms {bytes:8} bytes", kind.name());
    }
    let (ms, bytes) = least_ms(|| verdict_page(&matter).map_or(0, |written| written.bytes.len()));
    println!("{:<14} {ms:7.1} ms {bytes:8} bytes", "page");
}
