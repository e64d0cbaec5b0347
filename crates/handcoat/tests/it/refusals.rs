//! Every refusal the command line can give, provoked; `docs/refusals.md` is generated from what they print.
//!
//! Long because it is one list: a code without a case, or a case without a code, is seen only where all stand together.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;

use serde_json::Value;

use handcoat::Outcome;

use crate::books::shelf_of_books;
use crate::command::root;
use crate::house::rust_files;

/// Arguments, the code they end in, the exit code.
type Case = (&'static [&'static str], &'static str, u8);

const PLAN: [&str; 4] = ["stock", "plan", "--make", "60mL"];

/// A plan for 60 mL with these answers besides.
macro_rules! plan {
    ($code:literal, $exit:literal, $($word:literal),+) => {
        (&[PLAN[0], PLAN[1], PLAN[2], PLAN[3], $($word),+], $code, $exit)
    };
}

/// A command on the book of `books`.
macro_rules! book {
    ($code:literal, $exit:literal, $($word:expr),+) => {
        (&[$($word),+, "--book", "studio.handcoat"], $code, $exit)
    };
}

/// A plan for palladium chloride with these answers besides.
macro_rules! palladium {
    ($code:literal, $exit:literal, $($word:expr),*) => {
        (&[PLAN[0], PLAN[1], "--salt", "PdCl2", $($word),*], $code, $exit)
    };
}

/// A coat of palladium on 8x10 with these answers besides.
macro_rules! coat {
    ($code:literal, $exit:literal, $($word:literal),*) => {
        (&["coat", "plan", "--image", "8x10in", "--metal", "Pd", $($word),*], $code, $exit)
    };
}

/// A table that is to come into the book of `books`.
macro_rules! table {
    ($code:literal, $exit:literal, $file:literal) => {
        (&["import", $file, "--decimal-mark", "point", "--yes", "--book", "studio.handcoat"], $code, $exit)
    };
}

/// A test of a wedge that is read from this file.
macro_rules! wedge {
    ($code:literal, $exit:literal, $file:literal $(, $word:literal)*) => {
        (&["expose", "wedge", $file, "--test-time", "4:00" $(, $word)*], $code, $exit)
    };
}

/// A test of a wedge that is read from this scan.
macro_rules! wedge_scan {
    ($code:literal, $exit:literal, $scan:literal $(, $word:literal)*) => {
        (&["expose", "wedge", "--scan", $scan, "--test-time", "4:00" $(, $word)*], $code, $exit)
    };
}

/// A contrast ladder of this agent.
macro_rules! ladder {
    ($code:literal, $exit:literal, $agent:literal $(, $word:literal)*) => {
        (&["expose", "ladder", "--agent", $agent $(, $word)*], $code, $exit)
    };
}

/// A negative of this picture, 4 by 4 pixels, with these answers besides.
macro_rules! negative {
    ($code:literal, $exit:literal, $picture:literal, $curve:literal, $width:literal $(, $word:literal)*) => {
        (
            &[
                "negative", "make", $picture, "--output", "never-written.tif", "--curve", $curve, "--width", $width, "--no-border"
                $(, $word)*
            ],
            $code,
            $exit,
        )
    };
}

/// Its argument eight times over.
macro_rules! eightfold {
    ($text:expr) => {
        concat!($text, $text, $text, $text, $text, $text, $text, $text)
    };
}

/// 4096 characters: more than a page has room for beside a plan.
const LONG_NAME: &str = eightfold!(eightfold!(eightfold!("Weir at ")));

#[rustfmt::skip]
const CASES: &[Case] = &[
    // Arguments.
    (&[], "command_missing", 2),
    (&["stok"], "command_unknown", 2),
    (&["stock", "plann"], "command_unknown", 2),
    (&["stock", "plan", "--slat", "PdCl2"], "argument_unknown", 2),
    (&["stock", "plan", "--salt"], "argument_unreadable", 2),
    (&["stock", "plan", "--salt", "PdCl2", "--salt", "K2PtCl4", "--make", "60mL"], "argument_repeated", 2),
    (&["stock", "plan", "--sheet="], "argument_unreadable", 2),
    (&["stock", "plan", "--mixed=yes"], "argument_unreadable", 2),
    (&["stock", "formula"], "argument_missing", 2),
    (&["stock", "plan"], "answer_missing", 2),
    (&["stock", "strength", "Na2PdCl4"], "answer_missing", 2),
    (&["stock", "pairs", "NaClO"], "pair_incomplete", 2),
    // Formulas.
    plan!("formula_missing", 2, "--salt", ""),
    plan!("formula_missing", 2, "--salt", "   "),
    plan!("formula_unexpected_character", 2, "--salt", "pdcl2"),
    plan!("formula_unexpected_character", 2, "--salt", "PdCl2!"),
    plan!("formula_unexpected_character", 2, "--salt", "Pd Cl2"),
    plan!("formula_unexpected_character", 2, "--salt", "палладий"),
    plan!("element_unknown", 2, "--salt", "PdXl2"),
    plan!("element_unknown", 2, "--salt", "PDCl2"),
    plan!("element_unlisted", 2, "--salt", "XePtF6"),
    plan!("bracket_unclosed", 2, "--salt", "(NH4)2PtCl4·(H2O"),
    plan!("bracket_unclosed", 2, "--salt", "(NH4"),
    plan!("bracket_unopened", 2, "--salt", "NH4)2PtCl4"),
    plan!("bracket_mismatch", 2, "--salt", "(NH4]2PtCl4"),
    plan!("group_empty", 2, "--salt", "Pd()Cl2"),
    plan!("formula_nested_too_deep", 2, "--salt", "((((((((((((Pd))))))))))))"),
    plan!("count_zero", 2, "--salt", "Pd0Cl2"),
    plan!("count_zero", 2, "--salt", "PdCl02"),
    plan!("count_too_large", 2, "--salt", "PdCl10000"),
    plan!("formula_leading_number", 2, "--salt", "2PdCl2"),
    plan!("formula_part_missing", 2, "--salt", "PdCl2·"),
    plan!("formula_part_missing", 2, "--salt", "·2H2O"),
    plan!("formula_part_missing", 2, "--salt", "PdCl2··2H2O"),
    plan!("waters_malformed", 2, "--salt", "PdCl2·0H2O"),
    plan!("waters_malformed", 2, "--salt", "PdCl2·1/0H2O"),
    plan!("waters_open", 2, "--salt", "PdCl2·xH2O"),
    plan!("waters_open", 2, "--salt", "Na2PtCl6·nH2O"),
    plan!("charge_ambiguous", 2, "--salt", "PdCl42-"),
    plan!("charge_malformed", 2, "--salt", "PdCl4^"),
    plan!("charge_malformed", 2, "--salt", "PdCl4^2"),
    plan!("charge_malformed", 2, "--salt", "PdCl4^+-"),
    plan!("formula_too_heavy", 2, "--salt", "(((Pd9999)9999)9999)"),
    plan!("formula_too_long", 2, "--salt", "PdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdClPdCl"),
    // Salts.
    plan!("salt_without_metal", 4, "--salt", "NaCl"),
    plan!("answer_missing", 2, "--salt", "K2Cr2O7"),
    plan!("answer_missing", 2, "--salt", "hydrochloric acid", "--percent", "0.5%"),
    plan!("answer_not_asked", 4, "--salt", "PdCl2", "--and", "oxalic acid=2%"),
    plan!("answer_not_asked", 4, "--salt", "ferric oxalate", "--chloride-ratio", "2.2"),
    plan!("answer_not_asked", 4, "--salt", "H2O2", "--from-stock", "30%", "--hydrate", "2"),
    plan!("percent_of_what", 4, "--salt", "PdCl2", "--percent", "15%"),
    plan!("percent_form_without_percent", 4, "--salt", "potassium oxalate", "--percent-as", "anhydrous"),
    plan!("percent_form_unknown", 4, "--salt", "potassium oxalate", "--percent", "27", "--percent-as", "unknown"),
    plan!("assay_of_no_metal_stock", 4, "--salt", "ferric oxalate", "--purity", "22%", "--purity-of", "metal"),
    plan!("solute_unreadable", 2, "--salt", "ferric oxalate", "--and", "oxalic acid"),
    plan!("unit_unknown", 2, "--salt", "ferric oxalate", "--and", "oxalic acid=2spoons"),
    plan!("solute_named_twice", 4, "--salt", "ferric oxalate", "--and", "Fe2(C2O4)3·6H2O=2%"),
    plan!("liquid_is_no_powder", 4, "--salt", "citric acid", "--and", "hydrochloric acid=1%"),
    plan!("liquid_not_strong_enough", 4, "--salt", "H2O2", "--from-stock", "3%", "--percent", "6%"),
    plan!("form_open", 4, "--salt", "ferric oxalate", "--molarity", "0.5M"),
    plan!("pair_in_one_bottle", 4, "--salt", "sodium sulfite", "--and", "citric acid=1%"),
    plan!("pair_in_one_bottle", 4, "--salt", "KClO3", "--and", "oxalic acid=1%"),
    plan!("goal_overdetermined", 4, "--salt", "citric acid", "--salt-mass", "5g", "--percent", "2"),
    plan!("mass_below_balance", 4, "--salt", "ferric oxalate", "--and", "KClO3=0.1%", "--balance", "1g"),
    plan!("salt_with_two_metals", 4, "--salt", "PdPtCl4"),
    plan!("salt_charged", 4, "--salt", "PdCl4^2-"),
    plan!("salt_not_planned", 4, "--salt", "PdBr2"),
    plan!("salt_not_planned", 4, "--salt", "PtCl2"),
    plan!("salt_not_planned", 4, "--salt", "H2PtCl6·6H2O"),
    plan!("salt_not_planned", 4, "--salt", "NaKPtCl4"),
    plan!("chloride_not_alkali", 4, "--salt", "PdCl2", "--with", "HCl"),
    plan!("chloride_not_alkali", 4, "--salt", "PdCl2", "--with", "CaCl2"),
    plan!("chloride_not_alkali", 4, "--salt", "PdCl2", "--with", "PdCl2"),
    plan!("element_unknown", 2, "--salt", "PdCl2", "--with", "Salt"),
    // Quantities.
    palladium!("value_missing", 2, "--make", ""),
    palladium!("number_missing", 2, "--make", "mL"),
    palladium!("number_missing", 2, "--make", "a cupful"),
    palladium!("number_two_marks", 2, "--make", "1.000,5mL"),
    palladium!("number_two_marks", 2, "--make", "6.0.0mL"),
    palladium!("number_grouped", 2, "--make", "1 000 mL"),
    palladium!("number_grouped", 2, "--make", "1'000mL"),
    palladium!("number_grouped", 2, "--make", "60mL", "--price-salt", "1,200EUR/10g"),
    palladium!("number_unfinished", 2, "--make", "60.mL"),
    palladium!("number_too_long", 2, "--make", "0.00000000000000000001mL"),
    palladium!("unit_missing", 2, "--make", "60"),
    palladium!("unit_missing", 2, "--make", "60mL", "--balance", "0.01"),
    palladium!("unit_missing", 2, "--make", "60mL", "--purity", "99"),
    palladium!("unit_unknown", 2, "--make", "60oz"),
    palladium!("unit_unknown", 2, "--make", "60ML"),
    palladium!("unit_unknown", 2, "--salt-mass", "1e3g"),
    palladium!("unit_of_another_kind", 2, "--make", "60g"),
    palladium!("unit_of_another_kind", 2, "--salt-mass", "60mL"),
    palladium!("unit_of_another_kind", 2, "--make", "60mL", "--molarity", "15%"),
    palladium!("unit_unwanted", 2, "--make", "60mL", "--chloride-ratio", "2.2g"),
    palladium!("value_negative", 2, "--make=-60mL"),
    palladium!("value_negative", 2, "--make", "60mL", "--chloride-ratio=-1"),
    palladium!("value_too_fine", 2, "--salt-mass", "0.0000001g"),
    palladium!("value_out_of_bounds", 2, "--make", "2000000L"),
    palladium!("value_out_of_bounds", 2, "--make", "60mL", "--percent-complex", "150"),
    palladium!("value_out_of_bounds", 2, "--make", "60mL", "--purity", "0%"),
    palladium!("value_out_of_bounds", 2, "--make", "60mL", "--purity", "101%"),
    palladium!("value_out_of_bounds", 4, "--make", "10mL", "--salt-mass", "50g"),
    palladium!("price_per_missing", 2, "--make", "60mL", "--price-salt", "48EUR"),
    palladium!("price_per_missing", 2, "--make", "60mL", "--price-salt", "48EUR/0g"),
    palladium!("currency_missing", 2, "--budget", "400"),
    palladium!("currency_unknown", 2, "--make", "60mL", "--price-salt", "48euro/g"),
    palladium!("currency_ambiguous", 2, "--make", "60mL", "--price-salt", "48$/g"),
    palladium!("hydrate_unreadable", 2, "--make", "60mL", "--hydrate", "some"),
    palladium!("purity_meaning_unreadable", 2, "--make", "60mL", "--purity", "99%", "--purity-of", "gold"),
    palladium!("count_unreadable", 2, "--make", "60mL", "--rinses", "two"),
    palladium!("count_unreadable", 2, "--make", "60mL", "--rinses", "10"),
    (&["stock", "ladder", "--salt", "Na2PtCl6", "--rungs", "0"], "count_unreadable", 2),
    palladium!("day_unreadable", 2, "--make", "60mL", "--sheet", "never-written.pdf", "--day", "31.2.2026"),
    palladium!("day_unreadable", 2, "--make", "60mL", "--sheet", "never-written.pdf", "--day=-000400-03-14"),
    // Answers that contradict each other, and the impossible.
    palladium!("goal_missing", 2,),
    palladium!("goal_overdetermined", 4, "--make", "60mL", "--percent-complex", "15", "--molarity", "0.47M"),
    palladium!("goal_overdetermined", 4, "--make", "60mL", "--salt-mass", "5g", "--percent-complex", "15"),
    palladium!("goal_overdetermined", 4, "--make", "60mL", "--budget", "90EUR"),
    palladium!("chloride_said_twice", 4, "--make", "60mL", "--chloride-ratio", "2.2", "--chloride-mass", "4g"),
    (&["stock", "plan", "--salt", "PdCl2·2H2O", "--make", "60mL", "--hydrate", "2"], "hydrate_said_twice", 4),
    plan!("hydrate_said_twice", 4, "--salt", "Pd(H2O)2Cl2", "--hydrate", "2"),
    (&["stock", "strength", "Fe2(C2O4)3(H2O)6", "--percent", "27", "--hydrate", "6"], "hydrate_said_twice", 4),
    palladium!("purity_missing", 4, "--make", "60mL", "--purity-of", "metal"),
    palladium!("purity_above_formula", 4, "--make", "60mL", "--purity", "65%", "--purity-of", "metal"),
    palladium!("weighing_signed", 2, "--make", "60mL", "--weighed", "+0.3g"),
    palladium!("percent_or_part", 2, "--make", "60mL", "--percent-complex", "0.15"),
    palladium!("mass_below_balance", 4, "--make", "0.5mL", "--balance", "1g"),
    palladium!("balance_step_zero", 4, "--make", "60mL", "--balance", "0g"),
    palladium!("nothing_asked", 4, "--make", "0mL"),
    palladium!("nothing_asked", 4, "--salt-mass", "0g"),
    palladium!("nothing_asked", 4, "--make", "60mL", "--weighed", "0g"),
    (&["stock", "ladder", "--salt", "Na2PtCl6", "--keep", "0mL"], "nothing_asked", 4),
    (&["stock", "ladder", "--salt", "PdCl2"], "ladder_needs_soluble_salt", 4),
    palladium!("price_missing", 4, "--budget", "400EUR"),
    palladium!("budget_buys_nothing", 4, "--budget", "400USD", "--price-salt", "48EUR/g"),
    palladium!("budget_buys_nothing", 4, "--budget", "0EUR", "--price-salt", "48EUR/g"),
    palladium!("no_room_for_water", 4, "--make", "60mL", "--chloride-mass", "120g"),
    palladium!("budget_buys_nothing", 4, "--budget", "400EUR", "--price-salt", "0EUR/g"),
    palladium!("budget_buys_nothing", 4, "--budget", "0.01EUR", "--price-salt", "900000EUR/g"),
    palladium!("mass_below_balance", 4, "--budget", "1EUR", "--price-salt", "48EUR/g", "--balance", "0.1g"),
    palladium!("no_room_for_rinses", 4, "--make", "1mL", "--rinses", "9"),
    palladium!("too_little_to_pour", 4, "--make", "0.05mL"),
    palladium!("nothing_asked", 4, "--bottle", "0mL"),
    palladium!("goal_overdetermined", 4, "--make", "60mL", "--salt-mass", "5g", "--molarity", "0.4M"),
    palladium!("value_out_of_bounds", 4, "--make", "60mL", "--chloride-weighed", "60kg"),
    palladium!("value_out_of_bounds", 4, "--make", "25mL", "--weighed", "60g", "--chloride-weighed", "2g"),
    (&["stock", "ladder", "--salt", "K2PtCl4", "--from", "0.001%", "--rungs", "8"], "value_out_of_bounds", 4),
    palladium!("glass_out_of_bounds", 4, "--make", "60mL", "--glass", "0mL"),
    palladium!("glass_out_of_bounds", 4, "--make", "60mL", "--glass", "1L"),
    palladium!("load_under_tare", 4, "--make", "60mL", "--weighed", "2.20g-8.12g"),
    palladium!("unit_missing", 2, "--make", "60mL", "--weighed", "8.12-2.20g"),
    palladium!("value_negative", 2, "--make", "60mL", "--weighed=-5g"),
    palladium!("value_out_of_bounds", 4, "--make", "25mL", "--weighed", "60g"),
    palladium!("weighing_missing", 4, "--make", "60mL", "--mixed"),
    palladium!("file_exists", 4, "--make", "60mL", "--sheet", "/"),
    palladium!("file_unwritable", 1, "--make", "60mL", "--sheet", "/no-such-folder/sheet.pdf"),
    palladium!("sheet_not_set", 1, "--make", "60mL", "--sheet", "never-written.pdf", "--studio", LONG_NAME),
    (&["tour", "/"], "file_exists", 4),
    (&["stock", "compare"], "answer_missing", 2),
    (&["stock", "compare", "--powder", "PdCl2"], "offer_unreadable", 2),
    (&["stock", "compare", "--powder", "PdCl2 480EUR/10g 99% 98%"], "offer_unreadable", 2),
    (&["stock", "compare", "--solution", "Na2PdCl4 190EUR/100mL"], "offer_unreadable", 2),
    (&["stock", "compare", "--solution", "NaCl 19EUR/100mL 15%"], "offer_without_metal", 4),
    (&["stock", "compare", "--powder", "PdCl2 480EUR/0g 99%"], "offer_without_metal", 4),
    (&["stock", "compare", "--powder", "NaCl 3EUR/kg"], "salt_without_metal", 4),
    (&["stock", "compare", "--powder", "PdCl2 480EUR/10mL"], "unit_of_another_kind", 2),
    // The book.
    (&["stock", "shelf", "--book", ""], "argument_unreadable", 2),
    (&["stock", "shelf", "--book", "nowhere.handcoat"], "book_missing", 3),
    (&["stock", "shelf", "--book", "notes.txt"], "book_foreign", 5),
    (&["check", "--book", "later.handcoat"], "book_newer", 5),
    (&["check", "--book", "torn.handcoat"], "book_damaged", 5),
    (&["new", "studio.handcoat"], "file_exists", 4),
    (&["new", "/no-such-folder/studio.handcoat"], "book_unwritable", 1),
    book!("file_exists", 4, "backup", "notes.txt"),
    book!("book_foreign", 5, "restore", "notes.txt"),
    book!("book_foreign", 5, "restore", "notes.txt", "--yes"),
    book!("book_missing", 3, "restore", "nowhere.handcoat", "--yes"),
    book!("book_notices", 4, "check", "--strict"),
    // Acts.
    book!("act_unknown", 3, "undo", "99"),
    book!("count_unreadable", 2, "undo", "last"),
    book!("act_in_the_way", 4, "undo", "1"),
    book!("act_undone_before", 4, "undo", "9"),
    book!("act_is_undo", 4, "undo", "10"),
    book!("key_unreadable", 2, "stock", "look", "stock", "clear", "--key", "no"),
    book!("instant_unreadable", 2, "stock", "look", "stock", "clear", "--at", "yesterday"),
    // Jars, bottles and vials.
    book!("item_unknown", 3, "stock", "look", "stick", "clear"),
    book!("item_unknown", 3, "stock", "look", "00012", "clear"),
    book!("item_unknown", 3, "stock", "look", "00995", "clear"),
    book!("item_of_another_kind", 4, "stock", "look", "jar", "clear"),
    book!("verdict_unreadable", 2, "stock", "look", "stock", "muddy"),
    book!("name_unreadable", 2, "stock", "test", "stock", "passed", "--test", " "),
    book!("name_unreadable", 2, "stock", "receive", "NaCl", "--mass", "1g", "--name", ""),
    book!("name_like_a_code", 4, "stock", "receive", "NaCl", "--mass", "1g", "--name", "2026"),
    book!("name_taken", 4, "stock", "receive", "NaCl", "--mass", "1g", "--name", "Salt"),
    book!("amount_missing", 2, "stock", "receive", "PdCl2"),
    book!("amount_missing", 2, "stock", "count", "stock"),
    book!("answer_missing", 2, "stock", "receive", "unknown", "--mass", "10g"),
    book!("powder_and_solution", 4, "stock", "receive", "PdCl2", "--mass", "10g", "--percent", "15"),
    book!("price_without_sum", 4, "stock", "receive", "PdCl2", "--mass", "10g", "--currency", "EUR"),
    book!("currency_missing", 2, "stock", "receive", "PdCl2", "--mass", "10g", "--price", "480"),
    book!("nothing_asked", 4, "stock", "receive", "PdCl2", "--mass", "0g"),
    book!("load_under_tare", 4, "stock", "receive", "Na2PdCl4", "--gross", "40g", "--empty", "60g"),
    book!("number_missing", 2, "stock", "receive", "Na2PdCl4", "--level", "half", "--capacity", "60mL"),
    book!("unit_missing", 2, "stock", "receive", "Na2PdCl4", "--level", "60", "--capacity", "60mL"),
    book!("more_than_held", 4, "stock", "lose", "stock", "--amount", "90mL"),
    book!("more_than_held", 4, "stock", "mix", "--from", "jar", "--mass", "9g", "--make", "60mL"),
    book!("unit_of_another_kind", 2, "stock", "lose", "stock", "--amount", "3g"),
    book!("nothing_asked", 4, "stock", "lose", "stock", "--amount", "0mL"),
    book!("nothing_asked", 4, "stock", "dilute", "stock", "--water", "0mL"),
    book!("item_named_twice", 4, "stock", "mix", "--from", "jar", "--mass", "1g", "--make", "60mL", "--vial", "swept", "--vial", "swept"),
    book!("item_named_twice", 4, "stock", "pour", "--from", "stock", "--into", "stock"),
    book!("salts_differ", 4, "stock", "mix", "--from", "jar", "--mass", "1g", "--make", "60mL", "--vial", "platinum vial"),
    book!("salts_differ", 4, "stock", "pour", "--from", "stock", "--into", "platinum"),
    book!("salt_without_metal", 4, "stock", "mix", "--from", "salt", "--mass", "1g", "--make", "60mL"),
    book!("chloride_said_twice", 4, "stock", "mix", "--from", "jar", "--mass", "1g", "--make", "60mL", "--with", "KCl", "--chloride-from", "salt"),
    book!("bottle_overflows", 4, "stock", "dilute", "platinum", "--water", "20mL"),
    book!("empty_weight_unknown", 4, "stock", "count", "stock", "--gross", "90g"),
    book!("capacity_unknown", 4, "stock", "count", "stock", "--level", "60%"),
    book!("more_than_book", 4, "stock", "count", "stock", "--volume", "90mL", "--evaporated"),
    book!("item_of_another_kind", 4, "stock", "count", "jar", "--mass", "3g", "--evaporated"),
    // Labels and hazards.
    book!("label_sheet_unreadable", 2, "stock", "label", "stock", "-o", "never-written.pdf", "--on", "small"),
    book!("label_stock_wrong", 4, "stock", "label", "stock", "-o", "never-written.pdf", "--on", "210x297 63x38 9x9 7x15 66x38"),
    book!("label_start_beyond", 4, "stock", "label", "stock", "-o", "never-written.pdf", "--start", "99"),
    book!("count_unreadable", 2, "stock", "label", "stock", "-o", "never-written.pdf", "--start", "first"),
    book!("offset_unreadable", 2, "stock", "label", "stock", "-o", "never-written.pdf", "--offset", "right"),
    book!("offset_too_large", 4, "stock", "label", "stock", "-o", "never-written.pdf", "--offset", "99,0"),
    book!("labels_none", 4, "stock", "label", "-o", "never-written.pdf"),
    book!("label_full", 4, "stock", "label", "stock", "-o", "never-written.pdf", "--on", "210x297 12x8 3x7 7x15 66x38"),
    book!("answer_missing", 2, "stock", "label", "stock"),
    book!("answer_missing", 2, "stock", "hazards", "jar", "--date", "2026-01-20", "--statement", "H290"),
    book!("hazard_code_unknown", 2, "stock", "hazards", "jar", "--supplier", "S", "--date", "2026-01-20", "--statement", "H999"),
    book!("hazard_code_unknown", 2, "stock", "hazards", "jar", "--supplier", "S", "--date", "2026-01-20", "--pictogram", "GHS10"),
    book!("dried_to_nothing", 4, "stock", "count", "stock", "--volume", "0mL", "--evaporated"),
    book!("never_swept", 4, "stock", "sweep", "--from", "platinum vial", "--mass", "0.1g"),
    book!("contents_unknown", 4, "stock", "pour", "--from", "nameless", "--into", "bought"),
    book!("bottle_overflows", 4, "stock", "mix", "--from", "jar", "--mass", "1g", "--make", "60mL", "--capacity", "50mL"),
    book!("load_under_tare", 4, "stock", "mix", "--from", "jar", "--mass", "1g", "--make", "60mL", "--empty", "80g", "--full", "70g"),
    book!("density_impossible", 4, "stock", "mix", "--from", "jar", "--mass", "1g", "--make", "60mL", "--empty", "70g", "--full", "80g"),
    book!("key_used", 4, "stock", "receive", "PdCl2", "--mass", "3g", "--key", "key-of-the-jar"),
    book!("name_unreadable", 2, "stock", "hazards", "jar", "--supplier", "", "--date", "2026-01-20"),
    book!("key_used", 4, "stock", "look", "stock", "clear", "--key", "key-of-the-jar"),
    // The ledger.
    book!("nothing_received", 4, "ledger", "where", "stock"),
    book!("nothing_received", 4, "ledger", "where", "salt"),
    book!("metal_price_unreadable", 2, "ledger", "balance", "--metal-price", "cheap"),
    // What is kept beside the shelf, coats and prints.
    book!("field_unreadable", 2, "keep", "paper", "rag", "--low", "few"),
    book!("field_unreadable", 2, "print", "note", "1", "--density-black", "dark"),
    book!("size_malformed", 2, "keep", "paper", "rag", "--sheet", "large"),
    book!("kind_unknown", 2, "keep", "list", "brushes"),
    book!("name_unreadable", 2, "keep", "paper", "300"),
    book!("name_taken", 4, "keep", "paper", "Cotton Rag"),
    book!("not_counted", 4, "keep", "lamp", "sun", "--came", "3"),
    book!("count_unreadable", 2, "keep", "count", "paper", "cotton rag", "--came", "some"),
    book!("record_unknown", 3, "keep", "away", "lamp", "sun"),
    book!("record_unknown", 3, "print", "show", "99"),
    book!("count_unreadable", 2, "print", "show", "last"),
    book!("sign_unknown", 2, "print", "compare", "1", "2", "--shows", "odd"),
    book!("answer_missing", 2, "print", "note", "1"),
    book!("answer_missing", 2, "coat", "made", "Gate"),
    book!("pour_unreadable", 2, "coat", "made", "Gate", "--pour", "stock"),
    book!("pour_out_of_bounds", 4, "coat", "made", "Gate", "--pour", "stock=0"),
    book!("unit_missing", 2, "coat", "made", "Gate", "--pour", "stock=2.5"),
    book!("nothing_asked", 4, "print", "repeat", "1", "--image", "0x10in"),
    book!("coat_used", 4, "print", "record", "Gate", "--coat", "1"),
    book!("coat_used", 4, "coat", "spoiled", "2"),
    book!("file_unreadable", 1, "print", "photo", "1", "--photo", "nowhere.jpg"),
    book!("photo_unreadable", 2, "print", "photo", "1", "--photo", "notes.txt"),
    book!("photo_too_large", 4, "print", "photo", "1", "--photo", "large.jpg"),
    book!("photo_unknown", 3, "print", "photo", "1", "--get", "00", "-o", "never-written.jpg"),
    // What goes out and comes in.
    book!("file_exists", 4, "export", "/"),
    book!("file_unwritable", 1, "export", "/no-such-folder/out"),
    (&["man", "/dev/null"], "file_exists", 4),
    (&["completions", "tin"], "argument_unreadable", 2),
    book!("answer_missing", 2, "import", "sound.csv"),
    book!("decimal_mark_unreadable", 2, "import", "sound.csv", "--decimal-mark", "dot"),
    book!("file_exists", 4, "import", "sound.csv", "--decimal-mark", "point", "--sample"),
    table!("table_missing", 3, "nowhere.csv"),
    table!("table_unreadable", 1, "/"),
    table!("table_too_large", 2, "large.csv"),
    table!("table_not_text", 2, "latin.csv"),
    table!("table_empty", 2, "empty.csv"),
    table!("row_uneven", 2, "uneven.csv"),
    table!("column_unknown", 2, "unknown-column.csv"),
    table!("column_repeated", 2, "two-columns.csv"),
    table!("column_missing", 2, "no-formula.csv"),
    table!("decimal_mark_other", 2, "comma.csv"),
    table!("word_unknown", 2, "tin.csv"),
    table!("unit_unwanted", 2, "grams.csv"),
    table!("metal_differs", 2, "platinum.csv"),
    table!("metal_amount_missing", 2, "how-much.csv"),
    table!("metal_not_named", 2, "which.csv"),
    table!("metal_above_contents", 2, "all-metal.csv"),
    table!("name_taken", 2, "taken.csv"),
    table!("name_taken", 2, "twice.csv"),
    table!("item_of_another_kind", 2, "bottle.csv"),
    table!("amount_missing", 2, "no-amount.csv"),
    table!("element_unknown", 2, "element.csv"),
    table!("instant_unreadable", 2, "soon.csv"),
    table!("nothing_asked", 4, "put-away.csv"),
    // The day's printing.
    (&["session", "plan", "--exposure", "6:0"], "time_malformed", 2),
    (&["session", "plan", "--exposure", "6:75"], "time_field_over_59", 2),
    (&["session", "plan", "--exposure", "6"], "unit_missing", 2),
    (&["session", "plan", "--start", "25:00"], "start_unreadable", 2),
    (&["session", "plan", "--prints", "many"], "count_unreadable", 2),
    (&["session", "plan", "--people", "0"], "count_unreadable", 2),
    (&["session", "plan", "--baths", "4"], "count_unreadable", 2),
    (&["session", "plan", "--print", " "], "name_unreadable", 2),
    (&["session", "plan", "--print", "heron 8:77"], "time_field_over_59", 2),
    (&["session", "plan", "--trays", "4", "--baths", "3"], "trays_too_few", 4),
    (&["session", "plan", "--coat", "0s", "--dry", "0s", "--load", "0s", "--exposure", "0s", "--develop", "0s", "--clear", "0s", "--wash", "0s"], "session_not_planned", 4),
    (&["session", "plan", "--prints", "3", "--wash", "700h"], "session_not_planned", 4),
    (&["session", "plan", "--paper", "a3", "-o", "never-written.pdf"], "paper_size_unreadable", 2),
    (&["session", "plan", "--day", "tomorrow"], "day_unreadable", 2),
    (&["session", "plan", "-o", "/"], "file_exists", 4),
    (&["session", "blank"], "answer_missing", 2),
    book!("answer_missing", 2, "session", "begin"),
    book!("print_line_unreadable", 2, "session", "begin", "--print", "Heron; weight 3"),
    book!("item_unknown", 3, "session", "begin", "--print", "Heron; pour silver=3"),
    book!("record_unknown", 3, "session", "begin", "--print", "; repeat 99"),
    book!("time_malformed", 2, "session", "begin", "--print", "Heron; time 6:0"),
    book!("session_unknown", 3, "session", "show", "99"),
    book!("session_unknown", 3, "session", "next", "first"),
    book!("session_print_unknown", 3, "session", "next", "1", "--print", "9"),
    book!("count_unreadable", 2, "session", "next", "1", "--print", "0"),
    book!("print_finished", 4, "session", "next", "1", "--print", "2"),
    book!("step_not_coating", 4, "session", "next", "1", "--print", "2", "--drop", "1"),
    book!("pour_not_there", 4, "session", "next", "1", "--print", "1", "--drop", "9"),
    book!("pour_not_drops", 4, "session", "next", "1", "--print", "1", "--drop", "2"),
    book!("pour_not_drops", 4, "session", "next", "1", "--print", "1", "--drop-back", "1"),
    book!("step_not_begun", 4, "session", "next", "1", "--print", "1", "--time"),
    book!("session_ended", 4, "session", "next", "2"),
    book!("unit_missing", 2, "session", "next", "1", "--print", "1", "--late", "5"),
    book!("timer_of_nothing", 4, "session", "timer", "rinse", "0s"),
    book!("session_unknown", 3, "session", "timer", "rinse", "7min", "--session", "99"),
    book!("timer_unknown", 3, "session", "away", "99"),
    (&["session", "blank", "-o", "never-written.pdf", "--paper", "a3"], "paper_size_unreadable", 2),
    // Measurements that are kept.
    book!("answer_missing", 2, "paper", "dropper", "200drops 10mL", "--keep", "a new pipette"),
    book!("item_unknown", 3, "paper", "dropper", "200drops 10mL", "--keep", "a new pipette", "--solution", "nothing"),
    book!("answer_missing", 2, "paper", "share", "--paper", "21.80g-20.00g", "--brush", "31.15g-31.00g", "--glass", "40.05g-40.00g", "--balance", "0.01g", "--keep", "a new brush", "--on", "newsprint"),
    book!("record_unknown", 3, "coat", "plan", "--image", "8x10in", "--metal", "Pd", "--paper", "newsprint"),
    book!("record_unknown", 3, "coat", "made", "Gate", "--pour", "stock=3", "--paper", "newsprint"),
    // The coat.
    (&["coat", "plan", "--metal", "Pd"], "answer_missing", 2),
    (&["coat", "plan", "--image", "8x10in"], "answer_missing", 2),
    (&["coat", "plan", "--image", "8in", "--metal", "Pd"], "size_malformed", 2),
    (&["coat", "plan", "--image", "8x10", "--metal", "Pd"], "unit_missing", 2),
    (&["coat", "plan", "--image", "0x10in", "--metal", "Pd"], "nothing_asked", 4),
    (&["coat", "plan", "--image", "8x10in", "--metal", "my bottle"], "solution_unreadable", 2),
    (&["coat", "plan", "--image", "8x10in", "--metal", "NaCl 15%"], "solution_without_metal", 4),
    (&["coat", "plan", "--image", "8x10in", "--metal", "Na2PdCl4 15% strong"], "solution_unreadable", 2),
    coat!("tool_unknown", 2, "--tool", "sponge"),
    coat!("unit_of_another_kind", 2, "--uptake", "0.38mL"),
    coat!("share_without_uptake", 4, "--share", "90%"),
    coat!("share_missing", 4, "--share-off", "3%"),
    coat!("value_out_of_bounds", 2, "--drops-per-ml", "0"),
    coat!("drops_said_twice", 4, "--drops-per-ml", "20", "--drops-per-ml", "21"),
    coat!("drops_off_unreadable", 2, "--drops-per-ml", "metal 21±all"),
    coat!("metals_too_many", 4, "--metal", "Pt", "--metal", "Pt"),
    coat!("ratio_missing", 4, "--metal", "Pt"),
    coat!("ratio_missing", 4, "--ratio-by", "moles"),
    coat!("ratio_of_one_metal", 4, "--ratio", "1:1", "--ratio-by", "moles"),
    coat!("ratio_unreadable", 2, "--metal", "Pt", "--ratio", "half", "--ratio-by", "moles"),
    coat!("ratio_unreadable", 2, "--metal", "Pt", "--ratio", "1:0", "--ratio-by", "moles"),
    coat!("ratio_unit_missing", 4, "--metal", "Pt", "--ratio", "1:1"),
    coat!("ratio_unit_unknown", 2, "--metal", "Pt", "--ratio", "1:1", "--ratio-by", "drops"),
    coat!("first_coat_full", 4, "--first-coat", "100%"),
    coat!("count_unreadable", 2, "--sheets", "many"),
    coat!("iron_missing", 4, "--iron", "NaCl 27%"),
    coat!("hydrate_said_twice", 4, "--iron", "Fe2(C2O4)3·6H2O", "--hydrate", "6"),
    coat!("contrast_missing", 4, "--dose", "1mg/mL"),
    coat!("answer_missing", 2, "--contrast", "Na2PtCl6"),
    coat!("chlorate_missing", 2, "--contrast", "chlorate", "--dose", "1mg/mL"),
    coat!("contrast_unknown", 4, "--contrast", "NaCl 3%", "--dose", "1mg/mL"),
    coat!("contrast_beyond", 4, "--contrast", "KClO3 0.4%", "--dose", "2.1mg/mL"),
    book!("more_than_held", 4, "coat", "plan", "--image", "8x10in", "--metal", "stock", "--sheets", "900"),
    book!("strength_unknown", 4, "coat", "plan", "--image", "8x10in", "--metal", "nameless"),
    book!("item_unknown", 3, "coat", "plan", "--image", "8x10in", "--metal", "stick of it"),
    book!("item_of_another_kind", 4, "coat", "plan", "--image", "8x10in", "--metal", "platinum vial"),
    // Paper.
    (&["paper", "humidity", "--salt", "C12H22O11"], "box_salt_unknown", 4),
    (&["paper", "humidity", "--salt", "NaCl", "--temperature", "80C"], "box_out_of_range", 4),
    (&["paper", "humidity", "--salt", "NaCl", "--temperature", "20"], "unit_missing", 2),
    (&["paper", "dropper"], "answer_missing", 2),
    (&["paper", "dropper", "203"], "run_unreadable", 2),
    (&["paper", "dropper", "0drops 10mL"], "nothing_asked", 4),
    (&["paper", "dropper", "20drops 0.98g"], "density_missing", 4),
    (&["paper", "dropper", "20drops 0.98g", "--water-at", "60C"], "water_out_of_range", 4),
    (&["paper", "dropper", "20drops 0.98g", "--water-at", "20C", "--density", "1.1g/mL"], "density_said_twice", 4),
    (&["paper", "share"], "answer_missing", 2),
    (&["paper", "share", "--paper", "21.80g", "--brush", "31g-31g", "--glass", "40g-40g", "--balance", "0.01g"], "weighings_unreadable", 2),
    (&["paper", "share", "--paper", "20g-20g", "--brush", "31g-31g", "--glass", "40g-40g", "--balance", "0.01g"], "share_nothing_on_paper", 4),
    (&["paper", "share", "--paper", "21g-20g", "--brush", "30g-31g", "--glass", "40g-40g", "--balance", "0.01g"], "share_brush_gave_water", 4),
    // Negatives.
    negative!("picture_unreadable", 3, "nowhere.tif", "curve-straight.csv", "1in"),
    negative!("picture_unknown", 2, "chart-few.csv", "curve-straight.csv", "1in"),
    negative!("picture_ends_early", 2, "torn-off.tif", "curve-straight.csv", "1in"),
    negative!("picture_size", 2, "endless.tif", "curve-straight.csv", "1in"),
    negative!("picture_row_too_long", 2, "wide.tif", "curve-straight.csv", "1in"),
    negative!("picture_field", 2, "odd-field.tif", "curve-straight.csv", "1in"),
    negative!("picture_field_missing", 2, "no-width.tif", "curve-straight.csv", "1in"),
    negative!("picture_sort", 2, "inks.tif", "curve-straight.csv", "1in"),
    negative!("picture_too_short", 2, "short.tif", "curve-straight.csv", "1in"),
    negative!("picture_damaged", 2, "damaged.tif", "curve-straight.csv", "0.1in"),
    negative!("picture_not_a_number", 2, "no-number.tif", "curve-straight.csv", "0.1in"),
    negative!("picture_profile", 2, "profile.tif", "curve-straight.csv", "1in"),
    negative!("word_unknown", 2, "sound.tif", "curve-falls.csv", "1in"),
    negative!("table_missing", 3, "sound.tif", "nowhere.csv", "1in"),
    negative!("record_unknown", 3, "sound.tif", "9", "1in", "--book", "studio.handcoat"),
    negative!("negative_size", 4, "sound.tif", "curve-straight.csv", "0in"),
    negative!("negative_size", 4, "sound.tif", "curve-straight.csv", "400cm"),
    negative!("sides_both", 4, "sound.tif", "curve-straight.csv", "1in", "--height", "1in"),
    negative!("ppi_unreadable", 2, "sound.tif", "curve-straight.csv", "1in", "--ppi", "fine"),
    negative!("ppi_unreadable", 2, "sound.tif", "curve-straight.csv", "1in", "--ppi", "9"),
    (&["negative", "make", "no-pictures", "-o", "never-made", "--curve", "curve-straight.csv", "--width", "1in"], "folder_without_pictures", 3),
    (&["negative", "make", "pictures", "-o", "pictures", "--curve", "curve-straight.csv", "--width", "1in", "--force"], "folder_of_pictures", 4),
    (&["negative", "make", "pictures", "-o", "never-made", "--curve", "curve-straight.csv", "--width", "1in", "--keep", "one", "--book", "studio.handcoat"], "name_for_many", 4),
    (&["negative", "make", "pictures", "-o", "never-made", "--curve", "curve-straight.csv", "--width", "1in", "--preview", "small.png"], "preview_for_many", 4),
    book!("negative_name_taken", 4, "negative", "make", "sound.tif", "-o", "never-written.tif", "--curve", "curve-straight.csv", "--width", "1in", "--keep", "pier"),
    (&["negative", "stop", "99", "--book", "studio.handcoat"], "job_unknown", 3),
    (&["negative", "resume", "first", "--book", "studio.handcoat"], "count_unreadable", 2),
    (&["negative", "show", "Heron by night", "--book", "studio.handcoat"], "record_unknown", 3),
    negative!("compression_unknown", 2, "sound.tif", "curve-straight.csv", "1in", "--compression", "zip"),
    (&["negative", "make", "sound.tif", "-o", "a.png", "--curve", "curve-straight.csv", "--width", "1in", "--compression", "lzw"], "compression_of_png", 4),
    (&["negative", "make", "sound.tif", "-o", "a.gif", "--curve", "curve-straight.csv", "--width", "1in"], "picture_name_unknown", 2),
    (&["negative", "make", "sound.tif", "-o", "sound.tif", "--curve", "curve-straight.csv", "--width", "1in", "--force"], "picture_overwritten", 4),
    (&["negative", "make", "sound.tif", "-o", "wide.tif", "--curve", "curve-straight.csv", "--width", "1in"], "file_exists", 4),
    (&["negative", "make", "sound.tif", "-o", "a.tif", "--curve", "curve-straight.csv"], "answer_missing", 2),
    negative!("answer_missing", 2, "sound.tif", "curve-straight.csv", "1in", "--copies", "2"),
    negative!("film_unsaid", 4, "sound.tif", "curve-straight.csv", "1in", "--film-margin", "5mm"),
    negative!("film_full", 4, "sound.tif", "curve-straight.csv", "1in", "--copies", "9", "--sheet", "3x3in"),
    negative!("size_malformed", 2, "sound.tif", "curve-straight.csv", "1in", "--sheet", "large"),
    negative!("placed_many", 4, "sound.tif", "curve-straight.csv", "1in", "sound.tif", "--copies", "60", "--sheet", "40x40in"),
    negative!("sides_count", 4, "sound.tif", "curve-straight.csv", "1in,2in,3in", "sound.tif", "--sheet", "8x10in"),
    negative!("copies_unreadable", 2, "sound.tif", "curve-straight.csv", "1in", "--copies", "many"),
    negative!("crop_unreadable", 2, "sound.tif", "curve-straight.csv", "1in", "--crop", "the left"),
    negative!("crop_beyond", 4, "sound.tif", "curve-straight.csv", "1in", "--crop", "60%,0%,60%x100%"),
    negative!("choice_unknown", 2, "sound.tif", "curve-straight.csv", "1in", "--turn", "45"),
    negative!("border_both", 4, "sound.tif", "curve-straight.csv", "1in", "--border-sides", "short"),
    negative!("dither_of_sixteen", 4, "sound.tif", "curve-straight.csv", "1in", "--dither", "blue-noise"),
    negative!("ink_white", 4, "sound.tif", "curve-straight.csv", "1in", "--ink", "#fefefe"),
    negative!("curve_flat", 4, "sound.tif", "curve-flat.csv", "1in"),
    negative!("ink_unreadable", 2, "sound.tif", "curve-straight.csv", "1in", "--ink", "green"),
    negative!("ink_of_eight", 4, "sound.tif", "curve-straight.csv", "1in", "--ink", "#204060", "--depth", "8"),
    negative!("rule_far", 4, "sound.tif", "curve-straight.csv", "1in", "--rule-measured", "94mm"),
    negative!("answer_missing", 2, "sound.tif", "curve-straight.csv", "1in", "--rule-on", "none"),
    negative!("rule_film_unknown", 4, "sound.tif", "curve-straight.csv", "1in", "--rule-measured", "99mm", "--rule-on", "pier", "--book", "studio.handcoat"),
    negative!("rule_not_on_film", 4, "sound.tif", "curve-straight.csv", "1in", "--rule-measured", "49.8mm", "--rule-on", "bare", "--book", "studio.handcoat"),
    negative!("record_unknown", 3, "sound.tif", "curve-straight.csv", "1in", "--rule-measured", "99mm", "--rule-on", "nowhere", "--book", "studio.handcoat"),
    (&["negative", "make", "sound.tif", "-o", "pictures", "--curve", "curve-straight.csv", "--width", "1in", "--force"], "file_no_file", 4),
    book!("name_unreadable", 2, "negative", "make", "sound.tif", "-o", "never-written.tif", "--curve", "curve-straight.csv", "--width", "1in", "--keep", "17"),
    (&["negative", "put-away", "99", "--book", "studio.handcoat"], "job_unknown", 3),
    negative!("preview_is_file", 4, "sound.tif", "curve-straight.csv", "1in", "--preview", "never-written.tif"),
    negative!("preview_name_unknown", 2, "sound.tif", "curve-straight.csv", "1in", "--preview", "a.jpg"),
    (&["negative", "inks", "-o", "never-written.tif", "--ink", "#0000", "--ink", "#000000"], "ink_unreadable", 2),
    (&["negative", "inks", "-o", "never-written.tif"], "answer_missing", 2),
    (&["negative", "inks", "-o", "never-written.tif", "--ink", "0,0,1", "--ink", "0,0,2", "--ink", "0,0,3", "--ink", "0,0,4", "--ink", "0,0,5", "--ink", "0,0,6", "--ink", "0,0,7", "--ink", "0,0,8", "--ink", "0,0,9", "--ink", "0,0,10", "--ink", "0,0,11", "--ink", "0,0,12", "--ink", "0,0,13"], "inks_many", 4),
    (&["tone", "fit", "chart-few.csv"], "inputs_few", 4),
    (&["tone", "fit", "chart-many.csv"], "patches_many", 4),
    (&["tone", "fit", "chart-flat.csv"], "chart_flat", 4),
    (&["tone", "fit", "chart-turned.csv"], "chart_upside_down", 4),
    (&["tone", "fit", "chart-middle.csv"], "ends_missing", 4),
    (&["tone", "fit", "chart-percent.csv"], "value_out_of_bounds", 2),
    (&["tone", "fit", "chart-names.csv"], "column_missing", 2),
    (&["tone", "fit", "chart-cut.txt"], "table_cut_off", 2),
    (&["tone", "fit", "chart-both.csv"], "reading_contradicted", 2),
    (&["tone", "fit", "nowhere.csv"], "table_missing", 3),
    (&["tone", "fit", "chart-few.csv", "--target", "even"], "target_unknown", 2),
    (&["tone", "fit", "chart-few.csv", "--prior", "chart-few.csv"], "fit_unreadable", 2),
    (&["tone", "fit", "chart-few.csv", "--csv", "chart-flat.csv"], "file_exists", 4),
    (&["tone", "verify", "chart-few.csv"], "answer_missing", 2),
    book!("scan_facts_unreadable", 2, "tone", "fit", "chart-few.csv", "--keep", "--scan", "fit-other.json"),
    book!("scan_facts_other", 4, "tone", "fit", "chart-few.csv", "--keep", "--scan", "scan-facts.json"),
    (&["tone", "next", "fit-other.json"], "fit_unreadable", 2),
    book!("patch_empty", 4, "tone", "next", "1", "--patch", "0mm"),
    book!("count_unreadable", 2, "tone", "next", "1", "--most", "many"),
    book!("inputs_few", 4, "tone", "verify", "chart-few.csv", "--of", "1"),
    (&["tone", "chart"], "answer_missing", 2),
    (&["tone", "chart", "-o", "sound.tif"], "file_exists", 4),
    (&["tone", "chart", "-o", "never-written.tif", "--levels", "41"], "levels_unknown", 2),
    (&["tone", "chart", "-o", "never-written.tif", "--levels", "12", "--strip"], "levels_of_strip", 4),
    (&["tone", "chart", "-o", "never-written.tif", "--seed", "first"], "seed_unreadable", 2),
    (&["tone", "chart", "-o", "never-written.tif", "--seed", "4294967295", "--ink", "1,2,3"], "seed_long", 4),
    (&["tone", "chart", "-o", "never-written.tif", "--sheet", "4x5in"], "chart_no_room", 4),
    (&["tone", "chart", "-o", "never-written.gif"], "picture_name_unknown", 2),
    (&["tone", "read", "nowhere.tif"], "picture_unreadable", 3),
    (&["tone", "read", "chart-few.csv"], "picture_unknown", 2),
    (&["tone", "read", "sound.tif", "--scanner-gamma", "steep"], "gamma_unreadable", 2),
    (&["tone", "read", "sound.tif", "--scanner-gamma", "9"], "gamma_unreadable", 2),
    (&["tone", "read", "sound.tif"], "scan_no_marks", 4),
    (&["tone", "read", "chart-print.tif"], "scan_clipped", 4),
    (&["tone", "read", "sound.tif", "--reference", "strip-far.csv"], "reference_no_ppi", 4),
    (&["tone", "read", "chart-print.tif", "--reference", "strip-far.csv"], "reference_off_scan", 4),
    (&["tone", "read", "chart-print.tif", "--reference", "strip-alike.csv"], "reference_unordered", 4),
    (&["tone", "read", "chart-print.tif", "--reference", "chart-few.csv"], "column_missing", 2),
    (&["tone", "read", "chart-print.tif", "--reference", "nowhere.csv"], "table_missing", 3),
    (&["tone", "read", "chart-mirrored.tif"], "scan_mirrored", 4),
    (&["tone", "read", "chart-coarse.tif"], "scan_coarse", 4),
    (&["tone", "curve", "nowhere.json"], "file_unreadable", 1),
    book!("file_exists", 4, "tone", "curve", "1", "--device-link", "chart-flat.csv"),
    book!("file_exists", 4, "tone", "curve", "1", "--profile", "chart-flat.csv"),
    (&["tone", "proof", "sound.tif"], "answer_missing", 2),
    book!("file_exists", 4, "tone", "proof", "sound.tif", "-o", "sound.tif", "--of", "1"),
    book!("count_unreadable", 2, "tone", "proof", "sound.tif", "-o", "never-written.png", "--of", "1", "--pixels", "9"),
    book!("tint_unreadable", 2, "tone", "proof", "sound.tif", "-o", "never-written.png", "--of", "1", "--tint", "warm"),
    book!("picture_unreadable", 3, "tone", "proof", "nowhere.tif", "-o", "never-written.png", "--of", "1"),
    (&["tone", "levels", "--most", "300"], "patches_no_room", 4),
    (&["tone", "levels", "--most", "3"], "count_unreadable", 2),
    book!("record_unknown", 3, "tone", "show", "9"),
    book!("count_unreadable", 2, "tone", "show", "last"),
    wedge!("table_missing", 3, "nowhere.csv"),
    wedge!("table_too_large", 2, "large.csv"),
    wedge!("tones_missing", 4, "wedge-flat.csv"),
    wedge!("wedge_upside_down", 4, "wedge-turned.csv"),
    wedge!("steps_too_few", 4, "wedge-short.csv"),
    wedge!("decimal_mark_other", 2, "wedge-comma.csv"),
    wedge!("number_missing", 2, "wedge-words.csv"),
    wedge!("unit_unwanted", 2, "wedge-unit.csv"),
    wedge!("column_missing", 2, "wedge-names.csv"),
    wedge!("value_out_of_bounds", 2, "wedge-far.csv"),
    wedge!("decimal_mark_unreadable", 2, "wedge-flat.csv", "--decimal-mark", "dot"),
    wedge!("shoulder_unknown", 2, "wedge-flat.csv", "--shoulder", "gross"),
    wedge!("black_within_unusual", 4, "wedge-flat.csv", "--black-within", "0.1"),
    wedge!("exposure_said_twice", 4, "wedge-flat.csv", "--test-units", "120"),
    (&["expose", "wedge", "wedge-flat.csv"], "answer_missing", 2),
    (&["expose", "wedge", "--test-time", "4:00"], "argument_missing", 2),
    (&["expose", "wedge", "wedge-flat.csv", "--scan", "sound.tif", "--test-time", "4:00"], "argument_repeated", 2),
    wedge_scan!("picture_unreadable", 3, "nowhere.tif"),
    wedge_scan!("picture_unknown", 2, "chart-few.csv"),
    wedge_scan!("wedge_not_found", 4, "sound.tif"),
    wedge_scan!("wedge_not_found", 4, "chart-print.tif"),
    wedge_scan!("wedge_not_found", 4, "chart-print.tif", "--box", "0%,0%,100%x20%"),
    wedge_scan!("box_unreadable", 2, "chart-print.tif", "--box", "10%,5%"),
    wedge_scan!("box_unreadable", 2, "chart-print.tif", "--box", "10%,5mm,80%x12%"),
    wedge_scan!("box_beyond", 4, "chart-print.tif", "--box", "10%,5%,95%x12%"),
    wedge_scan!("box_no_ppi", 4, "sound.tif", "--box", "20mm,15mm,130mmx25mm"),
    wedge_scan!("tablet_unknown", 4, "chart-print.tif", "--steps", "1", "--increment", "0.15"),
    wedge_scan!("answer_missing", 2, "chart-print.tif", "--steps", "31"),
    wedge_scan!("gamma_unreadable", 2, "chart-print.tif", "--scanner-gamma", "steep"),
    wedge_scan!("reference_no_ppi", 4, "sound.tif", "--reference", "strip-far.csv"),
    wedge_scan!("table_missing", 3, "chart-print.tif", "--reference", "nowhere.csv"),
    wedge_scan!("file_exists", 4, "chart-print.tif", "--overlay", "sound.tif"),
    (&["expose", "wedge", "wedge-flat.csv", "--test-time", "0s"], "exposure_of_nothing", 4),
    book!("readings_many", 4, "expose", "wedge", "wedge-many.csv", "--test-time", "4:00", "--keep"),
    book!("record_unknown", 3, "expose", "strip", "--first", "2:00", "--until", "8:00", "--tapped", "5", "--keep", "--setup", "nowhere"),
    book!("record_unknown", 3, "expose", "show", "99"),
    book!("record_unknown", 3, "keep", "setup", "cotton", "--lamp", "nowhere"),
    book!("rule_far", 4, "keep", "setup", "cotton", "--rule-measured", "70mm"),
    book!("count_unreadable", 2, "expose", "show", "first"),
    book!("answer_missing", 2, "expose", "strip", "--first", "2:00", "--until", "8:00", "--keep"),
    (&["expose", "eye", "--test-time", "4:00", "--last-black", "five", "--last-tone", "15"], "step_unreadable", 2),
    (&["expose", "eye", "--test-time", "4:00", "--last-black", "5", "--last-tone", "22"], "step_unknown", 4),
    (&["expose", "eye", "--test-time", "4:00", "--last-black", "5", "--last-tone", "4"], "tones_reversed", 4),
    (&["expose", "eye", "--test-time", "4:00", "--last-black", "1", "--last-tone", "2", "--steps", "1"], "tablet_unknown", 4),
    (&["expose", "strip", "--first", "8:00", "--until", "2:00"], "strips_reversed", 4),
    (&["expose", "strip", "--first", "10s", "--until", "2h"], "strips_many", 4),
    (&["expose", "strip", "--first", "1s", "--until", "10s"], "strips_alike", 4),
    (&["expose", "strip", "--first", "2:00", "--until", "8:00", "--stops", "fifth"], "stop_part_unknown", 2),
    (&["expose", "strip", "--first", "2:00", "--until", "8:00", "--tapped", "9"], "strip_unknown", 4),
    (&["expose", "strip", "--first", "2:00", "--until", "8:00", "--tapped", "2"], "strips_too_long", 4),
    ladder!("agent_unknown", 2, "vinegar"),
    ladder!("ladder_empty", 4, "peroxide"),
    ladder!("ladder_wedge_unreadable", 2, "peroxide", "--wedge", "1mg/mL 1.6"),
    ladder!("dose_of_another_kind", 4, "dichromate", "--wedge", "1mg/mL 1.6 0.03"),
    ladder!("ladder_flat", 4, "peroxide", "--wedge", "1mg/mL 1.4 0.03", "--wedge", "2mg/mL 1.6 0.03"),
    (&["expose", "distance", "--lamp", "bright", "--test-time", "4:00", "--from", "50cm", "--to", "1m"], "lamp_unknown", 2),
    (&["expose", "distance", "--lamp", "wide", "--test-time", "4:00", "--from", "10cm", "--to", "15cm"], "lamp_is_wide", 4),
    (&["expose", "distance", "--lamp", "point", "--test-time", "4:00", "--from", "0cm", "--to", "15cm"], "distance_missing", 4),
];

/// Codes that can be given and no command reaches: whole drops of some kind are found for any coat, and a fit, or an improved one, for any
/// chart that passes the checks before it.
const NOT_REACHED: [&str; 3] = ["drops_not_found", "fit_not_found", "update_none"];
/// Codes no list of words provokes: bytes that are no text (`error_keys`), a full disk (`disk`), a port that is taken (`web_serving`), a
/// broken program, labels without name or code, which no book holds (tested in `sheets`); a table that reads as a curve and is none, a negative
/// that another process makes or somebody stops, a picture of megabytes of tables (tested in `pixels`), large JPEGs many times over (tested in
/// `work`); jobs that somebody has, or that are over, pictures whose process is ended by its limits, and folders of pictures of which one is
/// bad (`negative_jobs`); names of files that are no text, and folders nobody may look into; prints that are damaged, and scans that are badly
/// made (tested in `trials`); a code of squares that is too long, which none of a chart is.
const NOT_PROVOKED: [&str; 48] = [
    "folder_unwritable",
    "job_of_this_file",
    "job_taken",
    "job_made",
    "job_over",
    "pictures_failed",
    "picture_needs_memory",
    "picture_process_ended",
    "name_no_text",
    "folder_unreadable",
    "argument_not_text",
    "output_unwritable",
    "port_unavailable",
    "tour_stop_failed",
    "label_blank",
    "qr_empty",
    "qr_too_long",
    "curve_none",
    "negative_busy",
    "negative_stopped",
    "picture_memory",
    "copies_memory",
    "chart_code_failed",
    "scan_blurred",
    "scan_bent",
    "scan_code_foreign",
    "scan_code_later",
    "scan_code_unreadable",
    "scan_copies_disagree",
    "scan_cut_off",
    "scan_disagrees",
    "scan_few_marks",
    "scan_flat",
    "scan_light_falls",
    "scan_light_uneven",
    "scan_order",
    "scan_several_charts",
    "scan_skewed",
    "wedge_blurred",
    "wedge_box_off",
    "wedge_clipped",
    "wedge_coarse",
    "wedge_count",
    "wedge_cut_off",
    "wedge_flat",
    "wedge_order",
    "wedge_several",
    "wedge_skewed",
];
/// Codes of a book nobody gets into by words alone: another writer who does not end (tested in `book`), a name missing from a
/// shell's surroundings, work that only a page asks for, and what would be a fault of the program or of the machine.
const NOT_OF_WORDS: [&str; 11] = [
    "negative_file_changed",
    "picture_not_there",
    "negative_file_elsewhere",
    "reading_unreadable",
    "repeat_bottle_gone",
    "bench_unknown",
    "book_busy",
    "book_failed",
    "book_not_named",
    "entry_not_admitted",
    "random_missing",
];

/// Runs a case; files named in it lie in the folder of `books`, and are called by their bare names in what it prints.
fn handcoat(arguments: &[&str]) -> Outcome {
    let folder = shelf_of_books();
    let found = |word: &str| match word {
        "studio.handcoat" | "later.handcoat" | "torn.handcoat" | "nowhere.handcoat" | "notes.txt" | "pictures"
        | "no-pictures" => folder.join(word).display().to_string(),
        word if [".csv", ".jpg", ".json", ".tif", ".txt"].iter().any(|own| word.ends_with(own)) => {
            folder.join(word).display().to_string()
        }
        word => word.into(),
    };
    let words: Vec<String> = arguments.iter().map(|word| found(word)).collect();
    let mut outcome = crate::command::handcoat(&words.iter().map(String::as_str).collect::<Vec<_>>());
    outcome.messages = outcome.messages.replace(&format!("{}/", folder.display()), "");
    outcome
}

#[test]
fn each_case_is_refused_as_expected() {
    for (arguments, code, exit) in CASES {
        let spoken = handcoat(arguments);
        assert_eq!(spoken.code, *exit, "{arguments:?}: {}{}", spoken.data, spoken.messages);
        assert!(spoken.data.is_empty(), "{arguments:?} printed data: {}", spoken.data);
        if arguments.is_empty() {
            continue; // Nothing typed is answered with help, in words only.
        }
        let written = handcoat(&[arguments, &["--json"][..]].concat());
        assert_eq!(written.code, *exit, "{arguments:?}");
        let error: Value = serde_json::from_str(&written.messages).expect("JSON on stderr");
        assert_eq!(error["error"]["code"], *code, "{arguments:?}: {}", written.messages);
        assert!(!error["error"]["message"].as_str().expect("a message").is_empty());
        let remedies = error["error"]["remedies"].as_array().expect("remedies");
        assert!(!remedies.is_empty(), "{arguments:?} gives no next step");
        assert!(!Path::new("never-written.pdf").exists(), "{arguments:?} left a file");
        assert!(spoken.messages.trim_end().ends_with(&format!("[{code}]")), "{arguments:?}: {}", spoken.messages);
    }
    let distinct: BTreeSet<_> = CASES.iter().map(|(_, code, _)| code).collect();
    assert!(CASES.len() >= 60 && distinct.len() >= 20, "{} cases, {} codes", CASES.len(), distinct.len());
}

#[test]
fn messages_say_what_was_seen_in_the_words_of_the_house() {
    for (arguments, _, _) in CASES {
        if arguments.is_empty() {
            continue;
        }
        let written = handcoat(&[arguments, &["--json"][..]].concat());
        let error: Value = serde_json::from_str(&written.messages).expect("JSON on stderr");
        let message = error["error"]["message"].as_str().expect("a message");
        let first = message.chars().next().expect("a letter");
        assert!(!first.is_uppercase() || !message.is_char_boundary(1), "`{message}` begins with a capital");
        assert!(!message.ends_with('.'), "`{message}` ends with a full stop");
    }
}

/// What the program advises after these arguments.
fn remedies(arguments: &[&str]) -> Vec<String> {
    let written = handcoat(&[arguments, &["--json"][..]].concat());
    let Ok(error) = serde_json::from_str::<Value>(&written.messages) else { return Vec::new() };
    let remedies = error["error"]["remedies"].as_array().cloned().unwrap_or_default();
    remedies.iter().filter_map(|remedy| remedy.as_str().map(String::from)).collect()
}

/// Flags to be left out, or for which there should be another answer, that were never given.
fn not_given(arguments: &[&str]) -> Vec<String> {
    let given = |flag: &str| arguments.iter().any(|word| word.split('=').next() == Some(flag));
    let taken_back = |remedy: &String| remedy.strip_prefix("leave out ").map(String::from);
    remedies(arguments).iter().filter_map(taken_back).filter(|flag| !given(flag)).collect()
}

#[test]
fn nothing_is_to_be_left_out_that_was_not_given() {
    let mut seen = 0;
    for (arguments, code, _) in CASES {
        assert_eq!(not_given(arguments), Vec::<String>::new(), "{code}: {arguments:?}");
        seen += remedies(arguments).iter().filter(|remedy| remedy.starts_with("leave out")).count();
    }
    assert!(seen >= 12, "only {seen} remedies leave something out");
}

#[test]
fn the_blame_falls_on_what_was_given() {
    let about = |more: &[&str]| handcoat(&[&["stock", "plan", "--salt", "PdCl2"], more].concat()).messages;
    for (more, blamed) in [
        (&["--make", "60mL", "--chloride-weighed", "60kg"][..], "--chloride-weighed: "),
        (&["--make", "60mL", "--weighed", "5.5g", "--chloride-weighed", "60kg"], "--chloride-weighed: "),
        (&["--make", "25mL", "--weighed", "60g", "--chloride-weighed", "2g"], "--weighed: "),
        (&["--bottle", "0mL"], "--bottle: "),
        (&["--salt-mass", "0g"], "--salt-mass: "),
        (&["--budget", "0EUR", "--price-salt", "48EUR/g"], "--budget: 0.00 EUR buys nothing: that is no money"),
        (&["--make", "1mL", "--rinses", "9"], "--rinses: 9 rinses of 0.1 mL"),
        (&["--make", "60mL", "--chloride-mass", "120g"], "--make: the solids take 56.7 mL of 60 mL"),
    ] {
        assert!(about(more).starts_with(blamed), "{more:?}: {}", about(more));
    }
    // A scale that is fine enough: ten steps and more of what is wanted.
    let finer = |more: &[&str]| remedies(&[&["stock", "plan", "--salt", "PdCl2", "--balance", "1g"], more].concat());
    assert_eq!(finer(&["--make", "0.5mL"])[0], "weigh on a finer scale: --balance 0.001g");
    assert_eq!(
        finer(&["--salt-mass", "0.4g", "--percent-complex", "15"])[0],
        "weigh on a finer scale: --balance 0.01g"
    );
    // And the rinses that fit do fit.
    let fit = remedies(&["stock", "plan", "--salt", "PdCl2", "--make", "1mL", "--rinses", "9"])[0].clone();
    let words: Vec<&str> = fit.split(' ').collect();
    assert_eq!(
        handcoat(&[&["stock", "plan", "--salt", "PdCl2", "--make", "1mL"], &words[..]].concat()).code,
        0,
        "{fit}"
    );
}

/// Every code written in the sources: string constants in `fn code` and in calls that make a refusal.
pub(crate) fn codes_in_sources() -> BTreeSet<String> {
    let mut codes = BTreeSet::new();
    for (path, text) in rust_files("crates") {
        if path.components().any(|part| part.as_os_str() == "tests")
            || [
                "stock/warning.rs",
                "coat/warning.rs",
                "expose/warning.rs",
                "tone/warning.rs",
                "negative/warning.rs",
                "tone/standing.rs",
                "book/src/check.rs",
            ]
            .iter()
            .any(|own| path.ends_with(own))
        {
            continue;
        }
        for function in text.split("fn code(").skip(1).chain(text.split("fn usage_code(").skip(1)) {
            let body = function.split("\n    }\n").next().unwrap_or_default().split("\n}\n").next().unwrap_or_default();
            codes.extend(body.split('"').skip(1).step_by(2).map(String::from));
        }
        for maker in [
            "Refusal::rule(",
            "Self::rule(",
            "Refusal::output(",
            "Refusal::unreadable(",
            "Refusal::file(",
            "Self::unreadable(",
            "Self { code: ",
            "Refusal { code: ",
            "code: ",
        ] {
            for call in text.split(maker).skip(1) {
                if let Some(rest) = call.trim_start().strip_prefix('"') {
                    codes.extend(rest.split('"').next().map(String::from));
                }
            }
        }
    }
    codes
}

#[test]
fn every_code_has_a_case_and_every_case_a_code() {
    let provoked: BTreeSet<String> = CASES.iter().map(|(_, code, _)| String::from(*code)).collect();
    let excused: BTreeSet<String> =
        NOT_REACHED.iter().chain(&NOT_PROVOKED).chain(&NOT_OF_WORDS).map(|code| String::from(*code)).collect();
    let written = codes_in_sources();
    let missing: Vec<_> = written.iter().filter(|code| !provoked.contains(*code) && !excused.contains(*code)).collect();
    assert!(missing.is_empty(), "no case for {missing:?}");
    let invented: Vec<_> = provoked.iter().filter(|code| !written.contains(*code)).collect();
    assert!(invented.is_empty(), "no source for {invented:?}");
}

/// The page of refusals, from what they print today.
fn page() -> String {
    let mut by_code: BTreeMap<&str, (&[&str], u8)> = BTreeMap::new();
    for (arguments, code, exit) in CASES {
        by_code.entry(code).or_insert((arguments, *exit));
    }
    let mut out = String::from(
        "# Refusals\n\nGenerated by `scripts/refusals` from what the program prints; a test holds it true. Exit codes: 1 failed, 2 an \
         argument\ncannot be read as asked, 3 what is named is not there, 4 refused by a rule, 5 a book that is damaged, foreign or newer, 6 \
         busy.\n",
    );
    for (code, (arguments, exit)) in by_code {
        let words: Vec<String> = arguments
            .iter()
            .map(|word| {
                if word.len() > 60 {
                    format!("'{}…'", &word[..24])
                } else if word.chars().all(|c| c.is_ascii_alphanumeric() || "-.,%/=".contains(c)) && !word.is_empty() {
                    String::from(*word)
                } else {
                    format!("'{word}'")
                }
            })
            .collect();
        let messages = handcoat(arguments).messages;
        let _ = write!(out, "\n## {code}\n\nExit {exit}.\n\n```text\n$ handcoat {}\n", words.join(" "));
        for line in messages.trim_end().lines().take(14) {
            let line: String =
                if line.chars().count() > 118 { line.chars().take(117).chain(['…']).collect() } else { line.into() };
            let _ = writeln!(out, "{}", line.trim_end());
        }
        out.push_str("```\n");
    }
    out
}

#[test]
fn the_page_of_refusals_is_what_the_program_prints() {
    let path = root().join("docs/refusals.md");
    let page = page();
    if std::env::var_os("HANDCOAT_WRITE_REFUSALS").is_some() {
        std::fs::write(&path, &page).expect("the page written");
    }
    let kept = std::fs::read_to_string(&path).expect("docs/refusals.md");
    assert!(kept == page, "docs/refusals.md is not what the program prints today; run scripts/refusals");
}

proptest::proptest! {
    #[test]
    fn arbitrary_answers_are_only_asked_to_leave_out_what_they_gave(
        picked in proptest::collection::vec((0_usize..21, 0_usize..7), 1..5), salt in 0_usize..4,
    ) {
        let flags = [
            "--make", "--salt-mass", "--bottle", "--budget", "--molarity", "--percent-complex", "--salt-per-100ml",
            "--metal-per-ml", "--chloride-ratio", "--chloride-mass", "--purity", "--purity-of", "--hydrate", "--balance",
            "--glass", "--rinses", "--weighed", "--chloride-weighed", "--price-salt", "--with", "--mixed",
        ];
        let forms = ["mL", "g", "mL", "EUR", "M", "%", "%", "mg/mL", "", "g", "%", "", "", "g", "mL", "", "g", "g", "EUR/g"];
        let numbers = ["0", "0.001", "0.4", "5", "60", "900", "90000"];
        let salt = ["PdCl2", "K2PtCl4", "Na2PtCl6·6H2O", "K2PdCl4"][salt];
        let mut words = vec![String::from("stock"), String::from("plan"), format!("--salt={salt}")];
        let mut chosen = picked;
        chosen.sort_unstable();
        chosen.dedup_by_key(|(flag, _)| *flag);
        for (flag, number) in chosen {
            words.push(match flags[flag] {
                "--purity-of" => String::from("--purity-of=metal"),
                "--with" => String::from("--with=KCl"),
                "--mixed" => String::from("--mixed"),
                other => format!("{other}={}{}", numbers[number], forms[flag]),
            });
        }
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        proptest::prop_assert_eq!(not_given(&words), Vec::<String>::new(), "{:?}", words);
        let outcome = handcoat(&words);
        proptest::prop_assert!(outcome.code == 0 || outcome.messages.contains("  try: "), "{}", outcome.messages);
    }
}
