//! Forms as a browser fills them: what a page's form would send untouched, and the taps that it takes to send more.

use crate::ground::{Answer, Shop, encoded, request};
use axum::body::Body;
use axum::http::{HeaderMap, StatusCode};

/// A form of a page with its action and what it would send.
pub struct Form {
    action: String,
    posts: bool,
    values: Vec<(String, String)>,
    /// Every name that can be filled.
    names: Vec<String>,
}

/// Counts what a hand does: a field filled, a choice made, a button or a link pressed.
#[derive(Default)]
pub struct Hand {
    pub taps: u32,
}

fn attribute(tag: &str, name: &str) -> Option<String> {
    let value = tag.split_once(&format!(" {name}=\"")).map(|(_, rest)| rest.split('"').next().unwrap());
    value.map(|text| text.replace("&quot;", "\"").replace("&#39;", "'").replace("&lt;", "<").replace("&amp;", "&"))
}

fn has(tag: &str, flag: &str) -> bool {
    tag.split('"').step_by(2).any(|outside| outside.split_whitespace().any(|word| word == flag))
}

/// The start tags of these elements, each with what stands behind it.
fn tags<'a>(html: &'a str, name: &str) -> Vec<(&'a str, &'a str)> {
    let parts = html.split(&format!("<{name} ")).skip(1).map(str::to_owned).collect::<Vec<_>>();
    let mut at = 0;
    let mut found = Vec::new();
    for part in parts {
        let begin = html[at..].find(&format!("<{name} ")).unwrap() + at + name.len() + 1;
        let end = html[begin..].find('>').unwrap() + begin;
        found.push((&html[begin..end], &html[end + 1..begin + 1 + part.len()]));
        at = begin;
    }
    found
}

impl Form {
    /// The first form of a page with this action.
    #[track_caller]
    pub fn of(page: &str, action: &str) -> Form {
        let mut forms = page.split("<form").skip(1).map(|form| form.split("</form>").next().unwrap());
        let form = forms.find(|form| attribute(form.split('>').next().unwrap(), "action").as_deref() == Some(action));
        let form = form.unwrap_or_else(|| panic!("no form {action} on the page"));
        let posts = attribute(form.split('>').next().unwrap(), "method").as_deref() == Some("post");
        let mut read = Form { action: action.to_owned(), posts, values: Vec::new(), names: Vec::new() };
        for (tag, _) in tags(form, "input") {
            let (Some(name), kind) = (attribute(tag, "name"), attribute(tag, "type").unwrap_or_default()) else {
                continue;
            };
            let picked = !["radio", "checkbox"].contains(&kind.as_str()) || has(tag, "checked");
            if picked {
                read.values.push((name.clone(), attribute(tag, "value").unwrap_or_default()));
            }
            if kind != "hidden" {
                read.names.push(name);
            }
        }
        for (tag, rest) in tags(form, "select") {
            let options = tags(rest.split("</select>").next().unwrap(), "option");
            let chosen = options.iter().find(|(option, _)| has(option, "selected")).or(options.first());
            let value = chosen.and_then(|(option, _)| attribute(option, "value")).unwrap_or_default();
            let name = attribute(tag, "name").unwrap();
            read.values.push((name.clone(), value));
            read.names.push(name);
        }
        for (tag, rest) in tags(form, "textarea") {
            let name = attribute(tag, "name").unwrap();
            read.values.push((name.clone(), rest.split("</textarea>").next().unwrap().to_owned()));
            read.names.push(name);
        }
        read
    }

    /// What a field would send.
    pub fn value(&self, name: &str) -> &str {
        self.values.iter().find(|(known, _)| known == name).map_or("", |(_, value)| value)
    }

    /// With a field filled or a choice made: a tap.
    #[track_caller]
    pub fn fill(mut self, hand: &mut Hand, name: &str, value: &str) -> Form {
        assert!(self.names.iter().any(|known| known == name), "{} has no field {name}", self.action);
        hand.taps += 1;
        self.values.retain(|(known, _)| known != name);
        self.values.push((name.to_owned(), value.to_owned()));
        self
    }

    /// A button pressed, with its name and value where it has one: a tap.
    pub async fn press(self, hand: &mut Hand, shop: &Shop, cookie: &str, button: Option<(&str, &str)>) -> Answer {
        hand.taps += 1;
        let mut form: Vec<(&str, &str)> =
            self.values.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
        form.extend(button);
        let action = self.action.split('#').next().unwrap();
        match self.posts {
            true => shop.post(cookie, action, &form).await,
            false => shop.get(cookie, &format!("{action}?{}", encoded(&form))).await,
        }
    }
}

impl Hand {
    /// A link of a page followed: a tap.
    pub async fn follow(&mut self, shop: &Shop, cookie: &str, page: &str, address: &str) -> Answer {
        self.touch(page, address);
        shop.get(cookie, address.split('#').next().unwrap()).await
    }

    /// Touches a link that leads to a file.
    pub async fn fetch(
        &mut self,
        shop: &Shop,
        cookie: &str,
        page: &str,
        address: &str,
    ) -> (StatusCode, HeaderMap, Vec<u8>) {
        self.touch(page, address);
        shop.bytes(request("GET", address, cookie).body(Body::empty()).unwrap()).await
    }

    fn touch(&mut self, page: &str, address: &str) {
        assert!(page.contains(&format!("href=\"{address}\"")), "no link to {address}");
        self.taps += 1;
    }
}
