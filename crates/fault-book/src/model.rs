//! The book's entries: causes, modes, findings, what must come off, steps, cautions.

use std::collections::BTreeMap;
use toothsayer_quantity::Kind;

/// Chance of a child being on because of a parent, by the child's id.
pub type Links = BTreeMap<String, f64>;

/// A caution, told wherever it applies.
#[derive(Clone, Debug)]
pub struct Caution {
    /// Id.
    pub id: String,
    /// The words.
    pub text: String,
}

/// Something that must come off before a check or a step.
#[derive(Clone, Debug)]
pub struct Removal {
    /// Id.
    pub id: String,
    /// Plain words.
    pub name: String,
    /// Minutes to take it off.
    pub off_minutes: f64,
    /// Minutes to put it back.
    pub on_minutes: f64,
    /// What must be off before.
    pub needs: Vec<String>,
    /// Tools.
    pub tools: Vec<String>,
    /// Cautions for taking it off.
    pub cautions: Vec<String>,
    /// Cautions for putting it back.
    pub cautions_back: Vec<String>,
    /// The joint that putting it back tightens, by what it carries.
    pub tightens: Option<String>,
    /// The figure that it is put back to.
    pub figure: Option<Figure>,
}

/// Which computed margin sets off a mode.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trigger {
    /// Strength of the tooth's root.
    Root,
    /// Contact ratio at the loaded centre distance.
    Engagement,
    /// Width on which the faces meet.
    Overlap,
}

/// How teeth fail.
#[derive(Clone, Debug)]
pub struct Mode {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Plain words.
    pub plain: String,
    /// Chance without any known cause.
    pub leak: f64,
    /// The computed margin that sets it off.
    pub computed: Option<Trigger>,
}

/// Beta counts of a prior.
#[derive(Clone, Copy, Debug)]
pub struct Prior {
    /// Counts for.
    pub yes: f64,
    /// Counts against.
    pub no: f64,
}

impl Prior {
    /// Mean of the Beta distribution.
    pub fn mean(self) -> f64 {
        self.yes / (self.yes + self.no)
    }
}

/// What a cause, a finding or a step does to a build; quantities in SI.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// An input takes a value.
    Set {
        /// Registry key.
        input: String,
        /// The value, SI.
        to_si: f64,
    },
    /// An input grows by an amount.
    Add {
        /// Registry key.
        input: String,
        /// Usual amount, SI.
        amount_si: f64,
        /// Low end, SI.
        low: f64,
        /// High end, SI.
        high: f64,
    },
    /// An input is multiplied.
    Scale {
        /// Registry key.
        input: String,
        /// Factor.
        by: f64,
    },
    /// An input goes back to what is usual in the truck's class or stock.
    Usual {
        /// Registry key.
        input: String,
    },
    /// A joint (by what it carries) or the pinion holds no longer.
    Frees {
        /// "motor", "mount", "input shaft" or "pinion".
        carries: String,
    },
}

impl Change {
    /// The input that it sets, if any.
    pub fn input(&self) -> Option<&str> {
        match self {
            Self::Set { input, .. } | Self::Add { input, .. } | Self::Scale { input, .. } | Self::Usual { input } => {
                Some(input)
            }
            Self::Frees { .. } => None,
        }
    }
}

/// A condition under which the build itself tells that a cause is there.
#[derive(Clone, Debug, PartialEq)]
pub struct Decision {
    /// Registry key.
    pub input: String,
    /// What the input must pass.
    pub above: Above,
}

/// A limit: absolute, against what is usual, or against another input.
#[derive(Clone, Debug, PartialEq)]
pub enum Above {
    /// SI value.
    Value(f64),
    /// Factor on the usual value.
    Usual(f64),
    /// Factor on another input.
    Other {
        /// Registry key of the other.
        input: String,
        /// Factor.
        factor: f64,
    },
}

/// Why teeth go.
#[derive(Clone, Debug)]
pub struct Cause {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// One plain sentence.
    pub plain: String,
    /// Prior.
    pub prior: Prior,
    /// Whether it stays when the gears are changed.
    pub outlives_gear_change: bool,
    /// What it does to a build; a cause with changes is computed.
    pub present: Vec<Change>,
    /// When the build tells: any of these decides.
    pub decided_by: Vec<Decision>,
    /// What curing a decided cause does to a build.
    pub absent: Vec<Change>,
    /// Links to modes.
    pub modes: Links,
    /// Links to findings.
    pub findings: Links,
    /// Steps that cure it.
    pub cured_by: Vec<String>,
    /// Cautions for whoever cures it.
    pub cautions: Vec<String>,
}

impl Cause {
    /// Whether the mechanics can compute what it does.
    pub fn is_computed(&self) -> bool {
        !self.present.is_empty() || !self.decided_by.is_empty()
    }
}

/// What a measurement of a check sets in the build.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Registry key.
    pub input: String,
    /// What it measures.
    pub kind: Kind,
    /// Whether the value adds to the build's.
    pub adds: bool,
    /// The answer is yes above this, SI.
    pub yes_above: Option<f64>,
}

impl Measured {
    /// The change that a measured value makes.
    pub fn change(&self, si: f64) -> Change {
        let input = self.input.clone();
        if self.adds {
            Change::Add { input, amount_si: si, low: si, high: si }
        } else {
            Change::Set { input, to_si: si }
        }
    }
}

/// What is seen or measured.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Id.
    pub id: String,
    /// The question, answered by yes or no.
    pub question: String,
    /// How to look.
    pub how: String,
    /// Minutes, with everything off that must be off.
    pub minutes: f64,
    /// Place in the bench order.
    pub order: f64,
    /// What must be off.
    pub needs: Vec<String>,
    /// Tools.
    pub tools: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// Chance of a yes without any of its causes.
    pub leak: f64,
    /// Links from modes.
    pub modes: Links,
    /// The joint, or the pinion, that a yes shows free.
    pub frees: Option<String>,
    /// What a yes means for the build.
    pub means: Vec<Change>,
    /// What a measurement sets.
    pub value: Option<Measured>,
}

/// What a customer comes with.
#[derive(Clone, Debug)]
pub struct Complaint {
    /// Id: a word of `job.complaint`.
    pub id: String,
    /// Name.
    pub name: String,
    /// Plain words.
    pub plain: String,
    /// Whether it says that teeth went.
    pub stripped: bool,
    /// Findings that it answers with yes.
    pub implies: Vec<String>,
    /// Steps of every plan for it.
    pub steps: Vec<String>,
}

/// Steps that plans have whatever they cure.
#[derive(Clone, Debug, Default)]
pub struct Plans {
    /// Steps of every plan.
    pub always: Vec<String>,
    /// Steps of plans for a truck that has not run on its gears yet.
    pub new_truck: Vec<String>,
}

/// A figure that work is done to, other than a joint's window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// Play of the mesh.
    MeshPlay,
    /// Torque of the pinion's set screw.
    SetScrew,
}

/// Work.
#[derive(Clone, Debug)]
pub struct Step {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// What is done.
    pub what: String,
    /// Minutes, with everything off that must be off.
    pub minutes: f64,
    /// The stage within which its place is free; none where the order is fixed.
    pub stage: Option<String>,
    /// Place in the bench order.
    pub order: f64,
    /// What must be off.
    pub needs: Vec<String>,
    /// Parts used.
    pub parts: Vec<String>,
    /// Tools.
    pub tools: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// The joint that it tightens, by what it carries.
    pub tightens: Option<String>,
    /// The figure that it is done to.
    pub figure: Option<Figure>,
}
