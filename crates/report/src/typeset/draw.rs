//! Pages to PDF: drawn, tagged for screen readers, checked against PDF/UA-1 (ISO 14289-1) while it is written.

use super::block::{Block, Style, Words};
use super::faces::Faces;
use super::flow::{OnPage, pages};
use super::lines::lines;
use super::measures::{MM, PaperSize, SMALL, baseline_pt};
use super::setter::Setter;
use super::strip::{Mark, Placed, SetRun, rgb};
use super::tags::Tags;
use crate::Error;
use krilla::color::rgb::Color;
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Rect, Size, Transform};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag};
use krilla::{Document, SerializeSettings};
use krilla_svg::{SurfaceExt, SvgSettings};
use toothsayer_figures::Role;

/// A paper to be written.
pub(crate) struct Paper<'a> {
    /// Its title, as readers show it.
    pub title: String,
    /// What stands at the foot of every page beside the number.
    pub foot: String,
    /// The sheet.
    pub size: PaperSize,
    /// How short it should be.
    pub length: Length,
    /// What stands in it.
    pub blocks: &'a [Block],
}

/// How short a paper should be: drawings are made smaller for it, within reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Length {
    /// As it comes, with drawings at their full height.
    Any,
    /// So many pages at most.
    AtMost(usize),
    /// As few pages as smaller drawings can make of it: no page stays half empty because one did not fit.
    Shortest,
}

/// Shares of their height that drawings are set at, until a paper is as short as it should be.
const SHARES: [f32; 6] = [0.92, 0.85, 0.77, 0.7, 0.62, 0.55];

/// The paper as PDF, the same bytes for the same content.
pub(crate) fn pdf(paper: &Paper<'_>, faces: &Faces<'_>) -> Result<Vec<u8>, Error> {
    let (pages, tags) = shortened(paper, faces)?;
    let mut writer = Writer { paper, faces, tags };
    let mut document = Document::new_with(settings()?);
    document.set_outline(outline(&pages, paper));
    for (place, page) in pages.iter().enumerate() {
        writer.page(&mut document, page, [place + 1, pages.len()])?;
    }
    document.set_tag_tree(writer.tags.tree());
    let metadata = Metadata::new().title(paper.title.clone()).language("en".into()).creator("Toothsayer".into());
    document.set_metadata(metadata);
    let pdf = document.finish().map_err(|error| Error::Pdf { what: format!("{error:?}") })?;
    Ok(without_suspects(pdf))
}

/// Blanks the entry that says "no suspect tags": that is what a reader takes where it is missing (ISO 32000-1, table 321),
/// and some readers warn of it where it stands. The length stays, so that every place in the file does too.
fn without_suspects(mut pdf: Vec<u8>) -> Vec<u8> {
    const ENTRY: &[u8] = b"/Suspects false";
    if let Some(place) = pdf.windows(ENTRY.len()).position(|bytes| bytes == ENTRY) {
        pdf[place..place + ENTRY.len()].fill(b' ');
    }
    pdf
}

/// Pages with the tree of what they hold.
type Set = (Vec<Vec<OnPage>>, Tags);

/// The paper's pages, with smaller drawings where that makes it as short as it should be.
fn shortened(paper: &Paper<'_>, faces: &Faces<'_>) -> Result<Set, Error> {
    let most = match paper.length {
        Length::Any => return set(paper, faces, 1.0),
        Length::AtMost(most) => most,
        Length::Shortest => set(paper, faces, SHARES[SHARES.len() - 1])?.0.len(),
    };
    let full = set(paper, faces, 1.0)?;
    if full.0.len() <= most {
        return Ok(full);
    }
    for share in SHARES {
        let smaller = set(paper, faces, share)?;
        if smaller.0.len() <= most {
            return Ok(smaller);
        }
    }
    Ok(full)
}

/// The paper's pages, with drawings at a share of the height that they may have.
fn set(paper: &Paper<'_>, faces: &Faces<'_>, drawings: f32) -> Result<Set, Error> {
    let mut setter = Setter { faces, size: paper.size, drawings, tags: Tags::default(), strips: Vec::new() };
    paper.blocks.iter().try_for_each(|block| setter.block(block))?;
    Ok((pages(setter.strips, paper.size.column_pt()), setter.tags))
}

fn settings() -> Result<SerializeSettings, Error> {
    let configuration = ConfigurationBuilder::new().with_accessibility_validator(Accessibility::UA1).finish();
    let configuration = configuration.map_err(|error| Error::Pdf { what: format!("{error:?}") })?;
    Ok(SerializeSettings { configuration, enable_tagging: true, ..SerializeSettings::default() })
}

/// The headings, for a reader's side bar.
fn outline(pages: &[Vec<OnPage>], paper: &Paper<'_>) -> Outline {
    let mut outline = Outline::new();
    let margin_pt = paper.size.margin_pt();
    for (place, page) in pages.iter().enumerate() {
        for one in page {
            if let Some((level, text)) = &one.strip.heading
                && *level <= 2
            {
                let at = XyzDestination::new(place, Point::from_xy(margin_pt, margin_pt + one.y_pt));
                outline.push_child(OutlineNode::new(text.clone(), at));
            }
        }
    }
    outline
}

struct Writer<'a> {
    paper: &'a Paper<'a>,
    faces: &'a Faces<'a>,
    tags: Tags,
}

impl Writer<'_> {
    fn page(&mut self, document: &mut Document, strips: &[OnPage], numbers: [usize; 2]) -> Result<(), Error> {
        let [width_pt, height_pt] = self.paper.size.pt();
        let sheet = PageSettings::from_wh(width_pt, height_pt);
        let sheet = sheet.ok_or_else(|| Error::Pdf { what: "the sheet has no size".into() })?;
        let mut page = document.start_page_with(sheet);
        let mut surface = page.surface();
        let margin_pt = self.paper.size.margin_pt();
        for one in strips {
            for placed in &one.strip.placed {
                let at_pt = [margin_pt + placed.at_pt[0], margin_pt + one.y_pt + placed.at_pt[1]];
                self.draw(&mut surface, placed, at_pt);
            }
        }
        if self.paper.size.has_foot() {
            self.foot(&mut surface, numbers);
        }
        surface.finish();
        page.finish();
        Ok(())
    }

    fn draw(&mut self, surface: &mut Surface<'_>, placed: &Placed, at_pt: [f32; 2]) {
        let tag = match (&placed.mark, placed.node) {
            (_, None) => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            (Mark::Line(_), Some(_)) => ContentTag::Span(SpanTag::empty()),
            (_, Some(_)) => ContentTag::Other,
        };
        let piece = surface.start_tagged(tag);
        mark(surface, &placed.mark, at_pt);
        surface.end_tagged();
        if let Some(node) = placed.node {
            self.tags.draw(node, piece);
        }
    }

    /// The line at the foot: which paper, which page of how many.
    fn foot(&mut self, surface: &mut Surface<'_>, [page, of]: [usize; 2]) {
        let [_, height_pt] = self.paper.size.pt();
        let (margin_pt, room_pt) = (self.paper.size.margin_pt(), self.paper.size.text_pt());
        let y_pt = height_pt - margin_pt + 4.0 * MM;
        let number = format!("page {page} of {of}");
        let number_pt = self.faces.width_em(&number, Style::Quiet) * SMALL.size_pt;
        let words =
            |text: &str, room_pt: f32| lines(self.faces, &Words::quiet(text), SMALL, room_pt).into_iter().next();
        let parts = [
            (words(&self.paper.foot, room_pt - number_pt - 20.0), margin_pt),
            (words(&number, room_pt), margin_pt + room_pt - number_pt),
        ];
        surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Footer)));
        fill(surface, rgb(Role::Line), &rectangle([margin_pt, y_pt, room_pt, 0.4]));
        for (line, x_pt) in parts {
            let runs = line.map_or_else(Vec::new, |line| line.runs);
            mark(surface, &Mark::Line(runs), [x_pt, y_pt + 2.0 + baseline_pt(SMALL)]);
        }
        surface.end_tagged();
    }
}

fn mark(surface: &mut Surface<'_>, mark: &Mark, [x_pt, y_pt]: [f32; 2]) {
    match mark {
        Mark::Line(runs) => runs.iter().for_each(|run| letters(surface, run, [x_pt, y_pt])),
        Mark::Fill { width_pt, height_pt, colour } => {
            fill(surface, *colour, &rectangle([x_pt, y_pt, *width_pt, *height_pt]));
        }
        Mark::Frame { width_pt, height_pt, colour } => {
            surface.set_fill(None);
            surface.set_stroke(Some(Stroke { paint: paint(*colour), width: 0.8, ..Stroke::default() }));
            rectangle([x_pt, y_pt, *width_pt, *height_pt]).iter().for_each(|path| surface.draw_path(path));
            surface.set_stroke(None);
        }
        Mark::Drawing { tree, width_pt, height_pt } => {
            let Some(size) = Size::from_wh(*width_pt, *height_pt) else { return };
            surface.push_transform(&Transform::from_translate(x_pt, y_pt));
            surface.draw_svg(tree, size, SvgSettings::default());
            surface.pop();
        }
        Mark::Photo { image, width_pt, height_pt } => {
            let Some(size) = Size::from_wh(*width_pt, *height_pt) else { return };
            surface.push_transform(&Transform::from_translate(x_pt, y_pt));
            surface.draw_image(image.clone(), size);
            surface.pop();
        }
        Mark::Code { modules, width_pt } => {
            let mut path = PathBuilder::new();
            let side_pt = width_pt / modules.len().max(1) as f32;
            let dark = modules.iter().enumerate().flat_map(|(row, modules)| {
                modules.iter().enumerate().filter(|(_, dark)| **dark).map(move |(column, _)| (row, column))
            });
            for (row, column) in dark {
                let [x, y] = [x_pt + column as f32 * side_pt, y_pt + row as f32 * side_pt];
                Rect::from_xywh(x, y, side_pt, side_pt).into_iter().for_each(|module| path.push_rect(module));
            }
            fill(surface, [0, 0, 0], &path.finish());
        }
    }
}

fn letters(surface: &mut Surface<'_>, set: &SetRun, [x_pt, y_pt]: [f32; 2]) {
    let SetRun { run, size_pt, colour, .. } = set;
    surface.set_fill(Some(Fill { paint: paint(*colour), ..Fill::default() }));
    surface.set_stroke(None);
    let at = Point::from_xy(x_pt + set.x_pt, y_pt);
    surface.draw_glyphs(at, &run.glyphs, run.font.clone(), &run.text, *size_pt, false);
}

fn paint([red, green, blue]: [u8; 3]) -> krilla::paint::Paint {
    Color::new(red, green, blue).into()
}

fn rectangle([x_pt, y_pt, width_pt, height_pt]: [f32; 4]) -> Option<Path> {
    let mut path = PathBuilder::new();
    path.push_rect(Rect::from_xywh(x_pt, y_pt, width_pt, height_pt)?);
    path.finish()
}

fn fill(surface: &mut Surface<'_>, colour: [u8; 3], path: &Option<Path>) {
    surface.set_stroke(None);
    surface.set_fill(Some(Fill { paint: paint(colour), rule: FillRule::NonZero, ..Fill::default() }));
    path.iter().for_each(|path| surface.draw_path(path));
}
