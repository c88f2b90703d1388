//! Tables: a strip for each row, the heads again on every page that the table reaches.

use super::block::{Head, Table, Words};
use super::lines::lines;
use super::measures::SMALL;
use super::setter::{Room, Setter, placed};
use super::strip::{Mark, Placed, Strip, rgb};
use super::tags::{NodeId, Role as Tagged};
use toothsayer_figures::Role;

/// Between two columns, and above and below the words of a row.
const GAP_PT: f32 = 8.0;
const ROW_PT: f32 = 2.2;
/// Most lines of a cell; a longer one ends with dots.
const MOST_LINES: usize = 14;

/// Sets a table.
pub(crate) fn table(setter: &mut Setter<'_, '_>, table: &Table) {
    let rooms = rooms(&table.heads, setter.column().width_pt);
    let node = setter.tags.add(None, Tagged::Table);
    let heads: Vec<Words> = table.heads.iter().map(|head| Words::strong(head.text.as_str())).collect();
    let row = setter.tags.add(Some(node), Tagged::Row);
    let mut head = strip(setter, table, &rooms, &heads, Some((row, true)));
    rule(&mut head, rooms.last().map_or(0.0, |room| room.x_pt + room.width_pt), 0.8, Role::Ink);
    let again = strip(setter, table, &rooms, &heads, None);
    head.keep = true;
    setter.strips.push(head);
    for cells in &table.rows {
        let row = setter.tags.add(Some(node), Tagged::Row);
        let mut strip = strip(setter, table, &rooms, cells, Some((row, false)));
        rule(&mut strip, rooms.last().map_or(0.0, |room| room.x_pt + room.width_pt), 0.35, Role::Line);
        strip.again = Some(Box::new(again.clone()));
        setter.strips.push(strip);
    }
    setter.space(8.0);
}

fn rooms(heads: &[Head], width_pt: f32) -> Vec<Room> {
    let all: f32 = heads.iter().map(|head| head.share).sum();
    let free_pt = width_pt - GAP_PT * heads.len().saturating_sub(1) as f32;
    let mut x_pt = 0.0;
    let room = |head: &Head| {
        let room = Room { x_pt, width_pt: free_pt * head.share / all };
        x_pt += room.width_pt + GAP_PT;
        room
    };
    heads.iter().map(room).collect()
}

fn rule(strip: &mut Strip, width_pt: f32, height_pt: f32, role: Role) {
    let mark = Mark::Fill { width_pt, height_pt, colour: rgb(role) };
    strip.placed.push(Placed { at_pt: [0.0, strip.height_pt - height_pt], mark, node: None });
}

/// A row; without a node it is decoration, for it was told before.
fn strip(
    setter: &mut Setter<'_, '_>,
    table: &Table,
    rooms: &[Room],
    cells: &[Words],
    row: Option<(NodeId, bool)>,
) -> Strip {
    let mut strip = Strip::default();
    let mut most = 1;
    for ((cell, room), head) in cells.iter().zip(rooms).zip(&table.heads) {
        let node = row
            .map(|(row, is_head)| setter.tags.add(Some(row), if is_head { Tagged::ColumnHead } else { Tagged::Cell }));
        let mut set = lines(setter.faces, cell, SMALL, room.width_pt);
        if set.len() > MOST_LINES {
            set.truncate(MOST_LINES - 1);
            set.extend(lines(setter.faces, &Words::from("…"), SMALL, room.width_pt));
        }
        most = most.max(set.len());
        for (place, line) in set.into_iter().enumerate() {
            let x_pt = room.x_pt + if head.right { room.width_pt - line.width_pt } else { 0.0 };
            strip.placed.push(placed(line, [x_pt, ROW_PT + place as f32 * SMALL.leading_pt], SMALL, node));
        }
    }
    strip.height_pt = most as f32 * SMALL.leading_pt + 2.0 * ROW_PT;
    strip
}
