//! How the chances and prices come about: the words of each, told beside the figures.

/// How a figure comes about.
#[derive(Clone, Copy, Debug)]
pub struct Derivation {
    /// The figure's name.
    pub name: &'static str,
    /// Its formula.
    pub formula: &'static str,
    /// Where that comes from.
    pub source: &'static str,
}

/// The figures of causes and checks.
pub static OF_CAUSES: &[Derivation] = &[
    Derivation {
        name: "present",
        formula: "P(cause | findings, complaint), summed over every set of causes",
        source: "noisy-OR network (Pearl 1988, from memory); priors and links of the fault book",
    },
    Derivation {
        name: "mattered",
        formula: "P(cause there, teeth went, and would not have gone without it | findings, complaint)",
        source: "the same network with the one cause taken away and every other chance kept as it fell",
    },
    Derivation {
        name: "takes the next set",
        formula: "present x P(the cause alone takes new gears within the horizon)",
        source: "computed from this truck's margins where it can be, else the fault book's links",
    },
    Derivation {
        name: "tells (bits)",
        formula: "H(answer | findings) - mean over the sets of causes of H(answer | set)",
        source: "mutual information (Shannon 1948, from memory)",
    },
    Derivation {
        name: "worth",
        formula: "drop of the least price + comeback x cost of a comeback by knowing the answer, less the minutes of \
                  looking at the labour rate",
        source: "value of information (Howard 1966, from memory)",
    },
];

/// The figures of repairs.
pub static OF_REPAIRS: &[Derivation] = &[
    Derivation {
        name: "price",
        formula: "labour rate x minutes + parts",
        source: "[shop] of the file; minutes of the fault book",
    },
    Derivation {
        name: "time",
        formula: "minutes of the steps + taking off and putting back, each part once",
        source: "fault book",
    },
    Derivation {
        name: "comeback",
        formula: "P(teeth go within the horizon | findings, the cured causes away)",
        source: "the network of `why`, with the truck's margins over the horizon",
    },
    Derivation {
        name: "recommended",
        formula: "least price + comeback x cost of a comeback, what was found broken always cured",
        source: "expected cost over every combination of cures",
    },
    Derivation {
        name: "tighten",
        formula: "from the torque of the clamp that is needed, at friction 0.16, to 0.9 of the torque at which the \
                  weakest part gives way, at friction 0.08",
        source: "torque and clamp: VDI 2230, ISO 16047; the friction of its class B",
    },
];

/// The figures of the care plan.
pub static OF_CARE: &[Derivation] = &[
    Derivation {
        name: "clamp over runs",
        formula: "(F0 - FZ min(t, 1)) ((1 + r + t)/(1 + r))^-n, less 0.5 % for each blow that slips; FZ x 0.2 when \
                  tightened again after r runs",
        source: "embedding: VDI 2230; creep: form of ISO 899-1; slips: elicited, no source",
    },
    Derivation {
        name: "tightened again",
        formula: "after the first run where 10 % of the clamp is gone by then, else after the last run that leaves the \
                  clamp needed; then as often as the clamp tightened again lasts",
        source: "the joint's needed clamp: the file's, or the hardest blow's shear/friction",
    },
    Derivation {
        name: "behind the cover",
        formula: "after the first run and every 25 runs; teeth four times before one set in twenty has stripped",
        source: "common practice, no source; runs to a strip as `life` tells them",
    },
    Derivation {
        name: "bearing",
        formula: "(C/P)^3 million turns at the duty's mean load and speed, over the turns of a run",
        source: "ISO 281",
    },
    Derivation {
        name: "day of a run",
        formula: "hand-over + whole days of 7 x run/runs per week",
        source: "runs spread evenly",
    },
];
