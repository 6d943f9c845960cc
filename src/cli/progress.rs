//! One line on a terminal that says how far a long search has come.

use std::io::{self, Write as _};
use std::time::{Duration, Instant};

use crate::app::Progress;

/// Work shorter than this shows nothing.
const PATIENCE: Duration = Duration::from_millis(500);
/// The line changes no more often than this.
const PACE: Duration = Duration::from_millis(100);

/// The line; it is for people, so it is shown on a terminal only.
pub(super) struct ProgressLine {
    terminal: bool,
    started: Instant,
    shown: Option<Instant>,
}

impl ProgressLine {
    /// A line that starts now; never shown unless `terminal`.
    pub(super) fn new(terminal: bool) -> ProgressLine {
        ProgressLine { terminal, started: Instant::now(), shown: None }
    }

    /// Shows `progress`, unless it is too early or too soon.
    pub(super) fn show(&mut self, progress: Progress) {
        let now = Instant::now();
        let early = now.duration_since(self.started) < PATIENCE;
        let soon = self.shown.is_some_and(|shown| now.duration_since(shown) < PACE);
        if !self.terminal || early || soon {
            return;
        }
        self.shown = Some(now);
        let seconds = now.duration_since(self.started).as_secs();
        // A terminal that is gone is no trouble.
        let _ = write!(io::stderr(), "\r\x1b[2Ksearching, {seconds} s{}", words(progress));
        let _ = io::stderr().flush();
    }

    /// Takes the line away.
    pub(super) fn clear(&mut self) {
        if self.shown.take().is_some() {
            let _ = write!(io::stderr(), "\r\x1b[2K");
            let _ = io::stderr().flush();
        }
    }
}

fn words(progress: Progress) -> String {
    let bound = progress.bound.max(0);
    match progress.best.map(i128::from) {
        None => ": no full plan yet".to_owned(),
        Some(best) if best <= bound => ": best plan proved".to_owned(),
        Some(best) => {
            // Rounded up: the gap is never shown smaller than it is.
            let gap = ((best - bound) * 1000 + best - 1) / best.max(1);
            format!(": a full plan, at most {}.{} % above the least", gap / 10, gap % 10)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_gap_is_never_said_to_be_smaller_than_it_is() {
        let said = |best, bound| words(Progress { best, bound });
        assert_eq!(said(None, 5), ": no full plan yet");
        assert_eq!(said(Some(100), 100), ": best plan proved");
        assert_eq!(said(Some(10_000), 9_999), ": a full plan, at most 0.1 % above the least");
        assert_eq!(said(Some(1000), 900), ": a full plan, at most 10.0 % above the least");
    }
}
