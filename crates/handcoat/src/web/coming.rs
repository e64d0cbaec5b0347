//! A file that is sent piece by piece, so that no negative is held in memory.

use std::fs::File;
use std::io::Read as _;
use std::path::Path;
use std::pin::Pin;
use std::task::{Context, Poll};

use axum::body::{Body, Bytes, HttpBody};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_LENGTH, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use tokio::sync::mpsc;

/// Bytes of a piece, and pieces that wait to be sent.
const PIECE: usize = 1 << 18;
const WAITING: usize = 2;

/// Pieces as they are read.
struct Coming {
    pieces: mpsc::Receiver<std::io::Result<Bytes>>,
}

impl HttpBody for Coming {
    type Data = Bytes;
    type Error = std::io::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
    ) -> Poll<Option<Result<hyper::body::Frame<Bytes>, std::io::Error>>> {
        self.pieces.poll_recv(cx).map(|own| own.map(|own| own.map(hyper::body::Frame::data)))
    }
}

/// The answer that sends a file to be kept under a name of letters we chose.
pub(super) fn file(path: &Path, name: &str, media: &str) -> std::io::Result<Response> {
    let mut file = File::open(path)?;
    let len = file.metadata()?.len();
    let (send, pieces) = mpsc::channel(WAITING);
    std::thread::Builder::new().name("sending".into()).spawn(move || {
        loop {
            let mut room = vec![0; PIECE];
            let piece = match file.read(&mut room) {
                Ok(0) => return,
                Ok(read) => {
                    room.truncate(read);
                    Ok(Bytes::from(room))
                }
                Err(error) => Err(error),
            };
            // Who went away needs no more.
            if piece.is_err() | send.blocking_send(piece).is_err() {
                return;
            }
        }
    })?;
    let plain: String =
        name.chars().map(|own| if own.is_ascii_alphanumeric() || "-_.".contains(own) { own } else { '_' }).collect();
    let said = [
        (CONTENT_TYPE, media.to_owned()),
        (CONTENT_LENGTH, len.to_string()),
        (CONTENT_DISPOSITION, format!("attachment; filename=\"{plain}\"")),
    ];
    Ok((said, Body::new(Coming { pieces })).into_response())
}
