//! The system's signals to who serves: to end, and to read files again.

use crate::failure::Failure;
use std::future::Future;
use std::pin::Pin;
use std::sync::Arc;
use tokio::sync::Notify;

type Heard = Pin<Box<dyn Future<Output = ()> + Send>>;

/// Listens from here on to Ctrl-C and to the system's signal to end; what it answers waits for the first of them.
pub fn stop() -> Result<impl Future<Output = ()>, Failure> {
    let told = Arc::new(Notify::new());
    for heard in ends().map_err(unheard)? {
        let told = told.clone();
        tokio::spawn(async move {
            heard.await;
            told.notify_one();
        });
    }
    Ok(async move { told.notified().await })
}

fn unheard(error: std::io::Error) -> Failure {
    Failure::could(format!("no signal can be listened to: {error}"), "")
}

#[cfg(unix)]
fn ends() -> std::io::Result<Vec<Heard>> {
    use tokio::signal::unix::{SignalKind, signal};
    let heard = |kind| {
        let mut signal = signal(kind)?;
        let heard: Heard = Box::pin(async move {
            signal.recv().await;
        });
        Ok(heard)
    };
    [SignalKind::interrupt(), SignalKind::terminate()].into_iter().map(heard).collect()
}

#[cfg(windows)]
fn ends() -> std::io::Result<Vec<Heard>> {
    let mut interrupted = tokio::signal::windows::ctrl_c()?;
    Ok(vec![Box::pin(async move {
        interrupted.recv().await;
    })])
}

/// Does this at each hang-up signal (SIGHUP), where the system has one.
#[cfg(unix)]
pub fn at_each_hang_up(act: impl Fn() + Send + 'static) -> Result<(), Failure> {
    use tokio::signal::unix::{SignalKind, signal};
    let mut hang_up = signal(SignalKind::hangup()).map_err(unheard)?;
    tokio::spawn(async move {
        while hang_up.recv().await.is_some() {
            act();
        }
    });
    Ok(())
}

/// Does nothing: this system has no such signal.
#[cfg(windows)]
pub fn at_each_hang_up(_act: impl Fn() + Send + 'static) -> Result<(), Failure> {
    Ok(())
}
