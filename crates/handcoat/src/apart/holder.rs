//! Which process has a job, and whether it still lives: the kernel's name of this start of the machine, the number of the process, and when it
//! began, so that a number that is given again is not taken for it.

use std::sync::OnceLock;

/// This process.
pub(crate) fn holder() -> &'static str {
    static OWN: OnceLock<String> = OnceLock::new();
    OWN.get_or_init(|| {
        let number = std::process::id();
        format!("{} {number} {}", start_of_machine().unwrap_or_default(), began(number).unwrap_or_default())
    })
}

/// Whether a process lives. Where the system does not tell, any but this one counts as gone: its unfinished file is locked while it lives.
pub(crate) fn lives(word: &str) -> bool {
    if word == holder() {
        return true;
    }
    let parts: Vec<&str> = word.split(' ').collect();
    let [boot, number, began_at] = parts.as_slice() else { return false };
    let same_start = start_of_machine().is_some_and(|own| own == *boot);
    same_start && number.parse().ok().and_then(began).is_some_and(|own| own == *began_at)
}

fn start_of_machine() -> Option<String> {
    std::fs::read_to_string("/proc/sys/kernel/random/boot_id").ok().map(|own| own.trim().to_owned())
}

/// When a process began, in ticks since the machine was started; none when it is gone, or ended and only waits to be noticed.
fn began(number: u32) -> Option<String> {
    let said = std::fs::read_to_string(format!("/proc/{number}/stat")).ok()?;
    // The name of the program stands in brackets and may hold anything; what follows is plain.
    let mut after = said.rsplit_once(')')?.1.split_whitespace();
    let state = after.next()?;
    if matches!(state, "Z" | "X" | "x") {
        return None;
    }
    after.nth(18).map(String::from)
}
