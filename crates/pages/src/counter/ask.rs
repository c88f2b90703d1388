//! The counter: will it hold, from five facts, before the truck comes in. Nothing of it is kept.

use crate::app::App;
use crate::counter::answer::{Asked, answer, further};
use crate::counter::facts::Facts;
use crate::counter::take_in::FIVE;
use crate::door::guard::Seat;
use crate::job::smallest;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, hidden, page};
use crate::page::trouble::Trouble;
use axum::extract::{Extension, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use toothsayer_job::{Job, State as TruckState};
use toothsayer_records::{Deed, shop_of};
use toothsayer_verdict::{Memo, Staged};

/// What a truck is called that has no name yet.
const NAME: &str = "Truck";

/// What else is wanted.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(crate) struct More {
    /// "yes" where the smallest changes are to be sought, which takes seconds.
    changes: String,
}

/// The page: the form, and the answer where something was asked.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Query(facts): Query<Facts>,
    Query(more): Query<More>,
) -> Result<Response, Trouble> {
    let (status, told) = if facts.is_empty() {
        (StatusCode::OK, Html::default())
    } else {
        match file(&app, &facts).await? {
            Ok(text) => answered(&app, &seat, &facts, &text, more.changes == "yes").await?,
            Err(wrong) => (StatusCode::UNPROCESSABLE_ENTITY, missing(&wrong)),
        }
    };
    let form = tag("form").with("action", "/counter").hold(facts.fields()).hold(tag("button").say("Will it hold?"));
    let intro = "No truck is needed, and nothing of it is kept.";
    let asked = if facts.is_empty() { Html::default() } else { tag("h2").say("The facts").into() };
    let told = [
        Html::from(tag("h1").say("Will it hold?")),
        told,
        asked,
        tag("p").say(FIVE).say(" ").say(intro).into(),
        form.into(),
    ];
    let main = tag("main").with("id", "main").all(told);
    Ok((status, page(&Frame::of("Counter", &seat), main.into())).into_response())
}

/// The facts as a job file with the shop's prices, or what is wrong with them.
async fn file(app: &App, facts: &Facts) -> Result<Result<String, Vec<String>>, Trouble> {
    let prices = crate::counter::take_in::prices(&shop_of(app.store()).await?)?;
    Ok(facts.told(NAME).and_then(|facts| {
        let text = format!("{}{prices}", facts.to_toml());
        Job::parse(&text, app.book()).map_err(crate::counter::take_in::told).map(|_| text)
    }))
}

fn missing(wrong: &[String]) -> Html {
    let lines = wrong.iter().map(|one| tag("li").say(one).into());
    let told = tag("div").class("notice bad").with("role", "alert");
    told.hold(tag("h2").class("plain").say("Not enough yet")).hold(tag("ul").all(lines)).into()
}

async fn answered(
    app: &App,
    seat: &Seat,
    facts: &Facts,
    text: &str,
    changes: bool,
) -> Result<(StatusCode, Html), Trouble> {
    let told = match computed(app, text, "counter", answer).await {
        Ok(told) => told,
        // What the mechanics refuse, such as teeth too few to form, is told as what is wrong with the facts.
        Err(Trouble::Verdict(error)) => {
            let told = format!("That cannot be computed: {error}.");
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, missing(&[told])));
        }
        Err(other) => return Err(other),
    };
    let further = computed(app, text, "counter further", further).await?;
    let told = [told, on(seat, facts), further, smallest_changes(app, facts, text, changes).await?];
    Ok((StatusCode::OK, tag("div").with("id", "answer").all(told).into()))
}

/// A piece of the answer, at the desk.
async fn computed(
    app: &App,
    text: &str,
    which: &str,
    compute: fn(&Asked<'_>, &Memo) -> Result<String, Trouble>,
) -> Result<Html, Trouble> {
    let (system, own, asked) = (app.system().await?, app.clone(), text.to_owned());
    let key = format!("{which}\n{system:?}\n{text}");
    let told = move |memo: &Memo| compute(&Asked { text: &asked, book: own.book(), system }, memo);
    Ok(Html::written(app.desk.computed(&key, told).await?.as_str().to_owned()))
}

/// The three smallest changes, or the way to them.
async fn smallest_changes(app: &App, facts: &Facts, text: &str, wanted: bool) -> Result<Html, Trouble> {
    let told = if wanted {
        match computed(app, text, "counter changes", changes_of).await {
            Ok(told) => told,
            Err(Trouble::Verdict(error)) => tag("p").say(&format!("That cannot be computed: {error}.")).into(),
            Err(other) => return Err(other),
        }
    } else {
        let form = tag("form").with("action", "/counter").all(facts.hidden()).hold(hidden("changes", "yes"));
        form.hold(tag("button").class("plain").say("What would have to change? (takes some seconds)")).into()
    };
    Ok(tag("section").with("id", "changes").hold(tag("h2").say("What would have to change")).hold(told).into())
}

fn changes_of(asked: &Asked<'_>, memo: &Memo) -> Result<String, Trouble> {
    let job = Job::parse(asked.text, asked.book)?;
    let stage = Staged { state: TruckState::Built, sheet: job.built.clone(), run_in: false };
    smallest::of_stage(&job, &stage, asked.book, asked.system, memo)
}

/// On to a job, with every fact that was typed.
fn on(seat: &Seat, facts: &Facts) -> Html {
    if !seat.may(Deed::Counter) {
        return Html::default();
    }
    let form = tag("form").with("action", "/take-in").class("actions").all(facts.hidden());
    form.hold(tag("button").say("Make it a job")).into()
}
