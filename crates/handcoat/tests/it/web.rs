//! Asking the pages in process, and taking what they answer apart.

use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, ORIGIN};
use axum::http::{HeaderMap, Request, StatusCode};
use handcoat::web::{Desk, Hosts, Pairing, Peer, router};
use handcoat_work::bench::{Begin, begin};
use handcoat_work::{Moment, Studio};
use tower::ServiceExt;

use crate::books::{new_book, on};
use crate::command::fresh_folder;

pub(crate) const PORT: u16 = 8317;
pub(crate) const OURS: &str = "127.0.0.1:8317";
pub(crate) const LOCAL: &str = "127.0.0.1:50000";
pub(crate) const ELSEWHERE: &str = "192.0.2.7:50000";
/// The address of this computer in the network of these tests.
pub(crate) const IN_NETWORK: &str = "192.0.2.1:8317";

/// A book behind its pages.
pub(crate) struct House {
    pub(crate) pages: Router,
    pub(crate) book: PathBuf,
    runtime: tokio::runtime::Runtime,
}

/// What was answered.
pub(crate) struct Answered {
    pub(crate) status: StatusCode,
    pub(crate) headers: HeaderMap,
    pub(crate) text: String,
    pub(crate) bytes: Vec<u8>,
}

impl Answered {
    pub(crate) fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", |value| value.to_str().expect("text"))
    }

    /// The value of a hidden field.
    pub(crate) fn hidden(&self, name: &str) -> String {
        let fields = tags(&self.text).into_iter().filter(|tag| tag.name == "input" && tag.get("name") == Some(name));
        fields.map(|tag| tag.get("value").unwrap_or_default().to_owned()).next().expect("a hidden field")
    }
}

impl House {
    /// With a new book.
    pub(crate) fn new(name: &str) -> Self {
        Self::over(new_book(&fresh_folder(name)), None)
    }

    /// With a book that holds a little of everything.
    pub(crate) fn filled(name: &str) -> Self {
        let book = new_book(&fresh_folder(name));
        for line in [
            &[
                "receive",
                "PdCl2",
                "--mass",
                "10g",
                "--hydrate",
                "none",
                "--purity",
                "99%",
                "--price",
                "480",
                "--currency",
                "EUR",
            ][..],
            &["receive", "K2PtCl4", "--mass", "5g", "--purity", "99%", "--name", "platinum vial"],
            &["receive", "NaCl", "--mass", "500g", "--name", "salt"],
            &["sweep", "--from", "palladium(II) chloride", "--mass", "0.03g", "--into", "swept"],
            &[
                "mix",
                "--from",
                "palladium(II) chloride",
                "--mass",
                "5.42g",
                "--chloride",
                "3.7g",
                "--make",
                "60mL",
                "--at",
                "2026-03-14T10:00Z",
            ],
            &["receive", "Na2PdCl4", "--volume", "50mL", "--percent", "15", "--name", "bought"],
            &["receive", "unknown", "--volume", "5mL", "--name", "old bottle"],
            &["receive", "Fe2(C2O4)3", "--volume", "50mL", "--percent", "27", "--name", "iron"],
            &["lose", "bought", "--amount", "1mL"],
        ] {
            on(&book, &[&["stock"], line].concat());
        }
        on(&book, &["undo", "9"]);
        for line in [
            &["keep", "paper", "rag", "--lot", "A7", "--came", "9", "--low", "10"][..],
            &["keep", "lamp", "tube bank", "--hours", "120"],
            &["keep", "bath", "oxalate", "--work", "developer"],
            &["keep", "negative", "Heron", "--size", "8x10in"],
            &["coat", "made", "Gate", "--pour", "iron=12", "--pour", "bought=12"],
            &[
                "print",
                "record",
                "Heron",
                "--pour",
                "iron=23",
                "--pour",
                "bought=23",
                "--image",
                "8x10in",
                "--margin",
                "1cm",
                "--paper",
                "rag",
                "--lamp",
                "tube bank",
                "--time",
                "6:00",
                "--room-humidity",
                "50%",
                "--dry",
                "good",
                "--faults",
                "veil, black-specks",
            ],
            &[
                "keep",
                "setup",
                "rag, palladium",
                "--paper",
                "rag",
                "--metal",
                "Pd",
                "--agent",
                "hexachloroplatinate",
                "--lamp",
                "tube bank",
            ],
            &["expose", "strip", "--first", "2:00", "--until", "8:00", "--tapped", "5", "--keep", "--setup", "1"],
            &[
                "expose",
                "eye",
                "--test-time",
                "4:00",
                "--last-black",
                "5",
                "--last-tone",
                "15",
                "--keep",
                "--setup",
                "1",
                "--dose",
                "1mg/mL",
            ],
            &["print", "record", "Heron again", "--time", "12:00", "--room-humidity", "56%"],
        ] {
            on(&book, line);
        }
        let chart = book.with_file_name("chart.csv");
        on(&book, &["tone", "fit", chart.to_str().expect("a path in words"), "--sample", "--keep", "--setup", "1"]);
        let mut studio = Studio::open(&book).expect("a book");
        let answers = Begin {
            jar: Some("palladium(II) chloride".into()),
            make: Some("20mL".into()),
            balance: Some("0.01g".into()),
            ..Begin::default()
        };
        let moment = Moment {
            at: "2026-03-14T11:00:00Z".parse().expect("a time"),
            who: "test".into(),
            key: "bench-of-the-test".into(),
        };
        begin(&mut studio, &moment, &answers).expect("work at the bench");
        drop(studio);
        let line = "Heron; image 8x10in; time 6:00; pour iron=23; pour bought=23";
        on(&book, &["session", "begin", "--print", line, "--print", "Weir", "--people", "2", "--start", "10:00"]);
        on(&book, &["session", "timer", "rinse", "7min", "--session", "1"]);
        Self::over(book, None)
    }

    /// The pages of a book that is there.
    pub(crate) fn over(book: PathBuf, pairing: Option<Pairing>) -> Self {
        let studio = Studio::open(&book).expect("a book");
        let hosts = Hosts::with_own_addresses(PORT, &["192.0.2.1".parse().expect("an address")]);
        let mut desk = Desk::new(studio, hosts, PORT).expect("a desk");
        if let Some(pairing) = pairing {
            desk = desk.with_pairing(pairing);
        }
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
        Self { pages: router(&Arc::new(desk)), book, runtime }
    }

    /// Any request at all.
    pub(crate) fn ask(&self, peer: &str, mut request: Request<Body>) -> Answered {
        request.extensions_mut().insert(Peer(peer.parse::<SocketAddr>().expect("an address")));
        self.runtime.block_on(async {
            let response = self.pages.clone().oneshot(request).await.expect("an answer");
            let (parts, body) = response.into_parts();
            let bytes = to_bytes(body, usize::MAX).await.expect("a body").to_vec();
            let text = String::from_utf8_lossy(&bytes).into_owned();
            Answered { status: parts.status, headers: parts.headers, text, bytes }
        })
    }

    /// A page as a browser on this computer asks for it.
    pub(crate) fn get(&self, path: &str) -> Answered {
        self.ask(LOCAL, Request::get(path).header(HOST, OURS).body(Body::empty()).expect("a request"))
    }

    /// A form with a file, as browsers send it.
    pub(crate) fn upload(&self, path: &str, fields: &[(&str, &str)], name: &str, file: &[u8]) -> Answered {
        let mut body = Vec::new();
        for (field, value) in fields {
            body.extend(
                format!("--xyz\r\nContent-Disposition: form-data; name=\"{field}\"\r\n\r\n{value}\r\n").into_bytes(),
            );
        }
        let head = format!(
            "--xyz\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\nContent-Type: image/tiff\r\n\r\n"
        );
        body.extend(head.into_bytes());
        body.extend(file);
        body.extend(b"\r\n--xyz--\r\n");
        let request = Request::post(path)
            .header(HOST, OURS)
            .header(ORIGIN, format!("http://{OURS}"))
            .header(CONTENT_TYPE, "multipart/form-data; boundary=xyz");
        self.ask(LOCAL, request.body(Body::from(body)).expect("a request"))
    }

    /// A form as a browser on this computer sends it, with token and key unless they are among the answers.
    pub(crate) fn post(&self, path: &str, answers: &[(&str, &str)]) -> Answered {
        self.post_from(LOCAL, OURS, "", path, &self.sealed(path, answers))
    }

    /// A form from somewhere, as it is.
    pub(crate) fn post_from(
        &self,
        peer: &str,
        host: &str,
        cookie: &str,
        path: &str,
        answers: &[(&str, &str)],
    ) -> Answered {
        let request = Request::post(path)
            .header(HOST, host)
            .header(ORIGIN, format!("http://{host}"))
            .header(COOKIE, cookie)
            .header(CONTENT_TYPE, "application/x-www-form-urlencoded");
        self.ask(peer, request.body(Body::from(encoded(answers))).expect("a request"))
    }

    fn sealed<'a>(&self, path: &str, answers: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
        let page = self.get(if path == "/pair" { "/pair" } else { "/settings" });
        let (token, key) = (page.hidden("token").leak(), page.hidden("key").leak());
        let given = |name: &str| answers.iter().any(|(own, _)| *own == name);
        let seal = [("token", &*token), ("key", &*key)].into_iter().filter(|(name, _)| !given(name));
        seal.chain(answers.iter().copied()).collect()
    }

    /// Everything that is written of the book, its log included.
    pub(crate) fn written(&self) -> Vec<Vec<u8>> {
        let log = self.book.with_file_name(format!("{}-wal", name_of(&self.book)));
        [self.book.as_path(), log.as_path()].map(|path| std::fs::read(path).unwrap_or_default()).to_vec()
    }
}

fn name_of(path: &Path) -> String {
    path.file_name().expect("a name").to_string_lossy().into_owned()
}

/// A form's body.
pub(crate) fn encoded(answers: &[(&str, &str)]) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-_.".contains(&byte);
    let word = |text: &str| -> String {
        text.bytes()
            .map(|byte| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") })
            .collect()
    };
    answers.iter().map(|(name, value)| format!("{}={}", word(name), word(value))).collect::<Vec<_>>().join("&")
}

/// One tag of a page: its name and its attributes as they are written.
#[derive(Debug)]
pub(crate) struct Tag {
    pub(crate) name: String,
    pub(crate) attributes: Vec<(String, String)>,
    /// Where it ends in the text.
    pub(crate) end: usize,
}

impl Tag {
    pub(crate) fn get(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(own, _)| own == name).map(|(_, value)| value.as_str())
    }
}

/// The tags of a page. Enough of a parser for pages whose attributes all stand in double quotes, which it insists on.
pub(crate) fn tags(page: &str) -> Vec<Tag> {
    let mut found = Vec::new();
    let mut rest = page;
    while let Some(start) = rest.find('<') {
        rest = &rest[start + 1..];
        let (mut quoted, mut close) = (false, rest.len());
        for (place, c) in rest.char_indices() {
            match c {
                '"' => quoted = !quoted,
                '>' if !quoted => {
                    close = place;
                    break;
                }
                _ => {}
            }
        }
        let (inside, after) = rest.split_at(close);
        rest = after;
        let name: String = inside.chars().take_while(|c| !c.is_whitespace()).collect();
        let mut attributes = Vec::new();
        let mut written = inside[name.len()..].trim();
        while !written.is_empty() {
            let end = written.find(|c: char| c == '=' || c.is_whitespace()).unwrap_or(written.len());
            let (attribute, tail) = written.split_at(end);
            let (value, tail) = match tail.strip_prefix("=\"") {
                Some(tail) => tail.split_once('"').expect("a closing quote"),
                None => ("", tail),
            };
            assert!(!tail.starts_with('='), "an attribute without quotes: <{inside}>");
            attributes.push((attribute.to_owned(), value.to_owned()));
            written = tail.trim_start().trim_start_matches('/');
        }
        found.push(Tag { name: name.to_lowercase(), attributes, end: page.len() - rest.len() });
    }
    found
}
