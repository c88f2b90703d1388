//! The setter: blocks become strips, from the top of the paper to its end.

use super::block::{Block, Code, Fact, Item, List, Marker, Picture, Words};
use super::faces::Faces;
use super::lines::{Line, lines};
use super::measures::{BODY, HEADING, HEADING_2, MM, PaperSize, SMALL, Size, TITLE, baseline_pt};
use super::notice::notice;
use super::photo::photo;
use super::strip::{Mark, Placed, Strip, rgb};
use super::table::table;
use super::tags::{NodeId, Role as Tagged, Tags};
use crate::Error;
use crate::square_code::modules;
use resvg::usvg::Tree;
use toothsayer_figures::Role;

/// Lines of a paragraph that stay together at its ends.
const TOGETHER: usize = 2;
/// Width of a list's number with its box to tick.
const TICK_PT: f32 = 32.0;
/// Side of a box to tick.
const BOX_PT: f32 = 8.0;
/// Width of the names of facts, as a share of the text.
const NAMES: f32 = 0.24;
/// Side of a square code.
const CODE_MM: f32 = 30.0;

/// Where a text stands: from the left edge of the column, and how wide.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Room {
    pub x_pt: f32,
    pub width_pt: f32,
}

impl Room {
    pub(crate) fn inner(self, left_pt: f32, right_pt: f32) -> Room {
        Room { x_pt: self.x_pt + left_pt, width_pt: self.width_pt - left_pt - right_pt }
    }
}

/// A paper while it is set.
pub(crate) struct Setter<'a, 'f> {
    pub faces: &'a Faces<'f>,
    pub size: PaperSize,
    /// Share of the height that drawings may have.
    pub drawings: f32,
    pub tags: Tags,
    pub strips: Vec<Strip>,
}

impl Setter<'_, '_> {
    pub(crate) fn space(&mut self, height_pt: f32) {
        self.strips.push(Strip::space(height_pt));
    }

    /// The width of the text.
    pub(crate) fn column(&self) -> Room {
        Room { x_pt: 0.0, width_pt: self.size.text_pt() }
    }

    /// Sets a block.
    pub(crate) fn block(&mut self, block: &Block) -> Result<(), Error> {
        let column = self.column();
        match block {
            Block::Title { name, under } => self.title(name, under),
            Block::Heading { level, text } => self.heading(*level, text),
            Block::Text(words) => {
                let node = self.tags.add(None, Tagged::Paragraph);
                self.text(words, BODY, column, Some(node));
                self.space(5.0);
            }
            Block::Small(words) => {
                let node = self.tags.add(None, Tagged::Paragraph);
                self.text(words, SMALL, column, Some(node));
                self.space(4.0);
            }
            Block::List(list) => self.list(list, column, None),
            Block::Table(own) => table(self, own),
            Block::Picture(picture) => self.picture(picture)?,
            // For screens alone.
            Block::Wide(_) | Block::Narrow(_) => {}
            Block::Notice(own) => notice(self, own),
            Block::Facts(facts) => self.facts(facts),
            Block::Sign(labels) => self.sign(labels),
            Block::Code(code) => self.code(code)?,
            Block::Photo(own) => photo(self, own)?,
        }
        Ok(())
    }

    /// Lines of a text as strips of their own.
    pub(crate) fn text(&mut self, words: &Words, size: Size, room: Room, node: Option<NodeId>) {
        let set = lines(self.faces, words, size, room.width_pt);
        let count = set.len();
        for (place, line) in set.into_iter().enumerate() {
            // Neither the first nor the last line of a longer text stands alone.
            let keep = count > 1 && (place + 1 < TOGETHER || (place + TOGETHER >= count && place + 1 < count));
            let placed = vec![placed(line, [room.x_pt, 0.0], size, node)];
            self.strips.push(Strip { height_pt: size.leading_pt, placed, keep, ..Strip::default() });
        }
    }

    fn title(&mut self, name: &str, under: &str) {
        let (from, column) = (self.strips.len(), self.column());
        let node = self.tags.add(None, Tagged::Heading(1, name.to_owned()));
        self.text(&Words::strong(name), TITLE, column, Some(node));
        self.marked(from, 1, name);
        if !under.is_empty() {
            let node = self.tags.add(None, Tagged::Paragraph);
            self.text(&Words::quiet(under), BODY, column, Some(node));
        }
        let rule = Mark::Fill { width_pt: column.width_pt, height_pt: 0.8, colour: rgb(Role::Ink) };
        let placed = vec![Placed { at_pt: [0.0, 5.0], mark: rule, node: None }];
        self.strips.push(Strip { height_pt: 14.0, placed, ..Strip::default() });
    }

    fn heading(&mut self, level: u8, text: &str) {
        self.space(if level == 2 { 9.0 } else { 5.0 });
        let (from, column) = (self.strips.len(), self.column());
        let node = self.tags.add(None, Tagged::Heading(level, text.to_owned()));
        self.text(&Words::strong(text), if level == 2 { HEADING } else { HEADING_2 }, column, Some(node));
        self.marked(from, level, text);
        self.strips.iter_mut().skip(from).for_each(|strip| strip.keep = true);
        self.strips.push(Strip { keep: true, ..Strip::space(2.5) });
    }

    fn marked(&mut self, from: usize, level: u8, text: &str) {
        if let Some(strip) = self.strips.get_mut(from) {
            strip.heading = Some((level, text.to_owned()));
        }
    }

    /// A list, in a room of its own.
    pub(crate) fn list(&mut self, list: &List, room: Room, parent: Option<NodeId>) {
        let kind = if list.marker == Marker::Bullet { Tagged::BulletList } else { Tagged::NumberedList };
        let node = self.tags.add(parent, kind);
        for (place, item) in list.items.iter().enumerate() {
            self.item(list.marker, place + 1, item, room, node);
        }
        self.space(4.0);
    }

    fn item(&mut self, marker: Marker, number: usize, item: &Item, room: Room, list: NodeId) {
        let entry = self.tags.add(Some(list), Tagged::Entry);
        let label = self.tags.add(Some(entry), Tagged::Label);
        let body = self.tags.add(Some(entry), Tagged::Body);
        let (indent_pt, sign) = match marker {
            Marker::Bullet => (10.0, "•".to_owned()),
            Marker::Tick => (TICK_PT, format!("{number}.")),
        };
        let from = self.strips.len();
        let inner = room.inner(indent_pt, 0.0);
        let node = self.tags.add(Some(body), Tagged::Paragraph);
        self.text(&item.words, BODY, inner, Some(node));
        for words in &item.under {
            let node = self.tags.add(Some(body), Tagged::Paragraph);
            self.text(words, SMALL, inner, Some(node));
        }
        let x_pt = room.x_pt + if marker == Marker::Tick { BOX_PT + 6.0 } else { 0.0 };
        let line = lines(self.faces, &Words::from(sign), BODY, indent_pt).into_iter().next();
        let Some(strip) = self.strips.get_mut(from) else { return };
        let mark = line.map(|line| placed(line, [x_pt, 0.0], BODY, Some(label)));
        strip.placed.splice(0..0, mark);
        if marker == Marker::Tick {
            let mark = Mark::Frame { width_pt: BOX_PT, height_pt: BOX_PT, colour: rgb(Role::Ink) };
            strip.placed.push(Placed { at_pt: [room.x_pt, 2.5], mark, node: None });
        }
        // A step's first line does not stand alone above its figures.
        let last = self.strips.len() - 1;
        let few = last - from < 6;
        self.strips[from..last].iter_mut().for_each(|strip| strip.keep |= few);
        self.space(if item.under.is_empty() { 1.5 } else { 3.0 });
    }

    fn picture(&mut self, picture: &Picture) -> Result<(), Error> {
        let svg = self.faces.printable_svg(&picture.figure.svg);
        let unread = |error: resvg::usvg::Error| Error::Drawing { what: error.to_string() };
        let tree = Tree::from_str(&svg, &self.faces.drawing_options()).map_err(unread)?;
        let (wide, high) = (picture.figure.width_px as f32, picture.figure.height_px as f32);
        let column = self.column();
        let scale = (column.width_pt / wide).min(self.drawings * picture.highest_mm * MM / high);
        let [width_pt, height_pt] = [wide * scale, high * scale];
        let told = format!("{}. {}", picture.figure.title, picture.figure.description);
        let node = self.tags.add(None, Tagged::Figure(told));
        let mark = Mark::Drawing { tree: Box::new(tree), width_pt, height_pt };
        let at_pt = [0.5 * (column.width_pt - width_pt), 0.0];
        let placed = vec![Placed { at_pt, mark, node: Some(node) }];
        self.strips.push(Strip { height_pt, placed, ..Strip::default() });
        self.space(7.0);
        Ok(())
    }

    fn facts(&mut self, facts: &[Fact]) {
        let column = self.column();
        let name_pt = NAMES * column.width_pt;
        let node = self.tags.add(None, Tagged::Table);
        for fact in facts {
            let row = self.tags.add(Some(node), Tagged::Row);
            let head = self.tags.add(Some(row), Tagged::RowHead);
            let cell = self.tags.add(Some(row), Tagged::Cell);
            let from = self.strips.len();
            self.text(&fact.words, BODY, column.inner(name_pt, 0.0), Some(cell));
            let names = lines(self.faces, &Words::quiet(fact.name.as_str()), BODY, name_pt - 6.0);
            for (place, line) in names.into_iter().enumerate() {
                if from + place == self.strips.len() {
                    self.strips.push(Strip { height_pt: BODY.leading_pt, ..Strip::default() });
                }
                self.strips[from + place].placed.insert(0, placed(line, [0.0, 0.0], BODY, Some(head)));
            }
        }
        self.space(5.0);
    }

    fn sign(&mut self, labels: &[String]) {
        let column = self.column();
        self.strips.push(Strip { keep: true, ..Strip::space(26.0) });
        let gap_pt = 14.0;
        let count = labels.len().max(1) as f32;
        let width_pt = (column.width_pt - gap_pt * (count - 1.0)) / count;
        let mut strip = Strip { height_pt: 4.0 * SMALL.leading_pt, ..Strip::default() };
        for (place, label) in labels.iter().enumerate() {
            let x_pt = place as f32 * (width_pt + gap_pt);
            let rule = Mark::Fill { width_pt, height_pt: 0.7, colour: rgb(Role::Ink) };
            strip.placed.push(Placed { at_pt: [x_pt, 0.0], mark: rule, node: None });
            let node = self.tags.add(None, Tagged::Paragraph);
            let set = lines(self.faces, &Words::quiet(label.as_str()), SMALL, width_pt);
            for (line_place, line) in set.into_iter().take(3).enumerate() {
                let y_pt = 2.0 + line_place as f32 * SMALL.leading_pt;
                strip.placed.push(placed(line, [x_pt, y_pt], SMALL, Some(node)));
            }
        }
        self.strips.push(strip);
    }

    fn code(&mut self, code: &Code) -> Result<(), Error> {
        let modules = modules(&code.text)?;
        let side_pt = CODE_MM * MM;
        let node = self.tags.add(None, Tagged::Figure(format!("Square code that reads: {}", code.text)));
        let mark = Mark::Code { modules, width_pt: side_pt };
        let mut strip = Strip { height_pt: side_pt, ..Strip::default() };
        strip.placed.push(Placed { at_pt: [0.0, 0.0], mark, node: Some(node) });
        let room = self.column().inner(side_pt + 10.0, 0.0);
        let mut y_pt = 0.0;
        for (place, words) in code.beside.iter().enumerate() {
            let size = if place == 0 { HEADING } else { SMALL };
            let node = self.tags.add(None, Tagged::Paragraph);
            let most = if place == 0 { 2 } else { 3 };
            for line in lines(self.faces, words, size, room.width_pt).into_iter().take(most) {
                if y_pt + size.leading_pt <= side_pt {
                    strip.placed.push(placed(line, [room.x_pt, y_pt], size, Some(node)));
                    y_pt += size.leading_pt;
                }
            }
        }
        self.strips.push(strip);
        self.space(5.0);
        Ok(())
    }
}

/// A line at its place in a strip; `at_pt` is the corner of its leading.
pub(crate) fn placed(line: Line, [x_pt, y_pt]: [f32; 2], size: Size, node: Option<NodeId>) -> Placed {
    Placed { at_pt: [x_pt, y_pt + baseline_pt(size)], mark: Mark::Line(line.runs), node }
}
