//! A wanted change of the truck: `key=value`, in the words of a job file.

use crate::problem::Problem;
use crate::read;
use crate::sheet::Sheet;
use toothsayer_inputs::{Form, find};
use toothsayer_quantity::{Kind, nearest};

/// One wanted change, ready to be laid over a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// What changes, as the file would name it ("wheels.mass"; "motor to mount: torque" for a joint).
    pub key: String,
    /// Registry key.
    pub input: &'static str,
    /// The joint that it belongs to, if it belongs to one.
    pub joint: Option<String>,
    /// What is laid over the truck.
    pub over: Sheet,
}

/// Why a wanted change cannot be read: what is wrong and the way out.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct SettingError {
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
}

impl From<Problem> for SettingError {
    fn from(problem: Problem) -> Self {
        Self { message: problem.message, hint: problem.hint }
    }
}

impl Setting {
    /// Reads `wheels.mass=800 g` or `joints.motor to mount.torque=3 N*m` for a truck.
    ///
    /// The value is checked against the registry as a file's is; a text needs no quotes here.
    pub fn parse(text: &str, truck: &Sheet) -> Result<Setting, SettingError> {
        let (key, value) = text.split_once('=').ok_or_else(|| SettingError {
            message: format!("\"{text}\" is no change"),
            hint: "write key=value, such as \"wheels.mass=800 g\"".into(),
        })?;
        let (key, value) = (key.trim(), value.trim());
        let (joint, field) = match key.strip_prefix("joints.") {
            Some(rest) => {
                let (name, field) = joint_and_field(rest, truck)?;
                (Some(name), format!("joints.{field}"))
            }
            None => (None, key.to_owned()),
        };
        let of_truck = find(&field).filter(|input| !input.key.starts_with("job."));
        let input = of_truck.ok_or_else(|| unknown(key, &field))?;
        let table = field.rsplit_once('.').map_or("", |(table, _)| table);
        let value = literal(input.form, input.kind(), value);
        let file = match &joint {
            Some(name) => format!("[[joints]]\nname = {}\n{} = {value}\n", quoted(name), input.field()),
            None => format!("[{table}]\n{} = {value}\n", input.field()),
        };
        let over = read::overlay(&file, truck).map_err(|problems| first(problems, text))?;
        let key = joint.as_ref().map_or_else(|| field.clone(), |name| format!("{name}: {}", input.field()));
        Ok(Setting { key, input: input.key, joint, over })
    }
}

fn first(problems: Vec<Problem>, text: &str) -> SettingError {
    let unreadable =
        || SettingError { message: format!("\"{text}\" cannot be read"), hint: "write key=value".to_owned() };
    problems.into_iter().next().map_or_else(unreadable, SettingError::from)
}

/// The joint's name may hold dots and spaces: its field is what stands behind the last dot.
fn joint_and_field(rest: &str, truck: &Sheet) -> Result<(String, String), SettingError> {
    let names = || truck.joints.iter().map(|joint| joint.name.as_str());
    let listed = || names().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ");
    let (name, field) = rest.rsplit_once('.').ok_or_else(|| SettingError {
        message: format!("\"joints.{rest}\" names no joint and field"),
        hint: format!("write \"joints.NAME.torque=3 N*m\" with one of {}", listed()),
    })?;
    if names().any(|known| known == name) {
        return Ok((name.to_owned(), field.to_owned()));
    }
    let hint = nearest(name, names()).map_or_else(listed, |near| format!("did you mean \"{near}\"?"));
    Err(SettingError { message: format!("the truck has no joint \"{name}\""), hint })
}

fn unknown(key: &str, field: &str) -> SettingError {
    let keys = || toothsayer_inputs::all().map(|input| input.key).filter(|key| !key.starts_with("job."));
    let hint = match nearest(field, keys()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "keys are those of a job file, such as `wheels.mass` or `gears.pinion.teeth`".into(),
    };
    SettingError { message: format!("`{key}` is no key of a job file"), hint }
}

/// The value as a file writes it: numbers bare, words and quantities in quotes.
fn literal(form: Form, kind: Kind, value: &str) -> String {
    let written = value.starts_with(['"', '\'', '{']);
    let bare = matches!((form, kind), (Form::Count | Form::Flag, _) | (Form::Quantity(_), Kind::Number));
    if written || (bare && !value.is_empty()) { value.to_owned() } else { quoted(value) }
}

fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Job;
    use toothsayer_fault_book::FaultBook;

    fn truck() -> Sheet {
        let text = include_str!("../../../examples/tarnhorn.toml");
        Job::parse(text, FaultBook::built_in()).unwrap().built
    }

    #[track_caller]
    fn check(text: &str, key: &str, si: f64) {
        let setting = Setting::parse(text, &truck()).unwrap();
        let changed = truck().overlaid(&setting.over);
        let fields = match &setting.joint {
            Some(name) => &changed.joints.iter().find(|joint| joint.name == *name).unwrap().fields,
            None => &changed.fields,
        };
        assert_eq!(setting.key, key);
        assert!((fields.number(setting.input).unwrap() - si).abs() < 1e-12, "{text}");
    }

    #[test]
    fn quantities_counts_and_joints_are_read_without_quotes() {
        check("wheels.mass=800 g", "wheels.mass", 0.8);
        check(" battery.cells = 8 ", "battery.cells", 8.0);
        check("gears.pinion.teeth=17", "gears.pinion.teeth", 17.0);
        check("wheels.gyration=0.7", "wheels.gyration", 0.7);
        check("joints.motor to mount.torque=3 N*m", "motor to mount: torque", 3.0);
        check("wheels.mass={ value = \"800 g\", low = \"700 g\", high = \"900 g\" }", "wheels.mass", 0.8);
    }

    #[test]
    fn other_gears_are_set_to_the_same_backlash() {
        let setting = Setting::parse("gears.pinion.teeth=17", &truck()).unwrap();
        let changed = truck().overlaid(&setting.over);
        assert!((changed.fields.number("gears.centre_distance").unwrap() - 0.03505).abs() < 2e-6);
    }

    #[track_caller]
    fn refused(text: &str, hint: &str) {
        let error = Setting::parse(text, &truck()).unwrap_err();
        assert!(error.hint.contains(hint), "{text}: {error:?}");
    }

    #[test]
    fn what_cannot_be_read_is_refused_with_the_way_out() {
        refused("wheels.mass", "key=value");
        refused("wheels.mas=800 g", "did you mean `wheels.mass`?");
        refused("wheels.mass=800", "800 kg");
        refused("battery.cells=many", "");
        refused("joints.motor to mout.torque=3 N*m", "did you mean \"motor to mount\"?");
        refused("gears.spur.material=cheese", "one of");
        refused("=", "keys are those of a job file");
        refused("job.complaint=noise", "keys");
    }
}
