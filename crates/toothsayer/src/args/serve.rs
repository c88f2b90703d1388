//! What may be typed about serving the bench pages.

use super::records::Kept;
use clap::{Args, ValueEnum};
use std::net::SocketAddr;
use std::path::PathBuf;

/// The example's job, with or without the pages.
#[derive(Debug, Args)]
pub struct DemoArgs {
    /// Print the job and end, without serving the pages; --json never serves
    #[arg(long)]
    pub no_serve: bool,
}

/// How the pages are served.
#[derive(Debug, Args)]
pub struct ServeArgs {
    /// Where to listen; 0.0.0.0:7878 is every network that the machine is in
    #[arg(long, value_name = "ADDRESS", default_value = "127.0.0.1:7878")]
    pub listen: SocketAddr,
    /// A name under which browsers reach the pages; again for each
    #[arg(long, value_name = "NAME")]
    pub host: Vec<String>,
    #[command(flatten)]
    pub kept: Kept,
    /// Encrypt with this certificate, as PEM; a hang-up signal (SIGHUP) reads it again
    #[arg(long, value_name = "FILE", requires = "key")]
    pub certificate: Option<PathBuf>,
    /// The certificate's private key, as PEM
    #[arg(long, value_name = "FILE", requires = "certificate")]
    pub key: Option<PathBuf>,
    /// Browsers reach the pages by https alone, through a proxy: cookies go no other way
    #[arg(long, conflicts_with = "certificate")]
    pub https: bool,
    /// What is told of requests on standard error
    #[arg(long, value_enum, default_value = "quiet")]
    pub log: LogName,
}

/// What is told of requests.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum LogName {
    /// Those that could not be answered
    Quiet,
    /// Each, as a line of text
    Text,
    /// Each, as a line of JSON
    Json,
}
