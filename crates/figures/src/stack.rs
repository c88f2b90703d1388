//! The axial stack: what stands along the motor's shaft, each length with its tolerance, and what the gap makes of them.

use crate::bay::ShaftLengths;
use crate::canvas::{Canvas, Hatch, SMALL, Shape};
use crate::chart::{Axis, Columns, Measure, Placed, Row, rulings, scale, scale_title, tick};
use crate::frame::Frame;
use crate::theme::Role;
use crate::words::{sentence, state_words};
use crate::{Error, Figure};
use toothsayer_job::{Build, Fields};
use toothsayer_quantity::{Kind, Length};
use toothsayer_verdict::Staged;

/// One bar of the stack, mm from the mount's face.
struct Bar {
    name: &'static str,
    words: Vec<(String, Role)>,
    from: f64,
    to: f64,
    /// How far its outer end may lie off to each side.
    loose: f64,
    fill: Fill,
}

/// How a bar is filled.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Fill {
    Plain(Role),
    Cut,
    Wrong,
    /// A measured distance, no part.
    Distance,
}

/// The stack of one state, to scale.
pub fn axial_stack(truck: &str, stage: &Staged, frame: &Frame) -> Result<Figure, Error> {
    let build = stage.sheet.build().map_err(toothsayer_verdict::Error::from)?;
    let fields = &stage.sheet.fields;
    let lengths = ShaftLengths::of(&build, fields);
    let bars = bars(&build, fields, &lengths, frame);
    let title = format!("Stack on the motor's shaft, {}", state_words(stage.state));
    let mut canvas = Canvas::new("stack", frame);
    let y = canvas.heading(&title, &format!("{truck} · lengths from the mount's face outward, with their tolerances"));
    let area = canvas.area().below(y);
    let columns = Columns::of(area);
    let end = bars.iter().map(|bar| bar.to + bar.loose).fold(1.0, f64::max);
    let measure = Measure::of(Kind::Length, 1e-3 * end, frame.system);
    let axis = Axis::between([0.0, measure.count(1e-3 * end) * 1.02], columns.track());
    let y = scale_title(&mut canvas, &columns, y, &measure.titled("from the mount's face"));
    let mut y = scale(&mut canvas, &axis, y, tick) + 4.0;
    for bar in &bars {
        let row = Row { name: sentence(bar.name), under: String::new(), words: bar.words.clone() };
        let placed = columns.row(&mut canvas, y, &row);
        draw(&mut canvas, &axis, &placed, bar, |mm| measure.count(1e-3 * mm));
        y = placed.next;
    }
    if !lengths.usual.is_empty() {
        let text = format!("Drawn as usual, not given: {}.", lengths.usual.join(", "));
        y = canvas.paragraph(area.below(y + 2.0), SMALL, Role::Quiet, &text);
    }
    canvas.reach(y);
    let told: Vec<String> = bars.iter().map(|bar| format!("{}: {}", bar.name, bar.words[0].0)).collect();
    Ok(Figure::of(canvas, &title, &format!("{truck}. {}.", told.join("; "))))
}

/// Half of a stated range, mm.
fn tolerance(fields: &Fields, key: &str) -> f64 {
    fields.numbers.get(key).map_or(0.0, |entry| 1e3 * (entry.high - entry.low) / 2.0)
}

fn bars(build: &Build, fields: &Fields, lengths: &ShaftLengths, frame: &Frame) -> Vec<Bar> {
    let loose = |key: &str| tolerance(fields, key);
    let told = |mm: f64, loose: f64| {
        let length = frame.length(Length::mm(mm));
        let text = if loose > 0.0 { format!("{length} ± {}", frame.length(Length::mm(loose))) } else { length };
        vec![(text, Role::Ink)]
    };
    let mut bars = Vec::new();
    let spacer = loose("stack.spacer");
    if lengths.spacer > 0.0 {
        let words = told(lengths.spacer, spacer);
        bars.push(Bar {
            name: "spacer",
            words,
            from: 0.0,
            to: lengths.spacer,
            loose: spacer,
            fill: Fill::Plain(Role::Metal),
        });
    }
    let pinion = loose("stack.pinion_length");
    bars.push(Bar {
        name: "pinion with hub",
        words: told(lengths.pinion_end - lengths.spacer, pinion),
        from: lengths.spacer,
        to: lengths.pinion_end,
        loose: spacer + pinion,
        fill: Fill::Plain(Role::Metal),
    });
    for (name, [from, to], loose, role) in [
        ("pinion's toothed face", lengths.pinion_face, spacer + loose("stack.pinion_face_start"), Role::Metal),
        ("spur's toothed face", lengths.spur_face, loose("stack.spur_face_start"), Role::Metal2),
    ] {
        bars.push(Bar { name, words: told(to - from, 0.0), from, to, loose, fill: Fill::Plain(role) });
    }
    bars.push(overlap(build, lengths, frame));
    let cover = loose("stack.cover_bearing");
    bars.push(Bar {
        name: "cover's bearing",
        words: vec![(format!("from {} on", told(lengths.bearing_face, cover)[0].0), Role::Ink)],
        from: lengths.bearing_face,
        to: lengths.bearing_face + lengths.bearing_width,
        loose: cover,
        fill: Fill::Cut,
    });
    bars.push(gap(build, lengths, spacer + pinion + cover, frame));
    bars
}

fn overlap(build: &Build, lengths: &ShaftLengths, frame: &Frame) -> Bar {
    let [from, to] = lengths.meeting();
    let narrower = build.gears.pinion.face_width.to_mm().min(build.gears.spur.face_width.to_mm());
    let words = if to > from {
        let share = format!("{:.0} % of the narrower face", 100.0 * (to - from) / narrower);
        vec![(format!("{} meet", frame.length(Length::mm(to - from))), Role::Ink), (share, Role::Quiet)]
    } else {
        vec![("the faces miss each other".to_owned(), Role::Bad)]
    };
    Bar { name: "overlap", words, from: from.min(to), to: from.max(to), loose: 0.0, fill: Fill::Distance }
}

/// The gap with its range: worst case and root sum square, or what is wrong with it.
fn gap(build: &Build, lengths: &ShaftLengths, worst: f64, frame: &Frame) -> Bar {
    let gap = build.stack.gap.to_mm();
    let length = |mm: f64| frame.length(Length::mm(mm));
    let mut words = vec![match gap {
        gap if gap < 0.0 => (format!("presses by {}: the cover cannot seat", length(-gap)), Role::Bad),
        gap if gap > 1.0 => (format!("{}: the pinion can wander", length(gap)), Role::Bad),
        gap => (length(gap), Role::Ink),
    }];
    if worst > 0.0 {
        let likely = build.stack.gap_tolerance.to_mm();
        let range = format!("{} to {} at worst, likely ± {}", length(gap - worst), length(gap + worst), length(likely));
        words.push((range, if gap - worst < 0.0 { Role::Doubt } else { Role::Quiet }));
    }
    let ends = [lengths.pinion_end, lengths.bearing_face];
    let fill = if gap < 0.0 { Fill::Wrong } else { Fill::Distance };
    Bar { name: "gap to the bearing", words, from: ends[0].min(ends[1]), to: ends[0].max(ends[1]), loose: 0.0, fill }
}

/// Half the height of a bar, px.
const BAR: f64 = 7.0;

fn draw(canvas: &mut Canvas, axis: &Axis, placed: &Placed, bar: &Bar, count: impl Fn(f64) -> f64) {
    let y = placed.middle;
    let [from, to] = [bar.from, bar.to].map(|mm| axis.at(count(mm)));
    let mut group = Shape::group(canvas.id(bar.name)).told(&format!("{}: {}", bar.name, bar.words[0].0));
    group.push(rulings(canvas, axis, placed));
    let fill = match bar.fill {
        Fill::Plain(role) => Some(canvas.paint(role)),
        Fill::Cut => Some(canvas.hatch(Hatch::Cut)),
        Fill::Wrong => Some(canvas.hatch(Hatch::Bad)),
        Fill::Distance => None,
    };
    match fill {
        Some(fill) => {
            let body = Shape::rect([from, y - BAR], [to, y + BAR]);
            group.push(body.fill(fill).stroke(canvas.paint(Role::Ink), 1.0));
        }
        None => {
            let line = crate::bay::ticked([from, y], [to, y]);
            group.push(Shape::path(line).stroke(canvas.paint(bar.words[0].1), 1.8));
        }
    }
    if bar.loose > 0.0 {
        let end = if bar.fill == Fill::Cut { bar.from } else { bar.to };
        let [low, high] = [end - bar.loose, end + bar.loose].map(|mm| axis.at(count(mm)));
        let line = crate::bay::ticked([low, y], [high, y]);
        group.push(Shape::path(line).stroke(canvas.paint(Role::Accent), 1.4));
    }
    canvas.draw(group);
}
