//! `change`: will it hold with other parts or settings? Margins before and after, and which change took what.

use crate::args::ChangeArgs;
use crate::commands::margins::ranges;
use crate::failure::Failure;
use crate::input::{Desk, state};
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::progress::Progress;
use crate::words::{field, holds_words, list, number, sentence, state_words, value, way};
use serde_json::{Value, json};
use toothsayer_job::{Setting, Sheet};
use toothsayer_quantity::Kind;
use toothsayer_report::machine;
use toothsayer_report::words::fields_of;
use toothsayer_verdict::{
    Changed, Holds, MOST_CHANGES, MakersLimit, Memo, Narrow, Share, StateMargins, Stopping, Verdict, Wanted,
};

/// Margins that moved and are told to people: the tightest of each part, then those that fell most.
const TOLD_TIGHTEST: usize = 7;
const TOLD_FALLEN: usize = 3;

/// The wanted changes of a truck.
pub fn run(desk: &Desk<'_>, args: &ChangeArgs) -> Result<String, Failure> {
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let stage = verdict.stage(state(args.state))?;
    let settings = settings(&args.set, &stage.sheet)?;
    let wanted = Wanted {
        before: &stage.sheet,
        state: stage.state,
        run_in: stage.run_in,
        settings: &settings,
        horizon_runs: job.shop.horizon_runs,
    };
    let changed = weigh(desk, &wanted, args.points, &memo)?;
    let after = wanted.sheet((1 << settings.len()) - 1);
    let moves: Vec<Move<'_>> = settings.iter().map(|setting| Move::new(setting, &stage.sheet, &after, desk)).collect();
    if desk.global.json {
        return json::text(&as_json(&changed, &moves));
    }
    let mut paper = Paper::new();
    let name = job.built.fields.word("truck.name").unwrap_or("truck");
    write(desk, &changed, &moves, &format!("{name}, {}", state_words(stage.state)), &mut paper);
    Ok(paper.finish())
}

/// The changes weighed, with progress.
fn weigh(desk: &Desk<'_>, wanted: &Wanted<'_>, points: bool, memo: &Memo) -> Result<Changed, Failure> {
    let progress = Progress::new();
    let tell = |done, most| progress.tell(done, most);
    let ranges = ranges(desk, Narrow::WhereUnsure, &tell);
    Ok(wanted.weigh((!points).then_some(&ranges), memo, &tell)?)
}

fn settings(texts: &[String], truck: &Sheet) -> Result<Vec<Setting>, Failure> {
    if texts.len() > MOST_CHANGES {
        let message = format!("{} changes are wanted at once, more than {MOST_CHANGES}", texts.len());
        return Err(Failure::usage(message, "weigh the ones that matter together, the others after them"));
    }
    let mut settings: Vec<Setting> = Vec::with_capacity(texts.len());
    for text in texts {
        let setting = Setting::parse(text, truck)
            .map_err(|error| Failure::usage(format!("--set \"{text}\": {}", error.message), error.hint))?;
        if settings.iter().any(|known| known.key == setting.key) {
            return Err(Failure::usage(format!("`{}` is set twice", setting.key), "keep one of the two"));
        }
        settings.push(setting);
    }
    Ok(settings)
}

/// One change with its value before and after.
struct Move<'a> {
    setting: &'a Setting,
    before: String,
    after: String,
}

impl<'a> Move<'a> {
    fn new(setting: &'a Setting, before: &Sheet, after: &Sheet, desk: &Desk<'_>) -> Self {
        let shown =
            |sheet| fields_of(sheet, setting).map_or(String::new(), |fields| field(fields, setting.input, desk.system));
        Self { setting, before: shown(before), after: shown(after) }
    }
}

fn as_json(changed: &Changed, moves: &[Move<'_>]) -> Value {
    let key = |place: usize| moves[place].setting.key.as_str();
    let share = |share: &Share| {
        let by: Vec<Value> =
            share.by.iter().enumerate().map(|(place, part)| json!({ "key": key(place), "share": part })).collect();
        json!({
            "part": share.part,
            "limit": share.limit.row().name,
            "case": share.case,
            "before": share.before,
            "after": share.after,
            "by": by,
        })
    };
    let without: Vec<Vec<&str>> =
        changed.without.iter().map(|places| places.iter().map(|place| key(*place)).collect()).collect();
    let states = machine::states(&[changed.before.clone(), changed.after.clone()]);
    json!({
        "changes": moves.iter().map(|one| json!({
            "key": one.setting.key, "before": one.before, "after": one.after,
        })).collect::<Vec<_>>(),
        "before": states[0],
        "after": states[1],
        "shares": changed.shares.iter().map(share).collect::<Vec<_>>(),
        "holds_without": without,
        "remedies": changed.remedies.iter().map(|remedy| json!({
            "words": remedy.words, "set": remedy.set, "stopping_distance_m": way_m(&remedy.stop),
        })).collect::<Vec<_>>(),
        "makers_limits": changed.limits.iter().map(limit_json).collect::<Vec<_>>(),
        "stopping_from_m_s": changed.stops.map(|stop| stop.from.to_m_per_s()),
        "stopping_distance_m": changed.stops.each_ref().map(way_m),
    })
}

fn write(desk: &Desk<'_>, changed: &Changed, moves: &[Move<'_>], truck: &str, paper: &mut Paper) {
    paper.paragraph(&format!("{}. {}", answer(changed, paper), tightest(&changed.after)));
    for limit in changed.passed_limits() {
        let told = paper.tint(Tint::Bad, "Not to be fitted:");
        let [here, most] = [limit.value, limit.limit.unwrap_or(0.0)].map(|si| value(limit.kind, si, desk.system));
        paper.paragraph(&format!("{told} {} would be {here}, and the maker allows {most}.", limit.what));
    }
    let mut table = Table::new(&["change", "before", "after"]);
    for (place, one) in moves.iter().enumerate() {
        let change = format!("{} {}", place + 1, one.setting.key);
        table.row([change, one.before.clone(), one.after.clone()].into_iter().map(Cell::plain).collect());
    }
    paper.heading(&sentence(truck));
    paper.table(&table);
    told_shares(changed, paper);
    told_ways(desk, changed, moves, paper);
    told_stop(desk, changed, paper);
    paper.blank();
    paper.paragraph(
        "Joints stay as tight as they were. Never more cells, motor speed or wheel speed than their makers allow; a limit \
         that the file does not state is not known. Estimates for hobby-size machines, not a design approval.",
    );
}

fn answer(changed: &Changed, paper: &Paper) -> String {
    let words = |state: &StateMargins| {
        let (words, tint) = holds_words(state.holds);
        paper.tint(tint, words)
    };
    format!("Before it {}; with the change it {}", words(&changed.before), words(&changed.after))
}

fn tightest(state: &StateMargins) -> String {
    let Some(least) = state.least() else { return String::new() };
    let row = least.limit.row();
    let fails = if least.fails() { format!(": {}", row.plain) } else { String::new() };
    let margin = number(least.margin.unwrap_or(0.0));
    let settle = state.settle().and_then(toothsayer_inputs::find);
    let settled =
        settle.map_or(String::new(), |input| format!(" What would settle it: {}: {}.", input.help, input.measure));
    format!("Tightest then: {}, {} (margin {margin}, {}){fails}.{settled}", least.part, row.name, least.case)
}

fn told_shares(changed: &Changed, paper: &mut Paper) {
    if changed.shares.is_empty() {
        paper.paragraph("No margin moves by more than a hundredth.");
        return;
    }
    paper.heading("Which change took what of the margin");
    let mut table = Table::new(&["part, limit", "before>", "after>", "by change"]);
    let told = told(&changed.shares);
    for share in &told {
        let tint = if share.after < 1.0 { Tint::Bad } else { Tint::Good };
        table.row(vec![
            Cell::plain(format!("{}, {} ({})", share.part, share.limit.row().name, share.case)),
            Cell::plain(number(share.before)),
            Cell::tinted(tint, format!("{}{}", number(share.after), if share.after < 1.0 { " FAILS" } else { "" })),
            Cell::plain(parts(share)),
        ]);
    }
    paper.table(&table);
    if changed.shares.len() > told.len() {
        paper.paragraph(&format!("{} more margins move: --json lists them.", changed.shares.len() - told.len()));
    }
}

/// A margin from here on is shown as "over 100", and how far beyond says nothing.
const AMPLE: f64 = 100.0;

/// The tightest of each part and limit, then those that fell most.
fn told(shares: &[Share]) -> Vec<&Share> {
    let mut told: Vec<&Share> = Vec::new();
    for share in shares {
        if !told.iter().any(|known| known.part == share.part && known.limit == share.limit) {
            told.push(share);
        }
    }
    told.truncate(TOLD_TIGHTEST);
    let mut fallen: Vec<&Share> =
        shares.iter().filter(|share| share.after < share.before.min(AMPLE) && !told.contains(share)).collect();
    fallen.sort_by(|a, b| (a.after / a.before).total_cmp(&(b.after / b.before)));
    told.extend(fallen.into_iter().take(TOLD_FALLEN));
    told
}

/// "1: −0.42, 2: −0.10", numbered as the changes are.
fn parts(share: &Share) -> String {
    let told = share.by.iter().enumerate().filter(|(_, by)| by.abs() >= 0.005);
    let part = |(place, by): (usize, &f64)| {
        let sign = if *by < 0.0 { '−' } else { '+' };
        format!("{}: {sign}{:.2}", place + 1, by.abs())
    };
    told.map(part).collect::<Vec<_>>().join(", ")
}

/// The way to a stop, where the change moves it.
fn told_stop(desk: &Desk<'_>, changed: &Changed, paper: &mut Paper) {
    let [before, after] = changed.stops.each_ref().map(|stop| way(stop, desk.system));
    if before != after {
        let speeds = changed.stops.map(|stop| value(Kind::Speed, stop.from.to_m_per_s(), desk.system));
        paper.blank();
        paper.paragraph(&format!(
            "Way to a stop from the speed of a full brake: {before} from {} before, {after} from {} with the change, on the \
             level and without the driver's reaction.",
            speeds[0], speeds[1]
        ));
    }
}

fn way_m(stop: &Stopping) -> Option<f64> {
    stop.distance.map(|distance| distance.to_m())
}

fn limit_json(limit: &MakersLimit) -> Value {
    json!({ "what": limit.what, "key": limit.key, "value": limit.value, "limit": limit.limit, "passed": limit.passed() })
}

fn told_ways(desk: &Desk<'_>, changed: &Changed, moves: &[Move<'_>], paper: &mut Paper) {
    if changed.after.holds != Holds::No {
        return;
    }
    paper.heading("What would make it hold");
    for places in changed.without.iter().filter(|places| places.len() < moves.len()) {
        let keys: Vec<String> = places.iter().map(|place| moves[*place].setting.key.clone()).collect();
        paper.item("·", &format!("leave out {}: the rest holds", list(&keys)));
    }
    for remedy in &changed.remedies {
        let set: Vec<String> = remedy.set.iter().map(|text| format!("--set \"{text}\"")).collect();
        paper.item("·", &format!("{}: {}", remedy.words, set.join(" ")));
        if remedy.set.iter().any(|text| text.starts_with("controller.brake_strength")) {
            let ways = [&changed.stops[1], &remedy.stop].map(|stop| way(stop, desk.system));
            paper.item(
                "  caution:",
                &format!("the way to a stop grows from {} to {}: venue and bystanders decide.", ways[0], ways[1]),
            );
        }
    }
    if changed.remedies.is_empty() {
        paper.item("·", "no usual change, and no two together, make it hold: leave the truck as it was");
    }
}
