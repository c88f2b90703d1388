//! Reads a drawing back: shapes by id in mm, texts with the room they take.

use roxmltree::{Document, Node};
use toothsayer_figures::text_width;

/// Height of letters above and below the baseline over their size.
const ASCENT: f64 = 0.76;
const DESCENT: f64 = 0.24;

/// The number in an attribute.
pub fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).unwrap_or_else(|| panic!("no {name}")).parse().unwrap()
}

pub fn by_id<'a, 'i>(document: &'a Document<'i>, id: &str) -> Node<'a, 'i> {
    find(document, id).unwrap_or_else(|| panic!("nothing has the id {id}"))
}

pub fn find<'a, 'i>(document: &'a Document<'i>, id: &str) -> Option<Node<'a, 'i>> {
    document.descendants().find(|node| node.attribute("id") == Some(id))
}

/// Pixels of a millimetre at a shape, from the group that it lies in.
pub fn px_per_mm(node: Node<'_, '_>) -> f64 {
    let group = node.ancestors().find(|above| above.has_attribute("data-px-per-mm"));
    number(group.unwrap(), "data-px-per-mm")
}

/// The corners of a path's first line, px.
pub fn corners(path: Node<'_, '_>) -> Vec<[f64; 2]> {
    let d = path.attribute("d").unwrap();
    let first = d.trim_start_matches('M').split('M').next().unwrap();
    let pair = |text: &str| {
        let (x, y) = text.trim().split_once(' ').unwrap();
        [x.parse().unwrap(), y.parse().unwrap()]
    };
    first.trim_end_matches('Z').split('L').map(pair).collect()
}

/// A box on the sheet, px.
#[derive(Clone, Debug)]
pub struct TextBox {
    pub text: String,
    pub left: f64,
    pub right: f64,
    pub top: f64,
    pub bottom: f64,
}

impl TextBox {
    pub fn crosses(&self, other: &TextBox) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }
}

/// Every text with the room that it takes.
pub fn texts(document: &Document<'_>) -> Vec<TextBox> {
    let of = |node: Node<'_, '_>| {
        let text: String = node.text().unwrap_or("").trim().to_owned();
        let (x, y, size) = (number(node, "x"), number(node, "y"), number(node, "font-size"));
        let width = text_width(&text, size, node.has_attribute("font-weight"));
        let left = match node.attribute("text-anchor") {
            Some("middle") => x - width / 2.0,
            Some("end") => x - width,
            _ => x,
        };
        TextBox { text, left, right: left + width, top: y - ASCENT * size, bottom: y + DESCENT * size }
    };
    document.descendants().filter(|node| node.has_tag_name("text")).map(of).collect()
}

/// Nothing crosses anything, and nothing leaves the sheet.
#[track_caller]
pub fn check_texts(svg: &str) {
    let document = Document::parse(svg).unwrap();
    let view: Vec<f64> =
        document.root_element().attribute("viewBox").unwrap().split(' ').map(|n| n.parse().unwrap()).collect();
    let texts = texts(&document);
    assert!(!texts.is_empty());
    for (place, text) in texts.iter().enumerate() {
        let inside = text.left >= 0.0 && text.right <= view[2] && text.top >= 0.0 && text.bottom <= view[3];
        assert!(inside, "\"{}\" leaves the sheet of {view:?}: {text:?}", text.text);
        for other in &texts[place + 1..] {
            assert!(!text.crosses(other), "\"{}\" lies over \"{}\": {text:?}, {other:?}", text.text, other.text);
        }
    }
}
