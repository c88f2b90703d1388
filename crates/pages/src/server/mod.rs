//! Serving the pages until told to stop: so many connections at once, each with its limits, in the open or encrypted.

mod connection;
mod encryption;
mod limits;
mod patient;

pub use encryption::{CertificateFiles, Encryption, EncryptionError};
pub use limits::Limits;

use crate::app::App;
use crate::routes::router;
use axum::Router;
use connection::Peer;
use hyper_util::server::graceful::{GracefulShutdown, Watcher};
use std::future::Future;
use std::io::ErrorKind;
use std::net::SocketAddr;
use std::pin::pin;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

/// How long nothing is accepted once the machine has no file handle left.
const BREATH: Duration = Duration::from_millis(200);

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

/// Where is listened, and how.
pub struct Listening {
    /// The socket.
    pub listener: TcpListener,
    /// What encrypts; none where the pages are served in the open.
    pub encryption: Option<Arc<Encryption>>,
    /// What is put up with.
    pub limits: Limits,
}

/// Serves the pages in the open until `stop` is ready; what is under way is finished first.
///
/// # Errors
/// The machine does not let.
pub async fn serve(app: &App, listener: TcpListener, stop: impl Future<Output = ()>) -> Result<(), Error> {
    serve_at(app, Listening { listener, encryption: None, limits: Limits::default() }, stop).await
}

/// Serves the pages, in the open or encrypted, until `stop` is ready; what is under way is finished first.
///
/// # Errors
/// The machine does not let.
pub async fn serve_at(app: &App, listening: Listening, stop: impl Future<Output = ()>) -> Result<(), Error> {
    let Listening { listener, encryption, limits } = listening;
    let (places, under_way) = (Arc::new(Semaphore::new(limits.connections)), GracefulShutdown::new());
    let hall = Hall { app: app.clone(), pages: router(app), encryption, limits, under_way };
    let mut stop = pin!(stop);
    loop {
        tokio::select! {
            () = &mut stop => break,
            come = next(&listener, &places) => hall.receive(come?),
        }
    }
    drop(listener);
    app.end();
    // Who does not take an answer in this time does not keep the program from ending.
    let _late = tokio::time::timeout(limits.farewell, hall.under_way.shutdown()).await;
    Ok(())
}

/// A connection that has come, and its place among those that may be there at once.
struct Come {
    stream: TcpStream,
    peer: SocketAddr,
    place: OwnedSemaphorePermit,
}

/// Waits for a place, then for somebody who takes it.
async fn next(listener: &TcpListener, places: &Arc<Semaphore>) -> Result<Come, Error> {
    let closed = |_| Error::Stopped { why: "no connection has a place".into() };
    let place = places.clone().acquire_owned().await.map_err(closed)?;
    loop {
        match listener.accept().await {
            Ok((stream, peer)) => return Ok(Come { stream, peer, place }),
            Err(error) if is_theirs(error.kind()) => {}
            // No file handle is left: others end, and give theirs back.
            Err(_) => tokio::time::sleep(BREATH).await,
        }
    }
}

/// Whether who came went again, which is nobody else's concern.
fn is_theirs(kind: ErrorKind) -> bool {
    matches!(kind, ErrorKind::ConnectionRefused | ErrorKind::ConnectionAborted | ErrorKind::ConnectionReset)
}

/// What every connection is served with.
struct Hall {
    app: App,
    pages: Router,
    encryption: Option<Arc<Encryption>>,
    limits: Limits,
    under_way: GracefulShutdown,
}

impl Hall {
    fn receive(&self, come: Come) {
        let Come { stream, peer, place } = come;
        // Small answers go at once; where the machine does not know this, they go a little later.
        let _ = stream.set_nodelay(true);
        let peer = Peer { address: peer, pages: self.pages.clone(), limits: self.limits };
        let (watcher, encryption, app) = (self.under_way.watcher(), self.encryption.clone(), self.app.clone());
        tokio::spawn(async move {
            app.metrics.connected();
            talk(stream, peer, encryption, watcher).await;
            app.metrics.gone();
            drop(place);
        });
    }
}

async fn talk(stream: TcpStream, peer: Peer, encryption: Option<Arc<Encryption>>, watcher: Watcher) {
    match encryption {
        None => connection::serve(stream, peer, watcher).await,
        Some(encryption) => {
            if let Some(stream) = encryption.greeted(stream, peer.limits.head).await {
                connection::serve(stream, peer, watcher).await;
            }
        }
    }
}
