//! Independent work on several cores, its results in the order asked for.

use std::panic;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// What `work` makes of each item, on at most so many threads.
pub(crate) fn each<T: Sync, R: Send>(threads: usize, items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let threads = threads.min(items.len());
    if threads < 2 {
        return items.iter().map(work).collect();
    }
    let next = AtomicUsize::new(0);
    let worker = || {
        let mut done = Vec::new();
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(number) else { return done };
            done.push((number, work(item)));
        }
    };
    let mut done = thread::scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(worker)).collect();
        let mut done = worker();
        for other in others {
            done.extend(other.join().unwrap_or_else(|panicked| panic::resume_unwind(panicked)));
        }
        done
    });
    done.sort_unstable_by_key(|&(number, _)| number);
    done.into_iter().map(|(_, result)| result).collect()
}

/// Both, the second on a thread of its own.
pub(crate) fn both<A, B: Send>(one: impl FnOnce() -> A, other: impl FnOnce() -> B + Send) -> (A, B) {
    thread::scope(|scope| {
        let other = scope.spawn(other);
        (one(), other.join().unwrap_or_else(|panicked| panic::resume_unwind(panicked)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_the_order_of_the_items_whatever_the_threads() {
        let items: Vec<u64> = (0..50).collect();
        // The first items take longest.
        let work =
            |&n: &u64| (0..(50 - n) * 10_000).fold(n, |all, more| all.wrapping_mul(31).wrapping_add(more));
        let one = each(1, &items, work);
        for threads in [2, 3, 64] {
            assert_eq!(each(threads, &items, work), one);
        }
        assert_eq!(each(4, &[], work), Vec::<u64>::new());
    }

    #[test]
    fn work_that_breaks_on_any_thread_breaks_whoever_waits_for_it() {
        let words = |work: &(dyn Fn() + std::panic::RefUnwindSafe)| {
            panic::catch_unwind(work).err().and_then(|words| words.downcast_ref::<&str>().copied())
        };
        let items: Vec<u32> = (0..8).collect();
        for threads in [1, 3] {
            let broken = words(&|| {
                each(threads, &items, |&n| assert!(n != 5, "five"));
            });
            assert_eq!(broken, Some("five"), "{threads}");
        }
        let broken = words(&|| {
            both(|| 1, || assert!(items.is_empty(), "the other"));
        });
        assert_eq!(broken, Some("the other"));
    }
}
