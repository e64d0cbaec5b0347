//! The folder of pictures on this computer: what lies in it, what comes into it, and where negatives go.

use std::path::{Path, PathBuf};
use std::time::SystemTime;

use handcoat_work::{Question, Refusal, RefusalKind, Remedy};

/// Endings of pictures.
const ENDINGS: [&str; 5] = ["tif", "tiff", "png", "jpg", "jpeg"];
/// Longest name of a file that comes in, without its ending.
const MOST_NAME: usize = 80;
/// Names that are tried beside one that is taken.
const MOST_TRIES: u32 = 999;
/// Pictures a page shows at most.
pub(super) const MOST_SHOWN: usize = 200;
/// The folder within it where negatives go.
const NEGATIVES: &str = "negatives";

/// A picture of the folder. It is not opened to be listed.
#[derive(Clone, Debug)]
pub(super) struct Lying {
    pub(super) name: String,
    pub(super) bytes: u64,
    changed: Option<SystemTime>,
}

/// The folder beside a book, when nobody named another.
pub(super) fn beside(book: &Path) -> PathBuf {
    let mut name = book.file_stem().unwrap_or_default().to_owned();
    name.push("-pictures");
    book.with_file_name(name)
}

/// What lies there, the newest first; nothing where the folder is not made yet.
pub(super) fn lying(folder: &Path) -> Vec<Lying> {
    let mut found: Vec<Lying> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .filter_map(Result::ok)
        .filter_map(|own| {
            // A link is not followed out of the folder.
            let about = own.metadata().ok().filter(std::fs::Metadata::is_file)?;
            let name = own.file_name().to_str()?.to_owned();
            let shown = !name.starts_with('.') && has_ending(&name);
            shown.then(|| Lying { name, bytes: about.len(), changed: about.modified().ok() })
        })
        .collect();
    found.sort_by(|one, other| other.changed.cmp(&one.changed).then_with(|| one.name.cmp(&other.name)));
    found
}

pub(super) fn has_ending(name: &str) -> bool {
    let ending = Path::new(name).extension().and_then(|own| own.to_str()).unwrap_or_default().to_lowercase();
    ENDINGS.contains(&ending.as_str())
}

/// The path of a picture by the name it is listed under: no other name leads anywhere.
pub(super) fn picture(folder: &Path, name: &str) -> Result<PathBuf, Refusal> {
    let known = lying(folder).into_iter().find(|own| own.name == name);
    known.map(|own| folder.join(own.name)).ok_or_else(|| Refusal {
        code: "picture_not_there",
        kind: RefusalKind::Missing,
        about: Some(Question::Picture),
        cause: format!("no picture of that name lies in `{}`", folder.display()),
        excerpt: None,
        remedies: vec![Remedy::AnotherName],
    })
}

/// A name as it may stand in the folder: no way out of it, nothing hidden, nothing a shell or a page reads as more than a name. None when
/// it does not end like a picture.
pub(super) fn clean(name: &str) -> Option<String> {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let (stem, ending) = last.rsplit_once('.')?;
    let plain = |own: char| if own.is_alphanumeric() || " -_().".contains(own) { own } else { '_' };
    let stem: String = stem.chars().map(plain).take(MOST_NAME).collect();
    let stem = stem.trim_matches([' ', '.']);
    let name = format!("{}.{}", if stem.is_empty() { "picture" } else { stem }, ending.to_lowercase());
    has_ending(&name).then_some(name)
}

/// Moves a file that came in whole to a name that is free: never over one that is there. Gives the name.
pub(super) fn settle(from: &Path, folder: &Path, name: &str) -> std::io::Result<String> {
    for own in candidates(name) {
        let to = folder.join(&own);
        match std::fs::hard_link(from, &to) {
            Ok(()) => {
                let _ = std::fs::remove_file(from);
                return Ok(own);
            }
            Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {}
            // A file system without second names: looked at before, since it cannot be done in one.
            Err(_) if to.symlink_metadata().is_ok() => {}
            Err(_) => {
                std::fs::rename(from, &to)?;
                return Ok(own);
            }
        }
    }
    Err(std::io::ErrorKind::AlreadyExists.into())
}

/// A name, and the names beside it when it is taken.
fn candidates(name: &str) -> impl Iterator<Item = String> + '_ {
    let (stem, ending) = name.rsplit_once('.').unwrap_or((name, "tif"));
    std::iter::once(name.to_owned()).chain((2..MOST_TRIES).map(move |own| format!("{stem}-{own}.{ending}")))
}

/// Where the negative of a picture is written: in the folder of negatives, which is made when it is first needed, under a name that is free.
pub(super) fn target(folder: &Path, picture: &str, ending: &str, taken: &[String]) -> Result<PathBuf, Refusal> {
    let into = folder.join(NEGATIVES);
    std::fs::create_dir_all(&into).map_err(|error| unwritable(&into, &error))?;
    let stem = Path::new(picture).file_stem().and_then(|own| own.to_str()).unwrap_or("negative");
    let name = format!("{stem}.{ending}");
    let free = |own: &PathBuf| own.symlink_metadata().is_err() && !taken.iter().any(|it| Path::new(it) == own);
    candidates(&name).map(|own| into.join(own)).find(free).ok_or_else(|| Refusal::occupied(Question::Output, &into))
}

/// A file of its own for film in the folder of negatives, made under a name of its own first. One that is there with the same bytes stays the only one.
pub(super) fn film(
    folder: &Path,
    name: &str,
    make: impl FnOnce(&Path) -> Result<(), Refusal>,
) -> Result<PathBuf, Refusal> {
    let into = folder.join(NEGATIVES);
    std::fs::create_dir_all(&into).map_err(|error| unwritable(&into, &error))?;
    let unfinished = into.join(format!(".{}.tif", super::key("film")?));
    make(&unfinished)?;
    let there = into.join(name);
    let alike = std::fs::read(&there).ok().zip(std::fs::read(&unfinished).ok()).is_some_and(|(one, own)| one == own);
    if alike {
        let _ = std::fs::remove_file(&unfinished);
        return Ok(there);
    }
    let settled = settle(&unfinished, &into, name).map_err(|error| unwritable(&there, &error))?;
    Ok(into.join(settled))
}

/// The path of a negative, when it lies in the folder of negatives: nothing else is handed out.
pub(super) fn negative(folder: &Path, path: &str) -> Option<PathBuf> {
    let (inside, path) = (folder.join(NEGATIVES).canonicalize().ok()?, Path::new(path).canonicalize().ok()?);
    (path.parent() == Some(inside.as_path()) && path.is_file()).then_some(path)
}

/// A negative whose file is not handed out from here.
pub(super) fn no_file(name: &str) -> Refusal {
    Refusal {
        code: "negative_file_elsewhere",
        kind: RefusalKind::Missing,
        about: Some(Question::Negative),
        cause: format!(
            "no file of `{name}` lies in the folder of negatives; what was made elsewhere is not sent from here"
        ),
        excerpt: None,
        remedies: vec![Remedy::ListNegatives],
    }
}

/// A path that cannot be kept as text.
pub(super) fn no_text(path: &Path, about: Question) -> Refusal {
    let cause = format!("`{}` has letters that are no text, and a job keeps names as text", path.display());
    Refusal::file("name_no_text", about, cause, vec![Remedy::AnotherName])
}

pub(super) fn unreadable(path: &Path, error: &std::io::Error) -> Refusal {
    let cause = format!("`{}` could not be read: {error}", path.display());
    Refusal::file("file_unreadable", Question::Output, cause, vec![Remedy::TryAgain])
}

pub(super) fn unwritable(path: &Path, error: &std::io::Error) -> Refusal {
    let cause = format!("`{}` could not be written: {error}", path.display());
    Refusal::file("file_unwritable", Question::Output, cause, vec![Remedy::AnotherPlace])
}

#[cfg(test)]
mod tests {
    mod names;
}
