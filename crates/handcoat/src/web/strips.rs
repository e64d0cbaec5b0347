//! Step strips that are kept for the next scan: tables in a folder of the pictures, each under its name.

use std::path::{Path, PathBuf};

use handcoat_work::{Question, Refusal, RefusalKind, Remedy};

use super::pictures::unwritable;

/// The folder in that of the pictures.
const STRIPS: &str = "strips";
/// Letters of a name.
const MOST_NAME: usize = 60;
/// A table longer than this is another file.
const MOST_BYTES: u64 = 64 * 1024;
/// As many are listed.
const MOST: usize = 20;

/// The names of those that are kept, in their order.
pub(super) fn kept(folder: &Path) -> Vec<String> {
    let name = |own: std::fs::DirEntry| {
        let path = own.path();
        let table = path.extension().is_some_and(|own| own == "csv") && own.metadata().is_ok_and(|own| own.is_file());
        let name = path.file_stem()?.to_str()?.to_owned();
        (table && !name.starts_with('.')).then_some(name)
    };
    let found = std::fs::read_dir(folder.join(STRIPS)).into_iter().flatten().filter_map(Result::ok);
    let mut all: Vec<String> = found.filter_map(name).collect();
    all.sort();
    all.truncate(MOST);
    all
}

/// The table of one by the name it is listed under: no other name leads anywhere.
pub(super) fn table(folder: &Path, name: &str) -> Result<Vec<u8>, Refusal> {
    let own = kept(folder).into_iter().find(|own| own == name).map(|own| path(folder, &own));
    let own = own.filter(|own| own.metadata().is_ok_and(|own| own.len() <= MOST_BYTES));
    own.and_then(|own| std::fs::read(own).ok()).ok_or_else(|| Refusal {
        code: "table_missing",
        kind: RefusalKind::Missing,
        about: Some(Question::Reference),
        cause: "no step strip of that name is kept".into(),
        excerpt: None,
        remedies: vec![Remedy::AnotherName],
    })
}

/// Keeps a table under a name. The same table may be kept again; another one needs a name of its own.
pub(super) fn keep(folder: &Path, name: &str, table: &str) -> Result<String, Refusal> {
    let plain = |own: char| if own.is_alphanumeric() || " -_()".contains(own) { own } else { '_' };
    let name: String = name.trim().chars().map(plain).take(MOST_NAME).collect();
    let to = path(folder, name.trim());
    if std::fs::read(&to).is_ok_and(|own| own == table.as_bytes()) {
        return Ok(name.trim().into());
    }
    let into = folder.join(STRIPS);
    std::fs::create_dir_all(&into).map_err(|error| unwritable(&into, &error))?;
    let file = std::fs::OpenOptions::new().write(true).create_new(true).open(&to);
    let written = file.and_then(|mut own| std::io::Write::write_all(&mut own, table.as_bytes()));
    written.map_err(|error| match error.kind() {
        std::io::ErrorKind::AlreadyExists => Refusal::occupied(Question::Reference, &to),
        _ => unwritable(&to, &error),
    })?;
    Ok(name.trim().into())
}

fn path(folder: &Path, name: &str) -> PathBuf {
    folder.join(STRIPS).join(format!("{name}.csv"))
}

#[cfg(test)]
mod tests {
    mod kept;
}
