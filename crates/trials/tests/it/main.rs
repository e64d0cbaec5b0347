//! Trials that the gate runs: short here, longer from `scripts/test` and `scripts/deep`.

mod acts;
mod journal;
mod killed;
mod prints;
mod scans;
mod wedges;
