//! What the check finds when someone has been at the file with other tools.

use crate::studio::{Studio, raw};

#[test]
fn each_contradiction_is_found() {
    for (sql, code) in [
        (
            "DROP TRIGGER lines_stay; UPDATE lines SET amount = amount + 1 WHERE account = 'jar:1' AND commodity = 'Pd'",
            "entry_unbalanced",
        ),
        ("UPDATE balances SET amount = amount + 1 WHERE account = 'jar:1' AND commodity = 'Pd'", "balance_wrong"),
        ("INSERT INTO balances VALUES ('loss', 'Pd', 5)", "balance_wrong"),
        (
            "PRAGMA foreign_keys = off; INSERT INTO lines VALUES (7, 'loss', 'Pd', 5), (7, 'supplier', 'Pd', -5)",
            "lines_without_entry",
        ),
        ("DROP TRIGGER entries_kept; PRAGMA foreign_keys = off; DELETE FROM entries", "lines_without_entry"),
        ("UPDATE items SET standing = 'retired'", "item_wrong"),
        ("DROP TRIGGER items_kept; PRAGMA foreign_keys = off; DELETE FROM items", "link_broken"),
        ("DROP TRIGGER items_kept; PRAGMA foreign_keys = off; DELETE FROM items", "item_wrong"),
        (
            "DROP TRIGGER lines_stay; PRAGMA foreign_keys = off; UPDATE lines SET account = 'nowhere' WHERE account = 'jar:1'",
            "entry_unreadable",
        ),
    ] {
        let mut studio = Studio::new();
        studio.receive("key-one-1", "big jar", 10_000_000).expect("received");
        raw(&studio).execute_batch(sql).expect(sql);
        let found = studio.book.check().expect("the check runs");
        assert!(found.iter().any(|finding| finding.code == code), "{code}: {found:?}");
    }
}
