//! Work at the bench: whose minutes went into which step of which job, and who signed for it.

use crate::error::{Error, Result};
use crate::id::Id;
use crate::job::Job;
use crate::moment::Moment;
use crate::people::Person;
use crate::reach::{Reach, list};
use crate::record::{Record, Saved};
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Somebody's time on one step of one job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stint {
    /// Its id.
    pub id: Id<Stint>,
    /// Of which job.
    pub job: Id<Job>,
    /// The fault book's step.
    pub step: String,
    /// What the book plans for it.
    pub planned_minutes: i64,
    /// Whose time.
    pub who: Id<Person>,
    /// From when.
    pub began: Moment,
    /// Until when; none while the clock runs.
    pub ended: Option<Moment>,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Stint {
    const TABLE: &'static Table = &STINT;
}

pub(crate) const STINT: Table = Table {
    name: "stint",
    one: "stint",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id),
        Column::text("step"),
        Column::new("planned_minutes", Kind::Integer),
        Column::new("who", Kind::Id),
        Column::new("began", Kind::Time),
        Column::new("ended", Kind::Time).optional(),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

/// A signature under a step of the work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SignOff {
    /// Its id.
    pub id: Id<SignOff>,
    /// Of which job.
    pub job: Id<Job>,
    /// The fault book's step.
    pub step: String,
    /// The joint that was tightened; empty where the step tightens nothing.
    pub joint: String,
    /// How tight, with its unit ("3.4 N*m").
    pub tightened: String,
    /// What else there is to say.
    pub note: String,
    /// Who signs.
    pub who: Id<Person>,
    /// When.
    pub at: Moment,
}

impl Record for SignOff {
    const TABLE: &'static Table = &SIGN_OFF;
}

pub(crate) const SIGN_OFF: Table = Table {
    name: "sign_off",
    one: "signature",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id),
        Column::text("step"),
        Column::text("joint"),
        Column::text("tightened"),
        Column::text("note").personal(),
        Column::new("who", Kind::Id),
        Column::new("at", Kind::Time),
    ],
};

impl Write {
    /// Starts somebody's clock on a step. Their other clocks go on: they share the time.
    ///
    /// # Errors
    /// Nobody acts, or this very clock runs already.
    pub async fn start_clock(&self, job: Id<Job>, step: &str, planned_minutes: i64) -> Result<Stint> {
        let (who, now) = (self.somebody()?, self.now());
        let id = self.id();
        self.add(Stint {
            id,
            job,
            step: step.into(),
            planned_minutes,
            who,
            began: now,
            ended: None,
            version: 1,
            changed: now,
        })
        .await
    }

    /// Stops a clock.
    ///
    /// # Errors
    /// It is not there, or the machine's clock stands before its beginning.
    pub async fn stop_clock(&self, stint: &Stint) -> Result<Saved<Stint>> {
        self.save(Stint { ended: Some(self.now()), ..stint.clone() }).await
    }

    /// Signs for a step; `tightened` of the joint, or two empty texts where nothing is tightened.
    ///
    /// # Errors
    /// Nobody acts, or a joint is named without how tight it is.
    pub async fn sign(&self, signed: Signed<'_>) -> Result<SignOff> {
        let sign_off = SignOff {
            id: self.id(),
            job: signed.job,
            step: signed.step.into(),
            joint: signed.joint.into(),
            tightened: signed.tightened.into(),
            note: signed.note.into(),
            who: self.somebody()?,
            at: self.now(),
        };
        self.add(sign_off).await
    }

    fn somebody(&self) -> Result<Id<Person>> {
        let nobody = || Error::Value { of: "who acts".into(), value: "nobody".into(), allowed: "somebody of the shop" };
        self.acting().who.ok_or_else(nobody)
    }

    /// How many clocks run on a job.
    pub(crate) async fn clocks(&self, job: Id<Job>) -> Result<i64> {
        let sql = "SELECT COUNT(*) FROM stint WHERE job = $1 AND ended IS NULL";
        sql::ask_number(self.connection(), sql, vec![sql::text(job)]).await
    }
}

/// What is signed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Signed<'a> {
    /// Of which job.
    pub job: Id<Job>,
    /// The fault book's step.
    pub step: &'a str,
    /// The joint that was tightened.
    pub joint: &'a str,
    /// How tight, with its unit.
    pub tightened: &'a str,
    /// What else there is to say.
    pub note: &'a str,
}

/// A job's signatures, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn sign_offs_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<SignOff>> {
    list(at, "WHERE job = $1 ORDER BY at, id", vec![sql::text(job)]).await
}

/// A job's stints, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn stints_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<Stint>> {
    list(at, "WHERE job = $1 ORDER BY began, id", vec![sql::text(job)]).await
}

/// Planned beside actual minutes of one step.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Minutes {
    /// How many jobs it was done in.
    pub jobs: i64,
    /// Planned, all together.
    pub planned: f64,
    /// Actual, all together: somebody with several clocks running gives each its equal share.
    pub actual: f64,
}

impl Minutes {
    /// By what the book's minutes are to be multiplied; none where nothing was planned.
    pub fn correction(&self) -> Option<f64> {
        (self.planned > 0.0 && self.actual > 0.0).then(|| self.actual / self.planned)
    }
}

/// Planned beside actual minutes of every step that was done since a day, by its name: what corrects the book.
///
/// # Errors
/// The database does not answer.
pub async fn minutes_by_step(at: &impl Reach, since: Moment) -> Result<BTreeMap<String, Minutes>> {
    let stints: Vec<Stint> =
        list(at, "WHERE began >= $1 AND ended IS NOT NULL ORDER BY who, began", vec![sql::number(since.to_ms())])
            .await?;
    let shared = shared_minutes(&stints);
    let mut steps: BTreeMap<String, Minutes> = BTreeMap::new();
    let mut seen = std::collections::BTreeSet::new();
    for (stint, actual) in stints.iter().zip(shared) {
        let minutes = steps.entry(stint.step.clone()).or_default();
        minutes.actual += actual;
        // A step that was interrupted has several stints and is planned once.
        if seen.insert((stint.job, &stint.step)) {
            minutes.jobs += 1;
            minutes.planned += stint.planned_minutes as f64;
        }
    }
    Ok(steps)
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
}
