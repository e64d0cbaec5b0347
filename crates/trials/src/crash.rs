//! Writers killed with SIGKILL at a random moment: nothing that was acknowledged may be lost.
//!
//! A writer says `try KEY` before an act and `did KEY` (or `not KEY`, when it was refused) after it. What it said before it was killed stays
//! in the pipe. So of every book afterwards: acknowledged ⊆ stored ⊆ tried, and the book agrees with itself.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread::JoinHandle;
use std::time::Duration;

use handcoat_book::{Act, Book};
use handcoat_work::Studio;

use crate::{Dice, moment, some_act};

/// Cycles on one book before a new one is begun: a check replays everything, so a short book keeps a cycle short.
const CYCLES_ON_A_BOOK: usize = 20;
/// Every so many cycles another program opens the book too.
const STRANGER_EVERY: usize = 10;

/// Lanes of [`crash_in_lanes`].
const LANES: usize = 4;

/// What a run came to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Crashed {
    /// Writers were started and killed so often.
    pub cycles: usize,
    /// Acts that were acknowledged before a kill.
    pub acked: usize,
    /// Acts that were tried and had not been acknowledged when the kill came.
    pub open: usize,
    /// Of those, acts that were stored all the same.
    pub stored_unacked: usize,
    /// Keys that were sent again.
    pub sent_again: usize,
    /// Books that SQLite's own command-line program opened too.
    pub by_stranger: usize,
    /// Cycles with two writers at once.
    pub with_two: usize,
    /// Acknowledged acts that were not in the book. A run that ends well has none.
    pub lost: usize,
}

/// The writer: acts on a book without end, saying what it tries and what was done.
///
/// # Errors
/// What is told, when the book does not open or nobody listens any more.
pub fn write(book: &Path, cycle: u64, writer: u64, seed: u64) -> Result<(), String> {
    let mut studio = Studio::open(book).map_err(|refusal| refusal.to_string())?;
    let mut out = std::io::stdout().lock();
    let mut say = |word: &str, key: &str| {
        // One write, so that a line is there whole or not at all.
        out.write_all(format!("{word} {key}\n").as_bytes())
            .and_then(|()| out.flush())
            .map_err(|error| error.to_string())
    };
    for count in 0_i64.. {
        let key = format!("trial-{seed}-{cycle}-{writer}-{count}");
        say("try", &key)?;
        match act_of_key(&mut studio, &key) {
            Ok(()) => say("did", &key)?,
            Err(Told::Refused) => say("not", &key)?,
            Err(Told::Failed(what)) => return Err(what),
        }
    }
    Ok(())
}

/// Why an act was not done: by a rule, or because something is wrong.
enum Told {
    Refused,
    Failed(String),
}

/// The act that belongs to a key: what it asks follows from the key and from the shelf it finds.
fn act_of_key(studio: &mut Studio, key: &str) -> Result<(), Told> {
    use handcoat_work::RefusalKind::{Busy, Damaged, Failed};
    match some_act(studio, &mut Dice::of_text(key), &moment(key, 0)) {
        Ok(_) => Ok(()),
        Err(refusal) if matches!(refusal.kind, Busy | Damaged | Failed) || refusal.code == "entry_not_admitted" => {
            Err(Told::Failed(format!("{key}: {refusal} [{}]", refusal.code)))
        }
        Err(_) => Err(Told::Refused),
    }
}

/// What a writer has said.
#[derive(Default)]
struct Said {
    tried: BTreeSet<String>,
    acked: BTreeSet<String>,
    last: Option<String>,
}

struct Writer {
    child: Child,
    lines: Receiver<String>,
    reader: JoinHandle<()>,
    said: Said,
}

impl Writer {
    fn start(program: &Path, book: &Path, cycle: usize, writer: u64, seed: u64) -> Result<Self, String> {
        let mut child = Command::new(program)
            .args(["write".as_ref(), book.as_os_str()])
            .args([cycle.to_string(), writer.to_string(), seed.to_string()])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .map_err(|error| format!("the writer does not start: {error}"))?;
        let stdout = child.stdout.take().ok_or("the writer has no stdout")?;
        let (sender, lines) = channel();
        let reader = std::thread::spawn(move || {
            for line in BufReader::new(stdout).lines().map_while(Result::ok) {
                if sender.send(line).is_err() {
                    break;
                }
            }
        });
        Ok(Self { child, lines, reader, said: Said::default() })
    }

    fn hear(&mut self, line: &str) {
        let Some((word, key)) = line.split_once(' ') else { return };
        match word {
            "try" => {
                self.said.tried.insert(key.into());
                self.said.last = Some(key.into());
            }
            "did" => {
                self.said.acked.insert(key.into());
                self.said.last = None;
            }
            _ => self.said.last = None,
        }
    }

    /// Waits for so many acknowledged acts, but no longer than half a second.
    fn wait_for(&mut self, acts: usize) {
        while self.said.acked.len() < acts {
            match self.lines.recv_timeout(Duration::from_millis(500)) {
                Ok(line) => self.hear(&line),
                Err(_) => break,
            }
        }
    }

    /// Kills it, and hears what is still in the pipe.
    fn kill(mut self) -> Result<Said, String> {
        // On Unix this is SIGKILL: no handler runs, nothing is flushed.
        self.child.kill().map_err(|error| format!("the writer cannot be killed: {error}"))?;
        let ended = self.child.wait().map_err(|error| error.to_string())?;
        if let Some(code) = ended.code() {
            return Err(format!("the writer ended by itself with {code}"));
        }
        // The reader ends with the pipe, and the channel with the reader: until then there is more to hear.
        while let Ok(line) = self.lines.recv() {
            self.hear(&line);
        }
        self.reader.join().map_err(|_| String::from("the reader of a writer broke"))?;
        Ok(self.said)
    }
}

impl Crashed {
    fn and(self, other: Self) -> Self {
        Self {
            cycles: self.cycles + other.cycles,
            acked: self.acked + other.acked,
            open: self.open + other.open,
            stored_unacked: self.stored_unacked + other.stored_unacked,
            sent_again: self.sent_again + other.sent_again,
            by_stranger: self.by_stranger + other.by_stranger,
            with_two: self.with_two + other.with_two,
            lost: self.lost + other.lost,
        }
    }
}

/// [`crash`] in several lanes side by side, each with books and a seed of its own: most of a cycle is waiting for the disk.
///
/// # Errors
/// What did not hold first.
pub fn crash_in_lanes(program: &Path, folder: &Path, cycles: usize, seed: u64) -> Result<Crashed, String> {
    let share = |lane: usize| cycles / LANES + usize::from(lane < cycles % LANES);
    std::thread::scope(|scope| {
        let lanes: Vec<_> = (0..LANES)
            .map(|lane| {
                let folder = folder.join(format!("lane-{lane}"));
                scope.spawn(move || {
                    std::fs::create_dir_all(&folder).map_err(|error| error.to_string())?;
                    crash(program, &folder, share(lane), seed.wrapping_add(lane as u64))
                })
            })
            .collect();
        lanes.into_iter().try_fold(Crashed::default(), |sum, lane| {
            let run = lane.join().map_err(|_| String::from("a lane broke off"))??;
            Ok(sum.and(run))
        })
    })
}

/// Starts and kills writers; `program` is this crate's own program.
///
/// # Errors
/// What did not hold, with the seed and the cycle it happened in.
pub fn crash(program: &Path, folder: &Path, cycles: usize, seed: u64) -> Result<Crashed, String> {
    let mut dice = Dice::new(seed);
    let mut run = Crashed::default();
    let mut book = PathBuf::new();
    let mut acked = BTreeSet::new();
    let mut tried = BTreeSet::new();
    for cycle in 0..cycles {
        if cycle % CYCLES_ON_A_BOOK == 0 {
            book = folder.join(format!("studio-{cycle}.handcoat"));
            Studio::create(&book).map_err(|refusal| refusal.to_string())?;
            acked.clear();
            tried.clear();
        }
        let told = |what: String| format!("seed {seed}, cycle {cycle}: {what}");
        let two = dice.once_in(4);
        let said = one_kill(program, &book, cycle, seed, two, &mut dice).map_err(told)?;
        run.cycles += 1;
        run.with_two += usize::from(two);
        let mut open = Vec::new();
        for own in said {
            run.acked += own.acked.len();
            acked.extend(own.acked);
            tried.extend(own.tried);
            open.extend(own.last);
        }
        run.open += open.len();
        // As a stranger finds it, before this program has opened it again and taken the log in.
        if cycle % STRANGER_EVERY == STRANGER_EVERY - 1 && stranger(&book, folder).map_err(told)? {
            run.by_stranger += 1;
        }
        // One opening for all that follows: what waits in the log is taken in once.
        let reader = Book::open(&book).map_err(|error| told(format!("it does not open: {error}")))?;
        let mut studio = Studio::open(&book).map_err(|refusal| told(refusal.to_string()))?;
        let stored = sound(&reader, &acked, &tried, &mut run).map_err(told)?;
        run.stored_unacked += open.iter().filter(|key| stored.contains_key(*key)).count();
        // What was asked for and never answered is asked for again; so is one that was answered.
        let answered = acked.iter().nth(usize::try_from(dice.below(acked.len() as u64)).unwrap_or(0));
        for key in open.iter().chain(answered) {
            send_again(&mut studio, &reader, key, stored.get(key.as_str())).map_err(told)?;
            run.sent_again += 1;
        }
    }
    Ok(run)
}

fn one_kill(
    program: &Path,
    book: &Path,
    cycle: usize,
    seed: u64,
    two: bool,
    dice: &mut Dice,
) -> Result<Vec<Said>, String> {
    let mut first = Writer::start(program, book, cycle, 0, seed)?;
    let second = if two { Some(Writer::start(program, book, cycle, 1, seed)?) } else { None };
    // Half the kills come at any moment, the opening of the book included; half in the middle of writing.
    if dice.once_in(2) {
        std::thread::sleep(Duration::from_micros(dice.below(25_000)));
    } else {
        first.wait_for(usize::try_from(1 + dice.below(6)).unwrap_or(1));
        std::thread::sleep(Duration::from_micros(dice.below(3_000)));
    }
    let mut said = vec![first.kill()?];
    if let Some(second) = second {
        // The other goes on a little without it.
        std::thread::sleep(Duration::from_micros(dice.below(4_000)));
        said.push(second.kill()?);
    }
    Ok(said)
}

/// The book after a kill: it opens, agrees with itself, and holds what was acknowledged and nothing that was not tried.
fn sound(
    book: &Book,
    acked: &BTreeSet<String>,
    tried: &BTreeSet<String>,
    run: &mut Crashed,
) -> Result<BTreeMap<String, Act>, String> {
    let findings = book.check().map_err(|error| error.to_string())?;
    if let Some(found) = findings.iter().find(|own| own.kind == handcoat_book::FindingKind::Damage) {
        return Err(format!("{} [{}]", found.what, found.code));
    }
    let stored: BTreeMap<String, Act> = book
        .latest_acts(u32::MAX)
        .map_err(|error| error.to_string())?
        .into_iter()
        .map(|act| (act.key.text().to_owned(), act))
        .collect();
    let lost: Vec<&String> = acked.iter().filter(|key| !stored.contains_key(*key)).collect();
    run.lost += lost.len();
    if let Some(key) = lost.first() {
        return Err(format!("{key} was acknowledged and is not there"));
    }
    if let Some(key) = stored.keys().find(|key| !tried.contains(*key)) {
        return Err(format!("{key} is there and was never tried"));
    }
    sums(book)?;
    // An act of these kinds always moves something: without an entry only half of it was written.
    let journal = book.journal().map_err(|error| error.to_string())?;
    let posted: BTreeSet<_> = journal.entries.iter().map(|(act, _)| *act).collect();
    let moves = ["receive", "mix", "split", "pour", "dilute", "sweep", "loss", "import"];
    match stored.values().find(|act| moves.contains(&act.kind.as_str()) && !posted.contains(&act.number)) {
        Some(act) => Err(format!("act {} ({}) has no entry", act.number, act.kind)),
        None => Ok(stored),
    }
}

fn sums(book: &Book) -> Result<(), String> {
    let mut sums: BTreeMap<String, i128> = BTreeMap::new();
    for (_, commodity, tally) in book.balances().map_err(|error| error.to_string())?.rows() {
        *sums.entry(commodity.to_string()).or_default() += i128::from(tally.to_units());
    }
    match sums.into_iter().find(|(_, sum)| *sum != 0) {
        Some((commodity, sum)) => Err(format!("all accounts together hold {sum} of {commodity}")),
        None => Ok(()),
    }
}

/// Sends an act again under its key: it must be there once afterwards, and as it was if it was there before.
fn send_again(studio: &mut Studio, book: &Book, key: &str, before: Option<&Act>) -> Result<(), String> {
    for _ in 0..2 {
        match act_of_key(studio, key) {
            Err(Told::Failed(what)) => return Err(what),
            // Done now, done before, or refused by a rule: all three are answers.
            Ok(()) | Err(Told::Refused) => {}
        }
    }
    let acts = book.latest_acts(u32::MAX).map_err(|error| error.to_string())?;
    let with_key: Vec<&Act> = acts.iter().filter(|act| act.key.text() == key).collect();
    match (before, with_key.as_slice()) {
        (Some(before), [act]) if act.number == before.number && act.body == before.body => Ok(()),
        (None, [] | [_]) => Ok(()),
        (_, found) => Err(format!("{key} was sent again and is there {} times, or is another act now", found.len())),
    }
}

/// Lets SQLite's own command-line program look at a copy, write-ahead log and all; false where there is none.
fn stranger(path: &Path, folder: &Path) -> Result<bool, String> {
    let (copy, log) = (folder.join("stranger.db"), folder.join("stranger.db-wal"));
    for old in [&copy, &log, &folder.join("stranger.db-shm")] {
        let _ = std::fs::remove_file(old);
    }
    std::fs::copy(path, &copy).map_err(|error| error.to_string())?;
    let mut own_log = path.as_os_str().to_owned();
    own_log.push("-wal");
    if Path::new(&own_log).exists() {
        std::fs::copy(&own_log, &log).map_err(|error| error.to_string())?;
    }
    let sql = "PRAGMA integrity_check; PRAGMA foreign_key_check; \
               SELECT 'sum', commodity, sum(amount) FROM lines GROUP BY commodity HAVING sum(amount) <> 0;";
    let answer = match Command::new("sqlite3").arg(&copy).arg(sql).output() {
        Ok(answer) => answer,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(false),
        Err(error) => return Err(error.to_string()),
    };
    let said = String::from_utf8_lossy(&answer.stdout);
    if answer.status.success() && said.trim() == "ok" {
        return Ok(true);
    }
    Err(format!("sqlite3 says: {said}{}", String::from_utf8_lossy(&answer.stderr)))
}
