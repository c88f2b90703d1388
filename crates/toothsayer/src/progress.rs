//! Progress on standard error, for work of more than a second before a person, and Ctrl-C while it lasts.

use crate::failure::tell;
use std::io::IsTerminal;
use std::process;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, Instant};

/// Nothing is told before this has passed.
const PATIENCE: Duration = Duration::from_secs(1);

/// No work is under way that could end by itself.
const IDLE: u32 = 0;
/// Work is under way that asks between its steps whether to go on.
const WORKING: u32 = 1;
/// Ctrl-C came meanwhile.
const STOPPED: u32 = 2;
/// Somebody else listens to Ctrl-C and ends what is under way.
const ELSEWHERE: u32 = 3;

/// Where the work of this program stands: the handler of Ctrl-C knows nothing else.
static STAND: AtomicU32 = AtomicU32::new(IDLE);

/// From here on Ctrl-C ends the program with a message and code 1, or asks work under way to stop.
pub fn mind_ctrl_c() {
    // Where no handler can be set, Ctrl-C ends the program as the system does it.
    let _ = ctrlc::set_handler(interrupted);
}

/// From here on Ctrl-C is no longer minded here: whoever serves ends by themselves, once what is under way is finished.
pub fn leave_ctrl_c() {
    STAND.store(ELSEWHERE, Ordering::SeqCst);
}

/// A line that tells how far the work is; silent where nobody looks.
pub struct Progress {
    started: Instant,
    watched: bool,
    told: Mutex<bool>,
}

impl Progress {
    /// Begins to count; Ctrl-C is now the wish to stop.
    pub fn new() -> Self {
        STAND.store(WORKING, Ordering::SeqCst);
        Self::at_once()
    }

    /// Begins to count for work that Ctrl-C may end at any moment without harm.
    pub fn at_once() -> Self {
        Self { started: Instant::now(), watched: std::io::stderr().is_terminal(), told: Mutex::new(false) }
    }

    /// Told after each piece of work, `most` 0 where nobody knows it; answers whether to go on.
    pub fn tell(&self, done: u32, most: u32) -> bool {
        if self.watched
            && self.started.elapsed() >= PATIENCE
            && let Ok(mut told) = self.told.lock()
        {
            let most = if most == 0 { String::new() } else { format!("of at most {most} ") };
            tell(&format!("\r{:40}\r{done} {most}", ""));
            *told = true;
        }
        STAND.load(Ordering::SeqCst) != STOPPED
    }
}

/// Takes the line away; Ctrl-C ends the program at once again.
impl Drop for Progress {
    fn drop(&mut self) {
        STAND.store(IDLE, Ordering::SeqCst);
        if self.told.lock().is_ok_and(|told| *told) {
            tell(&format!("\r{:40}\r", ""));
        }
    }
}

/// The first Ctrl-C asks the work to stop; a second one, or one where no work asks, ends the program.
fn interrupted() {
    let stand = STAND.compare_exchange(WORKING, STOPPED, Ordering::SeqCst, Ordering::SeqCst);
    if stand.is_err_and(|stand| stand != ELSEWHERE) {
        tell("\nstopped by Ctrl-C\n");
        process::exit(1);
    }
}
