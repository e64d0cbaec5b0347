//! Disks that are full, files that are in the way, pipes that close: nothing is lost silently, nothing is left half.
#![cfg(target_os = "linux")]

use std::fs::{self, File};
use std::path::Path;
use std::process::{Command, Output, Stdio};

use crate::command::{fresh_folder, handcoat};

const PROGRAM: &str = env!("CARGO_BIN_EXE_handcoat");
const PLAN: [&str; 6] = ["stock", "plan", "--salt", "PdCl2", "--make", "60mL"];

fn messages(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// Runs the program where no file may grow over so many KiB: what a full disk does, without filling one.
fn with_files_up_to(kib: u32, arguments: &[&str]) -> Output {
    let script = "trap '' XFSZ; ulimit -f \"$0\"; exec \"$@\"";
    // The shell counts in blocks of 512 bytes.
    let blocks = (kib * 2).to_string();
    Command::new("sh").args(["-c", script, &blocks, PROGRAM]).args(arguments).output().expect("a shell")
}

#[test]
fn a_full_disk_behind_stdout_is_said() {
    let full = || Stdio::from(File::options().write(true).open("/dev/full").expect("/dev/full"));
    let spoken = Command::new(PROGRAM).args(PLAN).stdout(full()).output().expect("a run");
    assert_eq!(spoken.status.code(), Some(1));
    let text = messages(&spoken);
    assert!(text.starts_with("what there was to say could not be written to stdout: No space left"), "{text}");
    assert!(text.contains("  try: make room") && text.ends_with("[output_unwritable]\n"), "{text}");
    let written = Command::new(PROGRAM).args(PLAN).arg("--json").stdout(full()).output().expect("a run");
    let error: serde_json::Value = serde_json::from_slice(&written.stderr).expect("JSON on stderr");
    assert_eq!((written.status.code(), &error["error"]["code"]), (Some(1), &"output_unwritable".into()));
}

#[test]
fn a_closed_pipe_ends_quietly() {
    let mut child = Command::new(PROGRAM)
        .args(["tour", &fresh_folder("closed-pipe").to_string_lossy()])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("a run");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("an end");
    assert_eq!((output.status.code(), messages(&output)), (Some(0), String::new()));
}

#[test]
fn a_sheet_is_never_written_through_a_link_that_leads_nowhere() {
    let folder = fresh_folder("links");
    let (link, target) = (folder.join("sheet.pdf"), folder.join("elsewhere.pdf"));
    std::os::unix::fs::symlink(&target, &link).expect("a link");
    let outcome = handcoat(&[&PLAN[..], &["--sheet", &link.to_string_lossy()]].concat());
    assert_eq!(outcome.code, 4, "{}", outcome.messages);
    assert!(outcome.messages.contains("[file_exists]"), "{}", outcome.messages);
    assert!(!target.exists(), "written through the link");
}

#[test]
fn a_sheet_that_did_not_fit_is_taken_away() {
    let path = fresh_folder("half-a-sheet").join("sheet.pdf");
    let output = with_files_up_to(4, &[&PLAN[..], &["--sheet", &path.to_string_lossy()]].concat());
    assert_eq!(output.status.code(), Some(1), "{}", messages(&output));
    assert!(messages(&output).contains("try: make room") && messages(&output).ends_with("[file_unwritable]\n"));
    assert!(output.stdout.is_empty() && !path.exists(), "half a sheet was left");
    // Nothing is in the way of a second try.
    let again = handcoat(&[&PLAN[..], &["--sheet", &path.to_string_lossy()]].concat());
    assert_eq!(again.code, 0, "{}", again.messages);
}

#[test]
fn a_tour_cut_short_can_be_taken_again() {
    let folder = fresh_folder("cut-short").join("tour");
    let words = ["tour", &folder.to_string_lossy()];
    // Larger than any sheet, smaller than a typeface: it fails late.
    let cut = with_files_up_to(100, &words);
    assert_eq!(cut.status.code(), Some(1), "{}", messages(&cut));
    let left: Vec<_> = fs::read_dir(&folder).expect("the folder").collect();
    assert!(left.len() > 1, "it was cut before it left anything; the test tests nothing");
    assert!(folder.join("bench-sheet.pdf").exists() && !folder.join("index.html").exists());
    let again = handcoat(&words);
    assert_eq!(again.code, 0, "{}", again.messages);
}

#[test]
fn a_tour_writes_through_no_link_in_its_folder() {
    let folder = fresh_folder("linked-tour").join("tour");
    let words = ["tour", &folder.to_string_lossy()];
    assert_eq!(handcoat(&words).code, 0);
    let index = folder.join("index.html");
    let own: &Path = &folder.with_file_name("mine.txt");
    fs::write(own, "mine").expect("a file");
    fs::remove_file(&index).expect("a file");
    std::os::unix::fs::symlink(own, &index).expect("a link");
    assert_eq!(handcoat(&words).code, 0);
    assert_eq!(fs::read_to_string(own).expect("a file"), "mine");
}

/// The plainest TIFF: grey, 16 bits, one strip.
fn grey(path: &Path, width: u32, height: u32) {
    let field = |tag: u16, kind: u16, value: u32| {
        [&tag.to_le_bytes()[..], &kind.to_le_bytes(), &1_u32.to_le_bytes(), &value.to_le_bytes()].concat()
    };
    let bytes = 2 * width * height;
    let fields = [
        field(256, 4, width),
        field(257, 4, height),
        field(258, 3, 16),
        field(259, 3, 1),
        field(262, 3, 1),
        field(273, 4, 8 + 2 + 8 * 12 + 4),
        field(278, 4, height),
        field(279, 4, bytes),
    ];
    let pixels = (0..bytes).map(|own| (own.wrapping_mul(2_654_435_761) >> 13) as u8);
    let all = b"II\x2a\0\x08\0\0\0\x08\0".iter().copied().chain(fields.concat()).chain([0; 4]).chain(pixels);
    fs::write(path, all.collect::<Vec<u8>>()).expect("written");
}

#[test]
fn a_negative_larger_than_a_file_may_be_says_so_by_name() {
    let folder = fresh_folder("large-negative");
    let (picture, curve, target) = (folder.join("in.tif"), folder.join("curve.csv"), folder.join("out.tif"));
    grey(&picture, 600, 600);
    fs::write(&curve, "input,output\n0,0\n1,1\n").expect("written");
    let [picture, curve, to] = [&picture, &curve, &target].map(|own| own.to_string_lossy().into_owned());
    let words = [
        "negative",
        "make",
        &picture,
        "-o",
        &to,
        "--curve",
        &curve,
        "--width",
        "2in",
        "--ppi",
        "300",
        "--compression",
        "none",
    ];
    // With the signal left out of account the system says it as an error; with it the process apart is ended.
    let ignored = with_files_up_to(64, &words);
    let script = "ulimit -f 128; exec \"$@\"";
    let ended = Command::new("sh").args(["-c", script, "sh", PROGRAM]).args(words).output().expect("a shell");
    for output in [ignored, ended] {
        let text = messages(&output);
        assert_eq!(output.status.code(), Some(1), "{text}");
        assert!(text.contains("larger than a file may be here") && text.contains("[file_unwritable]"), "{text}");
        assert!(!target.exists());
    }
}
