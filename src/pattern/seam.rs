//! Finished size in, cut size out: one function a formula, each with its derivation and a published source.
//!
//! Words: *finished* is as seen in the quilt; *seam* is the seam allowance of every edge; *ruler* is the
//! distance between two marks. All arithmetic is in whole ticks. Where a square root of two appears it is an
//! integer square root taken upwards, and every cut size is rounded **up** to a mark: what is too large is
//! trimmed, what is too small is lost.
//!
//! Every cut size is rounded once, at the end. The trade says "7/8" for 0.854 and "1 1/4" for 1.207 and adds that to
//! the finished size, which comes to the same wherever the finished size lies on a mark of an eighth. Where it does
//! not, as with setting triangles, or where the marks are wider apart, a rounded allowance would be rounded up a
//! second time. Whoever adds something to a cut size takes it from [`Sewing::to_the_tick`] and rounds the sum. Sources
//! are cited by name beside the formulas; the figures, with the few rows where a chart prints the next mark, are in
//! `tests/pattern_values.csv`.

use std::fmt;

use crate::length::Length;

/// The seam and the ruler that cut sizes are computed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sewing {
    /// Seam allowance of every edge.
    pub seam: Length,
    /// Distance between two marks of the ruler.
    pub ruler: Length,
}

impl Default for Sewing {
    /// A quarter-inch seam and an eighth-inch ruler, the usual of the trade.
    fn default() -> Sewing {
        Sewing { seam: Length::from_eighths(2), ruler: Length::from_eighths(1) }
    }
}

/// Why a cut size cannot be computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeamError {
    /// The finished size is zero or less.
    FinishedNotPositive,
    /// The seam allowance is less than zero.
    SeamNegative,
    /// The ruler's marks are zero or less apart.
    RulerNotPositive,
    /// The result does not fit in the numbers used.
    TooLong,
}

impl fmt::Display for SeamError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            SeamError::FinishedNotPositive => "a finished size must be more than nothing",
            SeamError::SeamNegative => "a seam allowance cannot be less than nothing",
            SeamError::RulerNotPositive => "the marks of a ruler must be some distance apart",
            SeamError::TooLong => "the size is too long to compute with",
        })
    }
}

impl std::error::Error for SeamError {}

impl Sewing {
    /// Side of a patch as cut: one seam on either side.
    ///
    /// Rounded up to a mark when the finished size is off the ruler.
    /// Source: the rule "finished + 1/2 in" for squares and rectangles; Moonlight Quilters,
    /// "On-Point Settings" (6 in finished: setting square 6 1/2 in).
    ///
    /// # Errors
    /// [`SeamError`] when a measure is not positive or the result overflows.
    ///
    /// ```
    /// use cutcloth::{length::Length, pattern::Sewing};
    /// let cut = Sewing::default().patch(Length::from_inches(6))?;
    /// assert_eq!(cut, Length::from_eighths(52)); // 6 1/2 in
    /// # Ok::<(), cutcloth::pattern::seam::SeamError>(())
    /// ```
    pub fn patch(&self, finished: Length) -> Result<Length, SeamError> {
        self.up(self.unfinished(finished)?)
    }

    /// What a sewn unit measures before it is joined to others: finished size and two seams, not rounded.
    ///
    /// # Errors
    /// [`SeamError`] when a measure is not positive or the result overflows.
    pub fn unfinished(&self, finished: Length) -> Result<Length, SeamError> {
        self.check(finished)?;
        add(finished, self.two_seams()?)
    }

    /// The same seam with a ruler of whole ticks: cut sizes before they are rounded to a mark, for adding to.
    ///
    /// A size up to a tick and then up to a mark is the size up to a mark, as every mark is a whole tick.
    #[must_use]
    pub fn to_the_tick(&self) -> Sewing {
        Sewing { ruler: Length::from_ticks(1), ..*self }
    }

    /// Side of the square to cut so that one corner-to-corner cut yields two triangles which sew into a square
    /// of side `finished`; also of the two squares that give two half-square triangles when sewn on both
    /// sides of the diagonal.
    ///
    /// A leg grows by one seam at the square corner and by seam x (1 + sqrt 2) at the 45-degree corner, where
    /// the cut edge lies one seam outside the seam line: seam x (2 + sqrt 2), 0.854 in for a 1/4 in seam.
    /// Sources: Karen Combs, "Formulas for Quilters", 2002 (7/8 in); North Hampshire Quilters, "Half Square and
    /// Quarter Square Triangles" (3 in: 3 7/8 in).
    ///
    /// # Errors
    /// [`SeamError`] when a measure is not positive or the result overflows.
    ///
    /// ```
    /// use cutcloth::{length::Length, pattern::Sewing};
    /// let cut = Sewing::default().half_square(Length::from_inches(3))?;
    /// assert_eq!(cut, Length::from_eighths(31)); // 3 7/8 in
    /// # Ok::<(), cutcloth::pattern::seam::SeamError>(())
    /// ```
    pub fn half_square(&self, finished: Length) -> Result<Length, SeamError> {
        self.up(add(self.unfinished(finished)?, root_of(self.seam, 2, 1)?)?)
    }

    /// Side of the square to cut on both diagonals so that the long side of each of the four triangles is
    /// `finished`; also of the squares for quarter-square triangles and of the goose squares made four at a time.
    ///
    /// The long side of the triangle has a 45-degree corner at both ends: 2 x seam x (1 + sqrt 2), 1.207 in for a
    /// 1/4 in seam. Source: Karen Combs, "Formulas for Quilters", 2002 (finished + 1 1/4 in).
    ///
    /// # Errors
    /// [`SeamError`] when a measure is not positive or the result overflows.
    ///
    /// ```
    /// use cutcloth::{length::Length, pattern::Sewing};
    /// let cut = Sewing::default().quarter_square(Length::from_inches(6))?;
    /// assert_eq!(cut, Length::from_eighths(58)); // 7 1/4 in
    /// # Ok::<(), cutcloth::pattern::seam::SeamError>(())
    /// ```
    pub fn quarter_square(&self, finished: Length) -> Result<Length, SeamError> {
        self.up(add(self.unfinished(finished)?, root_of(self.seam, 8, 1)?)?)
    }

    /// Side of the two squares that give four half-square triangles: sewn together all round, then cut on
    /// both diagonals.
    ///
    /// Each quarter is a triangle whose height on the sewn edge is half the square; one seam is taken from it,
    /// so the opened unit has the diagonal S - 2 x seam and the side (S - 2 x seam) / sqrt 2. Solved for S:
    /// sqrt 2 x (finished + 2 x seam) + 2 x seam, and then up to a mark. The edges of the units are on the bias.
    /// Source: a square of 5 in gives units of 3.18 in (quilting forum post cited in the value table).
    ///
    /// # Errors
    /// [`SeamError`] when a measure is not positive or the result overflows.
    ///
    /// ```
    /// use cutcloth::{length::Length, pattern::Sewing};
    /// let cut = Sewing::default().four_at_a_time(Length::from_inches(3))?;
    /// assert_eq!(cut, Length::from_eighths(44)); // 5.45 in, up to 5 1/2 in
    /// # Ok::<(), cutcloth::pattern::seam::SeamError>(())
    /// ```
    pub fn four_at_a_time(&self, finished: Length) -> Result<Length, SeamError> {
        let unit = self.unfinished(finished)?;
        self.up(add(root_of(unit, 2, 1)?, self.two_seams()?)?)
    }

    /// What a half-square triangle made four at a time from squares of `side` measures before it is joined,
    /// down to a whole tick: (side - 2 x seam) / sqrt 2.
    ///
    /// # Errors
    /// [`SeamError`] when nothing is left of `side` inside the seams, or on overflow.
    pub fn four_at_a_time_gives(&self, side: Length) -> Result<Length, SeamError> {
        self.check(side)?;
        let inside = side.checked_sub(self.two_seams()?).ok_or(SeamError::TooLong)?;
        if inside <= Length::ZERO {
            return Err(SeamError::FinishedNotPositive);
        }
        root_down(inside, 1, 2)
    }

    /// Side of the two squares that give eight half-square triangles: sewn on both sides of both diagonals,
    /// then cut in quarters and on the diagonals.
    ///
    /// Each quarter is a pair of squares for two units, so the side is twice that of [`Sewing::half_square`],
    /// and then up to a mark.
    /// Source: Ashley Tomlinson, "Half-square triangles 8 at a time" (5 in finished: 11 3/4 in).
    ///
    /// # Errors
    /// [`SeamError`] when a measure is not positive or the result overflows.
    ///
    /// ```
    /// use cutcloth::{length::Length, pattern::Sewing};
    /// let cut = Sewing::default().eight_at_a_time(Length::from_inches(5))?;
    /// assert_eq!(cut, Length::from_eighths(94)); // 11 3/4 in
    /// # Ok::<(), cutcloth::pattern::seam::SeamError>(())
    /// ```
    pub fn eight_at_a_time(&self, finished: Length) -> Result<Length, SeamError> {
        let unfinished = self.unfinished(finished)?.checked_mul(2).ok_or(SeamError::TooLong)?;
        self.up(add(unfinished, root_of(self.seam, 8, 1)?)?)
    }

    /// Side of the square inside a square of side `finished`, standing on its corner, as cut: its corners
    /// touch the middles of the sides, so it is finished / sqrt 2, and two seams are added.
    ///
    /// Source: the inverse of "centre x 1.414" (quilting forum post cited in the value table); the pattern
    /// "Neon Dreams" of All People Quilt, 2019, cuts 4 3/4 in for 6 in finished.
    ///
    /// # Errors
    /// [`SeamError`] when a measure is not positive or the result overflows.
    pub fn inner_square(&self, finished: Length) -> Result<Length, SeamError> {
        self.check(finished)?;
        self.up(add(root_of(finished, 1, 2)?, self.two_seams()?)?)
    }

    /// Side of the square to cut once for two corner triangles of a block of side `block` standing on its corner:
    /// block / sqrt 2 is the leg of the triangle, and seam x (2 + sqrt 2) is added as in [`Sewing::half_square`]:
    /// together (block + 2 x seam) / sqrt 2 + 2 x seam, with a single root.
    ///
    /// Also the outer triangles of a square in a square around a centre of side `block`.
    /// Sources: Moonlight Quilters, "On-Point Settings" (6 in: 5 1/8 in); Tani, "Setting triangle chart".
    ///
    /// # Errors
    /// [`SeamError`] when a measure is not positive or the result overflows.
    ///
    /// ```
    /// use cutcloth::{length::Length, pattern::Sewing};
    /// let cut = Sewing::default().setting_corner(Length::from_inches(6))?;
    /// assert_eq!(cut, Length::from_eighths(41)); // 5 1/8 in
    /// # Ok::<(), cutcloth::pattern::seam::SeamError>(())
    /// ```
    pub fn setting_corner(&self, block: Length) -> Result<Length, SeamError> {
        self.up(add(root_of(self.unfinished(block)?, 1, 2)?, self.two_seams()?)?)
    }

    /// Side of the square to cut twice for four side triangles of blocks of side `block` on point:
    /// block x sqrt 2 is the long side of the triangle, and 2 x seam x (1 + sqrt 2) is added as in
    /// [`Sewing::quarter_square`]: together (block + 2 x seam) x sqrt 2 + 2 x seam, with a single root.
    ///
    /// Sources: Tani, "Setting triangle chart" (8 in: 12 5/8 in); Marcia Hohn, "How to Make Setting Triangles",
    /// Quilter's Cache, 2002 (16 in: 23 7/8 in).
    ///
    /// # Errors
    /// [`SeamError`] when a measure is not positive or the result overflows.
    ///
    /// ```
    /// use cutcloth::{length::Length, pattern::Sewing};
    /// let cut = Sewing::default().setting_side(Length::from_inches(8))?;
    /// assert_eq!(cut, Length::from_eighths(101)); // 12 5/8 in
    /// # Ok::<(), cutcloth::pattern::seam::SeamError>(())
    /// ```
    pub fn setting_side(&self, block: Length) -> Result<Length, SeamError> {
        self.up(add(root_of(self.unfinished(block)?, 2, 1)?, self.two_seams()?)?)
    }

    /// `length` rounded up to a mark.
    ///
    /// # Errors
    /// [`SeamError::RulerNotPositive`], or [`SeamError::TooLong`] on overflow.
    pub fn up(&self, length: Length) -> Result<Length, SeamError> {
        if self.ruler <= Length::ZERO {
            return Err(SeamError::RulerNotPositive);
        }
        let mark = self.ruler.ticks();
        let over = length.ticks().rem_euclid(mark);
        if over == 0 { Ok(length) } else { add(length, Length::from_ticks(mark - over)) }
    }

    fn two_seams(&self) -> Result<Length, SeamError> {
        self.seam.checked_mul(2).ok_or(SeamError::TooLong)
    }

    fn check_tools(&self) -> Result<(), SeamError> {
        if self.seam < Length::ZERO {
            return Err(SeamError::SeamNegative);
        }
        if self.ruler <= Length::ZERO {
            return Err(SeamError::RulerNotPositive);
        }
        Ok(())
    }

    fn check(&self, finished: Length) -> Result<(), SeamError> {
        self.check_tools()?;
        if finished <= Length::ZERO {
            return Err(SeamError::FinishedNotPositive);
        }
        Ok(())
    }
}

/// Diagonal of a square of side `side`, up to a whole tick: side x sqrt 2.
///
/// Source: Karen Combs, "Formulas for Quilters", 2002 (factor 1.41).
///
/// # Errors
/// [`SeamError::FinishedNotPositive`], or [`SeamError::TooLong`] on overflow.
pub fn diagonal(side: Length) -> Result<Length, SeamError> {
    if side <= Length::ZERO {
        return Err(SeamError::FinishedNotPositive);
    }
    root_of(side, 2, 1)
}

/// length x sqrt(numerator / denominator), up to a whole tick, for a length that is not negative.
fn root_of(length: Length, numerator: u128, denominator: u128) -> Result<Length, SeamError> {
    let square = squared(length)? * numerator;
    let down = (square / denominator).isqrt();
    let up = if down * down * denominator < square { down + 1 } else { down };
    i64::try_from(up).map(Length::from_ticks).map_err(|_| SeamError::TooLong)
}

/// length x sqrt(numerator / denominator), down to a whole tick, for a length that is not negative.
fn root_down(length: Length, numerator: u128, denominator: u128) -> Result<Length, SeamError> {
    let square = squared(length)? * numerator;
    let down = (square / denominator).isqrt();
    i64::try_from(down).map(Length::from_ticks).map_err(|_| SeamError::TooLong)
}

/// The square of a length; at most 2^126, so that eight times it still fits.
fn squared(length: Length) -> Result<u128, SeamError> {
    let ticks = u128::try_from(length.ticks()).map_err(|_| SeamError::FinishedNotPositive)?;
    ticks.checked_mul(ticks).filter(|&square| square <= u128::MAX / 8).ok_or(SeamError::TooLong)
}

fn add(one: Length, other: Length) -> Result<Length, SeamError> {
    one.checked_add(other).ok_or(SeamError::TooLong)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_root_taken_up_is_the_smallest_that_is_enough() {
        for ticks in (1..5_000_000).step_by(9973) {
            let side = Length::from_ticks(ticks);
            let diagonal = diagonal(side).expect("positive").ticks();
            let square = 2 * ticks * ticks;
            assert!(diagonal * diagonal >= square && (diagonal - 1) * (diagonal - 1) < square);
        }
    }

    #[test]
    fn every_cut_size_lies_on_a_mark_and_holds_the_finished_size_with_its_seams() {
        let sewing = Sewing::default();
        for ticks in (1000..400_000).step_by(3571) {
            let finished = Length::from_ticks(ticks);
            let unfinished = sewing.unfinished(finished).expect("positive");
            let cuts = [
                sewing.patch(finished),
                sewing.half_square(finished),
                sewing.quarter_square(finished),
                sewing.four_at_a_time(finished),
                sewing.eight_at_a_time(finished),
            ];
            for cut in cuts {
                let cut = cut.expect("positive");
                assert!(cut >= unfinished, "{cut:?} for {finished:?}");
                assert_eq!(cut.ticks() % sewing.ruler.ticks(), 0);
            }
        }
    }

    /// Whether `cut` is enough for the exact size `whole + root x sqrt 2`, all in ticks.
    fn enough(cut: Length, whole: i64, root: i64) -> bool {
        let over = i128::from(cut.ticks() - whole);
        over >= 0 && over * over >= 2 * i128::from(root) * i128::from(root)
    }

    #[test]
    fn triangles_are_rounded_once_so_that_one_mark_less_is_too_small() {
        for eighths in [1, 2, 4] {
            let sewing = Sewing { ruler: Length::from_eighths(eighths), ..Sewing::default() };
            let s = sewing.seam.ticks();
            for sixteenths in 8..500 {
                let finished = Length::from_ticks(sixteenths * 508);
                let f = finished.ticks();
                // Twice the cut size, so that the halves of F / sqrt 2 = F sqrt 2 / 2 stay whole.
                let formulas = [
                    (sewing.half_square(finished), 2 * f + 4 * s, 2 * s),
                    (sewing.quarter_square(finished), 2 * f + 4 * s, 4 * s),
                    (sewing.eight_at_a_time(finished), 4 * f + 8 * s, 4 * s),
                    (sewing.setting_side(finished), 4 * s, 2 * f + 4 * s),
                    (sewing.setting_corner(finished), 4 * s, f + 2 * s),
                ];
                for (index, (cut, whole, root)) in formulas.into_iter().enumerate() {
                    let cut = cut.expect("positive");
                    let less = cut - sewing.ruler;
                    assert!(enough(cut + cut, whole, root), "{index}: {cut:?} for {finished:?}");
                    assert!(!enough(less + less, whole, root), "{index}: {cut:?} for {finished:?}");
                }
            }
        }
    }

    #[test]
    fn squares_for_four_at_a_time_are_large_enough_and_one_mark_less_is_not() {
        let sewing = Sewing::default();
        for eighths in 4..100 {
            let finished = Length::from_eighths(eighths);
            let need = sewing.unfinished(finished).expect("positive");
            let side = sewing.four_at_a_time(finished).expect("positive");
            assert!(sewing.four_at_a_time_gives(side).expect("positive") >= need);
            assert!(sewing.four_at_a_time_gives(side - sewing.ruler).expect("positive") < need);
        }
    }

    #[test]
    fn measures_that_make_no_sense_are_refused() {
        let sewing = Sewing::default();
        assert_eq!(sewing.patch(Length::ZERO), Err(SeamError::FinishedNotPositive));
        assert_eq!(sewing.half_square(Length::from_ticks(-1)), Err(SeamError::FinishedNotPositive));
        let no_ruler = Sewing { ruler: Length::ZERO, ..sewing };
        assert_eq!(no_ruler.half_square(Length::from_inches(1)), Err(SeamError::RulerNotPositive));
        let negative = Sewing { seam: Length::from_ticks(-1), ..sewing };
        assert_eq!(negative.quarter_square(Length::from_inches(1)), Err(SeamError::SeamNegative));
        let endless = Length::from_ticks(i64::MAX);
        for cut in [sewing.patch(endless), sewing.setting_side(endless), sewing.setting_corner(endless)] {
            assert_eq!(cut, Err(SeamError::TooLong));
        }
    }
}
