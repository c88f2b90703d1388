//! Where verdicts are computed: outside the threads that serve pages, a few at a time, and kept by what they come from.

use crate::page::trouble::Trouble;
use std::any::Any;
use std::collections::VecDeque;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex};
use tokio::sync::Semaphore;
use toothsayer_records::Picture;
use toothsayer_verdict::Memo;

/// Computations under way at once: more would only make each slower.
const AT_ONCE: usize = 2;
/// Results kept: the jobs on a bench and their last answers.
const KEPT: usize = 256;
/// Computations after which the memo of simulations begins anew, so that it does not grow for ever.
const MEMO_LASTS: usize = 200;

/// A result by what it comes from; two kinds of results may come from the same.
struct Known {
    key: String,
    result: Arc<dyn Any + Send + Sync>,
}

/// The newest results.
#[derive(Default)]
struct Kept(Mutex<VecDeque<Known>>);

impl Kept {
    fn get<T: Any + Send + Sync>(&self, key: &str) -> Option<Arc<T>> {
        let kept = self.0.lock().ok()?;
        let mut fitting = kept.iter().filter(|known| known.key == key);
        fitting.find_map(|known| known.result.clone().downcast::<T>().ok())
    }

    fn put<T: Any + Send + Sync>(&self, key: &str, result: &Arc<T>) {
        if let Ok(mut kept) = self.0.lock() {
            kept.push_front(Known { key: key.to_owned(), result: result.clone() });
            kept.truncate(KEPT);
        }
    }
}

/// A memo with how often it was used.
#[derive(Default)]
struct Memory {
    memo: Arc<Memo>,
    used: usize,
}

/// Where verdicts are computed.
pub(crate) struct Desk {
    kept: Kept,
    memory: Mutex<Memory>,
    turns: Semaphore,
    computed: AtomicU64,
    known: AtomicU64,
}

impl Default for Desk {
    fn default() -> Self {
        let turns = Semaphore::new(AT_ONCE);
        let [computed, known] = [const { AtomicU64::new(0) }; 2];
        Self { kept: Kept::default(), memory: Mutex::default(), turns, computed, known }
    }
}

impl Desk {
    /// A photo that was sent, looked through. It waits for its turn as a verdict does: a large one unfolds to hundreds
    /// of millions of bytes.
    pub(crate) async fn picture(&self, file: Vec<u8>) -> Result<Picture, Trouble> {
        let _turn = self.turns.acquire().await.map_err(|_| Trouble::Stopped)?;
        let looked = tokio::task::spawn_blocking(move || Picture::read(&file)).await.map_err(|_| Trouble::Stopped)?;
        Ok(looked?)
    }

    /// What comes from `key`, which holds all that it is computed from: known already, or computed when its turn comes.
    pub(crate) async fn computed<T: Any + Send + Sync>(
        &self,
        key: &str,
        compute: impl FnOnce(&Memo) -> Result<T, Trouble> + Send + 'static,
    ) -> Result<Arc<T>, Trouble> {
        if let Some(known) = self.kept.get(key) {
            self.known.fetch_add(1, Ordering::Relaxed);
            return Ok(known);
        }
        let _turn = self.turns.acquire().await.map_err(|_| Trouble::Stopped)?;
        // Somebody may have asked for the same and had their turn meanwhile.
        if let Some(known) = self.kept.get(key) {
            self.known.fetch_add(1, Ordering::Relaxed);
            return Ok(known);
        }
        let result = Arc::new(self.run(compute).await?);
        self.kept.put(key, &result);
        Ok(result)
    }

    /// What is too large to be kept, computed when its turn comes.
    pub(crate) async fn once<T: Send + 'static>(
        &self,
        compute: impl FnOnce(&Memo) -> Result<T, Trouble> + Send + 'static,
    ) -> Result<T, Trouble> {
        let _turn = self.turns.acquire().await.map_err(|_| Trouble::Stopped)?;
        self.run(compute).await
    }

    async fn run<T: Send + 'static>(
        &self,
        compute: impl FnOnce(&Memo) -> Result<T, Trouble> + Send + 'static,
    ) -> Result<T, Trouble> {
        self.computed.fetch_add(1, Ordering::Relaxed);
        let memo = self.memo();
        tokio::task::spawn_blocking(move || compute(&memo)).await.map_err(|_| Trouble::Stopped)?
    }

    /// How often something was computed, and how often it was known already.
    pub(crate) fn counts(&self) -> [u64; 2] {
        [&self.computed, &self.known].map(|count| count.load(Ordering::Relaxed))
    }

    fn memo(&self) -> Arc<Memo> {
        let Ok(mut memory) = self.memory.lock() else { return Arc::default() };
        memory.used += 1;
        if memory.used > MEMO_LASTS {
            *memory = Memory::default();
        }
        memory.memo.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_results_are_kept_and_no_more() {
        let kept = Kept::default();
        (0..KEPT + 3).for_each(|number| kept.put(&number.to_string(), &Arc::new(number)));
        assert_eq!(kept.get::<usize>("2"), None);
        assert_eq!(kept.get::<usize>("3").as_deref(), Some(&3));
        assert_eq!(kept.get::<String>("3"), None, "of another kind");
    }
}
