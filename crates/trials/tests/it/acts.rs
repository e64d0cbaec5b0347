//! Random acts on one book through `work`: after each the book agrees with itself, and what is taken back had never been.
//!
//! `HANDCOAT_RANDOM_ACTS` sets how many are played and `HANDCOAT_SEED` with what; `scripts/deep/acts` plays more.

use handcoat_trials::{Played, play};

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

#[test]
fn after_every_random_act_the_book_agrees_with_itself() {
    let (acts, seed) = (number("HANDCOAT_RANDOM_ACTS", 300), number("HANDCOAT_SEED", 7));
    let folder = tempfile::tempdir().expect("a folder");
    let held = play(folder.path(), Played { from: 0, acts, seed, check_each: 10 }).expect("everything holds");
    // A trial that plays no acts, or only easy ones, proves nothing.
    let on_the_shelf =
        ["receive", "mix", "split", "pour", "dilute", "sweep", "loss", "count", "retire", "import", "undo"];
    let on_paper = ["coat", "spoil", "print", "print_note", "keep", "change", "restock"];
    for kind in on_the_shelf.iter().chain(&on_paper) {
        assert!(held.kinds.contains_key(*kind), "no {kind} was played: {:?}", held.kinds);
    }
    let done = held.done();
    assert!(done > acts / 2 && held.taken_back * 8 > done && held.codes.len() >= 3, "{held:?}");
    assert_eq!(held.checks, acts.div_ceil(10));
}
