//! A request that is turned away before a page sees it: a plain page with the reason and the next step.

use std::sync::Arc;

use axum::http::StatusCode;
use axum::http::header::{CONTENT_TYPE, HeaderValue, RETRY_AFTER};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};

use super::fields::Fields;
use super::frame;
use super::secret::{self, Secret};
use super::theme::Theme;

/// Why somebody is turned away.
pub(crate) struct Turned {
    status: StatusCode,
    code: &'static str,
    title: &'static str,
    because: String,
    next: String,
    again: Option<Markup>,
}

impl Turned {
    /// With a status, a stable code and a title.
    pub(crate) fn new(status: StatusCode, code: &'static str, title: &'static str) -> Self {
        Self { status, code, title, because: String::new(), next: String::new(), again: None }
    }

    /// What happened.
    pub(crate) fn because(self, because: String) -> Self {
        Self { because, ..self }
    }

    /// What to do.
    pub(crate) fn next(self, next: String) -> Self {
        Self { next, ..self }
    }

    /// With what was sent, to be looked at and sent again under a fresh key: nothing that was typed is lost.
    pub(crate) fn sending_again(self, path: &str, fields: &Fields, secret: &Secret) -> Self {
        let Ok(key) = secret::key("page") else { return self };
        let typed: Vec<(&str, &str)> = fields.pairs().filter(|(name, _)| !matches!(*name, "token" | "key")).collect();
        let again = html! {
            form method="post" action=(path) {
                input type="hidden" name="token" value=(secret.text());
                input type="hidden" name="key" value=(key);
                @for (name, value) in &typed { input type="hidden" name=(name) value=(value); }
                @if !typed.is_empty() {
                    dl.facts { @for (name, value) in &typed { dt { (name.replace('_', " ")) } dd { (value) } } }
                }
                button type="submit" { "Send it again" }
            }
        };
        Self { again: Some(again), ..self }
    }
}

impl Turned {
    /// Its page and what is said about it, lit as the device wants it: no white page in a darkroom.
    pub(crate) fn page(&self, theme: Theme) -> Response {
        let body = html! {
            h1 { (self.title) }
            p { (self.because) }
            p { (self.next) }
            @if let Some(again) = &self.again { (again) }
            p.code { (self.code) }
        };
        let page = frame::bare(self.title, theme, &body).into_string();
        let mut response = (self.status, [(CONTENT_TYPE, "text/html; charset=utf-8")], page).into_response();
        if matches!(self.status, StatusCode::SERVICE_UNAVAILABLE | StatusCode::TOO_MANY_REQUESTS) {
            response.headers_mut().insert(RETRY_AFTER, HeaderValue::from_static("60"));
        }
        response
    }
}

/// Not a page yet: the outermost layer knows the theme and makes it one.
impl IntoResponse for Turned {
    fn into_response(self) -> Response {
        let mut response = self.status.into_response();
        response.extensions_mut().insert(Arc::new(self));
        response
    }
}
