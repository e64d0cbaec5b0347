//! The line the strips go through: the same bytes with any number of threads, after a stop and after a kill; whole names or none.

use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use handcoat_pixels::{
    Budget, Checkpoint, Checkpoints, Dither, Format, Ink, Job, Lut, NotMade, Orientation, Output, Packing, Picture,
    Ppi, Run, make,
};

use crate::made::{grey, read_grey, write_tiff};

const WIDTH: u32 = 150;
const HEIGHT: u32 = 1500;

fn jobs(folder: &Path) -> Vec<(String, Job)> {
    let plain = folder.join("plain.tif");
    write_tiff(&plain, WIDTH, HEIGHT, 1, &grey(WIDTH, HEIGHT, 8), None);
    let open = |path: &Path| Arc::new(Picture::open(path, &Budget::default()).expect("a picture"));
    let ppi = Ppi::new(720.0).expect("ppi");
    // A packed source, which has to be read in turn.
    let mut packed = Job::plain(open(&plain), (WIDTH, HEIGHT), ppi);
    packed.mirror = false;
    packed.pictures[0].table = Lut::straight();
    packed.format = Format::Png;
    let in_turn = folder.join("packed.png");
    make(&packed, &in_turn, &Run::default()).expect("made");

    let mut out = Vec::new();
    for (source, path) in [("plain", &plain), ("packed", &in_turn)] {
        for (size_name, size) in [("same", (WIDTH, HEIGHT)), ("larger", (221, 2203)), ("smaller", (60, 617))] {
            for (file, format) in [
                ("none", Format::Tiff(Packing::None)),
                ("deflate", Format::Tiff(Packing::Deflate)),
                ("lzw", Format::Tiff(Packing::Lzw)),
                ("png", Format::Png),
            ] {
                let mut job = Job::plain(open(path), size, ppi);
                job.format = format;
                out.push((format!("{source} {size_name} {file}"), job));
            }
        }
        for output in [
            Output::Eight(Dither::BlueNoise),
            Output::Eight(Dither::Diffusion),
            Output::Ink(Ink { red: 9, green: 50_000, blue: 20_000 }),
        ] {
            let mut job = Job::plain(open(path), (WIDTH, HEIGHT), ppi);
            job.format = Format::Tiff(Packing::Deflate);
            job.output = output.clone();
            out.push((format!("{source} {output:?}"), job));
        }
        let mut job = Job::plain(open(path), (HEIGHT, WIDTH), ppi);
        job.pictures[0].turn = Orientation::quarter_turns(1);
        out.push((format!("{source} turned"), job));
    }
    out
}

#[test]
fn bytes_do_not_depend_on_threads() {
    let folder = tempfile::tempdir().expect("a folder");
    for (number, (name, job)) in jobs(folder.path()).into_iter().enumerate() {
        let mut first: Option<(String, Vec<u8>)> = None;
        for threads in [1, 2, 3, 8] {
            let to = folder.path().join(format!("out-{number}-{threads}"));
            let run = Run { threads: std::num::NonZeroUsize::new(threads), ..Run::default() };
            let made = make(&job, &to, &run).unwrap_or_else(|error| panic!("{name}: {error}"));
            let own = (made.sha256, std::fs::read(&to).expect("the file"));
            match &first {
                None => first = Some(own),
                Some(first) => assert!(*first == own, "{name} with {threads} threads"),
            }
        }
    }
}

#[test]
fn what_was_stopped_goes_on_to_the_same_bytes() {
    let folder = tempfile::tempdir().expect("a folder");
    for (number, (name, job)) in jobs(folder.path()).into_iter().enumerate() {
        let whole = folder.path().join(format!("whole-{number}"));
        let made = make(&job, &whole, &Run::default()).expect("made");
        let to = folder.path().join(format!("stopped-{number}"));
        for every in [1, 3] {
            let kept = Mutex::new(None);
            let cancel = AtomicBool::new(false);
            let keep = |checkpoint: &Checkpoint| {
                *kept.lock().expect("a lock") = Some(checkpoint.to_bytes());
            };
            let run = Run {
                threads: std::num::NonZeroUsize::new(2),
                cancel: &cancel,
                progress: &|own| cancel.store(own.rows * 2 > own.of, Ordering::Relaxed),
                checkpoint: Some(Checkpoints { every, keep: &keep }),
                ..Run::default()
            };
            match make(&job, &to, &run) {
                Err(NotMade::Stopped { .. }) => {}
                // A sheet of few bands may be done before anybody looks.
                Ok(_) => {
                    std::fs::remove_file(&to).expect("removed");
                    continue;
                }
                Err(other) => panic!("{name}: {other}"),
            }
            assert!(!to.exists(), "{name}");
            let kept = kept.lock().expect("a lock").take();
            let resume = kept.map(|bytes| Checkpoint::from_bytes(&bytes).expect("a checkpoint"));
            let had = resume.as_ref().map_or(0, Checkpoint::bands);
            let run = Run { resume, checkpoint: Some(Checkpoints { every, keep: &|_| {} }), ..Run::default() };
            let again = make(&job, &to, &run).unwrap_or_else(|error| panic!("{name}: {error}"));
            assert_eq!(again.resumed_rows > 0, had > 0, "{name}");
            assert_eq!(again.sha256, made.sha256, "{name}, every {every}");
            assert!(std::fs::read(&to).expect("a file") == std::fs::read(&whole).expect("a file"), "{name}");
            std::fs::remove_file(&to).expect("removed");
        }
    }
}

#[test]
fn a_checkpoint_that_does_not_fit_begins_anew() {
    let folder = tempfile::tempdir().expect("a folder");
    let (_, job) = jobs(folder.path()).swap_remove(1);
    let kept = Mutex::new(Vec::new());
    let keep = |checkpoint: &Checkpoint| kept.lock().expect("a lock").push(checkpoint.clone());
    let whole = folder.path().join("whole");
    let made = make(&job, &whole, &Run { checkpoint: Some(Checkpoints { every: 2, keep: &keep }), ..Run::default() })
        .expect("made");
    let kept = kept.into_inner().expect("a lock");
    let last = kept.last().expect("a checkpoint");
    // The unfinished file is not there, or is another one.
    for part in [None, Some(vec![7_u8; 40]), Some(vec![0; 200_000])] {
        let to = folder.path().join("again");
        if let Some(part) = part {
            std::fs::write(folder.path().join("again.part"), part).expect("written");
        }
        let again = make(&job, &to, &Run { resume: Some(last.clone()), ..Run::default() }).expect("made");
        assert_eq!((again.resumed_rows, &again.sha256), (0, &made.sha256));
        std::fs::remove_file(to).expect("removed");
    }
    // Another job's.
    let mut other = job.clone();
    other.ground = 3;
    let to = folder.path().join("other");
    let again = make(&other, &to, &Run { resume: Some(last.clone()), ..Run::default() }).expect("made");
    assert_eq!(again.resumed_rows, 0);
    // Damaged bytes are no checkpoint.
    let bytes = last.to_bytes();
    for at in 0..bytes.len() {
        let mut damaged = bytes.clone();
        damaged[at] ^= 16;
        assert_eq!(Checkpoint::from_bytes(&damaged), None, "{at}");
    }
    assert_eq!(Checkpoint::from_bytes(&bytes).as_ref(), Some(last));
}

#[test]
fn nothing_is_written_over_and_nothing_half_stands_under_a_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let (_, job) = jobs(folder.path()).swap_remove(0);
    let to = folder.path().join("there");
    std::fs::write(&to, "mine").expect("written");
    assert!(matches!(make(&job, &to, &Run::default()), Err(NotMade::Exists { .. })));
    assert_eq!(std::fs::read(&to).expect("read"), b"mine");

    // A picture whose pixels are damaged further down: nothing is left.
    let damaged = folder.path().join("damaged.png");
    let mut bytes = std::fs::read(folder.path().join("packed.png")).expect("read");
    let at = bytes.len() / 2;
    bytes[at] ^= 255;
    std::fs::write(&damaged, bytes).expect("written");
    let picture = Arc::new(Picture::open(&damaged, &Budget::default()).expect("its header is sound"));
    let job = Job::plain(picture, (WIDTH, HEIGHT), Ppi::new(300.0).expect("ppi"));
    let to = folder.path().join("never");
    match make(&job, &to, &Run::default()) {
        Err(NotMade::Picture { number: 1, refused }) => assert_eq!(refused.code(), "picture_damaged"),
        other => panic!("{other:?}"),
    }
    assert!(!to.exists() && !folder.path().join("never.part").exists());
    // A folder that is not there.
    let to = folder.path().join("nowhere/out.tif");
    assert!(matches!(make(&job, &to, &Run::default()), Err(NotMade::Write { .. })));
}

#[test]
fn a_packed_source_gives_the_same_as_a_plain_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let all = jobs(folder.path());
    let half = all.len() / 2;
    for (index, (name, job)) in all.iter().enumerate().take(half) {
        let (other_name, other) = &all[index + half];
        let (one, two) = (folder.path().join(format!("a{index}")), folder.path().join(format!("b{index}")));
        let first = make(job, &one, &Run::default()).expect("made");
        let second = make(other, &two, &Run::default()).expect("made");
        assert_eq!(first.sha256, second.sha256, "{name} and {other_name}");
    }
    let (width, height, _) = read_grey(&folder.path().join("a0"));
    assert_eq!((width, height), (WIDTH, HEIGHT));
}
