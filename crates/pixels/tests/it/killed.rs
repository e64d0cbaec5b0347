//! A process that makes a negative is killed at a random moment: the name is whole or absent, and going on gives the same bytes.

use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::time::{Duration, Instant};

use handcoat_pixels::{
    Budget, Checkpoint, Checkpoints, Dither, Format, Job, Orientation, Output, Packing, Picture, Ppi, Run, make,
};

use crate::made::{Dice, grey, write_tiff};

const FOLDER: &str = "HANDCOAT_KILLED_IN";
const NUMBER: &str = "HANDCOAT_KILLED_JOB";

/// Jobs of every kind of file, one with a spill file and one that diffuses.
fn job(folder: &Path, number: u64) -> Job {
    let picture = Picture::open(&folder.join("in.tif"), &Budget::default()).expect("a picture");
    let size = if number.is_multiple_of(2) { (600, 900) } else { (1020, 1530) };
    let mut job = Job::plain(Arc::new(picture), size, Ppi::new(720.0).expect("ppi"));
    job.format = match number % 4 {
        0 => Format::Tiff(Packing::None),
        1 => Format::Tiff(Packing::Deflate),
        2 => Format::Png,
        _ => Format::Tiff(Packing::Lzw),
    };
    if number % 5 == 1 {
        job.output = Output::Eight(Dither::Diffusion);
    }
    if number % 5 == 2 {
        job.pictures[0].turn = Orientation::quarter_turns(2);
    }
    job
}

fn keep(folder: &Path, checkpoint: &Checkpoint) {
    let (new, kept) = (folder.join("kept.new"), folder.join("kept"));
    std::fs::write(&new, checkpoint.to_bytes()).expect("written");
    std::fs::rename(new, kept).expect("renamed");
}

/// The process that is killed. Does nothing unless it is asked to.
#[test]
fn a_process_to_be_killed() {
    let Some(folder) = std::env::var_os(FOLDER) else { return };
    let folder = Path::new(&folder);
    let number = std::env::var(NUMBER).expect("a number").parse().expect("a number");
    let resume = std::fs::read(folder.join("kept")).ok().and_then(|bytes| Checkpoint::from_bytes(&bytes));
    let run =
        Run { checkpoint: Some(Checkpoints { every: 2, keep: &|own| keep(folder, own) }), resume, ..Run::default() };
    make(&job(folder, number), &folder.join("out"), &run).expect("made");
}

fn begin(folder: &Path, number: u64) -> Child {
    Command::new(std::env::current_exe().expect("this program"))
        .args(["--exact", "killed::a_process_to_be_killed", "--test-threads=1"])
        .env(FOLDER, folder)
        .env(NUMBER, number.to_string())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("a child")
}

/// How long a process that nobody kills takes for the job, in microseconds.
fn undisturbed(folder: &Path, number: u64) -> u64 {
    let begun = Instant::now();
    assert!(begin(folder, number).wait().expect("waited").success(), "job {number} ends by itself");
    std::fs::remove_file(folder.join("out")).expect("made and removed");
    let _ = std::fs::remove_file(folder.join("kept"));
    u64::try_from(begun.elapsed().as_micros()).unwrap_or(u64::MAX).max(1)
}

#[test]
fn killed_anywhere_it_is_whole_or_absent_and_goes_on() {
    let cycles = std::env::var("HANDCOAT_KILLS").ok().and_then(|own| own.parse().ok()).unwrap_or(20_u64);
    let folder = tempfile::tempdir().expect("a folder");
    let folder = folder.path();
    write_tiff(&folder.join("in.tif"), 600, 900, 1, &grey(600, 900, 12), None);
    let mut dice = Dice(cycles);
    let (mut killed, mut gone_on) = (0, 0);
    let wholes: Vec<(String, Vec<u8>)> = (0..20)
        .map(|number| {
            let to = folder.join("whole");
            let made = make(&job(folder, number), &to, &Run::default()).expect("made");
            let bytes = std::fs::read(&to).expect("read");
            std::fs::remove_file(to).expect("removed");
            (made.sha256, bytes)
        })
        .collect();
    let spans: Vec<u64> = (0..20).map(|number| undisturbed(folder, number)).collect();
    for cycle in 0..cycles {
        let number = cycle % 20;
        let (sha256, whole) = &wholes[number as usize];
        let out = folder.join("out");
        // Killed up to three times before it may end.
        for _ in 0..=dice.below(3) {
            let mut child = begin(folder, number);
            // Anywhere in the time that this machine needs for this job, so that a fast one is killed at work too.
            std::thread::sleep(Duration::from_micros(dice.below(spans[number as usize])));
            child.kill().expect("killed");
            killed += u64::from(!child.wait().expect("waited").success());
            if out.exists() {
                assert!(std::fs::read(&out).expect("read") == *whole, "job {number}: half a file under its name");
                break;
            }
        }
        if !out.exists() {
            let resume = std::fs::read(folder.join("kept")).ok().and_then(|bytes| Checkpoint::from_bytes(&bytes));
            let made = make(&job(folder, number), &out, &Run { resume, ..Run::default() }).expect("made");
            gone_on += u64::from(made.resumed_rows > 0);
            assert_eq!(made.sha256, *sha256, "job {number}");
            assert!(std::fs::read(&out).expect("read") == *whole, "job {number}");
        }
        // A name stays beside a whole file when the kill came between the two; nothing else does.
        let _ = std::fs::remove_file(folder.join("out.handcoat-part"));
        std::fs::remove_file(out).expect("removed");
        let _ = std::fs::remove_file(folder.join("kept"));
        let _ = std::fs::remove_file(folder.join("kept.new"));
        let left: Vec<_> =
            std::fs::read_dir(folder).expect("a folder").map(|own| own.expect("one").file_name()).collect();
        assert_eq!(left, ["in.tif"], "something was left behind");
    }
    assert!(killed * 3 > cycles, "only {killed} of {cycles} were killed while they worked");
    // Printed for the measurements; a test runner shows it when asked.
    #[allow(clippy::print_stdout)]
    {
        println!("{cycles} cycles, {killed} killed at work, {gone_on} went on from a checkpoint");
    }
}
