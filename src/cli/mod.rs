//! The command line.

use std::process::ExitCode;

/// Runs the program on the arguments it was started with.
pub fn run() -> ExitCode {
    ExitCode::from(2)
}
