//! A sealed vial that becomes a bottle: it is dissolved whole, whatever its label says, and no part of it stays in the book as powder.

use crate::books::{new_book, on};
use crate::command::{fresh_folder, handcoat};

#[test]
fn a_vial_is_taken_whole_and_what_its_label_was_off_by_is_unexplained() {
    let book = new_book(&fresh_folder("vial-whole"));
    for (held, make, said) in [("2.22g", "10mL", "0.22 g more"), ("1.9g", "9.5mL", "0.1 g less")] {
        on(&book, &["stock", "receive", "K2PtCl4", "--mass", "2g", "--price", "200EUR", "--name", "vial"]);
        let mixed = on(&book, &["stock", "mix", "--from", "vial", "--mass", held, "--make", make, "--name", "stock"]);
        assert!(mixed.contains("Took all of vial") && mixed.contains(said), "{mixed}");
        // 415.0806 g/mol, 195.084 of it platinum (computed from periodictable 2.1.0); all of the money went along.
        let grams: f64 = held.trim_end_matches('g').parse().expect("grams");
        let platinum = grams * 195.084 / 415.0806;
        let table = on(&book, &["ledger", "balance"]);
        let of_bottle: Vec<&str> = table.lines().filter(|line| line.contains("stock")).collect();
        let in_it =
            of_bottle.iter().find_map(|line| line.strip_suffix(" g Pt")?.split_whitespace().last()?.parse().ok());
        assert!(in_it.is_some_and(|own: f64| (own - platinum).abs() < 1e-4), "no {platinum} g: {table}");
        assert!(of_bottle.iter().any(|line| line.contains("200.00 EUR")), "{table}");
        assert!(!table.lines().any(|line| line.contains("jar:") && line.contains("vial")), "powder is left: {table}");
        // Taken back, the vial is there as it came.
        on(&book, &["undo", "2"]);
        assert!(on(&book, &["ledger", "balance"]).contains("vial"), "the vial is lost");
        std::fs::remove_file(&book).expect("removed");
        new_book(book.parent().expect("a folder"));
    }
}

#[test]
fn a_part_of_a_vial_is_told_and_more_than_it_held_is_refused() {
    let book = new_book(&fresh_folder("vial-part"));
    on(&book, &["stock", "receive", "K2PtCl4", "--mass", "5g", "--name", "vial"]);
    let part = on(&book, &["stock", "mix", "--from", "vial", "--mass", "2g", "--make", "10mL"]);
    assert!(part.contains("a sealed vial is dissolved whole"), "{part}");
    let path = book.to_str().expect("text");
    let more = handcoat(&["stock", "mix", "--from", "vial", "--mass", "4g", "--make", "10mL", "--book", path]);
    assert_eq!(more.code, 4, "3 g are left, and 4 g are no vial of 3 g: {}", more.messages);
    // What is in it by the book is the whole vial: nothing is to be told.
    on(&book, &["stock", "receive", "K2PtCl4", "--mass", "1g", "--name", "one"]);
    let all = on(&book, &["stock", "mix", "--from", "one", "--mass", "1g", "--make", "5mL"]);
    assert!(all.contains("Took 1 g from one.") && !all.contains("dissolved whole"), "{all}");
    // Palladium comes in jars: a part of one is nothing to be told of.
    on(&book, &["stock", "receive", "PdCl2", "--mass", "5g", "--name", "jar"]);
    let part = on(&book, &["stock", "mix", "--from", "jar", "--mass", "4.9g", "--chloride", "3.5g", "--make", "50mL"]);
    assert!(part.contains("Took 4.9 g from jar.") && !part.contains("vial"), "{part}");
}

#[test]
fn no_remedy_of_an_impossible_metal_content_plans_with_twice_the_powder() {
    // 59.8 % of palladium is the dry salt's (60.0 %), and more than the dihydrate holds (49.9 %).
    let wrong = ["--hydrate", "2", "--purity", "59.8%", "--purity-of", "metal"];
    let plan = [&["stock", "plan", "--salt", "PdCl2", "--make", "40mL"][..], &wrong].concat();
    let book = new_book(&fresh_folder("vial-content"));
    let receive = [&["stock", "receive", "PdCl2", "--mass", "10g"][..], &wrong].concat();
    let receive = [&receive[..], &["--book", book.to_str().expect("text")]].concat();
    for asked in [plan, receive] {
        let refused = handcoat(&asked);
        assert!(refused.code == 4 && refused.messages.contains("[purity_above_formula]"), "{}", refused.messages);
        assert!(refused.messages.contains("leave out --hydrate"), "{}", refused.messages);
        assert!(!refused.messages.contains("--purity-of salt"), "{}", refused.messages);
    }
}

#[test]
fn a_pour_beyond_any_solution_has_its_ways() {
    let base = ["stock", "plan", "--balance", "0.01g", "--salt"];
    let jar = handcoat(&[&base[..], &["PdCl2", "--hydrate", "none", "--make", "20mL", "--weighed", "30g"]].concat());
    assert!(
        jar.messages.contains("put back 28.19 g") && jar.messages.contains("made up to 331.5 mL"),
        "{}",
        jar.messages
    );
    let vial = handcoat(&[&base[..], &["K2PtCl4", "--salt-mass", "1g", "--weighed", "5.1g"]].concat());
    assert!(vial.messages.contains("made up to 25.5 mL") && !vial.messages.contains("put back"), "{}", vial.messages);
}
