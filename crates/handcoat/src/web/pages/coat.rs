//! A coat: answers left, the drops that follow right, so large that they are read with wet gloves from a metre. The address is the
//! plan.

use handcoat_work::coat::{CoatSheetFacts, Coated, choices, coat_sheet, drop_lines, plan, pours_of};
use handcoat_work::expose::{BaseInForce, Exposed, one_setup, setups};
use handcoat_work::shelf::{Due, ItemView, shelf};
use handcoat_work::{Day, Question, Refusal};
use maud::{Markup, html};

use super::coat_asks::{BY_FORMULA, DOSE, FIRST, Offered, POURED, RATIO, SHEETS, TITLE, answers, blamed, borrowed};
use super::receive::folded;
use crate::web::fields::Fields;
use crate::web::form::{Ask, Asked, Way};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{coat, expose, frame, words};

/// `GET /coat`
pub(in crate::web) fn page(visit: &Visit) -> Answer {
    let (offered, planned, due, named, base) = {
        let studio = visit.studio();
        // Nothing asked is nothing refused.
        let planned = is_asked(&visit.fields).then(|| plan(&answers(&visit.fields), Some(&studio)));
        let due = match &planned {
            Some(Ok(_)) => due_of(&visit.fields, shelf(&studio, visit.now())?),
            _ => Vec::new(),
        };
        let named: Vec<String> = setups(&studio, visit.now())?.into_iter().map(|own| own.name).collect();
        let setup = visit.fields.answer("setup");
        let base = setup.map(|own| one_setup(&studio, &own, visit.now())).transpose();
        (Offered::of(&choices(&studio, visit.now())?), planned, due, named, base)
    };
    let refusal = planned.as_ref().and_then(|planned| planned.as_ref().err()).or(base.as_ref().err());
    let base = base.as_ref().ok().and_then(Option::as_ref).and_then(|own| own.base.as_ref());
    let sound = planned.as_ref().and_then(|planned| planned.as_ref().ok());
    let asked = Asked { form: "coat", fields: &visit.fields, refusal };
    let (papers, tools) = (borrowed(&offered.papers), borrowed(&offered.tools));
    let (metals, iron, agents) = (borrowed(&offered.metals), borrowed(&offered.iron), borrowed(&offered.agents));
    let metal = blamed(
        &visit.fields,
        &[Ask {
            name: "metal",
            about: Some(Question::CoatMetal),
            label: "Which metal?",
            why: "Two for a mix of both; then say their ratio.",
            way: Way::Any(&metals),
        }],
    );
    let iron = blamed(&visit.fields, &[one("iron", Question::CoatIron, "Which iron?", "", &iron)]);
    let by_formula = blamed(&visit.fields, BY_FORMULA);
    let paper = [one("paper", Question::CoatPaper, "Which paper?", "What was measured of it is used.", &papers)];
    let tool = [one("tool", Question::Tool, "Which brush or rod?", "", &tools)];
    let agent = one("contrast", Question::ContrastAgent, "Which contrast agent?", "", &agents);
    let contrast = blamed(&visit.fields, &[&[agent], DOSE].concat());
    let exposed_with = listed(&named);
    let exposure = [one(
        "setup",
        Question::Setup,
        "Exposed as which set-up?",
        "Its base exposure stands beside the drops.",
        &exposed_with,
    )];
    let every =
        [&exposure[..], FIRST, &metal, &iron, &paper, &tool, TITLE, &contrast, &by_formula, RATIO, POURED, SHEETS]
            .concat();
    let body = html! {
        (frame::title("Plan a coat", "How many drops of which bottle. Change any answer; the drops follow."))
        div.two {
            form method="get" action="/coat#sheet" data-follow {
                (asked.all(FIRST))
                (asked.all(&metal))
                (folded(&asked, "Ratio of two metals", RATIO))
                (asked.all(&iron))
                (asked.all(&paper))
                (asked.all(&tool))
                (asked.all(TITLE))
                (folded(&asked, "Contrast", &contrast))
                @if !named.is_empty() { (folded(&asked, "Exposure", &exposure)) }
                (folded(&asked, "Sheets, two coats, printing-out", SHEETS))
                (folded(&asked, "Uptake, share, drops per mL", POURED))
                (folded(&asked, "Solutions by formula", &by_formula))
                p.actions { button type="submit" { "Count the drops" } a.btn.quiet href="/coat/open" { "Coats that wait" } }
            }
            div {
                h2.unseen #sheet { "The drops" }
                p.unseen #status role="status" aria-live="polite" data-live { (status(sound, refusal)) }
                div #trouble data-live { (asked.trouble(&every)) }
                div #result data-live { @if let Some(coated) = sound { (before_pouring(&due)) (result(coated, &visit.fields, base)) } @else { (nothing_yet()) } }
            }
        }
    };
    Ok(Reply::page("Plan a coat", "/coat", body).refusing(refusal).with_script("live"))
}

/// Whether a coat was asked for. What comes along from a negative, its size with its margin and its set-up, is not yet that; a form that was
/// sent names its other questions too.
fn is_asked(fields: &Fields) -> bool {
    let along = |name: &str| ["image", "margin", "setup"].contains(&name);
    let came_along = fields.get("margin").is_some() && fields.pairs().all(|(name, _)| along(name));
    !fields.is_empty() && !came_along
}

/// Bottles that were asked for and rest, or are due for a look or a test.
fn due_of(fields: &Fields, shelf: Vec<ItemView>) -> Vec<ItemView> {
    let named: Vec<String> = ["metal", "iron", "contrast"].iter().flat_map(|name| fields.answers(name)).collect();
    let asked = |item: &ItemView| named.iter().any(|own| own.trim().eq_ignore_ascii_case(&item.name));
    shelf.into_iter().filter(|item| !item.due.is_empty() && asked(item)).collect()
}

/// What is due of them, each in a line of its own.
fn before_pouring(due: &[ItemView]) -> Markup {
    html! {
        @for item in due {
            @let words: Vec<String> = item.due.iter().map(short_due).collect();
            p.soft { a href=(format!("/shelf/{}", item.code)) { (item.name) } ": " (words.join(", ")) "." }
        }
    }
}

/// What is due in a few words; the bottle's own page says the rest.
fn short_due(due: &Due) -> String {
    match due {
        Due::Rest(until) => format!("rests until {}", words::when(*until)),
        Due::LookAgain => "has rested: look whether it is clear".into(),
        Due::Test(test, _) => format!("{test} test is due"),
    }
}

/// Names of set-ups, and none.
fn listed(names: &[String]) -> Vec<(&str, &str)> {
    std::iter::once(("", "not said")).chain(names.iter().map(|own| (own.as_str(), own.as_str()))).collect()
}

/// One of a list.
fn one<'a>(
    name: &'static str,
    about: Question,
    label: &'static str,
    why: &'static str,
    all: &'a [(&'a str, &'a str)],
) -> Ask<'a> {
    Ask { name, about: Some(about), label, why, way: Way::One(all) }
}

/// One line for those who hear the page and do not see it.
fn status(coated: Option<&Coated>, refusal: Option<&Refusal>) -> String {
    match (coated, refusal) {
        (Some(coated), _) => {
            let lines = coated.plan.coats.iter().flat_map(drop_lines);
            let words: Vec<String> = lines.map(|(count, name)| format!("{count} of {name}")).collect();
            format!("Drops, in this order: {}.", words.join("; "))
        }
        (None, Some(refusal)) => format!("No drops yet: {}.", refusal.cause),
        (None, None) => String::new(),
    }
}

fn nothing_yet() -> Markup {
    html! {
        div.sheet {
            p.soft { "The drops stand here as soon as the image and the metal are known: how many of which bottle, in the order they are dropped." }
        }
    }
}

fn result(coated: &Coated, fields: &Fields, base: Option<&BaseInForce>) -> Markup {
    // Drops of single bottles are of this plan alone: a record of them would be measured with others.
    let own_drops = fields.answer("drops").is_some_and(|text| !text.starts_with(|c: char| c.is_ascii_digit()));
    let (pours, others) = pours_of(&coated.plan, own_drops);
    let onward = |path: &str, names: &[&'static str]| {
        let kept = names.iter().filter(|name| **name != "drops" || !own_drops);
        let kept = kept.filter_map(|name| Some((*name, fields.get(name)?)));
        let pairs: Vec<(&str, &str)> = kept.chain(pours.iter().map(|pour| ("pour", pour.as_str()))).collect();
        Fields::of(&pairs).address(path)
    };
    // A base exposure is proposed where it is a time; what the negative needs beyond clear film the maker knows.
    let time = base.and_then(|own| match own.exposed {
        Exposed::Time(time) => Some(time.set.best.clock()),
        Exposed::Units(_) => None,
    });
    // The session asks what is poured in one line.
    let to_session = {
        let all = pours.join("; ");
        let known = ["title", "image", "margin", "paper", "tool", "time"];
        let known = known.into_iter().filter_map(|name| Some((name, fields.get(name)?)));
        let time = time.as_deref().filter(|_| fields.answer("time").is_none()).map(|own| ("time", own));
        let pairs: Vec<(&str, &str)> =
            known.chain(time).chain((!all.is_empty()).then_some(("pours", all.as_str()))).collect();
        Fields::of(&pairs).address("/session")
    };
    html! {
        (coat::sheet(coated))
        @if let Some(base) = base { h3 { "Base exposure" } (expose::in_force(base)) }
        p.actions {
            @if !pours.is_empty() {
                a.btn href=(onward("/coat/made", &["title", "image", "margin", "paper", "drops"])) { "Record this coat" }
            }
            a.btn.quiet href=(to_session) { "Plan a session with it" }
            a.btn.quiet href=(fields.address("/coat/sheet")) { "Coat sheet to print, A4" }
            a.btn.quiet href=(fields.with("page", Some("letter")).address("/coat/sheet")) { "Letter" }
        }
        @if !others.is_empty() {
            p.why { "Not on the shelf, so nothing can be taken out of it in the book: " (others.join("; ")) ". " a href="/receive" { "Receive a bottle" } " to have its drops recorded." }
        }
    }
}

/// `GET /coat/sheet`
pub(in crate::web) fn sheet(visit: &Visit) -> Answer {
    let (coated, settings) = {
        let studio = visit.studio();
        (plan(&answers(&visit.fields), Some(&studio))?, studio.settings()?)
    };
    // The book is free again: setting a page takes longer than reading one.
    let facts = CoatSheetFacts {
        studio: settings.studio,
        title: visit.fields.answer("title"),
        day: Day::of(jiff::ZonedDateTime::now().date()),
        invented: false,
        page: visit.fields.answer("page"),
    };
    Ok(Reply::Sheet { name: "coat-sheet.pdf", bytes: coat_sheet(&coated, &facts)? })
}
