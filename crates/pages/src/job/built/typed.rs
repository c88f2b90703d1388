//! What was typed in the build's form, and how it goes into the job file: only what differs from what stands there.

use toothsayer_inputs::{Input, JOINT_ROWS, build_inputs};
use toothsayer_job::{Draft, Job as JobFile, JointFields, Layer, Place};

/// What parts a joint's name from the value's key in a field's name; no key has it.
const OF_JOINT: char = '@';

/// The form as it was sent: names of fields with what was typed.
#[derive(Clone, Debug, Default)]
pub(super) struct Typed(Vec<(String, String)>);

impl Typed {
    pub(super) fn of(pairs: Vec<(String, String)>) -> Self {
        Self(pairs)
    }

    /// What was typed in a field; none where the form had no such field.
    pub(super) fn get(&self, name: &str) -> Option<&str> {
        self.0.iter().find(|(own, _)| own == name).map(|(_, typed)| typed.trim())
    }

    pub(super) fn word(&self, name: &str) -> &str {
        self.get(name).unwrap_or("")
    }
}

/// The name of a value's field.
pub(super) fn name_of(place: &Place<'_>) -> String {
    match place.joint {
        Some(joint) => format!("{}{OF_JOINT}{joint}", place.input.key),
        None => place.input.key.to_owned(),
    }
}

/// The inputs of the truck that a state tells of: how it is driven belongs to the truck as built alone.
pub(super) fn inputs(layer: Layer) -> impl Iterator<Item = &'static Input> {
    build_inputs().filter(move |input| layer == Layer::Built || !input.key.starts_with("driver."))
}

/// A joint's values but for its name.
pub(super) fn joint_inputs() -> impl Iterator<Item = &'static Input> {
    JOINT_ROWS.iter().filter(|input| input.key != "joints.name")
}

/// The joints that values can be told of: those of the class too, where the truck as built is told.
pub(super) fn joints<'a>(file: &'a JobFile, draft: &'a Draft, layer: Layer) -> impl Iterator<Item = &'a JointFields> {
    file.built.joints.iter().filter(move |joint| layer == Layer::Built || draft.tells_of_joint(&joint.name))
}

/// Lays what differs into the job file.
pub(super) fn laid_in(typed: &Typed, layer: Layer, file: &JobFile, draft: &mut Draft) {
    for input in inputs(layer) {
        lay(typed, Place { layer, joint: None, input }, draft);
    }
    let told: Vec<JointFields> = joints(file, draft, layer).cloned().collect();
    for joint in &told {
        let place = |input| Place { layer, joint: Some(&joint.name), input };
        let differs = joint_inputs().any(|input| change(typed, place(input), draft).is_some());
        let is_new = differs && !draft.tells_of_joint(&joint.name);
        if is_new && layer == Layer::Built {
            draft.take_on(joint);
            // "hand" or "set" was the class's word: a measured torque stands alone.
            let [torque, tightness] = ["joints.torque", "joints.tightness"].map(toothsayer_inputs::find);
            if let (Some(torque), Some(tightness)) = (torque, tightness)
                && !typed.word(&name_of(&place(torque))).is_empty()
            {
                draft.set(place(tightness), "");
            }
        }
        // What nobody typed of a joint that was written down just now stays as it was assumed.
        let told = |input: &&'static Input| !is_new || !typed.word(&name_of(&place(input))).is_empty();
        joint_inputs().filter(told).for_each(|input| lay(typed, place(input), draft));
    }
}

fn lay(typed: &Typed, place: Place<'_>, draft: &mut Draft) {
    if let Some(new) = change(typed, place, draft) {
        draft.set(place, new);
    }
}

/// What was typed where it differs from what stands.
fn change<'a>(typed: &'a Typed, place: Place<'_>, draft: &Draft) -> Option<&'a str> {
    let new = typed.get(&name_of(&place))?;
    let now = draft.typed(place).unwrap_or_default();
    (new != now).then_some(new)
}
