//! The process that works on a picture: one thing is asked, and it ends.

use std::io::{BufRead as _, Read as _, Write as _};
use std::path::Path;
use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, channel};
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use handcoat_work::Refusal;
use handcoat_work::expose::read_wedge_scan;
use handcoat_work::negative::{
    Checkpoint, FileFacts, Hooks, Negative, SentRefusal, Whole, check_fits, make, preview, small_picture,
};
use handcoat_work::tone::{SentScan, proof_picture, read_scan};

use super::limits;
use super::said::{Asked, AskedNegative, KEPT, STOP, Said, bytes, hexadecimal};
use crate::cli::negative_lines;
use crate::json;

/// From one word of progress to the next.
const BETWEEN: Duration = Duration::from_millis(50);
/// A question is at most so long: a curve has a thousand points, a checkpoint a few kilobytes.
const LONGEST: u64 = 64 << 20;

/// Who asked: what is said goes there, and words come back.
pub(super) struct Asker<'a> {
    pub(super) say: &'a (dyn Fn(Said) + Sync),
    /// Words that the file may have its name.
    pub(super) kept: Mutex<Receiver<()>>,
    pub(super) cancel: &'a AtomicBool,
}

/// Reads the question and the words after it from stdin, and says everything on stdout.
pub(super) fn run() -> ExitCode {
    let limits = limits::set();
    let seconds = limits::more_seconds(limits::SECONDS_TO_OPEN);
    static CANCEL: AtomicBool = AtomicBool::new(false);
    let (send, kept) = channel();
    let mut line = String::new();
    let read = std::io::stdin().lock().take(LONGEST).read_line(&mut line);
    let Ok(Ok(asked)) = read.map(|_| serde_json::from_str::<Asked>(&line)) else { return ExitCode::from(2) };
    let listener = std::thread::Builder::new().name("words".into()).spawn(move || {
        for word in std::io::stdin().lock().lines().map_while(Result::ok) {
            match word.as_str() {
                KEPT => {
                    let _ = send.send(());
                }
                STOP => CANCEL.store(true, Ordering::SeqCst),
                _ => {}
            }
        }
        // Who asked is gone: nobody wants it any more, and what is written stays for going on.
        std::process::exit(1);
    });
    if listener.is_err() {
        return ExitCode::from(1);
    }
    let say = |said: Said| {
        let Ok(mut line) = serde_json::to_string(&said) else { return };
        line.push('\n');
        let mut out = std::io::stdout().lock();
        if out.write_all(line.as_bytes()).and_then(|()| out.flush()).is_err() {
            std::process::exit(1);
        }
    };
    say(Said::Limits { memory_bytes: limits.memory_bytes, seconds });
    work(&asked, &Asker { say: &say, kept: Mutex::new(kept), cancel: &CANCEL }, true);
    ExitCode::SUCCESS
}

/// Does what is asked; `limited` says whether this process is one apart, whose seconds are counted.
pub(super) fn work(asked: &Asked, asker: &Asker<'_>, limited: bool) {
    let outcome = match asked {
        Asked::Negative(own) => negative(own, asker, limited),
        Asked::Preview(own) => {
            if limited {
                limits::more_seconds(seconds_of(own));
            }
            let hooks = Hooks::of(&|_, _| {}, asker.cancel);
            let curve = own.curve.curve();
            preview(&own.answers, &own.source.path(), &own.target.path(), &curve, &own.known, &hooks)
                .map(|()| (asker.say)(Said::Previewed))
        }
        Asked::Fits(own) => check_fits(&own.answers, &own.source.path(), &own.target.path(), &own.curve.curve())
            .map(|()| (asker.say)(Said::Fits)),
        Asked::Small { source, side } => small_picture(&source.path(), *side).map(|png| {
            (asker.say)(Said::Small(hexadecimal(&png)));
        }),
        Asked::Proof { source, side, proof } => proof_picture(proof, &source.path(), *side).map(|png| {
            (asker.say)(Said::Small(hexadecimal(&png)));
        }),
        Asked::Scan { answers, source } => {
            let source = source.path();
            file_is_known(&source, asker, limited);
            let outcome = read_scan(answers, &source);
            overlay(outcome.overlay.as_deref(), asker);
            outcome.read.map(|own| (asker.say)(Said::Scan(Box::new(SentScan::of(&own)))))
        }
        Asked::Wedge { answers, source } => {
            let source = source.path();
            file_is_known(&source, asker, limited);
            let outcome = read_wedge_scan(answers, &source);
            overlay(outcome.overlay.as_deref(), asker);
            outcome.read.map(|own| (asker.say)(Said::Wedge(Box::new(own))))
        }
    };
    if let Err(refusal) = outcome {
        (asker.say)(Said::Refused(SentRefusal::of(&refusal)));
    }
}

/// From now on there are as many seconds as a file of that size may need.
fn file_is_known(source: &Path, asker: &Asker<'_>, limited: bool) {
    if limited {
        let seconds = limits::seconds_for(std::fs::metadata(source).map_or(0, |own| own.len()));
        (asker.say)(Said::Seconds(limits::more_seconds(seconds)));
    }
}

/// The picture of what was found goes first.
fn overlay(png: Option<&[u8]>, asker: &Asker<'_>) {
    if let Some(png) = png {
        (asker.say)(Said::Overlay(hexadecimal(png)));
    }
}

/// Seconds of computing until there is a sign of progress: each picture is read once before it is worked on, for its SHA-256.
fn seconds_of(asked: &AskedNegative) -> u64 {
    let sources = std::iter::once(asked.source.path()).chain(asked.answers.also.iter().cloned());
    limits::seconds_for(sources.map(|own| std::fs::metadata(own).map_or(0, |own| own.len())).sum())
}

fn negative(asked: &AskedNegative, asker: &Asker<'_>, limited: bool) -> Result<(), Refusal> {
    if limited && asked.yields {
        limits::yields();
    }
    let (source, target) = (asked.source.path(), asked.target.path());
    let seconds = seconds_of(asked);
    let begun = Instant::now();
    let told = AtomicU64::new(0);
    let rows = |done: u32, of: u32| {
        let now = begun.elapsed();
        let last = told.load(Ordering::Relaxed);
        if limited {
            limits::more_seconds(seconds);
        }
        if done == of || now.saturating_sub(Duration::from_micros(last)) >= BETWEEN {
            told.store(u64::try_from(now.as_micros()).unwrap_or(last), Ordering::Relaxed);
            (asker.say)(Said::Rows(done, of));
        }
    };
    // What is to be known of the pictures is on record with the rest.
    let noted = |mut own: Negative| {
        own.warnings.extend(asked.changed.iter().map(|said| ("picture_changed", said.clone())));
        own
    };
    let whole_of = |negative: &Negative| Whole { facts: FileFacts::of(negative), lines: negative_lines(negative) };
    let checkpoint = |own: &Checkpoint| (asker.say)(Said::Checkpoint(hexadecimal(&own.to_bytes())));
    let whole = |negative: &Negative| {
        if asked.kept {
            (asker.say)(Said::Whole(Box::new(whole_of(&noted(negative.clone())))));
            // Who asked writes it down first. When it cannot, it is gone or says stop, and the file is as good without.
            let _ = asker.kept.lock().unwrap_or_else(PoisonError::into_inner).recv();
        }
    };
    if limited {
        (asker.say)(Said::Seconds(limits::more_seconds(seconds)));
    }
    let hooks = Hooks {
        progress: &rows,
        cancel: asker.cancel,
        checkpoint: if asked.kept { Some(&checkpoint) } else { None },
        resume: asked.resume.as_deref().and_then(bytes).and_then(|own| Checkpoint::from_bytes(&own)),
        whole: &whole,
    };
    let made = noted(make(&asked.answers, &source, &target, &asked.curve.curve(), &hooks)?);
    let told = json::negative::made(&made, &target, None, begun.elapsed().as_secs_f64());
    (asker.say)(Said::Made(Box::new(whole_of(&made)), told));
    Ok(())
}
