//! Records in the words of the pages: states by what they wait for, times, amounts of minutes.

use crate::page::amount;
use toothsayer_fault_book::FaultBook;
use toothsayer_quantity::{Currency, Kind, Money, Speed, System};
use toothsayer_records::{JobState, NeedState, Role};
use toothsayer_report::words::value;
pub(crate) use toothsayer_report::words::{chance, minutes, sentence};

/// What a job of this state waits for.
pub(crate) fn waits_for(state: JobState) -> &'static str {
    match state {
        JobState::TakenIn => "To be looked at",
        JobState::LookedAt => "To be priced",
        JobState::Priced => "To be told to the customer",
        JobState::WaitingForAnswer => "The customer's answer",
        JobState::Declined => "Declined: to be collected as it is",
        JobState::Agreed => "To be begun",
        JobState::WaitingForParts => "Parts",
        JobState::OnTheBench => "On the bench",
        JobState::Checked => "To be made ready",
        JobState::Ready => "To be collected",
        JobState::Collected => "Nothing: the customer has it",
        JobState::Rechecked => "Nothing: it was checked again",
    }
}

/// Where a job of this state stands, as a sentence.
pub(crate) fn stands(state: JobState) -> &'static str {
    match state {
        JobState::TakenIn => "The truck is to be looked at.",
        JobState::LookedAt => "The repair is to be priced.",
        JobState::Priced => "The price is to be told to the customer.",
        JobState::WaitingForAnswer => "It waits for the customer's answer.",
        JobState::Declined => "The customer said no: it is to be collected as it is.",
        JobState::Agreed => "The customer said yes: the work is to be begun.",
        JobState::WaitingForParts => "It waits for parts.",
        JobState::OnTheBench => "It is on the bench.",
        JobState::Checked => "The work was checked: the truck is to be made ready.",
        JobState::Ready => "It is to be collected.",
        JobState::Collected => "It waits for nothing: the customer has it.",
        JobState::Rechecked => "It waits for nothing: it was checked again.",
    }
}

/// The step into a state, as a button says it.
pub(crate) fn step_into(state: JobState) -> &'static str {
    match state {
        JobState::TakenIn => "Take in",
        JobState::LookedAt => "It was looked at",
        JobState::Priced => "It was priced",
        JobState::WaitingForAnswer => "The customer was asked",
        JobState::Declined => "The customer said no",
        JobState::Agreed => "The customer said yes",
        JobState::WaitingForParts => "Parts are on their way",
        JobState::OnTheBench => "Work begins",
        JobState::Checked => "The work was checked",
        JobState::Ready => "It can be collected",
        JobState::Collected => "It was collected",
        JobState::Rechecked => "It was checked again",
    }
}

/// Where a needed part is.
pub(crate) fn need_state(state: NeedState) -> &'static str {
    match state {
        NeedState::Wanted => "Needed",
        NeedState::Ordered => "Ordered",
        NeedState::Arrived => "Here for this job",
        NeedState::Used => "In the truck",
        NeedState::Returned => "Sent back",
        NeedState::Dropped => "Not needed",
    }
}

/// The step of a needed part, as a button says it.
pub(crate) fn need_step(from: NeedState, to: NeedState) -> &'static str {
    match (from, to) {
        (NeedState::Used, _) => "It came out again",
        (_, NeedState::Wanted) => "Needed after all",
        (_, NeedState::Ordered) => "It was ordered",
        (_, NeedState::Arrived) => "It came",
        (_, NeedState::Used) => "It went into the truck",
        (_, NeedState::Returned) => "Sent back",
        (_, NeedState::Dropped) => "Not needed",
    }
}

/// A step of the work by its id, as the plan calls it.
pub(crate) fn step_name(book: &FaultBook, id: &str) -> String {
    let off = |id: &str| book.removal(id).map_or(id, |part| part.name.as_str()).to_owned();
    match (id.strip_prefix("off "), id.strip_prefix("on ")) {
        (Some(part), _) => format!("Take off: {}", off(part)),
        (_, Some(part)) => format!("Put back: {}", off(part)),
        _ => sentence(book.step(id).map_or(id, |step| step.name.as_str())),
    }
}

/// An amount of minor units with its currency; a currency that is none is told beside the bare number.
pub(crate) fn money(minor: i64, currency: &str) -> String {
    let known = Currency::parse(currency).map(|currency| Money { minor, currency }.to_string());
    known.unwrap_or_else(|| format!("{minor} (minor units of {currency})"))
}

/// An amount as people type it, with or without the currency, with a point or a comma; none where it is no amount.
pub(crate) fn typed_money(text: &str, currency: &str) -> Option<i64> {
    amount::read("", text, Currency::parse(currency)?).ok()
}

/// A speed as people in a car tell it.
pub(crate) fn speed(speed: Speed, system: System) -> String {
    match system {
        System::Metric => format!("{:.0} km/h", 3.6 * speed.to_m_per_s()),
        System::Us => value(Kind::Speed, speed.to_m_per_s(), system),
    }
}

/// A role's name.
pub(crate) fn role(role: Role) -> &'static str {
    match role {
        Role::Owner => "owner",
        Role::Counter => "counter",
        Role::Technician => "technician",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, minor: Option<i64>) {
        assert_eq!(typed_money(text, "EUR"), minor, "{text}");
    }

    #[test]
    fn steps_are_told_as_the_plan_calls_them() {
        let book = FaultBook::built_in();
        let removal = &book.removals()[0];
        assert_eq!(step_name(book, &format!("off {}", removal.id)), format!("Take off: {}", removal.name));
        assert_eq!(step_name(book, &format!("on {}", removal.id)), format!("Put back: {}", removal.name));
        assert_eq!(step_name(book, "no-step"), "No-step");
    }

    #[test]
    fn amounts_are_read_as_people_type_them() {
        [("86.40", 8640), ("86,4", 8640), (" 86 EUR ", 8600), ("0", 0)]
            .into_iter()
            .for_each(|(text, minor)| check(text, Some(minor)));
        ["", "EUR", "86.405", "-3", "1,000.00", "1,000", "86 USD", "much"]
            .into_iter()
            .for_each(|text| check(text, None));
        assert_eq!(money(8640, "EUR"), "86.40 EUR");
    }
}
