//! The strips go through, on all cores; the bytes are the same whatever their number, and after a kill.
//!
//! A sheet is made in bands of rows whose height is a matter of the job alone. Each thread takes the next band, reads the rows it needs, makes
//! it and packs it by itself; only reading what is packed in the file and diffusing errors go in turn, and writing in order.

mod band;
mod checkpoint;
mod feed;
mod finish;
mod queue;
mod spill;
mod turn;

use std::io::{self, ErrorKind};
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, PoisonError};

use sha2::{Digest, Sha256};
use thiserror::Error;

use crate::dither::{Diffusion, Dither};
use crate::refused::Refused;
use crate::sheet::{Job, NoJob, Output};
use crate::write::{Format, Packing, Part, PngFile, Shape, TiffFile, adler_of_both};

pub use checkpoint::Checkpoint;

use band::Worker;
use checkpoint::Strip;
use feed::Feeds;
use queue::Queue;
use turn::Turn;

/// How far it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Rows of the sheet that are written.
    pub rows: u32,
    /// Rows of the sheet.
    pub of: u32,
}

/// How often a checkpoint is handed out, and to whom.
#[derive(Clone, Copy)]
pub struct Checkpoints<'a> {
    /// Bands from one to the next.
    pub every: u32,
    /// Keeps it. It is called in turn, and the line waits for it.
    pub keep: &'a (dyn Fn(&Checkpoint) + Sync),
}

/// What goes along while a sheet is made.
pub struct Run<'a> {
    /// Threads that work, each core's when nothing is said.
    pub threads: Option<NonZeroUsize>,
    /// Told after each band.
    pub progress: &'a (dyn Fn(Progress) + Sync),
    /// Looked at before each band.
    pub cancel: &'a AtomicBool,
    /// Where to go on after a kill, when that is wanted; what was made up to it is on the disk when [`Run::durable`] is set.
    pub checkpoint: Option<Checkpoints<'a>>,
    /// Where to go on. What does not fit the unfinished file is not used, and it begins from the first row.
    pub resume: Option<Checkpoint>,
    /// Whether to wait for the disk, at checkpoints and before the file gets its name.
    pub durable: bool,
    /// Told what was made before the file gets its name: who keeps it knows the file again, whatever happens then.
    pub whole: &'a (dyn Fn(&Made) + Sync),
}

static NEVER: AtomicBool = AtomicBool::new(false);

impl Default for Run<'_> {
    fn default() -> Self {
        Self {
            threads: None,
            progress: &|_| {},
            cancel: &NEVER,
            checkpoint: None,
            resume: None,
            durable: false,
            whole: &|_| {},
        }
    }
}

/// A sheet that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Made {
    /// Pixels across.
    pub width_px: u32,
    /// Pixels down.
    pub height_px: u32,
    /// Of the whole file, in hexadecimal.
    pub sha256: String,
    /// Bytes of the file.
    pub bytes: u64,
    /// Rows that were taken over from an earlier run.
    pub resumed_rows: u32,
}

/// A sheet that was not made. Nothing stands under the name that was asked for.
#[derive(Debug, Error)]
pub enum NotMade {
    /// The job contradicts itself.
    #[error(transparent)]
    Job(#[from] NoJob),
    /// A picture was refused.
    #[error("picture {number}: {refused}")]
    Picture {
        /// Which of the job, from 1.
        number: usize,
        /// Why.
        refused: Refused,
    },
    /// There is a file of that name.
    #[error("there is a file `{}` already; nothing is written over it", path.display())]
    Exists {
        /// The name.
        path: PathBuf,
    },
    /// Another process makes it.
    #[error("`{}` is being made by another process", path.display())]
    Busy {
        /// The name.
        path: PathBuf,
    },
    /// The file system said no.
    #[error("`{}` cannot be written: {source}", path.display())]
    Write {
        /// The name.
        path: PathBuf,
        /// What it said.
        source: io::Error,
    },
    /// Somebody asked to stop. What was made is kept for going on when there was a checkpoint.
    #[error("stopped after {rows} of {of} rows")]
    Stopped {
        /// Rows that were written.
        rows: u32,
        /// Rows of the sheet.
        of: u32,
    },
}

/// What was decided before the first band.
struct Plan<'a> {
    job: &'a Job,
    shape: Shape,
    band_rows: u32,
    bands: u32,
    file: Kind,
}

/// The file that is written.
enum Kind {
    Tiff(TiffFile),
    Png(PngFile),
}

impl Kind {
    /// Whether the bytes are hashed as they are written; what is packed in a TIFF has its directory's place at the front, known last.
    fn hashes_along(&self) -> bool {
        match self {
            Self::Tiff(file) => file.packing == Packing::None,
            Self::Png(_) => true,
        }
    }

    fn front(&self) -> Vec<u8> {
        match self {
            Self::Tiff(file) => file.front(),
            Self::Png(file) => file.front(),
        }
    }
}

/// Bands that may wait beside those that are worked on.
const ROOM: u32 = 2;

/// A band that is to be written.
struct Finished {
    bytes: Vec<u8>,
    /// Of PNG: the checksum of its lines and their length.
    lines: (u32, u64),
    /// What its last row left, when a checkpoint comes after it.
    left: Option<Vec<i32>>,
}

/// What goes from band to band, in their order.
struct Written {
    /// Where the next strip goes.
    at: u64,
    hash: Sha256,
    strips: Vec<Strip>,
    /// The checksum of PNG's lines so far.
    sum: u32,
}

impl<'a> Plan<'a> {
    fn of(job: &'a Job) -> Self {
        let (samples, bytes) = job.output.shape();
        let shape = Shape { width: job.sheet.width as usize, samples, bytes };
        let (height, band_rows) = (job.sheet.height, job.band_rows());
        let (ppi, profile, note) = (job.ppi.per_inch(), job.profile.clone(), job.note.clone());
        let file = match job.format {
            Format::Tiff(packing) => Kind::Tiff(TiffFile { shape, height, band_rows, packing, ppi, profile, note }),
            Format::Png => {
                Kind::Png(PngFile { shape, height, ppi, profile, note, srgb: matches!(job.output, Output::Colours(_)) })
            }
        };
        Self { job, shape, band_rows, bands: height.div_ceil(band_rows), file }
    }

    /// Rows of the sheet before a band.
    fn rows_before(&self, band: u32) -> u32 {
        band.saturating_mul(self.band_rows).min(self.job.sheet.height)
    }

    fn row_bytes(&self) -> u64 {
        (self.shape.width * self.shape.samples * self.shape.bytes) as u64
    }

    fn progress(&self, bands: u32) -> Progress {
        Progress { rows: self.rows_before(bands), of: self.job.sheet.height }
    }

    fn diffuses(&self) -> bool {
        self.job.output == Output::Eight(Dither::Diffusion)
    }
}

/// Makes a sheet and writes it to `target`, which gets its name when it is whole.
///
/// # Errors
/// [`NotMade`]. After a refusal or a fault of the file system the unfinished file is gone; after a stop it is kept when checkpoints were asked
/// for.
pub fn make(job: &Job, target: &Path, run: &Run<'_>) -> Result<Made, NotMade> {
    job.check()?;
    let plan = Plan::of(job);
    let at_target = |source: io::Error| write_error(target, source);
    if target.try_exists().map_err(at_target)? {
        return Err(NotMade::Exists { path: target.to_owned() });
    }
    let part = Part::open(target).map_err(at_target)?;
    let made = through(&plan, &part, target, run);
    match made {
        Ok(made) => {
            (run.whole)(&made);
            part.publish(run.durable).map_err(at_target)?;
            Ok(made)
        }
        Err(stopped @ NotMade::Stopped { .. }) if run.checkpoint.is_some() => Err(stopped),
        Err(other) => {
            part.discard();
            Err(other)
        }
    }
}

fn write_error(target: &Path, source: io::Error) -> NotMade {
    let path = target.to_owned();
    match source.kind() {
        ErrorKind::AlreadyExists => NotMade::Exists { path },
        ErrorKind::ResourceBusy => NotMade::Busy { path },
        _ => NotMade::Write { path, source },
    }
}

fn through(plan: &Plan<'_>, part: &Part, target: &Path, run: &Run<'_>) -> Result<Made, NotMade> {
    let mark = checkpoint::mark(plan.job);
    let (done, written, diffusion) =
        checkpoint::begin(plan, part, mark, run.resume.as_ref()).map_err(|source| write_error(target, source))?;
    let diffusion = diffusion.unwrap_or_else(|| Diffusion::new(plan.shape.width));
    let feeds = Feeds::open(plan.job, plan.rows_before(done), target, run.cancel)?;
    let threads = run.threads.or_else(|| std::thread::available_parallelism().ok()).map_or(1, NonZeroUsize::get);
    let threads = threads.min((plan.bands - done).max(1) as usize);

    let line = Line {
        plan,
        part,
        target,
        run,
        mark,
        reading: Turn::new(done, ()),
        diffusing: Turn::new(done, diffusion),
        queue: Queue::new(done, threads as u32 + ROOM),
        written: Mutex::new(written),
        spare: Mutex::new(Vec::new()),
        feeds: &feeds,
    };
    let next = std::sync::atomic::AtomicU32::new(done);
    let outcomes: Vec<Result<(), NotMade>> = std::thread::scope(|scope| {
        let work = || line.work(&next);
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(work)).collect();
        let mut outcomes = vec![work()];
        // A thread that panicked has a fault of ours; the others stop and it is handed on.
        outcomes.extend(others.into_iter().map(|other| match other.join() {
            Ok(outcome) => outcome,
            Err(panic) => std::panic::resume_unwind(panic),
        }));
        outcomes
    });
    // What went wrong first is what is told; the others only stopped after it.
    let mut stopped = None;
    for outcome in outcomes {
        match outcome {
            Ok(()) => {}
            Err(own @ NotMade::Stopped { .. }) => stopped = Some(own),
            Err(other) => return Err(other),
        }
    }
    if let Some(stopped) = stopped {
        return Err(stopped);
    }
    let written = line.written.into_inner().unwrap_or_else(PoisonError::into_inner);
    let (bytes, sha256) = finish::finish(plan, part, written).map_err(|source| write_error(target, source))?;
    Ok(Made {
        width_px: plan.job.sheet.width,
        height_px: plan.job.sheet.height,
        sha256,
        bytes,
        resumed_rows: plan.rows_before(done),
    })
}

/// What all threads share.
struct Line<'a> {
    plan: &'a Plan<'a>,
    part: &'a Part,
    target: &'a Path,
    run: &'a Run<'a>,
    mark: [u8; 32],
    reading: Turn<()>,
    diffusing: Turn<Diffusion>,
    queue: Queue<Finished>,
    /// Only who writes has it.
    written: Mutex<Written>,
    /// Buffers of bands that were written.
    spare: Mutex<Vec<Vec<u8>>>,
    feeds: &'a Feeds<'a>,
}

impl Line<'_> {
    /// One thread: band after band.
    fn work(&self, next: &std::sync::atomic::AtomicU32) -> Result<(), NotMade> {
        let outcome = self.bands(next);
        if outcome.is_err() {
            self.stop();
        }
        outcome
    }

    /// Lets nobody wait for a turn that will not come.
    fn stop(&self) {
        self.reading.stop();
        self.diffusing.stop();
        self.queue.stop();
    }

    fn stopped(&self) -> NotMade {
        let Progress { rows, of } = self.plan.progress(self.queue.passed());
        NotMade::Stopped { rows, of }
    }

    fn bands(&self, next: &std::sync::atomic::AtomicU32) -> Result<(), NotMade> {
        // Should this thread panic, nobody waits for it.
        let guard = StopOnPanic(self);
        let mut worker = Worker::new(self.plan, self.feeds);
        loop {
            if self.run.cancel.load(Ordering::Relaxed) {
                return Err(self.stopped());
            }
            let band = next.fetch_add(1, Ordering::Relaxed);
            if band >= self.plan.bands {
                std::mem::forget(guard);
                return Ok(());
            }
            self.band(&mut worker, band)?;
        }
    }

    fn band(&self, worker: &mut Worker<'_>, band: u32) -> Result<(), NotMade> {
        let refused = |(number, refused)| NotMade::Picture { number: number + 1, refused };
        if !self.queue.has_room(band) {
            return Err(self.stopped());
        }
        if self.feeds.go_in_turn() {
            let turn = self.reading.wait(band).ok_or_else(|| self.stopped())?;
            worker.read_in_turn(band).map_err(refused)?;
            drop(turn);
        }
        worker.read_anywhere(band).map_err(refused)?;
        worker.paint(band);
        let mut left = None;
        if self.plan.diffuses() {
            let mut turn = self.diffusing.wait(band).ok_or_else(|| self.stopped())?;
            worker.diffuse(band, turn.get());
            left = self.is_checkpoint(band).then(|| turn.get().left().to_vec());
        } else {
            worker.lay_out(band);
        }
        let mut lines = (0, 0);
        match &self.plan.file {
            // Where it goes is known, so that it is written beside the others.
            Kind::Tiff(file) if file.packing == Packing::None => {
                let before = u64::from(self.plan.rows_before(band)) * self.plan.row_bytes();
                let at = file.begin() + before;
                self.part.write_at(at, worker.rows()).map_err(|source| write_error(self.target, source))?;
            }
            Kind::Tiff(file) => worker.pack(file.packing),
            Kind::Png(file) => lines = worker.pack_png(file),
        }
        let spare = self.spare.lock().unwrap_or_else(PoisonError::into_inner).pop().unwrap_or_default();
        let plain = matches!(&self.plan.file, Kind::Tiff(file) if file.packing == Packing::None);
        let bytes = if plain { worker.take_rows(spare) } else { worker.take_packed(spare) };
        let finished = Finished { bytes, lines, left };
        self.queue.bring(band, finished, |band, own| self.write(band, own)).ok_or_else(|| self.stopped())?
    }

    /// Writes a band, in its order.
    fn write(&self, band: u32, own: Finished) -> Result<(), NotMade> {
        let mut written = self.written.lock().unwrap_or_else(PoisonError::into_inner);
        let write = |at: u64| self.part.write_at(at, &own.bytes).map_err(|source| write_error(self.target, source));
        match &self.plan.file {
            Kind::Tiff(file) if file.packing == Packing::None => written.hash.update(&own.bytes),
            Kind::Tiff(_) => write(written.at)?,
            Kind::Png(_) => {
                write(written.at)?;
                written.hash.update(&own.bytes);
                written.sum = adler_of_both(written.sum, own.lines.0, own.lines.1);
            }
        }
        self.passed(band, &mut written, &own.bytes, own.left)?;
        self.spare.lock().unwrap_or_else(PoisonError::into_inner).push(own.bytes);
        Ok(())
    }

    /// Whether there is a checkpoint behind a band.
    fn is_checkpoint(&self, band: u32) -> bool {
        self.run.checkpoint.is_some_and(|own| (band + 1).is_multiple_of(own.every.max(1)))
    }

    /// Counts a band that is written.
    fn passed(&self, band: u32, written: &mut Written, strip: &[u8], left: Option<Vec<i32>>) -> Result<(), NotMade> {
        // Checksums of strips are only for going on later.
        let sum = if self.run.checkpoint.is_some() { crc32fast::hash(strip) } else { 0 };
        written.at += strip.len() as u64;
        written.strips.push(Strip { bytes: strip.len() as u64, sum });
        (self.run.progress)(self.plan.progress(band + 1));
        if let Some(own) = self.run.checkpoint.filter(|_| self.is_checkpoint(band)) {
            if self.run.durable {
                self.part.sync().map_err(|source| write_error(self.target, source))?;
            }
            (own.keep)(&Checkpoint::of(self.mark, written, left));
        }
        Ok(())
    }
}

/// Stops all when its thread unwinds or returns early.
struct StopOnPanic<'a, 'b>(&'a Line<'b>);

impl Drop for StopOnPanic<'_, '_> {
    fn drop(&mut self) {
        self.0.stop();
    }
}
