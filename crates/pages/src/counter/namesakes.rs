//! Customers of the same name as one who is taken in: nobody is written down twice unasked.

use crate::counter::take_in::TakeIn;
use crate::page::html::{Html, tag};
use crate::page::shell::input;
use crate::page::trouble::Trouble;
use toothsayer_records::{Customer, Reach, Truck, customers_named, trucks_of};

/// What is chosen for somebody who is not known yet.
const NEW: &str = "new";
/// What stands before a truck's tag, and before a customer's id, in a choice.
const TRUCK: &str = "truck ";
const CUSTOMER: &str = "customer ";

/// Somebody of the name, with their trucks.
pub(super) struct Namesake {
    customer: Customer,
    trucks: Vec<Truck>,
}

/// Everybody of a name.
pub(super) async fn of(at: &impl Reach, name: &str) -> Result<Vec<Namesake>, Trouble> {
    let mut all = Vec::new();
    for customer in customers_named(at, name.trim()).await?.into_iter().filter(|one| !one.erased) {
        let trucks = trucks_of(at, customer.id).await?;
        all.push(Namesake { customer, trucks });
    }
    Ok(all)
}

/// Who it may be, to choose from: each with their trucks, and somebody else of the same name.
pub(super) fn choice(namesakes: &[Namesake]) -> Html {
    let option = |value: &str, words: &str| {
        let radio = input("radio", "who").with("value", value).flag("required", true);
        Html::from(tag("label").class("pick").hold(radio).hold(tag("span").say(words)))
    };
    let of_one = |one: &Namesake| {
        let phone = if one.customer.phone.is_empty() { "no telephone number" } else { &one.customer.phone };
        let who = format!("{}, {phone}", one.customer.name);
        let trucks = one.trucks.iter().map(|truck| {
            option(&format!("{TRUCK}{}", truck.tag), &format!("{who}: their {}, tag {}", truck.name, truck.tag))
        });
        let another = option(&format!("{CUSTOMER}{}", one.customer.id), &format!("{who}: another truck"));
        Html::of(trucks.chain([another]))
    };
    let known = Html::of(namesakes.iter().map(of_one));
    let other = option(NEW, "Somebody else of the same name");
    tag("fieldset").hold(tag("legend").say("Who is it?")).hold(known).hold(other).into()
}

/// The form with who was chosen.
pub(super) fn chosen(mut form: TakeIn) -> TakeIn {
    if let Some(tag) = form.who.strip_prefix(TRUCK) {
        form.truck = tag.to_owned();
    } else if let Some(id) = form.who.strip_prefix(CUSTOMER) {
        form.customer = id.to_owned();
    }
    form
}
