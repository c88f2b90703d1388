//! `serve`: the bench pages, to this machine or to the shop's network, until Ctrl-C.

use crate::args::ServeArgs;
use crate::desk_records::{closed, made, waiting};
use crate::failure::Failure;
use crate::input::Desk;
use crate::paper;
use std::future::Future;
use std::net::SocketAddr;
use std::pin::Pin;
use std::sync::Arc;
use tokio::net::TcpListener;
use tokio::sync::Notify;
use toothsayer_pages::{App, Hosts, Setting, serve};
use toothsayer_records::{Place, Store};

/// Serves until Ctrl-C or the system's signal to end.
pub fn run(desk: &Desk<'_>, args: &ServeArgs) -> Result<String, Failure> {
    waiting(async {
        let store = made(&args.kept).await?;
        let served = served(desk, args, store.clone()).await;
        closed(store, served).await
    })?;
    Ok("stopped; what was under way is finished\n".into())
}

async fn served(desk: &Desk<'_>, args: &ServeArgs, store: Store) -> Result<(), Failure> {
    let busy = |error: std::io::Error| {
        Failure::could(format!("{} cannot be listened at: {error}", args.listen), "give another address with --listen")
    };
    let stop = stop()?;
    let listener = TcpListener::bind(args.listen).await.map_err(busy)?;
    let address = listener.local_addr().map_err(busy)?;
    let hosts = Hosts::new(address, &args.host);
    let place = store.place().clone();
    let app = App::new(Setting { store, book: desk.book.clone(), hosts, https: args.https })?;
    let first_run = app.first_run_is_due().await?;
    paper::print(&told(args, address, &place, first_run.then(|| app.first_code())));
    serve(&app, listener, stop).await.map_err(|error| Failure::could(error.to_string(), "start it again"))
}

/// Where the pages are, and what is to be minded.
fn told(args: &ServeArgs, address: SocketAddr, place: &Place, code: Option<&str>) -> String {
    let local =
        if address.ip().is_unspecified() { format!("127.0.0.1:{}", address.port()) } else { address.to_string() };
    let mut text = format!("The bench pages: http://{local}/\nThe records: {place}\n");
    if let Some(code) = code {
        text.push_str(&format!("First run: make the owner's account at http://{local}/first-run?code={code}\n"));
    }
    if !address.ip().is_loopback() && !args.https {
        text.push_str(
            "note: others reach these pages without encryption, and can read what is sent. Put a proxy that does the\n\
             encryption before them and give --https: docs/operations.md.\n",
        );
    }
    text.push_str("Ctrl-C ends it.\n");
    text
}

/// Listens from here on to Ctrl-C and to the system's signal to end; what it answers waits for the first of them.
pub fn stop() -> Result<impl Future<Output = ()>, Failure> {
    let told = Arc::new(Notify::new());
    for signal in signals().map_err(|error| Failure::could(format!("no signal can be listened to: {error}"), ""))? {
        let told = told.clone();
        tokio::spawn(async move {
            signal.await;
            told.notify_one();
        });
    }
    Ok(async move { told.notified().await })
}

type Signal = Pin<Box<dyn Future<Output = ()> + Send>>;

#[cfg(unix)]
fn signals() -> std::io::Result<Vec<Signal>> {
    use tokio::signal::unix::{SignalKind, signal};
    let heard = |kind| {
        let mut signal = signal(kind)?;
        let heard: Signal = Box::pin(async move {
            signal.recv().await;
        });
        Ok(heard)
    };
    [SignalKind::interrupt(), SignalKind::terminate()].into_iter().map(heard).collect()
}

#[cfg(windows)]
fn signals() -> std::io::Result<Vec<Signal>> {
    let mut interrupted = tokio::signal::windows::ctrl_c()?;
    Ok(vec![Box::pin(async move {
        interrupted.recv().await;
    })])
}
