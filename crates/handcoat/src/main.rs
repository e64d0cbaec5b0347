//! The program: arguments in, an exit code out.

use std::io::{self, Write};
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<_> = std::env::args_os().collect();
    let outcome = handcoat::run(&arguments);
    // A closed pipe (`handcoat … | head`) is no failure of ours, and there is nobody left to tell.
    let _ = io::stderr().write_all(outcome.messages.as_bytes());
    match io::stdout().write_all(outcome.data.as_bytes()).and_then(|()| io::stdout().flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => ExitCode::from(1),
        _ => ExitCode::from(outcome.code),
    }
}
