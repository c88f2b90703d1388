//! `margins`: what each part bears over what is asked of it, by state.

use crate::args::MarginsArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::progress::Progress;
use crate::words::{
    amount, chance, holds_words, list, margin_cell, mesh_words, minutes, number, range_words, sentence, share,
    state_words, value,
};
use toothsayer_job::{Job, State};
use toothsayer_report::machine;
use toothsayer_report::words::worst_of_each;
use toothsayer_verdict::{
    Bay, FIRST_DRAWS, FailsAt, Holds, Limit, MOST_DRAWS, Margin, Memo, MeshState, Narrow, Narrowing, Ranges,
    StateMargins, UNSURE_FROM, Verdict, Watch,
};

/// The margins of a job file.
pub fn run(desk: &Desk<'_>, args: &MarginsArgs) -> Result<String, Failure> {
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let narrow = if args.narrow { Narrow::Always } else { Narrow::WhereUnsure };
    let shown = Shown { points: args.points, all: args.all, narrow };
    if desk.global.json {
        return json(desk, &verdict, &memo, &shown);
    }
    let mut paper = Paper::new();
    write(desk, &verdict, &memo, &shown, &mut paper)?;
    Ok(paper.finish())
}

/// Machine-readable.
pub fn json(desk: &Desk<'_>, verdict: &Verdict<'_>, memo: &Memo, shown: &Shown) -> Result<String, Failure> {
    json::text(&machine::margins(verdict, &judge(desk, verdict, memo, shown)?, !shown.points))
}

/// The margins of every state, with progress.
pub fn judge(desk: &Desk<'_>, verdict: &Verdict<'_>, memo: &Memo, shown: &Shown) -> Result<Vec<StateMargins>, Failure> {
    let progress = Progress::new();
    let tell = |done, most| progress.tell(done, most);
    let ranges = ranges(desk, shown.narrow, &tell);
    Ok(verdict.margins((!shown.points).then_some(&ranges), memo)?)
}

/// How ranges are run at the command line.
pub fn ranges<'a>(desk: &Desk<'_>, narrow: Narrow, watch: &'a Watch<'a>) -> Ranges<'a> {
    Ranges { first: FIRST_DRAWS, most: MOST_DRAWS, seed: desk.global.seed, narrow, watch }
}

/// For people: one sentence first, then the states.
pub fn write(
    desk: &Desk<'_>,
    verdict: &Verdict<'_>,
    memo: &Memo,
    shown: &Shown,
    paper: &mut Paper,
) -> Result<(), Failure> {
    let (job, states) = (verdict.job, judge(desk, verdict, memo, shown)?);
    paper.blank();
    paper.paragraph(&verdict_sentence(job, &states));
    if let Some(sentence) = where_it_fails(&states) {
        paper.paragraph(&sentence);
    }
    if let Some(told) = mesh_as_it_came(desk, verdict) {
        paper.paragraph(&told);
    }
    for warning in &job.warnings {
        paper.item("note:", warning);
    }
    let first = states.first();
    for state in &states {
        if state.state == State::Proposed && same_as_built(&states, state) {
            continue;
        }
        let before = first.filter(|first| first.state != state.state && !shown.all);
        state_table(desk, state, before, shown, paper);
    }
    paper.blank();
    legend(shown, paper);
    if desk.global.explain {
        explain(desk, job, &states, paper);
    }
    Ok(())
}

/// That a mesh binds or does not meet as it came.
fn mesh_as_it_came(desk: &Desk<'_>, verdict: &Verdict<'_>) -> Option<String> {
    let stage = verdict.stage(State::Found).ok()?;
    let build = stage.sheet.build().ok()?;
    mesh_words(MeshState::of(&Bay::new(&build, stage.run_in).ok()?), desk.system)
}

/// The proposed state is not told again where nothing in it differs.
fn same_as_built(states: &[StateMargins], proposed: &StateMargins) -> bool {
    let Some(built) = states.iter().find(|state| state.state == State::Built) else { return false };
    built.margins.len() == proposed.margins.len()
        && built.margins.iter().zip(&proposed.margins).all(|(a, b)| a.margin == b.margin)
}

fn verdict_sentence(job: &Job, states: &[StateMargins]) -> String {
    let name = job.built.fields.word("truck.name").unwrap_or("truck");
    let told: Vec<String> = states
        .iter()
        .filter(|state| state.state != State::Proposed || !same_as_built(states, state))
        .map(|state| {
            let (words, _) = holds_words(state.holds);
            let because = reasons(state);
            let reason = if state.holds == Holds::No { format!(" ({because})") } else { String::new() };
            format!("{} it {words}{reason}", state_words(state.state))
        })
        .collect();
    let least = states.iter().find(|state| state.state == State::Built).and_then(StateMargins::least);
    let tightest = least.map_or(String::new(), |margin| {
        format!(
            " Tightest in good order: {}, {} (margin {}).",
            margin.part,
            margin.limit.row().name,
            number(margin.margin.unwrap_or(0.0))
        )
    });
    format!("{name}: {}.{tightest}", told.join("; "))
}

/// Failing parts that the first sentence names.
const TOLD_REASONS: usize = 3;

/// The failing parts in words, the worst first.
pub(super) fn reasons(state: &StateMargins) -> String {
    some(failing(state).into_iter().map(|margin| format!("{}: {}", margin.part, margin.limit.row().plain)))
}

/// What fails, each part and limit once, the worst first; a lost clamp is told by the slip that it brings.
fn failing(state: &StateMargins) -> Vec<&Margin> {
    let mut failing: Vec<&Margin> =
        worst_of_each(&state.margins).into_iter().filter(|margin| margin.counts() && margin.fails()).collect();
    failing.sort_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
    let slips: Vec<String> =
        failing.iter().filter(|margin| margin.limit == Limit::Slip).map(|margin| margin.part.clone()).collect();
    failing.retain(|margin| margin.limit != Limit::Clamp || !slips.contains(&margin.part));
    failing
}

/// The first few, and how many more.
fn some(reasons: impl ExactSizeIterator<Item = String>) -> String {
    let count = reasons.len();
    let mut told: Vec<String> = reasons.take(TOLD_REASONS).collect();
    if count > TOLD_REASONS {
        told.push(format!("{} more", count - TOLD_REASONS));
    }
    list(&told)
}

/// What of the margins is shown.
pub struct Shown {
    /// Point values only, without ranges.
    pub points: bool,
    /// Every load case.
    pub all: bool,
    /// Where the measurements that would narrow the verdict are sought.
    pub narrow: Narrow,
}

impl Shown {
    /// What is shown where nothing else is asked for.
    pub const USUAL: Shown = Shown { points: false, all: false, narrow: Narrow::WhereUnsure };
    /// The same at point values.
    pub const POINTS: Shown = Shown { points: true, ..Shown::USUAL };
}

/// Margins that differ by less than this from the first state's are not told again.
const SAME: f64 = 0.01;

fn state_table(desk: &Desk<'_>, state: &StateMargins, before: Option<&StateMargins>, shown: &Shown, paper: &mut Paper) {
    let (words, tint) = holds_words(state.holds);
    let told = paper.tint(tint, &sentence(words));
    paper.heading(&sentence(state_words(state.state)));
    paper.paragraph(&format!("{told}."));
    match &state.narrowing {
        Some(narrowing) => told_narrowing(narrowing, paper),
        None if shown.narrow == Narrow::Always => {
            paper.paragraph("No measurement would change that: every draw gives the same least margin.");
        }
        None => {}
    }
    let margins: Vec<&Margin> = if shown.all { state.margins.iter().collect() } else { worst_of_each(&state.margins) };
    let (same, told): (Vec<&Margin>, Vec<&Margin>) =
        margins.into_iter().partition(|margin| before.is_some_and(|before| told_before(margin, before)));
    let full = table_of(desk, &told, true, shown.points);
    if paper.fits(&full) {
        paper.table(&full)
    } else {
        paper.table(&table_of(desk, &told, false, shown.points))
    }
    if !same.is_empty() {
        paper.paragraph(&format!("{} more margins are as above.", same.len()));
    }
}

/// Answers that are told to people.
const TOLD_ANSWERS: usize = 4;

/// What to measure first, and what no measurement takes away.
fn told_narrowing(narrowing: &Narrowing, paper: &mut Paper) {
    let mut table = Table::new(&["what would narrow it", "share of the spread>", "minutes>"]);
    let told = || narrowing.answers.iter().take(TOLD_ANSWERS);
    for answer in told() {
        let part = format!("{} ± {}", share(answer.margin.total), share(answer.margin.total_error));
        let minutes = minutes(answer.minutes);
        table.row([answer.input.to_owned(), part, minutes].into_iter().map(Cell::plain).collect());
    }
    if told().count() > 0 {
        paper.blank();
        paper.table(&table);
        paper.blank();
    }
    for answer in told().take(1) {
        let what = toothsayer_inputs::find(answer.input).map_or(answer.input, |input| input.help);
        paper.paragraph(&format!("Measure first: {what}: {}.", answer.measure));
    }
    paper.paragraph(&format!(
        "What narrows most a minute stands first. About {} of the spread no measurement takes: where in the lash a landing comes, friction, the gears' strength.",
        share(narrowing.chance.total.min(1.0))
    ));
    paper.blank();
}

/// The margins as a table, with what is asked and borne where there is room for it.
fn table_of(desk: &Desk<'_>, margins: &[&Margin], loads: bool, points: bool) -> Table {
    let mut heads = vec!["part, limit", "case", "margin"];
    if loads {
        heads.push("asked / borne>");
    }
    if !points {
        heads.push("range and chance");
    }
    heads.push("fails at");
    let mut table = Table::new(&heads);
    for margin in margins {
        table.row(row(desk, margin, loads, points));
    }
    table
}

/// Whether the same part holds with the same margin in the state told before.
fn told_before(margin: &Margin, before: &StateMargins) -> bool {
    let known = worst_of_each(&before.margins);
    let Some(known) = known.iter().find(|known| known.part == margin.part && known.limit == margin.limit) else {
        return false;
    };
    match (known.margin, margin.margin) {
        (Some(a), Some(b)) => !(margin.counts() && margin.fails()) && (a - b).abs() <= SAME * a,
        (a, b) => a == b,
    }
}

fn row(desk: &Desk<'_>, margin: &Margin, loads: bool, points: bool) -> Vec<Cell> {
    let mut cells = vec![
        Cell::plain(format!("{}, {}", margin.part, margin.limit.row().name)),
        Cell::plain(margin.case),
        margin_cell(margin),
    ];
    if loads {
        let [asked, borne] = [margin.demand, margin.capacity].map(|si| amount(margin.limit, si, desk.system));
        let bare = asked
            .split_once(' ')
            .filter(|(_, unit)| borne.ends_with(unit))
            .map_or(asked.as_str(), |(number, _)| number);
        cells.push(Cell::plain(format!("{bare} of {borne}")));
    }
    if !points {
        let likely = likely(margin).map_or(String::new(), |chance| format!(", {chance}"));
        cells.push(Cell::plain(format!("{}{likely}", range_words(margin))));
    }
    cells.push(match margin.fails_at {
        Some(at) => Cell::tinted(Tint::Bad, at.name()),
        None => Cell::plain(""),
    });
    cells
}

/// The chance that the load passes what the part bears, with its interval where that leaves open whether it matters.
fn likely(margin: &Margin) -> Option<String> {
    let exceeded = margin.exceeded.filter(|exceeded| exceeded.value >= 0.005)?;
    let told = chance(exceeded.value);
    let open = margin.counts() && exceeded.low < UNSURE_FROM && UNSURE_FROM < exceeded.high;
    let [low, high] = [exceeded.low, exceeded.high].map(|end| format!("{:.1}", 100.0 * end));
    Some(if open { format!("{told} ({low} to {high})") } else { told })
}

fn legend(shown: &Shown, paper: &mut Paper) {
    paper.paragraph(
        "margin = bears / asked; below 1 a part fails. Wear (flank) and the wheel stop, an accident, are shown and do \
         not decide. fails at: stock = as sold, parts = with the parts and settings fitted, condition = in the \
         condition found, driving = only with this driver.",
    );
    if shown.points {
        paper
            .paragraph("Point values only: without --points the inputs' ranges give each margin its range and chance.");
    } else {
        paper.paragraph(
            "range: 5 to 95 % over the inputs' stated ranges; behind it the chance, where there is one, that the load passes \
             what the part bears, with its own 95 % interval where the draws leave open on which side of 5 % it lies. A \
             state is sure where every chance that counts is below 5 %.",
        );
    }
    if !shown.all {
        paper.paragraph(
            "The hardest case of each part is shown: --all shows every case, --explain how each figure comes about.",
        );
    }
    paper.paragraph(
        "Landings are on all wheels at once; one on nose or tail loads its axle harder. Estimates for hobby-size \
         machines, not a design approval.",
    );
}

/// Formula, source and inputs of every limit that is shown.
fn explain(desk: &Desk<'_>, job: &Job, states: &[StateMargins], paper: &mut Paper) {
    paper.heading("How the figures come about");
    let told = |row: &toothsayer_verdict::LimitRow| {
        states.iter().any(|state| state.margins.iter().any(|margin| margin.limit == row.limit))
    };
    for row in toothsayer_verdict::LIMITS.iter().filter(|row| told(row)) {
        paper.blank();
        let head = paper.tint(Tint::Strong, &format!("{}: {}", row.name, row.plain));
        paper.paragraph(&head);
        paper.item("  formula:", row.formula);
        paper.item("  source:", row.source);
        for key in row.inputs {
            if let Some(entry) = job.built.fields.numbers.get(key) {
                let kind = toothsayer_inputs::find(key)
                    .map_or(toothsayer_quantity::Kind::Number, toothsayer_inputs::Input::kind);
                let shown = value(kind, entry.value, desk.system);
                let range = if entry.has_spread() {
                    format!(" [{} to {}]", value(kind, entry.low, desk.system), value(kind, entry.high, desk.system))
                } else {
                    String::new()
                };
                paper.item("  input:", &format!("{key} = {shown}{range} ({})", entry.origin));
            }
        }
    }
}

/// At which step the failing margins fail, in a sentence.
fn where_it_fails(states: &[StateMargins]) -> Option<String> {
    let state = states
        .iter()
        .find(|state| state.state == State::Found)
        .or_else(|| states.iter().find(|state| state.state == State::Built))?;
    let failing = failing(state);
    let at = |wanted: FailsAt| -> Vec<String> {
        let here = failing.iter().filter(|margin| margin.fails_at == Some(wanted));
        here.map(|margin| format!("{} ({})", margin.part, margin.limit.row().name)).collect()
    };
    let told: Vec<String> = [
        (FailsAt::Stock, "already as sold"),
        (FailsAt::Parts, "with the parts and settings that were fitted"),
        (FailsAt::Condition, "in the condition found"),
        (FailsAt::Driving, "only with this driving"),
    ]
    .into_iter()
    .filter_map(|(step, words)| {
        let parts = at(step);
        (!parts.is_empty()).then(|| format!("{words}: {}", some(parts.into_iter())))
    })
    .collect();
    (!told.is_empty()).then(|| format!("Fails {}.", told.join("; ")))
}
