//! What a form sent: read whole within its bounds, its token and key looked at before a page sees it.

use std::sync::Arc;
use std::time::Duration;

use axum::body::to_bytes;
use axum::extract::{Request, State};
use axum::http::header::CONTENT_TYPE;
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::knock::one;
use crate::web::desk::Desk;
use crate::web::fields::Fields;
use crate::web::turned::Turned;

/// The largest form of the house has some thirty short answers.
const MOST_BYTES: usize = 64 * 1024;

/// How long a body may take.
const PATIENCE: Duration = Duration::from_secs(10);

/// The answers of a form whose token and key are sound.
#[derive(Clone, Debug)]
pub(crate) struct Posted(pub(crate) Fields);

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
    let kind = one(request.headers(), &CONTENT_TYPE).ok().flatten().unwrap_or_default();
    let kind = kind.split(|byte| *byte == b';').next().unwrap_or_default().trim_ascii();
    if !kind.eq_ignore_ascii_case(b"application/x-www-form-urlencoded") {
        let because = "Only the forms of these pages are read, and this is none.";
        return turned(StatusCode::UNSUPPORTED_MEDIA_TYPE, "body_unreadable", because);
    }
    let body = std::mem::take(request.body_mut());
    let Ok(read) = tokio::time::timeout(PATIENCE, to_bytes(body, MOST_BYTES)).await else {
        return turned(StatusCode::REQUEST_TIMEOUT, "body_slow", "It took too long to arrive.");
    };
    let Ok(bytes) = read else {
        return turned(StatusCode::PAYLOAD_TOO_LARGE, "body_too_large", "It broke off, or is longer than 64 KiB.");
    };
    let fields = Fields::read(&bytes);
    // Who is not let in yet has seen the pairing page only; its token opens nothing else.
    let secret = if request.uri().path() == "/pair" { &desk.pairing_secret } else { &desk.form_secret };
    if !secret.is(fields.get("token").unwrap_or_default()) {
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
    request.extensions_mut().insert(Posted(fields));
    next.run(request).await
}
