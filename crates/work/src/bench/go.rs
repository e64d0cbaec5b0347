//! Beginning, going on, going back, and the act at the end.

use handcoat_book::{BenchNumber, Benched};
use handcoat_craft::ledger::ItemKind;
use handcoat_craft::measure::{Mass, Volume, significant};
use handcoat_craft::stock::Way;

use super::state::{State, read_mass, written};
use super::step::Step;
use super::view::{BenchView, view};
use crate::shelf::{Shelf, mix_once};
use crate::stock::{Planned, needed, read_weighing};
use crate::{Moment, Question, Refusal, RefusalKind, Remedy, Studio};

/// What is wanted, before the first step.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct Begin {
    pub jar: Option<String>,
    pub chloride_jar: Option<String>,
    pub with: Option<String>,
    pub make: Option<String>,
    pub percent: Option<String>,
    pub salt_mass: Option<String>,
    pub balance: Option<String>,
    pub glass: Option<String>,
    pub capacity: Option<String>,
    pub name: Option<String>,
    /// Leave swept powder where it is.
    pub without_vials: bool,
}

/// What somebody answers at a step.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reply {
    /// The step that was on the screen. When the work has gone on meanwhile (a second tap), nothing is done.
    pub step: Option<Step>,
    /// What the scale reads; nothing where the target was confirmed.
    pub reads: Option<String>,
    /// Which way on, by its place in the list.
    pub way: Option<usize>,
    /// One step back.
    pub back: bool,
}

/// Begins to mix a bottle from a jar on the shelf.
///
/// # Errors
/// [`Refusal`] when an answer cannot be read, the jar is not there, or the plan is impossible; nothing is begun then.
pub fn begin(studio: &mut Studio, moment: &Moment, answers: &Begin) -> Result<BenchNumber, Refusal> {
    let shelf = Shelf::of(studio.book.items()?);
    let jar = needed(Question::From, answers.jar.as_ref(), "palladium(II) chloride")?;
    let jar = shelf.find_kind(Question::From, &[ItemKind::Jar], jar)?;
    let chloride_jar = answers
        .chloride_jar
        .as_deref()
        .map(|text| shelf.find_kind(Question::ChlorideFrom, &[ItemKind::Jar], text))
        .transpose()?;
    let balances = studio.book.balances_apart()?;
    let swept = |item: &&handcoat_book::Item| {
        !answers.without_vials && item.kind == ItemKind::Vial && item.facts.formula == jar.facts.formula
    };
    let vials = shelf.here().filter(swept).filter_map(|vial| match crate::shelf::held_mass(vial, &balances) {
        Some(mass) if !mass.is_zero() => Some((vial.name.clone(), written(mass))),
        _ => None,
    });
    let state = State {
        v: 1,
        jar: jar.name.clone(),
        vials: vials.collect(),
        chloride_jar: chloride_jar.map(|own| own.name.clone()),
        name: answers.name.clone(),
        salt: jar.facts.formula.clone(),
        hydrate: jar.facts.hydrate.clone(),
        purity: jar.facts.purity.clone(),
        purity_of: jar.facts.purity_of.clone(),
        with: chloride_jar.and_then(|own| own.facts.formula.clone()).or_else(|| answers.with.clone()),
        make: answers.make.clone(),
        percent: answers.percent.clone(),
        salt_mass: answers.salt_mass.clone(),
        balance: answers.balance.clone(),
        glass: answers.glass.clone(),
        capacity: answers.capacity.clone(),
        step: Some(Step::Protect),
        ..State::default()
    };
    // An impossible plan is told before anybody puts gloves on; so is a name that is taken, and a jar that holds too little.
    let planned = state.planned()?;
    if let Some(name) = &answers.name {
        shelf.name_for(Some(name), "palladium stock")?;
    }
    enough(&state, &planned, jar, &balances)?;
    Ok(studio.book.begin_bench(moment.at, &state.to_body())?)
}

/// Whether jar and vials hold what the plan needs.
fn enough(
    state: &State,
    planned: &Planned,
    jar: &handcoat_book::Item,
    balances: &handcoat_craft::ledger::Balances,
) -> Result<(), Refusal> {
    let held = crate::shelf::held_mass(jar, balances).unwrap_or(Mass::ZERO);
    let wanted = planned.plan.batch.salt.excess_over(state.in_vials()?);
    if wanted <= held {
        return Ok(());
    }
    let grams = |mass: Mass| format!("{} g", significant(mass.to_grams(), 6));
    let cause = format!("{} holds {} and the plan needs {}", jar.name, grams(held), grams(wanted));
    let remedies =
        vec![Remedy::Write(Question::SaltMass, grams(held).replace(' ', "")), Remedy::TakeStock(jar.name.clone())];
    Err(Refusal::rule("more_than_held", Question::Volume, cause, remedies))
}

/// The work with the number that was written, whether or not there is one.
///
/// # Errors
/// [`Refusal`] with code `bench_unknown` for what is no number.
pub fn numbered(written: &str) -> Result<BenchNumber, Refusal> {
    written.parse().map(BenchNumber::new).map_err(|_| unknown("there is no such work at the bench".into()))
}

fn unknown(cause: String) -> Refusal {
    let (about, remedies) = (Some(Question::Bench), vec![Remedy::ShowShelf]);
    Refusal { code: "bench_unknown", kind: RefusalKind::Missing, about, cause, excerpt: None, remedies }
}

fn load(studio: &Studio, number: BenchNumber) -> Result<Benched, Refusal> {
    studio.book.bench(number)?.ok_or_else(|| unknown(format!("there is no work {} at the bench", number.get())))
}

/// Where the work stands.
///
/// # Errors
/// [`Refusal`] when there is no such work.
pub fn stand(studio: &Studio, number: BenchNumber) -> Result<BenchView, Refusal> {
    let benched = load(studio, number)?;
    view(number, &State::read(&benched.body)?, benched.act.map(|act| act.get()))
}

/// Work that is not done yet, newest first.
///
/// # Errors
/// [`Refusal`] when the book cannot be read.
pub fn open_benches(studio: &Studio) -> Result<Vec<BenchView>, Refusal> {
    let open = studio.book.open_benches()?;
    open.into_iter().map(|benched| view(benched.number, &State::read(&benched.body)?, None)).collect()
}

/// Answers the step that is on the screen, and gives the next.
///
/// # Errors
/// [`Refusal`] when a reading cannot be read, or the act at the end is refused; the work stands where it stood.
pub fn reply(studio: &mut Studio, moment: &Moment, number: BenchNumber, reply: &Reply) -> Result<BenchView, Refusal> {
    let benched = load(studio, number)?;
    let mut state = State::read(&benched.body)?;
    let stale = reply.step.is_some_and(|shown| shown != state.step());
    if stale || benched.act.is_some() {
        return view(number, &state, benched.act.map(|act| act.get()));
    }
    if reply.back {
        back(&mut state);
        studio.book.keep_bench(number, moment.at, &state.to_body(), None)?;
        return view(number, &state, None);
    }
    let planned = state.planned()?;
    take(&mut state, &planned, reply)?;
    let act = if state.step() == Step::Tomorrow {
        // The key belongs to the work: a second tap on the last button mixes no second bottle.
        let key = format!("bench-{}-mix-{}", number.get(), benched.begun.as_second());
        let moment = Moment { key, ..moment.clone() };
        let done = mix_once(studio, &moment, &moment.stamp()?, &state.mix(&state.planned()?)?)?;
        Some(done.act)
    } else {
        None
    };
    studio.book.keep_bench(number, moment.at, &state.to_body(), act.map(handcoat_book::ActNumber::new))?;
    view(number, &state, act)
}

/// One step back: what was read there is asked again.
fn back(state: &mut State) {
    let Some(step) = state.done.pop() else { return };
    match step {
        Step::EmptyBottle => state.empty = None,
        Step::Chloride | Step::ChlorideWay => {
            if step == Step::Chloride {
                state.chloride = None;
            }
            state.more_chloride = None;
            if let Some([make, percent, salt_mass]) = state.before_following.take() {
                (state.make, state.percent, state.salt_mass) = (make, percent, salt_mass);
            }
        }
        Step::Powder | Step::VialEmpty => (state.powder, state.mark, state.more_chloride) = (None, None, None),
        Step::VialFull => state.vial_full = None,
        Step::PowderWay => (state.mark, state.more_chloride) = (None, None),
        _ => {}
    }
    state.step = Some(step);
}

/// Takes the answer into the state and moves on.
fn take(state: &mut State, planned: &Planned, reply: &Reply) -> Result<(), Refusal> {
    let step = state.step();
    let reads = reply.reads.as_ref().filter(|text| !text.trim().is_empty());
    match step {
        Step::EmptyBottle => state.empty = reads.map(|text| reading(text).map(|mass| mass.0)).transpose()?,
        Step::Full => {
            let full = reads.map(|text| reading(text)).transpose()?;
            if let (Some((_, full)), Some(empty)) = (&full, &state.empty)
                && *full < read_mass(empty)?
            {
                let cause = format!(
                    "the full bottle reads {} g, less than the {} g of the empty one",
                    significant(full.to_grams(), 7),
                    significant(read_mass(empty)?.to_grams(), 7)
                );
                return Err(Refusal::rule(
                    "load_under_tare",
                    Question::Full,
                    cause,
                    vec![Remedy::LeaveOut(Question::Full)],
                ));
            }
            state.full = full.map(|(text, _)| text);
        }
        Step::Chloride => {
            let target = planned.plan.batch.chloride;
            state.chloride = Some(reads.map_or(Ok(written(target)), |text| reading(text).map(|mass| mass.0))?);
        }
        Step::Powder => {
            let target = planned.plan.batch.salt.excess_over(state.in_vials()?);
            state.powder = Some(reads.map_or(Ok(written(target)), |text| reading(text).map(|mass| mass.0))?);
            sensible(state, target)?;
        }
        Step::VialFull => state.vial_full = Some(needs_reading(reads)?.0),
        Step::VialEmpty => {
            let (_, empty) = needs_reading(reads)?;
            let full = read_mass(state.vial_full.as_deref().unwrap_or("0g"))?;
            let net = full.less(empty).filter(|net| !net.is_zero()).ok_or_else(|| {
                let (full, empty) = (significant(full.to_grams(), 7), significant(empty.to_grams(), 7));
                let cause = format!("the empty vial reads {empty} g and the full one read {full} g");
                Refusal::rule(
                    "load_under_tare",
                    Question::PowderWeighed,
                    cause,
                    vec![Remedy::LeaveOut(Question::PowderWeighed)],
                )
            })?;
            state.powder = Some(written(net));
            sensible(state, planned.plan.batch.salt)?;
        }
        Step::ChlorideWay | Step::PowderWay => return choose(state, planned, reply),
        _ => {}
    }
    go_on(state, &state.planned()?);
    Ok(())
}

/// Whether the plan can go on with what was read: a slip of the pen is told now, and the reading is asked again.
fn sensible(state: &State, target: Mass) -> Result<(), Refusal> {
    state.planned().map(|_| ()).map_err(|error| {
        let about = Question::PowderWeighed;
        let target = format!("{}g", significant(target.to_grams(), 7));
        let cause =
            format!("with that reading nothing can be made ({target} was planned): {}; read it again", error.cause);
        Refusal { about: Some(about), remedies: vec![Remedy::Write(about, target)], cause, ..error }
    })
}

/// The next step of this work; a step with ways is passed over where the weighing went as planned.
fn go_on(state: &mut State, planned: &Planned) {
    let steps = state.steps(planned);
    let at = steps.iter().position(|step| *step == state.step()).unwrap_or(0);
    let now = planned.as_weighed.as_ref();
    let has_ways = |step: &Step| match step {
        Step::ChlorideWay => now.is_some_and(|now| !now.chloride_ways.is_empty()),
        Step::PowderWay => now.is_some_and(|now| !now.ways.is_empty()),
        _ => true,
    };
    let next = steps.into_iter().skip(at + 1).find(has_ways);
    state.done.push(state.step());
    state.step = Some(next.unwrap_or(Step::Tomorrow));
}

fn choose(state: &mut State, planned: &Planned, reply: &Reply) -> Result<(), Refusal> {
    let now = planned.as_weighed.as_ref();
    let ways = now.map_or(&[][..], |now| match state.step() {
        Step::ChlorideWay => &now.chloride_ways,
        _ => &now.ways,
    });
    let out = reply.way.and_then(|place| ways.get(place)).ok_or_else(|| {
        let cause = String::from("it is not said which way on");
        Refusal::unreadable("answer_missing", Question::Way, cause, vec![Remedy::Write(Question::Way, "1".into())])
    })?;
    let mark = |volume: Volume| Some(format!("{}mL", significant(volume.to_millilitres(), 6)));
    match &out.way {
        // Weighed again: the same paper goes back on the scale.
        Way::PutBack(_) | Way::WeighMore(_) => {
            state.powder = None;
            state.step = Some(Step::Powder);
            return Ok(());
        }
        Way::PutBackChloride(_) | Way::WeighMoreChloride(_) => {
            state.chloride = None;
            state.step = Some(Step::Chloride);
            return Ok(());
        }
        Way::MakeUpTo { volume, chloride_must_add, .. } => {
            state.mark = mark(*volume);
            state.more_chloride = (!chloride_must_add.is_zero()).then(|| written(*chloride_must_add));
        }
        Way::FollowChloride { salt, volume, .. } => {
            // The plan itself becomes larger or smaller; everything after is planned anew.
            let asked = [state.make.clone(), state.percent.clone(), state.salt_mass.clone()];
            state.before_following.get_or_insert(asked);
            state.salt_mass = Some(written(*salt));
            state.make = Some(format!("{}mL", significant(volume.to_millilitres(), 6)));
            state.percent = None;
        }
        Way::KeepAndRelabel | Way::Dilute { .. } | Way::KeepChloride => {
            state.more_chloride = out.cure.filter(|cure| !cure.is_zero()).map(written);
        }
    }
    go_on(state, &state.planned()?);
    Ok(())
}

/// A reading of the scale, as written and read.
fn reading(text: &str) -> Result<(String, Mass), Refusal> {
    // At the bench a bare number is grams: the scale shows nothing else.
    let bare = text.trim().bytes().all(|byte| byte.is_ascii_digit() || byte == b'.' || byte == b',');
    let text = if bare { format!("{}g", text.trim()) } else { text.to_owned() };
    let mass = read_weighing(Question::PowderWeighed, Some(&text))?.unwrap_or(Mass::ZERO);
    if mass.is_zero() {
        let cause = String::from("the scale reads nothing; read it again");
        return Err(Refusal::rule(
            "nothing_asked",
            Question::PowderWeighed,
            cause,
            vec![Remedy::Write(Question::PowderWeighed, "5.42g".into())],
        ));
    }
    Ok((written(mass), mass))
}

fn needs_reading(reads: Option<&String>) -> Result<(String, Mass), Refusal> {
    match reads {
        Some(text) => reading(text),
        None => {
            let about = Question::PowderWeighed;
            let cause = String::from("it is not said what the scale reads");
            Err(Refusal::unreadable("answer_missing", about, cause, vec![Remedy::Write(about, "14.37g".into())]))
        }
    }
}
