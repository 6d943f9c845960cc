//! A wish to end early: raised by somebody, or by the clock at a time set before.
//!
//! It is looked at wherever work may last. Whoever sees it hands back the best so far, and claims no more than was
//! proved by then. A stop that nobody saw changed nothing, so [`Stop::cause`] tells only of one that was seen.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU8, Ordering};
use std::time::{Duration, Instant};

/// May end work before it is done; clones are the same wish.
#[derive(Clone, Debug, Default)]
pub struct Stop(Option<Arc<Shared>>);

/// Who ended the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// The time set for it was over.
    Clock,
    /// Somebody raised the stop.
    Hand,
}

#[derive(Debug, Default)]
struct Shared {
    at: Option<Instant>,
    /// Of all the work that this is a part of.
    whole: Stop,
    raised: AtomicBool,
    /// 0, or the number of the cause that was seen first.
    seen: AtomicU8,
}

const CLOCK: u8 = 1;
const HAND: u8 = 2;

impl Stop {
    /// Work goes on until it is done, and depends on no clock.
    pub const fn never() -> Stop {
        Stop(None)
    }

    /// A stop for [`Stop::raise`].
    pub fn by_hand() -> Stop {
        Stop(Some(Arc::default()))
    }

    /// The same that also comes at a time.
    pub fn at(time: Instant) -> Stop {
        Stop(Some(Arc::new(Shared { at: Some(time), ..Shared::default() })))
    }

    /// A stop of its own for a part of the work, which also ends with the whole.
    pub fn of_part(&self) -> Stop {
        Stop(Some(Arc::new(Shared { whole: self.clone(), ..Shared::default() })))
    }

    /// Asks all work under this stop to end.
    pub fn raise(&self) {
        if let Some(shared) = &self.0 {
            shared.raised.store(true, Ordering::Relaxed);
        }
    }

    /// True when work is to end now. Asked only where the answer is heeded.
    pub fn seen(&self) -> bool {
        let Some(shared) = &self.0 else { return false };
        if shared.seen.load(Ordering::Relaxed) != 0 {
            return true;
        }
        let cause = if shared.raised.load(Ordering::Relaxed) {
            HAND
        } else if shared.at.is_some_and(|at| Instant::now() >= at) {
            CLOCK
        } else {
            return shared.whole.seen();
        };
        // Of two that see it at once the first says why.
        let _ = shared.seen.compare_exchange(0, cause, Ordering::Relaxed, Ordering::Relaxed);
        true
    }

    /// Why work was ended, if some was.
    pub fn cause(&self) -> Option<Cause> {
        match self.0.as_ref()?.seen.load(Ordering::Relaxed) {
            CLOCK => Some(Cause::Clock),
            HAND => Some(Cause::Hand),
            _ => None,
        }
    }

    /// Can it come at all?
    pub fn may_come(&self) -> bool {
        self.0.is_some()
    }

    /// Time until the clock raises it; `None` without a clock.
    pub fn time_left(&self) -> Option<Duration> {
        let shared = self.0.as_ref()?;
        let left = shared.at.map(|at| at.saturating_duration_since(Instant::now()));
        left.or_else(|| shared.whole.time_left())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_stop_that_was_seen_has_a_cause() {
        let stop = Stop::by_hand();
        assert!(!stop.seen());
        stop.clone().raise();
        assert_eq!(stop.cause(), None);
        assert!(stop.seen());
        assert_eq!(stop.cause(), Some(Cause::Hand));
    }

    #[test]
    fn a_part_ends_by_itself_or_with_the_whole() {
        let whole = Stop::by_hand();
        let (one, other) = (whole.of_part(), whole.of_part());
        one.raise();
        assert!(one.seen() && !other.seen());
        assert_eq!(whole.cause(), None);
        whole.raise();
        assert!(other.seen());
        assert_eq!(whole.cause(), Some(Cause::Hand));
    }

    #[test]
    fn the_first_cause_seen_is_the_one_told() {
        let stop = Stop::at(Instant::now());
        assert!(stop.seen());
        stop.raise();
        assert!(stop.seen());
        assert_eq!(stop.cause(), Some(Cause::Clock));
        assert_eq!(Stop::never().cause(), None);
    }
}
