//! Acts on the shelf: metal and money go where the powder goes.

use handcoat_craft::ledger::{Account, CoatNumber, Tally};
use handcoat_work::Studio;
use handcoat_work::ledger::{WhereRow, balance, balance_by_holder, undo, where_by_holder, whereabouts_of};
use handcoat_work::print::{CoatMade, coat};
use handcoat_work::shelf::{
    Count, Dilute, EnterHazards, LabelAnswers, Look, Lose, Mix, Pour, Receive, Retire, Split, Sweep, count, dilute,
    enter_hazards, look, lose, mix, pour, receive, retire, split,
};

use crate::studio::{TestStudio, now, some};

fn mixed() -> TestStudio {
    let mut studio = TestStudio::new();
    studio.jar("PdCl2", "10g", "jar");
    let answers = Mix {
        from: some("jar"),
        mass: some("5g"),
        chloride: some("3.5g"),
        make: some("50mL"),
        name: some("stock"),
        balance: some("0.01g"),
        capacity: some("100mL"),
        empty: some("60g"),
        full: some("115g"),
        ..Mix::default()
    };
    mix(&mut studio.studio, &now(), &answers).expect("mixed");
    studio
}

/// Everything of one commodity, which must be nothing.
fn sum(studio: &TestStudio, commodity: &str) -> i64 {
    let rows = balance(&studio.studio).expect("balances");
    rows.iter().filter(|row| row.commodity.to_string() == commodity).map(|row| row.amount.to_units()).sum()
}

#[test]
fn half_the_powder_is_half_the_metal_and_half_the_money() {
    let studio = mixed();
    let (jar, bottle) = (studio.item("jar"), studio.item("stock"));
    let (of_jar, of_bottle) = (jar.metal.expect("metal").1, bottle.metal.expect("metal").1);
    // 10 g of 99 % PdCl2 hold an odd number of micrograms, and half of that is rounded up.
    assert_eq!(of_jar.to_micrograms() + 1, of_bottle.to_micrograms());
    assert_eq!(jar.cost.iter().map(|own| own.to_minor()).collect::<Vec<_>>(), [24_000]);
    assert_eq!(bottle.cost.iter().map(|own| own.to_minor()).collect::<Vec<_>>(), [24_000]);
    assert_eq!((sum(&studio, "Pd"), sum(&studio, "EUR")), (0, 0));
    // 5 g of 99 % PdCl2 (0.60017 Pd) in 50 mL.
    let per_ml = bottle.strength.expect("a strength").to_milligrams_per_millilitre();
    assert!((per_ml - 5.0 * 0.99 * 600.17 / 50.0).abs() < 0.01, "{per_ml}");
    studio.sound();
}

#[test]
fn water_thins_and_takes_nothing() {
    let mut studio = mixed();
    let before = studio.item("stock");
    dilute(&mut studio.studio, &now(), &Dilute { bottle: some("stock"), water: some("10mL") }).expect("thinned");
    let after = studio.item("stock");
    assert_eq!((before.metal, &before.cost), (after.metal, &after.cost));
    let ratio = before.strength.expect("one").to_milligrams_per_millilitre()
        / after.strength.expect("two").to_milligrams_per_millilitre();
    assert!((ratio - 1.2).abs() < 1e-9);
}

#[test]
fn a_split_bottle_poured_back_is_whole_again() {
    let mut studio = mixed();
    let before = studio.item("stock");
    split(&mut studio.studio, &now(), &Split { bottle: some("stock"), volume: some("13.7mL"), name: some("small") })
        .expect("split");
    let (big, small) = (studio.item("stock"), studio.item("small"));
    assert_eq!(
        big.percent.map(|own| (own.to_grams_per_100_ml() * 1e4).round()),
        small.percent.map(|own| (own.to_grams_per_100_ml() * 1e4).round())
    );
    pour(&mut studio.studio, &now(), &Pour { from: some("small"), into: some("stock"), volume: None }).expect("poured");
    let after = studio.item("stock");
    assert_eq!((before.metal, before.volume, &before.cost), (after.metal, after.volume, &after.cost));
    studio.sound();
}

#[test]
fn a_count_within_what_is_known_moves_nothing() {
    let mut studio = mixed();
    let before = balance(&studio.studio).expect("balances");
    // 115 g was 50 mL; 114.6 g is 49.6 mL, well within the cylinder's own ±.
    let done =
        count(&mut studio.studio, &now(), &Count { item: some("stock"), gross: some("114.6g"), ..Count::default() })
            .expect("counted");
    assert!(done.said.iter().any(|said| said.contains("agree")), "{:?}", done.said);
    assert_eq!(before, balance(&studio.studio).expect("balances"));
}

#[test]
fn a_sharp_count_leaves_the_book_less_in_doubt() {
    let mut studio = mixed();
    let answers = Receive {
        formula: some("Na2PdCl4"),
        percent: some("15%"),
        level: some("50%"),
        capacity: some("100mL"),
        name: some("old"),
        ..Receive::default()
    };
    receive(&mut studio.studio, &now(), &answers).expect("received");
    assert_eq!(studio.item("old").amount, "50 ± 12 mL");
    let before = balance(&studio.studio).expect("balances");
    // By eye it was 50 ± 12; measured with a cylinder, 49 ± 1 (2 %, rectangular). The book's 50 is 1 mL off that, so ± 2 * hypot(0.57, 1).
    let measured = Count { item: some("old"), volume: some("49mL"), ..Count::default() };
    let done = count(&mut studio.studio, &now(), &measured).expect("counted");
    assert!(done.said.iter().any(|said| said == "The amount is known better now, to ± 2.3 mL."), "{:?}", done.said);
    assert_eq!(studio.item("old").amount, "50.0 ± 2.3 mL");
    assert_eq!(before, balance(&studio.studio).expect("balances"), "nothing is moved");
    // A vague one takes nothing of that away.
    count(&mut studio.studio, &now(), &Count { item: some("old"), level: some("50%"), ..Count::default() })
        .expect("counted");
    assert_eq!(studio.item("old").amount, "50.0 ± 2.3 mL");
    studio.sound();
}

#[test]
fn what_is_found_again_after_nothing_says_that_its_metal_is_not_known() {
    let mut studio = mixed();
    let empty = Count { item: some("stock"), volume: some("0mL"), ..Count::default() };
    count(&mut studio.studio, &now(), &empty).expect("counted");
    let again = Count { item: some("stock"), volume: some("40mL"), ..Count::default() };
    let done = count(&mut studio.studio, &now(), &again).expect("counted");
    assert!(done.said.iter().any(|said| said.contains("How much metal is in it is not known")), "{:?}", done.said);
    let found = &whereabouts_of(&studio.studio, Some("jar")).expect("where")[0];
    let unexplained = found.rows.iter().find(|row| row.account == Account::Unexplained).expect("a row");
    assert!(unexplained.amount > Tally::ZERO, "all of it stays there");
    studio.sound();
}

#[test]
fn no_solution_weighs_what_none_can() {
    let mut studio = TestStudio::new();
    studio.jar("PdCl2", "10g", "jar");
    let mut try_full = |full: &str| {
        let answers = Mix {
            from: some("jar"),
            mass: some("1g"),
            make: some("50mL"),
            empty: some("60g"),
            full: some(full),
            ..Mix::default()
        };
        mix(&mut studio.studio, &now(), &answers).map_err(|refusal| (refusal.code, refusal.cause))
    };
    // 0.9 to 2.0 g/mL, and 50 mL.
    let (code, cause) = try_full("104.9g").expect_err("lighter than any");
    assert_eq!(code, "density_impossible");
    assert!(cause.contains("44.9 g in 50 mL would be 0.898 g/mL"), "{cause}");
    assert_eq!(try_full("160.1g").expect_err("heavier than any").0, "density_impossible");
    try_full("105g").expect("just possible");
    try_full("160g").expect("just possible");
}

#[test]
fn what_is_poured_beyond_the_book_came_from_the_jar_of_its_bottle() {
    let mut studio = mixed();
    let before = studio.item("stock").metal.expect("metal").1.to_micrograms();
    let made = CoatMade { title: some("Heron"), pours: vec!["stock=75mL".into()], ..CoatMade::default() };
    let done = coat(&mut studio.studio, &now(), &made).expect("coated");
    assert!(done.said.iter().any(|said| said.contains("posted as a stocktake difference")), "{:?}", done.said);
    let all = whereabouts_of(&studio.studio, None).expect("where");
    assert!(all.iter().all(|own| own.account.item().is_some()), "no coat is where metal came from: {all:?}");
    let found = all.iter().find(|own| own.commodity.to_string() == "Pd").expect("the jar");
    let of =
        |account: Account| found.rows.iter().find(|row| row.account == account).map_or(0, |row| row.amount.to_units());
    let half = before / 2 + before % 2;
    // Half as much again as the bottle held, all of it of the jar.
    assert_eq!(of(Account::Coat(CoatNumber::new(1).expect("from one"))), before + half);
    assert_eq!(of(Account::Unexplained), -half);
    assert_eq!(found.rows.iter().map(|row| row.amount.to_units()).sum::<i64>(), found.received.to_units());
    assert_eq!(sum(&studio, "Pd"), 0);
    studio.sound();
    // A second coat stands with the first in one row, and the sum is the same.
    let made = CoatMade { title: some("Heron"), pours: vec!["stock=1mL".into()], ..CoatMade::default() };
    coat(&mut studio.studio, &now(), &made).expect("coated, though the book has the bottle as empty");
    let shown = balance_by_holder(&studio.studio).expect("balances");
    let pd = || shown.iter().filter(|row| row.commodity.to_string() == "Pd");
    assert_eq!(pd().map(|row| row.amount.to_units()).sum::<i64>(), 0);
    assert!(pd().any(|row| row.holder.to_string() == "1 coat"), "{shown:?}");
}

#[test]
fn coats_stand_together_in_one_row() {
    let mut studio = mixed();
    for _ in 0..3 {
        let made = CoatMade { title: some("Heron"), pours: vec!["stock=1mL".into()], ..CoatMade::default() };
        coat(&mut studio.studio, &now(), &made).expect("coated");
    }
    let found = whereabouts_of(&studio.studio, Some("jar")).expect("where");
    let pd = found.iter().find(|own| own.commodity.to_string() == "Pd").expect("the jar");
    let shown = where_by_holder(&pd.rows);
    assert_eq!(shown.len(), pd.rows.len() - 2);
    let (_, _, coats) = shown.iter().find(|(holder, ..)| holder.to_string() == "3 coats").expect("one row for three");
    let each = |row: &&WhereRow| matches!(row.account, Account::Coat(_));
    assert_eq!(coats.to_units(), pd.rows.iter().filter(each).map(|row| row.amount.to_units()).sum::<i64>());
    assert_eq!(shown.iter().map(|(_, _, amount)| amount.to_units()).sum::<i64>(), pd.received.to_units());
}

#[test]
fn a_count_beyond_it_stands_as_unexplained_with_its_metal() {
    let mut studio = mixed();
    let before = studio.item("stock");
    count(&mut studio.studio, &now(), &Count { item: some("stock"), gross: some("87.5g"), ..Count::default() })
        .expect("counted");
    let after = studio.item("stock");
    assert!((after.volume.expect("a volume").to_millilitres() - 25.0).abs() < 1e-6);
    let (_, metal_before) = before.metal.expect("metal");
    let (_, metal_after) = after.metal.expect("metal");
    assert!((metal_before.to_grams() / metal_after.to_grams() - 2.0).abs() < 1e-5);
    let found = &whereabouts_of(&studio.studio, Some("jar")).expect("where")[0];
    let unexplained = found.rows.iter().find(|row| row.account == Account::Unexplained).expect("a row");
    assert!(unexplained.amount > Tally::ZERO);
    assert_eq!(found.rows.iter().map(|row| row.amount.to_units()).sum::<i64>(), found.received.to_units());
    // More than the book knew comes back out of the unexplained.
    count(&mut studio.studio, &now(), &Count { item: some("stock"), volume: some("40mL"), ..Count::default() })
        .expect("counted");
    let found = &whereabouts_of(&studio.studio, Some("jar")).expect("where")[0];
    assert_eq!(found.rows.iter().map(|row| row.amount.to_units()).sum::<i64>(), found.received.to_units());
    assert_eq!((sum(&studio, "Pd"), sum(&studio, "EUR")), (0, 0));
    studio.sound();
}

#[test]
fn what_went_off_was_water() {
    let mut studio = mixed();
    let before = studio.item("stock");
    let answers = Count { item: some("stock"), volume: some("40mL"), evaporated: true, ..Count::default() };
    count(&mut studio.studio, &now(), &answers).expect("counted");
    let after = studio.item("stock");
    assert_eq!((before.metal, &before.cost), (after.metal, &after.cost));
    assert_eq!(after.volume.map(|own| own.to_millilitres()), Some(40.0));
}

#[test]
fn a_half_used_bottle_of_unknown_strength_is_received() {
    let mut studio = TestStudio::new();
    let answers = Receive {
        formula: some("unknown"),
        level: some("50%"),
        capacity: some("100mL"),
        name: some("old"),
        ..Receive::default()
    };
    receive(&mut studio.studio, &now(), &answers).expect("received");
    let old = studio.item("old");
    assert_eq!(old.amount, "50 ± 12 mL");
    assert_eq!((old.metal, old.strength), (None, None));
    let answers = Receive {
        formula: some("Na2PdCl4"),
        percent: some("15%"),
        gross: some("120g"),
        empty: some("60g"),
        name: some("bought"),
        ..Receive::default()
    };
    receive(&mut studio.studio, &now(), &answers).expect("received");
    let bought = studio.item("bought");
    // 60 g at 1.0 to 1.2 g/mL: the middle is 54.5 mL; 15 % as the salt met without and with water (trap 2 of the trade).
    assert!((bought.volume.expect("a volume").to_millilitres() - 54.545).abs() < 0.01);
    let per_ml = bought.strength.expect("a strength").to_milligrams_per_millilitre();
    assert!((46.0..54.3).contains(&per_ml), "{per_ml}");
    assert!(bought.facts.strength_rel_u.expect("a width") > 0.03);
    studio.sound();
}

#[test]
fn the_last_draw_takes_the_rest_and_nothing_stays_behind() {
    let mut studio = mixed();
    for _ in 0..7 {
        lose(&mut studio.studio, &now(), &Lose { item: some("stock"), amount: some("7mL"), residue: false })
            .expect("lost");
    }
    retire(&mut studio.studio, &now(), &Retire { item: some("stock"), residue: true }).expect("put away");
    let rows = balance(&studio.studio).expect("balances");
    assert!(!rows.iter().any(|row| row.account.to_string().starts_with("bottle")), "{rows:?}");
    assert_eq!((sum(&studio, "Pd"), sum(&studio, "EUR")), (0, 0));
    studio.sound();
}

#[test]
fn every_act_is_taken_back_to_where_it_was() {
    let mut studio = mixed();
    let picture = |studio: &TestStudio| {
        let items = handcoat_work::shelf::shelf(&studio.studio, now().at).expect("the shelf");
        (items, balance(&studio.studio).expect("balances"))
    };
    type Act = fn(&mut TestStudio) -> i64;
    let each: [Act; 6] = [
        |own| dilute(&mut own.studio, &now(), &Dilute { bottle: some("stock"), water: some("5mL") }).expect("done").act,
        |own| {
            split(&mut own.studio, &now(), &Split { bottle: some("stock"), volume: some("5mL"), name: None })
                .expect("done")
                .act
        },
        |own| {
            lose(&mut own.studio, &now(), &Lose { item: some("stock"), amount: some("5mL"), residue: true })
                .expect("done")
                .act
        },
        |own| {
            count(&mut own.studio, &now(), &Count { item: some("stock"), volume: some("9mL"), ..Count::default() })
                .expect("done")
                .act
        },
        |own| retire(&mut own.studio, &now(), &Retire { item: some("stock"), residue: false }).expect("done").act,
        |own| {
            mix(
                &mut own.studio,
                &now(),
                &Mix {
                    from: some("jar"),
                    mass: some("5g"),
                    chloride: some("3.5g"),
                    make: some("50mL"),
                    ..Mix::default()
                },
            )
            .expect("done")
            .act
        },
    ];
    for act in each {
        let before = picture(&studio);
        let number = act(&mut studio);
        assert_ne!(picture(&studio), before);
        undo(&mut studio.studio, &now(), &number.to_string()).expect("taken back");
        assert_eq!(picture(&studio), before);
        studio.sound();
    }
}

#[test]
fn the_sample_is_sound_and_marked_as_invented() {
    let mut studio = TestStudio::new();
    handcoat_work::sample::fill(&mut studio.studio, now().at).expect("filled");
    studio.sound();
    let items = handcoat_work::shelf::shelf(&studio.studio, now().at).expect("the shelf");
    assert!(items.len() >= 8, "{}", items.len());
    assert!(handcoat_work::sample::STUDIO.contains("(invented)"));
    for found in whereabouts_of(&studio.studio, None).expect("where").iter() {
        assert_eq!(found.rows.iter().map(|row| row.amount.to_units()).sum::<i64>(), found.received.to_units());
    }
    // Something is due and something is unexplained: a sample without trouble teaches nothing.
    assert!(items.iter().any(|item| !item.due.is_empty()));
    let rows = balance(&studio.studio).expect("balances");
    assert!(rows.iter().any(|row| row.account == Account::Unexplained));
}

#[test]
fn powders_of_different_purity_are_not_swept_together() {
    let mut studio = mixed();
    let other = Receive {
        formula: some("PdCl2"),
        mass: some("5g"),
        purity: some("50%"),
        name: some("low"),
        ..Receive::default()
    };
    receive(&mut studio.studio, &now(), &other).expect("received");
    let sweep = |from: &str, into: &str| Sweep { from: some(from), mass: some("0.1g"), into: some(into) };
    handcoat_work::shelf::sweep(&mut studio.studio, &now(), &sweep("jar", "vial")).expect("swept");
    let refused =
        handcoat_work::shelf::sweep(&mut studio.studio, &now(), &sweep("low", "vial")).expect_err("another powder");
    assert_eq!(refused.code, "item_of_another_kind");
    handcoat_work::shelf::sweep(&mut studio.studio, &now(), &sweep("low", "other vial")).expect("swept");
    let answers = Mix {
        from: some("jar"),
        mass: some("1g"),
        vials: vec!["other vial".into()],
        make: some("20mL"),
        ..Mix::default()
    };
    assert_eq!(mix(&mut studio.studio, &now(), &answers).expect_err("another powder").code, "salts_differ");
    assert!(studio.item("low").facts.cost_incomplete && studio.item("other vial").facts.cost_incomplete);
}

#[test]
fn what_is_wrong_with_a_bottle_goes_where_it_is_poured() {
    let mut studio = mixed();
    split(&mut studio.studio, &now(), &Split { bottle: some("stock"), volume: some("10mL"), name: some("bad") })
        .expect("split");
    let sediment = Look { bottle: some("bad"), verdict: some("sediment") };
    look(&mut studio.studio, &now(), &sediment).expect("looked");
    look(&mut studio.studio, &now(), &Look { bottle: some("stock"), verdict: some("clear") }).expect("looked");
    pour(&mut studio.studio, &now(), &Pour { from: some("bad"), into: some("stock"), volume: None }).expect("poured");
    assert!(studio.item("stock").facts.look.is_some_and(|look| !look.clear));
}

#[test]
fn hazards_are_followed_through_a_split() {
    let mut studio = mixed();
    let sheet = EnterHazards {
        item: some("jar"),
        supplier: some("Alder Salts (invented)"),
        date: some("2026-01-20"),
        statements: vec!["H290".into()],
        ..EnterHazards::default()
    };
    enter_hazards(&mut studio.studio, &now(), &sheet).expect("entered");
    split(&mut studio.studio, &now(), &Split { bottle: some("stock"), volume: some("5mL"), name: some("small") })
        .expect("split");
    let label = |studio: &TestStudio, name: &str| {
        let answers = LabelAnswers { items: vec![name.into()], ..LabelAnswers::default() };
        handcoat_work::shelf::label(&studio.studio, &answers, now().at).expect("a label").len()
    };
    // The same signs on both: without them the label is a frame of a few words and its file much smaller.
    let (big, small) = (label(&studio, "stock"), label(&studio, "small"));
    assert!(big.abs_diff(small) < 600, "{big} and {small}");
}

#[test]
fn thinning_a_bottle_of_uncertain_volume_widens_its_strength() {
    let mut studio = TestStudio::new();
    let half = Receive {
        formula: some("Na2PdCl4"),
        hydrate: some("none"),
        percent: some("15%"),
        level: some("50%"),
        capacity: some("100mL"),
        name: some("half"),
        ..Receive::default()
    };
    receive(&mut studio.studio, &now(), &half).expect("received");
    dilute(&mut studio.studio, &now(), &Dilute { bottle: some("half"), water: some("50mL") }).expect("thinned");
    // The volume was 50 mL known to 10 mL / √3; doubled by water, half of that relative ± is the strength's.
    let own = studio.item("half").facts.strength_rel_u.expect("known");
    let of_volume = 10.0 / 3.0_f64.sqrt() / 50.0 / 2.0;
    assert!((own - of_volume).abs() < 0.002, "{own} and {of_volume}");
}

#[test]
fn one_key_means_one_thing() {
    let mut studio = mixed();
    let moment = now();
    let spill = Lose { item: some("stock"), amount: some("1mL"), residue: false };
    let first = lose(&mut studio.studio, &moment, &spill).expect("lost");
    assert!(lose(&mut studio.studio, &moment, &spill).expect("asked again").repeated);
    let more = Lose { amount: some("2mL"), ..spill.clone() };
    assert_eq!(lose(&mut studio.studio, &moment, &more).expect_err("asked for otherwise").code, "key_used");
    let other = dilute(&mut studio.studio, &moment, &Dilute { bottle: some("stock"), water: some("1mL") });
    assert_eq!(other.expect_err("another act").code, "key_used");
    assert_eq!(undo(&mut studio.studio, &moment, &first.act.to_string()).expect_err("another act").code, "key_used");
    undo(&mut studio.studio, &now(), &first.act.to_string()).expect("taken back");
    assert_eq!(lose(&mut studio.studio, &moment, &spill).expect_err("taken back since").code, "key_used");
}

#[test]
fn where_a_jar_went_follows_every_act_and_every_undo() {
    let mut studio = mixed();
    let lose_some = |studio: &mut TestStudio, amount: &str| {
        let answers = Lose { item: some("jar"), amount: some(amount), residue: false };
        lose(&mut studio.studio, &now(), &answers).expect("lost").act
    };
    let as_opened_now = |studio: &TestStudio| {
        let opened = Studio::open(studio.studio.path()).expect("opened beside it");
        assert_eq!(
            whereabouts_of(&studio.studio, None).expect("where"),
            whereabouts_of(&opened, None).expect("where, anew")
        );
    };
    let first = lose_some(&mut studio, "0.01g");
    as_opened_now(&studio);
    let acts: Vec<i64> = (0..5).map(|_| lose_some(&mut studio, "0.001g")).collect();
    as_opened_now(&studio);
    // Taken back from the newest on, looked at now and then; further back, then more after it.
    for (count, act) in acts.iter().rev().chain([&first]).enumerate() {
        undo(&mut studio.studio, &now(), &act.to_string()).expect("taken back");
        if count % 2 == 0 {
            as_opened_now(&studio);
        }
    }
    as_opened_now(&studio);
    // More than is remembered, and then the first of them taken back: followed anew.
    let acts: Vec<i64> = (0..260).map(|_| lose_some(&mut studio, "0.00001g")).collect();
    as_opened_now(&studio);
    for act in acts.iter().rev() {
        undo(&mut studio.studio, &now(), &act.to_string()).expect("taken back");
    }
    as_opened_now(&studio);
    // A restored copy is another book, whatever its acts are numbered.
    let (copy, aside) = (studio.folder.path().join("copy"), studio.folder.path().join("aside"));
    studio.studio.backup(&copy).expect("a copy");
    lose_some(&mut studio, "0.02g");
    as_opened_now(&studio);
    studio.studio.restore(&copy, &aside).expect("restored");
    lose_some(&mut studio, "0.03g");
    as_opened_now(&studio);
}
