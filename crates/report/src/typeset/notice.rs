//! Boxed notices: a bar at the left and a tint behind, cut cleanly where a page ends.

use super::block::{Notice, Tone, Words};
use super::measures::{BODY, SMALL};
use super::setter::Setter;
use super::strip::{Mark, Placed, Strip, ink, rgb, tint};
use super::tags::Role as Tagged;
use toothsayer_figures::Role;

/// Width of the bar, and from it to the words.
const BAR_PT: f32 = 3.0;
const INSET_PT: f32 = 11.0;

/// Sets a notice.
pub(crate) fn notice(setter: &mut Setter<'_, '_>, notice: &Notice) {
    setter.space(3.0);
    let from = setter.strips.len();
    let room = setter.column().inner(INSET_PT, 8.0);
    setter.strips.push(Strip { height_pt: 5.0, keep: true, ..Strip::default() });
    let node = setter.tags.add(None, Tagged::Notice);
    if !notice.title.is_empty() {
        let title = setter.tags.add(Some(node), Tagged::Paragraph);
        setter.text(&Words::toned(notice.title.as_str(), notice.tone), BODY, room, Some(title));
        setter.strips.iter_mut().skip(from).for_each(|strip| strip.keep = true);
    }
    let size = if notice.tone == Tone::Neutral { SMALL } else { BODY };
    for (place, words) in notice.lines.iter().enumerate() {
        let line = setter.tags.add(Some(node), Tagged::Paragraph);
        setter.text(words, size, room, Some(line));
        if place + 1 < notice.lines.len() {
            setter.strips.push(Strip { height_pt: 2.0, ..Strip::default() });
        }
    }
    if let Some(last) = setter.strips.last_mut() {
        last.keep = true;
    }
    setter.strips.push(Strip { height_pt: 5.0, ..Strip::default() });
    let width_pt = setter.column().width_pt;
    let back = if notice.tone == Tone::Neutral { Role::Metal } else { tint(notice.tone) };
    let bar = if notice.tone == Tone::Neutral { Role::Line } else { ink(notice.tone) };
    for strip in setter.strips.iter_mut().skip(from) {
        let height_pt = strip.height_pt;
        let fill = |width_pt: f32, role: Role| {
            let mark = Mark::Fill { width_pt, height_pt: height_pt + 0.05, colour: rgb(role) };
            Placed { at_pt: [0.0, 0.0], mark, node: None }
        };
        strip.placed.splice(0..0, [fill(width_pt, back), fill(BAR_PT, bar)]);
    }
    setter.space(8.0);
}
