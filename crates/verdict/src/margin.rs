//! A margin: how much a part bears over what is asked of it, and where it fails.

use crate::ranges::{Drawn, Narrowing};
use toothsayer_evidence::Proportion;
use toothsayer_job::State;

/// Probability that demand passes capacity from which on a state is unsure.
pub const UNSURE_FROM: f64 = 0.05;

/// Where a part fails first, going from the maker's truck to this driver.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FailsAt {
    /// As the maker sells it, with a usual driver.
    Stock,
    /// With the parts and settings that were fitted, with a usual driver.
    Parts,
    /// In the condition found, with a usual driver.
    Condition,
    /// Only with this driving.
    Driving,
}

impl FailsAt {
    /// Its word.
    pub fn name(self) -> &'static str {
        match self {
            FailsAt::Stock => "stock",
            FailsAt::Parts => "parts",
            FailsAt::Condition => "condition",
            FailsAt::Driving => "driving",
        }
    }
}

/// What limits a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Limit {
    /// Root bending under a blow.
    Root,
    /// Root bending over the horizon's runs.
    RootEndurance,
    /// Flank pressure: wear.
    Flank,
    /// Contact ratio under load.
    Engagement,
    /// Width on which the faces meet.
    Overlap,
    /// Play between the teeth.
    Backlash,
    /// Difference of the gears' base pitches.
    Pitch,
    /// Gap to the cover bearing.
    Gap,
    /// Bending of the motor's shaft.
    Bending,
    /// Hold of the set screw.
    Hold,
    /// Static load of a bearing.
    Static,
    /// Slip of a joint.
    Slip,
    /// Stripping of a joint.
    Strip,
    /// Clamp left in a joint.
    Clamp,
    /// Heat of the motor's winding.
    Temperature,
    /// Rating life of a bearing.
    Life,
    /// Heat of a bearing's seat.
    Seat,
}

/// A limit's word, unit, formula, source and the inputs that it leans on.
pub struct LimitRow {
    /// The limit.
    pub limit: Limit,
    /// Its word.
    pub name: &'static str,
    /// Plain words: what gives way.
    pub plain: &'static str,
    /// SI unit of demand and capacity; empty for plain numbers.
    pub unit: &'static str,
    /// How demand and capacity are computed.
    pub formula: &'static str,
    /// Where that comes from.
    pub source: &'static str,
    /// Registry keys of the inputs that matter most.
    pub inputs: &'static [&'static str],
}

/// Every limit once.
pub static LIMITS: &[LimitRow] = &[
    LimitRow {
        limit: Limit::Root,
        name: "root",
        plain: "teeth break off at the root",
        unit: "Pa",
        formula: "Ft/(b m) YF YS KFbeta against 2 x 2.5 sigmaFlim, Ft = Fn cos alpha of the hardest blow",
        source: "ISO 6336-3 method B, ISO 6336-1 method C; blow: shock model",
        inputs: &[
            "gears.pinion.hardness",
            "gears.spur.hardness",
            "stack.overlap",
            "driveline.lash",
            "driveline.stiffness",
        ],
    },
    LimitRow {
        limit: Limit::RootEndurance,
        name: "root-endurance",
        plain: "teeth tire at the root",
        unit: "Pa",
        formula: "Miner's equivalent of every event of the horizon against 2 YM YNT sigmaFlim",
        source: "ISO 6336-3 and -6; events: driver",
        inputs: &["driver.launches", "driver.full_brakes", "driver.landings", "gears.spur.hardness"],
    },
    LimitRow {
        limit: Limit::Flank,
        name: "flank",
        plain: "flanks wear",
        unit: "Pa",
        formula: "ZB ZH ZE Zeps sqrt(Ft/(d1 b) (u+1)/u KHbeta) against 1.6 x 0.85 ZW sigmaHlim",
        source: "ISO 6336-2; an indicator of wear, not part of \"holds\"",
        inputs: &["gears.pinion.hardness", "gears.spur.hardness"],
    },
    LimitRow {
        limit: Limit::Engagement,
        name: "engagement",
        plain: "teeth ride over each other",
        unit: "",
        formula: "contact ratio with the shaft bent away, over 1.2",
        source: "ISO 21771; 1.2: common practice, no source",
        inputs: &["gears.centre_distance", "motor.shaft_diameter", "motor.overhang"],
    },
    LimitRow {
        limit: Limit::Overlap,
        name: "overlap",
        plain: "too little of the faces meets",
        unit: "m",
        formula: "width on which both faces meet, over 0.8 of the narrower",
        source: "0.8: common practice, no source",
        inputs: &["stack.overlap", "stack.spacer", "stack.spur_face_start"],
    },
    LimitRow {
        limit: Limit::Backlash,
        name: "backlash",
        plain: "the mesh binds",
        unit: "m",
        formula: "normal backlash over 0.02 module",
        source: "ISO 21771; 0.02: common practice, no source",
        inputs: &["gears.centre_distance", "gears.pinion.thinning", "gears.spur.thinning"],
    },
    LimitRow {
        limit: Limit::Pitch,
        name: "pitch",
        plain: "the gears do not belong together",
        unit: "m",
        formula: "difference of the base pitches pi m cos alpha against 0.02 module",
        source: "ISO 21771; 0.02, a coarse grade's pitch deviation: common practice, no source",
        inputs: &["gears.module", "gears.pinion.module", "gears.spur.module"],
    },
    LimitRow {
        limit: Limit::Gap,
        name: "gap",
        plain: "the pinion presses the cover bearing or wanders",
        unit: "m",
        formula: "gap, or 1 mm less the gap, over the lengths' tolerance (at least 0.05 mm)",
        source: "root sum square of tolerances; limits: common practice, no source",
        inputs: &["stack.cover_bearing", "stack.spacer", "stack.pinion_length", "stack.bearing_gap"],
    },
    LimitRow {
        limit: Limit::Bending,
        name: "bending",
        plain: "the motor's shaft bends",
        unit: "Pa",
        formula: "notch 2 (flat) or 1 x M/(pi d^3/32) against the yield strength",
        source: "beam theory, handbook",
        inputs: &["motor.shaft_diameter", "motor.overhang", "motor.shaft_yield", "support.stiffness"],
    },
    LimitRow {
        limit: Limit::Hold,
        name: "hold",
        plain: "the set screw slips",
        unit: "N*m",
        formula: "Fn rb1 against holding force x shaft radius (x 1.5 on a flat)",
        source: "cup-point table, handbook; published charts differ two to three times",
        inputs: &["set_screw.torque", "motor.shaft_diameter"],
    },
    LimitRow {
        limit: Limit::Static,
        name: "static",
        plain: "the bearing's races dent",
        unit: "N",
        formula: "reaction of the propped shaft (input bearings: half the tooth force each) against C0",
        source: "ISO 76",
        inputs: &["support.c0", "support.distance", "support.stiffness"],
    },
    LimitRow {
        limit: Limit::Slip,
        name: "slip",
        plain: "the joint slips",
        unit: "N",
        formula: "Fn/n + Kt I/(n R) against 0.16 x clamp after the runs since tightening",
        source: "bolt group about its centre; friction: common practice, no source",
        inputs: &["joints.torque", "joints.circle"],
    },
    LimitRow {
        limit: Limit::Strip,
        name: "strip",
        plain: "a thread, head or screw gives way when tightened",
        unit: "N*m",
        formula: "torque set against F_weakest (0.159 P + 0.577 d2 mu + Dkm mu/2), mu 0.14",
        source: "VDI 2230, ISO 898-1",
        inputs: &["joints.torque", "joints.length", "joints.thread_in"],
    },
    LimitRow {
        limit: Limit::Clamp,
        name: "clamp",
        plain: "too little clamp is left",
        unit: "N",
        formula: "preload less embedding, creep and slip, against the clamp needed",
        source: "VDI 2230; creep: power law",
        inputs: &["joints.torque", "joints.runs_since_tightened"],
    },
    LimitRow {
        limit: Limit::Temperature,
        name: "temperature",
        plain: "the motor's winding overheats",
        unit: "K",
        formula: "rise of the winding over the air in a run (two masses, I^2 R growing with the heat, no-load loss) \
                  against the maker's limit less the air's temperature",
        source: "copper: IEC 60028; heat capacities and conductances by motor mass: estimate, no source",
        inputs: &[
            "driver.full_throttle_share",
            "driver.part_load",
            "driver.run_minutes",
            "motor.resistance",
            "motor.cooling",
            "motor.temperature_limit",
            "driver.air_temperature",
        ],
    },
    LimitRow {
        limit: Limit::Life,
        name: "life",
        plain: "the bearing wears out",
        unit: "s",
        formula: "horizon's runs x run x 0.85 of it turning against L10 = (C/P)^3 million turns of the cubic mean load",
        source: "ISO 281; steady tooth force of full throttle and of part load, no axial load; 0.85: estimate, no source",
        inputs: &["support.c", "support.distance", "driver.full_throttle_share", "driver.part_load"],
    },
    LimitRow {
        limit: Limit::Seat,
        name: "seat",
        plain: "the pressed bearing softens its seat",
        unit: "K",
        formula: "0.0015 F d/2 x speed over the conductance of wall and shaft, F = 200 N/mm x how far the stack is too \
                  long, against the plastic's deflection temperature less the air's",
        source: "friction: bearing tables; stiffness and films: estimate, no source",
        inputs: &["stack.bearing_gap", "stack.spacer", "stack.cover_bearing", "driver.air_temperature"],
    },
];

impl Limit {
    /// Its row.
    pub fn row(self) -> &'static LimitRow {
        LIMITS.iter().find(|row| row.limit == self).unwrap_or(&LIMITS[0])
    }

    /// Whether a margin below 1 means that the build does not hold; wear is shown and not counted.
    pub fn counts(self) -> bool {
        self != Limit::Flank
    }
}

/// One margin.
#[derive(Clone, Debug)]
pub struct Margin {
    /// The part ("pinion", a joint's name).
    pub part: String,
    /// What limits it.
    pub limit: Limit,
    /// The load case, or "any".
    pub case: &'static str,
    /// What is asked of it, in the limit's SI unit.
    pub demand: f64,
    /// What it bears, in the limit's SI unit.
    pub capacity: f64,
    /// Capacity over demand; none where nothing is asked.
    pub margin: Option<f64>,
    /// 5 % end of its range, where ranges were run.
    pub low: Option<f64>,
    /// Its median.
    pub median: Option<f64>,
    /// 95 % end.
    pub high: Option<f64>,
    /// Probability that demand passes capacity with its 95 % interval, where ranges were run.
    pub exceeded: Option<Proportion>,
    /// Where it fails first; none where it holds.
    pub fails_at: Option<FailsAt>,
}

impl Margin {
    /// A point margin.
    pub fn new(part: &str, limit: Limit, case: &'static str, demand: f64, capacity: f64) -> Self {
        let margin = (demand > 0.0).then(|| capacity / demand);
        let part = part.to_owned();
        let (low, median, high, exceeded, fails_at) = (None, None, None, None, None);
        Self { part, limit, case, demand, capacity, margin, low, median, high, exceeded, fails_at }
    }

    /// Whether it decides on "holds": wear and the wheel-stop accident do not.
    pub fn counts(&self) -> bool {
        self.limit.counts() && self.case != "wheel-stop"
    }

    /// Whether the point margin is below 1.
    pub fn fails(&self) -> bool {
        self.margin.is_some_and(|margin| margin < 1.0)
    }

    /// Value of the probability that demand passes capacity, where ranges were run.
    pub fn chance(&self) -> Option<f64> {
        self.exceeded.map(|exceeded| exceeded.value)
    }

    /// Whether `other` is the same part, limit and case in another state.
    pub fn same_place(&self, other: &Margin) -> bool {
        self.limit == other.limit && self.case == other.case && self.part == other.part
    }
}

/// Whether a state holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// Every margin, and every probability below 5 %.
    Yes,
    /// A point margin is below 1.
    No,
    /// Every point margin holds, not every probability; or no ranges were run.
    Unsure,
}

impl Holds {
    /// Its word.
    pub fn name(self) -> &'static str {
        match self {
            Holds::Yes => "yes",
            Holds::No => "no",
            Holds::Unsure => "unsure",
        }
    }

    /// Judged from a state's margins.
    pub fn of(margins: &[Margin]) -> Holds {
        let counted = || margins.iter().filter(|margin| margin.counts());
        if counted().any(Margin::fails) {
            Holds::No
        } else if counted()
            .all(|margin| margin.margin.is_none() || margin.chance().is_some_and(|chance| chance < UNSURE_FROM))
        {
            Holds::Yes
        } else {
            Holds::Unsure
        }
    }
}

/// The margins of one state.
#[derive(Clone, Debug)]
pub struct StateMargins {
    /// The state.
    pub state: State,
    /// Whether it holds.
    pub holds: Holds,
    /// Its margins, in the order of the load path.
    pub margins: Vec<Margin>,
    /// Draws behind the ranges, where they were run.
    pub drawn: Option<Drawn>,
    /// Which answers would narrow the verdict most, where that was sought.
    pub narrowing: Option<Narrowing>,
}

impl StateMargins {
    /// The measurement that would settle an "unsure", by registry key.
    pub fn settle(&self) -> Option<&'static str> {
        let largest = self.narrowing.as_ref()?.largest()?;
        (self.holds == Holds::Unsure).then_some(largest.input)
    }

    /// The least counted margin.
    pub fn least(&self) -> Option<&Margin> {
        let counted = self.margins.iter().filter(|margin| margin.counts() && margin.margin.is_some());
        counted.min_by(|a, b| a.margin.unwrap_or(f64::MAX).total_cmp(&b.margin.unwrap_or(f64::MAX)))
    }
}
