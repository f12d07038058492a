//! A body that is waited for only so long between two pieces of it.

use std::error::Error;
use std::future::Future;
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;

use hyper::body::{Body, Bytes, Frame, Incoming};
use tokio::time::{Sleep, sleep};

/// How long the next piece may take.
const NEXT_PIECE: Duration = Duration::from_secs(20);

/// A body that ends with an error where its sender falls silent.
pub struct Patient {
    body: Incoming,
    silence: Pin<Box<Sleep>>,
}

impl Patient {
    /// Waits for `body`.
    pub fn new(body: Incoming) -> Self {
        Self {
            body,
            silence: Box::pin(sleep(NEXT_PIECE)),
        }
    }
}

impl Body for Patient {
    type Data = Bytes;
    type Error = Box<dyn Error + Send + Sync>;

    fn poll_frame(
        self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Self::Error>>> {
        let this = self.get_mut();
        match Pin::new(&mut this.body).poll_frame(context) {
            Poll::Ready(piece) => {
                this.silence = Box::pin(sleep(NEXT_PIECE));
                Poll::Ready(piece.map(|piece| piece.map_err(Into::into)))
            }
            Poll::Pending => match this.silence.as_mut().poll(context) {
                Poll::Ready(()) => Poll::Ready(Some(Err("the sender fell silent".into()))),
                Poll::Pending => Poll::Pending,
            },
        }
    }
}
