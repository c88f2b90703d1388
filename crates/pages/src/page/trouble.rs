//! What can go wrong with a request, and the page that says so.

use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, page};
use crate::page::typed::quoted;
use crate::page::words::sentence;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use toothsayer_job::JobError;
use toothsayer_records::Error as RecordsError;
use toothsayer_report::Error as ReportError;

/// What forms call their fields.
const FIELDS: [(&str, &str); 9] = [
    ("answer", "The customer's answer"),
    ("channel", "How it was said"),
    ("from", "Handed over on"),
    ("job", "Job"),
    ("photo", "Photo"),
    ("pieces", "Pieces"),
    ("reason", "Reason"),
    ("runs_per_week", "Runs a week"),
    ("state", "The step"),
];

/// Why a page cannot be given.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Trouble {
    /// The records could not.
    #[error(transparent)]
    Records(#[from] RecordsError),
    /// There is no such page.
    #[error("there is no page here")]
    NoPage,
    /// The form is not one of these pages'.
    #[error("the form's field {field} is \"{value}\", allowed is {allowed}")]
    Form {
        /// Which field.
        field: &'static str,
        /// What was sent.
        value: String,
        /// What is taken.
        allowed: &'static str,
    },
    /// The stored build cannot be read.
    #[error("the job cannot be computed: {0}")]
    Job(#[from] JobError),
    /// The verdict cannot be computed.
    #[error("the job cannot be computed: {0}")]
    Verdict(#[from] toothsayer_verdict::Error),
    /// The verdict's page cannot be written.
    #[error("the verdict cannot be shown: {0}")]
    Report(#[from] ReportError),
    /// A drawing cannot be made.
    #[error("the drawing cannot be made: {0}")]
    Drawing(#[from] toothsayer_figures::Error),
    /// The machine gave no chance for a password's salt, or no thread.
    #[error("the machine could not hash the password")]
    Chance,
    /// More was sent than is taken.
    #[error("more was sent than is taken here")]
    TooLarge,
    /// The computation stopped.
    #[error("the computation stopped")]
    Stopped,
}

impl Trouble {
    pub(crate) fn status(&self) -> StatusCode {
        match self {
            Self::Records(RecordsError::Missing { .. }) | Self::NoPage => StatusCode::NOT_FOUND,
            Self::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
            Self::Records(RecordsError::Unreachable { .. } | RecordsError::Busy { .. } | RecordsError::Full { .. }) => {
                StatusCode::SERVICE_UNAVAILABLE
            }
            Self::Records(RecordsError::Refused(_) | RecordsError::OtherForm { .. }) => StatusCode::CONFLICT,
            Self::Records(
                RecordsError::Value { .. } | RecordsError::Content { .. } | RecordsError::Constraint { .. },
            )
            | Self::Form { .. }
            | Self::Report(
                ReportError::TooEarly { .. } | ReportError::TooLate { .. } | ReportError::ControlCharacter { .. },
            )
            | Self::Job(_)
            | Self::Verdict(_) => StatusCode::UNPROCESSABLE_ENTITY,
            _ => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    /// The message as a page tells it: in the words of its forms, without marks of code.
    fn told(&self) -> String {
        match self {
            Self::Form { field, value, allowed } => {
                let label = FIELDS.iter().find(|(name, _)| name == field).map_or(*field, |(_, label)| label);
                format!("{label}: “{value}” is not taken; allowed is {allowed}")
            }
            other => sentence(&quoted(&other.to_string())),
        }
    }

    pub(crate) fn hint(&self) -> &'static str {
        match self {
            Self::Records(error) => error.hint(),
            Self::NoPage => "go to today's list and look from there",
            Self::TooLarge => "a photo may have up to 25 MB: set the camera to a smaller picture",
            Self::Form { .. } => "go back, correct it, and send the form again",
            Self::Job(_) | Self::Verdict(_) => "the job's build says more: look there",
            _ => "nothing was lost: try again",
        }
    }
}

/// What went wrong, by its status, above the page that says so.
fn headed(status: StatusCode) -> &'static str {
    match status {
        StatusCode::NOT_FOUND => "Not found",
        StatusCode::CONFLICT => "Not as things stand",
        StatusCode::PAYLOAD_TOO_LARGE => "Too large",
        StatusCode::UNPROCESSABLE_ENTITY => "This cannot be taken",
        StatusCode::SERVICE_UNAVAILABLE => "Not at this moment",
        _ => "Something went wrong",
    }
}

impl IntoResponse for Trouble {
    fn into_response(self) -> Response {
        let hint = if self.hint().is_empty() { String::new() } else { format!("{}.", sentence(self.hint())) };
        let told = [
            Html::from(tag("h1").say(headed(self.status()))),
            tag("p").class("notice bad").say(&format!("{}.", self.told())).into(),
            tag("p").say(&hint).into(),
            tag("p").hold(tag("a").class("button").with("href", "/").say("Today's list")).into(),
        ];
        let body = tag("main").with("id", "main").all(told);
        (self.status(), page(&Frame::plain("Trouble"), body.into())).into_response()
    }
}

/// What was refused for its size before any page saw it is told as everything else is.
pub(crate) async fn plainly(response: Response) -> Response {
    match response.status() {
        StatusCode::PAYLOAD_TOO_LARGE => Trouble::TooLarge.into_response(),
        _ => response,
    }
}
