//! The gear bay as the way to its checks: each part of the drawing is a link to what is asked of it.

use crate::html::{Html, tag};
use std::ops::Range;
use toothsayer_figures::Figure;
use toothsayer_report::page_drawing;

/// The drawing in both widths, with its parts.
pub(crate) struct Drawn {
    /// For the page.
    pub html: Html,
    /// The parts' names in bench order.
    pub parts: Vec<String>,
}

/// Where a part stands in the drawing, beside its row of the list.
const PLACES: [(&str, &str); 7] = [
    ("support bearing", "section-bearing"),
    ("pinion", "pinion"),
    ("spacer", "section-spacer"),
    ("set screw", "section-set-screw"),
    ("motor to mount", "motor-screws"),
    ("spur", "spur"),
    ("motor shaft", "section-shaft"),
];

/// The address of a part's checks within its page.
pub(crate) fn anchor(number: usize) -> String {
    format!("part-{number}")
}

/// Both widths, linked.
pub(crate) fn drawn(wide: &Figure, narrow: &Figure) -> Drawn {
    let parts = names(&wide.svg);
    let figures = [("wide", wide), ("narrow", narrow)].map(|(variant, figure)| {
        let svg = linked(without_styles(&page_drawing(figure, variant)), &parts);
        tag("figure").class(variant).hold(Html::written(svg)).into()
    });
    let words = tag("details").hold(tag("summary").say("This drawing in words")).hold(tag("p").say(&wide.description));
    Drawn { html: Html::of([Html::of(figures), words.into()]), parts }
}

/// Without the drawings' own style sheets: the page's has the same rules, and its policy allows none within.
pub(crate) fn without_styles(html: &str) -> String {
    let mut rest = html;
    let mut plain = String::with_capacity(html.len());
    while let Some((before, after)) = rest.split_once("<style>") {
        plain.push_str(before);
        rest = after.split_once("</style>").map_or("", |(_, after)| after);
    }
    plain.push_str(rest);
    plain
}

/// The names of the parts by the titles of their rows.
fn names(svg: &str) -> Vec<String> {
    let name = |number: usize| {
        let row = element(svg, &format!("row-{number}"))?;
        let text = &svg[row];
        let begin = text.find("<title>")? + "<title>".len();
        text.get(begin..text.find("</title>")?).map(unescaped)
    };
    (1..).map_while(name).collect()
}

fn unescaped(text: &str) -> String {
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&apos;", "'").replace("&amp;", "&")
}

/// The drawing with its rows and its parts as links. What holds links is no single picture any more.
fn linked(mut svg: String, parts: &[String]) -> String {
    svg = svg.replacen("role=\"img\"", "role=\"group\"", 1);
    for (place, name) in parts.iter().enumerate() {
        let number = place + 1;
        let places = PLACES.iter().filter(|(part, _)| part == name).map(|(_, id)| (*id).to_owned());
        for id in places.chain([format!("row-{number}")]) {
            if let Some(Range { start, end }) = element(&svg, &id) {
                let label = Html::text(&format!("{name}: its checks")).into_string();
                let link = format!("<a href=\"#{}\" aria-label=\"{label}\">", anchor(number));
                svg = format!("{}{link}{}</a>{}", &svg[..start], &svg[start..end], &svg[end..]);
            }
        }
    }
    svg
}

/// Where the element whose id ends with a part's name stands: from its `<` to after its end.
fn element(svg: &str, part: &str) -> Option<Range<usize>> {
    let id = ["stock", "built", "found", "proposed", "after"]
        .iter()
        .find_map(|state| svg.find(&format!("-{state}-{part}\"")))?;
    let start = svg[..id].rfind('<')?;
    let name: String = svg[start + 1..].chars().take_while(|letter| letter.is_ascii_alphabetic()).collect();
    let (open, close) = (format!("<{name}"), format!("</{name}>"));
    let mut depth = 0_usize;
    let mut at = start;
    loop {
        let rest = &svg[at..];
        let next = rest.find('<')?;
        let tag_end = at + next + rest[next..].find('>')? + 1;
        let text = &svg[at + next..tag_end];
        if text == close {
            depth = depth.checked_sub(1)?;
        } else if opens(text, &open) && !text.ends_with("/>") {
            depth += 1;
        }
        if depth == 0 {
            return Some(start..tag_end);
        }
        at = tag_end;
    }
}

/// Whether a tag opens an element of just this name.
fn opens(text: &str, open: &str) -> bool {
    text.strip_prefix(open).is_some_and(|rest| !rest.starts_with(|letter: char| letter.is_ascii_alphanumeric()))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SVG: &str = "<svg role=\"img\"><style>a{}</style><g id=\"wide-bay-found-pinion\"><g><path d=\"\"/></g></g>\
                       <rect id=\"wide-bay-found-row-1\"><title>pinion</title></rect></svg>";

    #[track_caller]
    fn check(part: &str, expected: Option<&str>) {
        assert_eq!(element(SVG, part).map(|range| &SVG[range]), expected);
    }

    #[test]
    fn an_element_is_found_to_its_own_end() {
        check("pinion", Some("<g id=\"wide-bay-found-pinion\"><g><path d=\"\"/></g></g>"));
        check("row-1", Some("<rect id=\"wide-bay-found-row-1\"><title>pinion</title></rect>"));
        check("row-2", None);
    }

    #[test]
    fn every_part_becomes_a_link_to_its_checks() {
        let parts = names(SVG);
        assert_eq!(parts, ["pinion"]);
        let svg = linked(without_styles(SVG), &parts);
        assert_eq!(svg.matches("<a href=\"#part-1\"").count(), 2, "{svg}");
        assert!(!svg.contains("<style>") && svg.contains("role=\"group\""));
    }
}
