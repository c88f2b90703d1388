//! Ways in that need no typing: an address with a drawn code, given out by the program alone and good on this machine alone.
//!
//! For a shop that is made to be tried out and thrown away. Where none was given out there is no such page.

use crate::app::App;
use crate::door::sign_in::{inside, let_in};
use crate::page::trouble::Trouble;
use axum::extract::{ConnectInfo, Extension, Query, State};
use axum::http::HeaderMap;
use axum::response::Response;
use serde::Deserialize;
use std::net::SocketAddr;
use std::sync::Mutex;
use toothsayer_records::{Id, Person, Result, Secret};

/// Whoever comes with a code comes in as its person, until the program ends.
#[derive(Default)]
pub(crate) struct WaysIn(Mutex<Vec<(Secret, Id<Person>)>>);

impl WaysIn {
    /// Whether one was given out.
    pub(crate) fn are_given(&self) -> bool {
        self.0.lock().is_ok_and(|given| !given.is_empty())
    }

    fn whose(&self, code: &str) -> Option<Id<Person>> {
        let given = self.0.lock().ok()?;
        given.iter().find(|(secret, _)| secret.reveal() == code).map(|(_, person)| *person)
    }
}

/// The code of the address, and where to go on.
#[derive(Deserialize)]
pub(crate) struct Came {
    #[serde(default)]
    code: String,
    #[serde(default)]
    to: String,
}

impl App {
    /// Gives out a path that lets this machine's browsers in as somebody until the program ends. It is as good as their
    /// password: for a shop that is thrown away, and shown to nobody but whoever started the program.
    ///
    /// # Errors
    /// The machine gives no chance to draw the code from.
    pub fn way_in(&self, who: Id<Person>) -> Result<String> {
        let secret = Secret::drawn()?;
        let path = format!("/come-in?code={}", secret.reveal());
        if let Ok(mut given) = self.ways_in.0.lock() {
            given.push((secret, who));
        }
        Ok(path)
    }
}

/// Lets in who comes from this machine with a code that was given out; for all others there is nothing here.
pub(crate) async fn come_in(
    State(app): State<App>,
    peer: Option<Extension<ConnectInfo<SocketAddr>>>,
    headers: HeaderMap,
    Query(came): Query<Came>,
) -> std::result::Result<Response, Trouble> {
    let from_here = peer.is_some_and(|Extension(ConnectInfo(address))| address.ip().is_loopback());
    match app.ways_in.whose(&came.code).filter(|_| from_here) {
        Some(person) => let_in(&app, person, &headers, &inside(&came.to)).await,
        None => Err(Trouble::NoPage),
    }
}
