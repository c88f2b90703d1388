//! One row of the registry: what an input is, which values it may take, what stands in when it is absent.

use toothsayer_quantity::Kind;

/// How an input is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// A number with a unit, or a plain number for [`Kind::Number`]; the limits are in SI.
    Quantity(Kind),
    /// A whole number.
    Count,
    /// Yes or no.
    Flag,
    /// Any text.
    Text,
    /// One of these words.
    Word(&'static [&'static str]),
    /// A name from a catalogue that another room keeps.
    Name(Catalogue),
}

/// The catalogues that names are checked against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Catalogue {
    /// Gear materials.
    GearMaterial,
    /// What screws are driven into or press upon.
    JointMaterial,
    /// Property classes of screws.
    ScrewClass,
    /// Thread sizes.
    Thread,
    /// Set-screw sizes.
    SetScrew,
    /// Bearings by their ISO dimensions.
    Bearing,
    /// Starting builds.
    StartingBuild,
}

/// What stands in for an input that the file does not give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Absent {
    /// Nothing: one of the five facts.
    Required,
    /// Nothing: what the input describes is then not there.
    Nothing,
    /// The starting build of the truck's class, or an estimation rule.
    Estimated,
    /// A value with its range, in SI.
    Default {
        /// Low end.
        low: f64,
        /// What is usual.
        usual: f64,
        /// High end.
        high: f64,
        /// Where the three come from.
        why: &'static str,
    },
    /// A word.
    DefaultWord(&'static str),
}

/// One input of a build, a driver or a shop.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// Its key in a job file ("gears.pinion.teeth"; fields of a joint begin with "joints.").
    pub key: &'static str,
    /// How it is written.
    pub form: Form,
    /// Least value, in SI.
    pub least: f64,
    /// Largest value, in SI.
    pub most: f64,
    /// What stands in for it.
    pub absent: Absent,
    /// What it is, in plain words.
    pub help: &'static str,
    /// How to measure it with bench tools; empty where it is read off or chosen.
    pub measure: &'static str,
    /// Minutes that measuring takes.
    pub minutes: f64,
}

impl Input {
    pub(crate) const fn new(key: &'static str, form: Form, help: &'static str) -> Self {
        let (least, most) = (f64::MIN, f64::MAX);
        Self { key, form, least, most, absent: Absent::Estimated, help, measure: "", minutes: 1.0 }
    }

    pub(crate) const fn within(mut self, least: f64, most: f64) -> Self {
        self.least = least;
        self.most = most;
        self
    }

    pub(crate) const fn required(mut self) -> Self {
        self.absent = Absent::Required;
        self
    }

    pub(crate) const fn optional(mut self) -> Self {
        self.absent = Absent::Nothing;
        self
    }

    pub(crate) const fn usually(mut self, low: f64, usual: f64, high: f64, why: &'static str) -> Self {
        self.absent = Absent::Default { low, usual, high, why };
        self
    }

    pub(crate) const fn word(mut self, word: &'static str) -> Self {
        self.absent = Absent::DefaultWord(word);
        self
    }

    pub(crate) const fn measure(mut self, how: &'static str, minutes: f64) -> Self {
        self.measure = how;
        self.minutes = minutes;
        self
    }

    /// What the value measures; a plain number for counts.
    pub fn kind(&self) -> Kind {
        match self.form {
            Form::Quantity(kind) => kind,
            _ => Kind::Number,
        }
    }

    /// Whether the value is a number (a quantity or a count).
    pub fn is_number(&self) -> bool {
        matches!(self.form, Form::Quantity(_) | Form::Count)
    }

    /// The last part of the key ("teeth").
    pub fn field(&self) -> &'static str {
        self.key.rsplit('.').next().unwrap_or(self.key)
    }
}
