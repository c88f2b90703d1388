//! Serving the pages until told to stop, and telling whether they are served.

use crate::app::App;
use crate::page::trouble::Trouble;
use crate::routes::router;
use axum::extract::State;
use std::future::Future;
use std::net::SocketAddr;
use tokio::net::TcpListener;
use toothsayer_records::everybody;

/// Why the pages cannot be served.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The machine does not let go on serving.
    #[error("the pages can no longer be served: {why}")]
    Stopped {
        /// What it says.
        why: String,
    },
}

/// Serves the pages until `stop` is ready; what is under way is finished first.
///
/// # Errors
/// The machine does not let.
pub async fn serve(
    app: &App,
    listener: TcpListener,
    stop: impl Future<Output = ()> + Send + 'static,
) -> Result<(), Error> {
    let open = app.clone();
    let stop = async move {
        stop.await;
        open.end();
    };
    let service = router(app).into_make_service_with_connect_info::<SocketAddr>();
    let served = axum::serve(listener, service).with_graceful_shutdown(stop).await;
    served.map_err(|error| Error::Stopped { why: error.to_string() })
}

/// Whether the pages are served and the records answer.
pub(crate) async fn health(State(app): State<App>) -> Result<&'static str, Trouble> {
    everybody(app.store()).await?;
    Ok("well\n")
}
