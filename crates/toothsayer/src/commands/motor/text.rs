//! The motor's figures for people.

use super::Told;
use crate::input::Desk;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::words::{share, value};
use toothsayer_mechanics::motor::{Heated, LaunchLimit};
use toothsayer_quantity::Kind;
use toothsayer_verdict::Grease;

const CAUTIONS: [&str; 4] = [
    "Wheels in the air at full throttle grow, can come apart and throw what sticks to them: a guard and eye \
     protection, nobody in their plane, and never above the makers' limits.",
    "A weaker brake lengthens the way to a stop. The ways hold on the level, on this grip, with warm tyres and without \
     your reaction time: leave more room, and keep people and animals out of it.",
    "Motor, controller and gears are hot after a run: let them cool before you touch them. The temperatures are \
     estimates; a thermometer on the case tells more.",
    "The venue's rules, the local rules and the makers' instructions come first.",
];

/// How each group of figures comes about.
const DERIVATIONS: [[&str; 2]; 6] = [
    [
        "speeds:",
        "T = K (I - I0), V = K w + I R with K = 1/Kv and R of winding and pack; top speed where the motor's force equals \
         the drag. Textbooks' permanent-magnet machine; rolling resistance is left out.",
    ],
    [
        "launch:",
        "the least of the controller's current, the one whose force makes the driven tyres spin (with their share of \
         the weight, rotating parts counted) and the slipper clutch's.",
    ],
    [
        "heat:",
        "winding and rest of the motor as two masses, I^2 R with 0.00393/K (IEC 60028) and the no-load loss; as many \
         stretches at full throttle from rest as the driver launches, the rest at part load. Capacities and conductances \
         by the motor's mass: estimate, no source.",
    ],
    [
        "stop:",
        "motor brake up to its current limit and K w/R, at most the grip of the braked wheels; drag, no-load loss and \
         rotating parts counted; standing is 0.1 m/s.",
    ],
    [
        "makers' limits:",
        "no-load speeds of a full pack: 4.2 V a cell (IEC 61960-3, from memory), or the file's voltage where that is \
         higher.",
    ],
    [
        "bearings:",
        "speed times mean diameter; ordinary grease to 150 000, special grease to 400 000 mm/min (rule of thumb, weak \
         source).",
    ],
];

impl Told {
    /// One sentence first, then the figures.
    pub(super) fn write(&self, desk: &Desk<'_>, words: &str, paper: &mut Paper) {
        let shown = |kind: Kind, si: f64| value(kind, si, desk.system);
        let ruled = match self.speeds.launch.ruled_by {
            LaunchLimit::Grip => "the tyres limit the launch",
            LaunchLimit::Motor => "motor and controller limit the launch",
            LaunchLimit::Clutch => "the slipper clutch limits the launch",
        };
        paper.paragraph(&format!(
            "Motor {words}: top speed {}; {ruled}; {}.",
            shown(Kind::Speed, self.speeds.top_speed.to_m_per_s()),
            self.heat_words(desk, paper)
        ));
        self.figures(desk, paper);
        self.stops(desk, paper);
        self.makers(desk, paper);
        self.greases(paper);
        cautions(paper);
        if desk.global.explain {
            explain(paper);
        }
    }

    fn heat_words(&self, desk: &Desk<'_>, paper: &Paper) -> String {
        let shown = |kind: Kind, si: f64| value(kind, si, desk.system);
        match self.heat.end {
            Heated::To { winding, .. } => {
                let over = winding > self.build.motor.temperature_limit;
                let verdict = if over { paper.tint(Tint::Bad, "TOO HOT") } else { paper.tint(Tint::Good, "within") };
                let limit = shown(Kind::Temperature, self.build.motor.temperature_limit.to_k());
                let of = if over { "for its limit of" } else { "its limit of" };
                format!("winding {} after the run, {verdict} {of} {limit}", shown(Kind::Temperature, winding.to_k()))
            }
            Heated::BurnsOut { after } => {
                let burns = paper.tint(Tint::Bad, "BURNS OUT");
                format!("the winding {burns} {} into the run", shown(Kind::Time, after.to_s()))
            }
        }
    }

    fn figures(&self, desk: &Desk<'_>, paper: &mut Paper) {
        let shown = |kind: Kind, si: f64| value(kind, si, desk.system);
        let (speeds, motor, launch) = (&self.speeds, &self.speeds.motor, &self.speeds.launch);
        let mut table = Table::new(&["figure", "value>"]);
        let mut row = |name: &str, text: String| table.row(vec![Cell::plain(name), Cell::plain(text)]);
        row("motor speed without load", shown(Kind::AngularSpeed, motor.no_load_speed().to_rad_per_s()));
        row("wheel speed in the air", shown(Kind::AngularSpeed, speeds.wheels_in_the_air.to_rad_per_s()));
        row("tread speed in the air", shown(Kind::Speed, speeds.no_load_top_speed.to_m_per_s()));
        row("top speed against the drag", shown(Kind::Speed, speeds.top_speed.to_m_per_s()));
        row("motor current there", shown(Kind::Current, speeds.at_top_speed.current.to_a()));
        row("efficiency there, from the cells to the shaft", share(speeds.at_top_speed.efficiency));
        row("stall current, without the controller's limit", shown(Kind::Current, motor.stall_current().to_a()));
        row("stall torque, without the controller's limit", shown(Kind::Torque, motor.stall_torque().to_n_m()));
        row("current at rest as the controller gives it", shown(Kind::Current, motor.limited_current().to_a()));
        row("torque at rest as the controller gives it", shown(Kind::Torque, motor.limited_torque().to_n_m()));
        if let Some(best) = motor.best_efficiency() {
            row("current of best efficiency", shown(Kind::Current, best.current.to_a()));
            row("best efficiency", share(best.efficiency));
        }
        row("current at which the tyres spin", shown(Kind::Current, launch.grip_current.to_a()));
        if let Some(current) = launch.clutch_current {
            row("current at which the clutch slips", shown(Kind::Current, current.to_a()));
        }
        row("push at the tread in a launch", shown(Kind::Force, launch.force.to_n()));
        row("heating current at full throttle", shown(Kind::Current, self.heat.full_current.to_a()));
        row("heating current in the rest of a run", shown(Kind::Current, self.heat.part_current.to_a()));
        if let Heated::To { winding, case } = self.heat.end {
            row("winding after a run", shown(Kind::Temperature, winding.to_k()));
            row("case after a run", shown(Kind::Temperature, case.to_k()));
        }
        row("air", shown(Kind::Temperature, self.build.driver.air_temperature.to_k()));
        paper.blank();
        paper.table(&table);
        if self.heat.runs_away {
            paper.item("note:", "this duty heats the winding faster than its heat runs off: a longer run burns it.");
        }
    }

    fn stops(&self, desk: &Desk<'_>, paper: &mut Paper) {
        let from = value(Kind::Speed, self.as_set.from.to_m_per_s(), desk.system);
        paper.heading(&format!("Way to a stop from {from}"));
        let mut table = Table::new(&["brake strength", "way>", "time>"]);
        let as_set = [(format!("{} as set", share(self.build.controller.brake_strength)), &self.as_set)];
        let others = self.at_strengths.iter().map(|(strength, stop)| (share(*strength), stop));
        for (name, stop) in as_set.into_iter().chain(others) {
            let way = stop.distance.map_or("over 1 km".into(), |way| value(Kind::Length, way.to_m(), desk.system));
            let time = stop.time.map_or(String::new(), |time| value(Kind::Time, time.to_s(), desk.system));
            table.row(vec![Cell::plain(name), Cell::plain(way), Cell::plain(time)]);
        }
        paper.table(&table);
    }

    fn makers(&self, desk: &Desk<'_>, paper: &mut Paper) {
        paper.heading("Makers' limits");
        let mut table = Table::new(&["what", "here>", "limit>", "verdict"]);
        for row in &self.limits {
            let limit = row.limit.map_or("not stated".into(), |limit| value(row.kind, limit, desk.system));
            let verdict = match row.passed() {
                Some(true) => Cell::tinted(Tint::Bad, "PASSED"),
                Some(false) => Cell::tinted(Tint::Good, "kept"),
                None => Cell::tinted(Tint::Doubt, "unknown"),
            };
            let here = value(row.kind, row.value, desk.system);
            table.row(vec![Cell::plain(row.what), Cell::plain(here), Cell::plain(limit), verdict]);
        }
        paper.table(&table);
    }

    fn greases(&self, paper: &mut Paper) {
        if self.bearings.is_empty() {
            return;
        }
        paper.heading("Bearings at no-load speed");
        let mut table = Table::new(&["bearing", "size, mm", "n dm, mm/min>", "asks for"]);
        for row in &self.bearings {
            let asks = match row.grease {
                Grease::Ordinary => Cell::plain("any bearing grease"),
                Grease::Special => Cell::plain("fast grease or oil"),
                Grease::Beyond => Cell::tinted(Tint::Doubt, "oil; past greases"),
            };
            let factor = format!("{:.0}", row.speed_factor_mm_per_min);
            table.row(vec![Cell::plain(row.part), Cell::plain(row.size), Cell::plain(factor), asks]);
        }
        paper.table(&table);
    }
}

fn cautions(paper: &mut Paper) {
    paper.heading("Cautions");
    for text in CAUTIONS {
        paper.item("-", text);
    }
}

fn explain(paper: &mut Paper) {
    paper.heading("How the figures come about");
    for [name, text] in DERIVATIONS {
        paper.item(name, text);
    }
}
