//! A wedge judged by eye: two step numbers.

use handcoat_work::expose::{EyeAnswers, EyeRead, by_eye, exposed_words, next_test};
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};

use super::expose::{Keeping, for_setup, is_begun, keep_form, with_test};
use super::receive::folded;
use crate::web::fields::Fields;
use crate::web::form::{Ask, Asked, quantity};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{expose, frame};

const FIRST: &[Ask<'static>] = &[
    quantity("test_time", Question::TestTime, "How long was it exposed?", "4:00. The wedge lay on clear film."),
    quantity(
        "last_black",
        Question::LastBlack,
        "Which is the last step as black as step 1?",
        "5; 0 when even step 1 is not full black. Step 1 alone has nothing denser to be black by.",
    ),
    quantity(
        "last_tone",
        Question::LastTone,
        "Which is the last step that differs from bare paper?",
        "15. Look at one step at a time, its neighbours covered, the print dry.",
    ),
];

const TABLET: &[Ask<'static>] = &[
    quantity("test_units", Question::TestUnits, "Or what did an integrator count?", "120, instead of a time."),
    quantity("first_step", Question::FirstStep, "How dense is step 1?", "0.05, unless its sheet says otherwise."),
    quantity("increment", Question::StepIncrement, "How far are steps apart?", "0.15; 0.10 with 31 steps."),
    quantity("steps", Question::StepCount, "How many steps has it?", "21."),
];

/// What a form says of it.
pub(super) fn eye_answers(fields: &Fields) -> EyeAnswers {
    EyeAnswers {
        test_time: fields.answer("test_time"),
        test_units: fields.answer("test_units"),
        last_black: fields.answer("last_black"),
        last_tone: fields.answer("last_tone"),
        first_step: fields.answer("first_step"),
        increment: fields.answer("increment"),
        steps: fields.answer("steps"),
    }
}

/// `GET /expose/eye`
pub(in crate::web) fn page(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    // Nothing asked is nothing refused.
    let read = is_begun(fields).then(|| by_eye(&eye_answers(fields)));
    let refusal = read.as_ref().and_then(|own| own.as_ref().err());
    let sound = read.as_ref().and_then(|own| own.as_ref().ok());
    let asked = Asked { form: "eye", fields, refusal };
    let body = html! {
        (frame::title("Judge a wedge by eye", "Two numbers from a dry print of a silver wedge on clear film."))
        div.two {
            form method="get" action="/expose/eye#sheet" data-follow {
                (for_setup(fields))
                (asked.all(FIRST))
                (folded(&asked, "The wedge", TABLET))
                p.actions { button type="submit" { "Judge it" } }
            }
            div {
                h2.unseen #sheet { "What it comes to" }
                p.unseen #status role="status" aria-live="polite" data-live { (status(sound, refusal)) }
                div #trouble data-live { (asked.trouble(&[FIRST, TABLET].concat())) }
                div #result data-live {
                    @match sound {
                        Some(own) => { (expose::eye(own)) (again(fields, own)) h3 { "Keep it" } (keep_form(visit, &Keeping { way: "eye", found: own.base.is_some() }, fields, None)?) }
                        None => div.sheet { p.soft { "Time and scale stand here as soon as the three numbers are known." } },
                    }
                }
            }
        }
    };
    Ok(Reply::page("Judge a wedge by eye", "/expose", body).refusing(refusal).with_script("live"))
}

/// The next exposure of a wedge that did not bracket: the same form, its time set.
fn again(fields: &Fields, read: &EyeRead) -> Markup {
    html! {
        @if let Some(next) = next_test(read.black, read.white, &read.test) {
            p.actions { a.btn href=(with_test(&fields.with("last_black", None).with("last_tone", None), &next).address("/expose/eye")) { "Expose it for " (next.words()) } }
        }
    }
}

fn status(read: Option<&EyeRead>, refusal: Option<&Refusal>) -> String {
    match (read, refusal) {
        (Some(own), _) => match &own.base {
            Some(base) => format!("Base exposure {}.", exposed_words(base)),
            None => "It did not bracket.".into(),
        },
        (None, Some(refusal)) => format!("Nothing yet: {}.", refusal.cause),
        (None, None) => String::new(),
    }
}
