//! The book as its file writes it, before quantities are read and references checked.

use crate::model::{Above, Cause, Caution, Change, Decision, Finding, Links, Measured, Mode, Prior, Removal, Step};
use serde::Deserialize;
use toothsayer_quantity::{Kind, parse};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawBook {
    pub(crate) name: String,
    pub(crate) source: String,
    #[serde(default)]
    pub(crate) cautions: Vec<Caution>,
    #[serde(default)]
    pub(crate) removals: Vec<Removal>,
    #[serde(default)]
    pub(crate) modes: Vec<Mode>,
    #[serde(default)]
    pub(crate) causes: Vec<RawCause>,
    #[serde(default)]
    pub(crate) findings: Vec<RawFinding>,
    #[serde(default)]
    pub(crate) steps: Vec<Step>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawCause {
    pub(crate) id: String,
    name: String,
    plain: String,
    prior: Prior,
    #[serde(default)]
    outlives_gear_change: bool,
    #[serde(default)]
    present: Vec<RawChange>,
    decided_by: Option<RawDecision>,
    #[serde(default)]
    absent: Vec<RawChange>,
    #[serde(default)]
    modes: Links,
    #[serde(default)]
    findings: Links,
    #[serde(default)]
    cured_by: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawDecision {
    input: String,
    above: Option<String>,
    above_usual: Option<f64>,
}

#[derive(Deserialize)]
#[serde(untagged, deny_unknown_fields)]
enum RawChange {
    Set { set: String, to: String },
    Add { add: String, amount: String, low: String, high: String },
    Scale { scale: String, by: f64 },
    Usual { usual: String },
    Frees { frees: String },
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawFinding {
    pub(crate) id: String,
    question: String,
    how: String,
    minutes: f64,
    order: u32,
    #[serde(default)]
    needs: Vec<String>,
    #[serde(default)]
    tools: Vec<String>,
    #[serde(default)]
    cautions: Vec<String>,
    leak: f64,
    #[serde(default)]
    modes: Links,
    frees: Option<String>,
    #[serde(default)]
    means: Vec<RawChange>,
    value: Option<RawMeasured>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawMeasured {
    input: String,
    op: Op,
    yes_above: Option<String>,
}

#[derive(Clone, Copy, Deserialize, PartialEq)]
#[serde(rename_all = "kebab-case")]
enum Op {
    Set,
    Add,
}

/// What is wrong with an entry, and the way out.
pub(crate) struct Fault {
    pub(crate) message: String,
    pub(crate) hint: String,
}

fn kind_of(input: &str) -> Result<Kind, Fault> {
    toothsayer_inputs::find(input).map(toothsayer_inputs::Input::kind).ok_or_else(|| {
        let near = toothsayer_quantity::nearest(input, toothsayer_inputs::all().map(|input| input.key));
        Fault {
            message: format!("`{input}` is no input of a build"),
            hint: near.map_or("inputs are named as in a job file".into(), |near| format!("did you mean `{near}`?")),
        }
    })
}

fn si(input: &str, text: &str) -> Result<f64, Fault> {
    let read = parse(kind_of(input)?, text);
    read.map(|reading| reading.si).map_err(|error| Fault { message: format!("`{input}`: {error}"), hint: error.hint() })
}

impl RawChange {
    fn read(self) -> Result<Change, Fault> {
        Ok(match self {
            Self::Set { set, to } => Change::Set { to_si: si(&set, &to)?, input: set },
            Self::Add { add, amount, low, high } => {
                Change::Add { amount_si: si(&add, &amount)?, low: si(&add, &low)?, high: si(&add, &high)?, input: add }
            }
            Self::Scale { scale, by } => kind_of(&scale).map(|_| Change::Scale { input: scale, by })?,
            Self::Usual { usual } => kind_of(&usual).map(|_| Change::Usual { input: usual })?,
            Self::Frees { frees } => Change::Frees { carries: carried(frees)? },
        })
    }
}

fn carried(name: String) -> Result<String, Fault> {
    const FREED: [&str; 4] = ["motor", "mount", "input shaft", "pinion"];
    if FREED.contains(&name.as_str()) {
        return Ok(name);
    }
    Err(Fault { message: format!("nothing here frees \"{name}\""), hint: format!("one of: {}", FREED.join(", ")) })
}

impl RawDecision {
    fn read(self) -> Result<Decision, Fault> {
        let above = match (self.above, self.above_usual) {
            (Some(text), None) => Above::Value(si(&self.input, &text)?),
            (None, Some(factor)) => kind_of(&self.input).map(|_| Above::Usual(factor))?,
            _ => {
                let message = format!("`decided_by` of `{}` needs `above` or `above_usual`", self.input);
                return Err(Fault { message, hint: "write one of the two".into() });
            }
        };
        Ok(Decision { input: self.input, above })
    }
}

fn changes(raw: Vec<RawChange>) -> Result<Vec<Change>, Fault> {
    raw.into_iter().map(RawChange::read).collect()
}

impl RawCause {
    pub(crate) fn read(self) -> Result<Cause, Fault> {
        Ok(Cause {
            id: self.id,
            name: self.name,
            plain: self.plain,
            prior: self.prior,
            outlives_gear_change: self.outlives_gear_change,
            present: changes(self.present)?,
            decided_by: self.decided_by.map(RawDecision::read).transpose()?,
            absent: changes(self.absent)?,
            modes: self.modes,
            findings: self.findings,
            cured_by: self.cured_by,
        })
    }
}

impl RawFinding {
    pub(crate) fn read(self) -> Result<Finding, Fault> {
        let value = self.value.map(|raw| {
            let yes_above = raw.yes_above.map(|text| si(&raw.input, &text)).transpose()?;
            Ok(Measured { kind: kind_of(&raw.input)?, input: raw.input, adds: raw.op == Op::Add, yes_above })
        });
        Ok(Finding {
            id: self.id,
            question: self.question,
            how: self.how,
            minutes: self.minutes,
            order: self.order,
            needs: self.needs,
            tools: self.tools,
            cautions: self.cautions,
            leak: self.leak,
            modes: self.modes,
            frees: self.frees.map(carried).transpose()?,
            means: changes(self.means)?,
            value: value.transpose()?,
        })
    }
}
