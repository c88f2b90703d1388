//! HTML that cannot be injected into: text is escaped by its type, and only what is HTML already goes in as it is.

use std::fmt::Write as _;

/// A piece of HTML.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Html(String);

/// Elements that have no end and no content (HTML, 13.1.2).
const VOID: [&str; 6] = ["input", "link", "meta", "br", "hr", "img"];

impl Html {
    /// What another room wrote as HTML, its texts escaped there.
    pub(crate) fn written(html: String) -> Html {
        Html(html)
    }

    /// Pieces after each other.
    pub(crate) fn of(pieces: impl IntoIterator<Item = Html>) -> Html {
        pieces.into_iter().fold(Html::default(), |mut all, piece| {
            all.0.push_str(&piece.0);
            all
        })
    }

    /// The HTML.
    pub(crate) fn into_string(self) -> String {
        self.0
    }
}

/// An element under construction.
#[derive(Clone, Debug)]
pub(crate) struct Tag {
    name: &'static str,
    open: String,
    inner: String,
}

/// Begins an element.
pub(crate) fn tag(name: &'static str) -> Tag {
    Tag { name, open: format!("<{name}"), inner: String::new() }
}

impl Tag {
    /// With an attribute.
    pub(crate) fn with(mut self, name: &'static str, value: &str) -> Tag {
        let _ = write!(self.open, " {name}=\"{}\"", escaped(value));
        self
    }

    /// With an attribute that stands or does not.
    pub(crate) fn flag(mut self, name: &'static str, stands: bool) -> Tag {
        if stands {
            let _ = write!(self.open, " {name}");
        }
        self
    }

    /// Of a class.
    pub(crate) fn class(self, class: &str) -> Tag {
        self.with("class", class)
    }

    /// With a text in it.
    pub(crate) fn say(mut self, text: &str) -> Tag {
        self.inner.push_str(&escaped(text));
        self
    }

    /// With HTML in it.
    pub(crate) fn hold(mut self, html: impl Into<Html>) -> Tag {
        self.inner.push_str(&html.into().0);
        self
    }

    /// With some pieces in it.
    pub(crate) fn all(self, pieces: impl IntoIterator<Item = Html>) -> Tag {
        self.hold(Html::of(pieces))
    }
}

impl From<Tag> for Html {
    fn from(tag: Tag) -> Html {
        let Tag { name, open, inner } = tag;
        Html(if VOID.contains(&name) { format!("{open}>\n") } else { format!("{open}>{inner}</{name}>\n") })
    }
}

/// A text as it may stand in HTML and in its attributes.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\n' => safe.push('\n'),
            letter if letter.is_control() => safe.push(' '),
            letter => safe.push(letter),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(tag: Tag, expected: &str) {
        assert_eq!(Html::from(tag).into_string(), expected);
    }

    #[test]
    fn texts_and_attributes_are_escaped() {
        // HTML, 13.3: what must be escaped in text and in attributes in double quotes.
        check(
            tag("p").with("title", "\"><script>").say("a < b & 'c'"),
            "<p title=\"&quot;&gt;&lt;script&gt;\">a &lt; b &amp; &#39;c&#39;</p>\n",
        );
    }

    #[test]
    fn elements_hold_elements_and_void_ones_hold_nothing() {
        check(tag("p").hold(tag("b").say("x")).flag("hidden", true), "<p hidden><b>x</b>\n</p>\n");
        check(tag("input").with("name", "q").flag("required", false), "<input name=\"q\">\n");
    }
}
