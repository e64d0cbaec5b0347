//! One request as a page sees it, and what a page answers.

use std::path::PathBuf;
use std::sync::{Arc, MutexGuard};
use std::time::Instant;

use axum::extract::{Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_TYPE, HeaderName, HeaderValue, LOCATION, RETRY_AFTER, SET_COOKIE,
};
use axum::http::{Method, StatusCode};
use axum::response::{IntoResponse, Response};
use handcoat_craft::session::Reading;
use handcoat_work::{Done, Moment, Refusal, RefusalKind, Studio};
use jiff::Timestamp;
use maud::Markup;

use super::cookies;
use super::desk::Desk;
use super::fields::Fields;
use super::floor::{Device, Peer, Posted};
use super::theme::Theme;
use super::turned::Turned;
use super::{coming, frame, refused, secret};
use crate::clock;

/// Asked for by the script: the parts of a page that follow the answers, without the frame.
const PART: HeaderName = HeaderName::from_static("x-handcoat-part");

/// What a page may know of the request.
pub(crate) struct Visit {
    pub(crate) desk: Arc<Desk>,
    pub(crate) path: String,
    /// The query of a GET, the answers of a POST.
    pub(crate) fields: Fields,
    pub(crate) theme: Theme,
    /// The picture that came with a form.
    pub(crate) picture: Option<Arc<[u8]>>,
    /// The browser is on the computer the program runs on.
    pub(crate) local: bool,
    /// Only the parts that follow the answers are wanted.
    pub(crate) part: bool,
    /// It is a form that was sent, and its address is no page.
    posted: bool,
    who: String,
}

impl Visit {
    fn of(desk: Arc<Desk>, request: &Request) -> Self {
        let extensions = request.extensions();
        let posted = extensions.get::<Posted>().filter(|_| request.method() == Method::POST);
        let query = || Fields::read(request.uri().query().unwrap_or_default().as_bytes());
        let device = extensions.get::<Device>().map(|Device(name)| format!("device: {name}"));
        Self {
            desk,
            path: request.uri().path().into(),
            fields: posted.map_or_else(query, |Posted(fields, _)| fields.clone()),
            picture: posted.and_then(|Posted(_, picture)| picture.clone()),
            theme: Theme::read(cookies::value(request.headers(), Theme::COOKIE).as_deref()),
            local: extensions.get::<Peer>().copied().is_some_and(Peer::is_local),
            part: request.headers().contains_key(PART),
            posted: posted.is_some(),
            who: device.unwrap_or_else(|| "page".into()),
        }
    }

    /// The book.
    pub(crate) fn studio(&self) -> MutexGuard<'_, Studio> {
        self.desk.studio()
    }

    /// A part of the path between slashes, counted from nought.
    pub(crate) fn segment(&self, place: usize) -> &str {
        self.path.split('/').filter(|part| !part.is_empty()).nth(place).unwrap_or_default()
    }

    /// Now.
    pub(crate) fn now(&self) -> Timestamp {
        clock::now()
    }

    /// The clock that codes expire by.
    pub(crate) fn instant(&self) -> Instant {
        Instant::now()
    }

    /// Both clocks, for timers and sessions.
    pub(crate) fn reading(&self) -> Reading {
        clock::reading()
    }

    /// The time on the wall where the machine stands, as `14:05`.
    pub(crate) fn time_of_day(&self) -> String {
        clock::time_of_day()
    }

    /// When and by whom the act of this form is done, under the form's key.
    pub(crate) fn moment(&self) -> Moment {
        Moment { at: self.now(), who: self.who.clone(), key: self.fields.get("key").unwrap_or_default().into() }
    }

    /// Who asks, as it stands in the book.
    pub(crate) fn who(&self) -> &str {
        &self.who
    }

    /// The token the forms of this page carry.
    pub(crate) fn token(&self) -> &str {
        let secret = if self.path == "/pair" { &self.desk.pairing_secret } else { &self.desk.form_secret };
        secret.text()
    }

    /// Where to come back to: this page with its answers, or the station of a form that was refused.
    pub(crate) fn way_back(&self, station: &str) -> String {
        match (self.posted, station) {
            (false, _) => self.fields.with("act", None).address(&self.path),
            (true, "") => "/".into(),
            (true, station) => station.into(),
        }
    }

    /// A fresh key for a form.
    pub(crate) fn key(&self) -> Result<String, Refusal> {
        secret::key("page")
    }
}

/// What a page answers.
pub(crate) enum Reply {
    /// A page in the frame.
    Page(Box<Page>),
    /// Go and look there.
    SeeOther {
        /// Where.
        to: String,
        /// Cookies to keep.
        cookie: Option<HeaderValue>,
    },
    /// A picture, byte for byte; its address is its content, so a browser may keep it for good.
    Picture {
        /// What sort: `image/jpeg`, `image/png`.
        media: String,
        /// Its SHA-256.
        sha256: String,
        /// Its bytes.
        bytes: Vec<u8>,
    },
    /// A picture that may be another one tomorrow.
    Passing {
        /// What sort.
        media: &'static str,
        /// Its bytes.
        bytes: Vec<u8>,
    },
    /// A sheet to print.
    Sheet {
        /// Its name.
        name: &'static str,
        /// The PDF.
        bytes: Vec<u8>,
    },
    /// A file to keep, sent piece by piece.
    File {
        /// Where it is.
        path: PathBuf,
        /// The name it is kept under.
        name: String,
        /// What sort.
        media: &'static str,
    },
    /// A small file to keep.
    Small {
        /// Its name.
        name: String,
        /// What sort.
        media: &'static str,
        /// Its bytes.
        bytes: Vec<u8>,
    },
    /// A table to keep as a file.
    Table {
        /// Its name.
        name: String,
        /// The CSV.
        text: String,
    },
}

/// A page without its frame.
pub(crate) struct Page {
    pub(crate) status: StatusCode,
    pub(crate) title: String,
    /// The stations of the rivers it stands at, by address.
    pub(crate) at: &'static str,
    pub(crate) body: Markup,
    /// The whole screen is one step of the bench, without the house around it.
    pub(crate) bench: bool,
    /// A script it is more comfortable with, and works without.
    pub(crate) script: Option<&'static str>,
}

impl Reply {
    /// A page.
    pub(crate) fn page(title: impl Into<String>, at: &'static str, body: Markup) -> Self {
        Self::Page(Box::new(Page { status: StatusCode::OK, title: title.into(), at, body, bench: false, script: None }))
    }

    /// A step of the bench, alone on its screen.
    pub(crate) fn at_the_bench(title: impl Into<String>, body: Markup) -> Self {
        match Self::page(title, "/bench", body) {
            Self::Page(page) => Self::Page(Box::new(Page { bench: true, ..*page })),
            other => other,
        }
    }

    /// The same with the status of a refusal that stands on it.
    pub(crate) fn refusing(self, refusal: Option<&Refusal>) -> Self {
        match (self, refusal) {
            (Self::Page(page), Some(refusal)) => Self::Page(Box::new(Page { status: status(refusal), ..*page })),
            (other, _) => other,
        }
    }

    /// The same with another status.
    pub(crate) fn with_status(self, status: StatusCode) -> Self {
        match self {
            Self::Page(page) => Self::Page(Box::new(Page { status, ..*page })),
            other => other,
        }
    }

    /// The same with a script.
    pub(crate) fn with_script(self, script: &'static str) -> Self {
        match self {
            Self::Page(page) => Self::Page(Box::new(Page { script: Some(script), ..*page })),
            other => other,
        }
    }

    /// Somewhere else.
    pub(crate) fn see(to: impl Into<String>) -> Self {
        Self::SeeOther { to: to.into(), cookie: None }
    }

    /// The page where what was done can be seen and taken back.
    pub(crate) fn after(done: &Done, path: &str) -> Self {
        Self::see(format!("{path}?act={}", done.act))
    }
}

/// What a page gives: itself, or a refusal that becomes a page.
pub(crate) type Answer = Result<Reply, Refusal>;

/// The status of a refusal.
pub(crate) fn status(refusal: &Refusal) -> StatusCode {
    match refusal.kind {
        // Acts that stand in each other's way are a conflict between two wishes, not a wrong answer.
        RefusalKind::Refused if refusal.code.starts_with("act_") => StatusCode::CONFLICT,
        RefusalKind::Refused => StatusCode::UNPROCESSABLE_ENTITY,
        RefusalKind::Unreadable => StatusCode::BAD_REQUEST,
        RefusalKind::Missing => StatusCode::NOT_FOUND,
        RefusalKind::Failed | RefusalKind::Damaged | RefusalKind::Busy => StatusCode::SERVICE_UNAVAILABLE,
    }
}

/// Lets a page answer a request, away from the threads that talk to browsers.
pub(crate) async fn answer(State(desk): State<Arc<Desk>>, request: Request, page: fn(&Visit) -> Answer) -> Response {
    let visit = Visit::of(desk, &request);
    let made = tokio::task::spawn_blocking(move || {
        let reply = page(&visit).unwrap_or_else(|refusal| refused::page(&refusal));
        response(&visit, reply)
    });
    made.await.unwrap_or_else(|_| {
        Turned::new(StatusCode::INTERNAL_SERVER_ERROR, "page_broken", "This page broke")
            .because(
                "That is a fault of the program. What was already in the book is safe; what you sent was not done."
                    .into(),
            )
            .next("Go back and try once more; if it breaks again, run `handcoat check` and report it.".into())
            .into_response()
    })
}

fn response(visit: &Visit, reply: Reply) -> Response {
    match reply {
        Reply::SeeOther { to, cookie } => {
            let mut response = StatusCode::SEE_OTHER.into_response();
            // Addresses are made here, of letters and percent signs.
            response.headers_mut().extend(HeaderValue::from_str(&to).ok().map(|to| (LOCATION, to)));
            response.headers_mut().extend(cookie.map(|own| (SET_COOKIE, own)));
            response
        }
        Reply::Picture { media, sha256, bytes } => {
            let ending = if media == "image/png" { "png" } else { "jpg" };
            let said = [
                (CONTENT_TYPE, media),
                (CONTENT_DISPOSITION, format!("inline; filename=\"{sha256}.{ending}\"")),
                (CACHE_CONTROL, "private, max-age=31536000, immutable".into()),
            ];
            (said, bytes).into_response()
        }
        Reply::Passing { media, bytes } => ([(CONTENT_TYPE, media)], bytes).into_response(),
        Reply::Sheet { name, bytes } => {
            let said = [
                (CONTENT_TYPE, "application/pdf".into()),
                (CONTENT_DISPOSITION, format!("inline; filename=\"{name}\"")),
            ];
            (said, bytes).into_response()
        }
        Reply::File { path, name, media } => coming::file(&path, &name, media)
            .unwrap_or_else(|error| response(visit, refused::page(&super::pictures::unreadable(&path, &error)))),
        Reply::Small { name, media, bytes } => {
            let said =
                [(CONTENT_TYPE, media.into()), (CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\""))];
            (said, bytes).into_response()
        }
        Reply::Table { name, text } => {
            let said = [
                (CONTENT_TYPE, "text/csv; charset=utf-8".into()),
                (CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")),
            ];
            (said, text).into_response()
        }
        Reply::Page(page) => {
            let busy = page.status == StatusCode::SERVICE_UNAVAILABLE;
            let html = match (visit.part, page.bench) {
                (true, _) => frame::part(&page),
                (false, true) => frame::bench(visit, &page),
                (false, false) => frame::whole(visit, &page),
            };
            let mut response =
                (page.status, [(CONTENT_TYPE, "text/html; charset=utf-8")], html.into_string()).into_response();
            if busy {
                response.headers_mut().insert(RETRY_AFTER, HeaderValue::from_static("2"));
            }
            response
        }
    }
}
