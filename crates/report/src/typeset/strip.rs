//! Strips: what stays together on a page, with everything that is drawn in it.

use super::block::Tone;
use super::faces::Run;
use super::tags::NodeId;
use krilla::image::Image;
use resvg::usvg::Tree;
use toothsayer_figures::{Look, Role};

/// A colour by its role in the drawings' light look.
pub(crate) fn rgb(role: Role) -> [u8; 3] {
    let hex = role.colour(Look::Light);
    let part = |from: usize| hex.get(from..from + 2).and_then(|two| u8::from_str_radix(two, 16).ok()).unwrap_or(0);
    [part(1), part(3), part(5)]
}

/// Colour of a tone's words.
pub(crate) fn ink(tone: Tone) -> Role {
    match tone {
        Tone::Neutral => Role::Ink,
        Tone::Good => Role::Good,
        Tone::Doubt => Role::Doubt,
        Tone::Bad => Role::Bad,
    }
}

/// Colour behind a tone's notice.
pub(crate) fn tint(tone: Tone) -> Role {
    match tone {
        Tone::Neutral => Role::Paper,
        Tone::Good => Role::GoodTint,
        Tone::Doubt => Role::DoubtTint,
        Tone::Bad => Role::BadTint,
    }
}

/// A run at its place in a line.
#[derive(Clone, Debug)]
pub(crate) struct SetRun {
    pub run: Run,
    pub x_pt: f32,
    pub size_pt: f32,
    pub colour: [u8; 3],
}

/// What is drawn.
#[derive(Clone, Debug)]
pub(crate) enum Mark {
    /// Runs on one baseline.
    Line(Vec<SetRun>),
    /// A filled rectangle.
    Fill { width_pt: f32, height_pt: f32, colour: [u8; 3] },
    /// An empty box.
    Frame { width_pt: f32, height_pt: f32, colour: [u8; 3] },
    /// A drawing.
    Drawing { tree: Box<Tree>, width_pt: f32, height_pt: f32 },
    /// A photo.
    Photo { image: Image, width_pt: f32, height_pt: f32 },
    /// A square code, dark modules by row.
    Code { modules: Vec<Vec<bool>>, width_pt: f32 },
}

/// Something drawn at a place of its strip; without a node it is decoration.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    pub at_pt: [f32; 2],
    pub mark: Mark,
    pub node: Option<NodeId>,
}

/// What stays together.
#[derive(Clone, Debug, Default)]
pub(crate) struct Strip {
    pub height_pt: f32,
    pub placed: Vec<Placed>,
    /// Whether the next strip must stand on the same page.
    pub keep: bool,
    /// Empty space that a page does not begin with.
    pub space: bool,
    /// Heads to be drawn again where the strip begins a page.
    pub again: Option<Box<Strip>>,
    /// The heading that begins here.
    pub heading: Option<(u8, String)>,
}

impl Strip {
    pub(crate) fn space(height_pt: f32) -> Strip {
        Strip { height_pt, space: true, ..Strip::default() }
    }
}
