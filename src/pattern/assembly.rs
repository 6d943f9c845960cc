//! Do rows of parts make the size they should? Seams taken in, and the first mismatch said in numbers.
//!
//! Sizes in here are finished sizes: two parts sewn together measure, finished, the sum of both. What a person
//! can measure on the table is one seam larger on every edge, so messages show unfinished sizes.

use crate::length::{Length, Units};
use crate::pattern::{Sewing, Size};
use crate::spreadsheet::list;

/// One place in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// What messages call it.
    pub name: String,
    /// Its finished size as it lies in the row; `None` for a plain patch that fills what is left.
    pub size: Option<Size>,
}

/// Why rows do not make the whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mismatch {
    /// Row, from 1; `None` when it is the rows together.
    pub row: Option<usize>,
    /// The numbers, one sentence, unfinished sizes.
    pub text: String,
}

/// What rows are checked against, and how sizes are shown.
#[derive(Clone, Copy, Debug)]
pub struct Frame {
    /// Finished size of the whole, when the pattern gives one.
    pub whole: Option<Size>,
    /// Seam, for unfinished sizes.
    pub sewing: Sewing,
    /// Units of messages.
    pub units: Units,
}

/// Finished sizes of all places, and of the whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solved {
    /// One size a place, as it lies.
    pub sizes: Vec<Vec<Size>>,
    /// The whole.
    pub whole: Size,
}

/// Fills in the plain patches and checks that everything adds up.
///
/// Plain patches of a row share equally the width the other parts leave; rows of nothing but plain patches
/// share equally the height the other rows leave.
///
/// # Errors
/// The first [`Mismatch`] in reading order.
pub fn solve(rows: &[Vec<Place>], frame: &Frame) -> Result<Solved, Mismatch> {
    let mut heights = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        heights.push(row_height(index, row, frame)?);
    }
    let heights = share_heights(&heights, frame)?;
    let mut sizes: Vec<Vec<Size>> = Vec::new();
    let mut whole_width = frame.whole.map(|whole| whole.width);
    for (index, (row, &height)) in rows.iter().zip(&heights).enumerate() {
        let solved = row_sizes(index, row, height, whole_width, frame)?;
        let width: Length = solved.iter().map(|size| size.width).sum();
        match whole_width {
            Some(expected) if expected != width => {
                let sewn = Size { width, height };
                return Err(width_mismatch(index, row, &solved, sewn, expected, frame));
            }
            _ => whole_width = Some(width),
        }
        sizes.push(solved);
    }
    let height: Length = heights.iter().copied().sum();
    if let Some(whole) = frame.whole
        && whole.height != height
    {
        return Err(height_mismatch(rows, &sizes, &heights, height, whole, frame));
    }
    Ok(Solved { sizes, whole: Size { width: whole_width.unwrap_or_default(), height } })
}

impl Frame {
    /// A finished length as it is measured on the table.
    fn open(&self, finished: Length) -> Length {
        finished + self.sewing.seam + self.sewing.seam
    }

    fn open_size(&self, size: Size) -> String {
        Size { width: self.open(size.width), height: self.open(size.height) }.show(self.units)
    }

    fn open_length(&self, finished: Length) -> String {
        self.open(finished).show(self.units)
    }
}

/// The height all sized places of a row share; `None` when there are none.
fn row_height(index: usize, row: &[Place], frame: &Frame) -> Result<Option<Length>, Mismatch> {
    let mut first: Option<(&Place, Length)> = None;
    for place in row {
        let Some(size) = place.size else { continue };
        match first {
            Some((other, height)) if height != size.height => {
                let text = format!(
                    "{} is {} high and {} is {} high, unfinished, so they cannot be sewn side by side",
                    other.name,
                    frame.open_length(height),
                    place.name,
                    frame.open_length(size.height)
                );
                return Err(Mismatch { row: Some(index + 1), text });
            }
            Some(_) => {}
            None => first = Some((place, size.height)),
        }
    }
    Ok(first.map(|(_, height)| height))
}

/// Gives the rows without a height an equal share of what the others leave.
fn share_heights(heights: &[Option<Length>], frame: &Frame) -> Result<Vec<Length>, Mismatch> {
    let open = heights.iter().filter(|height| height.is_none()).count();
    if open == 0 {
        return Ok(heights.iter().copied().flatten().collect());
    }
    let known: Length = heights.iter().copied().flatten().sum();
    let Some(whole) = frame.whole else {
        let row = heights.iter().position(Option::is_none).map(|index| index + 1);
        let text = "plain patches need a size: the whole has none that they could fill".to_string();
        return Err(Mismatch { row, text });
    };
    let share = equal_share(whole.height, known, open).ok_or_else(|| Mismatch {
        row: None,
        text: format!(
            "{open} rows of plain patches cannot share equally the height that is left: {} less {}, finished",
            whole.height.show(frame.units),
            known.show(frame.units)
        ),
    })?;
    Ok(heights.iter().map(|height| height.unwrap_or(share)).collect())
}

/// Gives the plain patches of a row an equal share of the width the others leave.
fn row_sizes(
    index: usize,
    row: &[Place],
    height: Length,
    whole_width: Option<Length>,
    frame: &Frame,
) -> Result<Vec<Size>, Mismatch> {
    let open = row.iter().filter(|place| place.size.is_none()).count();
    let known: Length = row.iter().filter_map(|place| place.size).map(|size| size.width).sum();
    let mut share = Length::ZERO;
    if open > 0 {
        let Some(whole) = whole_width else {
            let text = "plain patches need a size: the whole has none that they could fill".to_string();
            return Err(Mismatch { row: Some(index + 1), text });
        };
        share = equal_share(whole, known, open).ok_or_else(|| Mismatch {
            row: Some(index + 1),
            text: format!(
                "{open} plain patches cannot share equally the width that is left: {} less {}, finished",
                whole.show(frame.units),
                known.show(frame.units)
            ),
        })?;
    }
    Ok(row.iter().map(|place| place.size.unwrap_or(Size { width: share, height })).collect())
}

/// (whole - known) / parts, when that is a positive whole number of ticks.
fn equal_share(whole: Length, known: Length, parts: usize) -> Option<Length> {
    let left = whole.checked_sub(known)?.ticks();
    let parts = i64::try_from(parts).ok()?;
    (left > 0 && left % parts == 0).then(|| Length::from_ticks(left / parts))
}

fn width_mismatch(
    index: usize,
    row: &[Place],
    sizes: &[Size],
    sewn: Size,
    expected: Length,
    frame: &Frame,
) -> Mismatch {
    let should = match frame.whole {
        Some(whole) if whole.height == sewn.height => format!("not {}", frame.open_size(whole)),
        _ => format!("and should be {} wide", frame.open_length(expected)),
    };
    let parts = listed(row, sizes, frame);
    let verb = if row.len() == 1 { "measures" } else { "sewn together measure" };
    let text = format!("{parts} {verb} {} unfinished, {should}", frame.open_size(sewn));
    Mismatch { row: Some(index + 1), text }
}

fn height_mismatch(
    rows: &[Vec<Place>],
    sizes: &[Vec<Size>],
    heights: &[Length],
    height: Length,
    whole: Size,
    frame: &Frame,
) -> Mismatch {
    let text = if let ([row], [sizes]) = (rows, sizes) {
        let verb = if row.len() == 1 { "measures" } else { "sewn together measure" };
        let sewn = frame.open_size(Size { width: whole.width, height });
        let parts = listed(row, sizes, frame);
        format!("{parts} {verb} {sewn} unfinished, not {}", frame.open_size(whole))
    } else {
        let each: Vec<String> = heights.iter().map(|&height| frame.open_length(height)).collect();
        format!(
            "rows of {} sewn together measure {} high unfinished, not {}",
            list(each),
            frame.open_length(height),
            frame.open_length(whole.height)
        )
    };
    Mismatch { row: None, text }
}

/// `A (2 1/2 x 2 1/2 in) and B (...)`, runs of the same part counted.
fn listed(row: &[Place], sizes: &[Size], frame: &Frame) -> String {
    let mut parts: Vec<(&str, Size, usize)> = Vec::new();
    for (place, &size) in row.iter().zip(sizes) {
        match parts.iter_mut().find(|(name, other, _)| *name == place.name && *other == size) {
            Some((_, _, count)) => *count += 1,
            None => parts.push((&place.name, size, 1)),
        }
    }
    let texts: Vec<String> = parts
        .iter()
        .map(|(name, size, count)| {
            let times = if *count > 1 { format!("{count} x ") } else { String::new() };
            format!("{times}{name} ({})", frame.open_size(*size))
        })
        .collect();
    list(texts)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place(name: &str, width: i64, height: i64) -> Place {
        let size = Size { width: Length::from_eighths(width), height: Length::from_eighths(height) };
        Place { name: name.to_string(), size: Some(size) }
    }

    fn plain(name: &str) -> Place {
        Place { name: name.to_string(), size: None }
    }

    fn frame(width: i64, height: i64) -> Frame {
        let whole = Size { width: Length::from_eighths(width), height: Length::from_eighths(height) };
        Frame { whole: Some(whole), sewing: Sewing::default(), units: Units::Inches }
    }

    #[test]
    fn eight_by_fourteen_and_six_by_fourteen_do_not_make_fourteen_square() {
        // Cut sizes 8 x 14 and 6 x 14 in; finished 7 1/2 and 5 1/2 wide, 13 1/2 high.
        let rows = vec![vec![place("L", 60, 108), place("R", 44, 108)]];
        let wrong = solve(&rows, &frame(108, 108)).expect_err("one seam is taken in");
        assert_eq!(wrong.row, Some(1));
        assert_eq!(
            wrong.text,
            "L (8 x 14 in) and R (6 x 14 in) sewn together measure 13 1/2 x 14 in unfinished, not 14 x 14 in"
        );
        assert!(solve(&rows, &frame(104, 108)).is_ok());
    }

    #[test]
    fn plain_patches_share_what_the_others_leave() {
        let rows = vec![
            vec![plain("A"), plain("B"), plain("A")],
            vec![plain("B"), place("H", 32, 16), plain("B")],
            vec![plain("A"), plain("B"), plain("A")],
        ];
        let solved = solve(&rows, &frame(48, 48)).expect("it adds up");
        assert_eq!(
            solved.sizes[0][0],
            Size { width: Length::from_eighths(16), height: Length::from_eighths(16) }
        );
        assert_eq!(solved.sizes[1][0].width, Length::from_eighths(8));
        assert_eq!(solved.whole, Size::square(Length::from_eighths(48)));
    }

    #[test]
    fn a_third_of_a_width_that_does_not_divide_is_refused() {
        let frame = Frame {
            whole: Some(Size::square(Length::from_ticks(10))),
            sewing: Sewing::default(),
            units: Units::Inches,
        };
        let rows = vec![vec![plain("A"), plain("A"), plain("A")]];
        assert!(solve(&rows, &frame).is_err());
    }

    #[test]
    fn rows_that_are_too_high_together_are_named_with_their_heights() {
        let rows = vec![vec![place("A", 48, 16)], vec![place("B", 48, 24)]];
        let wrong = solve(&rows, &frame(48, 48)).expect_err("40 eighths are not 48");
        assert_eq!(wrong.row, None);
        assert_eq!(
            wrong.text,
            "rows of 2 1/2 in and 3 1/2 in sewn together measure 5 1/2 in high unfinished, not 6 1/2 in"
        );
    }

    #[test]
    fn parts_of_different_height_cannot_lie_side_by_side() {
        let rows = vec![vec![place("A", 24, 16), place("B", 24, 24)]];
        let wrong = solve(&rows, &frame(48, 16)).expect_err("heights differ");
        assert!(wrong.text.starts_with("A is 2 1/2 in high and B is 3 1/2 in high"), "{}", wrong.text);
    }
}
