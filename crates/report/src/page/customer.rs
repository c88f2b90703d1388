//! What the customer reads of a job: what happened, what was done or is proposed, what to do next; nothing of the shop's.

use super::section_html;
use super::sections::{Section, both_bays};
use crate::Error;
use crate::papers::{Matter, hand_over};
use crate::typeset::{Block, Notice, Tone, Words};

/// How far a job is, as its customer sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Standing {
    /// The work is proposed, or under way.
    Proposed,
    /// The work is done.
    Done,
    /// The customer did not want it.
    Declined,
}

/// The content of the customer's page as HTML, in sections, to stand within a page that carries
/// [`page_rules`](crate::page_rules).
pub fn customer_body(matter: &Matter<'_>, standing: Standing) -> Result<String, Error> {
    let mut sections = vec![happened(matter)?];
    sections.extend(work(matter, standing));
    sections.push(next(matter, standing));
    Ok(sections.iter().map(section_html).collect())
}

fn happened(matter: &Matter<'_>) -> Result<Section, Error> {
    let mut blocks = Vec::new();
    hand_over::told(matter, &mut blocks);
    blocks.push(Block::small("Causes are probabilities, never accusations."));
    blocks.extend(both_bays(matter)?);
    Ok(Section { id: "happened", title: "What happened", blocks })
}

fn work(matter: &Matter<'_>, standing: Standing) -> Option<Section> {
    let repair = matter.repair()?;
    let (title, told) = match (standing, matter.cover.taken.is_some()) {
        (Standing::Done, true) => ("What was done", "The work that was agreed on."),
        (Standing::Done, false) => ("What was done", "The recommended work."),
        (Standing::Proposed, true) => ("What will be done", "The work that was agreed on."),
        (Standing::Proposed, false) => ("What is proposed", "The work that we recommend."),
        (Standing::Declined, _) => ("What was proposed", "It was not wanted: the truck is as it came."),
    };
    let mut blocks = vec![Block::text(told)];
    hand_over::work(repair, &mut blocks);
    hand_over::verdict(matter, &mut blocks);
    Some(Section { id: "work", title, blocks })
}

/// The care plan; of a truck that is as it came, what that means.
fn next(matter: &Matter<'_>, standing: Standing) -> Section {
    let mut blocks = Vec::new();
    if standing == Standing::Declined {
        let told =
            "Nothing was cured: what took the teeth can take the next set. Battery out before fingers go near gears.";
        let lines = [told, hand_over::ESTIMATES].map(Words::from).into();
        blocks.push(Block::Notice(Notice { tone: Tone::Doubt, title: "Cautions".into(), lines }));
    } else {
        blocks.push(Block::text("Runs are counted from the day of the hand-over."));
        hand_over::care(matter, &mut blocks);
    }
    Section { id: "care", title: "What to do next", blocks }
}
