//! Books for tests: one that is in order, and some that are not.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use crate::command::{fresh_folder, handcoat};

/// Where the schema's number stands in the header of an SQLite file (SQLite file format, 1.3, offset 60, big-endian).
const USER_VERSION_AT: usize = 60;

/// Tables with one thing wrong with each, and one that is sound.
const TABLES: [(&str, &[u8]); 45] = [
    ("sound.csv", b"formula,name,mass_g\nPdCl2,second jar,4.5\n"),
    ("latin.csv", b"formula,note,mass_g\nPdCl2,M\xfcller,4.5\n"),
    ("empty.csv", b"formula,mass_g\n"),
    ("uneven.csv", b"formula,mass_g\nPdCl2,4,5\n"),
    ("unknown-column.csv", b"formula,weight\nPdCl2,4.5\n"),
    ("two-columns.csv", b"formula,mass_g,mass_g\nPdCl2,4.5,4.5\n"),
    ("no-formula.csv", b"name,mass_g\njar,4.5\n"),
    ("comma.csv", b"formula;mass_g\nPdCl2;4,5\n"),
    ("tin.csv", b"formula,kind,mass_g\nPdCl2,tin,4.5\n"),
    ("grams.csv", b"formula,mass_g\nPdCl2,4.5 g\n"),
    ("platinum.csv", b"formula,mass_g,metal,metal_g\nPdCl2,4.5,Pt,2.7\n"),
    ("how-much.csv", b"formula,volume_ml,metal\nunknown,40,Pd\n"),
    ("which.csv", b"formula,volume_ml,metal_g\nunknown,40,2.7\n"),
    ("all-metal.csv", b"formula,mass_g,metal,metal_g\nPdCl2,4.5,Pd,4.6\n"),
    ("taken.csv", b"formula,name,mass_g\nNaCl,Salt,4.5\n"),
    ("twice.csv", b"formula,name,mass_g\nNaCl,third,4.5\nKCl,Third,4.5\n"),
    ("bottle.csv", b"formula,kind,mass_g\nPdCl2,bottle,4.5\n"),
    ("no-amount.csv", b"formula,name\nPdCl2,second jar\n"),
    ("element.csv", b"formula,mass_g\nPdXl2,4.5\n"),
    // Readings under a wedge.
    ("wedge-flat.csv", b"step_density,print_density\n0,1.4\n0.15,1.4\n0.3,1.4\n0.45,1.4\n0.6,1.4\n"),
    ("wedge-turned.csv", b"step_density,print_density\n0,0.1\n0.5,0.3\n1,0.8\n1.5,1.2\n2,1.4\n"),
    ("wedge-short.csv", b"step_density,print_density\n0,1.4\n1,0.8\n2,0.1\n"),
    ("wedge-comma.csv", b"step_density;print_density\n0,15;1,4\n"),
    ("wedge-words.csv", b"step_density,print_density\n0.15,dark\n"),
    ("wedge-unit.csv", b"step_density,print_density\n0.15,1.4 D\n"),
    ("wedge-names.csv", b"step,density\n0.15,1.4\n"),
    ("wedge-far.csv", b"step_density,print_density\n9,1.4\n"),
    // Readings of a chart, and a JSON that is no fit.
    ("chart-few.csv", b"input,l_star\n0,22\n0.5,50\n1,93\n"),
    ("strip-far.csv", b"density,x_mm,y_mm\n0.1,900,10\n"),
    ("strip-alike.csv", b"density,x_mm,y_mm\n0.1,2,2\n0.5,2,2\n1.0,2,2\n"),
    ("chart-flat.csv", b"input,l_star\n0,50\n0.25,51\n0.5,52\n0.75,53\n1,54\n"),
    ("chart-early.csv", b"input,l_star\n0,22\n0.1,34\n0.2,50\n0.3,66\n0.4,80\n0.5,92\n0.6,93\n0.8,93\n1,93\n"),
    ("chart-turned.csv", b"input,l_star\n0,93\n0.25,80\n0.5,60\n0.75,40\n1,22\n"),
    ("chart-middle.csv", b"input,l_star\n0.3,32\n0.4,40\n0.5,50\n0.6,60\n0.7,75\n"),
    ("chart-percent.csv", b"input,l_star\n0,22\n50,50\n100,93\n"),
    ("chart-names.csv", b"step,l_star\n0,22\n"),
    (
        "chart-cut.txt",
        b"CGATS.17\nNUMBER_OF_SETS 3\nBEGIN_DATA_FORMAT\nINPUT LAB_L\nEND_DATA_FORMAT\nBEGIN_DATA\n0 22\n0.5 50\n",
    ),
    ("chart-both.csv", b"input,l_star,density\n0,22,1.45\n0.5,50,1.7\n"),
    ("fit-other.json", b"{\"response\": []}\n"),
    (
        "scan-facts.json",
        b"{\"file\":\"scan.tif\",\"sha256\":\"0\",\"readings_sha256\":\"0\",\"code\":\"HANDCOAT 1/24/3//P\",\"ppi\":300,\"turn_degrees\":0,\"codes_by\":\"srgb\",\"profile_sha256\":null,\"px_per_mm\":11.8,\"blur_mm\":0.1,\"marks_off_mm\":0.05,\"light_fall_part\":0,\"light_evened\":false,\"flagged\":[]}\n",
    ),
    // Curves.
    ("curve-straight.csv", b"input,output\n0,0\n1,1\n"),
    ("curve-flat.csv", b"input,output\n0,0.4\n1,0.4\n"),
    ("curve-falls.csv", b"input,output\n0,0\n0.5,0.6\n1,0.4\n"),
    ("soon.csv", b"formula,volume_ml,ready_after\nNa2PdCl4,40,soon\n"),
    ("put-away.csv", b"formula,standing,mass_g\nPdCl2,retired,4.5\n"),
];

/// A TIFF of 8-bit grey, 4 by 4, with these fields in the place of its own; a field of 0 is left out.
pub(crate) fn tiff(other: &[(u16, u32)], behind: &[u8]) -> Vec<u8> {
    let fields: [(u16, u32); 11] = [
        (256, 4),
        (257, 4),
        (258, 8),
        (259, 1),
        (262, 1),
        (273, 200),
        (277, 1),
        (278, 4),
        (279, 16),
        (284, 1),
        (339, 1),
    ];
    let own = |tag: u16, value: u32| other.iter().find(|own| own.0 == tag).map_or(value, |own| own.1);
    let mut fields: Vec<_> = fields.map(|(tag, value)| (tag, own(tag, value), 1)).to_vec();
    fields.retain(|own| own.1 > 0);
    fields.extend(other.iter().filter(|own| own.0 == 34675).map(|own| (own.0, own.1, 16)));
    let mut out = b"II*\0\x08\0\0\0".to_vec();
    out.extend((fields.len() as u16).to_le_bytes());
    for (tag, value, count) in fields {
        let sort = if tag == 34675 { 7 } else { 4_u16 };
        out.extend([tag.to_le_bytes(), sort.to_le_bytes()].concat());
        out.extend([count, value].map(u32::to_le_bytes).concat());
    }
    out.resize(200, 0);
    out.extend(behind);
    out
}

/// A picture that is sound, and some that are not taken.
fn pictures(folder: &Path) {
    let grey = [128; 64];
    for (name, bytes) in [
        ("sound.tif", tiff(&[], &grey)),
        ("torn-off.tif", tiff(&[], &grey[..4])),
        ("endless.tif", tiff(&[(256, 100_000), (257, 100_000)], &grey)),
        ("wide.tif", tiff(&[(256, 5_000_000), (257, 1), (278, 1), (279, 5_000_000)], &grey)),
        ("odd-field.tif", tiff(&[(284, 9)], &grey)),
        ("no-width.tif", tiff(&[(256, 0)], &grey)),
        ("inks.tif", tiff(&[(262, 5)], &grey)),
        ("short.tif", tiff(&[(259, 8), (256, 4000), (257, 4000), (278, 4000)], &grey)),
        ("damaged.tif", tiff(&[(259, 8), (279, 64)], &[0x78; 64])),
        ("no-number.tif", tiff(&[(258, 32), (339, 3), (279, 64)], &[0xff; 64])),
        ("profile.tif", tiff(&[(34675, 200)], &grey)),
    ] {
        std::fs::write(folder.join(name), bytes).expect("written");
    }
}

/// A folder with a picture, and one with none.
fn folders_of_pictures(folder: &Path) {
    for (name, file) in [("pictures", "sound.tif"), ("no-pictures", "notes.md")] {
        std::fs::create_dir(folder.join(name)).expect("a folder");
        std::fs::write(folder.join(name).join(file), tiff(&[], &[128; 64])).expect("written");
    }
}

/// A chart as its print is to be, as it is to be mirrored, and too coarse: black and white at the very ends of the scale.
fn charts(folder: &Path) {
    for (name, ppi, words) in [
        ("chart-print.tif", "200", &["--no-invert", "--no-mirror"][..]),
        ("chart-mirrored.tif", "200", &["--no-invert"]),
        ("chart-coarse.tif", "100", &["--no-invert", "--no-mirror"]),
    ] {
        let path = folder.join(name).display().to_string();
        let outcome = handcoat(&[&["tone", "chart", "-o", &path, "--levels", "12", "--ppi", ppi], words].concat());
        assert_eq!(outcome.code, 0, "{}", outcome.messages);
    }
}

/// Runs a command on a book; it must go through.
#[track_caller]
pub(crate) fn on(book: &Path, arguments: &[&str]) -> String {
    let book = book.to_str().expect("a path that is text");
    let outcome = handcoat(&[arguments, &["--book", book]].concat());
    assert_eq!(outcome.code, 0, "{arguments:?}: {}", outcome.messages);
    outcome.data
}

/// A new book.
pub(crate) fn new_book(folder: &Path) -> PathBuf {
    let book = folder.join("studio.handcoat");
    let outcome = handcoat(&["new", book.to_str().expect("a path that is text")]);
    assert_eq!(outcome.code, 0, "{}", outcome.messages);
    book
}

/// A folder with `studio.handcoat`, which holds a little of everything, and three files that are no book to be opened:
/// `notes.txt`, `later.handcoat`, `torn.handcoat`.
pub(crate) fn shelf_of_books() -> &'static Path {
    static FOLDER: OnceLock<PathBuf> = OnceLock::new();
    FOLDER.get_or_init(|| {
        let folder = fresh_folder("books");
        let book = new_book(&folder);
        for line in [
            &[
                "stock",
                "receive",
                "PdCl2",
                "--mass",
                "10g",
                "--hydrate",
                "none",
                "--purity",
                "99%",
                "--name",
                "jar",
                "--key",
                "key-of-the-jar",
            ][..],
            &["stock", "receive", "K2PtCl4", "--mass", "5g", "--purity", "99%", "--name", "platinum vial"],
            &["stock", "receive", "NaCl", "--mass", "500g", "--purity", "99%", "--name", "salt"],
            &["stock", "sweep", "--from", "jar", "--mass", "0.03g", "--into", "swept"],
            &[
                "stock",
                "mix",
                "--from",
                "jar",
                "--mass",
                "5.42g",
                "--chloride",
                "3.7g",
                "--make",
                "60mL",
                "--name",
                "stock",
            ],
            &["stock", "receive", "Na2PdCl4", "--volume", "50mL", "--percent", "15", "--name", "bought"],
            &["stock", "receive", "K2PtCl4", "--volume", "50mL", "--capacity", "60mL", "--name", "platinum"],
            &["stock", "receive", "unknown", "--volume", "5mL", "--name", "old bottle"],
            &["stock", "lose", "bought", "--amount", "1mL"],
        ] {
            on(&book, line);
        }
        on(&book, &["undo", "9"]);
        on(&book, &["stock", "receive", "Na2PdCl4", "--volume", "5mL", "--name", "nameless"]);
        for line in [
            &["keep", "paper", "cotton rag", "--came", "25"][..],
            &["coat", "made", "Heron", "--pour", "stock=23"],
            &["print", "record", "Heron", "--coat", "1", "--paper", "cotton rag"],
            &["coat", "made", "Gate", "--pour", "stock=23"],
            &["coat", "spoiled", "2"],
            &["print", "record", "Gate", "--time", "6:00"],
            &["session", "begin", "--print", "Weir; pour stock=23; pour bought=1mL", "--print", "Mill; pour stock=2"],
            &["session", "next", "1", "--print", "2", "--spoiled"],
            &["session", "begin", "--print", "Gate; time 6:00"],
            &["session", "next", "2", "--end"],
        ] {
            on(&book, line);
        }
        for (name, text) in TABLES {
            std::fs::write(folder.join(name), text).expect("written");
        }
        let many = "0.15,1.4\n".repeat(601);
        std::fs::write(
            folder.join("wedge-many.csv"),
            format!("step_density,print_density\n0,1.45\n1,0.8\n2,0.3\n3,0.1\n{many}"),
        )
        .expect("written");
        let patches: String = (0..1001).map(|own| format!("{},50\n", f64::from(own) / 1000.0)).collect();
        std::fs::write(folder.join("chart-many.csv"), format!("input,l_star\n{patches}")).expect("written");
        let chart = folder.join("chart-good.csv");
        on(&book, &["tone", "fit", chart.to_str().expect("a path in words"), "--sample", "--keep"]);
        let early = folder.join("chart-early.csv");
        on(&book, &["tone", "fit", early.to_str().expect("a path in words"), "--keep"]);
        on(&book, &["keep", "negative", "Pier", "--size", "4x5in"]);
        pictures(&folder);
        folders_of_pictures(&folder);
        charts(&folder);
        // A negative without a border, and so without a rule.
        let [picture, film, curve] =
            ["sound.tif", "bare.tif", "curve-straight.csv"].map(|own| folder.join(own).display().to_string());
        let made = [
            "negative",
            "make",
            &picture,
            "-o",
            &film,
            "--curve",
            &curve,
            "--width",
            "0.1in",
            "--no-border",
            "--keep",
            "Bare",
        ];
        on(&book, &made);
        let large = std::fs::File::create(folder.join("large.csv")).expect("made");
        large.set_len(16 * 1024 * 1024 + 1).expect("stretched");
        let large = std::fs::File::create(folder.join("large.jpg")).expect("made");
        large.set_len(20_000_001).expect("stretched");
        std::fs::write(folder.join("notes.txt"), "paper, three sheets").expect("written");
        let whole = std::fs::read(&book).expect("read");
        let mut later = whole.clone();
        later[USER_VERSION_AT..USER_VERSION_AT + 4].copy_from_slice(&99_u32.to_be_bytes());
        std::fs::write(folder.join("later.handcoat"), later).expect("written");
        let mut torn = whole;
        torn[4096..].fill(0xA5);
        std::fs::write(folder.join("torn.handcoat"), torn).expect("written");
        folder
    })
}
