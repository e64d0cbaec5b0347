//! What every answer says to the browser, whatever it is.

use std::sync::Arc;

use axum::extract::Request;
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HeaderName, HeaderValue, REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS,
};
use axum::middleware::Next;
use axum::response::Response;

use crate::web::cookies;
use crate::web::theme::Theme;
use crate::web::turned::Turned;

/// Nothing but our own files, no code in a page, nobody's frame, no form that leads elsewhere.
const POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; font-src 'self'; img-src 'self' data:; \
                      connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Adds them. A page is never stored; only the files of the house say otherwise for themselves.
pub(super) async fn headers(request: Request, next: Next) -> Response {
    let theme = Theme::read(cookies::value(request.headers(), Theme::COOKIE).as_deref());
    let mut response = next.run(request).await;
    if let Some(turned) = response.extensions_mut().remove::<Arc<Turned>>() {
        response = turned.page(theme);
    }
    let all = response.headers_mut();
    for (name, value) in [
        (CONTENT_SECURITY_POLICY, POLICY),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        // `no-referrer` would make a browser write `Origin: null` on our own forms, and no form could be told from a foreign one.
        (REFERRER_POLICY, "same-origin"),
        (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
        (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    ] {
        all.insert(name, HeaderValue::from_static(value));
    }
    all.entry(CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
}
