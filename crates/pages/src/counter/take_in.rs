//! Take-in: whose truck, how it is built, what the customer says, and the battery handed back.

use crate::app::App;
use crate::counter::facts::Facts;
use crate::counter::namesakes;
use crate::door::guard::Seat;
use crate::job::built::visit::{promised, promised_field};
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, choice, field, hidden, input, page, problems};
use crate::page::trouble::Trouble;
use crate::page::typed::{misfit, quoted, refusal};
use axum::extract::{Extension, Form, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_job::{Draft, Job as JobFile, JobError, Problem};
use toothsayer_records::{
    Build, Customer, Id, Incoming, Job, JobKind, Moment, Reach, Shop, Tables, Truck, Write, builds_of, form_key,
    jobs_of, shop_of, truck_by_tag, with_tables,
};

/// What is asked of a truck.
pub(crate) const FIVE: &str = "Five facts are enough for a first answer: mass, cells, Kv, gears and wheels. All else is assumed, \
                               and marked so.";

/// Letters of a name, and of what was said, at most.
const LONGEST_NAME: usize = 120;
const LONGEST_TEXT: usize = 4000;

/// How the battery was found. A swollen pack is not taken in with the truck.
const BATTERY: [(&str, &str); 3] = [
    ("sound", "Looked at, sound, handed back"),
    ("none", "The truck came without one"),
    ("damaged", "Swollen or damaged: handed back, to be kept outside and not charged"),
];

/// Whose truck it is, where that is known.
#[derive(Clone, Debug, Default, Deserialize)]
pub(crate) struct Known {
    #[serde(default)]
    customer: String,
    #[serde(default)]
    truck: String,
}

/// The form.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct TakeIn {
    key: String,
    /// Who it is among several of one name.
    pub(super) who: String,
    pub(super) customer: String,
    pub(super) truck: String,
    name: String,
    phone: String,
    truck_name: String,
    same_build: String,
    file: String,
    complaint: String,
    runs: String,
    said: String,
    due: String,
    warranty: String,
    battery: String,
    start: String,
    mass: String,
    cells: String,
    kv: String,
    pinion: String,
    spur: String,
    pitch: String,
    wheel: String,
    wheel_mass: String,
}

impl TakeIn {
    /// The same with the facts that were told at the counter.
    fn with(self, facts: Facts) -> Self {
        let Facts { start, mass, cells, kv, pinion, spur, pitch, wheel, wheel_mass } = facts;
        Self { start, mass, cells, kv, pinion, spur, pitch, wheel, wheel_mass, ..self }
    }

    fn facts(&self) -> Facts {
        let text = String::clone;
        Facts {
            start: text(&self.start),
            mass: text(&self.mass),
            cells: text(&self.cells),
            kv: text(&self.kv),
            pinion: text(&self.pinion),
            spur: text(&self.spur),
            pitch: text(&self.pitch),
            wheel: text(&self.wheel),
            wheel_mass: text(&self.wheel_mass),
        }
    }
}

/// Whose truck it is.
struct Whose {
    customer: Option<Customer>,
    truck: Option<(Truck, Option<Build>)>,
    /// The truck's job that is open now.
    open: Option<Job>,
}

impl Whose {
    async fn read(app: &App, customer: &str, tag: &str) -> Result<Self, Trouble> {
        let store = app.store();
        if !tag.is_empty() {
            let truck = truck_by_tag(store, tag).await?;
            let build = builds_of(store, truck.id).await?.pop();
            let open = jobs_of(store, truck.id).await?.into_iter().find(|job| job.open);
            return Ok(Self { customer: Some(store.get(truck.customer).await?), truck: Some((truck, build)), open });
        }
        if customer.is_empty() {
            return Ok(Self { customer: None, truck: None, open: None });
        }
        Ok(Self { customer: Some(store.get(Id::parse(customer)?).await?), truck: None, open: None })
    }

    fn last_build(&self) -> Option<&Build> {
        self.truck.as_ref()?.1.as_ref()
    }
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Query(known): Query<Known>,
    Query(facts): Query<Facts>,
) -> Result<Response, Trouble> {
    let whose = Whose::read(&app, &known.customer, &known.truck).await?;
    let last = whose.last_build().and_then(|build| Draft::parse(&build.tables).ok());
    let same_build = if last.is_some() && facts.is_empty() { "yes" } else { "" }.to_owned();
    let facts = if facts.is_empty() { last.as_ref().map_or(facts, Facts::of_truck) } else { facts };
    let key = form_key(Moment::now());
    let form = TakeIn { key, customer: known.customer, truck: known.truck, same_build, ..TakeIn::default() };
    let form = form.with(facts);
    Ok(sheet(&app, &seat, &whose, &form, &[], Html::default()))
}

fn sheet(app: &App, seat: &Seat, whose: &Whose, form: &TakeIn, wrong: &[String], namesakes: Html) -> Response {
    let complaints: Vec<(String, String)> =
        app.book().complaints().iter().map(|one| (one.id.clone(), format!("{}: {}", one.name, one.plain))).collect();
    let battery = BATTERY.iter().map(|(value, words)| {
        let radio = input("radio", "battery").with("value", value);
        let radio = radio.flag("required", true).flag("checked", *value == form.battery);
        tag("label").class("pick").hold(radio).hold(tag("span").say(words)).into()
    });
    let runs = input("text", "runs").with("value", &form.runs).with("inputmode", "numeric").with("placeholder", "6");
    let said = tag("textarea").with("name", "said").with("rows", "3").say(&form.said);
    let fields = tag("form").with("method", "post").with("action", "/take-in").with("data-send", "go").all([
        hidden("key", &form.key),
        hidden("customer", &form.customer),
        hidden("truck", &form.truck),
        tag("h2").say("Whose").into(),
        namesakes,
        customer_fields(whose, form),
        tag("h2").say("The battery").into(),
        tag("fieldset").hold(tag("legend").say("Battery out before anything else")).all(battery).into(),
        tag("h2").say("What the customer says").into(),
        field("Complaint", choice("complaint", &complaints, &form.complaint), ""),
        field("In their words", said, ""),
        field("Runs since new gears", runs, "As far as they know."),
        promised_field(&form.due),
        warranty(form),
        tag("h2").say("The truck as it is built").into(),
        build_fields(whose, form),
        tag("button").say("Take it in").into(),
    ]);
    let told = [Html::from(tag("h1").say("Take in")), problems(wrong), still_here(whose), fields.into()];
    page(&Frame::of("Take in", seat), tag("main").with("id", "main").all(told).into())
}

/// A truck that is here already is seldom taken in again.
fn still_here(whose: &Whose) -> Html {
    let Some(job) = &whose.open else { return Html::default() };
    let link = tag("a").with("href", &format!("/jobs/{}", job.number)).say(&format!("job {}", job.number));
    tag("p").class("notice doubt").say("This truck is in the shop already: ").hold(link).say(" is open.").into()
}

/// Whether somebody else than the customer pays.
fn warranty(form: &TakeIn) -> Html {
    let box_ = input("checkbox", "warranty").with("value", "yes").flag("checked", form.warranty == "yes");
    tag("label").class("pick").hold(box_).hold(tag("span").say("Under warranty: the shop or the maker pays")).into()
}

fn customer_fields(whose: &Whose, form: &TakeIn) -> Html {
    let text = |name: &'static str, value: &str| input("text", name).with("value", value).with("autocomplete", "off");
    let customer = match &whose.customer {
        Some(customer) => tag("p").say("Customer: ").hold(tag("strong").say(&customer.name)).into(),
        None => Html::of([
            field(
                "Customer's name",
                text("name", &form.name).flag("required", true),
                "Known already? Find them first, and take in from there.",
            ),
            field("Telephone", input("tel", "phone").with("value", &form.phone).with("autocomplete", "off"), ""),
        ]),
    };
    let truck = match &whose.truck {
        Some((truck, _)) => {
            tag("p").say("Truck: ").hold(tag("strong").say(&truck.name)).say(&format!(", tag {}", truck.tag)).into()
        }
        None => {
            field("What the truck is called", text("truck_name", &form.truck_name), "A job file tells it by itself.")
        }
    };
    tag("div").class("grid").all([customer, truck]).into()
}

fn build_fields(whose: &Whose, form: &TakeIn) -> Html {
    let same = whose.last_build().map(|build| {
        let box_ = input("checkbox", "same_build").with("value", "yes").flag("checked", form.same_build == "yes");
        let words = format!("As the last time (build {}), but for what is changed below", build.number);
        Html::from(tag("label").class("pick").hold(box_).hold(tag("span").say(&words)))
    });
    let told = tag("p").class("small").say(FIVE);
    Html::of([same.unwrap_or_default(), told.into(), form.facts().fields(), from_file(form)])
}

/// A whole job file instead of the facts, behind a fold.
fn from_file(form: &TakeIn) -> Html {
    let text = tag("textarea").with("name", "file").with("rows", "8").with("spellcheck", "false").say(&form.file);
    let hint = "Its text, whole. It counts instead of the facts above; its complaint counts too, where it has one.";
    let summary = tag("summary").say("From a job file");
    tag("details").flag("open", !form.file.is_empty()).hold(summary).hold(field("Job file", text, hint)).into()
}

/// Takes the truck in.
pub(crate) async fn take_in(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Form(form): Form<TakeIn>,
) -> Result<Response, Trouble> {
    let form = namesakes::chosen(form);
    let whose = Whose::read(&app, &form.customer, &form.truck).await?;
    let prices = prices(&shop_of(app.store()).await?)?;
    let mut wrong = unfit(&whose, &form);
    let due = promised(&form.due, &seat.clock).unwrap_or_else(|told| {
        wrong.push(told);
        None
    });
    let text = file(&app, &whose, &form, &prices).unwrap_or_else(|more| {
        wrong.extend(more);
        String::new()
    });
    if !wrong.is_empty() {
        let told = sheet(&app, &seat, &whose, &form, &wrong, Html::default());
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response());
    }
    let write = seat.write(&app).await?;
    let content = format!("{form:?}");
    if let Some(number) = write.first_time(&form.key, content.as_bytes()).await? {
        return Ok(Redirect::to(&format!("/jobs/{number}")).into_response());
    }
    if whose.customer.is_none() && form.who.is_empty() {
        let namesakes = namesakes::of(&write, &form.name).await?;
        if !namesakes.is_empty() {
            let wrong = ["Somebody of this name is known already: say who it is.".to_owned()];
            let told = sheet(&app, &seat, &whose, &form, &wrong, namesakes::choice(&namesakes));
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response());
        }
    }
    let job = keep(&write, &app, whose, &form, due, &text).await?;
    write.was_done(&form.key, content.as_bytes(), job.number.into()).await?;
    write.commit().await?;
    Ok(Redirect::to(&format!("/jobs/{}", job.number)).into_response())
}

fn unfit(whose: &Whose, form: &TakeIn) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut length =
        |what: &str, text: &str, least: usize, most: usize| wrong.extend(misfit(what, text, [least, most]));
    if whose.customer.is_none() {
        length("The customer's name", &form.name, 1, LONGEST_NAME);
    }
    // A job file tells by itself how its truck is called.
    if whose.truck.is_none() && form.file.trim().is_empty() {
        length("What the truck is called", &form.truck_name, 1, LONGEST_NAME);
    }
    length("The telephone number", &form.phone, 0, LONGEST_NAME);
    length("What the customer said", &form.said, 0, LONGEST_TEXT);
    if !BATTERY.iter().any(|(value, _)| *value == form.battery) {
        wrong.push("Say what became of the battery.".into());
    }
    wrong
}

/// The shop's settings as a job file tells them; nothing where nobody set any.
pub(crate) fn prices(shop: &Shop) -> Result<String, Trouble> {
    if shop.version == 0 {
        return Ok(String::new());
    }
    let (rate, comeback) = (shop.money(shop.labour_rate)?, shop.money(shop.comeback_cost)?);
    Ok(format!(
        "[shop]\ncurrency = \"{}\"\nlabour_rate = \"{rate}/h\"\nhorizon_runs = {}\ncomeback_cost = \"{comeback}\"\n",
        shop.currency, shop.horizon_runs
    ))
}

/// What the form tells of this visit, as a job file's table.
fn visit(app: &App, form: &TakeIn) -> Result<String, Vec<String>> {
    let complaint = app.book().complaint(&form.complaint).ok_or_else(|| vec!["Choose a complaint.".to_owned()])?;
    let runs = match form.runs.trim() {
        "" => String::new(),
        text => match text.parse::<u32>() {
            Ok(runs) => format!("runs_since_gears = {runs}\n"),
            Err(_) => return Err(vec![format!("Runs since new gears: “{text}” is no whole number.")]),
        },
    };
    Ok(format!("[job]\ncomplaint = \"{}\"\n{runs}", complaint.id))
}

/// A job file that was pasted, with the complaint of the form where it has none, and with the shop's own prices.
fn pasted(app: &App, form: &TakeIn, visit: &str, prices: &str) -> Result<String, Vec<String>> {
    // Read as it stands first, so that problems are told at its own lines.
    JobFile::parse(&form.file, app.book()).map_err(told_at_lines)?;
    let odd = |error: toothsayer_records::Error| vec![crate::page::words::sentence(&error.to_string())];
    let text = with_tables(&form.file, visit, Tables::WhereMissing).map_err(odd)?;
    let text = with_tables(&text, prices, Tables::InPlace).map_err(odd)?;
    JobFile::parse(&text, app.book()).map_err(told)?;
    Ok(text)
}

/// The problems of a pasted job file, each with its line and its key.
fn told_at_lines(error: JobError) -> Vec<String> {
    match error {
        JobError::Problems(problems) => {
            let told = |one: &toothsayer_job::Problem| {
                let key = if one.key.is_empty() { String::new() } else { format!(", {}", one.key) };
                format!("Job file, line {}{key}: {}; {}.", one.line, one.message, one.hint)
            };
            problems.iter().map(told).collect()
        }
        other => vec![crate::page::words::sentence(&other.to_string())],
    }
}

/// The job's file, checked as every job file is.
fn file(app: &App, whose: &Whose, form: &TakeIn, prices: &str) -> Result<String, Vec<String>> {
    let visit = visit(app, form)?;
    if !form.file.trim().is_empty() {
        return pasted(app, form, &visit, prices);
    }
    let truck = match whose.last_build().filter(|_| form.same_build == "yes") {
        Some(build) => {
            let mut draft = Draft::parse(&build.tables).map_err(|why| vec![why])?;
            form.facts().laid_over(&mut draft);
            draft.to_string()
        }
        None => {
            let name = whose.truck.as_ref().map_or(form.truck_name.trim(), |(truck, _)| truck.name.as_str());
            form.facts().told(name)?.to_toml()
        }
    };
    let text = format!("{truck}\n{visit}{prices}");
    match JobFile::parse(&text, app.book()) {
        Ok(_) => Ok(text),
        Err(error) => Err(told(error)),
    }
}

/// The problems of a job file that nobody wrote as one, each in the words of its input and with its way out.
pub(crate) fn told(error: JobError) -> Vec<String> {
    match error {
        JobError::Problems(problems) => problems.iter().map(|one| refusal(&in_words(one), &one.hint)).collect(),
        other => vec![crate::page::words::sentence(&quoted(&other.to_string()))],
    }
}

/// A problem's message with what its keys mean instead of the keys, as far as they have a meaning of their own.
fn in_words(problem: &Problem) -> String {
    let Problem { key, message, .. } = problem;
    if key == "findings.value" {
        // "`value` of check \"motor-rocks\": ..."
        let behind = message.strip_prefix("`value` of check \"").and_then(|rest| rest.split_once('"'));
        return behind.map_or(message.clone(), |(_, rest)| format!("the measured value{rest}"));
    }
    // Every other piece stands between the marks of code.
    let pieces = message.split('`').enumerate().map(|(place, piece)| {
        let meaning = toothsayer_inputs::find(piece).filter(|_| place % 2 == 1);
        match (meaning, place % 2) {
            (Some(input), _) => input.help.to_owned(),
            (None, 1) => format!("`{piece}`"),
            _ => piece.to_owned(),
        }
    });
    pieces.collect()
}

async fn keep(
    write: &Write,
    app: &App,
    whose: Whose,
    form: &TakeIn,
    due: Option<Moment>,
    text: &str,
) -> Result<Job, Trouble> {
    let customer = match whose.customer {
        Some(customer) => customer,
        None => {
            let new = Customer { phone: form.phone.trim().to_owned(), ..Customer::new(write, form.name.trim()) };
            write.add(new).await?
        }
    };
    let truck = match whose.truck {
        Some((truck, _)) => truck,
        None => write.truck(customer.id, &called(app, form, text)).await?,
    };
    // Jobs that came before are known; the newest one is what a second strip comes back from.
    let before = jobs_of(write, truck.id).await?.into_iter().next().filter(|_| form.complaint == "stripped-again");
    let incoming = Incoming { truck: truck.id, comeback_of: before.map(|job| job.id), text, book: app.book() };
    let job = write.import(incoming).await?;
    let shop = shop_of(write).await?;
    let kind = if form.warranty == "yes" { JobKind::Warranty } else { job.kind };
    let said = Job { said: said(form), looking_fee: shop.looking_fee, due, kind, ..job.clone() };
    Ok(write.save(said).await?.saved().unwrap_or(job))
}

/// How the truck is called: as it was typed, else as its job file tells.
fn called(app: &App, form: &TakeIn, text: &str) -> String {
    let typed = form.truck_name.trim();
    let told = JobFile::parse(text, app.book()).ok();
    let told = told.as_ref().and_then(|job| job.built.fields.word("truck.name")).unwrap_or("truck");
    let name: String = told.chars().take(LONGEST_NAME).collect();
    if typed.is_empty() { name } else { typed.to_owned() }
}

/// What the customer said, and what the shop did with the battery.
fn said(form: &TakeIn) -> String {
    let battery = BATTERY.iter().find(|(value, _)| *value == form.battery).map_or("", |(_, words)| words);
    let noted = format!("Battery: {}.", battery.to_lowercase());
    match form.said.trim() {
        "" => noted,
        said => format!("{said}\n{noted}"),
    }
}
