//! Random acts on a book, through the functions a door calls and no others.

use handcoat_craft::ledger::ItemKind;
use handcoat_work::exchange::{DecimalMark, import};
use handcoat_work::ledger::{acts, undo};
use handcoat_work::shelf::{
    Count, Dilute, ItemView, Lose, Mix, Pour, Receive, Retire, Split, Sweep, count, dilute, lose, mix, pour, receive,
    retire, shelf, split, sweep,
};
use handcoat_work::{Done, Moment, Refusal, Studio};
use jiff::{SignedDuration, Timestamp};

use crate::Dice;
use crate::printing::some_printing;

/// More on the shelf than this, and something is put away instead.
const MOST_ON_SHELF: usize = 24;

/// The moment of the act with this key, so many seconds into the trial.
#[must_use]
pub fn moment(key: &str, seconds: i64) -> Moment {
    let begun = Timestamp::UNIX_EPOCH + SignedDuration::from_hours(24 * 20_000);
    Moment { at: begun + SignedDuration::from_secs(seconds), who: "trials".into(), key: key.into() }
}

/// One random act. Which, and with what answers, follows from the dice and from what is on the shelf; about one
/// in ten asks for what cannot be, and is refused.
///
/// # Errors
/// [`Refusal`] as a door would be given it; then the book must be as it was.
pub fn some_act(studio: &mut Studio, dice: &mut Dice, moment: &Moment) -> Result<Done, Refusal> {
    let view = shelf(studio, moment.at)?;
    let of = |kind: ItemKind| view.iter().filter(|item| item.kind == kind).collect::<Vec<_>>();
    let (jars, bottles) = (of(ItemKind::Jar), of(ItemKind::Bottle));
    if view.len() > MOST_ON_SHELF {
        let item = dice.pick(&view).map(|item| item.name.clone());
        return retire(studio, moment, &Retire { item, residue: dice.once_in(2) });
    }
    match dice.below(24) {
        0 => receive(studio, moment, &powder(dice)),
        1 => receive(studio, moment, &solution(dice)),
        2 | 3 => match dice.pick(&jars) {
            Some(jar) => mix(studio, moment, &mixed(dice, jar, &view)),
            None => receive(studio, moment, &powder(dice)),
        },
        4 | 5 => match dice.pick(&bottles) {
            Some(bottle) => {
                let volume = Some(part(dice, bottle));
                split(studio, moment, &Split { bottle: Some(bottle.name.clone()), volume, name: None })
            }
            None => receive(studio, moment, &solution(dice)),
        },
        6 => {
            let (from, into) = (dice.pick(&bottles), dice.pick(&bottles));
            let volume = from.filter(|_| dice.once_in(2)).map(|own| part(dice, own));
            let name = |own: Option<&&ItemView>| own.map(|own| own.name.clone());
            pour(studio, moment, &Pour { from: name(from), into: name(into), volume })
        }
        7 => {
            let bottle = dice.pick(&bottles).map(|own| own.name.clone());
            let water = Some(format!("{}mL", millionths(1 + dice.below(30_000_000))));
            dilute(studio, moment, &Dilute { bottle, water })
        }
        8 => {
            let jar = dice.pick(&jars);
            let mass = jar.map(|own| part(dice, own));
            let from = jar.map(|own| own.name.clone());
            let into = dice.once_in(3).then(|| format!("swept {}", dice.below(4)));
            sweep(studio, moment, &Sweep { from, mass, into })
        }
        9 => {
            let item = dice.pick(&view);
            let amount = item.map(|own| part(dice, own));
            lose(studio, moment, &Lose { item: item.map(|own| own.name.clone()), amount, residue: dice.once_in(2) })
        }
        10 | 11 => {
            let answers = dice.pick(&view).map(|own| counted(dice, own)).unwrap_or_default();
            count(studio, moment, &answers)
        }
        12 if dice.once_in(3) => {
            let item = dice.pick(&view).map(|own| own.name.clone());
            retire(studio, moment, &Retire { item, residue: dice.once_in(2) })
        }
        15.. => some_printing(studio, dice, moment, &bottles),
        13 => import(studio, moment, table(dice).as_bytes(), DecimalMark::Comma),
        _ => {
            let rows = acts(studio, 12)?;
            let act = dice.pick(&rows).map_or(1, |row| row.act);
            undo(studio, moment, &act.to_string())
        }
    }
}

/// So many millionths of a unit, as a decimal number.
fn millionths(units: u64) -> String {
    format!("{}.{:06}", units / 1_000_000, units % 1_000_000)
}

/// What an item holds, in µg or nL.
fn held(item: &ItemView) -> u64 {
    let units = match (item.mass, item.volume) {
        (Some(mass), _) => mass.to_micrograms(),
        (None, Some(volume)) => volume.to_nanolitres(),
        (None, None) => 0,
    };
    units.unsigned_abs()
}

fn unit(item: &ItemView) -> &'static str {
    if item.kind == ItemKind::Bottle { "mL" } else { "g" }
}

/// A part of an item: some, all, or now and then more than there is.
pub(crate) fn part(dice: &mut Dice, item: &ItemView) -> String {
    let all = held(item);
    let units = match dice.below(10) {
        0 => all + 1 + dice.below(1_000_000),
        1 => all,
        2 => 1,
        _ => 1 + dice.below(all / 2),
    };
    format!("{}{}", millionths(units), unit(item))
}

fn powder(dice: &mut Dice) -> Receive {
    let salts = ["PdCl2", "PdCl2", "PdCl2", "K2PtCl4", "(NH4)2PtCl4", "Na2PdCl4", "HAuCl4", "NaCl"];
    let price = (!dice.once_in(3)).then(|| format!("{}.{:02}", dice.below(900), dice.below(100)));
    Receive {
        formula: dice.pick(&salts).map(|salt| (*salt).into()),
        mass: Some(format!("{}g", millionths(dice.below(25_000_000)))),
        purity: dice.once_in(2).then(|| format!("{}%", 90 + dice.below(11))),
        hydrate: dice.once_in(2).then(|| "none".into()),
        currency: price.as_ref().and_then(|_| dice.pick(&["EUR", "USD"]).map(|own| (*own).into())),
        price,
        balance: dice.once_in(2).then(|| "0.01g".into()),
        ..Receive::default()
    }
}

/// A short list of jars and bottles; now and then one of its rows cannot be taken.
fn table(dice: &mut Dice) -> String {
    let mut out = String::from("formula;mass_g;volume_ml;percent_wv;cost_EUR\n");
    for _ in 0..=dice.below(3) {
        let amount = millionths(1 + dice.below(20_000_000)).replace('.', ",");
        let cost = if dice.once_in(2) { format!("{},5", dice.below(400)) } else { String::new() };
        out += &match dice.below(8) {
            0 => format!("PdCl2;{};;;{cost}\n", amount.replace(',', ".")),
            1..=4 => format!("PdCl2;{amount};;;{cost}\n"),
            _ => format!("Na2PdCl4;;{amount};{};{cost}\n", 1 + dice.below(20)),
        };
    }
    out
}

fn solution(dice: &mut Dice) -> Receive {
    let solids = ["Na2PdCl4", "Na2PdCl4", "K2PtCl4", "Na2PtCl6", "unknown", "Fe2(C2O4)3"];
    let known = !dice.once_in(4);
    Receive {
        formula: dice.pick(&solids).map(|solid| (*solid).into()),
        volume: Some(format!("{}mL", millionths(1 + dice.below(100_000_000)))),
        capacity: dice.once_in(4).then(|| "100mL".into()),
        percent: known.then(|| format!("{}", 1 + dice.below(20))),
        price: dice.once_in(2).then(|| format!("{}EUR", dice.below(300))),
        ..Receive::default()
    }
}

fn mixed(dice: &mut Dice, jar: &ItemView, view: &[ItemView]) -> Mix {
    let salt = view.iter().find(|own| own.kind == ItemKind::Jar && own.name.starts_with("sodium chloride"));
    let vial = view.iter().find(|own| own.kind == ItemKind::Vial && own.facts.formula == jar.facts.formula);
    Mix {
        from: Some(jar.name.clone()),
        mass: Some(part(dice, jar)),
        vials: vial.filter(|_| dice.once_in(2)).map(|own| own.name.clone()).into_iter().collect(),
        chloride_from: salt.filter(|_| dice.once_in(2)).map(|own| own.name.clone()),
        chloride: dice.once_in(2).then(|| format!("{}g", millionths(1 + dice.below(4_000_000)))),
        make: Some(format!("{}mL", 20 + dice.below(100))),
        balance: dice.once_in(2).then(|| "0.01g".into()),
        ..Mix::default()
    }
}

fn counted(dice: &mut Dice, item: &ItemView) -> Count {
    let all = held(item);
    let units = match dice.below(4) {
        0 => all,
        1 => all + dice.below(all / 20 + 2),
        _ => all.saturating_sub(dice.below(all / 5 + 2)),
    };
    let amount = Some(format!("{}{}", millionths(units), unit(item)));
    let (mass, volume) = if item.kind == ItemKind::Bottle { (None, amount) } else { (amount, None) };
    let evaporated = item.kind == ItemKind::Bottle && dice.once_in(4);
    Count { item: Some(item.name.clone()), mass, volume, evaporated, ..Count::default() }
}
