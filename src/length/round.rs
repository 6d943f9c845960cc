//! Rounding to a ruler mark. There is no rounding without a direction: a piece cut short is lost, a
//! sheet believed longer than it is makes a plan that fails at the mat.

use crate::length::Length;

/// Which way a length moves when it cannot stay where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// To the larger: what must be cut or bought.
    Up,
    /// To the smaller: what is held.
    Down,
}

/// `length`, or the next larger multiple of `mark`.
///
/// # Panics
/// When `mark` is not positive: marks are constants of a ruler, not input.
///
/// ```
/// use cutcloth::length::{Length, round};
/// let eighth = Length::from_eighths(1);
/// assert_eq!(round::up(Length::from_ticks(1), eighth), eighth);
/// assert_eq!(round::up(eighth, eighth), eighth);
/// ```
pub fn up(length: Length, mark: Length) -> Length {
    let below = down(length, mark);
    if below == length { length } else { below + mark }
}

/// `length`, or the next smaller multiple of `mark`.
///
/// # Panics
/// As [`up`].
pub fn down(length: Length, mark: Length) -> Length {
    assert!(mark > Length::ZERO, "the marks of a ruler are apart");
    Length::from_ticks(length.ticks().div_euclid(mark.ticks()) * mark.ticks())
}

/// The nearest multiple of `mark`; halfway goes up. Only for showing a length, never for cutting.
///
/// # Panics
/// As [`up`].
pub fn nearest(length: Length, mark: Length) -> Length {
    let below = down(length, mark);
    let above = up(length, mark);
    if length - below < above - length { below } else { above }
}

/// `length` moved in `direction` to a multiple of `mark`.
///
/// # Panics
/// As [`up`].
pub fn toward(direction: Direction, length: Length, mark: Length) -> Length {
    match direction {
        Direction::Up => up(length, mark),
        Direction::Down => down(length, mark),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_never_crosses_the_length_and_stays_within_one_mark() {
        let mark = Length::from_eighths(1);
        for ticks in 0..5000 {
            let length = Length::from_ticks(ticks);
            let (low, high, near) = (down(length, mark), up(length, mark), nearest(length, mark));
            assert!(low <= length && length <= high);
            assert!(high - low == Length::ZERO || high - low == mark);
            assert!(near == low || near == high);
            assert_eq!(low.ticks() % mark.ticks(), 0);
            assert_eq!(high.ticks() % mark.ticks(), 0);
        }
    }

    #[test]
    fn halfway_between_marks_is_shown_as_the_larger() {
        let mark = Length::from_ticks(10);
        assert_eq!(nearest(Length::from_ticks(15), mark), Length::from_ticks(20));
        assert_eq!(nearest(Length::from_ticks(14), mark), Length::from_ticks(10));
    }
}
