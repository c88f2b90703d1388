//! The customer's page behind their link: one job, to be read on a phone, with nothing of the shop's own and nobody else's.

use crate::app::App;
use crate::door::limiter::Counted;
use crate::door::sign_in::ip;
use crate::job::alternatives::weighed;
use crate::job::deal::{Asked, Deal};
use crate::job::hand_over::{CustomerRead, read};
use crate::job::offering::Offering;
use crate::job::papers::{Rhythm, calendar_of, shown, written};
use crate::link::answer::{self, Reply};
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, page};
use crate::page::trouble::Trouble;
use crate::page::words::money;
use axum::extract::{ConnectInfo, Extension, Path, Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE, HeaderName, REFERRER_POLICY, RETRY_AFTER};
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use std::net::SocketAddr;
use toothsayer_records::{
    Job, JobState, Moment, Photo, Reach, Scale, TokenKind, Truck, WallClock, photo_bytes, photos_of, shop_of, token_of,
};
use toothsayer_report::PaperKind;

/// Where a request comes from.
pub(crate) type Peer = Option<Extension<ConnectInfo<SocketAddr>>>;

/// Photos that are shown at most.
const MOST_PHOTOS: usize = 12;

/// Why a link opens nothing.
pub(crate) enum Shut {
    /// It is no link that goes now: wrong, ended and revoked are told alike, so that guessing tells nothing.
    NoLink,
    /// Too many wrong ones came from there.
    TooOften,
    /// What it opens cannot be told.
    Trouble(Trouble),
}

impl<E: Into<Trouble>> From<E> for Shut {
    fn from(error: E) -> Self {
        Self::Trouble(error.into())
    }
}

impl IntoResponse for Shut {
    fn into_response(self) -> Response {
        let (status, told) = match self {
            Self::NoLink => {
                (StatusCode::NOT_FOUND, "This link opens nothing, or nothing any more. Ask the shop for a new one.")
            }
            Self::TooOften => {
                (StatusCode::TOO_MANY_REQUESTS, "Too many wrong links came from here: wait ten minutes and try again.")
            }
            Self::Trouble(trouble) => return private(trouble.into_response()),
        };
        let told = tag("main").with("id", "main").class("door").hold(tag("h1").say("No page")).hold(tag("p").say(told));
        let mut answer = (status, page(&Frame::plain("No page"), told.into())).into_response();
        if status == StatusCode::TOO_MANY_REQUESTS {
            answer.headers_mut().insert(RETRY_AFTER, HeaderValue::from_static("600"));
        }
        private(answer)
    }
}

/// Told to no search engine, and its address to no other page.
fn private(mut answer: Response) -> Response {
    let headers = answer.headers_mut();
    headers.insert(HeaderName::from_static("x-robots-tag"), HeaderValue::from_static("noindex, nofollow"));
    headers.insert(REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
    answer
}

/// The job that a link opens now.
pub(crate) async fn job_of(app: &App, peer: Peer, secret: &str) -> Result<Job, Shut> {
    let (now, whose) = (Moment::now(), [Counted::Secret(ip(peer))]);
    if app.limiter.refuses(&whose, now) {
        return Err(Shut::TooOften);
    }
    let token = token_of(app.store(), secret, now).await?;
    match token.filter(|token| token.kind == TokenKind::Link).and_then(|token| token.job) {
        Some(job) => Ok(app.store().get(job).await?),
        None => {
            app.limiter.failed(&whose, now);
            Err(Shut::NoLink)
        }
    }
}

/// The page.
pub(crate) async fn show(State(app): State<App>, peer: Peer, Path(secret): Path<String>) -> Result<Response, Shut> {
    let job = job_of(&app, peer, &secret).await?;
    Ok(sheet(&app, &job, &secret, &Reply::default(), &[]).await?)
}

/// The page, with an answer as it was typed and what is wrong with it.
pub(crate) async fn sheet(
    app: &App,
    job: &Job,
    secret: &str,
    typed: &Reply,
    wrong: &[String],
) -> Result<Response, Trouble> {
    let (truck, shop): (Truck, _) = (app.store().get(job.truck).await?, shop_of(app.store()).await?);
    let (deal, (_, offering)) = (Deal::of(app.store(), job).await?, weighed(app, job).await?);
    let CustomerRead { happened, work, details } = read(app, job).await?;
    // Each offer tells its own work, and what is reckoned anew tells none, but what was agreed on before.
    let told_by_offers = match deal.asked(&offering) {
        Asked::Nothing => false,
        Asked::Of(_) => true,
        Asked::Anew => deal.taken().is_none(),
    };
    let told = [
        head(job, &deal, &offering, (&truck, &shop.name)),
        happened,
        answer::section(job, &deal, &offering, &answer::Form { secret, typed, wrong }),
        if told_by_offers { Html::default() } else { work },
        details,
        photos(app, job, secret).await?,
        to_keep(secret, job.state),
        foot(&shop.name),
    ];
    let main = tag("main").with("id", "main").class("customer").all(told);
    Ok(private(page(&Frame::plain(&format!("{}, job {}", truck.name, job.number)), main.into())))
}

fn head(job: &Job, deal: &Deal, offering: &Offering, (truck, shop): (&Truck, &str)) -> Html {
    let asked = deal.asked(offering);
    let stands = match asked {
        Asked::Anew => "More is known now, or prices moved: we reckon it anew, and ask you again.",
        _ if deal.is_gone(offering) => "You said yes, and more is known since: we reckon it anew, and ask you again.",
        Asked::Of(_) if deal.rose() => "It comes to more than you agreed to: we ask you again.",
        _ => stands(job.state),
    };
    let to_answer = match asked {
        Asked::Of(_) => {
            let link = tag("a").class("button").with("href", "#answer").say("To your answer");
            tag("p").class("actions").hold(link).into()
        }
        _ => Html::default(),
    };
    let shop = if shop.is_empty() { "Your truck at the shop" } else { shop };
    tag("header")
        .all([
            tag("p").class("kicker").say(shop).into(),
            tag("h1").say(&truck.name).into(),
            tag("p").class("under").say(&format!("Job {}", job.number)).into(),
            tag("p")
                .class("stands")
                .hold(tag("strong").say(stands))
                .say(&format!(" {}", to_pay(job, deal, offering)))
                .into(),
            to_answer,
        ])
        .into()
}

/// What is to be paid, and what for; afterwards it was settled.
fn to_pay(job: &Job, deal: &Deal, offering: &Offering) -> String {
    let owes = money(deal.owes, &job.currency);
    let before =
        matches!(job.state, JobState::TakenIn | JobState::LookedAt | JobState::Priced | JobState::WaitingForAnswer);
    match (deal.is_agreed(), deal.agreed()) {
        _ if deal.is_free => String::new(),
        _ if matches!(job.state, JobState::Collected | JobState::Rechecked) => String::new(),
        (true, Some(up_to)) if deal.is_above() => {
            let [up_to, price] = [up_to, deal.price].map(|minor| money(minor, &job.currency));
            format!("Agreed on: up to {up_to}. Now it comes to {price}.")
        }
        (true, Some(up_to)) if deal.is_gone(offering) => {
            format!("Agreed on: up to {}, for what is named below.", money(up_to, &job.currency))
        }
        (true, _) if before => String::new(),
        (true, _) => format!("To pay: {owes}, as was agreed on."),
        (false, _) if before && deal.owes > 0 => {
            format!("Nothing is agreed on yet; looking at it costs {owes} where no work follows.")
        }
        (false, _) if before => "Nothing is agreed on yet.".to_owned(),
        (false, _) if deal.owes > 0 => format!("To pay: {owes}, for looking at it."),
        (false, _) => String::new(),
    }
}

/// Where a job stands, as its customer is told.
fn stands(state: JobState) -> &'static str {
    match state {
        JobState::TakenIn => "We have it, and will look at it.",
        JobState::LookedAt | JobState::Priced => "We looked at it, and reckon what it costs.",
        JobState::WaitingForAnswer => "We wait for your answer.",
        JobState::Declined => "You did not want the work: it can be collected as it is.",
        JobState::Agreed => "You said yes: the work begins soon.",
        JobState::WaitingForParts => "Parts are on their way.",
        JobState::OnTheBench => "It is on the bench.",
        JobState::Checked => "The work is done and was checked.",
        JobState::Ready => "It can be collected.",
        JobState::Collected => "You have it back.",
        JobState::Rechecked => "You have it back, and it was checked again.",
    }
}

/// Photos that are filed as before or after the work; the others are the shop's own notes.
async fn photos(app: &App, job: &Job, secret: &str) -> Result<Html, Trouble> {
    let (photos, clock) = (photos_of(app.store(), job.id).await?, WallClock::of_shop(app.store()).await?);
    let figure = |photo: &Photo| {
        let address = format!("/link/{secret}/photos/{}", photo.id);
        let told = shown(photo, &clock);
        let image = tag("img").with("src", &address).with("alt", &told).with("loading", "lazy");
        let image = image.with("width", &photo.width.to_string()).with("height", &photo.height.to_string());
        tag("figure").class("photo").hold(image).hold(tag("figcaption").class("small").say(&told)).into()
    };
    let told: Vec<Html> = photos.iter().filter(|photo| photo.moment.is_some()).take(MOST_PHOTOS).map(figure).collect();
    Ok(match told.is_empty() {
        true => Html::default(),
        false => tag("section").with("id", "photos").hold(tag("h2").say("Photos")).all(told).into(),
    })
}

/// What the customer may take along.
fn to_keep(secret: &str, state: JobState) -> Html {
    let link = |end: &str, words: &str| {
        tag("a").class("button plain").with("href", &format!("/link/{secret}/{end}")).say(words).into()
    };
    let mut links = Vec::new();
    if matches!(state, JobState::Checked | JobState::Ready | JobState::Collected | JobState::Rechecked) {
        links.push(link("care.ics", "Care plan for your calendar"));
        links.push(link("hand-over.pdf", "All this on paper (PDF)"));
    }
    if links.is_empty() { Html::default() } else { tag("p").class("actions").all(links).into() }
}

fn foot(shop: &str) -> Html {
    let ask = if shop.is_empty() { "the shop".to_owned() } else { shop.to_owned() };
    let told = format!(
        "Whoever has this link reads this page: pass it on to nobody who should not. Ask {ask} where something is unclear. \
         Battery out before fingers go near gears; motor, controller and gears are hot after a run."
    );
    tag("footer").hold(tag("p").class("small").say(&told)).into()
}

/// A photo of the job.
pub(crate) async fn photo(
    State(app): State<App>,
    peer: Peer,
    Path((secret, id)): Path<(String, String)>,
) -> Result<Response, Shut> {
    let job = job_of(&app, peer, &secret).await?;
    let photos = photos_of(app.store(), job.id).await?;
    let photo = photos.iter().find(|photo| photo.moment.is_some() && photo.id.to_string() == id).ok_or(Shut::NoLink)?;
    let bytes = photo_bytes(app.store(), photo, Scale::Large).await?;
    Ok(private(([(CONTENT_TYPE, "image/jpeg")], bytes).into_response()))
}

/// The care plan as a calendar file.
pub(crate) async fn calendar(
    State(app): State<App>,
    peer: Peer,
    Path(secret): Path<String>,
    Query(rhythm): Query<Rhythm>,
) -> Result<Response, Shut> {
    let job = job_of(&app, peer, &secret).await?;
    Ok(private(calendar_of(&app, &job, &rhythm).await?))
}

/// The hand-over on paper.
pub(crate) async fn paper(State(app): State<App>, peer: Peer, Path(secret): Path<String>) -> Result<Response, Shut> {
    let job = job_of(&app, peer, &secret).await?;
    let bytes = written(&app, &job, PaperKind::HandOver).await?;
    let name = format!("inline; filename=\"job-{}-hand-over.pdf\"", job.number);
    let headers = [(CONTENT_TYPE, "application/pdf".to_owned()), (CONTENT_DISPOSITION, name)];
    Ok(private((headers, bytes.to_vec()).into_response()))
}
