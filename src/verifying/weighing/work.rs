//! How much work the check may do to make proofs again: steps, counted over a whole record, and a stop.

/// Steps of work for all proofs of one record: some three seconds. Nearly all records take far fewer.
pub(in crate::verifying) const USUAL: u64 = 300_000_000;

/// So many steps are taken before a stop is asked after, about a fifth of a second: what is proved by then is not lost.
const BEFORE_A_STOP: u64 = 20_000_000;

/// A stop is asked after once in so many steps.
const PACE: u64 = 100_000;

/// Work that may still be done.
pub struct Work<'a> {
    left: u64,
    /// Steps until the stop is asked after.
    ahead: u64,
    stop: &'a dyn Fn() -> bool,
    ran_out: bool,
}

impl<'a> Work<'a> {
    /// The usual work in percent, which also ends soon after `stop` says so.
    pub fn percent(percent: u32, stop: &'a dyn Fn() -> bool) -> Work<'a> {
        Work::steps(USUAL / 100 * u64::from(percent), stop)
    }

    /// So many steps.
    pub fn steps(steps: u64, stop: &'a dyn Fn() -> bool) -> Work<'a> {
        Work { left: steps, ahead: BEFORE_A_STOP, stop, ran_out: false }
    }

    /// Takes `steps` of it; nothing when they are not left.
    pub(in crate::verifying) fn take(&mut self, steps: u64) -> Option<()> {
        let left = self.left.checked_sub(steps);
        self.left = left.unwrap_or(0);
        self.ahead = self.ahead.saturating_sub(steps);
        if self.ahead == 0 {
            self.ahead = PACE;
            if (self.stop)() {
                self.left = 0;
            }
        }
        self.ran_out |= left.is_none() || self.left == 0;
        left.map(drop)
    }

    /// True when nothing is left, and something would have to be done.
    pub(in crate::verifying) fn is_done(&mut self) -> bool {
        self.ran_out |= self.left == 0;
        self.left == 0
    }

    /// Leaves half of it aside while `task` is done.
    pub(in crate::verifying) fn half<T>(&mut self, task: impl FnOnce(&mut Work<'a>) -> T) -> T {
        let aside = self.left - self.left / 2;
        self.left -= aside;
        let (before, done) = (self.left, task(self));
        // What a stop has ended is not taken up again.
        let stopped = self.left == 0 && before > 0 && (self.stop)();
        self.left += if stopped { 0 } else { aside };
        done
    }

    /// Did anything end for want of work, since this was asked last?
    pub(in crate::verifying) fn ran_out(&mut self) -> bool {
        std::mem::take(&mut self.ran_out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stop_ends_all_work_but_the_first() {
        let stop = || true;
        let mut work = Work::steps(u64::MAX, &stop);
        assert_eq!(work.take(BEFORE_A_STOP - 1), Some(()));
        assert!(!work.is_done() && !work.ran_out());
        work.half(|work| work.take(1));
        assert!(work.is_done() && work.ran_out() && !work.ran_out());
        assert_eq!(work.take(1), None);
    }

    #[test]
    fn half_of_it_is_there_afterwards() {
        let never = || false;
        let mut work = Work::steps(101, &never);
        assert_eq!(work.half(|work| work.take(51)), None);
        assert!(work.ran_out());
        assert_eq!((work.take(51), work.take(1)), (Some(()), None));
    }
}
