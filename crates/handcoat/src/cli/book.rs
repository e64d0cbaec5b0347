//! `handcoat new`, `check`, `backup`, `restore`, `undo`: the book itself.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use clap::Args;
use handcoat_craft::session::{Reading, WallClock};
use handcoat_work::ledger::undo;
use handcoat_work::{Done, Moment, Question, Refusal, RefusalKind, Remedy, Studio};
use jiff::Timestamp;
use serde_json::json;

use super::files;
use crate::web::key;
use crate::{clock, json};

/// Which book, and how the answer is wanted.
#[derive(Debug, Args)]
pub(super) struct BookArgs {
    /// The book [default: $HANDCOAT_BOOK]
    #[arg(long, value_name = "FILE")]
    pub(super) book: Option<PathBuf>,
    /// Answer as JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Which of what is kept of set-ups is listed.
#[derive(Debug, Args)]
pub(super) struct OfSetupArgs {
    /// Only those of this set-up
    #[arg(long, value_name = "NAME")]
    pub(super) setup: Option<String>,
    #[command(flatten)]
    pub(super) whose: BookArgs,
}

/// What every act may say besides.
#[derive(Debug, Args)]
pub(super) struct ActArgs {
    #[command(flatten)]
    pub(super) whose: BookArgs,
    /// When it was done, if not now: 2026-03-14T10:30Z
    #[arg(long, value_name = "INSTANT")]
    at: Option<String>,
    /// The key of the act; the same key twice does it once
    #[arg(long, value_name = "KEY")]
    key: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct NewArgs {
    /// The file to make; it must not exist
    file: PathBuf,
    /// Answer as JSON
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Args)]
pub(super) struct CheckArgs {
    /// Notices count as well
    #[arg(long)]
    strict: bool,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(super) struct BackupArgs {
    /// The copy to write; it must not exist
    file: PathBuf,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(super) struct RestoreArgs {
    /// The copy to put in the book's place
    copy: PathBuf,
    /// Do it; without, only say what would be done
    #[arg(long)]
    yes: bool,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(super) struct UndoArgs {
    /// Number of the act
    act: String,
    #[command(flatten)]
    act_args: ActArgs,
}

impl BookArgs {
    pub(super) fn path(&self) -> Result<PathBuf, Refusal> {
        let from_environment = || std::env::var_os("HANDCOAT_BOOK").filter(|own| !own.is_empty()).map(PathBuf::from);
        self.book.clone().or_else(from_environment).ok_or_else(|| Refusal {
            code: "book_not_named",
            kind: RefusalKind::Unreadable,
            about: Some(Question::Book),
            cause: "it is not said which book; name it here or in HANDCOAT_BOOK".into(),
            excerpt: None,
            remedies: vec![Remedy::Write(Question::Book, "studio.handcoat".into()), Remedy::MakeBook],
        })
    }

    pub(super) fn open(&self) -> Result<Studio, Refusal> {
        Studio::open(&self.path()?)
    }
}

impl ActArgs {
    /// When, by whom and under which key; only this door reads a clock and a random source.
    pub(super) fn moment(&self) -> Result<Moment, Refusal> {
        let at = match &self.at {
            None => clock::now(),
            Some(text) => read_instant(text)?,
        };
        let key = match &self.key {
            Some(key) => key.clone(),
            None => fresh_key()?,
        };
        Ok(Moment { at, who: "command line".into(), key })
    }
}

impl ActArgs {
    /// Whether a key was said, so that the same act may be asked for twice.
    pub(super) fn keyed(&self) -> bool {
        self.key.is_some()
    }

    /// Both clocks; where an instant is stated, that one, and no clock of the machine beside it.
    pub(super) fn reading(&self) -> Result<Reading, Refusal> {
        let Some(text) = &self.at else { return Ok(clock::reading()) };
        let wall = WallClock::milliseconds(read_instant(text)?.as_millisecond());
        Ok(Reading { wall, boot: None })
    }
}

pub(super) fn read_instant(text: &str) -> Result<Timestamp, Refusal> {
    text.trim().parse().map_err(|_| Refusal {
        code: "instant_unreadable",
        kind: RefusalKind::Unreadable,
        about: Some(Question::Instant),
        cause: format!("`{text}` is no instant; expected day, time and zone as `2026-03-14T10:30Z`"),
        excerpt: None,
        remedies: vec![Remedy::Write(Question::Instant, "2026-03-14T10:30Z".into())],
    })
}

/// Without random numbers a maker can still say a key of their own.
fn fresh_key() -> Result<String, Refusal> {
    key("cli").map_err(|refusal| {
        let remedies = vec![Remedy::Write(Question::Key, "a-key-of-my-own-1".into())];
        Refusal { about: Some(Question::Key), remedies, ..refusal }
    })
}

pub(super) fn run_new(args: &NewArgs) -> Result<String, Refusal> {
    Studio::create(&args.file)?;
    if args.json {
        return Ok(json::lines(&json!({ "book": args.file.display().to_string() })));
    }
    let path = args.file.display();
    Ok(format!(
        "A new book is in {path}.\nName it once: export HANDCOAT_BOOK={path}\nThen: handcoat stock receive PdCl2 --mass 10g --price 480 --currency EUR\n"
    ))
}

pub(super) fn run_check(args: &CheckArgs) -> Result<String, Refusal> {
    let found = args.whose.open()?.check()?;
    let counts = if args.strict { &found.notices[..] } else { &[] };
    if let Some((code, what)) = found.damage.first().or_else(|| counts.first()) {
        let more = found.damage.len() + counts.len() - 1;
        let more = if more == 0 { String::new() } else { format!(" (and {more} more)") };
        let cause = format!("{what} [{code}]{more}");
        let about = Some(Question::Book);
        return Err(if found.damage.is_empty() {
            let remedies = vec![Remedy::ShowShelf];
            Refusal { code: "book_notices", kind: RefusalKind::Refused, about, cause, excerpt: None, remedies }
        } else {
            let remedies = vec![Remedy::RestoreCopy];
            Refusal { code: "book_damaged", kind: RefusalKind::Damaged, about, cause, excerpt: None, remedies }
        });
    }
    if args.whose.json {
        let notices: Vec<_> =
            found.notices.iter().map(|(code, what)| json!({ "code": code, "message": what })).collect();
        return Ok(json::lines(&json!({ "sound": true, "notices": notices })));
    }
    let mut out = String::from("The book is sound: every entry sums to zero, and replayed it gives what it shows.\n");
    for (code, what) in &found.notices {
        let _ = writeln!(out, "  {what} [{code}]");
    }
    Ok(out)
}

pub(super) fn run_backup(args: &BackupArgs) -> Result<String, Refusal> {
    if files::occupied(&args.file) {
        return Err(Refusal::occupied(Question::Copy, &args.file));
    }
    args.whose.open()?.backup(&args.file)?;
    if args.whose.json {
        return Ok(json::lines(&json!({ "copy": args.file.display().to_string(), "checked": true })));
    }
    Ok(format!("A copy is in {}, opened and checked.\n", args.file.display()))
}

pub(super) fn run_restore(args: &RestoreArgs) -> Result<String, Refusal> {
    let path = args.whose.path()?;
    let aside = aside(&path);
    if !args.yes {
        // The copy is opened and checked, and nothing else is done.
        let copy = Studio::open(&args.copy)?;
        if let Some((code, what)) = copy.check()?.damage.first() {
            return Err(Refusal {
                code: "book_damaged",
                kind: RefusalKind::Damaged,
                about: Some(Question::Copy),
                cause: format!("in the copy: {what} [{code}]"),
                excerpt: None,
                remedies: vec![Remedy::AnotherName],
            });
        }
        if args.whose.json {
            return Ok(json::lines(&json!({ "would_restore": true, "kept_in": aside.display().to_string() })));
        }
        return Ok(format!(
            "The copy is sound. With --yes it takes the place of {}; what is there now is kept in {}.\n",
            path.display(),
            aside.display()
        ));
    }
    args.whose.open()?.restore(&args.copy, &aside)?;
    if args.whose.json {
        return Ok(json::lines(&json!({ "restored": true, "kept_in": aside.display().to_string() })));
    }
    Ok(format!("{} holds the copy now. What was there is kept in {}.\n", path.display(), aside.display()))
}

/// A free name beside the book for what is in it now.
fn aside(path: &Path) -> PathBuf {
    let mut names = (1..).map(|count| {
        let mut name = path.file_name().unwrap_or_default().to_owned();
        name.push(format!(".before-restore-{count}"));
        path.with_file_name(name)
    });
    // OK because a folder is finite and the numbers are not.
    names.find(|name| !files::occupied(name)).expect("BUG: every name is taken")
}

pub(super) fn run_undo(args: &UndoArgs) -> Result<String, Refusal> {
    let mut studio = args.act_args.whose.open()?;
    let done = undo(&mut studio, &args.act_args.moment()?, &args.act)?;
    Ok(done_text(&done, &args.act_args.whose))
}

/// An act's answer, as words or as JSON.
pub(super) fn done_text(done: &Done, whose: &BookArgs) -> String {
    if whose.json {
        return json::lines(&json::ledger::done(done));
    }
    let mut out = String::new();
    for sentence in &done.said {
        let _ = writeln!(out, "{sentence}");
    }
    if done.repeated {
        let _ = writeln!(out, "This was act {} already; nothing was done twice.", done.act);
    } else if done.kind == "undo" {
        let _ = writeln!(out, "That is act {}.", done.act);
    } else {
        let _ = writeln!(out, "Act {}. To take it back: handcoat undo {}", done.act, done.act);
    }
    out
}
