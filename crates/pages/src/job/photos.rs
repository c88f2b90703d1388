//! A job's photos: taken with the device's camera, kept, filed to what they show, before the work and after it.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::way::way;
use crate::page::html::{Html, Tag, tag};
use crate::page::shell::{Frame, choice, field, hidden, input, page, problems};
use crate::page::trouble::Trouble;
use crate::page::upload::Upload;
use crate::page::words::sentence;
use axum::extract::{Extension, Form, Multipart, Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{
    Error, Finding, Id, Job, Moment, Person, Photo, PhotoMoment, Reach, Saved, Write, everybody, findings_of, form_key,
    job_by_number, photos_of, unfiled_photos,
};

/// Letters of a note, and of what is shown, at most.
const LONGEST_NOTE: usize = 1000;
const LONGEST_SHOWS: usize = 120;
/// Unfiled photos that are shown at once.
const MOST_UNFILED: u32 = 40;

/// Before or after, as a form says it.
const MOMENTS: [(&str, &str, Option<PhotoMoment>); 3] = [
    ("", "Not said", None),
    ("before", "Before the work", Some(PhotoMoment::Before)),
    ("after", "After the work", Some(PhotoMoment::After)),
];

/// For which check it is taken.
#[derive(Default, Deserialize)]
pub(crate) struct Wish {
    #[serde(default)]
    check: String,
}

/// Where a photo is filed.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(crate) struct Filing {
    version: i64,
    job: String,
    check: String,
    shows: String,
    moment: String,
    note: String,
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Query(wish): Query<Wish>,
) -> Result<Response, Trouble> {
    let filing = Filing { check: wish.check, ..Filing::default() };
    sheet(&app, &seat, number, &filing, &[]).await
}

async fn sheet(app: &App, seat: &Seat, number: i64, typed: &Filing, wrong: &[String]) -> Result<Response, Trouble> {
    let job = job_by_number(app.store(), number).await?;
    let own = Own {
        app,
        seat,
        job: &job,
        findings: findings_of(app.store(), job.id).await?,
        people: everybody(app.store()).await?,
    };
    let photos = photos_of(app.store(), job.id).await?;
    let told = [
        way(seat, number, "/photos"),
        tag("h1").say(&format!("Photos of job {number}")).into(),
        problems(wrong),
        own.take(typed),
        own.list(&photos),
        Html::from(tag("p").hold(tag("a").with("href", "/photos").say("Photos that belong to no job yet"))),
    ];
    let title = format!("Photos of job {number}");
    Ok(page(&Frame::of(&title, seat), tag("main").with("id", "main").all(told).into()))
}

/// A job with what its photos may show.
struct Own<'a> {
    app: &'a App,
    seat: &'a Seat,
    job: &'a Job,
    findings: Vec<Finding>,
    people: Vec<Person>,
}

impl Own<'_> {
    fn take(&self, typed: &Filing) -> Html {
        let form = upload_form(&format!("/jobs/{}/photos", self.job.number)).all([
            camera(),
            field("What it belongs to", self.checks(&typed.check), "A check of the bench sheet that is answered."),
            moment(&typed.moment),
            field("Note", text("note", &typed.note), ""),
            tag("button").say("Keep the photo").into(),
        ]);
        tag("section").with("id", "take").hold(tag("h2").say("Take one")).hold(form).into()
    }

    /// The answered checks, to choose from.
    fn checks(&self, chosen: &str) -> Tag {
        let mut options = vec![(String::new(), "The truck as a whole".to_owned())];
        options.extend(self.findings.iter().map(|finding| (finding.asked.clone(), self.question(&finding.asked))));
        choice("check", &options, chosen)
    }

    fn question(&self, check: &str) -> String {
        self.app.book().finding(check).map_or(check.to_owned(), |entry| entry.question.clone())
    }

    fn list(&self, photos: &[Photo]) -> Html {
        let groups = MOMENTS.into_iter().rev().map(|(_, words, moment)| {
            let own: Vec<Html> =
                photos.iter().filter(|photo| photo.moment == moment).map(|one| self.one(one)).collect();
            let head = if moment.is_none() { "Before or after is not said" } else { words };
            match own.is_empty() {
                true => Html::default(),
                false => tag("section").hold(tag("h2").say(head)).hold(tag("ul").class("photos").all(own)).into(),
            }
        });
        let groups = Html::of(groups);
        if photos.is_empty() { tag("p").say("There is no photo of this job yet.").into() } else { groups }
    }

    fn one(&self, photo: &Photo) -> Html {
        let finding = photo.finding.and_then(|id| self.findings.iter().find(|finding| finding.id == id));
        let question = finding.map(|finding| self.question(&finding.asked));
        let shows = [question.clone().unwrap_or_default(), photo.shows.clone(), photo.note.clone()];
        let told: Vec<String> = shows.into_iter().filter(|text| !text.is_empty()).collect();
        let who = self.people.iter().find(|person| Some(person.id) == photo.taken_by);
        let by = who.map_or(String::new(), |person| format!(", {}", person.name));
        let file = tag("form").with("method", "post").with("action", &format!("/photos/{}", photo.id)).all([
            hidden("version", &photo.version.to_string()),
            hidden("job", &self.job.number.to_string()),
            field("What it belongs to", self.checks(finding.map_or("", |finding| &finding.asked)), ""),
            field("Part that it shows", text("shows", &photo.shows), ""),
            moment(moment_word(photo.moment)),
            field("Note", text("note", &photo.note), ""),
            tag("button").class("plain").say("File it so").into(),
        ]);
        let inner = [
            picture(photo, &told.join(" · ")),
            tag("p").say(&told.join(" · ")).into(),
            tag("p").class("small").say(&format!("{}{by}", self.seat.clock.when(photo.taken))).into(),
            tag("details").hold(tag("summary").say("File it elsewhere")).hold(file).into(),
            forget(photo),
        ];
        tag("li").class("check").all(inner).into()
    }
}

fn moment_word(moment: Option<PhotoMoment>) -> &'static str {
    MOMENTS.into_iter().find(|(.., own)| *own == moment).map_or("", |(word, ..)| word)
}

fn text(name: &str, value: &str) -> Tag {
    input("text", name).with("value", value).with("autocomplete", "off")
}

fn moment(chosen: &str) -> Html {
    let options = MOMENTS.map(|(word, words, _)| (word.to_owned(), words.to_owned()));
    field("When", choice("moment", &options, chosen), "")
}

fn upload_form(action: &str) -> Tag {
    let form = tag("form").with("method", "post").with("action", action);
    let form = form.with("enctype", "multipart/form-data").flag("data-photo", true).class("narrow-form");
    form.hold(hidden("key", &form_key(Moment::now())))
}

/// The device's camera, or a file.
fn camera() -> Html {
    let file = input("file", "photo").with("accept", "image/jpeg,image/png").with("capture", "environment");
    let told = "A JPEG or PNG of up to 25 MB. The place where it was taken is not kept.";
    field("Photo", file.flag("required", true), told)
}

/// The small copy, leading to the large one. Its sides are told, so that nothing moves when it comes.
fn picture(photo: &Photo, told: &str) -> Html {
    let told = if told.is_empty() { "Photo without a note" } else { told };
    let image = tag("img").with("src", &format!("/photos/{}/small", photo.id)).with("alt", told);
    let image = image.with("width", &photo.width.to_string()).with("height", &photo.height.to_string());
    let image = image.with("loading", "lazy");
    tag("a").class("photo").with("href", &format!("/photos/{}/large", photo.id)).hold(image).into()
}

fn forget(photo: &Photo) -> Html {
    let form = tag("form").with("method", "post").with("action", &format!("/photos/{}/forget", photo.id)).all([
        tag("p").class("small").say("It is gone for good, its copies too.").into(),
        tag("button").class("plain").say("Take this photo away").into(),
    ]);
    tag("details").hold(tag("summary").say("Take it away")).hold(form).into()
}

/// Keeps a photo of a job.
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    body: Multipart,
) -> Result<Response, Trouble> {
    job_by_number(app.store(), number).await?;
    let upload = Upload::read(body, "photo").await?;
    let (typed, key, content) = (filing(&upload), upload.text("key").to_owned(), upload.content());
    let picture = match app.desk.picture(upload.file).await {
        Err(Trouble::Records(Error::Content { what, why })) => {
            let wrong = format!("{}: {why}.", sentence(&what));
            let told = sheet(&app, &seat, number, &typed, &[wrong]).await?;
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response());
        }
        other => other?,
    };
    let write = seat.write(&app).await?;
    let job = job_by_number(&write, number).await?;
    if write.first_time(&key, &content).await?.is_some() {
        return Ok(Redirect::to(&format!("/jobs/{number}/photos")).into_response());
    }
    let photo = write.keep_photo(picture, typed.note.trim()).await?;
    let wrong = file_in(&write, photo, &job, &typed).await?;
    if wrong.is_empty() {
        write.was_done(&key, &content, number.into()).await?;
        write.commit().await?;
        return Ok(Redirect::to(&format!("/jobs/{number}/photos")).into_response());
    }
    drop(write);
    Ok((StatusCode::UNPROCESSABLE_ENTITY, sheet(&app, &seat, number, &typed, &wrong).await?).into_response())
}

fn filing(upload: &Upload) -> Filing {
    let text = |name: &str| upload.text(name).to_owned();
    Filing {
        version: 1,
        job: String::new(),
        check: text("check"),
        shows: text("shows"),
        moment: text("moment"),
        note: text("note"),
    }
}

/// Files a photo; answers what is wrong with it.
async fn file_in(write: &Write, photo: Photo, job: &Job, filing: &Filing) -> Result<Vec<String>, Trouble> {
    let mut wrong = Vec::new();
    for (what, text, most) in
        [("The note", &filing.note, LONGEST_NOTE), ("What it shows", &filing.shows, LONGEST_SHOWS)]
    {
        let letters = text.trim().chars().count();
        if letters > most {
            wrong.push(format!("{what} has {letters} letters; up to {most} are allowed."));
        }
    }
    let findings = findings_of(write, job.id).await?;
    let finding = findings.iter().find(|finding| finding.asked == filing.check).map(|finding| finding.id);
    if finding.is_none() && !filing.check.is_empty() {
        wrong.push("Nobody answered that check yet: answer it first, or file the photo to the truck.".to_owned());
    }
    if !wrong.is_empty() {
        return Ok(wrong);
    }
    let moment = MOMENTS.into_iter().find(|(word, ..)| *word == filing.moment).and_then(|(.., moment)| moment);
    let (shows, note) = (filing.shows.trim().to_owned(), filing.note.trim().to_owned());
    let filed = Photo { job: Some(job.id), finding, shows, moment, note, version: filing.version, ..photo };
    match write.save(filed).await? {
        Saved::Saved(_) => Ok(Vec::new()),
        Saved::Clash { .. } => Ok(vec!["Somebody else filed this photo meanwhile: look where it is now.".to_owned()]),
    }
}

/// Files a photo to a job and what it shows.
pub(crate) async fn file(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
    Form(filing): Form<Filing>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let photo = read(&write, &id).await?;
    let number: i64 = filing.job.trim().parse().map_err(|_| Trouble::Form {
        field: "job",
        value: filing.job.clone(),
        allowed: "a job's number",
    })?;
    let job = job_by_number(&write, number).await?;
    let wrong = file_in(&write, photo, &job, &filing).await?;
    if wrong.is_empty() {
        write.commit().await?;
        return Ok(Redirect::to(&format!("/jobs/{number}/photos")).into_response());
    }
    drop(write);
    Ok((StatusCode::UNPROCESSABLE_ENTITY, sheet(&app, &seat, number, &filing, &wrong).await?).into_response())
}

/// Takes a photo away for good.
pub(crate) async fn take_away(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let photo = read(&write, &id).await?;
    write.forget_photo(&photo).await?;
    let back = match photo.job {
        Some(job) => format!("/jobs/{}/photos", write.get::<Job>(job).await?.number),
        None => "/photos".to_owned(),
    };
    write.commit().await?;
    Ok(Redirect::to(&back).into_response())
}

/// A photo by the id of an address.
pub(super) async fn read(at: &impl Reach, id: &str) -> Result<Photo, Trouble> {
    Ok(at.get(Id::parse(id).map_err(|_| Trouble::NoPage)?).await?)
}

/// Photos that belong to no job yet.
pub(crate) async fn unfiled(State(app): State<App>, Extension(seat): Extension<Seat>) -> Result<Response, Trouble> {
    unfiled_sheet(&app, &seat, &[]).await
}

async fn unfiled_sheet(app: &App, seat: &Seat, wrong: &[String]) -> Result<Response, Trouble> {
    let photos = unfiled_photos(app.store(), MOST_UNFILED).await?;
    let lines = photos.iter().map(|photo| {
        let number = input("text", "job").with("inputmode", "numeric").flag("required", true);
        let form =
            tag("form").with("method", "post").with("action", &format!("/photos/{}", photo.id)).class("answer").all([
                hidden("version", &photo.version.to_string()),
                hidden("note", &photo.note),
                field("Job number", number, ""),
                tag("button").say("File it there").into(),
            ]);
        tag("li")
            .class("check")
            .all([picture(photo, &photo.note), tag("p").say(&photo.note).into(), form.into(), forget(photo)])
            .into()
    });
    let none = if photos.is_empty() { "Every photo belongs to a job." } else { "" };
    let take = upload_form("/photos").all([
        camera(),
        field("Note", text("note", ""), ""),
        tag("button").say("Keep the photo").into(),
    ]);
    let told = [
        tag("h1").say("Photos to be filed").into(),
        problems(wrong),
        tag("p").say("Taken first, filed later: dirty hands need not find the job.").into(),
        Html::from(take),
        tag("p").say(none).into(),
        tag("ul").class("photos").all(lines).into(),
    ];
    Ok(page(&Frame::of("Photos to be filed", seat), tag("main").with("id", "main").all(told).into()))
}

/// Keeps a photo that belongs to no job yet.
pub(crate) async fn keep_unfiled(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    body: Multipart,
) -> Result<Response, Trouble> {
    let upload = Upload::read(body, "photo").await?;
    let note: String = upload.text("note").trim().chars().take(LONGEST_NOTE).collect();
    let (key, content) = (upload.text("key").to_owned(), upload.content());
    match app.desk.picture(upload.file).await {
        Err(Trouble::Records(Error::Content { what, why })) => {
            let wrong = format!("{}: {why}.", sentence(&what));
            Ok((StatusCode::UNPROCESSABLE_ENTITY, unfiled_sheet(&app, &seat, &[wrong]).await?).into_response())
        }
        Err(other) => Err(other),
        Ok(picture) => {
            let write = seat.write(&app).await?;
            if write.first_time(&key, &content).await?.is_none() {
                write.keep_photo(picture, &note).await?;
                write.was_done(&key, &content, 0.into()).await?;
                write.commit().await?;
            }
            Ok(Redirect::to("/photos").into_response())
        }
    }
}
