//! Margins side by side: a row for each part and limit, a column for each truck, words and numbers in every cell.

use crate::page::html::{Html, tag};
use toothsayer_figures::Role;
use toothsayer_report::words::{margin_role, margin_words, sentence, step_words, worst_of_each};
use toothsayer_verdict::{Margin, StateMargins};

/// One truck.
#[derive(Clone, Copy)]
pub(crate) struct Column<'a> {
    /// Above its column.
    pub head: &'a str,
    /// Its margins.
    pub margins: &'a StateMargins,
}

/// What is shown.
#[derive(Clone, Copy)]
pub(crate) struct Shown<'a> {
    /// What the table is of, for those who do not see it.
    pub name: &'a str,
    /// The trucks.
    pub columns: &'a [Column<'a>],
    /// The column whose tightest parts come first.
    pub by: usize,
    /// Rows at most.
    pub most: usize,
    /// Whether it is told at which step each part fails.
    pub steps: bool,
}

impl Shown<'_> {
    /// The table.
    pub(crate) fn html(&self) -> Html {
        let head = |text: &str| Html::from(tag("th").with("scope", "col").say(text));
        let mut heads = vec![head("part")];
        heads.extend(self.columns.iter().map(|column| head(column.head)));
        if self.steps {
            heads.push(head("fails"));
        }
        let rows = self.places().into_iter().map(|place| self.row(place));
        let table =
            tag("table").class("margins").hold(tag("thead").hold(tag("tr").all(heads))).hold(tag("tbody").all(rows));
        let group = tag("div").class("scrolls").with("role", "group").with("aria-label", self.name);
        group.with("tabindex", "0").hold(table).into()
    }

    /// The parts and limits that are shown, the tightest first: what decides before what does not.
    fn places(&self) -> Vec<&Margin> {
        let Some(column) = self.columns.get(self.by) else { return Vec::new() };
        let mut worst: Vec<&Margin> = worst_of_each(&column.margins.margins);
        worst.retain(|margin| margin.margin.is_some());
        let weight = |margin: &Margin| (!margin.counts(), margin.margin.unwrap_or(f64::MAX));
        worst.sort_by(|a, b| weight(a).partial_cmp(&weight(b)).unwrap_or(std::cmp::Ordering::Equal));
        worst.truncate(self.most);
        worst
    }

    fn row(&self, place: &Margin) -> Html {
        let case = if place.case == "any" { String::new() } else { format!(", {}", place.case.replace('-', " ")) };
        let under = format!("{}{case}", place.limit.row().plain);
        let name = tag("strong").say(&sentence(&place.part.replace('-', " ")));
        let part = tag("td").hold(name).hold(tag("span").class("under-cell").say(&under));
        let own: Vec<Option<&Margin>> = self.columns.iter().map(|column| same(column.margins, place)).collect();
        let mut cells: Vec<Html> = vec![part.into()];
        cells.extend(self.columns.iter().zip(&own).map(|(column, margin)| cell(column.head, *margin)));
        if self.steps {
            let step = own.iter().flatten().find_map(|margin| margin.fails_at).map_or("nowhere", step_words);
            cells.push(tag("td").with("data-head", "fails").say(step).into());
        }
        tag("tr").all(cells).into()
    }
}

/// The worst case of the same part and limit.
fn same<'a>(margins: &'a StateMargins, place: &Margin) -> Option<&'a Margin> {
    let is = |margin: &&Margin| margin.part == place.part && margin.limit == place.limit;
    worst_of_each(&margins.margins).into_iter().find(is)
}

fn cell(head: &str, margin: Option<&Margin>) -> Html {
    let cell = tag("td").with("data-head", head);
    match margin {
        Some(margin) => {
            let class = tone(margin_role(margin));
            cell.hold(tag("strong").class(class).say(&margin_words(margin))).hold(range(margin)).into()
        }
        None => cell.say("not there").into(),
    }
}

/// Its range, where it was drawn.
fn range(margin: &Margin) -> Html {
    let (Some(low), Some(high)) = (margin.low, margin.high) else { return Html::default() };
    let number = toothsayer_report::words::number;
    let below = margin.chance().filter(|chance| *chance >= 0.005);
    let below = below.map_or(String::new(), |p| format!(", {} below 1", toothsayer_report::words::chance(p)));
    tag("span").class("under-cell").say(&format!("{} to {}{below}", number(low), number(high))).into()
}

/// The class of a colour's role.
fn tone(role: Role) -> &'static str {
    match role {
        Role::Bad => "bad",
        Role::Doubt => "doubt",
        Role::Good => "good",
        _ => "plain",
    }
}
