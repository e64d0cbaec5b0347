//! Who may come in at all: by the name they call us, by method, by where they come from, by the device they hold.

use std::sync::Arc;

use axum::extract::{Request, State};
use axum::http::header::{HOST, HeaderMap, HeaderName, ORIGIN};
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};

use super::Peer;
use crate::web::cookies;
use crate::web::desk::Desk;
use crate::web::turned::Turned;
use crate::web::{assets, secret};

/// The device a request comes from: its name as it stands in the book.
#[derive(Clone, Debug)]
pub(crate) struct Device(pub(crate) String);

/// The one value of a header; `Err` when it is there more than once.
pub(super) fn one<'a>(headers: &'a HeaderMap, name: &HeaderName) -> Result<Option<&'a [u8]>, ()> {
    let mut values = headers.get_all(name).iter();
    match (values.next(), values.next()) {
        (found, None) => Ok(found.map(|value| value.as_bytes())),
        _ => Err(()),
    }
}

/// The `Host`, and the name in the request line where there is one, must be ours.
pub(super) async fn host(State(desk): State<Arc<Desk>>, request: Request, next: Next) -> Response {
    let named = request.uri().authority().map(|own| own.as_str().as_bytes());
    match one(request.headers(), &HOST) {
        Ok(Some(host)) if desk.hosts.answers(host) && named.is_none_or(|named| named == host) => {
            next.run(request).await
        }
        Ok(Some(host)) => {
            let seen = String::from_utf8_lossy(host).into_owned();
            Turned::new(StatusCode::MISDIRECTED_REQUEST, "host_foreign", "This is not the address of this studio")
                .because(format!("The browser asked for “{seen}”, and this program answers only under its own addresses, so that no page from outside can speak in its name."))
                .next(format!("Open http://{}/ on the computer it runs on, or one of the addresses it printed when it was started with --lan. If the computer has a new address since then, start it again.", desk.hosts.first()))
                .into_response()
        }
        Ok(None) | Err(()) => {
            Turned::new(StatusCode::FORBIDDEN, "host_missing", "This request does not say whom it is for")
                .because("It carries no Host, or more than one.".into())
                .next(format!("Open http://{}/ in a browser.", desk.hosts.first()))
                .into_response()
        }
    }
}

/// Pages are read with GET (or HEAD) and changed with POST; nothing else has a meaning here.
pub(super) async fn method(request: Request, next: Next) -> Response {
    match *request.method() {
        Method::GET | Method::HEAD | Method::POST => next.run(request).await,
        _ => Turned::new(StatusCode::METHOD_NOT_ALLOWED, "method_unknown", "This is not how pages are asked for here")
            .because("Pages are read with GET and forms are sent with POST.".into())
            .next("Go back to Today.".into())
            .into_response(),
    }
}

/// What a browser says of where a request comes from: from us or from nowhere. A link on another page may be followed, because
/// reading changes nothing; it may not be loaded into that page.
pub(super) async fn comes_from(State(desk): State<Arc<Desk>>, request: Request, next: Next) -> Response {
    let headers = request.headers();
    let said = |name: &'static str| one(headers, &HeaderName::from_static(name)).map(|own| own.map(<[u8]>::to_vec));
    let post = request.method() == Method::POST;
    let follows_a_link = || {
        !post
            && said("sec-fetch-mode") == Ok(Some(b"navigate".to_vec()))
            && said("sec-fetch-dest") == Ok(Some(b"document".to_vec()))
    };
    let site_is_ours = match said("sec-fetch-site") {
        Ok(None) => true,
        Ok(Some(site)) => site == b"same-origin" || site == b"none" || follows_a_link(),
        Err(()) => false,
    };
    // The `Host` is ours by now, so its origin is our origin.
    let own = one(headers, &HOST).ok().flatten().map(|host| [b"http://", host].concat());
    let origin_is_ours = match one(headers, &ORIGIN) {
        Ok(Some(origin)) => own.as_deref() == Some(origin),
        Ok(None) => !post,
        Err(()) => false,
    };
    if site_is_ours && origin_is_ours {
        return next.run(request).await;
    }
    let code = if site_is_ours { "origin_foreign" } else { "site_foreign" };
    Turned::new(StatusCode::FORBIDDEN, code, "This did not come from a page of this studio")
        .because("Another page, or a program, sent it. Nothing was changed.".into())
        .next(format!("Open http://{}/ and do it there.", desk.hosts.first()))
        .into_response()
}

/// From another computer only a device that was paired comes further; the pairing page and the files of the house are open.
pub(super) async fn device(State(desk): State<Arc<Desk>>, mut request: Request, next: Next) -> Response {
    let local = request.extensions().get::<Peer>().copied().is_some_and(Peer::is_local);
    let path = request.uri().path();
    if local || path == "/pair" || path.starts_with(assets::FOLDER) {
        return next.run(request).await;
    }
    let token = cookies::value(request.headers(), &desk.device_cookie());
    let asked = Arc::clone(&desk);
    let known = match token {
        None => None,
        Some(token) => tokio::task::spawn_blocking(move || asked.studio().device(secret::hash(&token)))
            .await
            .ok()
            .and_then(|found| found.ok().flatten()),
    };
    match known {
        Some(name) => {
            request.extensions_mut().insert(Device(name));
            next.run(request).await
        }
        None if request.method() == Method::POST => {
            Turned::new(StatusCode::FORBIDDEN, "device_unknown", "This device is not let in")
                .because("It was never paired, or it was forgotten since. Nothing was changed.".into())
                .next("Pair it with the code from the computer the studio runs on: open /pair.".into())
                .into_response()
        }
        None => Redirect::to("/pair").into_response(),
    }
}
