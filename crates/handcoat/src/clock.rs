//! The clock of the doors; nobody below them reads one.

use handcoat_craft::session::{BootClock, Reading, SinceBoot, WallClock};
use jiff::Timestamp;

/// Now, to the second: what a person did was not done in a nanosecond.
pub(crate) fn now() -> Timestamp {
    let now = Timestamp::now();
    Timestamp::from_second(now.as_second()).unwrap_or(now)
}

/// The time on the wall where the machine stands, as `14:05`.
pub(crate) fn time_of_day() -> String {
    jiff::ZonedDateTime::now().strftime("%-H:%M").to_string()
}

/// Both clocks, for timers.
pub(crate) fn reading() -> Reading {
    Reading { wall: WallClock::milliseconds(Timestamp::now().as_millisecond()), boot: since_boot() }
}

/// The clock since the start of the machine, which goes on in its sleep and which nobody puts right; with the word
/// the kernel makes anew at every start.
#[cfg(target_os = "linux")]
fn since_boot() -> Option<BootClock> {
    let boot = std::fs::read_to_string("/proc/sys/kernel/random/boot_id").ok()?;
    let now = rustix::time::clock_gettime(rustix::time::ClockId::Boottime);
    let seconds = u64::try_from(now.tv_sec).ok()?;
    let part = u64::try_from(now.tv_nsec).ok()? / 1_000_000;
    let since = SinceBoot::milliseconds(seconds.checked_mul(1000)?.checked_add(part)?);
    Some(BootClock { boot: boot.trim().into(), since })
}

/// Other systems are not asked yet; their timers go by the wall clock and say so.
#[cfg(not(target_os = "linux"))]
fn since_boot() -> Option<BootClock> {
    None
}
