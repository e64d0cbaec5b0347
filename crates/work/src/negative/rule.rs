//! The rule in the border: what was measured, on which film, and what it says of the printer. A film that was made by a figure and measured anew tells
//! how far that figure was off, and not the printer alone.

use handcoat_craft::measure::{Length, Readable, fixed, shortened, significant};
use handcoat_craft::negative::RuleRead;
use handcoat_craft::source::RULE_MM;

use super::answers::NegativeAnswers;
use super::curve::{CurveOf, FilmSetup, RuleFilm};
use crate::{Question, Refusal, Remedy};

/// Said for a film whose lengths were not corrected.
pub(super) const NO_FILM: &str = "none";

/// On which film the rule was measured.
#[derive(Clone, Debug, PartialEq)]
pub enum RuleOn {
    /// One whose lengths were not corrected.
    Plain,
    /// One that is named.
    Film(RuleFilm),
    /// None is named, and the set-up keeps a figure by which its films are made.
    BySetup(RuleFilm),
    /// It is the set-up's own figure.
    Setup,
}

/// What was measured for the rule, and what follows.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// As it was measured.
    pub measured: Length,
    /// What it says of the printer.
    pub read: RuleRead,
    /// On which film.
    pub on: RuleOn,
    /// Beside one that is said: the set-up's name, and the figure it keeps.
    pub kept: Option<(String, Option<RuleRead>)>,
}

impl Rule {
    /// What to know of it, with codes.
    pub(super) fn said(&self) -> Vec<(&'static str, String)> {
        let mm = |own: f64| significant(own, 5);
        let (measured, comes_to) = (mm(self.measured.to_millimetres()), mm(self.read.to_millimetres()));
        let by = |own: &RuleFilm| mm(own.correction * RULE_MM.value);
        let on = match &self.on {
            RuleOn::Setup => String::new(),
            RuleOn::Plain => " on a film made without correction".into(),
            RuleOn::Film(own) if own.correction == 1.0 => {
                format!(" on {}, which was made without correction", own.words)
            }
            RuleOn::Film(own) => {
                format!(
                    " on {}, which was made by a figure of {} mm, so {comes_to} mm without correction",
                    own.words,
                    by(own)
                )
            }
            RuleOn::BySetup(own) => format!(
                " on a film made by the {} mm that set-up {} keeps, so {comes_to} mm without correction; measured on a film made without, say --rule-on none",
                by(own),
                own.words
            ),
        };
        let off = fixed(100.0 * (self.read.scale - 1.0).abs(), 2);
        let of = fixed(self.read.millimetres, 0);
        let head = format!("the rule of {of} mm measured {measured} mm{on}: {off} % off");
        let mut said = vec![if self.read.corrected {
            (
                "rule_corrected",
                format!("{head}; all lengths are corrected by it, and on this film the rule should measure as it says"),
            )
        } else {
            ("rule_near", format!("{head}; that is left as it is"))
        }];
        if let Some((name, kept)) = &self.kept {
            let was = kept.unwrap_or(RuleRead { millimetres: RULE_MM.value, scale: 1.0, corrected: false });
            // What is left as it is asks for nothing to be written.
            if self.read.differs(was) && (self.read.corrected || was.corrected) {
                let keeps = kept.map_or("no figure".into(), |own| format!("{} mm", mm(own.to_millimetres())));
                said.push((
                    "rule_other",
                    format!("set-up {name} keeps {keeps} for the rule and this comes to {comes_to} mm; write {comes_to} mm with the set-up, or its next film goes by what it keeps"),
                ));
            }
        }
        said
    }
}

/// A length measured for the rule, on a film that was corrected by so much.
pub(super) fn rule_read(about: Question, text: &str, corrected: f64) -> Result<(Length, RuleRead), Refusal> {
    let measured = Length::read(text).map_err(|error| Refusal::quantity(about, Length::FORMS, &error))?;
    let read = RuleRead::on(measured, corrected).map_err(|error| {
        let on = if corrected == 1.0 {
            String::new()
        } else {
            format!(" on a film made by a figure of {} mm", significant(corrected * RULE_MM.value, 5))
        };
        let cause = format!("a rule of 100 mm, or of 50 mm, measured `{}`{on}: {error}", shortened(text.trim()));
        let remedies = vec![Remedy::Write(about, "99.5mm".into()), Remedy::LeaveOut(about)];
        Refusal::rule("rule_far", about, cause, remedies)
    })?;
    Ok((measured, read))
}

impl RuleFilm {
    /// That the film has the rule of which this length would be read: a rule of 100 mm never measures 49.8 mm.
    fn carries(&self, text: &str) -> Result<(), Refusal> {
        let about = Question::RuleMeasured;
        let (Some(rules), Ok(measured)) = (&self.rules_mm, Length::read(text)) else { return Ok(()) };
        let taken = RuleRead::length_of(measured);
        if rules.contains(&taken) {
            return Ok(());
        }
        let mm = |own: f64| fixed(own, 0);
        let (has, mut remedies) = match rules.first() {
            None => ("no rule".into(), Vec::new()),
            Some(own) => {
                let example = Remedy::Write(about, format!("{}mm", fixed(own * 0.995, 1)));
                (
                    format!("a rule of {} mm", rules.iter().map(|own| mm(*own)).collect::<Vec<_>>().join(" and of ")),
                    vec![example],
                )
            }
        };
        remedies.push(Remedy::LeaveOut(about));
        remedies.push(Remedy::ListNegatives);
        let cause = format!(
            "`{}` is what a rule of {} mm measures, and {} carries {has}; measure from the outer side of its first tick to that of its last, or name the film it was measured on",
            shortened(text.trim()),
            mm(taken),
            self.words
        );
        Err(Refusal::rule("rule_not_on_film", about, cause, remedies))
    }
}

/// What the set-up keeps is to blame, and nothing that was said with the negative.
fn kept_far(mut refusal: Refusal, setup: Option<&FilmSetup>) -> Refusal {
    let Some(setup) = setup else { return refusal };
    let example = "99.5mm";
    refusal.cause = format!("set-up {} keeps what cannot be used: {}", setup.name, refusal.cause);
    let change = Remedy::ChangeSetup(setup.name.clone(), Question::RuleMeasured, example.into());
    refusal.remedies = vec![change, Remedy::Write(Question::RuleMeasured, example.into())];
    refusal
}

/// That a set-up can keep what was measured for the rule, on a film without correction; `about` asks for it.
pub(crate) fn check_rule_kept(about: Question, text: &str) -> Result<(), Refusal> {
    rule_read(about, text, 1.0).map(|_| ())
}

impl NegativeAnswers {
    /// That what is said of the rule can be taken. To be asked before a job is written down: no picture is needed for it.
    ///
    /// # Errors
    /// [`Refusal`] when it cannot be read, is further off than a printer is, or the film it was measured on has no such rule.
    pub fn check_rule(&self, curve: &CurveOf) -> Result<(), Refusal> {
        self.rule(curve).map(|_| ())
    }

    /// What was measured for the rule, and what it says of the printer: what is said, on the film it was measured on, or the set-up's figure.
    pub(super) fn rule(&self, curve: &CurveOf) -> Result<Option<Rule>, Refusal> {
        let (about, setup) = (Question::RuleMeasured, curve.setup.as_ref());
        let kept = setup.and_then(|own| own.rule_measured.as_ref());
        let Some(text) = &self.rule_measured else {
            if self.rule_on.is_some() {
                return Err(Refusal::missing(about, "99.5mm"));
            }
            let Some(text) = kept else { return Ok(None) };
            let (measured, read) = rule_read(about, text, 1.0).map_err(|own| kept_far(own, setup))?;
            return Ok(Some(Rule { measured, read, on: RuleOn::Setup, kept: None }));
        };
        // A figure that is kept and cannot be used says nothing beside one that is said.
        let kept = kept.and_then(|own| rule_read(about, own, 1.0).ok()).map(|own| own.1);
        let on = match (self.rule_on.as_ref().map(|own| own.trim()), &curve.rule_film, kept) {
            (Some(NO_FILM), ..) => RuleOn::Plain,
            (Some(_), Some(film), _) => RuleOn::Film(film.clone()),
            (Some(written), None, _) => {
                let about = Question::RuleFilm;
                let cause = format!("which film `{}` is was not looked up in a book", shortened(written));
                let remedies = vec![Remedy::Write(about, NO_FILM.into()), Remedy::LeaveOut(about)];
                return Err(Refusal::rule("rule_film_unknown", about, cause, remedies));
            }
            // What the set-up keeps was in force when its films were made.
            (None, _, Some(own)) if own.corrected => {
                let words = setup.map_or(String::new(), |own| own.name.clone());
                RuleOn::BySetup(RuleFilm { words, correction: own.correction(), rules_mm: None })
            }
            (None, ..) => RuleOn::Plain,
        };
        let corrected = match &on {
            RuleOn::Film(own) | RuleOn::BySetup(own) => own.correction,
            RuleOn::Plain | RuleOn::Setup => 1.0,
        };
        if let RuleOn::Film(own) = &on {
            own.carries(text)?;
        }
        let (measured, read) = rule_read(about, text, corrected)?;
        Ok(Some(Rule { measured, read, on, kept: setup.map(|own| (own.name.clone(), kept)) }))
    }
}
