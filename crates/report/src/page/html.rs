//! Blocks as HTML: the same content as on paper, in the elements that browsers and screen readers know.

use crate::typeset::{Block, Item, List, Marker, Notice, Style, Table, Tone, Words, splits_number_and_unit};
use toothsayer_figures::Figure;

/// A text within HTML; a number keeps its unit.
pub(crate) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for (place, letter) in text.char_indices() {
        match letter {
            ' ' if splits_number_and_unit(text, place + 1) => safe.push('\u{a0}'),
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '\n' => safe.push_str("<br>"),
            '"' => safe.push_str("&quot;"),
            letter if letter.is_control() => safe.push(' '),
            letter => safe.push(letter),
        }
    }
    safe
}

/// A block; `id` is that of its section.
pub(crate) fn block(block: &Block, id: &str) -> String {
    match block {
        Block::Title { name, .. } => format!("<h1>{}</h1>\n", escaped(name)),
        Block::Heading { text, .. } => format!("<h3>{}</h3>\n", escaped(text)),
        Block::Text(words) => format!("<p>{}</p>\n", inline(words)),
        Block::Small(words) => format!("<p class=\"small\">{}</p>\n", inline(words)),
        Block::List(own) => list(own),
        Block::Table(own) => table(own, id),
        Block::Wide(figure) => format!("<figure class=\"wide\">\n{}\n</figure>\n", figure.svg),
        Block::Narrow(figure) => {
            format!("<figure class=\"narrow\">\n{}\n</figure>\n{}", figure.svg, told(figure))
        }
        Block::Picture(picture) => format!("<figure>\n{}\n</figure>\n", picture.figure.svg),
        Block::Notice(own) => notice(own),
        Block::Facts(facts) => {
            let rows = facts
                .iter()
                .map(|fact| format!("<div><dt>{}</dt><dd>{}</dd></div>\n", escaped(&fact.name), inline(&fact.words)));
            format!("<dl class=\"facts\">\n{}</dl>\n", rows.collect::<String>())
        }
        Block::Sign(_) | Block::Code(_) | Block::Photo(_) => String::new(),
    }
}

/// What is to be seen, in words, behind a fold.
fn told(figure: &Figure) -> String {
    let words = escaped(&figure.description);
    format!("<details>\n<summary>This drawing in words</summary>\n<p>{words}</p>\n</details>\n")
}

fn inline(words: &Words) -> String {
    let span = |span: &crate::typeset::Span| {
        let text = escaped(&span.text);
        match (span.style, span.tone) {
            (Style::Plain, _) => text,
            (Style::Quiet, _) => format!("<span class=\"quiet\">{text}</span>"),
            (Style::Strong, Tone::Neutral) => format!("<strong>{text}</strong>"),
            (Style::Strong, tone) => format!("<strong class=\"{}\">{text}</strong>", class(tone)),
        }
    };
    words.0.iter().map(span).collect()
}

fn class(tone: Tone) -> &'static str {
    match tone {
        Tone::Neutral => "plain",
        Tone::Good => "good",
        Tone::Doubt => "doubt",
        Tone::Bad => "bad",
    }
}

fn list(list: &List) -> String {
    let kind = if list.marker == Marker::Bullet { "ul" } else { "ol" };
    let item = |item: &Item| {
        let under: String =
            item.under.iter().map(|words| format!("<p class=\"small\">{}</p>", inline(words))).collect();
        format!("<li>{}{under}</li>\n", inline(&item.words))
    };
    format!("<{kind}>\n{}</{kind}>\n", list.items.iter().map(item).collect::<String>())
}

/// A table that scrolls by itself where the page is narrow, with the keyboard too.
fn table(table: &Table, id: &str) -> String {
    let heads = table.heads.iter().map(|head| {
        let class = if head.right { " class=\"right\"" } else { "" };
        format!("<th scope=\"col\"{class}>{}</th>", escaped(&head.text))
    });
    let row = |cells: &Vec<Words>| {
        let cells = cells.iter().zip(&table.heads).map(|(cell, head)| {
            let class = if head.right { " class=\"right\"" } else { "" };
            // On a phone every cell names its column, where there are more than two.
            let name = match table.heads.len() {
                0..=2 => String::new(),
                _ => format!(" data-head=\"{}\"", escaped(&head.text)),
            };
            format!("<td{class}{name}>{}</td>", inline(cell))
        });
        format!("<tr>{}</tr>\n", cells.collect::<String>())
    };
    format!(
        "<div class=\"scrolls\" role=\"group\" aria-labelledby=\"{id}-head\" tabindex=\"0\">\n<table>\n<thead><tr>{}</tr>\
         </thead>\n<tbody>\n{}</tbody>\n</table>\n</div>\n",
        heads.collect::<String>(),
        table.rows.iter().map(row).collect::<String>()
    )
}

fn notice(notice: &Notice) -> String {
    let lines: String = notice.lines.iter().map(|words| format!("<li>{}</li>\n", inline(words))).collect();
    let title = match notice.title.is_empty() {
        true => String::new(),
        false => format!("<h3>{}</h3>\n", escaped(&notice.title)),
    };
    format!("<div class=\"notice {}\">\n{title}<ul>\n{lines}</ul>\n</div>\n", class(notice.tone))
}
