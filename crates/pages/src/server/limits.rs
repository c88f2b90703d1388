//! What is put up with from who connects: how long they may take, and how many they may be.

use std::time::Duration;

/// Limits of the connections.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// How long a request's head may take to be there, a connection stay open between two requests, and two ends take to
    /// agree on a key.
    pub head: Duration,
    /// How long no further byte of a form or a photo may come.
    pub body: Duration,
    /// How long nobody may take any byte of an answer that is ready.
    pub stall: Duration,
    /// Connections at once; further ones wait until one is free.
    pub connections: usize,
    /// How long what is under way may take once the program is told to stop.
    pub farewell: Duration,
}

/// For a shop with a dozen devices of six connections each, some at the end of a weak Wi-Fi.
impl Default for Limits {
    fn default() -> Self {
        Self {
            head: Duration::from_secs(20),
            body: Duration::from_secs(15),
            stall: Duration::from_secs(30),
            connections: 512,
            farewell: Duration::from_secs(20),
        }
    }
}
