//! What poppler's tools read from a PDF: words with their places, points of grey, facts of the file.

use std::path::PathBuf;
use std::process::Command;

use tempfile::TempDir;

/// Whether the tools are there. `scripts/test` installs poppler-utils; in the gate their absence is a failure.
#[expect(clippy::print_stderr, reason = "a skipped test says so")]
pub(crate) fn poppler() -> bool {
    let there = ["pdftotext", "pdftoppm", "pdfinfo", "pdffonts"]
        .iter()
        .all(|tool| Command::new(tool).arg("-v").output().is_ok_and(|output| output.status.success()));
    assert!(there || std::env::var_os("CI").is_none(), "poppler-utils are missing; scripts/test installs them");
    if !there {
        eprintln!("skipped: poppler-utils are missing");
    }
    there
}

/// A word and where it stands, in millimetres from the top left corner of its page.
#[derive(Clone, Debug)]
pub(crate) struct Word {
    pub(crate) page: usize,
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
    pub(crate) text: String,
}

/// A picture of a page in grey.
pub(crate) struct Grey {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) points: Vec<u8>,
}

/// A PDF on a disk of its own for the time of a test.
pub(crate) struct Printed {
    folder: TempDir,
}

impl Printed {
    pub(crate) fn new(pdf: &[u8]) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("it.pdf"), pdf).expect("a file");
        Self { folder }
    }

    fn path(&self) -> PathBuf {
        self.folder.path().join("it.pdf")
    }

    pub(crate) fn tool(&self, tool: &str, options: &[&str], last: &[&str]) -> String {
        let output = Command::new(tool).args(options).arg(self.path()).args(last).output().expect("poppler");
        assert!(output.status.success(), "{tool}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8_lossy(&output.stdout).into_owned()
    }

    /// All its words in one line.
    pub(crate) fn text(&self) -> String {
        self.tool("pdftotext", &[], &["-"]).split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// Every word with its place.
    pub(crate) fn words(&self) -> Vec<Word> {
        let mut page = 0;
        let mut words = Vec::new();
        for line in self.tool("pdftotext", &["-bbox"], &["-"]).lines() {
            page += usize::from(line.trim_start().starts_with("<page "));
            let Some(inside) = line.trim().strip_prefix("<word ") else { continue };
            let number = |name: &str| {
                let (_, after) = inside.split_once(&format!("{name}=\"")).expect("a bound");
                let points: f64 = after.split('"').next().and_then(|n| n.parse().ok()).expect("a number");
                points / 72.0 * 25.4
            };
            let text = inside.split('>').nth(1).and_then(|rest| rest.split('<').next()).expect("a text");
            words.push(Word {
                page,
                left: number("xMin"),
                top: number("yMin"),
                right: number("xMax"),
                bottom: number("yMax"),
                text: text.replace("&apos;", "'").replace("&quot;", "\"").replace("&amp;", "&").replace('\u{200b}', ""),
            });
        }
        assert!(!words.is_empty(), "no words");
        words
    }

    /// A page as grey points.
    pub(crate) fn grey(&self, page: usize, dpi: usize) -> Grey {
        let (page, dpi) = (page.to_string(), dpi.to_string());
        let root = self.folder.path().join("picture");
        let root = root.to_str().expect("a path");
        self.tool("pdftoppm", &["-gray", "-r", &dpi, "-f", &page, "-l", &page, "-singlefile"], &[root]);
        let bytes = std::fs::read(format!("{root}.pgm")).expect("a picture");
        // `P5`, width, height, 255, each followed by one white character; then the points.
        let mut at = 0;
        let mut header = Vec::new();
        while header.len() < 4 {
            let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).expect("a header");
            header.push(String::from_utf8_lossy(&bytes[at..end]).into_owned());
            at = end + 1;
        }
        assert_eq!((header[0].as_str(), header[3].as_str()), ("P5", "255"));
        let (width, height) = (header[1].parse().expect("a width"), header[2].parse().expect("a height"));
        let points = bytes[at..].to_vec();
        assert_eq!(points.len(), width * height);
        Grey { width, height, points }
    }

    /// Where a page is inked: runs along its lines of points, as height, from and to in millimetres.
    pub(crate) fn ink(&self, page: usize, dpi: usize) -> Vec<(f64, f64, f64)> {
        let grey = self.grey(page, dpi);
        let mm = |point: usize| point as f64 / dpi as f64 * 25.4;
        let mut runs = Vec::new();
        for (y, row) in grey.points.chunks(grey.width).enumerate() {
            let mut x = 0;
            for run in row.chunk_by(|one, other| (*one < 200) == (*other < 200)) {
                if run[0] < 200 {
                    runs.push((mm(y), mm(x), mm(x + run.len())));
                }
                x += run.len();
            }
        }
        runs
    }

    /// Pages, archival mark, embedded faces.
    pub(crate) fn is_archival(&self, pages: usize) {
        let info = self.tool("pdfinfo", &[], &[]);
        let counted = info.lines().find_map(|line| line.strip_prefix("Pages:")).map(str::trim);
        assert_eq!(counted, Some(pages.to_string().as_str()), "{info}");
        let fonts = self.tool("pdffonts", &[], &[]);
        assert!(fonts.lines().count() >= 3, "{fonts}");
        assert!(fonts.lines().skip(2).all(|line| line.contains(" yes yes yes ")), "{fonts}");
        let bytes = std::fs::read(self.path()).expect("a file");
        let text = String::from_utf8_lossy(&bytes);
        assert!(text.contains("pdfaid:part") && text.contains("pdfaid:conformance"), "no PDF/A mark");
    }
}
