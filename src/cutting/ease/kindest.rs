//! Cutting few pieces so that what is left is worth most, and among equals so that it is kindest to cut.

use crate::cutting::ease::friendly::effort;
use crate::cutting::ease::leftover::{Wishes, leftover_value, most_leftover};
use crate::cutting::ease::ways::Search;
use crate::cutting::fit::shapes::multisets;
use crate::cutting::grid::order::Order;
use crate::cutting::layout::Layout;
use crate::cutting::{Kind, Sheet, Work};

/// Largest number of multisets that is gone through.
const MOST_MULTISETS: u64 = 400;
/// Steps for one sheet.
const STEPS: u64 = 400_000;

/// As [`most_leftover`], but where the pieces are few more ways of cutting are compared for the kindest.
///
/// # Panics
/// When `counts` has not one count a kind.
pub fn kindest(
    sheet: Sheet,
    kinds: &[Kind],
    counts: &[u32],
    wishes: Wishes,
    work: &mut Work,
) -> Option<Layout> {
    // A third to find a way at all.
    let (given, share) = (work.left(), (work.left() / 3 * 2).min(STEPS));
    let mut first = work.share(given - share);
    let known = most_leftover(sheet, kinds, counts, wishes, &mut first);
    work.charge(given - share, &first);
    let known = known?;
    let order = Order::merged(kinds, counts);
    if order.pieces() == 0 || multisets(&order.counts).is_none_or(|n| n > MOST_MULTISETS) {
        return Some(known);
    }
    let mut rest = work.share(share);
    let found = Search::new(&order, wishes, &mut rest).run(sheet, kinds);
    work.charge(share, &rest);
    let rank = |layout: &Layout| {
        let left = layout.leftovers().into_iter().map(|rect| leftover_value(rect, wishes.useful_side));
        (std::cmp::Reverse(left.sum::<i128>()), effort(layout, wishes.units))
    };
    Some(found.filter(|found| rank(found) < rank(&known)).unwrap_or(known))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::ease::friendly::Effort;
    use crate::length::{Length, Units};

    #[test]
    fn few_pieces_are_cut_in_fewer_stages_and_settings_or_leave_more() {
        let e = Length::from_eighths;
        let kind = |w, h| Kind { width: e(w), height: e(h), turn: true };
        let wishes = Wishes { useful_side: e(20), units: Units::Inches };
        let sheet = Sheet { width: e(80), height: e(80) };
        let worth =
            |layout: &Layout| layout.leftovers().into_iter().map(|r| leftover_value(r, e(20))).sum::<i128>();
        let cubic_eighth = i128::from(e(1).ticks()).pow(3);
        let cases = [
            // 4 1/2 in squares beside 2 1/2 in strips: three columns, the narrow ones cut from one strip each.
            (vec![kind(36, 36), kind(36, 20), kind(68, 20)], vec![1, 2, 2], 0, (2, 3, 8)),
            // Two and two squares of unlike size: two rows.
            (vec![kind(39, 39), kind(36, 36)], vec![2, 2], 0, (2, 2, 6)),
            // Five strips of 6 1/2 x 2 1/2 in leave a square of 3 1/2 in, not 2 1/2 x 3 1/2.
            (vec![kind(52, 20)], vec![5], 21_952, (3, 2, 6)),
        ];
        for (kinds, counts, left, (stages, settings, cuts)) in cases {
            let known =
                most_leftover(sheet, &kinds, &counts, wishes, &mut Work::steps(200_000)).expect("it fits");
            let found = kindest(sheet, &kinds, &counts, wishes, &mut Work::steps(600_000)).expect("it fits");
            assert_eq!(effort(&found, Units::Inches), Effort { stages, settings, off_ruler: 0, cuts });
            assert_eq!(worth(&found), left * cubic_eighth);
            assert!(
                (worth(&known), effort(&found, Units::Inches))
                    < (worth(&found), effort(&known, Units::Inches))
            );
        }
    }
}
