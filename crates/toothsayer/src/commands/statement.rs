//! `statement`: whose fault is it? The step at which each part falls short, with the figures as found, without blame.

use crate::args::FileArgs;
use crate::commands::margins::{Shown, judge};
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::Paper;
use crate::words::{holds_words, list, number, sentence, state_words};
use serde_json::{Value, json};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Finding, Job, State};
use toothsayer_quantity::System;
use toothsayer_report::words::{in_case, measured, moved, shortfall_words};
use toothsayer_verdict::{Memo, Narrow, Share, Shortfall, StateMargins, Statement, Verdict};

/// Margins that the fitted parts took most of, as they are told to people.
const TOLD_SHARES: usize = 4;

/// The statement on a job file.
pub fn run(desk: &Desk<'_>, args: &FileArgs) -> Result<String, Failure> {
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let states = judge(desk, &verdict, &memo, &Shown { narrow: Narrow::Never, ..Shown::USUAL })?;
    let told = Told { job: &job, states: &states, statement: Statement::new(&verdict, &states, &memo)? };
    if desk.global.json {
        return json::text(&told.as_json(&desk.book));
    }
    let mut paper = Paper::new();
    told.write(desk, &mut paper);
    Ok(paper.finish())
}

struct Told<'a> {
    job: &'a Job,
    states: &'a [StateMargins],
    statement: Statement,
}

impl Told<'_> {
    fn as_json(&self, book: &FaultBook) -> Value {
        let findings: Vec<Value> = self.job.findings.iter().map(|finding| finding_json(finding, book)).collect();
        let shortfalls: Vec<Value> = self.statement.shortfalls.iter().map(|one| self.shortfall_json(one)).collect();
        let shares: Vec<Value> = self.statement.shares.iter().map(|share| self.share_json(share)).collect();
        let came = self.states.iter().map(|one| json!({ "state": one.state.name(), "holds": one.holds.name() }));
        json!({
            "complaint": self.job.complaint,
            "runs_since_gears": self.job.runs_since_gears,
            "as_sold_known": self.job.has_stock,
            "states": came.filter(|one| one["state"] != "proposed").collect::<Vec<_>>(),
            "findings": findings,
            "shortfalls": shortfalls,
            "fitted": self.statement.fitted.iter().map(|one| json!({
                "part": one.key, "changes": moved(&self.job.stock, &self.job.built, one, System::Metric),
            })).collect::<Vec<_>>(),
            "shares": shares,
        })
    }

    fn shortfall_json(&self, one: &Shortfall) -> Value {
        json!({
            "part": one.part,
            "limit": one.limit.row().name,
            "case": one.case,
            "fails_at": one.fails_at.name(),
            "margin_stock": one.stock,
            "margin_built": one.built,
            "margin_found": one.came,
            "sentence": shortfall_words(one),
        })
    }

    fn share_json(&self, share: &Share) -> Value {
        let by = self.statement.fitted.iter().zip(&share.by);
        json!({
            "part": share.part,
            "limit": share.limit.row().name,
            "case": share.case,
            "margin_stock": share.before,
            "margin_built": share.after,
            "by": by.map(|(part, share)| json!({ "fitted": part.key, "share": share })).collect::<Vec<_>>(),
        })
    }

    fn write(&self, desk: &Desk<'_>, paper: &mut Paper) {
        let name = self.job.built.fields.word("truck.name").unwrap_or("truck");
        paper.heading(&format!("{name}: what was found, and at which step it falls short"));
        self.came_with(paper);
        self.found(desk, paper);
        self.stands(paper);
        self.fitted(desk.system, paper);
        paper.blank();
        paper.paragraph(
            "This statement names steps, not persons. A margin is what a part bears over what is asked of it: below 1 it \
             falls short. The figures are with the driver of the file; the steps as sold, fitted and found are judged \
             with a driver who is usual for this class of truck, and what falls short with the driver of the file \
             alone is told as driving. Figures are estimates for hobby-size machines from the values of the job file, not a design approval and not a finding \
             of law; makers' instructions and local rules decide.",
        );
    }

    fn came_with(&self, paper: &mut Paper) {
        let job = self.job;
        let runs = match job.runs_since_gears {
            0.0 => "on gears that have not run or whose runs are not known".to_owned(),
            runs => format!("{runs} runs after its gears were new"),
        };
        paper.paragraph(&format!("Came in: {}, {runs}.", job.complaint));
    }

    fn found(&self, desk: &Desk<'_>, paper: &mut Paper) {
        paper.heading("As found");
        if self.job.findings.is_empty() {
            paper.paragraph("Nothing is recorded yet: the truck is judged as built.");
        }
        for finding in &self.job.findings {
            let Some(entry) = desk.book.finding(&finding.check) else { continue };
            let answer = if finding.yes { "yes" } else { "no" };
            let measured = measured(finding, &desk.book, desk.system).map_or(String::new(), |text| format!(", {text}"));
            paper.item("·", &format!("{} {answer}{measured} ({}).", entry.question, finding.check));
        }
    }

    fn stands(&self, paper: &mut Paper) {
        paper.heading("Where it falls short");
        let told = self.states.iter().filter(|one| one.state != State::Proposed && one.state != State::After);
        let states: Vec<String> =
            told.map(|one| format!("{} it {}", state_words(one.state), holds_words(one.holds).0)).collect();
        paper.paragraph(&format!("{}.", sentence(&states.join("; "))));
        if !self.job.has_stock {
            paper.paragraph("What was sold is not in the file ([stock]): the truck as built counts as sold.");
        }
        for one in &self.statement.shortfalls {
            paper.item("·", &shortfall_words(one));
        }
        if self.statement.shortfalls.is_empty() {
            paper.paragraph("At the usual values no part falls short.");
        }
    }

    fn fitted(&self, system: System, paper: &mut Paper) {
        if self.statement.fitted.is_empty() {
            return;
        }
        paper.heading("What was fitted or set since it was sold");
        for one in &self.statement.fitted {
            paper.item(
                "·",
                &format!("{}: {}.", one.key, moved(&self.job.stock, &self.job.built, one, system).join("; ")),
            );
        }
        let fell = self.statement.shares.iter().filter(|share| share.after < share.before);
        for share in fell.take(TOLD_SHARES) {
            let by: Vec<String> = self
                .statement
                .fitted
                .iter()
                .zip(&share.by)
                .filter(|(_, by)| **by < -0.005)
                .map(|(part, by)| format!("{} {:.2}", part.key, by.abs()))
                .collect();
            let row = share.limit.row();
            paper.item(
                "·",
                &format!(
                    "{}, {}{}: margin {} as sold, {} as built; of that took {}.",
                    share.part,
                    row.name,
                    in_case(share.case),
                    number(share.before),
                    number(share.after),
                    list(&by)
                ),
            );
        }
    }
}

fn finding_json(finding: &Finding, book: &FaultBook) -> Value {
    let measured = measured(finding, book, System::Metric);
    json!({ "check": finding.check, "answer": if finding.yes { "yes" } else { "no" }, "measured": measured })
}
