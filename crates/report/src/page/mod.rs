//! The verdict page: one HTML file without script and without anything from elsewhere, to send or to open offline.

mod customer;
mod html;
mod sections;
mod style;

use crate::Error;
use crate::papers::{Matter, Written};
pub use customer::{CustomerParts, customer_parts};
use html::block;
pub(crate) use html::escaped;
use sections::{Section, sections};
use style::style;
use toothsayer_verdict::Holds;

/// The page of a job.
pub fn verdict_page(matter: &Matter<'_>) -> Result<Written, Error> {
    let VerdictParts { title, banner, sections } = verdict_parts(matter)?;
    let told: String = sections.iter().map(|section| section.html.as_str()).collect();
    let body = format!("{banner}{}<main id=\"main\">\n{told}</main>\n", contents(&sections));
    let mut page = head(&title);
    page.push_str("<body>\n<a class=\"skip\" href=\"#main\">To the verdict</a>\n");
    page.push_str(&body);
    page.push_str(&foot());
    page.push_str("</body>\n</html>\n");
    Ok(Written { bytes: page.into_bytes(), title, missing: Vec::new() })
}

/// The page of a job in parts, to stand within another page that carries [`page_rules`].
#[derive(Clone, Debug)]
pub struct VerdictParts {
    /// Its title, as text.
    pub title: String,
    /// The truck and the verdict in one look, as HTML: the header with the one first heading.
    pub banner: String,
    /// Every section.
    pub sections: Vec<VerdictSection>,
}

/// A section of the page of a job.
#[derive(Clone, Debug)]
pub struct VerdictSection {
    /// Its place in the page.
    pub id: &'static str,
    /// Its heading, as text.
    pub title: &'static str,
    /// The whole of it, as HTML.
    pub html: String,
}

/// The page of a job in parts, to stand within another page that carries [`page_rules`].
pub fn verdict_parts(matter: &Matter<'_>) -> Result<VerdictParts, Error> {
    let title = format!("{}: verdict", matter.truck());
    let section = |one: &Section| VerdictSection { id: one.id, title: one.title, html: section_html(one) };
    let sections = sections(matter)?.iter().map(section).collect();
    Ok(VerdictParts { title, banner: banner(matter), sections })
}

/// A section with its heading.
fn section_html(section: &Section) -> String {
    let blocks: String = section.blocks.iter().map(|own| block(own, section.id)).collect();
    format!(
        "<section id=\"{0}\" aria-labelledby=\"{0}-head\">\n<h2 id=\"{0}-head\">{1}</h2>\n{blocks}</section>\n",
        section.id,
        escaped(section.title)
    )
}

/// The style sheet of the page of a job and of its drawings.
pub fn page_rules() -> String {
    style()
}

fn head(title: &str) -> String {
    format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; \
         img-src data:\">\n<meta name=\"color-scheme\" content=\"light dark\">\n<title>{}</title>\n\
         <style>\n{}</style>\n</head>\n",
        escaped(title),
        style()
    )
}

/// The truck, and the verdict in one look: as it came, as it leaves, price, time, chance of a comeback.
fn banner(matter: &Matter<'_>) -> String {
    let mut text = format!("<header>\n<p class=\"kicker\">Verdict</p>\n<h1>{}</h1>\n", escaped(&matter.truck()));
    let under = matter.under_title();
    if !under.is_empty() {
        text.push_str(&format!("<p class=\"under\">{}</p>\n", escaped(&under)));
    }
    text.push_str("<dl class=\"look\">\n");
    let mut put = |name: &str, value: &str, class: &str| {
        let (name, value) = (escaped(name), escaped(value));
        text.push_str(&format!("<div class=\"{class}\"><dt>{name}</dt><dd>{value}</dd></div>\n"));
    };
    for state in [matter.came(), matter.leaving()].into_iter().flatten() {
        let (word, class) = match state.holds {
            Holds::Yes => ("holds", "good"),
            Holds::Unsure => ("holds, not surely", "doubt"),
            Holds::No => ("does not hold", "bad"),
        };
        put(&crate::words::sentence(crate::words::state_words(state.state)), word, class);
    }
    if let Some(repair) = matter.recommended() {
        let runs = matter.verdict.job.shop.horizon_runs;
        put("Recommended repair", &repair.price.to_string(), "plain");
        put("Time", &crate::words::minutes(repair.minutes), "plain");
        put(&format!("Comeback within {runs:.0} runs"), &crate::words::chance(repair.comeback), "plain");
    }
    text.push_str("</dl>\n</header>\n");
    text
}

fn contents(sections: &[VerdictSection]) -> String {
    let links = sections.iter().map(|one| format!("<li><a href=\"#{}\">{}</a></li>\n", one.id, escaped(one.title)));
    format!("<nav aria-label=\"Contents\">\n<ul>\n{}</ul>\n</nav>\n", links.collect::<String>())
}

fn foot() -> String {
    "<footer>\n<p>Figures are estimates for a hobby-size machine, not a design approval. Where people can be hurt, follow the \
     venue's and the local rules and the makers' instructions. Causes are probabilities, never accusations.</p>\n\
     <p>Made by Toothsayer. This page holds no script and fetches nothing.</p>\n</footer>\n"
        .to_owned()
}
