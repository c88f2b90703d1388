//! `explore`: what would have to change for it to hold, over everything that the shop can fit and set.

use crate::args::ExploreArgs;
use crate::failure::Failure;
use crate::input::{Desk, quantity, state};
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::plot::{Band, plot};
use crate::progress::Progress;
use crate::words::{list, minutes, number, sentence, state_words, value, way};
use serde_json::{Value, json};
use toothsayer_job::State;
use toothsayer_quantity::{Kind, Length, Speed};
use toothsayer_verdict::{
    Combination, Curve, CurvePoint, Error, Explore, Explored, MakersLimit, Margin, Memo, SmallestChanges, Verdict,
    Wishes,
};

/// Least margins that may be asked for.
const MARGINS: [f64; 2] = [1.0, 5.0];
/// Columns beside a plot: a margin and the axis.
const PLOT_MARGIN: usize = 10;
/// Widest plot: more tells no more of seven points.
const WIDEST_PLOT: usize = 60;
/// Margins above this are drawn as this.
const HIGHEST_DRAWN: f64 = 3.0;

/// The space of a truck.
pub fn run(desk: &Desk<'_>, args: &ExploreArgs) -> Result<String, Failure> {
    let wishes = wishes(args)?;
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let stage = verdict.stage(state(args.state))?;
    let explore = Explore { job: &job, book: &desk.book, truck: &stage.sheet, run_in: stage.run_in, wishes };
    let explored = watched(&explore, &memo)?;
    if desk.global.json {
        return json::text(&as_json(&explored, stage.state));
    }
    let mut paper = Paper::new();
    let name = job.built.fields.word("truck.name").unwrap_or("truck");
    write(desk, &explored, &explore.wishes, &format!("{name} {}", state_words(stage.state)), &mut paper);
    Ok(paper.finish())
}

fn watched(explore: &Explore<'_>, memo: &Memo) -> Result<Explored, Failure> {
    let progress = Progress::new();
    let explored = explore.explore(memo, &|done, most| progress.tell(done, most));
    explored.map_err(|error| match error {
        Error::Cancelled { .. } => Failure::could(error.to_string(), "run it again"),
        other => other.into(),
    })
}

fn wishes(args: &ExploreArgs) -> Result<Wishes, Failure> {
    let [least, most] = MARGINS;
    let margin = args.margin_at_least;
    if !(least..=most).contains(&margin) {
        let message = format!("--margin-at-least is {margin}, outside {least} to {most}");
        return Err(Failure::usage(message, "1 is what just holds, 1.3 has some reserve"));
    }
    let positive = |option: &str, kind: Kind, text: &Option<String>| -> Result<Option<f64>, Failure> {
        let Some(text) = text else { return Ok(None) };
        let si = quantity(option, kind, text)?;
        if si > 0.0 {
            return Ok(Some(si));
        }
        Err(Failure::usage(format!("--{option} is {text}, not above 0"), "write a value such as 15 with its unit"))
    };
    Ok(Wishes {
        least_margin: margin,
        top_speed: positive("top-speed-at-least", Kind::Speed, &args.top_speed_at_least)?.map(Speed::m_per_s),
        stop_within: positive("stop-within", Kind::Length, &args.stop_within)?.map(Length::m),
    })
}

fn combination_json(one: &Combination) -> Value {
    json!({
        "words": one.words,
        "set": one.set,
        "steps": one.steps,
        "price_minor": one.price.minor,
        "currency": one.price.currency.to_string(),
        "minutes": one.minutes,
        "parts_priced_as_alike": one.unlisted,
        "parts_without_price": one.unpriced,
        "margin": one.least.margin,
        "margin_moved": one.moved.margin,
        "least": place_json(&one.least),
        "top_speed_m_s": one.top_speed.to_m_per_s(),
        "pull_n": one.pull.to_n(),
        "stopping_from_m_s": one.stop.from.to_m_per_s(),
        "stopping_distance_m": one.stop.distance.map(|way| way.to_m()),
        "computed": if one.full { "full" } else { "estimate" },
    })
}

fn place_json(margin: &Margin) -> Value {
    json!({ "part": margin.part, "limit": margin.limit.row().name, "case": margin.case })
}

fn as_json(explored: &Explored, of: State) -> Value {
    let (answer, told) = match &explored.answer {
        SmallestChanges::Holds => ("holds", Vec::new()),
        SmallestChanges::Changes(changes) => ("changes", changes.iter().collect()),
        SmallestChanges::Nearest(nearest) => ("nearest", nearest.iter().map(|one| &**one).collect::<Vec<_>>()),
    };
    json!({
        "state": of.name(),
        "present": combination_json(&explored.present),
        "answer": answer,
        "smallest": told.into_iter().map(combination_json).collect::<Vec<_>>(),
        "combinations": explored.combinations,
        "within_makers_limits": explored.allowed,
        "fulfilling_by_estimate": explored.fulfilling,
        "estimate": explored.estimate.map(|estimate| json!({
            "held_back": estimate.held_back,
            "error_median": estimate.usual,
            "error_95": estimate.most_of_them,
            "error_worst": estimate.worst,
        })),
        "front": explored.front.iter().map(combination_json).collect::<Vec<_>>(),
        "front_by_estimate": explored.front_estimated,
        "makers_limits": explored.limits.iter().map(limit_json).collect::<Vec<_>>(),
        "curves": explored.curves.iter().map(curve_json).collect::<Vec<_>>(),
    })
}

fn limit_json(limit: &MakersLimit) -> Value {
    json!({ "what": limit.what, "key": limit.key, "value": limit.value, "limit": limit.limit })
}

fn curve_json(curve: &Curve) -> Value {
    let suffix = curve.kind.key_suffix();
    let key = |name: &str| if suffix.is_empty() { name.to_owned() } else { format!("{name}_{suffix}") };
    let points = curve.points.iter().map(|point| {
        json!({
            key("at"): point.at,
            "margin": point.least.as_ref().and_then(|margin| margin.margin),
            "least": point.least.as_ref().map(place_json),
        })
    });
    json!({ "what": curve.what, "key": curve.key, key("now"): curve.now, "points": points.collect::<Vec<_>>() })
}

fn write(desk: &Desk<'_>, explored: &Explored, wishes: &Wishes, truck: &str, paper: &mut Paper) {
    answer(desk, explored, wishes, truck, paper);
    space(explored, paper);
    front(desk, explored, paper);
    for curve in &explored.curves {
        draw(desk, curve, paper);
    }
    notes(desk, explored, paper);
}

/// "pinion, root (margin 0.86, landing-on-brake)".
fn place(margin: &Margin) -> String {
    format!(
        "{}, {} (margin {}, {})",
        margin.part,
        margin.limit.row().name,
        margin.margin.map_or("without load".into(), number),
        margin.case
    )
}

fn answer(desk: &Desk<'_>, explored: &Explored, wishes: &Wishes, truck: &str, paper: &mut Paper) {
    let tight = place(explored.present.tightest());
    let asked = asked(desk, wishes);
    match &explored.answer {
        SmallestChanges::Holds => {
            let word = paper.tint(Tint::Good, "holds");
            paper.paragraph(&format!(
                "{} it {word}{asked} at usual values: nothing has to change. Tightest: {tight}. \
                 `toothsayer margins` tells how surely.",
                sentence(truck)
            ));
        }
        SmallestChanges::Changes(changes) => {
            let word = paper.tint(Tint::Bad, "does not hold");
            paper.paragraph(&format!("{} it {word}{asked}: {tight}.", sentence(truck)));
            paper.heading("The smallest changes that make it hold");
            for (number, one) in changes.iter().enumerate() {
                told(desk, &format!("{}.", number + 1), one, &explored.present, paper);
            }
        }
        SmallestChanges::Nearest(nearest) => {
            let word = paper.tint(Tint::Bad, "does not hold");
            paper.paragraph(&format!(
                "{} it {word}{asked}: {tight}. Nothing that was explored makes it hold: what is broken, loose or worn is \
                 put right first (`toothsayer plan`).",
                sentence(truck)
            ));
            if let Some(nearest) = nearest.as_ref().filter(|nearest| !nearest.words.is_empty()) {
                paper.heading("What comes nearest");
                told(desk, "·", nearest, &explored.present, paper);
            }
        }
    }
}

/// What was asked for besides holding, as part of a sentence.
fn asked(desk: &Desk<'_>, wishes: &Wishes) -> String {
    let reserve = (wishes.least_margin != 1.0).then(|| format!("a margin of {} at least", number(wishes.least_margin)));
    let top = wishes.top_speed.map(|top| format!("{} at least", value(Kind::Speed, top.to_m_per_s(), desk.system)));
    let stop = wishes.stop_within.map(|way| format!("a stop within {}", value(Kind::Length, way.to_m(), desk.system)));
    let asked: Vec<String> = [reserve, top, stop].into_iter().flatten().collect();
    if asked.is_empty() { String::new() } else { format!(" with {}", list(&asked)) }
}

/// One combination in a sentence, with what it costs elsewhere.
fn told(desk: &Desk<'_>, mark: &str, one: &Combination, before: &Combination, paper: &mut Paper) {
    let speeds = [before, one].map(|one| value(Kind::Speed, one.top_speed.to_m_per_s(), desk.system));
    let pulls = [before, one].map(|one| value(Kind::Force, one.pull.to_n(), desk.system));
    let ways = [before, one].map(|one| way(&one.stop, desk.system));
    let mut costs = Vec::new();
    for (what, [was, is]) in [("top speed", &speeds), ("pull from rest", &pulls), ("way to a stop", &ways)] {
        if was != is {
            costs.push(format!("{what} {is} instead of {was}"));
        }
    }
    let costs = if costs.is_empty() { String::new() } else { format!("; {}", costs.join(", ")) };
    paper.item(
        mark,
        &format!(
            "{}: {} instead of {}; {}{costs}.",
            sentence(&list(&one.words)),
            place(one.tightest()),
            place(before.tightest()),
            price(one)
        ),
    );
    let set: Vec<String> = one.set.iter().map(|text| format!("--set \"{text}\"")).collect();
    paper.item("  ", &format!("toothsayer change FILE {}", set.join(" ")));
    if one.stop.distance.is_none_or(|after| before.stop.distance.is_some_and(|was| after > was)) {
        paper.item(
            "  caution:",
            &format!("the way to a stop grows from {} to {}: venue and bystanders decide.", ways[0], ways[1]),
        );
    }
}

/// "about 35.58 EUR and a pack".
fn amount(one: &Combination) -> String {
    let about = if one.unlisted.is_empty() { "" } else { "about " };
    let more: Vec<String> = one.unpriced.iter().map(|part| format!(" and {part}")).collect();
    format!("{about}{}{}", one.price, more.concat())
}

fn price(one: &Combination) -> String {
    let mut told = format!("{} with {} of work", amount(one), minutes(one.minutes));
    if !one.unlisted.is_empty() {
        told.push_str(&format!(" (price of one alike: {})", one.unlisted.join(", ")));
    }
    if !one.unpriced.is_empty() {
        told.push_str(&format!(" (no price listed: {})", one.unpriced.join(", ")));
    }
    told
}

fn space(explored: &Explored, paper: &mut Paper) {
    paper.heading("What was explored");
    let Some(estimate) = explored.estimate else {
        paper.paragraph("Too few of the trucks in the space can be computed: there is no estimate of the others.");
        return;
    };
    let held = match estimate.held_back {
        0 => "No margin under a blow is above 0, so that the estimate could not be held against full computations."
            .into(),
        count => format!(
            "On {count} held-back trucks its least margin under a blow was within {} of the full computation in 95 of 100, \
             {} at worst.",
            percent(estimate.most_of_them),
            percent(estimate.worst)
        ),
    };
    paper.paragraph(&format!(
        "{} combinations of pinion, spur, backlash, material, wheels, cells, brake and throttle strength; {} lie within the \
         makers' limits, {} of them hold as asked by the quick estimate. {held}",
        explored.combinations, explored.allowed, explored.fulfilling
    ));
}

/// An error as a percentage of two digits.
fn percent(share: f64) -> String {
    format!("{:.1} %", 100.0 * share)
}

fn front(desk: &Desk<'_>, explored: &Explored, paper: &mut Paper) {
    if explored.front.is_empty() {
        return;
    }
    paper.heading("What nothing else beats in price, changes, margin and top speed at once");
    let mut table = Table::new(&["change", "price>", "margin>", "top speed>", "stop>", "computed"]);
    for one in &explored.front {
        table.row(vec![
            Cell::plain(words(one)),
            Cell::plain(amount(one)),
            Cell::tinted(Tint::Good, number(one.moved())),
            Cell::plain(value(Kind::Speed, one.top_speed.to_m_per_s(), desk.system)),
            Cell::plain(way(&one.stop, desk.system)),
            Cell::plain(computed(one)),
        ]);
    }
    if paper.fits(&table) {
        paper.table(&table);
    } else {
        explored.front.iter().for_each(|one| paper.item("·", &in_a_line(desk, one)));
    }
    paper.paragraph(&format!(
        "Margin: the least of those that a choice moves (overlap, gap, pitch and the threads' strength stay as they are). \
         {} stood on this front by the quick estimate; those shown were computed in full.",
        explored.front_estimated
    ));
}

fn words(one: &Combination) -> String {
    if one.words.is_empty() { "as it is".into() } else { list(&one.words) }
}

fn computed(one: &Combination) -> &'static str {
    if one.full { "full" } else { "estimate" }
}

fn in_a_line(desk: &Desk<'_>, one: &Combination) -> String {
    format!(
        "{}: {}, margin {}, top speed {}, stop {}, computed: {}",
        words(one),
        amount(one),
        number(one.moved()),
        value(Kind::Speed, one.top_speed.to_m_per_s(), desk.system),
        way(&one.stop, desk.system),
        computed(one)
    )
}

/// The least margin over one value: up from the line at 1 it holds, down from it it fails.
fn draw(desk: &Desk<'_>, curve: &Curve, paper: &mut Paper) {
    let known: Vec<(f64, f64)> = curve
        .points
        .iter()
        .filter_map(|point| Some((point.at, point.least.as_ref()?.margin?.min(HIGHEST_DRAWN))))
        .collect();
    let (Some(first), Some(last)) = (known.first(), known.last()) else { return };
    let columns = paper.columns(PLOT_MARGIN).min(WIDEST_PLOT);
    let at = |column: usize| first.0 + (last.0 - first.0) * column as f64 / columns.saturating_sub(1).max(1) as f64;
    let over: Vec<f64> = (0..columns).map(|column| between(&known, at(column)) - 1.0).collect();
    let bands: Vec<[f64; 2]> = over.iter().map(|over| [over.min(0.0), over.max(0.0)]).collect();
    let shown = |si: f64| value(curve.kind, si, desk.system);
    paper.heading(&format!("Least margin over {}", curve.what));
    paper.lines(&plot(&Band {
        columns: &bands,
        value: &|over| number(over + 1.0),
        ends: [shown(first.0), shown(last.0)],
    }));
    paper.paragraph(&format!(
        "The line is the limit at 1: up it holds, down it fails. Overlap, gap, pitch and the threads' strength, which \
         nothing here moves, are left out. The truck has {}. {}.",
        shown(curve.now),
        told_points(curve, &shown)
    ));
}

/// "40 %: 1.33 (mesh, engagement)"; the part is named where it is another than before.
fn told_points(curve: &Curve, shown: &dyn Fn(f64) -> String) -> String {
    let mut last = String::new();
    let point = |point: &CurvePoint| {
        let at = shown(point.at);
        let Some(margin) = &point.least else { return format!("{at}: outside what the formulas are valid for") };
        let part = format!("{}, {}", margin.part, margin.limit.row().name);
        let named = if part == last { String::new() } else { format!(" ({part})") };
        last = part;
        format!("{at}: {}{named}", margin.margin.map_or("no load".into(), number))
    };
    curve.points.iter().map(point).collect::<Vec<_>>().join("; ")
}

/// Straight between neighbours.
fn between(known: &[(f64, f64)], at: f64) -> f64 {
    let above = known.iter().position(|(value, _)| *value >= at).unwrap_or(known.len() - 1);
    let ((x0, y0), (x1, y1)) = (known[above.saturating_sub(1)], known[above]);
    if x1 > x0 { y0 + (y1 - y0) * ((at - x0) / (x1 - x0)).clamp(0.0, 1.0) } else { y1 }
}

fn notes(desk: &Desk<'_>, explored: &Explored, paper: &mut Paper) {
    paper.blank();
    let unknown: Vec<String> =
        explored.limits.iter().filter(|limit| limit.limit.is_none()).map(|limit| format!("`{}`", limit.key)).collect();
    if !unknown.is_empty() {
        paper.item(
            "note:",
            &format!("The file does not state {}: there nothing is offered beyond what the truck has.", list(&unknown)),
        );
    }
    paper.item(
        "note:",
        "Holding is judged at usual values; `toothsayer change FILE --set ...` gives a combination its ranges and chances. \
         Joints stay as tight as they are. Gears two teeth either way are taken to be within the slots of the mount.",
    );
    paper.item(
        "caution:",
        "A weaker brake lengthens the way to a stop. Never more cells, motor speed or wheel speed than their makers allow. \
         Battery out before fingers go near gears. Estimates for hobby-size machines, not a design approval.",
    );
    if desk.global.explain {
        paper.heading("How the figures come about");
        paper.item("  estimate:", "kriging with Matern's covariance of smoothness 3/2 through 320 simulated trucks, each load case and phase of the lash by itself; length and nugget by leave-one-out");
        paper.item(
            "  smallest:",
            "fewest things changed, then fewest steps, then price; nothing on the way to a told one holds",
        );
        paper.item("  limits:", "docs/theory.md, \"Change explorer\"");
    }
}
