//! What stands around every page: its head, the way to the other pages, who is signed in.

use crate::door::guard::Seat;
use crate::page::assets::{script_addresses, style_address};
use crate::page::html::{Html, Tag, tag};
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use toothsayer_records::Deed;

/// The pages of the shop: address, name, and what somebody must be allowed to do there.
const PAGES: &[(&str, &str, Deed)] = &[
    ("/", "Today", Deed::Look),
    ("/counter", "Counter", Deed::Look),
    ("/take-in", "Take in", Deed::Counter),
    ("/parts", "Parts", Deed::Look),
    ("/people", "People", Deed::Own),
    ("/tokens", "Programs", Deed::Own),
    ("/settings", "Settings", Deed::Own),
    ("/help", "Help", Deed::Look),
];

/// What is told around a page.
pub(crate) struct Frame {
    title: String,
    who: Option<(String, String)>,
    links: Vec<(&'static str, &'static str)>,
}

impl Frame {
    /// A page for nobody in particular.
    pub(crate) fn plain(title: &str) -> Self {
        Self { title: title.into(), who: None, links: Vec::new() }
    }

    /// A page for somebody.
    pub(crate) fn of(title: &str, seat: &Seat) -> Self {
        let links = PAGES.iter().filter(|(.., deed)| seat.may(*deed)).map(|(address, name, _)| (*address, *name));
        Self {
            title: title.into(),
            who: Some((seat.person.id.to_string(), seat.person.name.clone())),
            links: links.collect(),
        }
    }
}

/// A whole page.
pub(crate) fn page(frame: &Frame, body: Html) -> Response {
    let head = tag("head").all([
        tag("meta").with("charset", "utf-8").into(),
        tag("meta").with("name", "viewport").with("content", "width=device-width, initial-scale=1").into(),
        tag("meta").with("name", "color-scheme").with("content", "light dark").into(),
        tag("title").say(&format!("{} · Toothsayer", frame.title)).into(),
        tag("link").with("rel", "stylesheet").with("href", style_address()).into(),
        // An empty picture, so that browsers ask for none.
        tag("link").with("rel", "icon").with("href", "data:,").into(),
    ]);
    let scripts = script_addresses().map(|address| tag("script").with("type", "module").with("src", address).into());
    let head = head.all(scripts);
    let skip = tag("a").class("skip").with("href", "#main").say("To the content");
    let content = tag("body").hold(skip).hold(bar(frame)).hold(body);
    let html = tag("html").with("lang", "en").hold(head).hold(content);
    let text = format!("<!doctype html>\n{}", Html::from(html).into_string());
    ([(CONTENT_TYPE, "text/html; charset=utf-8")], text).into_response()
}

/// The way to the other pages: in a row on a desk, behind a fold on a phone, where a row would hide half of itself.
fn bar(frame: &Frame) -> Html {
    let Some((id, who)) = &frame.who else { return Html::default() };
    let links = || Html::of(frame.links.iter().map(|(address, name)| tag("a").with("href", address).say(name).into()));
    let find = tag("form").with("action", "/find").with("role", "search").all([
        input("search", "q").with("aria-label", "Find a customer, truck or job").with("placeholder", "Find").into(),
        tag("button").say("Find").into(),
    ]);
    let own = || {
        tag("form").with("method", "post").with("action", "/sign-out").all([
            tag("a").class("button plain").with("href", "/people/me").say(who).into(),
            tag("button").class("plain").say("Sign out").into(),
        ])
    };
    let wide = tag("nav").class("row-of-pages").with("aria-label", "Pages").hold(links());
    let inside = tag("nav").with("aria-label", "Pages").hold(links());
    let fold = tag("details").class("fold-of-pages").hold(tag("summary").say("Pages")).hold(inside).hold(own());
    let bar = tag("div").class("bar").with("data-who", id).hold(fold).hold(wide).hold(find);
    bar.hold(tag("div").class("own").hold(own())).into()
}

/// An input of a type and a name.
pub(crate) fn input(kind: &str, name: &str) -> Tag {
    tag("input").with("type", kind).with("name", name)
}

/// A hidden field.
pub(crate) fn hidden(name: &str, value: &str) -> Html {
    input("hidden", name).with("value", value).into()
}

/// A label over its field, with a hint below it.
pub(crate) fn field(label: &str, input: Tag, hint: &str) -> Html {
    let hint = if hint.is_empty() { Html::default() } else { tag("span").class("small").say(hint).into() };
    tag("label").class("field").hold(tag("span").say(label)).hold(input).hold(hint).into()
}

/// A choice: values with their words, the chosen one first of its kind.
pub(crate) fn choice(name: &str, options: &[(String, String)], chosen: &str) -> Tag {
    let options = options
        .iter()
        .map(|(value, words)| tag("option").with("value", value).flag("selected", value == chosen).say(words).into());
    tag("select").with("name", name).all(options)
}

/// The page's content: kept as the records stand, from this count of their changes on.
pub(crate) fn live_main(changes: i64, pieces: impl IntoIterator<Item = Html>) -> Html {
    tag("main").with("id", "main").with("data-changes", &changes.to_string()).all(pieces).into()
}

/// A part of a page that is shown anew where it changed; its name is its own on the page.
pub(crate) fn live(name: &str, part: Tag) -> Tag {
    part.with("data-live", name)
}

/// The way to a section of the help.
pub(crate) fn helped(section: &str, words: &str) -> Tag {
    tag("a").with("href", &format!("/help#{section}")).say(words)
}

/// The way to what the help says of a word, by its place there.
pub(crate) fn explained(word: &str) -> Tag {
    tag("a").with("href", &format!("/help#word-{word}")).say("What does this mean?")
}

/// What is wrong with a form, as a list.
pub(crate) fn problems(wrong: &[String]) -> Html {
    if wrong.is_empty() {
        return Html::default();
    }
    let lines = wrong.iter().map(|one| tag("li").say(one).into());
    let told = tag("div").class("notice bad").with("role", "alert");
    told.hold(tag("h2").class("plain").say("Not saved yet")).hold(tag("ul").all(lines)).into()
}
