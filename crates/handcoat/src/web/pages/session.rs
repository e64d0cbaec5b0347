//! A session at the bench: the step of the hand whose turn it is, large; what comes after it; timers along the foot. And the whole day
//! as lines of time, and as a sheet.

use handcoat_craft::measure::Span;
use handcoat_figures::{Theme, TimelineWidth, timeline};
use handcoat_work::session::{
    PourLine, PrintStand, SessionNumber, SessionSheetFacts, SessionView, Tap, Tapped, TimerView, duration,
    put_timer_away, session, session_numbered, session_sheet, start_timer, steps_by_hand, summary, tap, timeline_rows,
    timers, usual_lateness,
};
use handcoat_work::{Day, Question, Refusal};
use maud::{Markup, PreEscaped, html};

use crate::web::fields::Fields;
use crate::web::form::{self, Ask, Asked, quantity};
use crate::web::frame;
use crate::web::refused;
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::words::{capitalised, when};

/// So many minutes after its time a step is still begun in time.
const SOON_MINUTES: u64 = 2;
/// How many of what is coming are shown beneath the step.
const COMING: usize = 5;

const FREE_TIMER: [Ask<'static>; 2] = [
    quantity("timer_name", Question::TimerName, "What is it for?", ""),
    quantity("timer_time", Question::TimerSpan, "How long?", "7 is seven minutes; 90s, 1:30."),
];

/// `GET /session/{number}`
pub(in crate::web) fn show(visit: &Visit) -> Answer {
    screen(visit, session_numbered(visit.segment(1))?, None)
}

/// `POST /session/{number}`
pub(in crate::web) fn tapped(visit: &Visit) -> Answer {
    let (number, fields) = (session_numbered(visit.segment(1))?, &visit.fields);
    let place = fields.get("print").and_then(|text| text.parse::<usize>().ok()).and_then(|own| own.checked_sub(1));
    let what = match fields.get("do") {
        Some("skip") => Tapped::Skip,
        Some("spoiled") => Tapped::Spoiled,
        Some("recoated") => Tapped::Recoated,
        Some("late") => Tapped::Late(None),
        Some("timer") => Tapped::Timer,
        Some("end") => Tapped::End,
        Some(drop) if drop.starts_with("drop-") => {
            Tapped::Drop(drop.trim_start_matches("drop-").parse().unwrap_or(usize::MAX))
        }
        Some(drop) if drop.starts_with("less-") => {
            Tapped::Less(drop.trim_start_matches("less-").parse().unwrap_or(usize::MAX))
        }
        _ => Tapped::Next,
    };
    let seen = fields.get("seen").and_then(|text| text.parse().ok());
    // A form of another page has no print; nothing is done for it.
    let answer = Tap { print: place.unwrap_or(usize::MAX), seen: seen.or(Some(u32::MAX)), what: what.clone() };
    let came = tap(&mut visit.studio(), &visit.moment(), &visit.reading(), number, &answer);
    match came {
        Ok(_) if what == Tapped::End => Ok(Reply::see(format!("/session/{}/plan", number.get()))),
        Ok(_) => {
            // One drop more, a timer, a delay: the same print stays before the eyes.
            let stays = matches!(what, Tapped::Drop(_) | Tapped::Less(_) | Tapped::Timer | Tapped::Late(_));
            let own = |place: usize| fields_address(visit, number, Some(place + 1));
            Ok(Reply::see(place.filter(|_| stays).map_or_else(|| fields_address(visit, number, None), own)))
        }
        Err(refusal) => screen(visit, number, Some((place, refusal))),
    }
}

/// Where the screen of a session is, with the hand it is for.
fn fields_address(visit: &Visit, number: SessionNumber, print: Option<usize>) -> String {
    let hand = hand(visit).map(|hand| format!("hand={hand}"));
    let all: Vec<String> = hand.into_iter().chain(print.map(|print| format!("print={print}"))).collect();
    let query = if all.is_empty() { String::new() } else { format!("?{}", all.join("&")) };
    format!("/session/{}{query}", number.get())
}

fn hand(visit: &Visit) -> Option<u16> {
    visit.fields.get("hand").and_then(|text| text.parse().ok()).filter(|hand| *hand > 0)
}

fn screen(visit: &Visit, number: SessionNumber, refused_at: Option<(Option<usize>, Refusal)>) -> Answer {
    let (view, running) = {
        let studio = visit.studio();
        (session(&studio, &visit.reading(), number)?, timers(&studio, &visit.reading())?)
    };
    let asked =
        visit.fields.get("print").and_then(|text| text.parse::<usize>().ok()).and_then(|own| own.checked_sub(1));
    let place = refused_at.as_ref().map_or(asked, |(place, _)| *place);
    let turn = view.in_turn(hand(visit));
    let own = place.and_then(|place| view.prints.iter().find(|own| own.place == place && own.step.is_some()));
    let own = own.or_else(|| turn.first().copied()).filter(|_| !view.ended);
    let refusal = refused_at.as_ref().map(|(_, refusal)| refusal);
    let Some(own) = own else { return Ok(nothing_left(visit, &view, &running, refusal)) };
    let Some(shown) = view.screen(&visit.studio(), own, today(visit))? else {
        return Ok(nothing_left(visit, &view, &running, refusal));
    };
    let coating = matches!(own.step, Some(handcoat_craft::session::Step::Coat(_)));
    let exposing = own.in_hand && own.step == Some(handcoat_craft::session::Step::Expose);
    // What nobody said is recorded by hand: metal that left its bottle is not forgotten.
    let by_hand = coating && own.in_hand && own.pours.is_empty() && own.by_hand == 0;
    let timed = running.iter().find(|timer| timer.session == Some(view.number) && timer.name == own.timer);
    let body = html! {
        div.bench.session data-fresh[refusal.is_none()] {
            header {
                span { "Session " (view.number) ", " (view.clock(view.now)) }
                @if view.plan.means.people > 1 { (hands(visit, &view)) }
                a.btn.quiet href=(format!("/session/{}/plan", view.number)) { "The day" }
                a.help href="/emergency" { "Emergency" }
            }
            div.step {
                div {
                    p.whose { "Print " (own.place + 1) ", " (own.title) }
                    h1 { (shown.heading) }
                    (times(&view, own))
                    @if exposing { p.help-line { "The figure counts from when the lamp was said to be on. It switches no lamp off." } }
                    @if let Some(refusal) = refusal { (refused::note(refusal)) }
                    @if coating { (drops(own)) }
                    @if let Some(bath) = &shown.bath { p.help-line { (capitalised(bath)) "." } }
                    @if let Some(warning) = &shown.warning {
                        @if shown.caution.is_some() { p.help-line { (warning) } } @else { p.note { (warning) } }
                    }
                    @if let Some(caution) = shown.caution { p.care { (caution) } }
                }
                @if exposing { (counting(&view, own)) }
                @else if own.in_hand && !own.is_held() { (expected(&view, own)) }
            }
            div.main-two {
                @if by_hand {
                    a.btn href=(coat_by_hand(&view, own)) { "Record what was poured" }
                    (tap_form(visit, &view, own, "next", &html! { button.quiet type="submit" { (shown.button) } }))
                } @else { (tap_form(visit, &view, own, "next", &html! { button type="submit" autofocus { (shown.button) } })) }
            }
            div.sides {
                @if own.in_hand && timed.is_none() { (side(visit, &view, own, "timer", &format!("Timer {}", own.span.clock()))) }
                @if coating {
                    @for (place, pour) in own.pours.iter().enumerate().filter(|(_, pour)| pour.drops.is_some()) {
                        (side(visit, &view, own, &format!("drop-{place}"), &format!("+1 drop {}", pour.name)))
                        @if pour.more > 0 { (side(visit, &view, own, &format!("less-{place}"), &format!("−1 drop {}", pour.name))) }
                    }
                }
                (side(visit, &view, own, "late", &format!("{} late", usual_lateness())))
            }
            (coming(visit, &view, &turn, own))
            div.sure {
                (sure(visit, &view, own, "skip", "Skip this step", "It is left out, and not in the record.", "Yes, skip it"))
                @if own.coated {
                    (sure(visit, &view, own, "recoated", "Coat a new sheet", "This sheet is given up; its metal is written off as spoiled.", "Yes, coat a new sheet"))
                    (sure(visit, &view, own, "spoiled", "It is spoiled", "The print ends here; its metal is written off as spoiled.", "Yes, it is spoiled"))
                }
            }
            (timer_bar(visit, &running, &fields_address(visit, number, None), false))
        }
    };
    Ok(Reply::at_the_bench(format!("{}: {}", own.title, shown.heading), body).refusing(refusal).with_script("session"))
}

fn today(visit: &Visit) -> Day {
    Day::of_instant(visit.now())
}

/// A tap: the print and how much of it was seen go with it, so that a second tap is no second step.
fn tap_form(visit: &Visit, view: &SessionView, own: &PrintStand, what: &str, button: &Markup) -> Markup {
    form::post(
        visit,
        &format!("/session/{}", view.number),
        &html! {
            input type="hidden" name="print" value=(own.place + 1);
            input type="hidden" name="seen" value=(own.seen);
            input type="hidden" name="do" value=(what);
            @if let Some(hand) = hand(visit) { input type="hidden" name="hand" value=(hand); }
            (button)
        },
    )
}

fn side(visit: &Visit, view: &SessionView, own: &PrintStand, what: &str, says: &str) -> Markup {
    tap_form(visit, view, own, what, &html! { button.quiet type="submit" { (says) } })
}

/// What is hard to take back is asked once more before it is done.
fn sure(visit: &Visit, view: &SessionView, own: &PrintStand, what: &str, says: &str, why: &str, yes: &str) -> Markup {
    html! {
        details {
            summary { (says) }
            p.help-line { (own.title) ": " (why) }
            (side(visit, view, own, what, yes))
        }
    }
}

/// The way to record a coat, with what is known of it, and back here.
fn coat_by_hand(view: &SessionView, own: &PrintStand) -> String {
    let back = format!("/session/{}", view.number);
    let known = [("image", &own.image), ("margin", &own.margin), ("paper", &own.paper)];
    let known = known.into_iter().filter_map(|(name, text)| Some((name, text.as_deref()?)));
    let all: Vec<(&str, &str)> =
        [("title", own.title.as_str())].into_iter().chain(known).chain([("back", back.as_str())]).collect();
    Fields::of(&all).address("/coat/made")
}

fn hands(visit: &Visit, view: &SessionView) -> Markup {
    let mine = hand(visit);
    html! {
        @for own in 1..=view.plan.means.people {
            a.btn.quiet href=(format!("/session/{}?hand={own}", view.number)) aria-current=[(mine == Some(own)).then_some("true")] { "Hand " (own) }
        }
    }
}

/// When it is due, in words; the time on the wall, because that is where people look.
fn times(view: &SessionView, own: &PrintStand) -> Markup {
    let (at, late) = (view.clock(own.due), own.due < view.now);
    let by = view.now.to_milliseconds().saturating_sub(own.due.to_milliseconds()) / 60_000;
    html! {
        p.help-line {
            @if own.in_hand { "Until " (at) @if late { ", and that is past" } "." }
            @else if by >= SOON_MINUTES { (minutes(by)) " later than planned." }
            @else if own.due <= view.now { "Now." }
            @else { "To be begun at " (at) "." }
            @if let Some(then) = own.then { " Then " (then.instruction()) "." } @else { " Then it is done." }
        }
    }
}

/// Minutes as `12 min`, from one hour on `1 h 12 min`.
fn minutes(all: u64) -> String {
    Span::milliseconds(all * 60_000).map_or_else(|_| format!("{all} min"), duration)
}

/// What is left of an exposure, counted from when the lamp was said to be on.
fn counting(view: &SessionView, own: &PrintStand) -> Markup {
    let (ends, now) = (own.due.to_milliseconds(), view.now.to_milliseconds());
    let over = now >= ends;
    // Seconds that have begun are shown whole, as the timers show them.
    let shown = if over { (now - ends) / 1000 } else { (ends - now).div_ceil(1000) };
    let figure = Span::milliseconds(shown * 1000).map_or_else(|_| String::new(), Span::clock);
    html! {
        div #exposing data-live-timers {
            p.target role="timer" data-left=(i128::from(ends) - i128::from(now)) data-bare {
                (figure) @if over { " over" }
            }
        }
    }
}

fn expected(view: &SessionView, own: &PrintStand) -> Markup {
    html! { p.target { (view.clock(own.due)) } }
}

fn drops(own: &PrintStand) -> Markup {
    let pours: &[PourLine] = &own.pours;
    html! {
        ul.pours {
            @for pour in pours {
                li {
                    @if let Some(drops) = pour.drops { b { (drops) } } @else { b { (pour.volume.as_deref().unwrap_or("")) } }
                    span { (pour.name) @if pour.more > 0 { ", " (pour.more) " more than planned" } }
                }
            }
        }
        @if pours.is_empty() && own.by_hand > 0 { p.help-line { "Its coat was recorded by hand, and goes into its print." } }
        @else if pours.is_empty() { p.note { "What is poured was not said, so no metal is taken out of its bottles by this step. Record the coat under the title of the print: it goes into the print then." } }
    }
}

fn coming(visit: &Visit, view: &SessionView, turn: &[&PrintStand], shown: &PrintStand) -> Markup {
    let others: Vec<&&PrintStand> = turn.iter().filter(|own| own.place != shown.place).take(COMING).collect();
    let Ok(number) = session_numbered(&view.number.to_string()) else { return html! {} };
    html! {
        @if !others.is_empty() {
            nav aria-label="Coming after this" {
                ul.coming {
                    @for own in others {
                        li { a href=(fields_address(visit, number, Some(own.place + 1))) {
                            span.at { (view.clock(own.due)) }
                            span { (own.title) ": " (words(own)) }
                        } }
                    }
                }
            }
        }
    }
}

fn words(own: &PrintStand) -> String {
    match (own.step, own.in_hand, own.then) {
        (Some(step), true, Some(then)) => format!("{step}, then {}", then.instruction()),
        (Some(step), true, None) => format!("{step}, then it is done"),
        (Some(step), false, _) => step.instruction(),
        (None, ..) if own.spoiled => "spoiled".into(),
        (None, ..) => own.recorded.map_or_else(|| "nothing was made".into(), |print| format!("print {print}")),
    }
}

fn nothing_left(visit: &Visit, view: &SessionView, running: &[TimerView], refusal: Option<&Refusal>) -> Reply {
    let whose = view.prints.iter().any(|own| own.step.is_some()) && !view.ended;
    let heading = if view.ended { "The day's printing is over" } else { "Nothing for this hand" };
    let body = html! {
        div.bench.session {
            header { span { "Session " (view.number) } a.help href="/emergency" { "Emergency" } }
            div.step { div {
                h1 { (heading) }
                @if let Some(refusal) = refusal { (refused::note(refusal)) }
                p.help-line { @if whose { "The other hands have what is left." } @else { (when(view.begun)) ": " (over_words(view)) } }
                @if !whose {
                    ul.coming {
                        @for print in view.prints.iter().filter_map(|own| own.recorded) {
                            li { a href=(format!("/print/{print}")) { "Write how print " (print) " looks" } }
                        }
                    }
                }
            } }
            div.main-two {
                a.btn.quiet href=(format!("/session/{}/plan", view.number)) { "The day" }
                a.btn href="/" { "Today" }
            }
            (timer_bar(visit, running, "/session", false))
        }
    };
    Reply::at_the_bench(heading, body).refusing(refusal).with_script("session")
}

fn over_words(view: &SessionView) -> String {
    let one = |own: &PrintStand| format!("{}: {}", own.title, words(own));
    format!("{}.", view.prints.iter().map(one).collect::<Vec<_>>().join("; "))
}

/// Timers that run, and a free one to start. They tell a time and do nothing else.
pub(in crate::web) fn timer_bar(visit: &Visit, running: &[TimerView], back: &str, asks: bool) -> Markup {
    let asked = Asked { form: "timer", fields: &visit.fields, refusal: None };
    html! {
        @if asks || !running.is_empty() { section aria-label="Timers" {
            @if asks { h2 { "Timers" } }
            div #timers data-live-timers {
                ul.timers {
                    @for own in running {
                        @let (left, side) = own.words();
                        @let ms = i128::from(own.left.left.to_milliseconds()) - i128::from(own.left.over.to_milliseconds());
                        li.timer.over[own.is_over()] {
                            span.left role="timer" data-left=(ms) { (left) " " (side) }
                            span.named {
                                @if let Some(session) = own.session { a href=(format!("/session/{session}")) { (own.name) } } @else { (own.name) }
                                @if let Some(notice) = own.notice() { br; small { (notice) } }
                            }
                            (form::post(visit, "/session/timers", &html! {
                                input type="hidden" name="away" value=(own.number);
                                input type="hidden" name="back" value=(back);
                                button.quiet type="submit" aria-label=(format!("Put away {}", own.name)) { "Put away" }
                            }))
                        }
                    }
                }
            }
            @if !running.is_empty() { p.why { "A timer tells the time. It switches no lamp off and guards nothing." } }
            @if asks {
                details.more {
                    summary { "Start a timer" }
                    (form::post(visit, "/session/timers", &html! {
                        input type="hidden" name="back" value=(back);
                        (asked.all(&FREE_TIMER))
                        p.actions { button type="submit" { "Start" } }
                    }))
                    p.why { "A timer tells the time. It switches no lamp off and guards nothing." }
                }
            }
        } }
    }
}

/// `POST /session/timers`
pub(in crate::web) fn timer(visit: &Visit) -> Answer {
    let fields = &visit.fields;
    // Only an address of a session is a way back.
    let back = fields.get("back").filter(|own| own.starts_with("/session") && !own.contains(['\\', '\n', '\r']));
    let back = back.unwrap_or("/session").to_owned();
    match fields.get("away") {
        Some(number) => put_timer_away(&mut visit.studio(), &visit.reading(), number)?,
        None => {
            let (name, time) = (fields.answer("timer_name"), fields.answer("timer_time"));
            start_timer(&mut visit.studio(), &visit.reading(), None, name.as_ref(), time.as_ref())?
        }
    };
    Ok(Reply::see(back))
}

/// `GET /session/{number}/plan`
pub(in crate::web) fn overview(visit: &Visit) -> Answer {
    let (view, running) = {
        let studio = visit.studio();
        (session(&studio, &visit.reading(), session_numbered(visit.segment(1))?)?, timers(&studio, &visit.reading())?)
    };
    let rows = timeline_rows(&view.plan);
    let drawing = |width| PreEscaped(timeline(&rows, view.plan.start, width, Theme::Page));
    let hands = steps_by_hand(&view.plan);
    let several = hands.len() > 1;
    let body = html! {
        (frame::title(&format!("Session {}", view.number), &when(view.begun)))
        p.lead { (summary(&view.plan).first().map_or("", String::as_str)) }
        p.actions {
            @if !view.ended { a.btn href=(format!("/session/{}", view.number)) { "To the bench" } }
            a.btn.quiet href=(format!("/session/{}/sheet", view.number)) { "The sheet, to print" }
        }
        section {
            h2 { "The day" }
            div.drawing.wide { (drawing(TimelineWidth::Page)) }
            div.drawing.narrow aria-hidden="true" { (drawing(TimelineWidth::Phone)) }
        }
        section {
            h2 { "Prints" }
            ul.rows {
                @for own in &view.prints {
                    li { a href=(format!("/session/{}?print={}", view.number, own.place + 1)) {
                        b { (own.place + 1) ". " (own.title) }
                        span { (words(own)) @if own.given_up > 0 { ", " (own.given_up) " given up" } }
                    } }
                }
            }
        }
        @for (hand, steps) in hands {
            section {
                h2 { @if several { "Hand " (hand) } @else { "What is done when" } }
                table.day {
                    tbody { @for [at, print, what, until] in steps { tr { th scope="row" { (at) } td { (print) } td { (what) } td.u { (until) } } } }
                }
            }
        }
        (timer_bar(visit, &running, &format!("/session/{}/plan", view.number), true))
        @if !view.ended {
            section {
                h2 { "Put it away" }
                p.why { "What is not finished stays as it is: its coats wait, and can be recorded or spoiled by hand." }
                (form::post(visit, &format!("/session/{}", view.number), &html! {
                    input type="hidden" name="do" value="end";
                    p.actions { button.quiet type="submit" { "End the session" } }
                }))
            }
        }
    };
    Ok(Reply::page(format!("Session {}", view.number), "/session", body).with_script("session"))
}

/// `GET /session/{number}/sheet`
pub(in crate::web) fn sheet(visit: &Visit) -> Answer {
    let studio = visit.studio();
    let view = session(&studio, &visit.reading(), session_numbered(visit.segment(1))?)?;
    let facts = SessionSheetFacts {
        studio: studio.settings()?.studio,
        day: Day::of_instant(view.begun),
        invented: false,
        paper: visit.fields.answer("paper"),
    };
    let bytes = session_sheet(&view.plan, &facts, view.drops())?;
    Ok(Reply::Sheet { name: "session.pdf", bytes })
}
