//! The work of a job as it is computed: each repair's steps in bench order, the joints with their windows, the screw map.

use crate::job::drawing::in_both_widths;
use crate::job::offering::place_in;
use crate::page::html::{Html, tag};
use crate::page::trouble::Trouble;
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::screw_map;
use toothsayer_job::{Job, Joint, State};
use toothsayer_quantity::{System, Torque};
use toothsayer_records::{Gear, Measures, Offer, wanted_gear};
use toothsayer_report::words::{brake_words, figure_words, name_words, sentence};
use toothsayer_report::{Offered, screws, tighten_to};
use toothsayer_verdict::{Alternative, Loaded, Memo, PlanStep, RECOMMENDED, Verdict, Windows, WorkFigure};

/// One step.
#[derive(Clone)]
pub(crate) struct Step {
    /// Its id in the fault book.
    pub id: String,
    /// Its name.
    pub name: String,
    /// What is done.
    pub what: String,
    /// Planned minutes.
    pub minutes: f64,
    /// Tools.
    pub tools: Vec<String>,
    /// Cautions, in words.
    pub cautions: Vec<String>,
    /// The names of the joints that it tightens.
    pub joints: Vec<String>,
    /// What else it is done to, in words.
    pub figure: Option<String>,
}

/// One of the repairs.
pub(crate) struct Repair {
    /// Its name in the plan.
    pub name: &'static str,
    /// Its name in words.
    pub words: &'static str,
    /// The same with its sums, as it would be offered.
    pub sums: Offered,
    /// The steps in bench order.
    pub steps: Vec<Step>,
    /// The parts that it needs.
    pub parts: Vec<String>,
    /// Its cautions, each once.
    pub cautions: Vec<String>,
}

/// A joint as it is put together.
pub(crate) struct Screwed {
    /// Its name.
    pub name: String,
    /// Its screws, in words.
    pub screws: String,
    /// What they are screwed into.
    pub into: String,
    /// How tight, in words.
    pub tighten_to: String,
    /// The torque that its maker prints.
    pub printed: Option<Torque>,
    /// Whether nobody told of its screws: the class's stand in.
    pub assumed: bool,
}

/// What the work page is made from.
pub(crate) struct WorkPlan {
    /// The repairs.
    pub repairs: Vec<Repair>,
    /// The joints.
    pub joints: Vec<Screwed>,
    /// The joints' windows.
    pub windows: Windows,
    /// Which screw goes where, as a drawing, or why there is none.
    pub map: Result<Html, String>,
    /// What the truck's gears must be.
    gears: Vec<Measures>,
}

impl WorkPlan {
    /// The repair that was taken, or else the recommended one, and whether it was taken.
    pub(crate) fn repair(&self, offers: &[Offer]) -> Option<(&Repair, bool)> {
        let recommended = || self.repairs.iter().find(|repair| repair.name == RECOMMENDED).map(|one| (one, false));
        taken(offers).and_then(|offer| self.repair_of(offer)).map(|repair| (repair, true)).or_else(recommended)
    }

    /// What was taken and is no longer in the plan.
    pub(crate) fn gone<'a>(&self, offers: &'a [Offer]) -> Option<&'a Offer> {
        taken(offers).filter(|offer| self.repair_of(offer).is_none())
    }

    /// The repair that an offer is; none where the plan has no such work any more.
    fn repair_of(&self, offer: &Offer) -> Option<&Repair> {
        let sums: Vec<Offered> = self.repairs.iter().map(|repair| repair.sums.clone()).collect();
        self.repairs.get(place_in(&sums, offer)?)
    }

    /// What gear a part of the plan must be; none where it is no gear of the truck.
    pub(crate) fn wanted(&self, part: &str) -> Option<&Measures> {
        self.gears.iter().find(|gear| {
            let word = gear.gear.word();
            part == format!("{word} {}", gear.teeth) || part == format!("hardened {word}")
        })
    }
}

/// The offer that was taken.
fn taken(offers: &[Offer]) -> Option<&Offer> {
    offers.iter().find(|offer| !offer.was_not_taken())
}

/// Works the plan of a job out.
pub(crate) fn work_out(text: &str, book: &FaultBook, system: System, memo: &Memo) -> Result<WorkPlan, Trouble> {
    let job = Job::parse(text, book)?;
    let verdict = Verdict::new(&job, book, memo)?;
    let loaded = verdict.loaded(State::Proposed, memo)?;
    let truck = job.built.fields.word("truck.name").unwrap_or("Truck").to_owned();
    let windows = verdict.windows.clone();
    let drawn = in_both_widths(system, |frame| screw_map(&truck, State::Proposed, &loaded, &windows, frame));
    let repair = |one: &Alternative| Repair {
        name: one.name,
        words: name_words(one.name, &job),
        sums: Offered::of(one, name_words(one.name, &job).to_owned()),
        steps: one.steps.iter().map(|step| worked_out(step, &loaded, system)).collect(),
        parts: one.parts.iter().map(|part| part.name.clone()).collect(),
        cautions: cautions(one, system),
    };
    Ok(WorkPlan {
        repairs: verdict.plan.alternatives.iter().map(repair).collect(),
        joints: loaded.build.joints.iter().map(|joint| screwed(joint, &job, &windows, system)).collect(),
        map: drawn.map_err(|trouble| trouble.to_string()),
        gears: [Gear::Pinion, Gear::Spur].into_iter().filter_map(|gear| wanted_gear(&job.built, gear)).collect(),
        windows,
    })
}

fn cautions(one: &Alternative, system: System) -> Vec<String> {
    let brake = one.stops.as_ref().map(|stops| sentence(&brake_words(stops, system)));
    one.cautions.iter().cloned().chain(brake).collect()
}

fn worked_out(step: &PlanStep, loaded: &Loaded, system: System) -> Step {
    let carried = |joint: &&Joint| step.tightens.as_deref() == Some(joint.carries.as_str());
    let figure = step.figure.and_then(|figure| WorkFigure::of(figure, &loaded.build));
    Step {
        id: step.id.clone(),
        name: step.name.clone(),
        what: step.what.clone(),
        minutes: step.minutes,
        tools: step.tools.clone(),
        cautions: step.cautions.clone(),
        joints: loaded.build.joints.iter().filter(carried).map(|joint| joint.name.clone()).collect(),
        figure: figure.map(|figure| figure_words(&figure, system)),
    }
}

fn screwed(joint: &Joint, job: &Job, windows: &Windows, system: System) -> Screwed {
    let told = job.built.joints.iter().find(|one| one.name == joint.name);
    let size = told.and_then(|one| one.fields.words.get("joints.size"));
    Screwed {
        assumed: size.is_none_or(|size| size.origin.is_assumed()),
        name: joint.name.clone(),
        screws: screws(joint, system),
        into: joint.thread_in.clone(),
        tighten_to: tighten_to(windows, joint, system),
        printed: joint.printed_torque,
    }
}

/// What stands beside screws that nobody told of.
pub(crate) const ASSUMED: &str = "assumed: look at the screws first";

/// Each joint with its screws and how tight, as a table.
pub(crate) fn joints_table(joints: &[Screwed]) -> Html {
    const HEADS: [&str; 4] = ["Joint", "Screws", "Into", "Tighten to"];
    let heads = HEADS.map(|head| tag("th").with("scope", "col").say(head).into());
    let row = |joint: &Screwed| {
        let screws = if joint.assumed { format!("{} ({ASSUMED})", joint.screws) } else { joint.screws.clone() };
        let cells = [&joint.name, &screws, &joint.into, &joint.tighten_to];
        let cells = HEADS.iter().zip(cells).map(|(head, text)| tag("td").with("data-head", head).say(text).into());
        tag("tr").all(cells.collect::<Vec<_>>()).into()
    };
    let head = tag("thead").hold(tag("tr").all(heads));
    tag("table").hold(head).hold(tag("tbody").all(joints.iter().map(row))).into()
}
