//! A stream that gives up where the other end takes nothing for too long, so that nobody holds an answer for ever.

use std::future::Future;
use std::io::{Error, ErrorKind, IoSlice, Result};
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::time::{Sleep, sleep};

/// A stream with its patience.
pub(super) struct Patient<S> {
    stream: S,
    longest: Duration,
    /// Runs while something is ready and not taken.
    waiting: Option<Pin<Box<Sleep>>>,
}

impl<S: AsyncWrite + Unpin> Patient<S> {
    /// Waits so long for the other end to take something.
    pub(super) fn new(stream: S, longest: Duration) -> Self {
        Self { stream, longest, waiting: None }
    }

    /// What a write came to: as it is where it went on, an error where it has stood still for too long.
    fn watched<T>(&mut self, context: &mut Context<'_>, written: Poll<Result<T>>) -> Poll<Result<T>> {
        if written.is_ready() {
            self.waiting = None;
            return written;
        }
        let longest = self.longest;
        let waiting = self.waiting.get_or_insert_with(|| Box::pin(sleep(longest)));
        waiting.as_mut().poll(context).map(|()| Err(Error::new(ErrorKind::TimedOut, "nobody takes the answer")))
    }
}

impl<S: AsyncRead + Unpin> AsyncRead for Patient<S> {
    fn poll_read(mut self: Pin<&mut Self>, context: &mut Context<'_>, into: &mut ReadBuf<'_>) -> Poll<Result<()>> {
        Pin::new(&mut self.stream).poll_read(context, into)
    }
}

impl<S: AsyncWrite + Unpin> AsyncWrite for Patient<S> {
    fn poll_write(mut self: Pin<&mut Self>, context: &mut Context<'_>, bytes: &[u8]) -> Poll<Result<usize>> {
        let written = Pin::new(&mut self.stream).poll_write(context, bytes);
        self.watched(context, written)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        pieces: &[IoSlice<'_>],
    ) -> Poll<Result<usize>> {
        let written = Pin::new(&mut self.stream).poll_write_vectored(context, pieces);
        self.watched(context, written)
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Result<()>> {
        let flushed = Pin::new(&mut self.stream).poll_flush(context);
        self.watched(context, flushed)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Result<()>> {
        let shut = Pin::new(&mut self.stream).poll_shutdown(context);
        self.watched(context, shut)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tokio::io::{AsyncReadExt, AsyncWriteExt, duplex};

    /// Bytes that fit between the two ends.
    const ROOM: usize = 8;
    /// Long enough for a busy machine to take a byte, short enough for a test.
    const PATIENCE: Duration = Duration::from_millis(300);

    fn wait<T>(future: impl Future<Output = T>) -> T {
        tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(future)
    }

    #[test]
    fn an_answer_that_nobody_takes_is_given_up() {
        wait(async {
            let (near, _far) = duplex(ROOM);
            let error = Patient::new(near, PATIENCE).write_all(&[0; 4 * ROOM]).await.unwrap_err();
            assert_eq!(error.kind(), ErrorKind::TimedOut);
        });
    }

    #[test]
    fn an_answer_that_is_taken_slowly_arrives() {
        wait(async {
            let (near, mut far) = duplex(ROOM);
            let mut near = Patient::new(near, PATIENCE);
            let taken = tokio::spawn(async move {
                let mut piece = [0; ROOM];
                for _ in 0..4 {
                    sleep(PATIENCE / 3).await;
                    far.read_exact(&mut piece).await.unwrap();
                }
            });
            near.write_all(&[0; 4 * ROOM]).await.unwrap();
            taken.await.unwrap();
        });
    }
}
