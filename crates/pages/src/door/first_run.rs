//! The first run: whoever started the program makes the owner's account with the code that was printed there.

use crate::app::App;
use crate::door::password;
use crate::door::sign_in::{address, let_in};
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, field, hidden, input, page, problems};
use crate::page::trouble::Trouble;
use axum::extract::{ConnectInfo, Extension, Form, Query, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use std::net::SocketAddr;
use toothsayer_records::{Moment, Person, Role, everybody};

/// Letters of a name at most.
const LONGEST_NAME: usize = 80;

/// The code of the address that was printed.
#[derive(Deserialize)]
pub(crate) struct Told {
    #[serde(default)]
    code: String,
}

/// The form.
#[derive(Deserialize)]
pub(crate) struct Owner {
    code: String,
    name: String,
    password: String,
    again: String,
}

impl App {
    /// Whether nobody can sign in yet: then the first run's page makes the owner's account.
    ///
    /// # Errors
    /// The records do not answer.
    pub async fn first_run_is_due(&self) -> toothsayer_records::Result<bool> {
        Ok(!self.ways_in.are_given() && nobody_signs_in(&everybody(self.store()).await?))
    }
}

/// Whether nobody of these has a password: a shop that was invented or brought over has people, and no owner yet.
fn nobody_signs_in(people: &[Person]) -> bool {
    !people.iter().any(|person| person.active && person.password.is_some())
}

/// The page.
pub(crate) async fn show(State(app): State<App>, Query(told): Query<Told>) -> Result<Response, Trouble> {
    if !app.first_run_is_due().await? {
        return Ok(Redirect::to("/sign-in").into_response());
    }
    Ok(form(&told.code, "", &[]))
}

fn form(code: &str, name: &str, wrong: &[String]) -> Response {
    let code_field = match code {
        "" => field(
            "Code",
            input("text", "code").with("autocomplete", "off").flag("required", true),
            "It is printed where the program was started.",
        ),
        code => hidden("code", code),
    };
    let fields = tag("form").with("method", "post").with("action", "/first-run").class("narrow-form").all([
        code_field,
        field(
            "Your name",
            input("text", "name").with("value", name).with("autocomplete", "username").flag("required", true),
            "",
        ),
        password::fields("Password"),
        tag("button").say("Make the account").into(),
    ]);
    let cautions = "Figures are estimates for hobby-size machines, not a design approval. Where people can be hurt, the \
                    venue's and the local rules and the makers' instructions come first. Battery out and motor leads \
                    unplugged before fingers go near gears.";
    let told = [
        tag("h1").say("First run").into(),
        tag("p")
            .say(
                "Nobody has an account here yet. The first one is the owner's: prices, people and settings are theirs.",
            )
            .into(),
        problems(wrong),
        Html::from(fields),
        tag("p").class("notice doubt").say(cautions).into(),
    ];
    page(&Frame::plain("First run"), tag("main").with("id", "main").class("door").all(told).into())
}

/// Makes the owner's account and signs them in.
pub(crate) async fn make_owner(
    State(app): State<App>,
    peer: Option<Extension<ConnectInfo<SocketAddr>>>,
    headers: HeaderMap,
    Form(owner): Form<Owner>,
) -> Result<Response, Trouble> {
    let (now, whose) = (Moment::now(), [address(peer)]);
    if !app.first_run_is_due().await? {
        return Ok(Redirect::to("/sign-in").into_response());
    }
    if app.limiter.refuses(&whose, now) || !app.first_code.is(owner.code.trim()) {
        app.limiter.failed(&whose, now);
        let wrong = ["The code does not fit: it is printed where the program was started.".to_owned()];
        return Ok((StatusCode::FORBIDDEN, form("", &owner.name, &wrong)).into_response());
    }
    let wrong = account_problems(&owner.name, &owner.password, &owner.again);
    if !wrong.is_empty() {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, form(&owner.code, &owner.name, &wrong)).into_response());
    }
    let hash = password::hash(owner.password).await?;
    let write = app.write().await?;
    // Asked again within the write: two at once make one owner.
    if !nobody_signs_in(&everybody(&write).await?) {
        return Ok(Redirect::to("/sign-in").into_response());
    }
    let person = Person { password: Some(hash), ..Person::new(&write, owner.name.trim(), Role::Owner) };
    let person = write.add(person).await?;
    write.commit().await?;
    let_in(&app, person.id, &headers, "/").await
}

/// What is wrong with a new account.
pub(crate) fn account_problems(name: &str, password: &str, again: &str) -> Vec<String> {
    name_problem(name).into_iter().chain(password::refusals(password, again)).collect()
}

/// What is wrong with a name that somebody signs in by.
pub(crate) fn name_problem(name: &str) -> Option<String> {
    let letters = name.trim().chars().count();
    let fits = (1..=LONGEST_NAME).contains(&letters);
    (!fits).then(|| format!("The name has {letters} letters; 1 to {LONGEST_NAME} are allowed."))
}
