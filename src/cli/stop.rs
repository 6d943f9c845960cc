//! What ends a search early: the clock, or an interrupt from the keyboard.

use std::process;
use std::time::{Duration, Instant};

use crate::app::Stop;

/// Exit code after a second interrupt, as shells give it for one.
const INTERRUPTED: i32 = 130;

/// A stop after so many seconds, if any are named, and at the first interrupt. A second interrupt ends the program.
pub(super) fn stop(seconds: Option<u64>) -> Stop {
    let stop = match seconds.and_then(|seconds| Instant::now().checked_add(Duration::from_secs(seconds))) {
        Some(time) => Stop::at(time),
        None => Stop::by_hand(),
    };
    let (raised, mut interrupted) = (stop.clone(), false);
    // Where no handler can be set, an interrupt ends the program as it always does.
    let _ = ctrlc::set_handler(move || {
        if std::mem::replace(&mut interrupted, true) {
            process::exit(INTERRUPTED);
        }
        raised.raise();
    });
    stop
}
