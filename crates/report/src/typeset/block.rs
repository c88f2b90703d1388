//! What a paper is made of: the words for titles, texts, lists, tables, pictures, boxed notices, lines to sign.

use crate::papers::Photo;
use toothsayer_figures::Figure;

/// How a piece of text is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Style {
    Plain,
    Strong,
    Quiet,
}

/// How a word stands: told by its letters too, never by colour alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Tone {
    Neutral,
    Good,
    Doubt,
    Bad,
}

/// A piece of text of one style and tone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Span {
    pub text: String,
    pub style: Style,
    pub tone: Tone,
}

/// A text in pieces.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Words(pub Vec<Span>);

impl Words {
    pub(crate) fn strong(text: impl Into<String>) -> Words {
        Words::default().and_strong(text)
    }

    pub(crate) fn quiet(text: impl Into<String>) -> Words {
        Words::default().with(text, Style::Quiet, Tone::Neutral)
    }

    pub(crate) fn toned(text: impl Into<String>, tone: Tone) -> Words {
        Words::default().with(text, Style::Strong, tone)
    }

    pub(crate) fn and(self, text: impl Into<String>) -> Words {
        self.with(text, Style::Plain, Tone::Neutral)
    }

    pub(crate) fn and_strong(self, text: impl Into<String>) -> Words {
        self.with(text, Style::Strong, Tone::Neutral)
    }

    pub(crate) fn and_quiet(self, text: impl Into<String>) -> Words {
        self.with(text, Style::Quiet, Tone::Neutral)
    }

    pub(crate) fn and_toned(self, text: impl Into<String>, tone: Tone) -> Words {
        self.with(text, Style::Strong, tone)
    }

    fn with(mut self, text: impl Into<String>, style: Style, tone: Tone) -> Words {
        let text = text.into();
        if !text.is_empty() {
            self.0.push(Span { text, style, tone });
        }
        self
    }
}

impl From<&str> for Words {
    fn from(text: &str) -> Words {
        Words::default().and(text)
    }
}

impl From<String> for Words {
    fn from(text: String) -> Words {
        Words::default().and(text)
    }
}

/// What stands before the entries of a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Marker {
    Bullet,
    /// A number with a box to tick.
    Tick,
}

/// An entry of a list, with smaller lines under it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Item {
    pub words: Words,
    pub under: Vec<Words>,
}

impl From<Words> for Item {
    fn from(words: Words) -> Item {
        Item { words, under: Vec::new() }
    }
}

/// A list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct List {
    pub marker: Marker,
    pub items: Vec<Item>,
}

/// Head of a column.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Head {
    pub text: String,
    /// Share of the table's width.
    pub share: f32,
    /// Whether its cells stand to the right, as numbers do.
    pub right: bool,
}

impl Head {
    pub(crate) fn left(text: &str, share: f32) -> Head {
        Head { text: text.to_owned(), share, right: false }
    }

    pub(crate) fn right(text: &str, share: f32) -> Head {
        Head { text: text.to_owned(), share, right: true }
    }
}

/// A table with heads.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Table {
    pub heads: Vec<Head>,
    pub rows: Vec<Vec<Words>>,
}

/// A drawing.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Picture {
    pub figure: Figure,
    /// The highest that it may stand, mm; it becomes smaller where it would be higher.
    pub highest_mm: f32,
}

/// A boxed notice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Notice {
    pub tone: Tone,
    pub title: String,
    pub lines: Vec<Words>,
}

/// A name with what it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Fact {
    pub name: String,
    pub words: Words,
}

/// A square code for cameras (ISO/IEC 18004) with words beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Code {
    pub text: String,
    pub beside: Vec<Words>,
}

/// A block of a paper.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Block {
    Title {
        name: String,
        under: String,
    },
    Heading {
        level: u8,
        text: String,
    },
    Text(Words),
    Small(Words),
    List(List),
    Table(Table),
    Picture(Picture),
    /// A drawing for screens, and the same for narrow ones.
    Wide(Figure),
    Narrow(Figure),
    Notice(Notice),
    Facts(Vec<Fact>),
    /// Lines to write on, each with what belongs there.
    Sign(Vec<String>),
    Code(Code),
    /// A photo with its words.
    Photo(Photo),
}

impl Block {
    pub(crate) fn heading(text: impl Into<String>) -> Block {
        Block::Heading { level: 2, text: text.into() }
    }

    pub(crate) fn sub_heading(text: impl Into<String>) -> Block {
        Block::Heading { level: 3, text: text.into() }
    }

    pub(crate) fn text(words: impl Into<Words>) -> Block {
        Block::Text(words.into())
    }

    pub(crate) fn small(words: impl Into<Words>) -> Block {
        Block::Small(words.into())
    }

    pub(crate) fn bullets(items: impl IntoIterator<Item = Item>) -> Block {
        Block::List(List { marker: Marker::Bullet, items: items.into_iter().collect() })
    }
}
