//! The program itself, listening: its first line, its sockets, its end.

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{SocketAddr, TcpListener, TcpStream, UdpSocket};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use crate::books::new_book;
use crate::command::{fresh_folder, handcoat};

/// The program, serving; killed when a test fails before it ends it.
pub(crate) struct Serving {
    pub(crate) child: Child,
    lines: BufReader<std::process::ChildStdout>,
    pub(crate) address: String,
}

impl Drop for Serving {
    fn drop(&mut self) {
        // It has ended already where all is well.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Serving {
    pub(crate) fn begin(book: &Path, more: &[&str]) -> Self {
        let book = book.to_str().expect("a path that is text");
        Self::of(&[&["serve", "--port", "0", "--book", book], more].concat(), &[])
    }

    /// A command that serves, in such surroundings.
    pub(crate) fn of(arguments: &[&str], surroundings: &[(&str, &str)]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_handcoat"))
            .args(arguments)
            .envs(surroundings.iter().copied())
            .stdout(Stdio::piped())
            .spawn()
            .expect("it starts");
        let mut lines = BufReader::new(child.stdout.take().expect("its stdout"));
        let mut first = String::new();
        lines.read_line(&mut first).expect("a line");
        let url = match serde_json::from_str::<serde_json::Value>(&first) {
            Ok(said) => said["url"].as_str().expect("an address").to_owned(),
            Err(_) => first.trim().to_owned(),
        };
        let address = url.strip_prefix("http://").and_then(|own| own.strip_suffix('/')).expect("an address").to_owned();
        Self { child, lines, address }
    }

    /// What is answered to these bytes, until the connection is closed.
    pub(crate) fn send(&self, bytes: &str) -> String {
        let mut stream = TcpStream::connect(&self.address).expect("it listens");
        stream.set_read_timeout(Some(Duration::from_secs(20))).expect("a limit");
        stream.write_all(bytes.as_bytes()).expect("sent");
        let mut answer = String::new();
        stream.read_to_string(&mut answer).expect("an answer");
        answer
    }

    pub(crate) fn get(&self, path: &str) -> String {
        self.send(&format!("GET {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", self.address))
    }

    /// Asks it to end, as a service does, and gives its exit code.
    fn end(&mut self) -> Option<i32> {
        let kill = Command::new("kill").arg(self.child.id().to_string()).status().expect("kill runs");
        assert!(kill.success());
        let until = Instant::now() + Duration::from_secs(10);
        while Instant::now() < until {
            if let Some(status) = self.child.try_wait().expect("a child") {
                return status.code();
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        None
    }
}

/// The address of this computer in a network, if it has one: nothing is sent.
fn own_address() -> Option<std::net::IpAddr> {
    let socket = UdpSocket::bind("0.0.0.0:0").ok()?;
    socket.connect("192.0.2.1:9").ok()?;
    socket.local_addr().ok().map(|own| own.ip()).filter(|own| !own.is_loopback() && !own.is_unspecified())
}

#[test]
fn it_says_where_serves_this_computer_only_and_ends_cleanly() {
    let book = new_book(&fresh_folder("web-serving"));
    let mut serving = Serving::begin(&book, &[]);
    assert!(serving.address.starts_with("127.0.0.1:"));
    let today = serving.get("/");
    assert!(today.starts_with("HTTP/1.1 200 OK\r\n") && today.contains("Nothing has come in yet"), "{today}");
    assert!(serving.get("/nowhere").starts_with("HTTP/1.1 404 "));
    assert!(serving.send("GET / HTTP/1.1\r\nConnection: close\r\n\r\n").starts_with("HTTP/1.1 403 "), "no Host");
    assert!(
        serving.send("GET / HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n").starts_with("HTTP/1.1 421 ")
    );
    if let Some(own) = own_address() {
        let port = serving.address.parse::<SocketAddr>().expect("an address").port();
        TcpStream::connect_timeout(&(own, port).into(), Duration::from_secs(2))
            .expect_err("only loopback is listened at");
    }
    // A second program may read the book all the while.
    assert_eq!(handcoat(&["check", "--book", book.to_str().expect("text")]).code, 0);
    assert_eq!(serving.end(), Some(0), "it ends cleanly");
    assert!(!book.with_file_name("studio.handcoat-wal").exists(), "the log is put away");
}

#[test]
fn a_connection_that_says_nothing_does_not_keep_it_from_ending() {
    let mut serving = Serving::begin(&new_book(&fresh_folder("web-serving-idle")), &[]);
    let idle: Vec<TcpStream> = (0..40).map(|_| TcpStream::connect(&serving.address).expect("it listens")).collect();
    let mut half = TcpStream::connect(&serving.address).expect("it listens");
    half.write_all(b"GET / HT").expect("sent");
    assert!(serving.get("/").starts_with("HTTP/1.1 200 "), "others are served all the while");
    let begun = Instant::now();
    assert_eq!(serving.end(), Some(0));
    assert!(begun.elapsed() < Duration::from_secs(8), "it took {:?}", begun.elapsed());
    drop(idle);
}

#[test]
fn heads_and_bodies_that_never_end_are_given_up() {
    let serving = Serving::begin(&new_book(&fresh_folder("web-serving-slow")), &[]);
    let address = &serving.address;
    let form = "application/x-www-form-urlencoded";
    let head = format!("GET / HTTP/1.1\r\nHost: {address}\r\nX-Half: ");
    let body = format!(
        "POST /theme HTTP/1.1\r\nHost: {address}\r\nOrigin: http://{address}\r\nContent-Type: {form}\r\nContent-Length: 99\r\n\r\ntheme="
    );
    let begun = Instant::now();
    // At once, each on a thread of its own: both wait as long as the program does.
    let answers = std::thread::scope(|both| {
        let [head, body] = [&head, &body].map(|sent| both.spawn(|| serving.send(sent)));
        [head.join().expect("given up"), body.join().expect("given up")]
    });
    assert!(!answers[0].starts_with("HTTP/1.1 200"), "{}", answers[0]);
    assert!(answers[1].starts_with("HTTP/1.1 408 "), "{}", answers[1]);
    assert!(
        begun.elapsed() > Duration::from_secs(8) && begun.elapsed() < Duration::from_secs(18),
        "{:?}",
        begun.elapsed()
    );
}

#[test]
fn with_lan_it_says_where_and_with_which_code() {
    if own_address().is_none() {
        return; // Without a network there is no address to show, and it says so.
    }
    let mut serving = Serving::begin(&new_book(&fresh_folder("web-serving-lan")), &["--lan"]);
    let mut said = String::new();
    while !said.contains("Ctrl-C") {
        assert!(serving.lines.read_line(&mut said).expect("a line") > 0, "it ended: {said}");
    }
    let own = own_address().expect("an address");
    assert!(said.contains(&format!("http://{own}:")) && said.contains("/pair"), "{said}");
    let code = said.split("Code: ").nth(1).and_then(|rest| rest.split(',').next()).expect("a code");
    assert_eq!(code.len(), 9, "{code}");
    let drawn: Vec<&str> = said.lines().filter(|line| line.chars().any(|c| "█▀▄".contains(c))).collect();
    // A code of version 3 has 29 modules, 37 with its border: 19 lines of two.
    assert!(drawn.len() >= 15 && drawn.iter().all(|line| line.chars().all(|c| "█▀▄ ".contains(c))), "{said}");
    assert_eq!(serving.end(), Some(0));
}

#[test]
fn a_program_that_starts_it_is_told_in_json() {
    let mut serving = Serving::begin(&new_book(&fresh_folder("web-serving-json")), &["--json"]);
    assert!(serving.get("/").starts_with("HTTP/1.1 200 "));
    assert_eq!(serving.end(), Some(0));
}

#[test]
fn a_port_that_is_taken_is_said() {
    let book = new_book(&fresh_folder("web-serving-port"));
    let taken = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = taken.local_addr().expect("an address").port().to_string();
    let outcome = handcoat(&["serve", "--port", &port, "--book", book.to_str().expect("text")]);
    assert_eq!(outcome.code, 1);
    assert!(outcome.data.is_empty() && outcome.messages.contains(&format!("port {port}")), "{}", outcome.messages);
    assert!(
        outcome.messages.contains("try: handcoat serve --port 0") && outcome.messages.ends_with("[port_unavailable]\n")
    );
    assert_eq!(handcoat(&["serve", "--book", "nowhere.handcoat"]).code, 3, "no book, no server");
}

/// A picture on its way: the head of the request, the answers, the beginning of the file, and no more for now, though `more` bytes
/// are to follow.
fn sending(serving: &Serving, token: &str, more: u64) -> TcpStream {
    let mut stream = TcpStream::connect(&serving.address).expect("it listens");
    stream.set_read_timeout(Some(Duration::from_secs(60))).expect("a limit");
    let address = &serving.address;
    let part = |name: &str, value: &str| {
        format!("--xyz\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n")
    };
    let file = "--xyz\r\nContent-Disposition: form-data; name=\"file\"; filename=\"heron.tif\"\r\nContent-Type: image/tiff\r\n\r\nII";
    let body = [part("token", token), part("key", "sent-by-a-test"), file.into()].concat();
    let head = format!(
        "POST /negative/upload HTTP/1.1\r\nHost: {address}\r\nOrigin: http://{address}\r\nConnection: close\r\n\
         Content-Type: multipart/form-data; boundary=xyz\r\nContent-Length: {}\r\n\r\n",
        body.len() as u64 + more
    );
    let all = [head, body].concat();
    // What is refused by its head alone may be closed before this is all sent.
    let _ = stream.write_all(all.as_bytes());
    stream
}

fn answer(mut stream: TcpStream) -> String {
    let mut all = Vec::new();
    // A connection that is closed with bytes unread may end in an error after the answer.
    let _ = stream.read_to_end(&mut all);
    String::from_utf8_lossy(&all).into_owned()
}

#[test]
fn silent_uploads_give_way_and_hold_no_door() {
    let folder = fresh_folder("silent-uploads");
    let book = new_book(&folder);
    let pictures = folder.join("pictures");
    let serving = Serving::begin(&book, &["--pictures", &pictures.to_string_lossy()]);
    let page = serving.get("/settings");
    let token = page.split("name=\"token\" value=\"").nth(1).and_then(|own| own.split('"').next()).expect("a token");
    let silent: Vec<TcpStream> = (0..6).map(|_| sending(&serving, token, 1_000_000)).collect();
    std::thread::sleep(Duration::from_millis(300));
    let asked = Instant::now();
    assert!(serving.get("/").starts_with("HTTP/1.1 200"));
    assert!(asked.elapsed() < Duration::from_secs(3), "a page waited {:?}", asked.elapsed());
    // One that is really sent comes in, although every place was taken.
    let rest = "*\0 and so on\r\n--xyz--\r\n";
    let mut own = sending(&serving, token, rest.len() as u64);
    let sent = own.write_all(rest.as_bytes());
    let said = answer(own);
    assert!(sent.is_ok() && !said.starts_with("HTTP/1.1 503"), "{said}");
    assert!(asked.elapsed() < Duration::from_secs(25), "it waited {:?}", asked.elapsed());
    assert!(pictures.join("heron.tif").exists(), "{said}");
    for own in silent {
        let said = answer(own);
        assert!(said.starts_with("HTTP/1.1 408") && said.contains("body_slow"), "{said}");
        assert!(said.contains("the book is as it was") && !said.contains("Nothing was changed"), "{said}");
    }
    // What is longer than is taken is refused by its head, and nothing is left of any of them.
    let said = answer(sending(&serving, token, 9 << 30));
    assert!(said.starts_with("HTTP/1.1 413"), "{said}");
    let left: Vec<_> =
        std::fs::read_dir(&pictures).expect("the folder").map(|own| own.expect("one").file_name()).collect();
    assert_eq!(left, ["heron.tif"]);
}

#[test]
fn a_picture_whose_form_breaks_off_behind_it_is_gone_again() {
    let folder = fresh_folder("broken-upload");
    let book = new_book(&folder);
    let pictures = folder.join("pictures");
    let serving = Serving::begin(&book, &["--pictures", &pictures.to_string_lossy()]);
    let page = serving.get("/settings");
    let token = page.split("name=\"token\" value=\"").nth(1).and_then(|own| own.split('"').next()).expect("a token");
    let mut own = sending(&serving, token, 2_000);
    own.write_all(b"*\0 all of the picture\r\n--xyz\r\nContent-Disposition: form-data; na").expect("sent");
    own.shutdown(std::net::Shutdown::Write).expect("no more");
    answer(own);
    std::thread::sleep(Duration::from_millis(300));
    let left = std::fs::read_dir(&pictures).map_or(0, Iterator::count);
    assert_eq!(left, 0, "a picture was kept of a form that broke off");
}
