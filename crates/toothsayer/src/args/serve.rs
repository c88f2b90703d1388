//! What may be typed about serving the bench pages.

use super::records::Kept;
use clap::Args;
use std::net::SocketAddr;

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
    /// Browsers reach the pages by https alone, through a proxy: cookies go no other way
    #[arg(long)]
    pub https: bool,
}
