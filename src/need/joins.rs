//! Strips joined end to end: how many strips that makes.

use crate::length::Length;

pub use crate::pattern::layout::Join;

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
