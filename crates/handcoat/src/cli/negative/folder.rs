//! `negative make FOLDER`: each picture of it, one after another; one that is not taken does not stop the others.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use handcoat_work::{Question, Refusal, RefusalKind, Remedy};
use serde_json::{Value, json};

use super::args::MakeArgs;
use super::make::{book, curve_for, picture};
use crate::cli::{Outcome, files, table, words};
use crate::json as lines_of;

/// Endings of pictures; what else lies there is left alone.
const ENDINGS: [&str; 5] = ["tif", "tiff", "png", "jpg", "jpeg"];

pub(super) fn make(args: &MakeArgs, folder: &Path) -> Result<Outcome, Refusal> {
    let into = args.output.as_ref().ok_or_else(|| Refusal::missing(Question::Output, "negatives"))?;
    let pictures = pictures(folder)?;
    let curve = curve_for(args)?;
    args.answers().check_rule(&curve)?;
    let book = book(args)?;
    if args.keep.as_ref().is_some_and(|own| !own.trim().is_empty()) {
        let cause = "of a folder each negative is kept under the name of its file; one name is not for all".into();
        return Err(Refusal {
            code: "name_for_many",
            kind: RefusalKind::Refused,
            about: Some(Question::Keep),
            cause,
            excerpt: None,
            remedies: vec![Remedy::LeaveOut(Question::Keep)],
        });
    }
    if args.preview.is_some() {
        let cause = "of a folder there is no one small picture; it is made of one negative".into();
        let about = Question::Preview;
        let remedies = vec![Remedy::LeaveOut(about)];
        let kind = RefusalKind::Refused;
        return Err(Refusal { code: "preview_for_many", kind, about: Some(about), cause, excerpt: None, remedies });
    }
    std::fs::create_dir_all(into).map_err(|error| {
        let cause = format!("`{}` could not be made: {error}", into.display());
        Refusal::file("folder_unwritable", Question::Output, cause, vec![Remedy::AnotherPlace])
    })?;
    refuse_its_own(folder, into)?;
    let shared = shared_stems(&pictures);
    let (mut rows, mut made, mut skipped, mut failed) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for source in &pictures {
        let target = into.join(name_for(source, &shared));
        let (own, to) = (source.display().to_string(), target.display().to_string());
        if !args.force && files::occupied(&target) {
            rows.push([own.clone(), "skipped".into(), format!("{to} is there already")]);
            skipped.push(json!({ "picture": source, "file": target }));
            continue;
        }
        match picture(args, source, &target, &curve, book.as_ref()) {
            Ok(told) => {
                rows.push([own, "made".into(), to]);
                made.push(told.json);
            }
            Err(refusal) => {
                rows.push([own, "failed".into(), format!("{} [{}]", refusal.cause, refusal.code)]);
                failed.push(json!({ "picture": source, "error": { "code": refusal.code, "message": refusal.cause } }));
                // Who stops one with Ctrl-C does not want the next, and a full disk has no room for it either.
                if ["negative_stopped", "file_unwritable"].contains(&refusal.code) {
                    break;
                }
            }
        }
    }
    let all = pictures.len();
    let counts = json!({ "made": made, "skipped": skipped, "failed": failed, "pictures": all });
    let data = if args.whose.json { lines_of::lines(&counts) } else { said(&rows, &counts) };
    if failed.is_empty() {
        return Ok(Outcome::ok(data));
    }
    let cause = format!("{} of {all} pictures failed; the others are as the table says", failed.len());
    let refusal = Refusal::file("pictures_failed", Question::Picture, cause, vec![Remedy::OtherPicture]);
    let messages = if args.whose.json {
        lines_of::lines(&lines_of::refusal(&refusal, words::flag, words::remedy))
    } else {
        words::refusal(&refusal)
    };
    Ok(Outcome { data, messages, code: words::exit_code(refusal.kind) })
}

fn said(rows: &[[String; 3]], counts: &Value) -> String {
    let count = |key: &str| counts[key].as_array().map_or(0, Vec::len);
    let mut out = table::left_columns(rows);
    out.push_str(&format!("{} made, {} skipped, {} failed.\n", count("made"), count("skipped"), count("failed")));
    out
}

/// The pictures of a folder by name; none is opened.
fn pictures(folder: &Path) -> Result<Vec<PathBuf>, Refusal> {
    let unreadable = |error: std::io::Error| {
        let cause = format!("`{}` cannot be looked into: {error}", folder.display());
        Refusal::file("folder_unreadable", Question::Picture, cause, vec![Remedy::AnotherPlace])
    };
    let mut found = Vec::new();
    for own in std::fs::read_dir(folder).map_err(unreadable)? {
        let path = own.map_err(unreadable)?.path();
        let ending = path.extension().map(|own| own.to_string_lossy().to_lowercase()).unwrap_or_default();
        if ENDINGS.contains(&ending.as_str()) && path.is_file() {
            found.push(path);
        }
    }
    found.sort();
    if found.is_empty() {
        let cause = format!("`{}` holds no picture; one ends in .tif, .tiff, .png, .jpg or .jpeg", folder.display());
        return Err(Refusal {
            code: "folder_without_pictures",
            kind: RefusalKind::Missing,
            about: Some(Question::Picture),
            cause,
            excerpt: None,
            remedies: vec![Remedy::Write(Question::Picture, "picture.tif".into())],
        });
    }
    Ok(found)
}

/// Negatives among the pictures would take the place of some of them, and be pictures themselves the next time.
fn refuse_its_own(folder: &Path, into: &Path) -> Result<(), Refusal> {
    match (folder.canonicalize(), into.canonicalize()) {
        (Ok(one), Ok(other)) if one == other => {
            let about = Question::Output;
            let cause = format!("`{}` holds the pictures; expected another folder for their negatives", into.display());
            let remedies = vec![Remedy::Write(about, "negatives".into())];
            let kind = RefusalKind::Refused;
            Err(Refusal { code: "folder_of_pictures", kind, about: Some(about), cause, excerpt: None, remedies })
        }
        _ => Ok(()),
    }
}

fn stem_of(source: &Path) -> String {
    source.file_stem().unwrap_or_default().to_string_lossy().to_lowercase()
}

/// Names that more than one picture has, but for the ending.
fn shared_stems(pictures: &[PathBuf]) -> BTreeSet<String> {
    let mut once = BTreeSet::new();
    pictures.iter().map(|own| stem_of(own)).filter(|own| !once.insert(own.clone())).collect()
}

/// The name of a negative: that of its picture; where several have one name each keeps its ending in it, whichever came first.
fn name_for(source: &Path, shared: &BTreeSet<String>) -> PathBuf {
    let whole = shared.contains(&stem_of(source));
    let mut name = if whole { source.file_name() } else { source.file_stem() }.unwrap_or_default().to_owned();
    name.push(".tif");
    PathBuf::from(name)
}
