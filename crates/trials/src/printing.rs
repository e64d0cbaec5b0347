//! Random acts of the second half of the work: coats, prints, notes, and what is kept beside the shelf.

use std::collections::BTreeMap;

use handcoat_work::keep::{Keep, RecordKind, change, keep, kept, kinds, put_away, restock};
use handcoat_work::print::{CoatMade, PrintMade, Spoiled, coat, note, open_coats, prints, record, spoil};
use handcoat_work::shelf::ItemView;
use handcoat_work::{Done, Moment, Refusal, Studio};

use crate::Dice;
use crate::acts::part;

/// As many prints are looked through for one to write on.
const MOST_PRINTS: u32 = 12;

/// One of them.
///
/// # Errors
/// [`Refusal`] as a door would be given it.
pub(crate) fn some_printing(
    studio: &mut Studio,
    dice: &mut Dice,
    moment: &Moment,
    bottles: &[&ItemView],
) -> Result<Done, Refusal> {
    let open: Vec<String> = open_coats(studio)?.iter().map(|own| own.number.to_string()).collect();
    match dice.below(10) {
        0..=2 => {
            let made = CoatMade {
                title: Some(title(dice)),
                pours: pours(dice, bottles),
                drops_per_ml: dice.once_in(3).then(|| format!("{}drops/mL", 15 + dice.below(20))),
                ..CoatMade::default()
            };
            coat(studio, moment, &made)
        }
        3 => {
            // Now and then a coat that is a print already, or never was.
            let coat = dice.pick(&open).filter(|_| !dice.once_in(5)).cloned();
            let coat = coat.or_else(|| Some(dice.below(30).to_string()));
            spoil(studio, moment, &Spoiled { coat, because: Some("a hair".into()), thrown: dice.once_in(2) })
        }
        4 | 5 => {
            let made = print_made(studio, dice, bottles, &open)?;
            record(studio, moment, &made)
        }
        6 => {
            let newest = prints(studio, "", MOST_PRINTS, None)?;
            let print = dice.pick(&newest).map_or_else(|| "1".into(), |own| own.number.to_string());
            let mut fields = BTreeMap::from([("dry", title(dice))]);
            if dice.once_in(2) {
                fields.insert("density_black", format!("1.{:02}", dice.below(100)));
            }
            if dice.once_in(6) {
                fields.insert("density_paper", "dark".into());
            }
            note(studio, moment, &print, &fields)
        }
        7 => {
            let kind = one_kind(dice);
            keep(studio, moment, kind, &kept_as(dice, kind))
        }
        8 => {
            let kind = one_kind(dice);
            let Some(name) = some_name(studio, dice, kind)? else {
                return keep(studio, moment, kind, &kept_as(dice, kind));
            };
            if dice.once_in(4) {
                return put_away(studio, moment, kind, &name);
            }
            change(studio, moment, kind, &name, &kept_as(dice, kind))
        }
        _ => {
            let kind = if dice.once_in(2) { RecordKind::Paper } else { one_kind(dice) };
            let Some(name) = some_name(studio, dice, kind)? else {
                return keep(studio, moment, kind, &kept_as(dice, kind));
            };
            let many = Some(dice.below(60).to_string());
            let (came, there) = if dice.once_in(2) { (many, None) } else { (None, many) };
            restock(studio, moment, kind, &name, came.as_ref(), there.as_ref())
        }
    }
}

fn title(dice: &mut Dice) -> String {
    format!("sheet {}", dice.below(1000))
}

fn one_kind(dice: &mut Dice) -> RecordKind {
    dice.pick(kinds()).copied().unwrap_or(RecordKind::Paper)
}

fn some_name(studio: &Studio, dice: &mut Dice, kind: RecordKind) -> Result<Option<String>, Refusal> {
    Ok(dice.pick(&kept(studio, kind)?).map(|own| own.name.clone()))
}

/// One to three pours, by drops or by volume, the same bottle twice among them; some are of more than there is.
fn pours(dice: &mut Dice, bottles: &[&ItemView]) -> Vec<String> {
    let mut pours = Vec::new();
    for _ in 0..=dice.below(3) {
        let Some(bottle) = dice.pick(bottles) else { break };
        let much = if dice.once_in(6) { part(dice, bottle) } else { (1 + dice.below(60)).to_string() };
        pours.push(format!("{}={much}", bottle.code));
    }
    pours
}

fn print_made(studio: &Studio, dice: &mut Dice, bottles: &[&ItemView], open: &[String]) -> Result<PrintMade, Refusal> {
    let coats: Vec<String> = (0..dice.below(3)).filter_map(|_| dice.pick(open).cloned()).collect();
    let pours = if coats.is_empty() || dice.once_in(4) { pours(dice, bottles) } else { Vec::new() };
    let mut fields =
        BTreeMap::from([("image", "8x10in".to_owned()), ("margin", "1cm".into()), ("time", "6:00".into())]);
    for (key, kind) in [("paper", RecordKind::Paper), ("lamp", RecordKind::Lamp), ("bath_1", RecordKind::Bath)] {
        let name = some_name(studio, dice, kind)?.filter(|_| !dice.once_in(5));
        if let Some(name) = name {
            fields.insert(key, name);
        }
    }
    Ok(PrintMade {
        title: Some(title(dice)),
        pours,
        drops_per_ml: None,
        coats,
        repeats: dice.once_in(5).then(|| (1 + dice.below(9)).to_string()),
        fields,
    })
}

/// Names are few, so that some are taken.
fn kept_as(dice: &mut Dice, kind: RecordKind) -> Keep {
    let mut fields = BTreeMap::from([("note", title(dice))]);
    if kind == RecordKind::Dropper {
        fields.insert("drops_per_ml", format!("{}drops/mL", 15 + dice.below(20)));
    }
    Keep {
        name: Some(format!("{} {}", kind.word(), dice.below(5))),
        fields,
        came: (kind == RecordKind::Paper && dice.once_in(2)).then(|| dice.below(50).to_string()),
    }
}
