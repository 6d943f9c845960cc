//! One line on a terminal that says what a long run is doing and how far it has come.

use std::io::{self, Write as _};
use std::panic;
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use crate::app::summary::{area, gap};
use crate::app::{Doing, Progress, Units};

/// Work shorter than this shows nothing.
const PATIENCE: Duration = Duration::from_millis(500);
/// The line is written anew no more often than this.
const PACE: Duration = Duration::from_millis(200);
/// Takes the line away.
const ERASE: &str = "\r\x1b[2K";

/// The line; it is for people, so it is shown on a terminal only. It has a thread of its own, so that its seconds go
/// on while there is no news.
pub(super) struct ProgressLine(Option<(Sender<Progress>, JoinHandle<()>)>);

impl ProgressLine {
    /// A line that starts now; never shown unless `terminal`.
    pub(super) fn new(terminal: bool, units: Units) -> ProgressLine {
        let started = Instant::now();
        ProgressLine(terminal.then(|| {
            let (sender, news) = mpsc::channel();
            let line = thread::spawn(move || {
                let mut last = Progress { doing: Doing::Planning, best: None, bound: 0 };
                let mut next = PATIENCE;
                loop {
                    match news.recv_timeout(next.saturating_sub(started.elapsed())) {
                        Ok(progress) => last = progress,
                        Err(RecvTimeoutError::Disconnected) => break,
                        Err(RecvTimeoutError::Timeout) => {
                            write(&format!("{ERASE}{}", words(last, started.elapsed().as_secs(), units)));
                            next = started.elapsed() + PACE;
                        }
                    }
                }
                if next > PATIENCE {
                    write(ERASE);
                }
            });
            (sender, line)
        }))
    }

    /// What the line says from now on.
    pub(super) fn show(&self, progress: Progress) {
        if let Some((sender, _)) = &self.0 {
            // A line that is gone is no trouble.
            let _ = sender.send(progress);
        }
    }

    /// Takes the line away.
    pub(super) fn clear(self) {
        if let Some((sender, line)) = self.0 {
            drop(sender);
            line.join().unwrap_or_else(|panicked| panic::resume_unwind(panicked));
        }
    }
}

/// A closed terminal is not an error.
fn write(text: &str) {
    let mut stderr = io::stderr().lock();
    let _ = stderr.write_all(text.as_bytes()).and_then(|()| stderr.flush());
}

/// Short enough for a narrow terminal: a line that wraps could not be taken away.
fn words(progress: Progress, seconds: u64, units: Units) -> String {
    let doing = match progress.doing {
        Doing::Planning => "planning",
        Doing::Upright => "pricing one-way prints",
        Doing::Explaining => "it does not fit: finding why, and what would",
        Doing::Arranging => "arranging the blocks",
        Doing::Checking => "checking the plan",
    };
    let bound = progress.bound.max(0);
    let best = progress.best.map(i128::from);
    let far = match (progress.doing, best) {
        (Doing::Planning, None) => ": no full plan yet".to_owned(),
        (_, None) => String::new(),
        (_, Some(best)) if best <= bound => format!(": {}, the best", area(best, units)),
        (_, Some(best)) if bound == 0 => format!(": {}", area(best, units)),
        (_, Some(best)) => {
            format!(": {}, bound {} (gap {} %)", area(best, units), area(bound, units), gap(best, bound))
        }
    };
    format!("{seconds} s, {doing}{far}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::Length;

    #[test]
    fn it_says_what_is_done_and_how_far_that_has_come() {
        let inch = Length::TICKS_PER_INCH * Length::TICKS_PER_INCH * 100;
        let said = |doing, best: Option<i64>, bound: i64| {
            let best = best.map(|best| best * inch);
            words(Progress { doing, best, bound: i128::from(bound * inch) }, 3, Units::Inches)
        };
        assert_eq!(said(Doing::Planning, None, 5), "3 s, planning: no full plan yet");
        assert_eq!(said(Doing::Planning, Some(1000), 0), "3 s, planning: 1000 sq in");
        assert_eq!(said(Doing::Planning, Some(100), 100), "3 s, planning: 100 sq in, the best");
        // Rounded up: the gap is never said to be smaller than it is.
        assert_eq!(
            said(Doing::Upright, Some(10_000), 9_999),
            "3 s, pricing one-way prints: 10000 sq in, bound 9999 sq in (gap 0.1 %)"
        );
        assert_eq!(said(Doing::Explaining, None, 0), "3 s, it does not fit: finding why, and what would");
    }
}
