//! What a test came to as it stands on a page: the time large, its criterion beside it, the plot with its table, and the next step.

use handcoat_craft::expose::{DryOrWet, Wanted};
use handcoat_craft::measure::{LogRange, Span, Uncertain, fixed, significant, with_uncertainty};
use handcoat_figures::{LadderAim, LadderMark, PlotWidth, Theme, ladder_plot, wedge_plot};
use handcoat_work::expose::{
    BaseInForce, EYE_BASE, EYE_SCALE, Exposed, EyeRead, InkRead, LadderPoint, LadderRead, STRIP_BASE, SetupView,
    StripRead, TestRead, TestWay, WedgeRead, base_criterion, dose_words, next_test_words, noise_from, scale_criterion,
    shoulder_criterion, span_words, time_words,
};
use maud::{Markup, PreEscaped, html};

use super::fields::Fields;
use super::words::{age, capitalised};

/// A number large, and between which it lies.
pub(super) fn base_number(base: &Exposed) -> Markup {
    let (best, between) = span_words(base);
    html! {
        p.number { b { (best) } " through clear film" }
        @if let Some(between) = between { p.why { (capitalised(&between)) } }
    }
}

/// Why what was found should be found anew, each in a line.
pub(super) fn suspect(why: &[String]) -> Markup {
    html! {
        @if !why.is_empty() {
            div.due { p { b { "Find it anew. " } "Since then:" } ul { @for own in why { li { (capitalised(own)) } } } }
        }
    }
}

/// The base exposure of a set-up large, with the dose it belongs to: with another it is another.
pub(super) fn base_with_dose(base: &BaseInForce) -> Markup {
    let (best, between) = span_words(&base.exposed);
    html! {
        p.number { b { (best) } " through clear film" }
        p.dose { (capitalised(&dose_words(base.dose.as_deref()))) }
        @if let Some(between) = between { p.why { (capitalised(&between)) } }
    }
}

/// Where a base exposure that is doubted is found anew: the same way as the test it came from, for the same set-up.
pub(super) fn anew(base: &BaseInForce) -> String {
    let fields = Fields::of(&[("setup", &base.setup)]);
    match base.way {
        TestWay::Wedge | TestWay::Ink => fields.address("/expose/wedge"),
        TestWay::Eye => fields.address("/expose/eye"),
        // Strips around what was known: a stop below it and a stop above.
        TestWay::Strip => {
            let times = match &base.exposed {
                Exposed::Time(own) => Some(own.set.best.to_seconds()),
                Exposed::Units(_) => None,
            };
            let clock = |seconds: f64| Span::seconds(seconds.round()).ok().map(|own| own.clock());
            let first = times.and_then(|own| clock(own / 2.0));
            let until = times.and_then(|own| clock(own * 2.0));
            fields.with("first", first.as_deref()).with("until", until.as_deref()).address("/expose/strip")
        }
    }
}

/// The base exposure of a set-up in a few words, for other stations.
pub(super) fn in_force(base: &BaseInForce) -> Markup {
    let (best, between) = span_words(&base.exposed);
    html! {
        p { b { (best) } " through clear film with " (base.setup) ", " b { (dose_words(base.dose.as_deref())) } @if let Some(between) = between { ", " (between) } ": "
            a href=(format!("/expose/tests/{}", base.test)) { "test " (base.test) } ", " (age(base.days)) "." }
        (suspect(&base.suspect))
    }
}

/// Those of all set-ups, folded; nothing where there is none.
pub(super) fn all_in_force(setups: &[SetupView]) -> Markup {
    let known: Vec<&BaseInForce> = setups.iter().filter_map(|own| own.base.as_ref()).collect();
    html! {
        @if !known.is_empty() {
            details.more {
                summary { "Base exposures " span.soft { (known.len()) } }
                @for own in known { (in_force(own)) }
            }
        }
    }
}

fn scale_row(scale: &Uncertain<LogRange>, by: &str) -> Markup {
    html! { dt { "exposure scale" } dd { b { (with_uncertainty(scale)) } " log H" p.why { (capitalised(by)) } } }
}

/// Any test that was read.
pub(super) fn read(own: &TestRead) -> Markup {
    match own {
        TestRead::Wedge(own) => wedge(own),
        TestRead::Ink(own) => ink(own),
        TestRead::Eye(own) => eye(own),
        TestRead::Strip(own) => html! { (strip(own)) @if own.base.is_some() || own.longer { (strip_plan(own)) } },
    }
}

/// A silver wedge that was read with an instrument.
pub(super) fn wedge(read: &WedgeRead) -> Markup {
    let fit = &read.fit;
    let state = if fit.state == DryOrWet::Dry { "dry" } else { "wet" };
    let noise = significant(read.noise.reading().to_density(), 2);
    let draw = |width| PreEscaped(wedge_plot(fit, read.noise.reading(), width, Theme::Page));
    html! {
        div.sheet {
            @if let (Some(base), Some(shoulder), Some(scale)) = (&read.base, &read.shoulder, &fit.scale) {
                h3 { "Base exposure" }
                (base_number(base))
                p.why { "By: " (base_criterion(&fit.criteria)) "." }
                dl.facts.even {
                    (scale_row(scale, &scale_criterion(&fit.criteria)))
                    dt { "by the other criterion" }
                    dd { b { (span_words(shoulder).0) } p.why { (capitalised(&shoulder_criterion(&fit.criteria))) ": never mix the two" } }
                    dt { "base and Dmax" } dd { (with_uncertainty(&fit.base)) " and " (with_uncertainty(&fit.dmax)) ", read " (state) }
                    dt { "one reading" } dd { "known to " (noise) ", " (noise_from(read.noise)) }
                }
            } @else {
                (not_bracketed(&next_test_words(fit.ends.black, fit.ends.white, &read.test)))
            }
            @for own in &fit.warnings {
                @if !own.code().ends_with("not_bracketed") { p.note { (capitalised(&own.to_string())) "." } }
            }
            (plots(&draw(PlotWidth::Page), &draw(PlotWidth::Phone)))
            details.more {
                summary { "The readings as a table" }
                table {
                    thead { tr { th scope="col" { "step" } th.n scope="col" { "print" } th.n scope="col" { "curve" } } }
                    @for own in &fit.steps {
                        tr { th scope="row" { (fixed(own.step.to_density(), 2)) @if own.count > 1 { " (" (own.count) " times)" } }
                             td.n { (fixed(own.mean.to_density(), 3)) } td.n { (fixed(own.fitted.to_density(), 3)) } }
                    }
                }
            }
        }
    }
}

/// A plot in two widths; the room it has decides which is seen.
pub(super) fn plots(wide: &PreEscaped<String>, narrow: &PreEscaped<String>) -> Markup {
    html! { div.plots { div.drawing.wide { (wide) } div.drawing.narrow { (narrow) } } }
}

fn not_bracketed(next: &str) -> Markup {
    html! {
        h3 { "It did not bracket" }
        p.lead { b { (next) } }
        p.why { "There is no time and no scale: nothing is guessed beyond the ends of what was read." }
    }
}

/// Steps of ink.
pub(super) fn ink(read: &InkRead) -> Markup {
    let step =
        |own: Option<usize>| own.map_or("not reached".into(), |own| format!("step {own} of {}", read.prints.len()));
    html! {
        div.sheet {
            h3 { "The order of the steps" }
            dl.facts.even {
                dt { "last full black" } dd { b { (step(read.rank.last_black)) } }
                dt { "last with a tone" } dd { b { (step(read.rank.last_tone)) } }
            }
            p.why { "Steps of ink only rank: how dense an ink is to the lamp nobody knows, so no time and no scale is said. A silver wedge tells them." }
        }
    }
}

/// A wedge judged by eye.
pub(super) fn eye(read: &EyeRead) -> Markup {
    html! {
        div.sheet {
            @if let (Some(base), Some(scale)) = (&read.base, &read.scale) {
                h3 { "Base exposure" }
                (base_number(base))
                p.why { "By: " (EYE_BASE) "." }
                dl.facts.even { (scale_row(scale, EYE_SCALE)) }
                p.why { "Black begins before the step that was seen black, somewhere between it and the next; where the edge is, an eye tells to a tenth." }
            } @else {
                (not_bracketed(&next_test_words(read.black, read.white, &read.test)))
            }
        }
    }
}

/// Strips and, once one is tapped, the time.
pub(super) fn strip(read: &StripRead) -> Markup {
    html! {
        div.sheet {
            @if let Some(base) = &read.base {
                h3 { "Base exposure" }
                (base_number(&Exposed::Time(*base)))
                p.why { "By: " (STRIP_BASE) "." }
                p.why { "Strips give a time only; for the exposure scale use a wedge." }
            } @else if read.longer {
                h3 { "It did not bracket" }
                @if let Some((from, to)) = read.next {
                    p.lead { "Every strip is blacker than the last. Go on from " b { (from.clock()) } " to " b { (to.clock()) } "." }
                    p.actions { a.btn href=(Fields::of(&[("first", &from.clock()), ("until", &to.clock())]).address("/expose/strip")) { "Plan those strips" } }
                }
            }
            @if read.base.is_none() && !read.longer { (strip_table(read)) }
        }
    }
}

/// The plan folded, where it was judged already.
pub(super) fn strip_plan(read: &StripRead) -> Markup {
    html! { details.more { summary { "The strips " span.soft { (read.strips.len()) } } (strip_table(read)) } }
}

/// Seconds to add, as large as the room allows.
pub(super) fn strip_table(read: &StripRead) -> Markup {
    html! {
        ol.adds {
            @for own in &read.strips {
                li {
                    span.which { "strip " (own.number) }
                    @if own.number == 1 { b { (own.add.clock()) } span { "over all" } }
                    @else { b { (significant(own.add.to_seconds(), 6)) } span { "s more" } }
                    span.in-all { (own.total.clock()) " in all" }
                }
            }
        }
    }
}

/// What one wedge of a ladder says of itself.
fn point_words(own: &LadderPoint) -> String {
    let dose =
        own.wedge.dose.map_or("no agent".into(), |dose| format!("{} {}", significant(dose.in_unit(), 3), dose.unit()));
    let scale = with_uncertainty(&own.wedge.scale);
    match (own.borrowed, own.test) {
        (true, _) => format!("{dose}: {scale}, as others report"),
        (false, Some(test)) => format!("{dose}: {scale}, test {test}"),
        (false, None) => format!("{dose}: {scale}, own"),
    }
}

/// The ladder with its plot, and what the negative asks for.
pub(super) fn ladder(read: &LadderRead, range: Option<LogRange>) -> Markup {
    let marks: Vec<LadderMark> = read
        .points
        .iter()
        .map(|own| LadderMark { wedge: own.wedge, borrowed: own.borrowed, words: point_words(own) })
        .collect();
    let dose = match &read.wanted {
        Some(Wanted::Dose { dose, .. }) => Some(*dose),
        _ => None,
    };
    let aim = range.map(|range| LadderAim { range, dose });
    let draw = |width| PreEscaped(ladder_plot(&read.ladder, &marks, aim, width, Theme::Page));
    let (slope, slope_u) = read.ladder.per_doubling();
    html! {
        div.sheet {
            (suspect(&read.suspect))
            @if let Some(wanted) = &read.wanted { (answer(wanted)) }
            (plots(&draw(PlotWidth::Page), &draw(PlotWidth::Phone)))
            p.why { "Filled: your own wedges. Open: what others report; it pales as your own come. Each doubling of the dose takes "
                (fixed(-slope, 2)) " ± " (fixed(2.0 * slope_u, 2)) " off the scale." }
            @if let Some(criterion) = &read.criterion { p.why { "The scale is counted " (criterion) "." } }
            @for (test, criterion) in &read.otherwise {
                p.note { a href=(format!("/expose/tests/{test}")) { "Test " (test) } " is counted otherwise, not used: " (criterion) "." }
            }
            details.more {
                summary { "The ladder as a table" }
                table {
                    thead { tr { th scope="col" { "dose" } th.n scope="col" { "scale" } th scope="col" { "rests on" } } }
                    @for (dose, own) in &read.rungs {
                        tr { th scope="row" { (significant(dose.in_unit(), 3)) " " (dose.unit()) } td.n { (with_uncertainty(&own.scale)) } td { (rests_on(own.borrowed)) } }
                    }
                }
                ul { @for own in &read.points { li { @match own.test { Some(test) => a href=(format!("/expose/tests/{test}")) { (point_words(own)) }, None => (point_words(own)) } } } }
            }
        }
    }
}

fn rests_on(part: f64) -> String {
    if part <= 0.0 { "own wedges".into() } else { format!("{} % borrowed", fixed((part * 100.0).max(1.0), 0)) }
}

fn answer(wanted: &Wanted) -> Markup {
    let whose = |borrowed: bool| if borrowed { ", as others report: measure, do not trust" } else { "" };
    match wanted {
        Wanted::Dose { dose, relative, at, base } => html! {
            h3 { "The negative asks for" }
            p.number { b { (significant(dose.in_unit(), 2)) } " " (dose.unit()) " ± " (fixed(relative * 200.0, 0)) " %" }
            p.why { "The scale there is " (with_uncertainty(&at.scale)) "; it rests on " (rests_on(at.borrowed)) "." }
            @match base {
                Some(base) => p { "Base exposure there: " b { (time_words(base)) } "." },
                None => p.note { b { "Make a wedge with this dose. " } "Its base exposure is not known from your own." },
            }
        },
        Wanted::NoAgent { without, borrowed } => html! {
            h3 { "No agent" }
            p.lead { "Coat without it: the scale is " b { (with_uncertainty(without)) } (whose(*borrowed)) "." }
        },
        Wanted::SofterNegative { most, borrowed } => html! {
            h3 { "Change the negative" }
            p.lead { "Make it softer: it has more range than the paper takes, " b { (with_uncertainty(most)) } " at most" (whose(*borrowed)) "." }
        },
        Wanted::HarderNegative { least } => html! {
            h3 { "Change the negative" }
            p.lead { "Make it harder: it has less range than " b { (with_uncertainty(&least.scale)) } ", the scale at the largest dose that is known." }
        },
    }
}
