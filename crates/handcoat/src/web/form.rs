//! Forms: a plain question, a field, a sentence of why, and beside it what was wrong with the answer.
//!
//! Every input is a text field or a box of our own drawing: the browser's own lists and calendars bring light that no style
//! sheet reaches, and its number fields read a decimal comma as nothing.

use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use super::fields::Fields;
use super::refused;
use super::visit::Visit;

/// How an answer is given.
#[derive(Clone, Copy)]
pub(super) enum Way<'a> {
    /// Words, or a number with its unit: both need letters, so no phone is asked for its keys of digits.
    Words,
    /// Words in several lines.
    Lines,
    /// One of a few; one with an empty word is what holds when nothing is said.
    One(&'a [(&'a str, &'a str)]),
    /// One of several that are not equally good: those marked are doubted, and say it with a bar.
    Weighed(&'a [(&'a str, &'a str, bool)]),
    /// Yes, when ticked.
    Tick,
    /// Any of a few, each when ticked.
    Any(&'a [(&'a str, &'a str)]),
}

/// One question.
#[derive(Clone, Copy)]
pub(super) struct Ask<'a> {
    /// The field's name.
    pub(super) name: &'static str,
    /// Which question of `work` it answers: a refusal about it stands here. None where no answer is ever refused.
    pub(super) about: Option<Question>,
    /// The question as the page puts it.
    pub(super) label: &'a str,
    /// Why it is asked, or the forms it takes.
    pub(super) why: &'a str,
    /// How it is answered.
    pub(super) way: Way<'a>,
}

/// A question answered with a quantity.
pub(super) const fn quantity(
    name: &'static str,
    about: Question,
    label: &'static str,
    why: &'static str,
) -> Ask<'static> {
    Ask { name, about: Some(about), label, why, way: Way::Words }
}

/// A question answered in words.
pub(super) const fn words(name: &'static str, about: Question, label: &'static str, why: &'static str) -> Ask<'static> {
    Ask { name, about: Some(about), label, why, way: Way::Words }
}

/// A note that is kept as it is written.
pub(super) const fn note(name: &'static str, label: &'static str, why: &'static str) -> Ask<'static> {
    Ask { name, about: None, label, why, way: Way::Words }
}

/// Yes, when ticked.
pub(super) const fn tick(
    name: &'static str,
    about: Option<Question>,
    label: &'static str,
    why: &'static str,
) -> Ask<'static> {
    Ask { name, about, label, why, way: Way::Tick }
}

/// The answers so far, and what was wrong with them.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    /// Sets the ids of one form apart from another's on the page.
    pub(super) form: &'a str,
    pub(super) fields: &'a Fields,
    pub(super) refusal: Option<&'a Refusal>,
}

impl Asked<'_> {
    /// Whether the refusal is about one of these questions.
    pub(super) fn blames(&self, asks: &[Ask<'_>]) -> bool {
        let about = self.refusal.and_then(|refusal| refusal.about);
        about.is_some() && asks.iter().any(|ask| about == ask.about)
    }

    /// All of these, one beneath the other.
    pub(super) fn all(&self, asks: &[Ask<'_>]) -> Markup {
        html! { @for ask in asks { (self.ask(ask)) } }
    }

    /// A refusal that is about none of these.
    pub(super) fn trouble(&self, asks: &[Ask<'_>]) -> Markup {
        html! { @if let Some(refusal) = self.refusal { @if !self.blames(asks) { (refused::note(refusal)) } } }
    }

    /// One question. The slot for what was wrong is always there, so that the script can fill it.
    pub(super) fn ask(&self, ask: &Ask<'_>) -> Markup {
        let id = format!("{}-{}", self.form, ask.name);
        let (why, slot) = (format!("{id}-why"), format!("{id}-slot"));
        let refusal = self.refusal.filter(|refusal| refusal.about.is_some() && refusal.about == ask.about);
        let value = self.fields.get(ask.name).unwrap_or_default();
        let described = if ask.why.is_empty() { slot.clone() } else { format!("{why} {slot}") };
        let first = refusal.is_some();
        html! {
            div.ask {
                @match ask.way {
                    Way::Words => {
                        label for=(id) { (ask.label) }
                        input id=(id) name=(ask.name) type="text" value=(value) autocomplete="off" spellcheck="false"
                            aria-describedby=(described) aria-invalid=[first.then_some("true")] autofocus[first];
                    }
                    Way::Lines => {
                        label for=(id) { (ask.label) }
                        textarea id=(id) name=(ask.name) rows="8" autocomplete="off" spellcheck="false"
                            aria-describedby=(described) aria-invalid=[first.then_some("true")] autofocus[first] { (value) }
                    }
                    Way::One(choices) => {
                        fieldset.one aria-describedby=(described) {
                            legend { (ask.label) }
                            @for (place, (word, says)) in choices.iter().enumerate() {
                                @let chosen = value == *word;
                                div.choice {
                                    input id=(format!("{id}-{place}")) type="radio" name=(ask.name) value=(word) checked[chosen] autofocus[first && place == 0];
                                    label for=(format!("{id}-{place}")) { (says) }
                                }
                            }
                        }
                    }
                    Way::Weighed(choices) => {
                        fieldset.one.weighed aria-describedby=(described) {
                            legend { (ask.label) }
                            @for (place, (word, says, doubted)) in choices.iter().enumerate() {
                                @let chosen = value == *word;
                                div.choice.doubted[*doubted] {
                                    input id=(format!("{id}-{place}")) type="radio" name=(ask.name) value=(word) checked[chosen] autofocus[first && place == 0];
                                    label for=(format!("{id}-{place}")) { (says) }
                                }
                            }
                        }
                    }
                    Way::Any(choices) => {
                        @let chosen = self.fields.answers(ask.name);
                        fieldset.one aria-describedby=(described) {
                            legend { (ask.label) }
                            @for (place, (word, says)) in choices.iter().enumerate() {
                                div.choice {
                                    input id=(format!("{id}-{place}")) type="checkbox" name=(ask.name) value=(word) checked[chosen.iter().any(|own| own == word)];
                                    label for=(format!("{id}-{place}")) { (says) }
                                }
                            }
                        }
                    }
                    Way::Tick => {
                        div.choice {
                            input id=(id) type="checkbox" name=(ask.name) value="yes" checked[!value.is_empty()] aria-describedby=(described);
                            label for=(id) { (ask.label) }
                        }
                    }
                }
                @if !ask.why.is_empty() { p.why id=(why) { (ask.why) } }
                div id=(slot) data-live { @if let Some(refusal) = refusal { (refused::beside(refusal, &format!("{slot}-said"))) } }
            }
        }
    }
}

/// A form that changes something: with the token of this run and a key of its own, so that it is done once.
pub(super) fn post(visit: &Visit, action: &str, body: &Markup) -> Markup {
    sealed(visit, action, None, body)
}

/// The same with a file.
pub(super) fn post_with_file(visit: &Visit, action: &str, body: &Markup) -> Markup {
    sealed(visit, action, Some("multipart/form-data"), body)
}

fn sealed(visit: &Visit, action: &str, how: Option<&str>, body: &Markup) -> Markup {
    // Without a random number there is no key and the floor says so when it is sent.
    let key = visit.key().unwrap_or_default();
    html! {
        form method="post" action=(action) enctype=[how] {
            input type="hidden" name="token" value=(visit.token());
            input type="hidden" name="key" value=(key);
            (body)
        }
    }
}
