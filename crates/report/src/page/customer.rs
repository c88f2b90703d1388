//! What the customer reads of a job: what happened, what was done or is proposed, what to do next; nothing of the shop's.

use super::section_html;
use super::sections::{Section, both_bays};
use crate::Error;
use crate::papers::{Matter, hand_over};
use crate::typeset::Block;

/// The content of the customer's page as HTML, in sections, to stand within a page that carries
/// [`page_rules`](crate::page_rules).
pub fn customer_body(matter: &Matter<'_>) -> Result<String, Error> {
    let mut sections = vec![happened(matter)?];
    sections.extend(work(matter));
    sections.push(next(matter));
    Ok(sections.iter().map(section_html).collect())
}

fn happened(matter: &Matter<'_>) -> Result<Section, Error> {
    let mut blocks = Vec::new();
    hand_over::told(matter, &mut blocks);
    blocks.push(Block::small("Causes are probabilities, never accusations."));
    blocks.extend(both_bays(matter)?);
    Ok(Section { id: "happened", title: "What happened", blocks })
}

fn work(matter: &Matter<'_>) -> Option<Section> {
    let repair = matter.repair()?;
    let told = hand_over::what_of_the_work(matter);
    let mut blocks = vec![Block::text(format!("{}.", told.lead))];
    hand_over::work(repair, &mut blocks);
    hand_over::verdict(matter, &mut blocks);
    Some(Section { id: "work", title: told.title, blocks })
}

fn next(matter: &Matter<'_>) -> Section {
    let mut blocks = Vec::new();
    hand_over::care(matter, &mut blocks);
    Section { id: "care", title: "What to do next", blocks }
}
