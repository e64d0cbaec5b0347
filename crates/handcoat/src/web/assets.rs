//! The files of the house, out of the binary: style, script, type. Their names carry a mark of their content, so a browser may
//! keep them for good.

use std::sync::OnceLock;

use axum::extract::{Path, Request};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE, ETAG, IF_NONE_MATCH};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use handcoat_figures::FACES;

use super::secret;
use super::turned::Turned;

/// Where they are.
pub(crate) const FOLDER: &str = "/assets/";

const LOOK: &str = include_str!("../../assets/look.css");
const DESK: &str = include_str!("../../assets/desk.css");
const BENCH: &str = include_str!("../../assets/bench.css");
const SESSION: &str = include_str!("../../assets/session.css");
const THEMES: &str = include_str!("../../assets/themes.css");
const LIVE: &str = include_str!("../../assets/live.js");
const PAIR: &str = include_str!("../../assets/pair.js");
const JOBS: &str = include_str!("../../assets/jobs.js");
const BENCH_PAUSE: &str = include_str!("../../assets/bench.js");
/// At the bench of a session taps wait a moment as well.
const TIMERS: &str = concat!(include_str!("../../assets/bench.js"), include_str!("../../assets/session.js"));

struct Asset {
    name: String,
    kind: &'static str,
    mark: String,
    bytes: Vec<u8>,
}

impl Asset {
    fn new(stem: &str, extension: &str, kind: &'static str, bytes: Vec<u8>) -> Self {
        let mark = secret::mark(&bytes);
        Self { name: format!("{stem}-{mark}.{extension}"), kind, mark, bytes }
    }
}

/// All of them; the style sheet asks for the faces by their marked names.
fn all() -> &'static [Asset] {
    static ALL: OnceLock<Vec<Asset>> = OnceLock::new();
    ALL.get_or_init(|| {
        let mut style = String::new();
        let mut found = Vec::new();
        for face in FACES {
            let stem = face.file.trim_end_matches(".ttf");
            let own = Asset::new(stem, "ttf", "font/ttf", face.bytes.to_vec());
            style.push_str(&format!(
                "@font-face{{font-family:\"{}\";font-weight:{};font-display:swap;src:url({})}}\n",
                face.family, face.weight, own.name
            ));
            found.push(own);
        }
        for part in [LOOK, DESK, BENCH, SESSION, THEMES] {
            style.push_str(part);
        }
        found.push(Asset::new("handcoat", "css", "text/css; charset=utf-8", style.into_bytes()));
        for (stem, script) in
            [("live", LIVE), ("pair", PAIR), ("bench", BENCH_PAUSE), ("jobs", JOBS), ("session", TIMERS)]
        {
            found.push(Asset::new(stem, "js", "text/javascript; charset=utf-8", script.into()));
        }
        found
    })
}

/// The address of a file by the first part of its name and its extension.
fn address(stem: &str, extension: &str) -> String {
    let named = |own: &&Asset| own.name.starts_with(&format!("{stem}-")) && own.name.ends_with(extension);
    all().iter().find(named).map_or(String::new(), |own| format!("{FOLDER}{}", own.name))
}

/// The one style sheet.
pub(crate) fn style() -> String {
    address("handcoat", ".css")
}

/// A script by its name.
pub(crate) fn script(name: &str) -> String {
    address(name, ".js")
}

/// Serves one.
pub(crate) async fn serve(Path(name): Path<String>, headers: HeaderMap, _request: Request) -> Response {
    let Some(own) = all().iter().find(|own| own.name == name) else {
        return Turned::new(StatusCode::NOT_FOUND, "page_unknown", "There is no such file")
            .because("It may be one of an earlier version of this program.".into())
            .next("Load the page again.".into())
            .into_response();
    };
    let tag = format!("\"{}\"", own.mark);
    let kept = headers.get(IF_NONE_MATCH).is_some_and(|theirs| theirs.as_bytes() == tag.as_bytes());
    let said =
        [(CONTENT_TYPE, own.kind.into()), (ETAG, tag), (CACHE_CONTROL, "public, max-age=31536000, immutable".into())];
    if kept { (StatusCode::NOT_MODIFIED, said).into_response() } else { (said, own.bytes.as_slice()).into_response() }
}
