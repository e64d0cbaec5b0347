//! Looks and tests that somebody did.

use handcoat_book::{Deed, Look as Looked, TestDone};
use handcoat_craft::ledger::ItemKind;
use handcoat_craft::source::TESTS;

use super::content::body;
use super::find::Shelf;
use crate::stock::needed;
use crate::{Done, Moment, Question, Refusal, Remedy, Studio};

/// A look through the glass.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Look {
    pub bottle: Option<String>,
    /// `clear` or `sediment`.
    pub verdict: Option<String>,
}

/// A test of a solution.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct TestOf {
    pub bottle: Option<String>,
    /// Which: `ferrous`, `works-at-all`, `fog strip`, or a word of the maker's own.
    pub test: Option<String>,
    /// `passed` or `failed`.
    pub verdict: Option<String>,
}

fn verdict(answer: Option<&String>, good: &str, bad: &str) -> Result<bool, Refusal> {
    let about = Question::Verdict;
    match needed(about, answer, good)?.trim() {
        text if text == good => Ok(true),
        text if text == bad => Ok(false),
        text => {
            let cause = format!("`{text}` is no verdict here; expected `{good}` or `{bad}`");
            let remedies = vec![Remedy::Write(about, good.into()), Remedy::Write(about, bad.into())];
            Err(Refusal::unreadable("verdict_unreadable", about, cause, remedies))
        }
    }
}

/// Records a look at a bottle.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read.
pub fn look(studio: &mut Studio, moment: &Moment, answers: &Look) -> Result<Done, Refusal> {
    let clear = verdict(answers.verdict.as_ref(), "clear", "sediment")?;
    let acted = studio.book.act(&moment.asked(answers)?, "look", |acting| {
        let shelf = Shelf::now(acting)?;
        let text = needed(Question::Item, answers.bottle.as_ref(), "palladium stock")?;
        let bottle = shelf.find_kind(Question::Item, &[ItemKind::Bottle], text)?;
        let mut changed = bottle.clone();
        changed.facts.look = Some(Looked { at: moment.at, clear });
        acting.change_item(&changed)?;
        let said = if clear {
            vec![format!("{} is clear.", bottle.name)]
        } else {
            vec![
                format!("{} has sediment.", bottle.name),
                "Warm it in a water bath and stir; if it stays, look at the chloride, or filter and weigh what is left.".into(),
            ]
        };
        Ok::<_, Refusal>(Deed { body: body(bottle, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}

/// Records a test of a bottle.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read.
pub fn test(studio: &mut Studio, moment: &Moment, answers: &TestOf) -> Result<Done, Refusal> {
    let passed = verdict(answers.verdict.as_ref(), "passed", "failed")?;
    let name = needed(Question::Test, answers.test.as_ref(), "ferrous")?.trim().to_owned();
    if name.is_empty() || name.chars().count() > 40 || name.chars().any(char::is_control) {
        let cause = String::from("a test has a name of 1 to 40 characters");
        let remedies = vec![Remedy::Write(Question::Test, "ferrous".into())];
        return Err(Refusal::unreadable("name_unreadable", Question::Test, cause, remedies));
    }
    // One spelling for the tests that are known, so that what is due finds what was done.
    let name = TESTS.iter().find(|test| test.name.eq_ignore_ascii_case(&name)).map_or(name, |test| test.name.into());
    let acted = studio.book.act(&moment.asked(answers)?, "test", |acting| {
        let shelf = Shelf::now(acting)?;
        let text = needed(Question::Item, answers.bottle.as_ref(), "palladium stock")?;
        let bottle = shelf.find_kind(Question::Item, &[ItemKind::Bottle], text)?;
        let mut changed = bottle.clone();
        changed.facts.tests.push(TestDone { test: name.clone(), at: moment.at, passed });
        acting.change_item(&changed)?;
        let word = if passed { "passed" } else { "failed" };
        let mut said = vec![format!("{} {word} the {name} test.", bottle.name)];
        let known = TESTS.iter().find(|test| test.name == name).filter(|_| !passed);
        said.extend(known.map(|test| format!("{}.", test.failed)));
        Ok::<_, Refusal>(Deed { body: body(bottle, &said), entry: None })
    })?;
    Ok(Done::of(&acted))
}
