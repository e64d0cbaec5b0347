//! Powder swept together, amounts lost, items put away.

use handcoat_book::{Deed, Facts, Standing};
use handcoat_craft::ledger::{Account, Draft, ItemKind};

use super::content::{Contents, Held, account_of, body, fill, fresh, take};
use super::find::Shelf;
use super::mix::{amount, powder_of, same_powder};
use crate::stock::needed;
use crate::{Done, Moment, Question, Refusal, Remedy, Studio};

/// Powder that fell on the glass goes into a vial of its own, to be used first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Sweep {
    pub from: Option<String>,
    pub mass: Option<String>,
    /// A vial on the shelf to add to, or the name of a new one.
    pub into: Option<String>,
}

/// Something is lost and known to be.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Lose {
    pub item: Option<String>,
    pub amount: Option<String>,
    /// It was wiped up and is kept for the refiner.
    pub residue: bool,
}

/// An item is empty or put away for good.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Retire {
    pub item: Option<String>,
    /// What is left goes to the residue jar instead of being lost.
    pub residue: bool,
}

/// Moves swept powder from its jar to a vial.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, the jar holds less, or the salt is one that is never swept.
pub fn sweep(studio: &mut Studio, moment: &Moment, answers: &Sweep) -> Result<Done, Refusal> {
    let acted = studio.book.act(&moment.asked(answers)?, "sweep", |acting| {
        let shelf = Shelf::now(acting)?;
        let from = needed(Question::From, answers.from.as_ref(), "palladium(II) chloride")?;
        let jar = shelf.find_kind(Question::From, &[ItemKind::Jar], from)?;
        if let Ok(powder) = powder_of(jar)
            && powder.salt().is_chloroplatinate()
        {
            let cause = format!(
                "what falls out of {} is wiped up wet and never swept: its dust can make you allergic for life",
                jar.name
            );
            return Err(Refusal::rule(
                "never_swept",
                Question::From,
                cause,
                vec![Remedy::LoseAsResidue(jar.name.clone())],
            ));
        }
        let balances = acting.balances_of([account_of(jar)])?;
        let about = Question::PowderWeighed;
        let swept = amount(jar, about, needed(about, answers.mass.as_ref(), "0.03g")?)?;
        let draw = take(&balances, jar, swept, about)?;
        let known = answers.into.as_deref().and_then(|text| shelf.find(Question::Into, text).ok());
        let vial = match known {
            Some(vial) if vial.kind == ItemKind::Vial && same_powder(vial, jar) => {
                let mut vial = vial.clone();
                vial.facts.cost_incomplete |= jar.facts.cost_incomplete;
                vial.facts.made_of.push(jar.number.get());
                acting.change_item(&vial)?;
                vial
            }
            Some(other) => {
                let cause = format!("{} is no vial of what is in {}", other.name, jar.name);
                let remedies =
                    vec![Remedy::Write(Question::Into, shelf.name_for(None, &format!("{} swept", jar.name))?)];
                return Err(Refusal::rule("item_of_another_kind", Question::Into, cause, remedies));
            }
            None => {
                let name = shelf.name_for(answers.into.as_deref(), &format!("{} swept", jar.name))?;
                let facts = Facts {
                    made_of: vec![jar.number.get()],
                    price: None,
                    empty_ug: None,
                    full_ug: None,
                    contents_u: None,
                    ..jar.facts.clone()
                };
                let number = acting.add_item(ItemKind::Vial, &name, &facts)?;
                fresh(acting, number)?
            }
        };
        let mut draft = Draft::default();
        draw.post(&mut draft, account_of(&vial), Account::Used);
        fill(&mut draft, &vial, swept);
        let said = vec![
            format!("{} from {} is now in {}.", swept.words(), jar.name, vial.name),
            "Use it first, before the jar is opened again.".into(),
        ];
        Ok::<_, Refusal>(Deed { body: body(&vial, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

/// Writes off an amount that is lost, or that went to the residue jar.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read or the item holds less.
pub fn lose(studio: &mut Studio, moment: &Moment, answers: &Lose) -> Result<Done, Refusal> {
    let acted = studio.book.act(&moment.asked(answers)?, "loss", |acting| {
        let shelf = Shelf::now(acting)?;
        let item = shelf.find(Question::Item, needed(Question::Item, answers.item.as_ref(), "palladium stock")?)?;
        let balances = acting.balances_of([account_of(item)])?;
        let lost = amount(item, Question::Amount, needed(Question::Amount, answers.amount.as_ref(), "1mL")?)?;
        let to = if answers.residue { Account::Residue } else { Account::Loss };
        let mut draft = Draft::default();
        take(&balances, item, lost, Question::Amount)?.post(&mut draft, to, Account::Used);
        let where_to = if answers.residue { "kept as residue" } else { "lost" };
        let said = vec![format!("{} of {} are {where_to}.", lost.words(), item.name)];
        // The item stands under the act, so that a later undo of what came before names it.
        acting.change_item(item)?;
        Ok::<_, Refusal>(Deed { body: body(item, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}

/// Puts an item away; what is still in it goes to the residue or is lost.
///
/// # Errors
/// [`Refusal`] when the item is not on the shelf.
pub fn retire(studio: &mut Studio, moment: &Moment, answers: &Retire) -> Result<Done, Refusal> {
    let acted = studio.book.act(&moment.asked(answers)?, "retire", |acting| {
        let shelf = Shelf::now(acting)?;
        let item = shelf.find(Question::Item, needed(Question::Item, answers.item.as_ref(), "palladium stock")?)?;
        let balances = acting.balances_of([account_of(item)])?;
        let held: Contents = Held::of(item, &balances).contents;
        let to = if answers.residue { Account::Residue } else { Account::Loss };
        let mut draft = Draft::default();
        let mut said = vec![format!("{} is put away.", item.name)];
        if !held.tally().is_zero() {
            take(&balances, item, held, Question::Item)?.post(&mut draft, to, Account::Used);
            let where_to = if answers.residue { "kept as residue" } else { "lost" };
            said.push(format!("The {} still in it are {where_to}.", held.words()));
        }
        let mut changed = item.clone();
        changed.standing = Standing::Retired;
        acting.change_item(&changed)?;
        Ok::<_, Refusal>(Deed { body: body(item, &said), entry: acting.admit(draft)? })
    })?;
    Ok(Done::of(&acted))
}
