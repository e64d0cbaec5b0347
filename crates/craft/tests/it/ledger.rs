//! The ledger's rule, held against an independent model over random acts.
//!
//! `HANDCOAT_RANDOM_ACTS` sets how many acts are played; `scripts/deep/ledger` plays a million.

use std::collections::HashMap;

use crate::follow_one::follow_one;

use handcoat_craft::ledger::{
    Account, Balances, CoatNumber, Commodity, ContentsIn, Draft, Entry, ItemCode, ItemKind, ItemNumber, Line, Tally,
    Trace, Unsettled, draw, share, whereabouts,
};
use handcoat_craft::measure::Currency;
use handcoat_craft::source::Element;

fn item(number: u32) -> ItemNumber {
    ItemNumber::new(number).expect("numbers begin at one")
}

fn units(count: i64) -> Tally {
    Tally::from_units(count)
}

/// A small generator of our own, so that a seed gives the same acts on every machine (xorshift64*, Vigna 2016).
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    fn below(&mut self, count: u64) -> u64 {
        self.roll() % count
    }

    fn up_to(&mut self, most: i64) -> i64 {
        i64::try_from(self.below(most.unsigned_abs() + 1)).expect("at most `most`")
    }
}

/// The model: plain sums in wide integers, nothing shared with the code under test.
#[derive(Default)]
struct Model(HashMap<(String, String), i128>);

impl Model {
    fn add(&mut self, entry: &Entry) {
        for line in entry.lines() {
            *self.0.entry((line.account.to_string(), line.commodity.to_string())).or_default() +=
                i128::from(line.amount.to_units());
        }
    }

    fn agrees_with(&self, balances: &Balances) {
        let mut seen = 0;
        for (account, commodity, tally) in balances.rows() {
            assert_eq!(self.0[&(account.to_string(), commodity.to_string())], i128::from(tally.to_units()));
            seen += 1;
        }
        assert_eq!(self.0.values().filter(|sum| **sum != 0).count(), seen);
    }

    fn sums_to_zero(&self) {
        let mut sums: HashMap<&str, i128> = HashMap::new();
        for ((_, commodity), sum) in &self.0 {
            *sums.entry(commodity).or_default() += sum;
        }
        assert!(sums.values().all(|sum| *sum == 0), "{sums:?}");
    }
}

/// Jars 1 to 3 hold powder, bottles 4 to 9 and the vial 10 what comes of it.
fn kind(number: u32) -> (ItemKind, ContentsIn) {
    match number {
        1..=3 => (ItemKind::Jar, ContentsIn::Micrograms),
        4..=9 => (ItemKind::Bottle, ContentsIn::Nanolitres),
        _ => (ItemKind::Vial, ContentsIn::Micrograms),
    }
}

fn account(number: u32) -> Account {
    Account::Item(kind(number).0, item(number))
}

fn contents(number: u32) -> Commodity {
    Commodity::Contents(item(number), kind(number).1)
}

fn some_act(dice: &mut Dice, balances: &Balances) -> Option<Entry> {
    let (pd, eur) = (Commodity::Metal(Element::PD), Commodity::Money(Currency::code("EUR").expect("EUR")));
    let mut draft = Draft::default();
    let of = |number: u32| balances.of(account(number), contents(number)).to_units();
    let take = |draft: &mut Draft, from: u32, amount: i64, to: Account| {
        let (kind, unit) = kind(from);
        let part = draw(balances, kind, item(from), unit, units(amount)).expect("no more than there is");
        part.post(draft, to, Account::Used);
    };
    let (from, to) = (1 + dice.below(10) as u32, 4 + dice.below(6) as u32);
    match dice.below(9) {
        8 => {
            // Poured onto a sheet, and more than the book had: what is beyond is found over beside what was there. No more than three
            // times as much, or the half units it was rounded by would be multiplied and pass for a flaw below.
            let (all, beyond) = (of(from), dice.up_to(3 * of(from)));
            let coat = Account::Coat(CoatNumber::new(1 + dice.below(400) as u32).expect("from one"));
            let metal = balances.of(account(from), pd).to_units();
            take(&mut draft, from, all, coat);
            draft.move_from(Account::Unexplained, Account::Used, contents(from), units(beyond));
            let more = i128::from(metal) * i128::from(beyond) / i128::from(all.max(1));
            draft.move_from(Account::Unexplained, coat, pd, units(i64::try_from(more).expect("small")));
        }
        0 => {
            let jar = 1 + dice.below(3) as u32;
            let mass = 1 + dice.up_to(9_999_999);
            draft.move_from(Account::Supplier, account(jar), contents(jar), units(mass));
            draft.move_from(Account::Supplier, account(jar), pd, units(mass * 6 / 10));
            draft.move_from(Account::Owner, account(jar), eur, units(dice.up_to(70_000)));
        }
        1 | 2 if from != to => {
            // Mixed, topped up or split: a part of one thing becomes a part of another.
            take(&mut draft, from, dice.up_to(of(from)), account(to));
            draft.move_from(Account::Made, account(to), contents(to), units(1 + dice.up_to(25_000_000)));
        }
        3 => take(&mut draft, from, of(from), Account::Loss),
        4 => take(&mut draft, from, dice.up_to(of(from)), Account::Residue),
        5 => {
            let part = dice.up_to(of(from) / 10);
            let (kind, unit) = kind(from);
            draw(balances, kind, item(from), unit, units(part)).expect("a tenth").post(
                &mut draft,
                Account::Unexplained,
                Account::Unexplained,
            );
        }
        6 => {
            // A stocktake that finds more.
            let found = dice.up_to(1 + of(from) / 50);
            for (commodity, held) in balances.held_by(account(from)) {
                draft.move_from(
                    Account::Unexplained,
                    account(from),
                    commodity,
                    share(held, units(found), units(of(from).max(1))),
                );
            }
        }
        _ if from > 9 => {
            let jar = 1 + dice.below(3) as u32;
            let swept = dice.up_to(of(jar) / 100);
            take(&mut draft, jar, swept, account(10));
            draft.move_from(Account::Made, account(10), contents(10), units(swept));
        }
        _ => return None,
    }
    draft.settle().ok()
}

#[test]
fn random_acts_lose_nothing() {
    let wanted: usize = std::env::var("HANDCOAT_RANDOM_ACTS").ok().and_then(|text| text.parse().ok()).unwrap_or(20_000);
    let mut dice = Dice(0x5eed_1e55);
    let (mut balances, mut model) = (Balances::default(), Model::default());
    let mut entries: Vec<Entry> = Vec::new();
    let (mut played, mut undone) = (0, 0);
    while played < wanted {
        let Some(entry) = some_act(&mut dice, &balances) else { continue };
        let before = balances.clone();
        let admitted = entry.admit(&balances).expect("a draw is never more than there is");
        balances.apply(admitted.entry()).expect("far below 64 bits");
        model.add(admitted.entry());
        if dice.below(5) == 0 {
            // Undo of what was just done is identity, and is itself admitted.
            let back = admitted.entry().reversed().admit(&balances).expect("just done, so it can be undone");
            balances.apply(back.entry()).expect("far below 64 bits");
            model.add(back.entry());
            assert_eq!(balances, before);
            undone += 1;
        } else {
            entries.push(admitted.entry().clone());
        }
        played += 1;
        for (account, commodity, tally) in balances.rows() {
            assert!(account.may_be_negative() || !tally.is_negative(), "{account} {commodity} {tally}");
        }
        if played % 1000 == 0 {
            model.agrees_with(&balances);
            model.sums_to_zero();
        }
    }
    assert!(undone > wanted / 10);
    let mut replayed = Balances::default();
    for entry in &entries {
        replayed.apply(entry).expect("far below 64 bits");
    }
    assert_eq!(replayed, balances);
    where_everything_went(&entries, &balances);
}

/// Followed act by act, with every fifth taken off again at once and, now and then, a long row of them taken off and followed anew, it comes to what
/// following the rest at once comes to.
#[test]
fn what_is_followed_can_be_taken_off_again() {
    let pd = Commodity::Metal(Element::PD);
    let mut dice = Dice(0x0ff5_e7a0);
    let mut balances = Balances::default();
    let (mut trace, mut entries) = (Trace::default(), Vec::<Entry>::new());
    let mut taken_off = 0;
    while entries.len() < 2_000 {
        let Some(entry) = some_act(&mut dice, &balances) else { continue };
        trace.follow(entry.lines()).expect("it sums to zero");
        if dice.below(5) == 0 {
            assert!(trace.back());
            taken_off += 1;
            continue;
        }
        balances.apply(&entry).expect("far below 64 bits");
        entries.push(entry);
        if entries.len() % 300 == 0 {
            let kept = entries.len() - 200;
            assert!((0..200).all(|_| trace.back()), "two hundred are remembered");
            assert_eq!(trace.whereabouts(pd), whereabouts(&entries[..kept], pd));
            entries[kept..].iter().for_each(|entry| trace.follow(entry.lines()).expect("it sums to zero"));
            assert_eq!(trace.whereabouts(pd), whereabouts(&entries, pd));
        }
    }
    assert!(taken_off > 200);
    // Further back than is remembered is said, not guessed.
    let most = trace.remembered();
    assert!(most >= 200 && (0..most).all(|_| trace.back()) && !trace.back());
    let line = Line { account: account(1), commodity: pd, amount: units(1) };
    assert_eq!(trace.follow(&[line]), Err(Unsettled::Unbalanced { commodity: pd, sum: units(1) }));
}

/// What came from each jar closes to what it received, and the jars together are all the metal there is.
fn where_everything_went(entries: &[Entry], balances: &Balances) {
    let pd = Commodity::Metal(Element::PD);
    let mut together: HashMap<Account, i64> = HashMap::new();
    let all = whereabouts(entries, pd);
    for jar in 1..=3 {
        let found = all.get(&account(jar)).expect("it came in").clone();
        let (received, rows) = follow_one(entries, ItemKind::Jar, item(jar), pd);
        let at_once: Vec<(Account, i64)> = found.rows.iter().map(|(own, tally)| (*own, tally.to_units())).collect();
        assert_eq!((found.received.to_units(), at_once), (received, rows), "jar {jar} followed by itself");
        let bought: i64 = entries
            .iter()
            .filter(|entry| entry.lines().iter().any(|line| line.account == account(jar) && line.commodity == pd))
            .flat_map(Entry::lines)
            .filter(|line| line.account == Account::Supplier && line.commodity == pd)
            .map(|line| -line.amount.to_units())
            .sum();
        assert_eq!(found.received.to_units(), bought);
        assert_eq!(found.rows.iter().map(|(_, tally)| tally.to_units()).sum::<i64>(), bought);
        for (account, tally) in found.rows {
            *together.entry(account).or_default() += tally.to_units();
        }
    }
    for (account, tally) in &together {
        // Each jar is rounded by itself, half a unit up or down at each mixing, so the difference walks at random.
        let held = balances.of(*account, pd).to_units();
        let walk = 10 + 2 * i64::try_from(entries.len().isqrt()).expect("few");
        assert!((held - tally).abs() <= walk, "{account}: {held} and {tally}");
    }
}

#[test]
fn a_draft_must_sum_to_zero() {
    let pd = Commodity::Metal(Element::PD);
    let mut draft = Draft::default();
    assert_eq!(Draft::default().settle(), Err(Unsettled::Nothing));
    draft.move_from(Account::Supplier, account(1), pd, units(600));
    draft.line(Line { account: Account::Loss, commodity: pd, amount: units(1) });
    assert_eq!(draft.settle(), Err(Unsettled::Unbalanced { commodity: pd, sum: units(1) }));
    let mut draft = Draft::default();
    draft.move_from(Account::Supplier, account(1), pd, units(i64::MAX));
    draft.move_from(Account::Supplier, account(1), pd, units(1));
    assert_eq!(draft.settle(), Err(Unsettled::TooLarge { commodity: pd }));
}

#[test]
fn nothing_is_taken_from_where_it_is_not() {
    let pd = Commodity::Metal(Element::PD);
    let mut balances = Balances::default();
    balances.set(account(1), pd, units(500));
    let mut draft = Draft::default();
    draft.move_from(account(1), account(4), pd, units(501));
    let refused = draft.settle().expect("balanced").admit(&balances).expect_err("one too many");
    assert_eq!((refused.account, refused.holds, refused.asked), (account(1), units(500), units(501)));
}

#[test]
fn the_draw_that_empties_takes_all() {
    let (pd, eur) = (Commodity::Metal(Element::PD), Commodity::Money(Currency::code("EUR").expect("EUR")));
    let mut balances = Balances::default();
    balances.set(account(1), contents(1), units(10));
    balances.set(account(1), pd, units(7));
    balances.set(account(1), eur, units(100));
    let (mut metal, mut cost) = (0, 0);
    for _ in 0..10 {
        let part = draw(&balances, ItemKind::Jar, item(1), ContentsIn::Micrograms, units(1)).expect("ten of ten");
        metal += part.of(pd).to_units();
        cost += part.of(eur).to_units();
        let mut draft = Draft::default();
        part.post(&mut draft, Account::Loss, Account::Used);
        let admitted = draft.settle().expect("balanced").admit(&balances).expect("held");
        balances.apply(admitted.entry()).expect("small");
    }
    assert_eq!((metal, cost), (7, 100));
    assert!(balances.held_by(account(1)).next().is_none());
    draw(&balances, ItemKind::Jar, item(1), ContentsIn::Micrograms, units(1)).expect_err("it is empty");
    draw(&balances, ItemKind::Jar, item(1), ContentsIn::Micrograms, units(-1))
        .expect_err("nothing is put in by taking");
}

#[test]
fn shares_are_rounded_halves_up() {
    for (total, part, whole, expected) in
        [(100, 1, 3, 33), (100, 2, 3, 67), (1, 1, 2, 1), (100, 3, 3, 100), (0, 1, 2, 0), (5, 0, 9, 0), (-3, 1, 2, -1)]
    {
        assert_eq!(share(units(total), units(part), units(whole)), units(expected), "{part}/{whole} of {total}");
    }
    assert_eq!(share(units(i64::MAX), units(i64::MAX - 1), units(i64::MAX)), units(i64::MAX - 1));
}

#[test]
fn accounts_and_commodities_read_back_as_they_are_written() {
    for text in ["supplier", "owner", "jar:3", "bottle:14", "vial:1", "made", "used", "loss", "residue", "unexplained"]
    {
        assert_eq!(text.parse::<Account>().map(|account| account.to_string()).as_deref(), Ok(text));
    }
    for text in ["Pd", "Pt", "Au", "EUR", "JPY", "contents:3:ug", "contents:12:nl"] {
        assert_eq!(text.parse::<Commodity>().map(|own| own.to_string()).as_deref(), Ok(text));
    }
    for text in ["", "jar", "jar:", "jar:0", "jar:03", "jar:+3", "jar:x", "crate:3", "Supplier", "jar:99999999999"] {
        text.parse::<Account>().expect_err(text);
    }
    for text in ["", "pd", "Na", "EURO", "contents:3", "contents:0:ug", "contents:3:g", "contents:03:nl"] {
        text.parse::<Commodity>().expect_err(text);
    }
}

/// *Known*: check digits of ISO/IEC 7064 MOD 11,10 as `python-stdnum` (Arthur de Jong) computes them; `tests/known/check_digits.py` prints
/// the table again.
#[test]
fn known_check_digits() {
    for line in include_str!("../../../../tests/known/check_digits.csv").lines().skip(1) {
        let (number, code) = line.split_once(',').expect("two columns");
        let number = item(number.parse().expect("a number"));
        assert_eq!(ItemCode::of(number).to_string(), code);
        assert_eq!(code.parse::<ItemCode>().map(ItemCode::item), Ok(number));
    }
}

#[test]
fn a_wrong_digit_is_found() {
    let (mut swaps, mut missed) = (0, 0);
    for number in (1..10_000).step_by(7) {
        let code = ItemCode::of(item(number)).to_string();
        for place in 0..code.len() {
            for digit in '0'..='9' {
                let mut wrong: Vec<char> = code.chars().collect();
                if wrong[place] != digit {
                    wrong[place] = digit;
                    let wrong: String = wrong.into_iter().collect();
                    wrong.parse::<ItemCode>().expect_err(&wrong);
                }
            }
            if place > 0 && code.as_bytes()[place - 1] != code.as_bytes()[place] {
                let mut swapped: Vec<char> = code.chars().collect();
                swapped.swap(place - 1, place);
                swaps += 1;
                missed += usize::from(swapped.into_iter().collect::<String>().parse::<ItemCode>().is_ok());
            }
        }
    }
    assert!(missed * 40 < swaps, "{missed} of {swaps} swaps");
    for text in ["", "1", "0017", "00017 4", "abcde", "0000 1", "99999999999"] {
        text.parse::<ItemCode>().expect_err(text);
    }
}

#[test]
fn metal_poured_beyond_the_book_is_of_the_bottle_it_was_poured_from() {
    let pd = Commodity::Metal(Element::PD);
    let coat = Account::Coat(CoatNumber::new(1).expect("from one"));
    let mut draft = Draft::default();
    draft.move_from(Account::Supplier, account(1), pd, units(3_000));
    draft.move_from(Account::Supplier, account(2), pd, units(1_000));
    let came = draft.settle().expect("it sums to zero");
    let mut draft = Draft::default();
    draft.move_from(account(1), account(4), pd, units(300));
    draft.move_from(account(2), account(4), pd, units(100));
    let mixed = draft.settle().expect("it sums to zero");
    // 400 by the book, and 1 001 were poured: the 601 beyond are of both jars, three to one, though more than the bottle held.
    let mut draft = Draft::default();
    draft.move_from(account(4), coat, pd, units(400));
    draft.move_from(Account::Unexplained, coat, pd, units(601));
    let poured = draft.settle().expect("it sums to zero");
    let all = whereabouts([&came, &mixed, &poured], pd);
    assert_eq!(all.keys().copied().collect::<Vec<_>>(), [account(1), account(2)], "no coat is an origin");
    let rows = |number: u32| all.get(&account(number)).expect("it came in").rows.clone();
    assert_eq!(rows(1), [(account(1), units(2_700)), (coat, units(751)), (Account::Unexplained, units(-451))]);
    assert_eq!(rows(2), [(account(2), units(900)), (coat, units(250)), (Account::Unexplained, units(-150))]);
}

#[test]
fn jars_that_came_in_one_entry_are_followed_each_by_itself() {
    let pd = Commodity::Metal(Element::PD);
    let mut balances = Balances::default();
    let mut entries = Vec::new();
    let mut play = |moves: &[(Account, Account, i64)]| {
        let mut draft = Draft::default();
        for &(from, to, amount) in moves {
            draft.move_from(from, to, pd, units(amount));
        }
        let entry = draft.settle().expect("it sums to zero");
        balances.apply(&entry).expect("small numbers");
        entries.push(entry);
    };
    // Two jars come at once; then a bottle is mixed of both, and a part of the first is lost.
    play(&[(Account::Supplier, account(1), 3_000), (Account::Supplier, account(2), 1_000)]);
    play(&[(account(1), account(4), 2_000), (account(2), account(4), 500)]);
    play(&[(account(1), Account::Loss, 100)]);
    let all = whereabouts(&entries, pd);
    let of = |number: u32| all.get(&account(number)).expect("it came in").clone();
    let (first, second) = (of(1), of(2));
    assert_eq!((first.received, second.received), (units(3_000), units(1_000)));
    assert_eq!(first.rows, [(account(1), units(900)), (account(4), units(2_000)), (Account::Loss, units(100))]);
    assert_eq!(second.rows, [(account(2), units(500)), (account(4), units(500))]);
}
