//! What the customer reads of a job: what happened, what was done or is proposed, what to do next; nothing of the shop's.

use super::section_html;
use super::sections::{Section, both};
use crate::Error;
use crate::papers::{Matter, hand_over};
use crate::typeset::Block;

/// The content of the customer's page as HTML, to stand within a page that carries
/// [`page_rules`](crate::page_rules). Between its pieces the customer is asked.
#[derive(Clone, Debug)]
pub struct CustomerParts {
    /// What happened, in short.
    pub happened: String,
    /// What is proposed, or was done.
    pub work: String,
    /// What was seen and measured with the drawing, and what to do next.
    pub details: String,
}

/// What the customer reads of a job, in pieces.
pub fn customer_parts(matter: &Matter<'_>) -> Result<CustomerParts, Error> {
    let details = [seen(matter)?, next(matter)];
    Ok(CustomerParts {
        happened: section_html(&happened(matter)),
        work: section_html(&work(matter)),
        details: details.iter().map(section_html).collect(),
    })
}

fn happened(matter: &Matter<'_>) -> Section {
    let mut blocks = Vec::new();
    hand_over::told(matter, &mut blocks);
    blocks.push(Block::small("Causes are probabilities, never accusations."));
    Section { id: "happened", title: "What happened", blocks }
}

fn work(matter: &Matter<'_>) -> Section {
    let told = hand_over::what_of_the_work(matter);
    let mut blocks = vec![Block::text(format!("{}.", told.lead))];
    blocks.extend(hand_over::not_agreed(matter));
    hand_over::work(matter, &mut blocks);
    hand_over::verdict(matter, &mut blocks);
    Section { id: "work", title: told.title, blocks }
}

fn seen(matter: &Matter<'_>) -> Result<Section, Error> {
    let mut blocks = Vec::new();
    hand_over::seen(matter, &mut blocks);
    blocks.extend(both(&matter.page_frames()?, |frame| matter.plain_bay(frame))?);
    Ok(Section { id: "seen", title: "What we looked at", blocks })
}

fn next(matter: &Matter<'_>) -> Section {
    let mut blocks = Vec::new();
    hand_over::care(matter, &mut blocks);
    Section { id: "care", title: "What to do next", blocks }
}
