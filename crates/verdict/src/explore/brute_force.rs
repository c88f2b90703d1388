//! The explorer's answers over a small space against every combination of it computed in full and compared with every other.
//!
//! No outside source: this project's own models on its own invented truck; the reference is plain enumeration.

use super::estimate::guesses;
use super::front::{beats, front, of_combination};
use super::ground::Ground;
use super::smallest::{Answer, TOLD, smallest};
use super::space::{Places, THINGS};
use super::surrogate::Surrogate;
use super::{Combination, Explore, Wishes, estimate, fits};
use crate::peaks::Memo;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;

/// Places of the choices that the small space keeps: of pinion, spur, backlash, material, wheels, cells, brake, throttle.
const KEPT: [&[usize]; THINGS] = [&[0, 1, 2], &[0, 1], &[0], &[0], &[0, 1, 2], &[0, 2], &[0, 5], &[0, 2]];

/// Every combination of a space.
fn every(ground: &Ground<'_>) -> Vec<Places> {
    let mut all = vec![[0; THINGS]];
    for thing in 0..THINGS {
        let choices = ground.space.axes[thing].choices.len() as u8;
        let with = |places: Places, choice| {
            let mut places = places;
            places[thing] = choice;
            places
        };
        all = all.into_iter().flat_map(|places| (0..choices).map(move |choice| with(places, choice))).collect();
    }
    all
}

/// Those that nothing on the way to them makes needless, the smallest first.
fn smallest_by_enumeration<'a>(ground: &Ground<'_>, held: &'a [(Places, Combination)]) -> Vec<&'a Combination> {
    let needless = |own: &Places| held.iter().any(|(other, _)| other != own && ground.space.is_within(other, own));
    let mut least: Vec<&(Places, Combination)> = held.iter().filter(|(own, _)| !needless(own)).collect();
    least.sort_by_key(|(own, one)| (one.words.len(), one.steps, one.price.minor, ground.space.number(own)));
    least.into_iter().take(TOLD).map(|(_, one)| one).collect()
}

fn told<'a>(all: impl IntoIterator<Item = &'a Combination>) -> Vec<&'a [String]> {
    all.into_iter().map(|one| one.set.as_slice()).collect()
}

#[test]
fn a_small_spaces_answers_are_those_of_enumerating_it() {
    let loose =
        include_str!("../../../../examples/tarnhorn.toml").replace("torque = \"3.4 N*m\"", "torque = \"1.8 N*m\"");
    let job = Job::parse(&loose, FaultBook::built_in()).expect("a job");
    let wishes = Wishes { least_margin: 1.0, top_speed: None, stop_within: None };
    let (book, memo) = (FaultBook::built_in(), Memo::default());
    let explore = Explore { job: &job, book, truck: &job.built, run_in: true, wishes };
    let mut ground = explore.ground(&memo, &|_, _| true).expect("a space");
    let surrogate = Surrogate::learn(&ground).expect("trucks").expect("an estimate");
    let slack = estimate::held_back(&ground, &surrogate).expect("trucks").worst;
    for (axis, kept) in ground.space.axes.iter_mut().zip(KEPT) {
        axis.choices = kept.iter().map(|place| axis.choices[*place].clone()).collect();
    }
    let guesses = guesses(&ground, &surrogate).expect("guesses");
    let fit: Vec<_> = guesses.iter().filter(|guess| fits(&wishes, guess)).copied().collect();

    let all = every(&ground);
    let full = ground.full(&all).expect("trucks");
    let built = all.iter().zip(full).filter_map(|(places, one)| Some((*places, one?)));
    let allowed = |places: &Places| ground.fitted(places).is_ok_and(|truck| ground.allowed(&truck));
    let held: Vec<(Places, Combination)> =
        built.filter(|(places, one)| allowed(places) && wishes.fulfilled(one)).collect();

    let Answer::Changes(changes) = smallest(&ground, &guesses, slack).expect("an answer") else { panic!("no change") };
    assert_eq!(changes.len(), TOLD);
    assert_eq!(told(&changes), told(smallest_by_enumeration(&ground, &held)));

    let unbeaten = held
        .iter()
        .filter(|(_, own)| !held.iter().any(|(_, other)| beats(&of_combination(other), &of_combination(own))));
    let (front, _) = front(&ground, &fit).expect("a front");
    let merits = |one: &Combination| of_combination(one).map(f64::to_bits);
    let mut wanted: Vec<_> = unbeaten.map(|(_, one)| merits(one)).collect();
    wanted.sort_unstable();
    wanted.dedup();
    let mut found: Vec<_> = front.iter().map(merits).collect();
    found.sort_unstable();
    assert!(held.len() > 20 && held.len() < all.len(), "{} hold of {}", held.len(), all.len());
    assert!(wanted.len() >= 3, "a front of {} tells nothing", wanted.len());
    assert_eq!(found, wanted);
}
