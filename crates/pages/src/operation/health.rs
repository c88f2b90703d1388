//! Whether the pages are served and the records answer.

use crate::app::App;
use crate::page::trouble::Trouble;
use axum::extract::State;
use toothsayer_records::everybody;

/// Says so.
pub(crate) async fn show(State(app): State<App>) -> Result<&'static str, Trouble> {
    everybody(app.store()).await?;
    Ok("well\n")
}
