//! The count of changes in the records, sent to open pages as it grows (server-sent events; HTML, 9.2).
//!
//! Every listener asks the records itself: the question costs less than a tenth of a millisecond, and what another
//! program writes to the same database is seen as well. The count tells of nothing but that something changed.

use crate::app::App;
use axum::extract::State;
use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::{Stream, stream};
use std::convert::Infallible;
use std::time::Duration;
use tokio::time::{Instant, sleep};
use toothsayer_records::newest_change;

/// How long a change may stay unseen.
const EVERY: Duration = Duration::from_millis(300);
/// After this a listener has to come again, so that whoever may no longer listen does not.
const LONGEST: Duration = Duration::from_secs(15 * 60);

/// What a listener knows.
struct Listener {
    app: App,
    known: Option<i64>,
    ends: Instant,
}

/// The count now, and whenever it grew.
pub(crate) async fn changes(State(app): State<App>) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let listener = Listener { app, known: None, ends: Instant::now() + LONGEST };
    let counts = stream::unfold(listener, |mut listener| async {
        let count = listener.next().await?;
        Some((Ok(Event::default().data(count.to_string())), listener))
    });
    Sse::new(counts).keep_alive(KeepAlive::default())
}

impl Listener {
    /// The next count that is news; none once it is time to end. Records that do not answer are asked again.
    async fn next(&mut self) -> Option<i64> {
        let mut ending = self.app.ending();
        while Instant::now() < self.ends {
            let now = newest_change(self.app.store()).await.ok();
            if now.is_some() && now != self.known {
                self.known = now;
                return now;
            }
            tokio::select! {
                _ = ending.wait_for(|ending| *ending) => return None,
                () = sleep(EVERY) => {}
            }
        }
        None
    }
}
