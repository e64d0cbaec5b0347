//! Writers that are killed lose nothing they acknowledged.

use std::path::Path;

use handcoat_trials::crash;

#[test]
fn forty_kills_lose_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let run = crash(Path::new(env!("CARGO_BIN_EXE_trials")), folder.path(), 40, 20_260_314).expect("a sound book");
    assert_eq!((run.cycles, run.lost), (40, 0), "{run:?}");
    // A trial in which nothing was written, sent again or shared would prove nothing.
    assert!(run.acked >= 40 && run.sent_again >= 20 && run.with_two >= 3, "{run:?}");
}
