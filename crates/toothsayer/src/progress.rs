//! Progress on standard error, for work of more than a second before a person.

use std::io::{IsTerminal, Write};
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// Nothing is told before this has passed.
const PATIENCE: Duration = Duration::from_secs(1);

/// A line that tells how far the work is; silent where nobody looks.
pub struct Progress {
    started: Instant,
    watched: bool,
    told: Mutex<bool>,
}

impl Progress {
    /// Begins to count.
    pub fn new() -> Self {
        Self { started: Instant::now(), watched: std::io::stderr().is_terminal(), told: Mutex::new(false) }
    }

    /// Told after each piece of work.
    pub fn tell(&self, done: u32, of: u32) {
        if !self.watched || self.started.elapsed() < PATIENCE {
            return;
        }
        if let Ok(mut told) = self.told.lock() {
            eprint!("\r{done} of {of} ");
            let _ = std::io::stderr().flush();
            *told = true;
        }
    }

    /// Takes the line away.
    pub fn finish(&self) {
        if self.told.lock().is_ok_and(|told| *told) {
            eprint!("\r{:40}\r", "");
        }
    }
}
