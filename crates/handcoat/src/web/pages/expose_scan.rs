//! A scan of a print under a wedge: sent or chosen, read apart. Its densities go into the fields of the page, to be looked at beside a picture of what
//! was found.

use handcoat_craft::measure::fixed;
use handcoat_work::expose::{WedgeScan, WedgeScanAnswers};
use handcoat_work::tone::ScanAnswers;
use handcoat_work::{Question, Refusal};
use maud::{Markup, html};
use sha2::{Digest as _, Sha256};

use super::expose_wedge::{TABLETS, chosen, show, tablet_of};
use super::negative_new::choices_of;
use super::tone_scan::which_scan;
use crate::apart;
use crate::web::fields::Fields;
use crate::web::floor::MOST_UPLOAD;
use crate::web::form::{self, Ask, Asked, Way, words};
use crate::web::pictures;
use crate::web::visit::{Answer, Reply, Visit};

/// Which wedge it was, and where it lies.
pub(super) const ROW: &[Ask<'static>] = &[
    Ask {
        name: "tablet",
        about: Some(Question::StepCount),
        label: "Which wedge was it?",
        why: "Steps that print all black or all white cannot be counted.",
        // OK because there are two of them, and what is constant is looked up while the program is built.
        way: Way::One(&[(TABLETS[0].0, TABLETS[0].2), (TABLETS[1].0, TABLETS[1].2)]),
    },
    words(
        "box",
        Question::ScanBox,
        "Where on the scan does it lie?",
        "Left open it is looked for. Else from the left, from the top, across and down: 10%,5%,80%x12%. Needed where the paper around the wedge printed black, or more lies on the scan.",
    ),
    words(
        "gamma",
        Question::ScannerGamma,
        "Which gamma do its codes have?",
        "2.2, say. Leave it open where the scan has a profile; without one its codes are taken for sRGB.",
    ),
];

/// What is asked beside the file.
pub(super) fn asks(visit: &Visit, asked: &Asked<'_>) -> Markup {
    html! {
        div.ask {
            label for="wedge-scan" { "Drop the scan here" }
            input #wedge-scan type="file" name="file" accept=".tif,.tiff,.png,.jpg,.jpeg,image/tiff,image/png,image/jpeg" aria-describedby="wedge-scan-why";
            p.why #wedge-scan-why { "TIFF, PNG or JPEG, up to " (MOST_UPLOAD >> 30) " GiB: all of the wedge, dry and flat. It goes into " (visit.desk.pictures().display()) " under its own name." }
        }
        (row(asked))
    }
}

/// Which wedge, and where: that of 21 steps unless another was chosen.
fn row(asked: &Asked<'_>) -> Markup {
    let fields = asked.fields.with("tablet", Some(chosen(asked.fields).0));
    Asked { form: asked.form, fields: &fields, refusal: asked.refusal }.all(ROW)
}

/// Scans that lie in the folder already.
pub(super) fn lying(visit: &Visit) -> Markup {
    let lying = pictures::lying(visit.desk.pictures());
    let shown = choices_of(&lying);
    let choices: Vec<(&str, &str)> = shown.iter().map(|own| (own.0, own.1.as_str())).collect();
    let which = [which_scan(&choices)];
    let asked = Asked { form: "lying", fields: &visit.fields, refusal: None };
    let carried = carried(&visit.fields);
    html! {
        @if !lying.is_empty() {
            details.more {
                summary { "One that lies in the folder" }
                (form::post(visit, "/expose/wedge/scan#sheet", &html! {
                    input type="hidden" name="how" value="scan";
                    @for (name, value) in carried.pairs() { input type="hidden" name=(name) value=(value); }
                    (asked.all(&which))
                    (row(&asked))
                    p.actions { button.quiet type="submit" { "Read this one" } }
                }))
            }
        }
    }
}

/// What is to be known of a scan that was read, by the codes that go into the address.
const TOLD: [(&str, &str); 3] = [
    (
        "scan_no_profile",
        "The scan has no profile, and its codes are taken for sRGB: say its gamma where it is another.",
    ),
    ("wedge_begins_by_box", "No paper is seen before step 1: the box alone says which step is the first."),
    (
        "wedge_steps_aside",
        "Steps without a number were left aside: a mark covers much of them, or they have two tones.",
    ),
];

/// The picture of what was found.
pub(super) fn picture(sha256: &str, fields: &Fields, read: bool) -> Markup {
    let told = fields.get("told").unwrap_or_default();
    html! {
        @if read {
            @for (_, says) in TOLD.iter().filter(|own| told.split(',').any(|code| code == own.0)) { p.note { (says) } }
        }
        figure.picture {
            div.lit { img src=(format!("/tone/read/{sha256}")) alt="The scan with lines over the edges and the steps that were found on it"; }
            figcaption.why {
                @if read { "What was read of the scan. Each step has to lie in its outline; one in red is left aside. Where they lie wrong, say a box." }
                @else { "What was found before it was refused." }
            }
        }
    }
}

/// What a form said beside the scan and the readings.
fn carried(fields: &Fields) -> Fields {
    let of_scan = [
        "token",
        "key",
        "how",
        "picture",
        "box",
        "gamma",
        "readings",
        "seen",
        "told",
        "steps_of",
        "tablet",
        "decimal_mark",
    ];
    let kept = fields.pairs().filter(|(name, _)| {
        let step = name.strip_prefix('d').is_some_and(|own| own.bytes().all(|own| own.is_ascii_digit()));
        !step && !of_scan.contains(name)
    });
    Fields::of(&kept.collect::<Vec<_>>())
}

/// `POST /expose/wedge/scan` and `POST /expose/wedge/scan/upload`: what was sent has its name by now. Its readings go into the address.
pub(in crate::web) fn take(visit: &Visit) -> Answer {
    let mut seen = None;
    match read(visit, &mut seen) {
        Ok(scan) => Ok(Reply::see(address(&visit.fields, &scan, seen.as_deref()))),
        Err(refusal) => show(visit, Some(&refusal), seen.as_deref()),
    }
}

fn read(visit: &Visit, seen: &mut Option<String>) -> Result<WedgeScan, Refusal> {
    let fields = &visit.fields;
    let name = fields.answer("picture").ok_or_else(|| Refusal::missing(Question::Scan, "scan.tif"))?;
    let path = pictures::picture(visit.desk.pictures(), &name)?;
    let answers = WedgeScanAnswers {
        scan: ScanAnswers { gamma: fields.answer("gamma"), reference: None, as_lit: true },
        place: fields.answer("box"),
        tablet: tablet_of(fields),
    };
    let outcome = {
        // One at a time: each takes the cores and the memory there are.
        let _one = visit.desk.scanning();
        apart::wedge(&answers, &path)
    };
    if let Some(png) = outcome.overlay {
        let sha256: String = Sha256::digest(&png).iter().map(|own| format!("{own:02x}")).collect();
        // It is there from now on.
        let _ = visit.desk.small(&sha256, || Ok(png));
        *seen = Some(sha256);
    }
    outcome.read
}

/// The page with a density in the field of each step that is not left aside.
fn address(fields: &Fields, scan: &WedgeScan, seen: Option<&str>) -> String {
    let mut all = carried(fields).with("how", Some("type")).with("tablet", fields.get("tablet")).with("seen", seen);
    let told: Vec<&str> = scan.warnings.iter().map(|own| own.0.as_str()).collect();
    all = all.with("told", Some(told.join(",").as_str()).filter(|own| !own.is_empty()));
    for own in scan.steps.iter().filter(|own| !own.aside()) {
        all = all.with(&format!("d{}", own.step), Some(&fixed(own.print_density, 3)));
    }
    format!("{}#sheet", all.address("/expose/wedge"))
}
