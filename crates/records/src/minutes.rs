//! Planned against actual minutes of the bench's steps, with several jobs open at once: what corrects the book's minutes.

use crate::bench::{Stint, stints_of};
use crate::error::Result;
use crate::id::Id;
use crate::job::Job;
use crate::moment::Moment;
use crate::people::Person;
use crate::reach::{Reach, list};
use crate::sql;
use std::collections::{BTreeMap, BTreeSet};

/// Planned beside actual minutes of one step.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Minutes {
    /// How many jobs it was done in.
    pub jobs: i64,
    /// Planned, all together.
    pub planned: f64,
    /// Actual, all together: somebody with several clocks running gives each its equal share.
    pub actual: f64,
    /// Actual over planned minutes of each job that it was planned for, the least first.
    ratios: Vec<f64>,
}

impl Minutes {
    /// The median over the jobs of actual over planned minutes, by which the book's minutes are to be multiplied; none
    /// where it was never planned. One job that lay open over lunch does not move it, as it would the sum.
    pub fn correction(&self) -> Option<f64> {
        let middle = self.ratios.len() / 2;
        let upper = self.ratios.get(middle)?;
        let lower = if self.ratios.len().is_multiple_of(2) { self.ratios.get(middle - 1)? } else { upper };
        Some((lower + upper) / 2.0)
    }

    fn add(&mut self, planned: f64, actual: f64) {
        self.jobs += 1;
        self.planned += planned;
        self.actual += actual;
        if planned > 0.0 {
            let place = self.ratios.partition_point(|ratio| *ratio < actual / planned);
            self.ratios.insert(place, actual / planned);
        }
    }
}

/// Planned beside actual minutes of every step that was done since a day, by its name.
///
/// # Errors
/// The database does not answer.
pub async fn minutes_by_step(at: &impl Reach, since: Moment) -> Result<BTreeMap<String, Minutes>> {
    let tail = "WHERE began >= $1 AND ended IS NOT NULL ORDER BY who, began";
    let stints: Vec<Stint> = list(at, tail, vec![sql::number(since.to_ms())]).await?;
    Ok(by_step(&stints))
}

/// The minutes that went into each step of a job until now, running clocks too, by its name: somebody with several
/// clocks running, on other jobs as well, gives each its equal share.
///
/// # Errors
/// The database does not answer.
pub async fn minutes_of(at: &impl Reach, job: Id<Job>, now: Moment) -> Result<BTreeMap<String, f64>> {
    let own = stints_of(at, job).await?;
    let Some(first) = own.iter().map(|stint| stint.began).min() else { return Ok(BTreeMap::new()) };
    let mut all: Vec<Stint> = Vec::new();
    for who in own.iter().map(|stint| stint.who).collect::<BTreeSet<_>>() {
        let tail = "WHERE who = $1 AND (ended IS NULL OR ended > $2) ORDER BY began";
        all.extend(list::<Stint>(at, tail, vec![sql::text(who), sql::number(first.to_ms())]).await?);
    }
    let all: Vec<Stint> =
        all.into_iter().map(|stint| Stint { ended: stint.ended.or(Some(now.max(stint.began))), ..stint }).collect();
    let mut steps: BTreeMap<String, f64> = BTreeMap::new();
    for (stint, minutes) in all.iter().zip(shared_minutes(&all)).filter(|(stint, _)| stint.job == job) {
        *steps.entry(stint.step.clone()).or_default() += minutes;
    }
    Ok(steps)
}

fn by_step(stints: &[Stint]) -> BTreeMap<String, Minutes> {
    // A step that was interrupted has several stints in a job and is planned once.
    let mut jobs: BTreeMap<(&str, Id<Job>), (f64, f64)> = BTreeMap::new();
    for (stint, shared) in stints.iter().zip(shared_minutes(stints)) {
        let (planned, actual) = jobs.entry((&stint.step, stint.job)).or_default();
        *planned = planned.max(stint.planned_minutes as f64);
        *actual += shared;
    }
    let mut steps: BTreeMap<String, Minutes> = BTreeMap::new();
    for ((step, _), (planned, actual)) in jobs {
        steps.entry(step.to_owned()).or_default().add(planned, actual);
    }
    steps
}

/// Each stint's minutes, where the same person's overlapping stints share the time equally.
fn shared_minutes(stints: &[Stint]) -> Vec<f64> {
    let mut shares = vec![0.0; stints.len()];
    let mut by_person: BTreeMap<Id<Person>, Vec<usize>> = BTreeMap::new();
    for (place, stint) in stints.iter().enumerate() {
        by_person.entry(stint.who).or_default().push(place);
    }
    for own in by_person.values() {
        share_among(stints, own, &mut shares);
    }
    shares
}

/// Between two neighbouring ends of stints the same ones run: they share what lies between.
fn share_among(stints: &[Stint], own: &[usize], shares: &mut [f64]) {
    let end = |place: usize| stints[place].ended.unwrap_or(stints[place].began);
    let mut ends: Vec<(Moment, bool, usize)> =
        own.iter().flat_map(|place| [(stints[*place].began, true, *place), (end(*place), false, *place)]).collect();
    ends.sort();
    let mut running: Vec<usize> = Vec::new();
    let mut last = None;
    for (moment, begins, place) in ends {
        if let Some(last) = last.filter(|last: &Moment| *last < moment) {
            let each = (moment.to_ms() - last.to_ms()) as f64 / 60_000.0 / running.len().max(1) as f64;
            running.iter().for_each(|place| shares[*place] += each);
        }
        if begins {
            running.push(place)
        } else {
            running.retain(|other| *other != place)
        }
        last = Some(moment);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stint(who: Id<Person>, minutes: [i64; 2]) -> Stint {
        let [began, ended] = minutes.map(|minutes| Moment::from_ms(minutes * 60_000).unwrap());
        let (id, job) = (Id::new(began), Id::new(began));
        Stint {
            id,
            job,
            step: "mesh".into(),
            planned_minutes: 10,
            who,
            began,
            ended: Some(ended),
            version: 1,
            changed: ended,
        }
    }

    #[track_caller]
    fn check(stints: &[[i64; 2]], expected: &[f64]) {
        let who = Id::new(Moment::from_ms(0).unwrap());
        let stints: Vec<Stint> = stints.iter().map(|ends| stint(who, *ends)).collect();
        assert_eq!(shared_minutes(&stints), expected);
    }

    #[test]
    fn minutes_of_one_clock_are_its_own() {
        check(&[[0, 30]], &[30.0]);
        check(&[[0, 30], [30, 40]], &[30.0, 10.0]);
        check(&[[5, 5]], &[0.0]);
    }

    #[test]
    fn clocks_of_one_person_share_the_time_that_they_have_in_common() {
        check(&[[0, 30], [20, 40]], &[25.0, 15.0]);
        check(&[[0, 30], [0, 30], [0, 30]], &[10.0, 10.0, 10.0]);
    }

    #[test]
    fn clocks_of_two_people_do_not_share() {
        let [one, other] = [1, 2].map(|ms| Id::new(Moment::from_ms(ms).unwrap()));
        assert_eq!(shared_minutes(&[stint(one, [0, 30]), stint(other, [0, 30])]), [30.0, 30.0]);
    }

    #[test]
    fn one_job_that_lay_open_over_lunch_does_not_move_the_correction() {
        let person = Id::new(Moment::from_ms(3).unwrap());
        let stints = [[0, 12], [100, 110], [200, 208], [300, 480]].map(|ends| stint(person, ends));
        let minutes = by_step(&stints).remove("mesh").unwrap();
        assert_eq!((minutes.jobs, minutes.planned, minutes.actual), (4, 40.0, 210.0));
        assert_eq!(minutes.correction(), Some(1.1));
    }

    #[test]
    fn a_step_that_was_interrupted_is_planned_once() {
        let person = Id::new(Moment::from_ms(3).unwrap());
        let first = stint(person, [0, 6]);
        let second = Stint { job: first.job, ..stint(person, [50, 60]) };
        let minutes = by_step(&[first, second]).remove("mesh").unwrap();
        assert_eq!((minutes.jobs, minutes.planned, minutes.correction()), (1, 10.0, Some(1.6)));
        assert_eq!(Minutes::default().correction(), None);
    }
}
