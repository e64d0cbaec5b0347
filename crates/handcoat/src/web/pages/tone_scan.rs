//! A scan of a printed chart: sent or chosen, read apart, shown with what was found; its readings go on to a fit, or are held against a response.

use std::path::Path;

use handcoat_craft::measure::fixed;
use handcoat_work::keep::{RecordKind, kept};
use handcoat_work::tone::{
    ChartScan, PatchFlag, PatchRead, ResponseView, ScanAnswers, ScanFacts, ScanOutcome, responses, scan_csv,
};
use handcoat_work::{Question, Refusal, RefusalKind, Remedy};
use maud::{Markup, html};
use sha2::{Digest as _, Sha256};

use super::negative_new::choices_of;
use super::receive::folded;
use crate::apart;
use crate::web::fields::Fields;
use crate::web::floor::MOST_UPLOAD;
use crate::web::form::{self, Ask, Asked, Way, tick, words};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{frame, pictures, strips, words as said};

/// Responses a print through a curve may be held against.
const MOST: u32 = 5;
/// Middle tones, whose tint is told, L*.
const MIDDLE: (f64, f64) = (40.0, 60.0);

const HOW: &[Ask<'static>] = &[
    words(
        "gamma",
        Question::ScannerGamma,
        "Which gamma do its codes have?",
        "2.2, say. Leave it open where the scan has a profile; without one its codes are taken for sRGB.",
    ),
    tick(
        "as_lit",
        None,
        "Leave the light as it fell",
        "Else light that falls off is made even by the paper between the patches.",
    ),
];

/// The table of a step strip beside the print, and the name it is kept under.
const STRIP: &[Ask<'static>] = &[
    Ask {
        name: "reference",
        about: Some(Question::Reference),
        label: "A step strip beside the print?",
        why: "A table density,x_mm,y_mm with a line for each step, five at least: the places are the middles of the steps in mm from the upper left corner of the scan. The tones \
              are then those of the strip.",
        way: Way::Lines,
    },
    Ask {
        name: "strip_name",
        about: None,
        label: "Kept under which name?",
        why: "Where it lies at the same place each time it is chosen by this name. Not kept when nothing is written.",
        way: Way::Words,
    },
];

/// A scan that was looked at.
struct Seen {
    name: String,
    sha256: String,
    outcome: ScanOutcome,
    /// The picture of what was found, by its SHA-256.
    overlay: Option<String>,
}

/// `GET /tone/read`
pub(in crate::web) fn ask(visit: &Visit) -> Answer {
    page(visit, None, None)
}

/// `POST /tone/read` and `POST /tone/read/upload`: what was sent has its name by now.
pub(in crate::web) fn take(visit: &Visit) -> Answer {
    match seen(visit) {
        Ok(seen) => page(visit, Some(&seen), seen.outcome.read.as_ref().err()),
        Err(refusal) => page(visit, None, Some(&refusal)),
    }
}

/// `GET /tone/read/{sha256}`
pub(in crate::web) fn overlay(visit: &Visit) -> Answer {
    let gone = || Refusal {
        code: "picture_not_there",
        kind: RefusalKind::Missing,
        about: Some(Question::Scan),
        cause: "the picture of what was found is not at hand any more; read the scan once more".into(),
        excerpt: None,
        remedies: vec![Remedy::TryAgain],
    };
    Ok(Reply::Passing { media: "image/png", bytes: visit.desk.small(visit.segment(2), || Err(gone()))? })
}

fn seen(visit: &Visit) -> Result<Seen, Refusal> {
    let fields = &visit.fields;
    let missing = || Refusal::missing(Question::Scan, "scan.tif");
    let name = fields.answer("picture").ok_or_else(missing)?;
    let path = pictures::picture(visit.desk.pictures(), &name)?;
    let answers =
        ScanAnswers { gamma: fields.answer("gamma"), reference: reference(visit)?, as_lit: fields.ticked("as_lit") };
    let outcome = {
        // One at a time: each takes the cores and the memory there are.
        let _one = visit.desk.scanning();
        apart::scan(&answers, &path)
    };
    let overlay = outcome.overlay.as_ref().map(|png| {
        let sha256: String = Sha256::digest(png).iter().map(|own| format!("{own:02x}")).collect();
        // It is there from now on.
        let _ = visit.desk.small(&sha256, || Ok(png.clone()));
        sha256
    });
    let sha256 = handcoat_work::negative::sha256_of(&path).map_err(|error| pictures::unreadable(&path, &error))?;
    Ok(Seen { name, sha256, outcome, overlay })
}

/// The table of the step strip: what is pasted, kept where a name is said, or one that is kept.
fn reference(visit: &Visit) -> Result<Option<Vec<u8>>, Refusal> {
    let (fields, folder) = (&visit.fields, visit.desk.pictures());
    match (fields.answer("reference"), fields.answer("strip")) {
        (Some(table), _) => {
            if let Some(name) = fields.answer("strip_name") {
                strips::keep(folder, &name, &table)?;
            }
            Ok(Some(table.into_bytes()))
        }
        (None, Some(name)) => strips::table(folder, &name).map(Some),
        (None, None) => Ok(None),
    }
}

/// A scan of those that lie in the folder.
pub(super) fn which_scan<'a>(choices: &'a [(&'a str, &'a str)]) -> Ask<'a> {
    Ask {
        name: "picture",
        about: Some(Question::Picture),
        label: "Which scan?",
        why: "It is only read.",
        way: Way::One(choices),
    }
}

fn page(visit: &Visit, seen: Option<&Seen>, refusal: Option<&Refusal>) -> Answer {
    let fields = &visit.fields;
    let lying = pictures::lying(visit.desk.pictures());
    let shown = choices_of(&lying);
    let choices: Vec<(&str, &str)> = shown.iter().map(|own| (own.0, own.1.as_str())).collect();
    let which = [which_scan(&choices)];
    let strips = strips::kept(visit.desk.pictures());
    let mut of_strips: Vec<(&str, &str)> = vec![("", "none, or the one below")];
    of_strips.extend(strips.iter().map(|own| (own.as_str(), own.as_str())));
    let kept_strip = [Ask {
        name: "strip",
        about: Some(Question::Reference),
        label: "One that is kept?",
        why: "It must lie where it lay then.",
        way: Way::One(&of_strips),
    }];
    let how = [HOW, if strips.is_empty() { &[] } else { &kept_strip[..] }, STRIP].concat();
    let asked = Asked { form: "scan", fields, refusal };
    let again = Asked { form: "again", fields, refusal };
    // Chosen where somebody came from, and only carried on.
    let setup = fields.answer("setup");
    let setup = html! { @if let Some(setup) = setup { input type="hidden" name="setup" value=(setup); } };
    let sends = html! {
        (form::post_with_file(visit, "/tone/read/upload#sheet", &html! {
            div.ask {
                label for="scan-file" { "Drop the scan here" }
                input id="scan-file" type="file" name="file" accept=".tif,.tiff,.png,.jpg,.jpeg,image/tiff,image/png,image/jpeg" aria-describedby="scan-file-why";
                p.why id="scan-file-why" { "TIFF, PNG or JPEG, up to " (MOST_UPLOAD >> 30) " GiB. It goes into " (visit.desk.pictures().display()) " under its own name." }
            }
            (setup)
            (folded(&asked, "Scanner, light, step strip", &how))
            p.actions { button type="submit" { "Read it" } }
        }))
    };
    let chooses = html! {
        (form::post(visit, "/tone/read#sheet", &html! {
            (setup)
            (again.all(&which))
            (folded(&again, "Scanner, light, step strip", &how))
            p.actions { button.quiet type="submit" { "Read this one" } }
        }))
    };
    let every = [&which[..], &how].concat();
    // Once it was read the next step is not another scan.
    let read = seen.is_some_and(|own| own.outcome.read.is_ok());
    let body = html! {
        (frame::title("Read a scan", "The dry print of a chart, scanned flat: its patches are found by themselves, whichever way it lies."))
        div.two {
            div {
                @if read {
                    details.more { summary { "Another scan" } (sends) (chooses) }
                } @else {
                    (sends)
                    @if !lying.is_empty() {
                        details.more open[seen.is_some() || asked.blames(&which)] { summary { "One that lies in the folder" } (chooses) }
                    }
                }
            }
            div {
                h2.unseen #sheet { "What was found" }
                @if seen.is_some() || !asked.blames(&every) { (Asked { form: "found", fields, refusal }.trouble(&[])) }
                @match seen {
                    Some(seen) => (found(visit, seen)?),
                    None => div.sheet {
                        p.soft { "The patches as they were found, and their readings, stand here." }
                        p { "No chart yet? " a href="/tone/chart" { "Make one for film" } "." }
                    },
                }
            }
        }
    };
    Ok(Reply::page("Read a scan", "/tone", body).refusing(refusal))
}

fn found(visit: &Visit, seen: &Seen) -> Result<Markup, Refusal> {
    let read = seen.outcome.read.as_ref().ok();
    let next = read.map(|scan| next(visit, seen, scan)).transpose()?;
    Ok(html! {
        @if let Some(scan) = read { (result(scan)) }
        @if let Some(next) = next { (next) }
        @if let Some(sha256) = &seen.overlay {
            figure.picture {
                div.lit { img src=(format!("/tone/read/{sha256}")) alt="The scan with an outline around each thing that was found on it"; }
                figcaption.why {
                    @if read.is_some() { "Green: read. Orange: something is to be said of it. Red: left aside. The table says which." }
                    @else { "What was found before it was refused: green fits, orange was seen, red is where it went wrong." }
                }
            }
        }
        @if let Some(scan) = read { (table(scan)) }
    })
}

/// What it came to, in a few numbers.
fn result(scan: &ChartScan) -> Markup {
    let size = scan.layout.code.size;
    let (read, aside) = (scan.patches.len() - scan.aside(), scan.aside());
    html! {
        div.sheet {
            h3 { "What was read" }
            p.number { b { (read) } " patches" @if aside > 0 { ", " (aside) " left aside" } }
            @for (_, warning) in &scan.warnings { p.note { (said::capitalised(warning)) "." } }
            dl.facts.even {
                dt { "chart" } dd { (size.levels()) " levels, " (size.copies()) " of each; seed " (scan.layout.code.seed) @if scan.layout.code.through_curve { "; through a curve" } }
                dt { "paper" } dd { b { (fixed(scan.paper_l_star, 1)) } " L*" }
                dt { "black" } dd { b { (fixed(scan.black_l_star, 1)) } " L*" }
                @if let Some((a, b)) = tint(scan) { dt { "tint of the middle tones" } dd { "a* " (fixed(a, 1)) ", b* " (fixed(b, 1)) } }
                @if scan.codes_by == "strip" { dt { "tones" } dd { "by the step strip" } }
                @if let Some(ink) = scan.layout.code.ink { dt { "printed in the ink" } dd { (ink) } }
                dt { "blur" } dd { (fixed(scan.blur_mm, 2)) " mm" }
            }
        }
    }
}

/// The mean tint of middle tones, where the scan has colour.
fn tint(scan: &ChartScan) -> Option<(f64, f64)> {
    let middle = |own: &&PatchRead| !own.aside() && (MIDDLE.0..=MIDDLE.1).contains(&own.lab.l_star);
    let all: Vec<(f64, f64)> = scan.patches.iter().filter(middle).map(|own| (own.lab.a_star, own.lab.b_star)).collect();
    let count = all.len() as f64;
    let sum = all.iter().fold((0.0, 0.0), |sum, own| (sum.0 + own.0, sum.1 + own.1));
    (scan.colour && count > 0.0).then(|| (sum.0 / count, sum.1 / count))
}

/// The button that leads on.
fn next(visit: &Visit, seen: &Seen, scan: &ChartScan) -> Result<Markup, Refusal> {
    let readings = html! { input type="hidden" name="readings" value=(scan_csv(scan)); };
    if scan.layout.code.through_curve {
        let all = responses(&visit.studio(), None, MOST, None, visit.now())?;
        return Ok(held(visit, &readings, &all));
    }
    let names: Vec<String> = kept(&visit.studio(), RecordKind::Setup)?.into_iter().map(|own| own.name).collect();
    let mut choices: Vec<(&str, &str)> = names.iter().map(|own| (own.as_str(), own.as_str())).collect();
    choices.push(("", "no set-up"));
    let setups = [Ask { name: "setup", about: None, label: "Of which set-up?", why: "", way: Way::One(&choices) }];
    let first = visit.fields.answer("setup").or_else(|| names.first().cloned());
    let fields = Fields::default().with("setup", first.as_deref());
    let asked = Asked { form: "fit", fields: &fields, refusal: None };
    let name = Path::new(&seen.name).file_name().map(|own| own.to_string_lossy().into_owned()).unwrap_or_default();
    let facts = serde_json::to_string(&ScanFacts::of(scan, &name, &seen.sha256)).unwrap_or_default();
    Ok(form::post(
        visit,
        "/tone/new#sheet",
        &html! {
            (readings)
            // The file it was read from is kept with the response.
            input type="hidden" name="scan" value=(facts);
            input type="hidden" name="note" value=(format!("Scan {name}"));
            @if !names.is_empty() { (asked.all(&setups)) }
            p.actions { button type="submit" name="do" value="fit" { "Fit a response of these readings" } }
        },
    ))
}

/// What a chart that went through a curve is held against.
fn held(visit: &Visit, readings: &Markup, all: &[ResponseView]) -> Markup {
    html! {
        @if all.is_empty() {
            p.note { "This chart went through a curve, and no response is kept here to hold it against." }
        } @else {
            p { "This chart went through a curve: its print says how well that curve does. Which was it?" }
            @for (place, own) in all.iter().enumerate() {
                (form::post(visit, &format!("/tone/{}/verify#sheet", own.number), &html! {
                    (readings)
                    p.actions {
                        button.quiet[place > 0] type="submit" name="do" value="read" { "Hold it against response " (own.number) }
                        @if let Some((_, name)) = &own.setup { span.soft { (name) } }
                    }
                }))
            }
        }
    }
}

/// What is to be said of a patch, in words.
fn flag_words(flag: PatchFlag) -> &'static str {
    match flag {
        PatchFlag::Dust => "specks left out",
        PatchFlag::Slope => "changes from side to side",
        PatchFlag::Apart => "far from its copies",
        PatchFlag::Spoilt => "left aside: a mark covers it",
    }
}

fn table(scan: &ChartScan) -> Markup {
    let mut all: Vec<&PatchRead> = scan.patches.iter().collect();
    all.sort_by(|one, other| one.patch.input.to_part().total_cmp(&other.patch.input.to_part()));
    html! {
        details.more {
            summary { "The readings as a table" }
            table {
                thead { tr { th scope="col" { "patch" } th.n scope="col" { "input" } th.n scope="col" { "L*" } @if scan.colour { th.n scope="col" { "a*" } th.n scope="col" { "b*" } } th scope="col" { "" } } }
                @for own in all {
                    tr {
                        th scope="row" { (own.patch.number) }
                        td.n { (fixed(own.patch.input.to_part(), 3)) }
                        td.n { (fixed(own.lab.l_star, 1)) }
                        @if scan.colour { td.n { (fixed(own.lab.a_star, 1)) } td.n { (fixed(own.lab.b_star, 1)) } }
                        td { (own.flags.iter().map(|own| flag_words(*own)).collect::<Vec<_>>().join("; ")) }
                    }
                }
            }
        }
    }
}
