//! What must hold between the values of a file: nothing missing, nothing said twice.

use super::Reader;
use crate::build::{OWN_PITCH, common_pitch, pitches};
use crate::sheet::{Entry, Fields, Origin, Sheet};
use std::ops::Range;
use toml::de::DeTable;
use toothsayer_inputs::{Absent, JOINT_ROWS, build_inputs};
use toothsayer_mechanics::gear::check_same_pitch;
use toothsayer_quantity::nearest;

/// Groups of keys of which at most one may be given.
const AT_MOST_ONE: &[&[&str]] = &[
    &["gears.module", "gears.diametral_pitch"],
    &["gears.pinion.module", "gears.pinion.diametral_pitch"],
    &["gears.spur.module", "gears.spur.diametral_pitch"],
    &["gears.centre_distance", "gears.backlash", "gears.mesh_set"],
    &["set_screw.torque", "set_screw.tool"],
];

impl Reader<'_> {
    /// The five facts.
    pub(super) fn check_required(&mut self, root: &DeTable<'_>, built: &Sheet) {
        let fields = &built.fields;
        let needed = build_inputs().filter(|input| input.absent == Absent::Required);
        for input in needed.filter(|input| !given(root, input.key)) {
            self.missing(root, input.key, input.help);
        }
        if !given(root, "gears.module") && !given(root, "gears.diametral_pitch") {
            self.missing(root, "gears.module", "module, or `diametral_pitch = \"32 1/in\"`");
        }
        let can = given(root, "motor.can_diameter") && given(root, "motor.can_length");
        if !given(root, "motor.kv") && !can {
            self.missing(
                root,
                "motor.kv",
                "no-load speed per volt, or the size of the can: `can_diameter` and `can_length`",
            );
        }
        if fields.number("gears.pinion.teeth") > fields.number("gears.spur.teeth") && fields.has("gears.spur.teeth") {
            let hint = "the pinion sits on the motor and is the smaller gear: are the two swapped?".to_owned();
            let message = "the pinion has more teeth than the spur".to_owned();
            self.say(place(root, "gears.pinion"), "gears.pinion.teeth", message, hint);
        }
        let wheels = fields.number("wheels.count").unwrap_or(4.0);
        if fields.number("wheels.driven").is_some_and(|driven| driven > wheels) {
            let message = format!("more wheels are driven than the {wheels} that the truck has");
            let hint = "give all wheels as `count`, the driven ones among them as `driven`".to_owned();
            self.say(place(root, "wheels.driven"), "wheels.driven", message, hint);
        }
        let share = |key| fields.number(key).unwrap_or(0.0);
        if share("driver.landings_on_throttle") + share("driver.landings_on_brake") > 1.0 {
            let hint = "the two are shares of all landings: together at most 100 %".to_owned();
            let message = "`driver.landings_on_throttle` and `driver.landings_on_brake` are more than 100 % together";
            self.say(place(root, "driver.landings_on_throttle"), "driver.landings_on_throttle", message.into(), hint);
        }
    }

    fn missing(&mut self, root: &DeTable<'_>, key: &str, help: &str) {
        let message = format!("`{key}` is missing, one of the five facts that a verdict needs");
        self.say(place(root, key), key, message, help.to_owned());
    }

    pub(super) fn check_alternatives(&mut self, sheet: &Sheet, root: &DeTable<'_>, layer: Option<&str>) {
        for group in AT_MOST_ONE {
            let spoken: Vec<&str> = group.iter().copied().filter(|key| sheet.fields.has(key)).collect();
            if let [first, second, ..] = spoken[..] {
                let whose = layer.map_or(String::new(), |name| format!("[{name}] gives "));
                let message = format!("{whose}`{first}` and `{second}`: both say the same thing");
                self.say(place(root, second), second, message, "keep the one that was measured".into());
            }
        }
    }

    /// How the mesh was set must be something that a backlash follows from.
    pub(super) fn check_mesh(&mut self, sheet: &Sheet, root: &DeTable<'_>) {
        let Some(text) = sheet.fields.word("gears.mesh_set") else { return };
        if crate::start::paper_thickness_m(text).is_none() {
            let message = format!("`gears.mesh_set` is \"{}\", which says no thickness", super::value::short(text));
            self.say(
                place(root, "gears.mesh_set"),
                "gears.mesh_set",
                message,
                "write mesh_set = \"paper 0.1 mm\"".into(),
            );
        }
    }

    /// A truck is built and sold with gears of one pitch; only a found one may have two.
    pub(super) fn check_pitch(&mut self, sheet: &Sheet, root: &DeTable<'_>) {
        let fields = with_usual_angle(&sheet.fields);
        let (Some([pinion, spur]), Some(common)) = (pitches(&fields), common_pitch(&fields)) else { return };
        if let Err(error) = check_same_pitch(pinion, spur).and_then(|()| check_same_pitch(common, pinion)) {
            let key = OWN_PITCH.into_iter().find(|key| sheet.fields.has(key)).unwrap_or("gears.module");
            let hint = "two pitches on one truck are something found: give them under [found]".to_owned();
            self.say(place(root, key), key, error.to_string(), hint);
        }
    }

    pub(super) fn check_joint(&mut self, span: Range<usize>, name: &str, table: &DeTable<'_>, fields: &Fields) {
        for input in JOINT_ROWS.iter().filter(|input| input.absent == Absent::Required) {
            if table.get(input.field()).is_none() {
                let message = format!("joint \"{name}\" has no `{}`", input.field());
                self.say(span.clone(), input.key, message, input.help.to_owned());
            }
        }
        if fields.has("joints.torque") && fields.has("joints.tightness") {
            let message = format!("joint \"{name}\" gives both `torque` and `tightness`");
            self.say(span.clone(), "joints.tightness", message, "keep the torque if it was measured".into());
        }
        let carried = matches!(fields.word("joints.carries"), Some("motor" | "mount"));
        if carried && table.get("circle").is_none() {
            let message = format!("joint \"{name}\" carries the motor and has no `circle`");
            self.say(span, "joints.circle", message, "the bolt circle of its screws, such as \"28 mm\"".into());
        }
    }

    /// Joints of an overlay must be known in the base tables.
    pub(super) fn check_overlay(&mut self, layer: &str, sheet: &Sheet, built: &Sheet, root: &DeTable<'_>) {
        let names: Vec<&str> = built.joints.iter().map(|joint| joint.name.as_str()).collect();
        for joint in sheet.joints.iter().filter(|joint| !names.is_empty() && !names.contains(&joint.name.as_str())) {
            let hint = nearest(&joint.name, names.iter().copied())
                .map_or(format!("joints: {}", names.join(", ")), |near| format!("did you mean \"{near}\"?"));
            let message = format!("[{layer}] speaks of joint \"{}\", which the truck does not have", joint.name);
            self.say(place(root, layer), "joints.name", message, hint);
        }
    }
}

/// Without a pressure angle of its own a pair has the registry's.
fn with_usual_angle(fields: &Fields) -> Fields {
    let mut fields = fields.clone();
    let usual = toothsayer_inputs::find("gears.pressure_angle").map(|input| input.absent);
    if let (false, Some(Absent::Default { usual, .. })) = (fields.has("gears.pressure_angle"), usual) {
        fields.numbers.insert("gears.pressure_angle", Entry::exact(usual, Origin::Given));
    }
    fields
}

/// Whether the file gives `key` at all, rightly or wrongly: what is wrong is said elsewhere.
fn given(root: &DeTable<'_>, key: &str) -> bool {
    let mut parts = key.split('.').peekable();
    let mut table = root;
    while let Some(part) = parts.next() {
        match (table.get(part), parts.peek()) {
            (Some(_), None) => return true,
            (Some(value), Some(_)) => match value.get_ref().as_table() {
                Some(inner) => table = inner,
                None => return true,
            },
            (None, _) => return false,
        }
    }
    false
}

/// Where in the file something about `key` is best pointed at: the key itself, its nearest table, or the top.
fn place(root: &DeTable<'_>, key: &str) -> Range<usize> {
    let mut table = root;
    let mut span = 0..0;
    for part in key.split('.') {
        let Some((name, value)) = table.get_key_value(part) else { break };
        span = name.span();
        match value.get_ref().as_table() {
            Some(inner) => table = inner,
            None => break,
        }
    }
    span
}
