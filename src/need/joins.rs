//! Strips joined end to end: what a join takes, and how many strips that makes.

use crate::length::Length;

/// How strips are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Join {
    /// Square across: two seam allowances.
    Straight,
    /// Diagonally. The ends lie crossed at a right angle and are sewn corner to corner of the square in which they
    /// overlap, whose side is the strip's width: along either edge the joined strip is one strip width shorter than
    /// the two together.
    Diagonal,
}

impl Join {
    /// What one join takes of the length.
    pub fn loss(self, strip_width: Length, seam: Length) -> Length {
        match self {
            Join::Straight => seam + seam,
            Join::Diagonal => strip_width,
        }
    }
}

/// The least number of strips of `each` that joined make at least `length`, when every join takes `loss`.
///
/// n strips have n - 1 joins: n each - (n - 1) loss >= length. `None` when a join takes a whole strip.
///
/// ```
/// use cutcloth::length::Length;
/// use cutcloth::need::strips_joined;
/// let inches = Length::from_inches;
/// assert_eq!(strips_joined(inches(84), inches(42), inches(0)), Some(2));
/// assert_eq!(strips_joined(inches(84), inches(42), inches(1)), Some(3));
/// ```
pub fn strips_joined(length: Length, each: Length, loss: Length) -> Option<u32> {
    if length <= Length::ZERO {
        return Some(0);
    }
    if each >= length {
        return Some(1);
    }
    let (gain, need) = ((each - loss).ticks(), (length - loss).ticks());
    if gain <= 0 {
        return None;
    }
    u32::try_from(need.div_euclid(gain) + i64::from(need % gain > 0)).ok()
}
