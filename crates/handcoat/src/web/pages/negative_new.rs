//! A new negative: a picture of the folder or one that is sent, a curve, a size; the rest is folded.

use std::path::Path;

use handcoat_craft::measure::{fixed, significant};
use handcoat_craft::tone::Standing;
use handcoat_work::negative::{
    ANSWER_FIELDS, AnswerField, AnswerShape, Asked as JobAsked, KeptCurve, NegativeAnswers, add_job, curve_of_response,
    jobs, name_taken, with_rule_film, with_setup,
};
use handcoat_work::tone::{ResponseView, one_response, responses};
use handcoat_work::{Question, Refusal};
use maud::html;
use serde_json::{Map, Value};

use crate::apart::{self, AskedNegative, SentPath};
use crate::web::fields::Fields;
use crate::web::floor::MOST_UPLOAD;
use crate::web::form::{Ask, Asked, Way};
use crate::web::visit::{Answer, Reply, Visit};
use crate::web::{form, frame, pictures, queue, tone, words};

/// Responses that are offered, and jobs that are looked through for names that are taken.
const MOST: u32 = 20;
const MOST_JOBS: u32 = 100;

/// What is asked openly; the rest of the table is folded, in two parts: what is seen on the film, and what the file is like.
const OPEN: [&str; 4] = ["width", "height", "sheet", "turn"];
const IN_THE_FILE: [&str; 5] = ["ppi", "filter", "depth", "dither", "packing"];
/// Never asked as the table has it: nothing is written over by a page, and further pictures are chosen from the folder.
const NOT_HERE: [&str; 2] = ["force", "also"];

/// Sizes of film that are sold; any other is written.
const FILM: [(&str, &str); 6] = [
    ("", "as large as the picture and its border"),
    ("letter", "letter"),
    ("a4", "A4"),
    ("8x10in", "8 × 10 in"),
    ("11x14in", "11 × 14 in"),
    (OTHER, "another, written below"),
];
const OTHER: &str = "other";
/// The field that film of another size is written into.
const OTHER_FILM: &str = "sheet_other";

/// `GET /negative/new`
pub(in crate::web) fn ask(visit: &Visit) -> Answer {
    page(visit, None)
}

/// `POST /negative/upload`
pub(in crate::web) fn came(visit: &Visit) -> Answer {
    let Some(name) = visit.fields.answer("picture") else {
        return page(visit, Some(&Refusal::missing(Question::Picture, "heron.tif")));
    };
    Ok(Reply::see(Fields::default().with("picture", Some(&name)).address("/negative/new")))
}

/// `POST /negative/new`
pub(in crate::web) fn take(visit: &Visit) -> Answer {
    match begun(visit) {
        Ok(()) => Ok(Reply::see("/negative#jobs")),
        Err(refusal) => page(visit, Some(&refusal)),
    }
}

fn begun(visit: &Visit) -> Result<(), Refusal> {
    let fields = &visit.fields;
    let folder = visit.desk.pictures();
    let name = fields.answer("picture").ok_or_else(|| Refusal::missing(Question::Picture, "heron.tif"))?;
    let source = pictures::picture(folder, &name)?;
    let written = fields.answer("curve").ok_or_else(|| Refusal::missing(Question::Curve, "1"))?;
    let mut answers = answers(fields)?;
    let whole = |path: std::path::PathBuf| std::path::absolute(&path).unwrap_or(path);
    for other in fields.answers("also").iter().filter(|own| **own != name) {
        answers.also.push(whole(pictures::picture(folder, other)?));
    }
    let studio = visit.studio();
    let curve = curve_of_response(&one_response(&studio, &written, visit.now())?);
    let curve = with_setup(&studio, curve, answers.setup.as_ref(), visit.now())?;
    let curve = with_rule_film(&studio, curve, answers.rule_on.as_ref(), visit.now())?;
    let taken: Vec<String> = jobs(&studio, MOST_JOBS, apart::worker())?.into_iter().map(|own| own.target).collect();
    let ending = if fields.get("png").is_some_and(|own| !own.is_empty()) { "png" } else { "tif" };
    let absolute = |path: std::path::PathBuf, about| {
        let whole = std::path::absolute(&path).ok().and_then(|own| own.to_str().map(String::from));
        whole.ok_or_else(|| pictures::no_text(&path, about))
    };
    let target = absolute(
        pictures::target(&std::path::absolute(folder).unwrap_or_else(|_| folder.into()), &name, ending, &taken)?,
        Question::Output,
    )?;
    let asked = JobAsked {
        answers,
        source: absolute(source, Question::Picture)?,
        name: fields.answer("name"),
        curve: KeptCurve::of(&curve),
        who: visit.who().into(),
        at: None,
    };
    let named = name_taken(&studio, asked.name.as_deref(), &target)?;
    // The pages of others are not held up while a picture is looked at.
    drop(studio);
    apart::fits(AskedNegative {
        answers: asked.answers.clone(),
        source: SentPath::of(Path::new(&asked.source)),
        target: SentPath::of(Path::new(&target)),
        curve: asked.curve.clone(),
        kept: false,
        resume: None,
        known: Vec::new(),
        changed: Vec::new(),
        yields: false,
    })?;
    if let Some(own) = named {
        own.admits(handcoat_work::negative::sha256_of(Path::new(&asked.source)).ok().as_deref())?;
    }
    add_job(&mut visit.studio(), &asked, &target, apart::worker(), visit.now())?;
    queue::go(&visit.desk);
    Ok(())
}

/// The answers by the table: what is ticked is yes, what is empty is open.
fn answers(fields: &Fields) -> Result<NegativeAnswers, Refusal> {
    let mut all = Map::new();
    for field in ANSWER_FIELDS.iter().filter(|own| !NOT_HERE.contains(&own.key)) {
        let Some(mut text) = fields.answer(field.key) else { continue };
        if field.key == "sheet" && text == OTHER {
            let Some(written) = fields.answer(OTHER_FILM) else {
                return Err(Refusal::missing(Question::FilmSheet, "9x12in"));
            };
            text = written;
        }
        let value = match field.shape {
            AnswerShape::YesNo => Value::Bool(true),
            AnswerShape::Files => continue,
            _ => Value::String(text),
        };
        all.insert(field.key.into(), value);
    }
    serde_json::from_value(Value::Object(all)).map_err(|_| Refusal::missing(Question::PrintWidth, "10in"))
}

/// Which question of `work` a field answers, where a refusal shall stand beside it.
fn about(key: &str) -> Option<Question> {
    match key {
        "width" => Some(Question::PrintWidth),
        "height" => Some(Question::PrintHeight),
        "ppi" => Some(Question::Ppi),
        "packing" => Some(Question::Packing),
        "crop" => Some(Question::Crop),
        "turn" => Some(Question::Turn),
        "filter" => Some(Question::Filter),
        "sheet" => Some(Question::FilmSheet),
        "film_margin" => Some(Question::FilmMargin),
        "gap" => Some(Question::FilmGap),
        "copies" => Some(Question::Copies),
        "setup" => Some(Question::Setup),
        "ink" => Some(Question::InkColour),
        "rule_measured" => Some(Question::RuleMeasured),
        "rule_on" => Some(Question::RuleFilm),
        "depth" => Some(Question::BitDepth),
        "dither" => Some(Question::Dither),
        "border_sides" => Some(Question::BorderSides),
        _ => None,
    }
}

fn page(visit: &Visit, refusal: Option<&Refusal>) -> Answer {
    let folder = visit.desk.pictures();
    let lying = pictures::lying(folder);
    let mut all = responses(&visit.studio(), None, MOST, None, visit.now())?;
    // The newest first, those that hold before those to be checked, and what is doubted last.
    all.sort_by_key(ResponseView::standing);
    let mut fields = visit.fields.clone();
    // What is likeliest is chosen already: the only picture, and the newest curve that holds. Nobody is handed one that is doubted.
    if fields.get("picture").is_none() && lying.len() == 1 {
        fields = fields.with("picture", lying.first().map(|own| own.name.as_str()));
    }
    if fields.get("curve").is_none() {
        let holds = all.iter().find(|own| own.standing() == Standing::Holds).map(|own| own.number.to_string());
        fields = fields.with("curve", holds.as_deref());
    }
    // Film of a size that is not offered, when the answers of a job are changed.
    if let Some(own) = fields.answer("sheet").filter(|own| !FILM.iter().any(|known| known.0 == own)) {
        fields = fields.with("sheet", Some(OTHER)).with(OTHER_FILM, Some(&own));
    }
    let pictures = choices_of(&lying);
    let pictures: Vec<(&str, &str)> = pictures.iter().map(|own| (own.0, own.1.as_str())).collect();
    let doubted = |own: &ResponseView| own.standing() == Standing::Stale;
    let curves: Vec<(String, String, bool)> =
        all.iter().map(|own| (own.number.to_string(), curve_words(own), doubted(own))).collect();
    let curves: Vec<(&str, &str, bool)> = curves.iter().map(|own| (own.0.as_str(), own.1.as_str(), own.2)).collect();
    let picture = [Ask {
        name: "picture",
        about: Some(Question::Picture),
        label: "Which picture?",
        why: if lying.len() > pictures::MOST_SHOWN {
            "The picture itself is not changed. These are the newest; others lie in the folder too, and are made at the command line."
        } else {
            "The picture itself is not changed."
        },
        way: Way::One(&pictures),
    }];
    let curve = [Ask {
        name: "curve",
        about: Some(Question::Curve),
        label: "Through which curve?",
        why: "A curve belongs to its set-up.",
        way: Way::Weighed(&curves),
    }];
    let choices = choices();
    let labels: Vec<(&str, String)> =
        ANSWER_FIELDS.iter().map(|own| (own.key, words::capitalised(own.label))).collect();
    let label = |key: &str| labels.iter().find(|own| own.0 == key).map_or("", |own| own.1.as_str());
    let of = |field: &'static AnswerField| Ask {
        name: field.key,
        about: about(field.key),
        label: label(field.key),
        why: field.hint,
        way: way(field, &choices),
    };
    let shown = || ANSWER_FIELDS.iter().filter(|own| !NOT_HERE.contains(&own.key));
    let mut open: Vec<Ask<'_>> = shown().filter(|own| OPEN.contains(&own.key)).map(of).collect();
    if let Some(own) = open.iter_mut().find(|own| own.name == "sheet") {
        *own = Ask { way: Way::One(&FILM), why: "The picture is placed on it either way up.", ..*own };
    }
    let is_file = |own: &&AnswerField| IN_THE_FILE.contains(&own.key);
    let mut film: Vec<Ask<'_>> = shown().filter(|own| !OPEN.contains(&own.key) && !is_file(own)).map(of).collect();
    film.insert(0, form::note(OTHER_FILM, "Film of another size", "9x12in or 297x210mm"));
    if pictures.len() > 1 {
        film.push(Ask {
            name: "also",
            about: None,
            label: "Further pictures on the same film",
            why: "Through the same curve; the size of the film is said too. Width: one for all, or one for each.",
            way: Way::Any(&pictures),
        });
    }
    let mut file: Vec<Ask<'_>> = shown().filter(is_file).map(of).collect();
    file.push(form::tick("png", None, "As PNG", "TIFF unless this is ticked."));
    let name = [form::words(
        "name",
        Question::KeptName,
        "Kept under which name?",
        "That of its file when nothing is written. Under the name of a negative of the same picture the earlier file stays listed; another picture needs a name of its own.",
    )];
    let asked = Asked { form: "negative", fields: &fields, refusal };
    let every = [&picture[..], &curve[..], &open[..], &film[..], &file[..], &name[..]].concat();
    let other_film = fields.get("sheet") == Some(OTHER);
    let unfold = (asked.blames(&film) || other_film, asked.blames(&file));
    let body = html! {
        (frame::title("Make a negative", "A picture, the curve of the set-up it is printed with, and how wide it is on the film."))
        (asked.trouble(&every))
        div.two {
            div {
                @if lying.is_empty() { p.lead { "No picture lies in the folder yet." } p.why { "Send one from here, or put it into " (folder.display()) " on the computer this runs on." } }
                @if all.is_empty() { p.lead { "No curve is kept yet." } p.why { "A curve comes of a chart: " a href="/tone/new" { "read one" } "." } }
                @if !lying.is_empty() && !all.is_empty() {
                    (form::post(visit, "/negative/new", &html! {
                        (asked.all(&picture))
                        (asked.all(&curve))
                        (asked.all(&open))
                        details.more open[unfold.0] { summary { "On the film: crop, copies, border, ink, mirror" } (asked.all(&film)) }
                        details.more open[unfold.1] { summary { "In the file: pixels to the inch, bits, packing" } (asked.all(&file)) }
                        (asked.all(&name))
                        p.actions { button type="submit" { "Make it" } a.btn.quiet href=(proof_of(&fields)) { "See a proof first" } }
                    }))
                }
            }
            section {
                h2 { "Send a picture" }
                (form::post_with_file(visit, "/negative/upload", &html! {
                    div.ask {
                        label for="send-file" { "A TIFF, PNG or JPEG" }
                        input id="send-file" type="file" name="file" accept=".tif,.tiff,.png,.jpg,.jpeg,image/tiff,image/png,image/jpeg" aria-describedby="send-why";
                        p.why id="send-why" { "Up to " (MOST_UPLOAD >> 30) " GiB. It goes into " (folder.display()) " under its own name; what lies there is never written over." }
                    }
                    p.actions { button.quiet type="submit" { "Send it" } }
                }))
            }
        }
    };
    Ok(Reply::page("Make a negative", "/negative", body).refusing(refusal))
}

/// The choices of each field that has some, with nothing said before them.
fn choices() -> Vec<(&'static str, Vec<(&'static str, &'static str)>)> {
    let of = |field: &AnswerField| match field.shape {
        AnswerShape::OneOf(all) => {
            let own = std::iter::once(("", usual(field.key)))
                .chain(all.iter().filter(|own| !is_usual(field.key, own)).map(|own| (*own, *own)))
                .collect();
            Some((field.key, own))
        }
        _ => None,
    };
    ANSWER_FIELDS.iter().filter_map(of).collect()
}

/// What holds when nothing is said, by name.
fn usual(key: &str) -> &'static str {
    match key {
        "turn" => "not turned (usual)",
        "filter" => "as it suits the size (usual)",
        "depth" => "16 bits (usual)",
        "dither" => "diffusion (usual)",
        "border_sides" => "where the film has room (usual)",
        "packing" => "smaller, nothing lost: deflate (usual)",
        _ => "as usual",
    }
}

/// What is the same as saying nothing, and is not offered twice.
fn is_usual(key: &str, word: &str) -> bool {
    [("depth", "16"), ("dither", "diffusion"), ("packing", "deflate")].contains(&(key, word))
}

fn way<'a>(field: &AnswerField, choices: &'a [(&'static str, Vec<(&'static str, &'static str)>)]) -> Way<'a> {
    match field.shape {
        AnswerShape::OneOf(_) => {
            choices.iter().find(|own| own.0 == field.key).map_or(Way::Words, |own| Way::One(own.1.as_slice()))
        }
        AnswerShape::YesNo => Way::Tick,
        AnswerShape::Words | AnswerShape::Files => Way::Words,
    }
}

/// A curve in one line: its set-up, how near it comes, how it stands.
pub(super) fn curve_words(own: &ResponseView) -> String {
    let of = own.setup.as_ref().map_or("no set-up", |own| own.1.as_str());
    let near = significant(own.read.correction.expected_rms(), 2);
    // How it stands comes first: of a long list the beginnings of its lines are read.
    let standing = match own.standing() {
        Standing::Stale => format!("Doubted, {}", tone::standing_words(own.standing())),
        other => words::capitalised(tone::standing_words(other)),
    };
    format!("{standing}: response {} of {of}, within {near} L*", own.number)
}

/// Where the picture is shown as it would print.
fn proof_of(fields: &Fields) -> String {
    let own = Fields::default().with("picture", fields.get("picture"));
    own.with("curve", fields.get("curve")).address("/negative/proof")
}

/// Pictures to choose from, the newest, each with how large it is.
pub(super) fn choices_of(lying: &[pictures::Lying]) -> Vec<(&str, String)> {
    let shown = lying.iter().take(pictures::MOST_SHOWN);
    shown.map(|own| (own.name.as_str(), format!("{}, {}", own.name, much(own.bytes)))).collect()
}

/// Bytes as people say them.
fn much(bytes: u64) -> String {
    let mega = bytes as f64 / 1e6;
    if mega < 1.0 { format!("{} kB", fixed(bytes as f64 / 1e3, 0)) } else { format!("{} MB", fixed(mega, 0)) }
}
