//! A picture that comes into the folder: it is written as it arrives and never held whole.

use std::io::{BufRead, BufReader, Read, Write as _};
use std::path::{Path, PathBuf};
use std::pin::Pin;
use std::sync::Arc;
use std::time::Duration;

use axum::body::{Body, Bytes, HttpBody as _};
use axum::extract::Request;
use axum::http::StatusCode;
use axum::http::header::{CONTENT_LENGTH, CONTENT_TYPE};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use handcoat_work::negative::why_unwritable;
use tokio::sync::{Semaphore, mpsc};

use super::knock::one;
use super::multipart;
use super::posted::Posted;
use crate::web::desk::Desk;
use crate::web::fields::Fields;
use crate::web::pictures;
use crate::web::turned::Turned;

/// Where a picture is sent to, or a scan.
pub(super) const ADDRESSES: [&str; 3] = ["/negative/upload", "/tone/read/upload", "/expose/wedge/scan/upload"];
/// The largest picture that is taken: more than the largest whose header is.
pub(crate) const MOST: u64 = 8 << 30;
/// How long the next piece may take.
const PATIENCE: Duration = Duration::from_secs(15);
/// So many bytes come in each such time at least, or who sends gives way: pieces of a byte would else hold a place for good.
const LEAST: u64 = 64 << 10;
const LEAST_IN: Duration = Duration::from_secs(20);
/// How long one waits for a place: longer than somebody silent holds one.
const PATIENCE_FOR_PLACE: Duration = Duration::from_secs(20);
/// What stays free on the disk beside a picture that comes: room for the book.
const LEFT_FREE: u64 = 256 << 20;
/// Pieces that wait to be written.
const WAITING: usize = 4;
/// Of the answers before the file, and of the head of each part.
const MOST_ANSWER: usize = 4096;
const MOST_PARTS: usize = 16;

/// Pictures that come in at once.
static COMING: Semaphore = Semaphore::const_new(4);

/// Why it was not taken.
type No = (StatusCode, &'static str, String);

/// Takes one in; the page then knows under which name.
pub(super) async fn upload(desk: Arc<Desk>, mut request: Request, next: Next) -> Response {
    let said = one(request.headers(), &CONTENT_TYPE).ok().flatten().unwrap_or_default();
    let Some(boundary) = multipart::boundary(said) else {
        let because = "Only the forms of these pages are read, and this is none.";
        return turned_away((StatusCode::UNSUPPORTED_MEDIA_TYPE, "body_unreadable", because.into()));
    };
    // What it says of its length is believed only to refuse it.
    let length = one(request.headers(), &CONTENT_LENGTH).ok().flatten();
    let length = length.and_then(|own| std::str::from_utf8(own).ok()?.parse::<u64>().ok()).unwrap_or(0);
    if length > MOST {
        return turned_away(too_large());
    }
    if let Some(no) = no_room(&desk, length) {
        return turned_away(no);
    }
    let Ok(Ok(_room)) = tokio::time::timeout(PATIENCE_FOR_PLACE, COMING.acquire()).await else {
        let because = "Other pictures are being sent, and no more are taken at once.";
        return turned_away((StatusCode::SERVICE_UNAVAILABLE, "uploads_many", because.into()));
    };
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
        (Err((_, "body_unreadable", _)), Err(no)) | (Err(no), _) | (Ok(_), Err(no)) => turned_away(no),
    }
}

/// The page for what was not taken. What came of it is gone again; the book was not touched.
fn turned_away((status, code, because): No) -> Response {
    Turned::new(status, code, "The picture was not taken")
        .because(format!("{because} What came of it is gone again, and the book is as it was."))
        .next("Go back, load the page again, and send it again.".into())
        .into_response()
}

/// Why a picture of that length has no room on the disk, where it has none.
fn no_room(desk: &Desk, length: u64) -> Option<No> {
    // A folder that is not made yet lies where its book does.
    let folder = desk.pictures().ancestors().find(|own| own.is_dir())?;
    let free = free_bytes(folder)?;
    (free < length.saturating_add(LEFT_FREE)).then(|| {
        let mega = |own: u64| own.div_ceil(1_000_000);
        let because = format!(
            "The disk of {} has {} MB free; the picture has {} MB, and {} MB stay free beside it. Make room there, or put the pictures elsewhere with --pictures.",
            desk.pictures().display(),
            free / 1_000_000,
            mega(length),
            mega(LEFT_FREE)
        );
        (StatusCode::INSUFFICIENT_STORAGE, "disk_full", because)
    })
}

/// Bytes that we may still write where a folder lies; none where the system does not say.
#[cfg(unix)]
fn free_bytes(folder: &Path) -> Option<u64> {
    let own = rustix::fs::statvfs(folder).ok()?;
    own.f_bavail.checked_mul(own.f_frsize)
}

#[cfg(not(unix))]
fn free_bytes(_folder: &Path) -> Option<u64> {
    None
}

/// Hands on what arrives, piece by piece.
async fn feed(mut body: Body, send: mpsc::Sender<Bytes>) -> Result<(), No> {
    let mut all = 0;
    let (mut since, mut before) = (tokio::time::Instant::now(), 0);
    let slow = || (StatusCode::REQUEST_TIMEOUT, "body_slow", "It took too long to arrive.".to_owned());
    loop {
        if since.elapsed() >= LEAST_IN {
            if all - before < LEAST {
                return Err(slow());
            }
            (since, before) = (tokio::time::Instant::now(), all);
        }
        let piece = std::future::poll_fn(|cx| Pin::new(&mut body).poll_frame(cx));
        let Ok(piece) = tokio::time::timeout(PATIENCE, piece).await else {
            return Err(slow());
        };
        match piece {
            None => return Ok(()),
            Some(Err(_)) => return Err(broken()),
            Some(Ok(frame)) => {
                let Ok(bytes) = frame.into_data() else { continue };
                all += bytes.len() as u64;
                // Whoever writes stopped listening: the reason comes from there.
                if all > MOST {
                    return Err(too_large());
                }
                if send.send(bytes).await.is_err() {
                    return Err(broken());
                }
            }
        }
    }
}

fn broken() -> No {
    (StatusCode::BAD_REQUEST, "body_unreadable", "It broke off, or its parts cannot be told apart.".into())
}

fn without_name() -> No {
    let because = "A file was sent without a name; one ends in .tif, .tiff, .png, .jpg or .jpeg.";
    (StatusCode::BAD_REQUEST, "picture_name_unknown", because.into())
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
    let mut came: Option<Unfinished> = None;
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
        let is_file = file.is_some();
        match file.filter(|own| !own.is_empty()) {
            Some(own) if came.is_none() => {
                sealed(desk, &answers)?;
                came = Some(keep(desk, &own, &mut from, boundary)?);
            }
            own => {
                // A form in which no file was chosen has an empty one without a name.
                let nameless = own.is_none() && is_file;
                let mut value = Vec::new();
                through(&mut from, boundary, &mut |own| {
                    value.extend(own);
                    if nameless && !value.is_empty() {
                        return Err(without_name());
                    }
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
            let name = came.map(|own| own.settle(desk)).transpose()?;
            if let Some(came) = &name {
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

/// A file that came and has no name yet; gone again unless it gets one.
struct Unfinished {
    path: PathBuf,
    name: String,
}

impl Drop for Unfinished {
    fn drop(&mut self) {
        // Of what has its name by now there is nothing to take away.
        let _ = std::fs::remove_file(&self.path);
    }
}

impl Unfinished {
    /// Its name, once all of the form is there.
    fn settle(self, desk: &Desk) -> Result<String, No> {
        let folder = desk.pictures();
        pictures::settle(&self.path, folder, &self.name).map_err(|error| unwritten(folder, &error))
    }
}

fn unwritten(path: &Path, error: &std::io::Error) -> No {
    let because = format!("{} could not be written: {}.", path.display(), why_unwritable(error));
    (StatusCode::SERVICE_UNAVAILABLE, "file_unwritable", because)
}

/// Writes the file, under no name that is listed.
fn keep(desk: &Desk, named: &str, from: &mut impl BufRead, boundary: &str) -> Result<Unfinished, No> {
    let folder = desk.pictures();
    let name = pictures::clean(named).ok_or_else(|| {
        let because = format!("“{named}” is named as no picture; one ends in .tif, .tiff, .png, .jpg or .jpeg.");
        (StatusCode::BAD_REQUEST, "picture_name_unknown", because)
    })?;
    std::fs::create_dir_all(folder).map_err(|error| unwritten(folder, &error))?;
    let path = folder.join(format!(".coming-{}", crate::web::key("in").map_err(|_| broken())?));
    let mut file = std::fs::File::create_new(&path).map_err(|error| unwritten(&path, &error))?;
    let own = Unfinished { path, name };
    through(from, boundary, &mut |bytes| file.write_all(bytes).map_err(|error| unwritten(&own.path, &error)))?;
    file.sync_all().map_err(|error| unwritten(&own.path, &error))?;
    Ok(own)
}
