//! What the process that opens pictures may take at most. Judgement, no source: several times what the largest picture within the budget
//! of its header was seen to take, and little enough that a studio's computer goes on.

/// Memory of the whole process, before its threads: a JPEG of the largest size taken is unpacked as a whole and needs about half of it.
const MEMORY: u64 = 1_500 << 20;
/// And for each thread: its stack, and the room the allocator sets aside for it.
const MEMORY_PER_THREAD: u64 = 144 << 20;
/// Threads that are counted at most.
const MOST_THREADS: u64 = 64;
/// Files it may have open: picture, negative, spill and its three pipes, several times over.
const FILES: u64 = 64;
/// Seconds of computing until the header was read and held against its budget.
pub(super) const SECONDS_TO_OPEN: u64 = 20;
/// Seconds from one sign of progress to the next, and for so many bytes of the file one more: a first band may need all of it.
const SECONDS: u64 = 60;
const BYTES_PER_SECOND: u64 = 1 << 20;

/// Limits as they came to be: none where the system has none.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Limits {
    pub(super) memory_bytes: Option<u64>,
}

/// Seconds of computing from one sign of progress to the next, for a file of so many bytes.
pub(super) fn seconds_for(bytes: u64) -> u64 {
    SECONDS + bytes / BYTES_PER_SECOND
}

#[cfg(target_os = "linux")]
mod own {
    use rustix::process::{Resource, Rlimit, getrlimit, nice, setrlimit};
    use rustix::time::{ClockId, clock_gettime};

    use super::{FILES, Limits, MEMORY, MEMORY_PER_THREAD, MOST_THREADS};

    /// The lower of what is wanted and what the process was given; none where it could not be set.
    fn lower(what: Resource, wanted: u64) -> Option<u64> {
        let most = getrlimit(what).maximum.map_or(wanted, |own| own.min(wanted));
        setrlimit(what, Rlimit { current: Some(most), maximum: Some(most) }).ok()?;
        Some(most)
    }

    pub(in crate::apart) fn set() -> Limits {
        let threads = std::thread::available_parallelism().map_or(1, |own| own.get() as u64).min(MOST_THREADS);
        let memory_bytes = lower(Resource::As, MEMORY + threads * MEMORY_PER_THREAD);
        let _ = (lower(Resource::Nofile, FILES), lower(Resource::Core, 0));
        Limits { memory_bytes }
    }

    /// So many seconds of computing more than were used so far; then the kernel ends the process. None where it could not be set.
    pub(in crate::apart) fn more_seconds(seconds: u64) -> Option<u64> {
        let used = clock_gettime(ClockId::ProcessCPUTime);
        let used = u64::try_from(used.tv_sec).ok()?;
        let until = used.saturating_add(seconds).saturating_add(1);
        let maximum = getrlimit(Resource::Cpu).maximum;
        // Below what the process was given, so that the signal is that of time and not the one of any kill.
        let until = maximum.map_or(until, |own| own.saturating_sub(1).max(1).min(until));
        setrlimit(Resource::Cpu, Rlimit { current: Some(until), maximum }).ok()?;
        Some(until.saturating_sub(used).min(seconds))
    }

    /// Everything else on the machine comes first.
    pub(in crate::apart) fn yields() {
        let _ = nice(10);
    }
}

/// Other systems set no limits here yet; the process apart still keeps what happens in it away from the book and the pages.
#[cfg(not(target_os = "linux"))]
mod own {
    use super::Limits;

    pub(in crate::apart) fn set() -> Limits {
        Limits::default()
    }

    pub(in crate::apart) fn more_seconds(_seconds: u64) -> Option<u64> {
        None
    }

    pub(in crate::apart) fn yields() {}
}

pub(super) use own::{more_seconds, set, yields};
