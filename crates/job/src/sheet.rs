//! A sheet: values by key, each with its range and where it came from.

use std::collections::BTreeMap;
use std::fmt;

/// Where a value came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The file gives it.
    Given,
    /// A finding at the bench set it.
    Finding(String),
    /// A repair or a changed setting set it.
    Change(String),
    /// The starting build of this class.
    Class(String),
    /// An estimation rule.
    Rule(&'static str),
    /// The default, for this reason.
    Default(&'static str),
    /// The file gives it as assumed, with this source.
    Assumed(String),
}

impl Origin {
    /// Whether nobody measured or stated it.
    pub fn is_assumed(&self) -> bool {
        matches!(self, Self::Class(_) | Self::Rule(_) | Self::Default(_) | Self::Assumed(_))
    }
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Given => f.write_str("given"),
            Self::Finding(check) => write!(f, "found: {check}"),
            Self::Change(what) => write!(f, "changed: {what}"),
            Self::Class(name) => write!(f, "class {name}, no source"),
            Self::Rule(rule) => write!(f, "estimate, no source: {rule}"),
            Self::Default(why) => f.write_str(why),
            Self::Assumed(from) => f.write_str(from),
        }
    }
}

/// A number in SI with its range.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The value.
    pub value: f64,
    /// Low end of the range; equal to the value where none is known.
    pub low: f64,
    /// High end.
    pub high: f64,
    /// Where it came from.
    pub origin: Origin,
}

impl Entry {
    /// A value without spread.
    pub fn exact(value: f64, origin: Origin) -> Self {
        Self { value, low: value, high: value, origin }
    }

    /// Whether the range is wider than a point.
    pub fn has_spread(&self) -> bool {
        self.high > self.low
    }

    /// The entry with value and range moved by `amount`.
    pub fn moved(&self, amount: f64, origin: Origin) -> Self {
        Self { value: self.value + amount, low: self.low + amount, high: self.high + amount, origin }
    }

    /// The entry with value and range multiplied by `factor` (positive).
    pub fn scaled(&self, factor: f64, origin: Origin) -> Self {
        Self { value: self.value * factor, low: self.low * factor, high: self.high * factor, origin }
    }
}

/// A word with where it came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// The word.
    pub text: String,
    /// Where it came from.
    pub origin: Origin,
}

/// Numbers and words by registry key.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fields {
    /// Numbers, in SI; flags are 0 or 1.
    pub numbers: BTreeMap<&'static str, Entry>,
    /// Names, words and texts.
    pub words: BTreeMap<&'static str, Word>,
}

impl Fields {
    /// The number under `key`.
    pub fn number(&self, key: &str) -> Option<f64> {
        self.numbers.get(key).map(|entry| entry.value)
    }

    /// The word under `key`.
    pub fn word(&self, key: &str) -> Option<&str> {
        self.words.get(key).map(|word| word.text.as_str())
    }

    /// Whether `key` has a value of either sort.
    pub fn has(&self, key: &str) -> bool {
        self.numbers.contains_key(key) || self.words.contains_key(key)
    }

    /// Removes `key`.
    pub fn remove(&mut self, key: &str) {
        self.numbers.remove(key);
        self.words.remove(key);
    }

    /// Lays `over` on top: its values win.
    pub fn lay(&mut self, over: &Fields) {
        self.numbers.extend(over.numbers.iter().map(|(key, entry)| (*key, entry.clone())));
        self.words.extend(over.words.iter().map(|(key, word)| (*key, word.clone())));
    }

    /// Every key that has a value.
    pub fn keys(&self) -> impl Iterator<Item = &'static str> {
        self.numbers.keys().chain(self.words.keys()).copied()
    }
}

/// A joint of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct JointFields {
    /// Its name.
    pub name: String,
    /// Its values, under "joints." keys.
    pub fields: Fields,
    /// Whether the joint was found to let its part move: it clamps nothing.
    pub free: bool,
}

impl JointFields {
    /// What the joint carries ("motor", "mount", "input shaft", "nothing").
    pub fn carries(&self) -> &str {
        self.fields.word("joints.carries").unwrap_or("nothing")
    }
}

/// The values of one state of a truck and of its driver.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// Everything but the joints.
    pub fields: Fields,
    /// The joints, in the order of the file.
    pub joints: Vec<JointFields>,
    /// Travel of the pinion, stop to stop, when the motor is rocked by hand, m.
    pub rock_travel_m: f64,
    /// Whether the pinion can move along the motor's shaft.
    pub pinion_free: bool,
}

impl Sheet {
    /// Lays `over` on top; joints merge by name.
    pub fn lay(&mut self, over: &Sheet) {
        self.fields.lay(&over.fields);
        for joint in &over.joints {
            match self.joints.iter_mut().find(|own| own.name == joint.name) {
                Some(own) => lay_joint(own, joint),
                None => self.joints.push(joint.clone()),
            }
        }
    }

    /// The sheet with what `over` says laid on top, and what was assumed in its tables estimated anew.
    pub fn overlaid(&self, over: &Sheet) -> Sheet {
        crate::start::relay(self, over)
    }

    /// Whether nothing stands on the sheet.
    pub fn is_empty(&self) -> bool {
        self.fields.keys().next().is_none() && self.joints.is_empty()
    }
}

/// The overlay speaks of the tightening anew: what the joint said before of it no longer holds.
fn lay_joint(own: &mut JointFields, over: &JointFields) {
    if over.fields.has("joints.torque") || over.fields.has("joints.tightness") {
        own.fields.remove("joints.torque");
        own.fields.remove("joints.tightness");
    }
    own.fields.lay(&over.fields);
    own.free |= over.free;
}
