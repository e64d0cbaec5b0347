//! The program: arguments in, an exit code out.

use std::io::{self, Write};
use std::process::ExitCode;

use handcoat::Outcome;

fn main() -> ExitCode {
    let arguments: Vec<_> = std::env::args_os().collect();
    if handcoat::is_child(&arguments) {
        return handcoat::run_child();
    }
    if let Some(own) = handcoat::this_program() {
        handcoat::use_program(own);
    }
    let outcome = handcoat::run(&arguments);
    say(&outcome);
    match io::stdout().write_all(outcome.data.as_bytes()).and_then(|()| io::stdout().flush()) {
        Ok(()) => ExitCode::from(outcome.code),
        Err(error) => match Outcome::undelivered(&error, &arguments) {
            None => ExitCode::from(outcome.code),
            Some(failure) => {
                say(&failure);
                ExitCode::from(failure.code)
            }
        },
    }
}

/// Where even messages cannot be written there is nobody left to tell; the exit code remains.
fn say(outcome: &Outcome) {
    let _ = io::stderr().write_all(outcome.messages.as_bytes());
}
