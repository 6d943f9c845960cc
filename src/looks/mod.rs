//! What a quilt looks like before it is sewn: which fabrics meet, which of them look alike, how often a print comes.
//!
//! [`Sight`] judges two prints of a stash, [`meetings`](self::meetings()) finds which roles of a pattern meet, [`Touch`] brings both together on the
//! sets of a demand, and [`measure`](self::measure()) sums up what a choice of prints comes to. Nothing here chooses.

mod figures;
mod meetings;
mod seams;
mod sight;
mod touch;

pub use figures::{Figures, Repeat, Tally, measure};
pub use meetings::{Meeting, is_binding, meetings};
pub use sight::{Pair, Sight, Thresholds, color_of, lightness_of_word};
pub use touch::{Touch, Touches, WHOLE};
