//! `motor`: speeds and currents, what limits the launch, the heat of a run, the way to a stop, the makers' limits.

use crate::args::StateArgs;
use crate::failure::Failure;
use crate::input::{Desk, state};
use crate::json;
use crate::paper::{Cell, Paper, Table, Tint};
use crate::words::{share, state_words, value};
use serde_json::{Map, Value, json};
use toothsayer_job::Build;
use toothsayer_mechanics::motor::{Heated, LaunchLimit, TruckSpeeds};
use toothsayer_quantity::{Kind, Unit};
use toothsayer_verdict::{
    Bay, MakersLimit, Memo, RunHeat, Stopping, Verdict, makers_limits, run_heat, stopping_distance, truck_speeds,
};

/// Brake strengths that are shown beside the one that is set.
const STRENGTHS: [f64; 4] = [1.0, 0.8, 0.6, 0.4];

/// Everything that the command tells.
struct Told {
    build: Build,
    speeds: TruckSpeeds,
    heat: RunHeat,
    as_set: Stopping,
    at_strengths: Vec<(f64, Stopping)>,
    limits: [MakersLimit; 3],
}

/// The motor of a job file.
pub fn run(desk: &Desk<'_>, args: &StateArgs) -> Result<String, Failure> {
    let job = desk.job(&args.file)?;
    let memo = Memo::default();
    let verdict = Verdict::new(&job, &desk.book, &memo)?;
    let stage = verdict.stage(state(args.state))?;
    let build = stage.sheet.build().map_err(toothsayer_verdict::Error::from)?;
    let told = Told::of(build, stage.run_in)?;
    if desk.global.json {
        return json::text(&told.as_json());
    }
    let mut paper = Paper::new();
    told.write(desk, state_words(stage.state), &mut paper);
    Ok(paper.finish())
}

impl Told {
    fn of(build: Build, run_in: bool) -> Result<Self, Failure> {
        let bay = Bay::new(&build, run_in)?;
        let at = |strength: f64| Ok::<_, Failure>((strength, stopping_distance(&build, &bay, strength)?));
        Ok(Self {
            speeds: truck_speeds(&build, &bay)?,
            heat: run_heat(&build, &bay)?,
            as_set: at(build.controller.brake_strength)?.1,
            at_strengths: STRENGTHS.into_iter().map(at).collect::<Result<_, _>>()?,
            limits: makers_limits(&build, &bay),
            build,
        })
    }

    fn as_json(&self) -> Value {
        let (motor, top) = (&self.speeds.motor, &self.speeds.at_top_speed);
        let mut map = Map::new();
        let mut put = |key: &str, value: Value| map.insert(key.to_owned(), value);
        put("no_load_motor_speed_rad_s", json!(motor.no_load_speed().to_rad_per_s()));
        put("wheels_in_the_air_rad_s", json!(self.speeds.wheels_in_the_air.to_rad_per_s()));
        put("no_load_top_speed_m_s", json!(self.speeds.no_load_top_speed.to_m_per_s()));
        put("top_speed_m_s", json!(self.speeds.top_speed.to_m_per_s()));
        put("top_speed_current_a", json!(top.current.to_a()));
        put("top_speed_pack_current_a", json!(top.pack_current.to_a()));
        put("top_speed_torque_n_m", json!(top.torque.to_n_m()));
        put("top_speed_shaft_power_w", json!(top.shaft_power_w));
        put("top_speed_efficiency", json!(top.efficiency));
        put("stall_current_a", json!(motor.stall_current().to_a()));
        put("stall_torque_n_m", json!(motor.stall_torque().to_n_m()));
        put("limited_current_a", json!(motor.limited_current().to_a()));
        put("limited_torque_n_m", json!(motor.limited_torque().to_n_m()));
        let best = motor.best_efficiency();
        put("best_efficiency", json!(best.map(|best| best.efficiency)));
        put("best_efficiency_current_a", json!(best.map(|best| best.current.to_a())));
        put("launch", self.launch_json());
        put("run", self.run_json());
        put("brake_from_m_s", json!(self.as_set.from.to_m_per_s()));
        put("stopping_as_set", stop_json(self.build.controller.brake_strength, &self.as_set));
        put("stopping", self.at_strengths.iter().map(|(strength, stop)| stop_json(*strength, stop)).collect());
        put("makers_limits", self.limits.iter().map(limit_json).collect());
        Value::Object(map)
    }

    fn launch_json(&self) -> Value {
        let launch = &self.speeds.launch;
        json!({
            "motor_current_a": launch.motor_current.to_a(),
            "grip_current_a": launch.grip_current.to_a(),
            "clutch_current_a": launch.clutch_current.map(|current| current.to_a()),
            "ruled_by": limit_word(launch.ruled_by),
            "tread_force_n": launch.force.to_n(),
        })
    }

    fn run_json(&self) -> Value {
        let (heat, driver) = (&self.heat, &self.build.driver);
        let (winding, case, burns_out) = match heat.end {
            Heated::To { winding, case } => (Some(celsius(winding.to_k())), Some(celsius(case.to_k())), None),
            Heated::BurnsOut { after } => (None, None, Some(after.to_s())),
        };
        json!({
            "run_s": driver.run.to_s(),
            "full_throttle_current_a": heat.full_current.to_a(),
            "part_load_current_a": heat.part_current.to_a(),
            "air_temperature_degc": celsius(driver.air_temperature.to_k()),
            "winding_temperature_degc": winding,
            "case_temperature_degc": case,
            "winding_limit_degc": celsius(self.build.motor.temperature_limit.to_k()),
            "burns_out_after_s": burns_out,
            "runs_away": heat.runs_away,
        })
    }

    fn write(&self, desk: &Desk<'_>, words: &str, paper: &mut Paper) {
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
}

fn cautions(paper: &mut Paper) {
    paper.heading("Cautions");
    for text in [
        "Wheels in the air at full throttle grow, can come apart and throw what sticks to them: a guard and eye protection, nobody in their \
         plane, and never above the makers' limits.",
        "A weaker brake lengthens the way to a stop. The ways hold on the level, on this grip, with warm tyres and \
         without your reaction time: leave more room, and keep people and animals out of it.",
        "Motor, controller and gears are hot after a run: let them cool before you touch them. The temperatures are \
         estimates; a thermometer on the case tells more.",
        "The venue's rules, the local rules and the makers' instructions come first.",
    ] {
        paper.item("-", text);
    }
}

fn explain(paper: &mut Paper) {
    paper.heading("How the figures come about");
    for (name, text) in [
        (
            "speeds:",
            "T = K (I - I0), V = K w + I R with K = 1/Kv and R of winding and pack; top speed where the motor's force equals the drag. Textbooks' permanent-magnet machine; rolling resistance is left out.",
        ),
        (
            "launch:",
            "the least of the controller's current, the one whose force makes the driven tyres spin (weight shared evenly by the wheels, rotating parts counted) and the slipper clutch's.",
        ),
        (
            "heat:",
            "winding and rest of the motor as two masses, I^2 R with 0.00393/K (IEC 60028) and the no-load loss; as many stretches at full throttle from rest as the driver launches, the rest at part load. Capacities and conductances by the motor's mass: estimate, no source.",
        ),
        (
            "stop:",
            "motor brake up to its current limit and K w/R, at most the grip of the braked wheels; drag, no-load loss and rotating parts counted; standing is 0.1 m/s.",
        ),
        (
            "makers' limits:",
            "no-load speeds of a full pack: 4.2 V a cell (IEC 61960-3, from memory), or the file's voltage where that is higher.",
        ),
    ] {
        paper.item(name, text);
    }
}

fn limit_word(limit: LaunchLimit) -> &'static str {
    match limit {
        LaunchLimit::Grip => "grip",
        LaunchLimit::Motor => "motor",
        LaunchLimit::Clutch => "clutch",
    }
}

fn stop_json(strength: f64, stop: &Stopping) -> Value {
    json!({
        "brake_strength": strength,
        "distance_m": stop.distance.map(|way| way.to_m()),
        "time_s": stop.time.map(|time| time.to_s()),
    })
}

fn limit_json(row: &MakersLimit) -> Value {
    let suffix = row.kind.key_suffix();
    let key = |name: &str| if suffix.is_empty() { name.to_owned() } else { format!("{name}_{suffix}") };
    let mut map = Map::new();
    map.insert("what".into(), json!(row.what));
    map.insert("key".into(), json!(row.key));
    map.insert(key("value"), json!(row.value));
    map.insert(key("limit"), json!(row.limit));
    map.insert("passed".into(), json!(row.passed()));
    Value::Object(map)
}

fn celsius(kelvin: f64) -> f64 {
    Unit::find("degC").map_or(kelvin, |unit| unit.from_si(kelvin))
}
