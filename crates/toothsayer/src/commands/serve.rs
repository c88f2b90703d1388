//! `serve`: the bench pages, to this machine or to the shop's network, until Ctrl-C.

use crate::args::{LogName, ServeArgs};
use crate::commands::signals::{at_each_hang_up, stop};
use crate::desk_records::{closed, made, waiting};
use crate::failure::{Failure, tell};
use crate::input::Desk;
use crate::paper;
use std::net::SocketAddr;
use std::sync::Arc;
use tokio::net::TcpListener;
use toothsayer_pages::{App, CertificateFiles, Encryption, Hosts, Limits, Listening, Log, Setting, serve_at};
use toothsayer_records::{Place, Store};

/// Serves until Ctrl-C or the system's signal to end.
pub fn run(desk: &Desk<'_>, args: &ServeArgs) -> Result<String, Failure> {
    waiting(async {
        let encryption = encryption(args)?;
        let store = made(&args.kept).await?;
        let served = served(desk, args, encryption, store.clone()).await;
        closed(store, served).await
    })?;
    Ok("stopped; what was under way is finished\n".into())
}

async fn served(
    desk: &Desk<'_>,
    args: &ServeArgs,
    encryption: Option<Arc<Encryption>>,
    store: Store,
) -> Result<(), Failure> {
    let busy = |error: std::io::Error| {
        Failure::could(format!("{} cannot be listened at: {error}", args.listen), "give another address with --listen")
    };
    let stop = stop()?;
    let listener = TcpListener::bind(args.listen).await.map_err(busy)?;
    let address = listener.local_addr().map_err(busy)?;
    let (hosts, https) = (Hosts::new(address, &args.host), args.https || encryption.is_some());
    let place = store.place().clone();
    let app = App::new(Setting { store, book: desk.book.clone(), hosts, https, log: log(args.log) })?;
    let code = app.first_run_is_due().await?.then(|| app.first_code());
    paper::print(&told(args, address, &place, code));
    let listening = Listening { listener, encryption, limits: Limits::default() };
    serve_at(&app, listening, stop).await.map_err(|error| Failure::could(error.to_string(), "start it again"))
}

fn log(name: LogName) -> Log {
    match name {
        LogName::Quiet => Log::Quiet,
        LogName::Text => Log::Text,
        LogName::Json => Log::Json,
    }
}

/// What encrypts, where certificate and key are given; they are read again at each hang-up signal.
fn encryption(args: &ServeArgs) -> Result<Option<Arc<Encryption>>, Failure> {
    let (Some(certificate), Some(key)) = (args.certificate.clone(), args.key.clone()) else { return Ok(None) };
    let wrong = |error: toothsayer_pages::EncryptionError| {
        Failure::could(error.to_string(), "give the certificate and its own private key as PEM files")
    };
    let encryption = Arc::new(Encryption::read(CertificateFiles { certificate, key }).map_err(wrong)?);
    let known = encryption.clone();
    at_each_hang_up(move || match known.read_again() {
        Ok(()) => tell("the certificate was read again\n"),
        Err(error) => tell(&format!("{error}; the one that was read before stays\n")),
    })?;
    Ok(Some(encryption))
}

/// Where the pages are, and what is to be minded.
fn told(args: &ServeArgs, address: SocketAddr, place: &Place, code: Option<&str>) -> String {
    let scheme = if args.certificate.is_some() { "https" } else { "http" };
    let local =
        if address.ip().is_unspecified() { format!("127.0.0.1:{}", address.port()) } else { address.to_string() };
    let mut text = format!("The bench pages: {scheme}://{local}/\nThe records: {place}\n");
    if let Some(code) = code {
        text.push_str(&format!("First run: make the owner's account at {scheme}://{local}/first-run?code={code}\n"));
    }
    if !address.ip().is_loopback() && !args.https && args.certificate.is_none() {
        text.push_str(
            "note: others reach these pages without encryption, and can read what is sent. Give --certificate and --key,\n\
             or put a proxy that does the encryption before them and give --https: docs/operations.md.\n",
        );
    }
    text.push_str("Ctrl-C ends it.\n");
    text
}
