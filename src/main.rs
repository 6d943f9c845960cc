//! The `cutcloth` command: everything is in [`cutcloth::cli`].

use std::process::ExitCode;

fn main() -> ExitCode {
    cutcloth::cli::run()
}
