//! The contrast ladder: how much agent a negative asks for, from own wedges and what others report.

use handcoat_craft::measure::{LogRange, Readable as _};
use handcoat_work::expose::{LadderAnswers, ladder_of, setups};
use handcoat_work::{Question, Refusal};
use maud::html;

use super::receive::folded;
use crate::web::fields::Fields;
use crate::web::form::{Ask, Asked, Way, quantity, tick};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{expose, frame};

const RANGE: &[Ask<'static>] = &[quantity(
    "range",
    Question::NegativeRange,
    "Which density range has the negative?",
    "1.6, to the light of the lamp. Left open, only the ladder is shown.",
)];

const AGENT: &[Ask<'static>] = &[Ask {
    name: "agent",
    about: Some(Question::LadderAgent),
    label: "What is contrast raised with?",
    why: "",
    way: Way::One(&[
        ("", "as the set-up says"),
        ("hexachloroplatinate", "hexachloroplatinate"),
        ("chlorate", "chlorate"),
        ("peroxide", "peroxide"),
        ("dichromate", "dichromate in the developer"),
    ]),
}];

const MORE: &[Ask<'static>] = &[
    quantity(
        "range_u",
        Question::NegativeRangeOff,
        "How well is that range known?",
        "0.03 (one standard uncertainty).",
    ),
    tick("own_only", None, "Leave out what others report", "Then two own wedges with different doses are needed."),
];

fn answers(fields: &Fields) -> LadderAnswers {
    LadderAnswers {
        agent: fields.answer("agent"),
        setup: fields.answer("setup"),
        wedges: Vec::new(),
        range: fields.answer("range"),
        range_u: fields.answer("range_u"),
        own_only: fields.ticked("own_only"),
    }
}

/// `GET /expose/ladder`
pub(in crate::web) fn page(visit: &Visit) -> Answer {
    let (names, found) = {
        let studio = visit.studio();
        let names: Vec<String> = setups(&studio, visit.now())?.into_iter().map(|own| own.name).collect();
        // Nothing asked is nothing refused.
        let found = (!visit.fields.is_empty()).then(|| ladder_of(&studio, &answers(&visit.fields), visit.now()));
        (names, found)
    };
    let refusal: Option<&Refusal> = found.as_ref().and_then(|own| own.as_ref().err());
    let sound = found.as_ref().and_then(|own| own.as_ref().ok());
    let mut choices: Vec<(&str, &str)> = names.iter().map(|own| (own.as_str(), own.as_str())).collect();
    choices.push(("", "none: only what others report"));
    let setup = [Ask {
        name: "setup",
        about: Some(Question::Setup),
        label: "Whose wedges?",
        why: "Set-ups of the same paper, metals, agent, tool and developer count together.",
        way: Way::One(&choices),
    }];
    // A set-up may be asked for by its number; its name is what the form says.
    let fields = match sound.and_then(|own| own.setup.as_deref()) {
        Some(name) => visit.fields.with("setup", Some(name)),
        None => visit.fields.clone(),
    };
    let asked = Asked { form: "ladder", fields: &fields, refusal };
    let every = [&setup[..], RANGE, AGENT, MORE].concat();
    let range = visit.fields.answer("range").and_then(|own| LogRange::read(&own).ok());
    let body = html! {
        (frame::title("Contrast ladder", "Exposure scale against dose: the scale of the paper is to meet the range of the negative."))
        div.two {
            form method="get" action="/expose/ladder#sheet" data-follow {
                (asked.all(&setup))
                (asked.all(RANGE))
                (asked.all(AGENT))
                (folded(&asked, "More", MORE))
                p.actions { button type="submit" { "Show the ladder" } }
            }
            div {
                h2.unseen #sheet { "The ladder" }
                p.unseen #status role="status" aria-live="polite" data-live { @if let Some(own) = sound { "The ladder rests on " (own.ladder.own()) " own wedges with agent." } }
                div #trouble data-live { (asked.trouble(&every)) }
                div #result data-live {
                    @match sound {
                        Some(own) => (expose::ladder(own, range)),
                        None => div.sheet { p.soft { "The ladder stands here as soon as it is known what contrast is raised with." } },
                    }
                }
                p.why { "Dichromate, chlorate and chloroplatinates are hazardous: suppliers' sheets, local rules and licensed practice first. What others report: measure, do not trust." }
            }
        }
    };
    Ok(Reply::page("Contrast ladder", "/expose", body).refusing(refusal).with_script("live"))
}
