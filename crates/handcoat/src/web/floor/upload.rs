//! A picture that comes into the folder: it is written as it arrives and never held whole.

use std::io::{BufRead, BufReader, Read, Write as _};
use std::path::Path;
use std::pin::Pin;
use std::sync::Arc;
use std::time::Duration;

use axum::body::{Body, Bytes, HttpBody as _};
use axum::extract::Request;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::middleware::Next;
use axum::response::Response;
use tokio::sync::{Semaphore, mpsc};

use super::knock::one;
use super::multipart;
use super::posted::{Posted, turned};
use crate::web::desk::Desk;
use crate::web::fields::Fields;
use crate::web::pictures;

/// Where a picture is sent to, or a scan.
pub(super) const ADDRESSES: [&str; 2] = ["/negative/upload", "/tone/read/upload"];
/// The largest picture that is taken: more than the largest whose header is.
pub(crate) const MOST: u64 = 8 << 30;
/// How long the next piece may take.
const PATIENCE: Duration = Duration::from_secs(30);
/// Pieces that wait to be written.
const WAITING: usize = 4;
/// Of the answers before the file, and of the head of each part.
const MOST_ANSWER: usize = 4096;
const MOST_PARTS: usize = 8;

/// Pictures that come in at once.
static COMING: Semaphore = Semaphore::const_new(2);

/// Why it was not taken.
type No = (StatusCode, &'static str, String);

/// Takes one in; the page then knows under which name.
pub(super) async fn upload(desk: Arc<Desk>, mut request: Request, next: Next) -> Response {
    let said = one(request.headers(), &CONTENT_TYPE).ok().flatten().unwrap_or_default();
    let Some(boundary) = multipart::boundary(said) else {
        let because = "Only the forms of these pages are read, and this is none.";
        return turned(StatusCode::UNSUPPORTED_MEDIA_TYPE, "body_unreadable", because);
    };
    // Never closed.
    let _room = COMING.acquire().await.ok();
    let body = std::mem::take(request.body_mut());
    let (send, receive) = mpsc::channel(WAITING);
    let written = tokio::task::spawn_blocking(move || take(&desk, &boundary, receive));
    let fed = feed(body, send).await;
    let taken = written.await.unwrap_or_else(|_| Err(broken()));
    match (taken, fed) {
        (Ok(fields), Ok(())) => {
            request.extensions_mut().insert(Posted(fields, None));
            next.run(request).await
        }
        // What is told is what the file met with, or else what the network did.
        (Err(no), _) | (Ok(_), Err(no)) => turned(no.0, no.1, &no.2),
    }
}

/// Hands on what arrives, piece by piece.
async fn feed(mut body: Body, send: mpsc::Sender<Bytes>) -> Result<(), No> {
    let mut all = 0;
    loop {
        let piece = std::future::poll_fn(|cx| Pin::new(&mut body).poll_frame(cx));
        let Ok(piece) = tokio::time::timeout(PATIENCE, piece).await else {
            return Err((StatusCode::REQUEST_TIMEOUT, "body_slow", "It took too long to arrive.".into()));
        };
        match piece {
            None => return Ok(()),
            Some(Err(_)) => return Err(broken()),
            Some(Ok(frame)) => {
                let Ok(bytes) = frame.into_data() else { continue };
                all += bytes.len() as u64;
                // Whoever writes stopped listening: the reason comes from there.
                if all > MOST || send.send(bytes).await.is_err() {
                    return Err(too_large());
                }
            }
        }
    }
}

fn broken() -> No {
    (StatusCode::BAD_REQUEST, "body_unreadable", "It broke off, or its parts cannot be told apart.".into())
}

fn too_large() -> No {
    (StatusCode::PAYLOAD_TOO_LARGE, "body_too_large", format!("The picture has more than {} GiB.", MOST >> 30))
}

/// What arrives, as something to read.
struct Arriving {
    pieces: mpsc::Receiver<Bytes>,
    piece: Bytes,
}

impl Read for Arriving {
    fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
        while self.piece.is_empty() {
            match self.pieces.blocking_recv() {
                Some(piece) => self.piece = piece,
                None => return Ok(0),
            }
        }
        let most = self.piece.len().min(into.len());
        let piece = self.piece.split_to(most);
        // OK because the piece was cut to what there is room for.
        into[..most].copy_from_slice(&piece);
        Ok(most)
    }
}

/// Reads the form: its answers first, then the file, which is written under a name of its own until it is whole.
fn take(desk: &Desk, boundary: &str, pieces: mpsc::Receiver<Bytes>) -> Result<Fields, No> {
    let mut from = BufReader::with_capacity(1 << 18, Arriving { pieces, piece: Bytes::new() });
    let line = format!("--{boundary}");
    if line_of(&mut from)? != line.as_bytes() {
        return Err(broken());
    }
    let mut answers: Vec<(String, String)> = Vec::new();
    let mut came = None;
    for _ in 0..MOST_PARTS {
        let mut head = String::new();
        loop {
            let own = line_of(&mut from)?;
            if own.is_empty() {
                break;
            }
            head.push_str(std::str::from_utf8(&own).map_err(|_| broken())?);
            head.push('\n');
        }
        let (name, file) = multipart::disposition(&head).ok_or_else(broken)?;
        match file.filter(|own| !own.is_empty()) {
            Some(own) if came.is_none() => {
                sealed(desk, &answers)?;
                came = Some(keep(desk, &own, &mut from, boundary)?);
            }
            _ => {
                let mut value = Vec::new();
                through(&mut from, boundary, &mut |own| {
                    value.extend(own);
                    if value.len() > MOST_ANSWER { Err(broken()) } else { Ok(()) }
                })?;
                answers.push((name, String::from_utf8_lossy(&value).into_owned()));
            }
        }
        let end = line_of(&mut from)?;
        if end == b"--" {
            sealed(desk, &answers)?;
            let mut pairs: Vec<(&str, &str)> =
                answers.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
            if let Some(came) = &came {
                pairs.retain(|own| own.0 != "picture");
                pairs.push(("picture", came));
            }
            return Ok(Fields::of(&pairs));
        }
        if !end.is_empty() {
            return Err(broken());
        }
    }
    Err(broken())
}

/// The token and the key come before the file: nothing is written for a form that is not ours.
fn sealed(desk: &Desk, answers: &[(String, String)]) -> Result<(), No> {
    let of = |name: &str| answers.iter().find(|own| own.0 == name).map(|own| own.1.as_str()).unwrap_or_default();
    if !desk.form_secret.is(of("token")) {
        let because = "The page is from before the program was started again. A picture is not kept by a page.";
        return Err((StatusCode::FORBIDDEN, "form_token_stale", because.into()));
    }
    if of("key").is_empty() {
        let because = "It has no key that would keep it from being done twice.";
        return Err((StatusCode::BAD_REQUEST, "form_key_missing", because.into()));
    }
    Ok(())
}

/// A line of a head, without its end.
fn line_of(from: &mut impl BufRead) -> Result<Vec<u8>, No> {
    let mut line = Vec::new();
    from.take(MOST_ANSWER as u64).read_until(b'\n', &mut line).map_err(|_| broken())?;
    // The last line of all ends with the body.
    let own = line.strip_suffix(b"\r\n").or_else(|| (line == b"--").then_some(line.as_slice()));
    own.map(<[u8]>::to_vec).ok_or_else(broken)
}

/// Hands on what stands before the next line of dashes, and reads that line away.
fn through(from: &mut impl BufRead, boundary: &str, see: &mut dyn FnMut(&[u8]) -> Result<(), No>) -> Result<(), No> {
    let mark = format!("\r\n--{boundary}");
    let mark = mark.as_bytes();
    // What may be the beginning of the mark is held back until more is known.
    let mut held: Vec<u8> = Vec::new();
    loop {
        let room = from.fill_buf().map_err(|_| broken())?;
        if room.is_empty() {
            return Err(broken());
        }
        let (old, read) = (held.len(), room.len());
        held.extend_from_slice(room);
        if let Some(at) = multipart::find(&held, mark) {
            see(held.get(..at).unwrap_or_default())?;
            from.consume(at + mark.len() - old);
            return Ok(());
        }
        from.consume(read);
        let sure = held.len().saturating_sub(mark.len());
        see(held.get(..sure).unwrap_or_default())?;
        held.drain(..sure);
    }
}

/// Writes the file and gives it its name.
fn keep(desk: &Desk, named: &str, from: &mut impl BufRead, boundary: &str) -> Result<String, No> {
    let folder = desk.pictures();
    let name = pictures::clean(named).ok_or_else(|| {
        let because = format!("“{named}” is named as no picture; one ends in .tif, .tiff, .png, .jpg or .jpeg.");
        (StatusCode::BAD_REQUEST, "picture_name_unknown", because)
    })?;
    let written = |path: &Path, error: &std::io::Error| {
        let because = format!("{} could not be written: {error}.", path.display());
        (StatusCode::SERVICE_UNAVAILABLE, "file_unwritable", because)
    };
    std::fs::create_dir_all(folder).map_err(|error| written(folder, &error))?;
    let unfinished = folder.join(format!(".coming-{}", crate::web::key("in").map_err(|_| broken())?));
    let mut file = std::fs::File::create_new(&unfinished).map_err(|error| written(&unfinished, &error))?;
    let whole = through(from, boundary, &mut |own| file.write_all(own).map_err(|error| written(&unfinished, &error)))
        .and_then(|()| file.sync_all().map_err(|error| written(&unfinished, &error)))
        .and_then(|()| pictures::settle(&unfinished, folder, &name).map_err(|error| written(folder, &error)));
    if whole.is_err() {
        let _ = std::fs::remove_file(&unfinished);
    }
    whole
}
