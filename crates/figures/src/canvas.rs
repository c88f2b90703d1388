//! The sheet that a figure is drawn on: shapes, texts, hatchings, headings.

use crate::frame::Frame;
use crate::lettering::{ASCENT, Face};
use crate::theme::Role;
use svg::Node;
use svg::node::Text;
use svg::node::element::Element;

/// Sizes of texts, px.
pub(crate) const TITLE: Face = Face { size_px: 17.0, bold: true };
pub(crate) const HEAD: Face = Face { size_px: 13.0, bold: true };
pub(crate) const BODY: Face = Face { size_px: 12.0, bold: false };
pub(crate) const STRONG: Face = Face { size_px: 12.0, bold: true };
pub(crate) const SMALL: Face = Face { size_px: 11.0, bold: false };
/// From one line to the next, over the size.
pub(crate) const LEADING: f64 = 1.4;

/// Where a text's given place lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// The hatchings: nothing is told by colour alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Hatch {
    /// Cut metal.
    Cut,
    /// What fails: dense and crossed.
    Bad,
    /// What is tight: wide and slanted.
    Doubt,
}

/// An area that a panel may fill; it tells where it ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Area {
    pub x: f64,
    pub y: f64,
    pub width: f64,
}

impl Area {
    pub(crate) fn right(&self) -> f64 {
        self.x + self.width
    }

    pub(crate) fn below(self, y: f64) -> Area {
        Area { y, ..self }
    }
}

/// One element with its attributes.
pub(crate) struct Shape(pub Element);

impl Shape {
    pub(crate) fn group(id: impl Into<String>) -> Shape {
        Shape(Element::new("g")).with("id", id.into())
    }

    /// A group that nothing attaches to.
    pub(crate) fn plain_group() -> Shape {
        Shape(Element::new("g"))
    }

    pub(crate) fn path(d: impl Into<String>) -> Shape {
        Shape(Element::new("path")).with("d", d.into()).with("fill", "none".to_owned())
    }

    pub(crate) fn line(from: [f64; 2], to: [f64; 2]) -> Shape {
        Shape::path(polyline(&[from, to], false))
    }

    pub(crate) fn circle([x, y]: [f64; 2], r: f64) -> Shape {
        Shape(Element::new("circle")).number("cx", x).number("cy", y).number("r", r).with("fill", "none".to_owned())
    }

    /// A rectangle between two opposite corners.
    pub(crate) fn rect([x0, y0]: [f64; 2], [x1, y1]: [f64; 2]) -> Shape {
        Shape(Element::new("rect"))
            .number("x", x0.min(x1))
            .number("y", y0.min(y1))
            .number("width", (x1 - x0).abs())
            .number("height", (y1 - y0).abs())
            .with("fill", "none".to_owned())
    }

    pub(crate) fn with(mut self, name: &'static str, value: impl Into<String>) -> Shape {
        self.0.assign(name, value.into());
        self
    }

    pub(crate) fn number(self, name: &'static str, value: f64) -> Shape {
        self.with(name, short(value))
    }

    pub(crate) fn fill(self, paint: impl Into<String>) -> Shape {
        self.with("fill", paint)
    }

    pub(crate) fn stroke(self, paint: impl Into<String>, width: f64) -> Shape {
        self.with("stroke", paint).number("stroke-width", width)
    }

    pub(crate) fn dashed(self, lengths: &[f64]) -> Shape {
        let lengths: Vec<String> = lengths.iter().map(|length| short(*length)).collect();
        self.with("stroke-dasharray", lengths.join(" "))
    }

    pub(crate) fn push(&mut self, child: Shape) {
        self.0.append(child.0);
    }

    /// The shape as a link.
    pub(crate) fn leading_to(self, address: &str, label: &str) -> Shape {
        let mut link = Shape(Element::new("a")).with("href", address).with("aria-label", clean(label));
        link.push(self);
        link
    }

    /// The shape as a link for pointers alone, beside one that keyboards and screen readers reach.
    pub(crate) fn touched(self, address: &str) -> Shape {
        let mut link =
            Shape(Element::new("a")).with("href", address).with("tabindex", "-1").with("aria-hidden", "true");
        link.push(self);
        link
    }

    /// What a pointer is told that rests on it, and a screen reader.
    pub(crate) fn told(mut self, text: &str) -> Shape {
        let mut title = Element::new("title");
        title.append(Text::new(clean(text)));
        self.0.append(title);
        self
    }
}

/// A number without more digits than a drawing needs.
pub(crate) fn short(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".into() } else { text.to_owned() }
}

/// Corners as a path.
pub(crate) fn polyline(points: &[[f64; 2]], closed: bool) -> String {
    let mut d = String::with_capacity(points.len() * 16);
    for (place, [x, y]) in points.iter().enumerate() {
        d.push(if place == 0 { 'M' } else { 'L' });
        d.push_str(&short(*x));
        d.push(' ');
        d.push_str(&short(*y));
    }
    if closed {
        d.push('Z');
    }
    d
}

/// A text that any XML takes: what controls a terminal becomes a space.
pub(crate) fn clean(text: &str) -> String {
    text.chars().map(|letter| if letter.is_control() || letter >= '\u{fffe}' { ' ' } else { letter }).collect()
}

/// A line of text with its place.
pub(crate) struct Line<'a> {
    pub at: [f64; 2],
    pub anchor: Anchor,
    pub face: Face,
    pub role: Role,
    pub text: &'a str,
}

/// A sheet that grows downwards.
pub(crate) struct Canvas {
    pub id: String,
    pub frame: Frame,
    shapes: Vec<Element>,
    motion: String,
    bottom_px: f64,
}

impl Canvas {
    pub(crate) fn new(id: &str, frame: &Frame) -> Canvas {
        let id = match frame.within.variant {
            "" => id.to_owned(),
            variant => format!("{variant}-{id}"),
        };
        Canvas { id, frame: *frame, shapes: Vec::new(), motion: String::new(), bottom_px: 0.0 }
    }

    pub(crate) fn paint(&self, role: Role) -> String {
        self.frame.look.paint(role)
    }

    pub(crate) fn hatch(&self, hatch: Hatch) -> String {
        format!("url(#{}-hatch-{})", self.id, hatch.name())
    }

    /// An id within the figure.
    pub(crate) fn id(&self, part: &str) -> String {
        let plain: String =
            part.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
        format!("{}-{plain}", self.id)
    }

    pub(crate) fn draw(&mut self, shape: Shape) {
        self.shapes.push(shape.0);
    }

    /// The sheet reaches at least this far down.
    pub(crate) fn reach(&mut self, y_px: f64) {
        self.bottom_px = self.bottom_px.max(y_px);
    }

    /// Moves a part evenly from where it is to `to`, again and again; not for readers who ask for less motion.
    pub(crate) fn animate(&mut self, part: &str, also: &str, to: &str, seconds: f64) {
        let id = self.id(part);
        self.motion.push_str(&format!(
            "@keyframes {id}{{to{{transform:{to}}}}}\n\
             @media (prefers-reduced-motion:no-preference){{#{id}{{{also};animation:{id} {seconds}s linear infinite}}}}\n"
        ));
    }

    pub(crate) fn height_px(&self) -> f64 {
        self.bottom_px + self.frame.edge_px()
    }

    /// The whole sheet between its edges.
    pub(crate) fn area(&self) -> Area {
        let edge = self.frame.edge_px();
        Area { x: edge, y: edge, width: self.frame.width_px() - 2.0 * edge }
    }

    /// One line of text; its place is the baseline.
    pub(crate) fn text(&mut self, line: &Line<'_>) {
        let anchor = match line.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let mut element = Element::new("text");
        element.assign("x", short(line.at[0]));
        element.assign("y", short(line.at[1]));
        element.assign("font-size", short(line.face.size_px));
        element.assign("fill", self.paint(line.role));
        if line.face.bold {
            element.assign("font-weight", "700");
        }
        if line.anchor != Anchor::Start {
            element.assign("text-anchor", anchor);
        }
        element.append(Text::new(clean(line.text)));
        self.reach(line.at[1] + 0.3 * line.face.size_px);
        self.shapes.push(element);
    }

    /// Text from the left, in as many lines as it needs; gives where the next one may begin.
    pub(crate) fn paragraph(&mut self, area: Area, face: Face, role: Role, text: &str) -> f64 {
        let mut y = area.y;
        for line in face.wrap(&clean(text), area.width) {
            let at = [area.x, y + ASCENT * face.size_px];
            self.text(&Line { at, anchor: Anchor::Start, face, role, text: &line });
            y += LEADING * face.size_px;
        }
        y
    }

    /// Title and what is under it; gives where the drawing may begin.
    pub(crate) fn heading(&mut self, title: &str, under: &str) -> f64 {
        let area = self.area();
        let y = self.paragraph(area, TITLE, Role::Ink, title);
        self.paragraph(area.below(y), BODY, Role::Quiet, under) + 8.0
    }

    /// A numbered ring around its middle; a solid one where the part fails.
    pub(crate) fn number_ring(&mut self, [x, y]: [f64; 2], number: usize, fails: bool) {
        let (fill, ink) = if fails { (Role::Bad, Role::Paper) } else { (Role::Paper, Role::Ink) };
        let stroke = self.paint(if fails { Role::Bad } else { Role::Ink });
        self.draw(Shape::circle([x, y], RING).fill(self.paint(fill)).stroke(stroke, 1.0));
        let face = Face { size_px: 11.0, bold: true };
        let text = number.to_string();
        self.text(&Line { at: [x, y + 4.0], anchor: Anchor::Middle, face, role: ink, text: &text });
    }

    /// Everything on its paper, hatchings first.
    pub(crate) fn finish(self, height_px: f64) -> Vec<Element> {
        let style = (!self.frame.within.styled).then(|| {
            let mut style = Element::new("style");
            style.append(svg::node::Text::new(self.frame.look.style() + &self.motion));
            style
        });
        let mut defs = Shape(Element::new("defs"));
        for hatch in [Hatch::Cut, Hatch::Bad, Hatch::Doubt] {
            defs.push(self.pattern(hatch));
        }
        let paper = Shape::rect([0.0, 0.0], [self.frame.width_px(), height_px]).fill(self.paint(Role::Paper));
        style.into_iter().chain([defs.0, paper.0]).chain(self.shapes).collect()
    }

    fn pattern(&self, hatch: Hatch) -> Shape {
        let (step, role, back, crossed) = match hatch {
            Hatch::Cut => (5.0, Role::Line, Role::Metal, false),
            Hatch::Bad => (4.0, Role::Bad, Role::BadTint, true),
            Hatch::Doubt => (6.0, Role::Doubt, Role::DoubtTint, false),
        };
        let mut pattern = Shape(Element::new("pattern"))
            .with("id", format!("{}-hatch-{}", self.id, hatch.name()))
            .number("width", step)
            .number("height", step)
            .with("patternUnits", "userSpaceOnUse")
            .with("patternTransform", "rotate(45)");
        pattern.push(Shape::rect([0.0, 0.0], [step, step]).fill(self.paint(back)));
        pattern.push(Shape::line([0.0, 0.0], [0.0, step]).stroke(self.paint(role), 0.8));
        if crossed {
            pattern.push(Shape::line([0.0, 0.0], [step, 0.0]).stroke(self.paint(role), 0.8));
        }
        pattern
    }
}

/// Radius of a numbered ring, px.
pub(crate) const RING: f64 = 10.0;

impl Hatch {
    fn name(self) -> &'static str {
        match self {
            Hatch::Cut => "cut",
            Hatch::Bad => "bad",
            Hatch::Doubt => "doubt",
        }
    }
}
