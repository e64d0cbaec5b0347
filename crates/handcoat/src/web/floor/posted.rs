//! What a form sent: read whole within its bounds, its token and key looked at before a page sees it.

use std::sync::Arc;
use std::time::Duration;

use axum::body::to_bytes;
use axum::extract::{Request, State};
use axum::http::header::CONTENT_TYPE;
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use tokio::sync::Semaphore;

use super::knock::one;
use super::{multipart, upload};
use crate::web::desk::Desk;
use crate::web::fields::Fields;
use crate::web::turned::Turned;

/// The largest form of the house has some sixty short answers.
const MOST_BYTES: usize = 64 * 1024;

/// A picture and the few answers around it. `work` says itself how large a picture may be; this is a little more.
const MOST_WITH_PICTURE: usize = 20 * 1024 * 1024 + MOST_BYTES;

/// How long a body may take; a picture comes over a studio's wireless network.
const PATIENCE: Duration = Duration::from_secs(10);
const PATIENCE_WITH_PICTURE: Duration = Duration::from_secs(120);

/// Pictures are held in memory while they come: so many at once and no more. Who comes third waits.
static PICTURES: Semaphore = Semaphore::const_new(2);

/// The answers of a form whose token and key are sound, and the picture that came with them.
#[derive(Clone, Debug)]
pub(crate) struct Posted(pub(crate) Fields, pub(crate) Option<Arc<[u8]>>);

/// Whether a form that is sent there may bring a picture, or a table of readings: `/print/17/photo`, `/expose/wedge`, `/tone/new`,
/// `/tone/3/verify`.
fn takes_picture(path: &str) -> bool {
    if ["/expose/wedge", "/tone/new"].contains(&path) {
        return true;
    }
    let mut parts = path.split('/').skip(1);
    let (station, numbered, what, more) = (parts.next(), parts.next().is_some(), parts.next(), parts.next());
    let takes = matches!((station, what), (Some("print"), Some("photo")) | (Some("tone"), Some("verify")));
    takes && numbered && more.is_none()
}

fn turned(status: StatusCode, code: &'static str, because: &str) -> Response {
    Turned::new(status, code, "What was sent could not be taken")
        .because(format!("{because} Nothing was changed."))
        .next("Go back, load the page again, and press the button again.".into())
        .into_response()
}

/// Takes a POST apart. Everything else goes on as it is.
pub(super) async fn posted(State(desk): State<Arc<Desk>>, mut request: Request, next: Next) -> Response {
    if request.method() != Method::POST {
        return next.run(request).await;
    }
    if upload::ADDRESSES.contains(&request.uri().path()) {
        return upload::upload(desk, request, next).await;
    }
    let said = one(request.headers(), &CONTENT_TYPE).ok().flatten().unwrap_or_default();
    let kind = said.split(|byte| *byte == b';').next().unwrap_or_default().trim_ascii();
    let boundary = if takes_picture(request.uri().path()) { multipart::boundary(said) } else { None };
    if boundary.is_none() && !kind.eq_ignore_ascii_case(b"application/x-www-form-urlencoded") {
        let because = "Only the forms of these pages are read, and this is none.";
        return turned(StatusCode::UNSUPPORTED_MEDIA_TYPE, "body_unreadable", because);
    }
    let body = std::mem::take(request.body_mut());
    let (patience, most, long) = match boundary {
        Some(_) => (PATIENCE_WITH_PICTURE, MOST_WITH_PICTURE, "It broke off, or the picture has more than 20 MB."),
        None => (PATIENCE, MOST_BYTES, "It broke off, or is longer than 64 KiB."),
    };
    // Held until the page has answered, since the picture is held as long. The semaphore is never closed.
    let _room = if boundary.is_some() { PICTURES.acquire().await.ok() } else { None };
    let Ok(read) = tokio::time::timeout(patience, to_bytes(body, most)).await else {
        return turned(StatusCode::REQUEST_TIMEOUT, "body_slow", "It took too long to arrive.");
    };
    let Ok(bytes) = read else {
        return turned(StatusCode::PAYLOAD_TOO_LARGE, "body_too_large", long);
    };
    let parts = match &boundary {
        Some(boundary) => multipart::read(&bytes, boundary),
        None => Some((Fields::read(&bytes), None)),
    };
    let Some((fields, picture)) = parts else {
        return turned(StatusCode::BAD_REQUEST, "body_unreadable", "Its parts cannot be told apart.");
    };
    // Who is not let in yet has seen the pairing page only; its token opens nothing else.
    let secret = if request.uri().path() == "/pair" { &desk.pairing_secret } else { &desk.form_secret };
    if !secret.is(fields.get("token").unwrap_or_default()) {
        if boundary.is_some() {
            let because = "The page is from before the program was started again. A picture is not kept by a page.";
            return turned(StatusCode::FORBIDDEN, "form_token_stale", because);
        }
        return Turned::new(
            StatusCode::FORBIDDEN,
            "form_token_stale",
            "This page is from before the program was started again",
        )
        .because("Its form is not valid any more. Nothing was changed, and what you wrote is below.".into())
        .next("Look at it and send it again, or go back and load the page anew.".into())
        .sending_again(request.uri().path(), &fields, secret)
        .into_response();
    }
    if fields.get("key").is_none_or(|key| key.is_empty()) {
        return turned(
            StatusCode::BAD_REQUEST,
            "form_key_missing",
            "It has no key that would keep it from being done twice.",
        );
    }
    request.extensions_mut().insert(Posted(fields, picture.map(Arc::from)));
    next.run(request).await
}
