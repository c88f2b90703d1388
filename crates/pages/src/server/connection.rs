//! One connection: how long its requests may take to arrive, and how large their heads may be.

use super::limits::Limits;
use super::patient::Patient;
use axum::Router;
use axum::body::Body;
use axum::extract::ConnectInfo;
use hyper::body::Incoming;
use hyper::server::conn::http1::Builder;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::Watcher;
use std::net::SocketAddr;
use tokio::io::{AsyncRead, AsyncWrite};
use tower::ServiceExt;
use tower_http::timeout::TimeoutBody;

/// Bytes of a head at most: a cookie, an address, what browsers say of themselves.
const LARGEST_HEAD: usize = 16 * 1024;
/// Lines of a head at most; browsers send about twenty.
const MOST_LINES: usize = 64;

/// Who is at the other end, and what they get.
pub(super) struct Peer {
    /// Their address.
    pub address: SocketAddr,
    /// The pages.
    pub pages: Router,
    /// What is put up with.
    pub limits: Limits,
}

/// Answers the requests of a connection until it ends, or the watcher says to stop.
pub(super) async fn serve<S>(stream: S, peer: Peer, watcher: Watcher)
where
    S: AsyncRead + AsyncWrite + Send + Unpin + 'static,
{
    let Peer { address, pages, limits } = peer;
    let answer = service_fn(move |mut request: hyper::Request<Incoming>| {
        request.extensions_mut().insert(ConnectInfo(address));
        pages.clone().oneshot(request.map(|body| Body::new(TimeoutBody::new(limits.body, body))))
    });
    let stream = TokioIo::new(Patient::new(stream, limits.stall));
    let mut builder = Builder::new();
    builder.timer(TokioTimer::new()).header_read_timeout(limits.head);
    builder.max_header_size(LARGEST_HEAD).max_headers(MOST_LINES);
    // A connection that breaks is the other end's affair: its request was answered, or is asked again.
    let _broken = watcher.watch(builder.serve_connection(stream, answer)).await;
}
