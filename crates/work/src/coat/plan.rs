//! Planning a coat from answers, with or without a book.

use handcoat_craft::coat::{CoatError, Contrast, Plan, Request};
use handcoat_craft::measure::significant;
use handcoat_craft::paper::{Dropper, DropperFrom};

use super::answers::{CoatAnswers, PLACES};
use super::known::Known;
use super::last::{LastTime, last_time};
use super::solution::{Bottles, contrast, iron, metal};
use super::used::{Used, of_record, of_said, of_solutions, of_uptake};
use crate::{Question, Refusal, Remedy, Studio};

/// A coat, planned; how it is shown is another matter.
#[derive(Clone, Debug, PartialEq)]
pub struct Coated {
    /// The plan.
    pub plan: Plan,
    /// What it rests on.
    pub used: Vec<Used>,
    /// What was poured last time on a sheet of this size.
    pub last: Option<LastTime>,
}

/// Plans a coat. With a studio, solutions may be bottles on its shelf, by name or code, and what its records say of the paper, the
/// tool and the droppers is used.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, when answers contradict each other, for the impossible, and for more than a bottle
/// holds.
pub fn plan(answers: &CoatAnswers, studio: Option<&Studio>) -> Result<Coated, Refusal> {
    let known = Known::of(answers, studio)?;
    let bottles = studio.map(Bottles::of).transpose()?;
    let (request, mut used) = request(answers, bottles.as_ref(), &known)?;
    let plan = Plan::make(request).map_err(|error| refused(&error))?;
    match plan.short() {
        None => {
            used.extend(of_solutions(answers, &plan));
            let paper = known.paper.as_ref().map(|own| own.name.as_str());
            let last = studio.map(|studio| last_time(studio, plan.request.sheet.image, paper)).transpose()?.flatten();
            Ok(Coated { plan, used, last })
        }
        Some(short) => {
            let ml = |volume: handcoat_craft::measure::Volume| significant(volume.to_millilitres(), 4);
            let holds = short.holds.map_or_else(String::new, ml);
            let sheets = plan.request.sheets;
            let sheets = if sheets == 1 { "one sheet takes".into() } else { format!("{sheets} sheets take") };
            let cause = format!("{} holds {holds} mL and {sheets} {} mL of it", short.name, ml(short.volume));
            let mut remedies = Vec::new();
            if let Some(fits) = plan.prints_left.filter(|fits| *fits > 0) {
                remedies.push(Remedy::Write(Question::Sheets, fits.to_string()));
            }
            remedies.push(Remedy::TakeStock(short.name.clone()));
            Err(Refusal::rule("more_than_held", Question::Sheets, cause, remedies))
        }
    }
}

fn request(answers: &CoatAnswers, bottles: Option<&Bottles>, known: &Known) -> Result<(Request, Vec<Used>), Refusal> {
    let sheet = answers.sheet()?;
    let uptake = answers.uptake(known)?;
    let about = Question::CoatMetal;
    let ratio = answers.ratio()?;
    let (first, second) = match answers.metals.as_slice() {
        [] => return Err(Refusal::missing(about, "Pd")),
        [first] => (first, None),
        [first, second] => (first, Some(second)),
        _ => {
            let cause = format!("{} metals are given; expected one or two", answers.metals.len());
            return Err(Refusal::rule("metals_too_many", about, cause, vec![Remedy::LeaveOut(about)]));
        }
    };
    let mut first = metal(first, answers.printing_out, bottles)?;
    let mut second = match (second, ratio) {
        (None, None) => None,
        (Some(text), Some(ratio)) => Some((metal(text, answers.printing_out, bottles)?, ratio)),
        (Some(_), None) => {
            let about = Question::MetalRatio;
            let cause = String::from("two metals are given, and not in which ratio");
            let remedies = vec![Remedy::Write(about, "1:1".into()), Remedy::LeaveOut(Question::CoatMetal)];
            return Err(Refusal::rule("ratio_missing", about, cause, remedies));
        }
        (None, Some(_)) => {
            let about = Question::MetalRatio;
            let cause = String::from("a ratio is given, and only one metal");
            let remedies = vec![Remedy::Write(Question::CoatMetal, "Pt".into()), Remedy::LeaveOut(about)];
            return Err(Refusal::rule("ratio_of_one_metal", about, cause, remedies));
        }
    };
    let mut iron = iron(answers, bottles)?;
    let mut contrast = contrast(answers, &iron, bottles)?;
    let used = of_uptake(answers, known, uptake);
    let mut droppers =
        Droppers { said: answers.droppers()?, known, all: Vec::new(), shared: None, unmeasured: Vec::new(), used };
    iron.bottle.dropper = droppers.place(&iron.bottle.name, 0);
    first.bottle.dropper = droppers.place(&first.bottle.name, 2);
    if let Some((stock, _)) = &mut second {
        stock.bottle.dropper = droppers.place(&stock.bottle.name, 3);
    }
    match &mut contrast {
        Some(Contrast::Chlorate(iron, _)) => iron.bottle.dropper = droppers.place(&iron.bottle.name, 1),
        Some(Contrast::OnTop(agent, _)) => agent.bottle.dropper = droppers.place(&agent.bottle.name, 4),
        None => {}
    }
    let (sheets, loss) = answers.sheets()?;
    let (mut used, shared) = (droppers.used, droppers.shared.and_then(|place| droppers.all.get(place)));
    used.extend(shared.map(|own| of_said(&droppers.unmeasured.join("; "), own, own.from != DropperFrom::Usual)));
    let request = Request {
        sheet,
        uptake,
        droppers: droppers.all,
        iron,
        metal: first,
        second,
        contrast,
        coats: answers.coats()?,
        sheets,
        loss,
        rounding: answers.rounding()?,
        printing_out: answers.printing_out,
    };
    Ok((request, used))
}

/// Droppers as they are handed out to bottles.
struct Droppers<'a> {
    said: Vec<(Option<&'static str>, Dropper)>,
    known: &'a Known,
    all: Vec<Dropper>,
    /// The one that stands in for all bottles without their own.
    shared: Option<usize>,
    /// Bottles it stands in for.
    unmeasured: Vec<String>,
    /// What each other bottle's drops rest on.
    used: Vec<Used>,
}

impl Droppers<'_> {
    /// The dropper of a bottle: said for its place, known for its name, said for all, or the usual one. The last two are one
    /// dropper for all bottles, off together.
    fn place(&mut self, name: &str, place: usize) -> usize {
        let word = PLACES.get(place).copied().unwrap_or_default();
        let said = |of: Option<&str>| self.said.iter().find(|(own, _)| *own == of).map(|(_, dropper)| *dropper);
        if let Some(own) = said(Some(word)) {
            self.used.push(of_said(name, &own, true));
            self.all.push(own);
            return self.all.len() - 1;
        }
        if let Some(own) = self.known.dropper_of(name) {
            self.used.push(of_record(name, own));
            self.all.push(own.dropper());
            return self.all.len() - 1;
        }
        self.unmeasured.push(name.into());
        if let Some(shared) = self.shared {
            return shared;
        }
        self.all.push(said(None).unwrap_or_else(Dropper::usual));
        self.shared = Some(self.all.len() - 1);
        self.all.len() - 1
    }
}

fn refused(error: &CoatError) -> Refusal {
    let (about, remedies) = match error {
        CoatError::NothingToCoat => (Question::Image, vec![Remedy::Write(Question::Image, "8x10in".into())]),
        CoatError::ChlorateBeyond { most_mg_per_ml, .. } => {
            let most = format!("{}mg/mL", significant(*most_mg_per_ml, 3));
            (Question::Dose, vec![Remedy::Write(Question::Dose, most)])
        }
        CoatError::NoIron => (Question::CoatIron, vec![Remedy::Write(Question::CoatIron, "27%".into())]),
        CoatError::NoDrops => (Question::KeepWithin, vec![Remedy::LeaveOut(Question::KeepWithin)]),
        CoatError::Forms(handcoat_craft::stock::FormsError::Hydrate(error)) => return Refusal::hydrate(error),
        CoatError::Forms(_) => (Question::CoatIron, vec![Remedy::Write(Question::CoatIron, "27%".into())]),
        CoatError::OutOfBounds(_) => (Question::Image, vec![Remedy::Write(Question::Image, "8x10in".into())]),
    };
    Refusal::rule(error.code(), about, error.to_string(), remedies)
}
