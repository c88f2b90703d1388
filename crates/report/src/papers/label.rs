//! The job label: a square code with the job's number, and what hands must know before they touch the truck.

use super::matter::{Matter, shortened};
use crate::typeset::{Block, Code, Words};

/// Letters that the code holds at most: more would make its modules too fine for a phone's camera.
const MOST_LETTERS: usize = 80;

pub(crate) fn blocks(matter: &Matter<'_>) -> Vec<Block> {
    let (truck, cover) = (matter.truck(), matter.cover);
    let number = cover.number.as_deref().map(str::trim).filter(|number| !number.is_empty());
    let text = shortened(number.unwrap_or(&truck), MOST_LETTERS);
    let job = matter.verdict.job;
    let came = matter.verdict.diagnosis.book.complaint(&job.complaint).map(|complaint| complaint.name.clone());
    let names = [cover.shop.clone(), cover.customer.clone(), cover.date.map(|date| date.to_string())];
    let mut beside = vec![Words::strong(number.map_or_else(|| truck.clone(), str::to_owned))];
    if number.is_some() {
        beside.push(Words::strong(truck));
    }
    beside.extend(names.into_iter().flatten().map(Words::from));
    beside.push(Words::from(format!("Came in: {}.", came.unwrap_or_else(|| job.complaint.clone()))));
    let caution = "Battery out before fingers go near gears. No swollen pack inside.";
    vec![Block::Code(Code { text, beside }), Block::small(Words::strong(caution))]
}
