//! `trials acts FROM COUNT SEED FOLDER` plays random acts; `trials crash CYCLES SEED FOLDER` kills writers; `trials write BOOK CYCLE WRITER
//! SEED` is one; `trials prints COUNT FOLDER` makes a studio with many prints; `trials tone FOLDER [--prior LEVELS]` fits
//! charts; `trials chart LEVELS SEED FILE` makes the file of a chart as its print is to be, 600 pixels to the inch; `trials scan FILE rows|read ROUNDS` says how long unpacking or reading a scan takes.

use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;

use handcoat_trials::{Played, play};

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match run(&words) {
        Ok(said) => {
            let _ = std::io::stdout().write_all(said.as_bytes());
            ExitCode::SUCCESS
        }
        Err(what) => {
            let _ = writeln!(std::io::stderr(), "{what}");
            ExitCode::FAILURE
        }
    }
}

fn run(words: &[&str]) -> Result<String, String> {
    let number = |text: &str| text.parse::<u64>().map_err(|_| format!("`{text}` is no whole number"));
    match words {
        ["write", book, cycle, writer, seed] => {
            handcoat_trials::write(Path::new(book), number(cycle)?, number(writer)?, number(seed)?)?;
            Ok(String::new())
        }
        ["crash", cycles, seed, folder] => {
            let program = std::env::current_exe().map_err(|error| error.to_string())?;
            let cycles = usize::try_from(number(cycles)?).map_err(|error| error.to_string())?;
            let run = handcoat_trials::crash_in_lanes(&program, Path::new(folder), cycles, number(seed)?)?;
            Ok(format!(
                "cycles {} acked {} lost {} open {} stored-unacked {} sent-again {} two-writers {} by-sqlite3 {}\n",
                run.cycles,
                run.acked,
                run.lost,
                run.open,
                run.stored_unacked,
                run.sent_again,
                run.with_two,
                run.by_stranger
            ))
        }
        ["prints", count, folder] => {
            let book = handcoat_trials::many_prints(Path::new(folder), number(count)?)?;
            Ok(format!("{count} prints in {}\n", book.display()))
        }
        ["tone", folder] => Ok(format!("{} charts\n", handcoat_trials::tone(Path::new(folder), None)?)),
        ["tone", folder, "--prior", levels] => {
            let levels = u32::try_from(number(levels)?).map_err(|error| error.to_string())?;
            Ok(format!("{} charts\n", handcoat_trials::tone(Path::new(folder), Some(levels))?))
        }
        ["chart", levels, seed, file] => {
            let (levels, seed) = (number(levels)?, number(seed)?);
            handcoat_trials::chart_for_print(levels, seed, Path::new(file)).map(|()| String::new())
        }
        ["scan", file, what, rounds] => handcoat_trials::scan_time(Path::new(file), what, number(rounds)?),
        ["acts", from, count, seed, folder] => {
            let (from, acts, seed) = (number(from)?, number(count)?, number(seed)?);
            let held = play(Path::new(folder), Played { from, acts, seed, check_each: 250 })?;
            Ok(format!(
                "acts {acts} from {from} seed {seed}: done {} refused {} taken-back {} checks {}\n",
                held.done(),
                held.codes.values().sum::<u64>(),
                held.taken_back,
                held.checks
            ))
        }
        _ => Err("expected: trials acts FROM COUNT SEED FOLDER, or trials crash CYCLES SEED FOLDER".into()),
    }
}
