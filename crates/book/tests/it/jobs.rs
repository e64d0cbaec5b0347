//! Jobs: who has one, how far it is, and that nobody else writes into it.

use handcoat_book::{Book, Holding, JobNumber, JobState};
use jiff::Timestamp;
use serde_json::json;

fn at(second: i64) -> Timestamp {
    Timestamp::from_second(1_770_000_000 + second).expect("a time")
}

fn by(number: JobNumber, holder: &str, second: i64) -> Holding<'_> {
    Holding { number, holder, at: at(second) }
}

#[test]
fn a_job_belongs_to_one_process_at_a_time() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = Book::create(&folder.path().join("studio.handcoat")).expect("a book");
    let asked = json!({ "source": "heron.tif" });
    let number = book.add_job("negative", &asked, "/film/heron.tif", "first", at(0)).expect("written");
    let waiting = book.job(number).expect("read").expect("there");
    assert_eq!((waiting.state, waiting.done, waiting.of), (JobState::Waiting, 0, 0));
    assert_eq!((&waiting.asked, waiting.target.as_str()), (&asked, "/film/heron.tif"));

    // Two take it as they saw it; the first has it.
    assert!(book.take_job(&waiting, JobState::Running, by(number, "first", 1)).expect("taken"));
    assert!(!book.take_job(&waiting, JobState::Running, by(number, "second", 1)).expect("not taken"));
    assert_eq!(book.job_is_at(by(number, "second", 2), (9, 10), None).expect("said"), None);
    assert_eq!(book.job_is_at(by(number, "first", 2), (64, 900), Some(b"here")).expect("said"), Some(false));
    assert_eq!(book.job_is_at(by(number, "first", 3), (128, 900), None).expect("said"), Some(false));
    assert!(book.stop_job(number).expect("asked"));
    assert_eq!(book.job_is_at(by(number, "first", 4), (192, 900), None).expect("said"), Some(true));
    let seen = book.job(number).expect("read").expect("there");
    assert_eq!((seen.done, seen.of, seen.seen, seen.stop), (192, 900, at(4), true));
    assert_eq!(seen.checkpoint.as_deref(), Some(&b"here"[..]), "what says nothing of it leaves it");

    // Another goes on with it; the first writes nothing any more.
    assert!(book.take_job(&seen, JobState::Running, by(number, "second", 9)).expect("taken"));
    assert!(!book.job_comes_to(by(number, "first", 9), JobState::Failed, None, None).expect("said"));
    let outcome = json!({ "sha256": "ab" });
    assert!(book.job_comes_to(by(number, "second", 10), JobState::Running, Some(&outcome), None).expect("said"));
    assert!(book.job_comes_to(by(number, "second", 11), JobState::Made, None, None).expect("said"));
    let made = book.job(number).expect("read").expect("there");
    assert_eq!((made.state, made.done, made.went_from, made.stop), (JobState::Made, 900, 192, false));
    assert_eq!((made.checkpoint, made.outcome), (None, Some(outcome)));
    assert!(!book.stop_job(number).expect("asked"), "nobody has it any more");
    assert_eq!(book.open_jobs().expect("read").len(), 0);
    assert_eq!(book.newest_jobs(5).expect("read").len(), 1);
    assert_eq!(book.check().expect("checked"), []);
}
