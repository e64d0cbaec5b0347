//! Starting the process that works on a picture, listening to it, and what its end means.

use std::ffi::OsStr;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, ExitStatus, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::channel;
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use handcoat_work::expose::{WedgeOutcome, WedgeScan, WedgeScanAnswers};
use handcoat_work::negative::Whole;
use handcoat_work::tone::{ChartScan, ProofAsked, ScanAnswers, ScanOutcome};
use handcoat_work::{Question, Refusal, RefusalKind, Remedy};
use serde_json::Value;

use super::child::{Asker, work};
use super::said::{Asked, AskedNegative, KEPT, STOP, Said, SentPath, bytes};
use super::{PROGRAM, WORD};

/// What goes along while a negative is made apart.
pub(crate) struct Hooks<'a> {
    /// Told how many rows of how many are written.
    pub(crate) rows: &'a (dyn Fn(u32, u32) + Sync),
    /// Keeps where it can go on.
    pub(crate) checkpoint: &'a (dyn Fn(&[u8]) + Sync),
    /// Keeps what the file is before it gets its name; gives whether that went.
    pub(crate) whole: &'a (dyn Fn(&Whole) -> bool + Sync),
    /// Looked at again and again: whether to stop.
    pub(crate) cancel: &'a (dyn Fn() -> bool + Sync),
    /// Given the picture of what was found on a scan.
    pub(crate) overlay: &'a (dyn Fn(Vec<u8>) + Sync),
}

/// A negative that was made, and what is said of it as JSON.
pub(crate) struct Made {
    pub(crate) whole: Whole,
    pub(crate) json: Value,
}

/// From one look at whether to stop to the next.
const LOOK: Duration = Duration::from_millis(40);
/// The longest line that is listened to: a checkpoint, or a small picture.
const LONGEST: u64 = 64 << 20;
/// Of what is written to stderr, so much is looked at.
const MOST_MESSAGES: u64 = 64 << 10;

/// Makes a negative in a process apart.
///
/// # Errors
/// What the process refused, or what ended it, as a refusal that names the picture.
pub(crate) fn make(asked: AskedNegative, hooks: &Hooks<'_>) -> Result<Made, Refusal> {
    let source = asked.source.path();
    match ask(&Asked::Negative(Box::new(asked)), &source, hooks)? {
        Last::Made(whole, json) => Ok(Made { whole: *whole, json }),
        _ => Err(odd(&source, "it answered another question")),
    }
}

/// Makes the small picture of a negative as it will print, in a process apart.
///
/// # Errors
/// As [`make`].
pub(crate) fn preview(asked: AskedNegative, hooks: &Hooks<'_>) -> Result<(), Refusal> {
    let source = asked.source.path();
    match ask(&Asked::Preview(Box::new(asked)), &source, hooks)? {
        Last::Previewed => Ok(()),
        _ => Err(odd(&source, "it answered another question")),
    }
}

/// Whether a negative can be made as it is asked, looked at in a process apart.
///
/// # Errors
/// As [`make`].
pub(crate) fn fits(asked: AskedNegative) -> Result<(), Refusal> {
    let source = asked.source.path();
    let hooks = Hooks { rows: &|_, _| {}, checkpoint: &|_| {}, whole: &|_| false, cancel: &|| false, overlay: &|_| {} };
    match ask(&Asked::Fits(Box::new(asked)), &source, &hooks)? {
        Last::Fits => Ok(()),
        _ => Err(odd(&source, "it answered another question")),
    }
}

/// A small PNG of a picture, made in a process apart.
///
/// # Errors
/// As [`make`].
pub(crate) fn small_picture(source: &Path, side: u32) -> Result<Vec<u8>, Refusal> {
    one_png(&Asked::Small { source: SentPath::of(source), side }, source)
}

/// A proof of a picture, a PNG, made in a process apart.
///
/// # Errors
/// As [`make`].
pub(crate) fn proof_picture(proof: &ProofAsked, source: &Path, side: u32) -> Result<Vec<u8>, Refusal> {
    one_png(&Asked::Proof { source: SentPath::of(source), side, proof: Box::new(proof.clone()) }, source)
}

fn one_png(asked: &Asked, source: &Path) -> Result<Vec<u8>, Refusal> {
    let hooks = Hooks { rows: &|_, _| {}, checkpoint: &|_| {}, whole: &|_| false, cancel: &|| false, overlay: &|_| {} };
    match ask(asked, source, &hooks)? {
        Last::Small(png) => Ok(png),
        _ => Err(odd(source, "it answered another question")),
    }
}

/// Reads a scan of a chart in a process apart. The picture of what was found comes also where it is refused.
pub(crate) fn scan(answers: &ScanAnswers, source: &Path) -> ScanOutcome {
    let (last, overlay) =
        of_scan(&Asked::Scan { answers: answers.clone(), source: SentPath::of(source) }, source, |last| match last {
            Last::Scan(scan) => Some(*scan),
            _ => None,
        });
    ScanOutcome { read: last, overlay }
}

/// Reads a scan of a print under a step wedge in a process apart, likewise.
pub(crate) fn wedge(answers: &WedgeScanAnswers, source: &Path) -> WedgeOutcome {
    let (last, overlay) =
        of_scan(&Asked::Wedge { answers: answers.clone(), source: SentPath::of(source) }, source, |last| match last {
            Last::Wedge(scan) => Some(*scan),
            _ => None,
        });
    WedgeOutcome { read: last, overlay }
}

/// What is read of a scan, and the picture of what was found.
fn of_scan<T>(
    asked: &Asked,
    source: &Path,
    wanted: impl Fn(Last) -> Option<T>,
) -> (Result<T, Refusal>, Option<Vec<u8>>) {
    let overlay = Mutex::new(None);
    let keep = |png: Vec<u8>| *overlay.lock().unwrap_or_else(PoisonError::into_inner) = Some(png);
    let hooks = Hooks { rows: &|_, _| {}, checkpoint: &|_| {}, whole: &|_| false, cancel: &|| false, overlay: &keep };
    let read = ask(asked, source, &hooks)
        .and_then(|last| wanted(last).ok_or_else(|| odd(source, "it answered another question")));
    // What ends the process is told of pictures; here it is a scan.
    let read = read.map_err(|mut refusal| {
        if refusal.about == Some(Question::Picture) {
            refusal.about = Some(Question::Scan);
        }
        refusal
    });
    (read, overlay.into_inner().unwrap_or_else(PoisonError::into_inner))
}

/// The last word of the process.
enum Last {
    Made(Box<Whole>, Value),
    Small(Vec<u8>),
    Previewed,
    Scan(Box<ChartScan>),
    Wedge(Box<WedgeScan>),
    Fits,
}

fn ask(asked: &Asked, source: &Path, hooks: &Hooks<'_>) -> Result<Last, Refusal> {
    match PROGRAM.get() {
        Some(program) => apart(program.as_os_str(), asked, source, hooks),
        None => Ok(here(asked, source, hooks)?),
    }
}

/// What was said so far.
#[derive(Default)]
struct Heard {
    memory_bytes: Option<u64>,
    seconds: Option<u64>,
    last: Option<Result<Last, Refusal>>,
}

impl Heard {
    /// Takes in a line; gives whether a word is waited for.
    fn hear(&mut self, said: Said, hooks: &Hooks<'_>) -> Option<&'static str> {
        match said {
            Said::Limits { memory_bytes, seconds } => (self.memory_bytes, self.seconds) = (memory_bytes, seconds),
            Said::Seconds(seconds) => self.seconds = seconds,
            Said::Rows(done, of) => (hooks.rows)(done, of),
            Said::Checkpoint(text) => {
                if let Some(own) = bytes(&text) {
                    (hooks.checkpoint)(&own);
                }
            }
            Said::Whole(whole) => {
                // What could not be written down is made all the same; going on later makes it again and finds it the same.
                let _ = (hooks.whole)(&whole);
                return Some(KEPT);
            }
            Said::Made(whole, json) => self.last = Some(Ok(Last::Made(whole, json))),
            Said::Fits => self.last = Some(Ok(Last::Fits)),
            Said::Previewed => self.last = Some(Ok(Last::Previewed)),
            Said::Small(text) => self.last = bytes(&text).map(|own| Ok(Last::Small(own))),
            Said::Overlay(text) => {
                if let Some(own) = bytes(&text) {
                    (hooks.overlay)(own);
                }
            }
            Said::Scan(own) => self.last = own.scan().map(|own| Ok(Last::Scan(Box::new(own)))),
            Said::Wedge(own) => self.last = Some(Ok(Last::Wedge(own))),
            Said::Refused(own) => self.last = Some(Err(own.refusal())),
        }
        None
    }
}

fn apart(program: &OsStr, asked: &Asked, source: &Path, hooks: &Hooks<'_>) -> Result<Last, Refusal> {
    let mut child = Command::new(program)
        .arg(WORD)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(|error| odd(source, &format!("it could not be started: {error}")))?;
    let (messages, heard) = listen(&mut child, asked, hooks);
    let status = child.wait();
    match heard.last {
        Some(last) => last,
        None => {
            if let Asked::Negative(own) = asked
                && !own.kept
            {
                // Nobody goes on with it.
                handcoat_work::negative::forget(&own.target.path());
            }
            Err(ended(source, status.ok(), &messages, &heard))
        }
    }
}

/// Listens until the process has said its last word or is gone. Gives what it wrote to stderr, and what was heard.
fn listen(child: &mut Child, asked: &Asked, hooks: &Hooks<'_>) -> (String, Heard) {
    let mut heard = Heard::default();
    let (Some(input), Some(output), Some(errors)) = (child.stdin.take(), child.stdout.take(), child.stderr.take())
    else {
        return (String::new(), heard);
    };
    let input = Mutex::new(input);
    // A question that does not arrive has no answer, and that is said below.
    if let Ok(line) = serde_json::to_string(asked) {
        tell(&input, &line);
    }
    let over = AtomicBool::new(false);
    let messages = Mutex::new(String::new());
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let mut own = Vec::new();
            let _ = errors.take(MOST_MESSAGES).read_to_end(&mut own);
            *messages.lock().unwrap_or_else(PoisonError::into_inner) = String::from_utf8_lossy(&own).into_owned();
        });
        scope.spawn(|| {
            let mut told = false;
            while !over.load(Ordering::SeqCst) {
                if !told && (hooks.cancel)() {
                    told = true;
                    tell(&input, STOP);
                }
                std::thread::park_timeout(LOOK);
            }
        });
        let mut output = BufReader::new(output);
        let mut line = String::new();
        while heard.last.is_none() {
            line.clear();
            match (&mut output).take(LONGEST).read_line(&mut line) {
                Ok(read) if read > 0 => {}
                _ => break,
            }
            let Ok(said) = serde_json::from_str(&line) else { continue };
            if let Some(word) = heard.hear(said, hooks) {
                tell(&input, word);
            }
        }
        over.store(true, Ordering::SeqCst);
        // Its own end closes the pipe to stderr; a process that said its last word and stays is ended.
        let _ = child.kill();
    });
    (messages.into_inner().unwrap_or_else(PoisonError::into_inner), heard)
}

/// A line to the process; one that is gone hears nothing, and its end says why.
fn tell(input: &Mutex<ChildStdin>, line: &str) {
    let mut input = input.lock().unwrap_or_else(PoisonError::into_inner);
    let _ = input.write_all(line.as_bytes()).and_then(|()| input.write_all(b"\n")).and_then(|()| input.flush());
}

/// The same in this process, where no program was named for it.
fn here(asked: &Asked, source: &Path, hooks: &Hooks<'_>) -> Result<Last, Refusal> {
    let heard = Mutex::new(Heard::default());
    let (send, kept) = channel();
    let cancel = AtomicBool::new((hooks.cancel)());
    let say = |said: Said| {
        if (hooks.cancel)() {
            cancel.store(true, Ordering::SeqCst);
        }
        let word = heard.lock().unwrap_or_else(PoisonError::into_inner).hear(said, hooks);
        if word.is_some() {
            let _ = send.send(());
        }
    };
    work(asked, &Asker { say: &say, kept: Mutex::new(kept), cancel: &cancel }, false);
    let heard = heard.into_inner().unwrap_or_else(PoisonError::into_inner);
    heard.last.unwrap_or_else(|| Err(odd(source, "it said nothing")))
}

/// What it means that the process ended without a last word.
fn ended(source: &Path, status: Option<ExitStatus>, messages: &str, heard: &Heard) -> Refusal {
    let memory = messages.contains("memory allocation of") || messages.contains("failed to spawn thread");
    let named = source.display();
    let refused = |code, cause| Refusal {
        code,
        kind: RefusalKind::Unreadable,
        about: Some(Question::Picture),
        cause,
        excerpt: None,
        remedies: vec![Remedy::OtherPicture],
    };
    if memory {
        let most = heard.memory_bytes.map_or_else(String::new, |own| format!(" than {} MiB", own >> 20));
        return refused("picture_needs_memory", format!("`{named}`: the picture needed more memory{most}"));
    }
    if signal(status) == Some(SIGNAL_OF_TIME) {
        let most = heard.seconds.map_or_else(String::new, |own| format!(" than {own} seconds"));
        let cause = format!("`{named}`: the picture needed more computing{most} from one row to the next");
        return refused("picture_needs_time", cause);
    }
    if signal(status) == Some(SIGNAL_OF_SIZE) {
        let cause = format!(
            "`{named}`: what is made of it is larger than a file may be here; a shell says how large with `ulimit -f`"
        );
        return Refusal::file("file_unwritable", Question::Output, cause, vec![Remedy::MakeRoom, Remedy::AnotherPlace]);
    }
    let how = match (signal(status), status.and_then(|own| own.code())) {
        (Some(signal), _) => format!("signal {signal} ended it"),
        (None, Some(code)) => format!("it ended with code {code}"),
        (None, None) => "it ended".into(),
    };
    odd(source, &how)
}

/// SIGXCPU, of which the kernel sends one when the seconds are used up.
const SIGNAL_OF_TIME: i32 = 24;

/// SIGXFSZ, which the kernel sends when a file would grow beyond the limit of the process.
const SIGNAL_OF_SIZE: i32 = 25;

#[cfg(unix)]
fn signal(status: Option<ExitStatus>) -> Option<i32> {
    use std::os::unix::process::ExitStatusExt as _;
    status?.signal()
}

#[cfg(not(unix))]
fn signal(_status: Option<ExitStatus>) -> Option<i32> {
    None
}

fn odd(source: &Path, how: &str) -> Refusal {
    Refusal {
        code: "picture_process_ended",
        kind: RefusalKind::Failed,
        about: Some(Question::Picture),
        cause: format!("`{}`: the process that works on the picture did not come to an end: {how}", source.display()),
        excerpt: None,
        remedies: vec![Remedy::TryAgain, Remedy::OtherPicture],
    }
}
