//! Can straight cuts from edge to edge free every piece? Answered from where the pieces lie, and from
//! nothing else: the cuts that the record lists are not looked at here.
//!
//! Cutting greedily is enough. Call a line *clear* when it passes through no piece. Claim: if some order
//! of cuts frees all pieces of a region, then after any one clear cut both parts can still be freed.
//! Proof: take the tree of cuts that frees the region, and keep of every cut only what lies in one part.
//! What is kept is either nothing, and the cut is left out, or it crosses the smaller region from edge to
//! edge; it still passes through no piece, as the pieces there are some of those that were there before.
//! Pieces which the tree separates are separated by the trimmed tree too, as the cut between them runs
//! between them wherever they lie. So a clear cut is never regretted, and when no clear cut between pieces
//! is left while two of them are still together, there is no order of cuts at all. (Own argument; the unit
//! tests compare it with trying every cut in every order.)

use super::record::Rect;

/// Checks that `pieces`, which must not overlap, can be freed.
///
/// # Errors
/// A group of at least two pieces, by index, that no straight cut divides.
pub(super) fn separate(pieces: &[Rect]) -> Result<(), Vec<usize>> {
    // A list of open groups rather than recursion: a hostile file cannot exhaust the stack.
    let mut open: Vec<Vec<usize>> = vec![(0..pieces.len()).collect()];
    while let Some(group) = open.pop() {
        if group.len() < 2 {
            continue;
        }
        let by_width = divide(group.clone(), |i| (pieces[i].x, pieces[i].right()));
        if by_width.len() > 1 {
            open.extend(by_width);
            continue;
        }
        let by_height = divide(group, |i| (pieces[i].y, pieces[i].top()));
        if by_height.len() > 1 {
            open.extend(by_height);
            continue;
        }
        let mut stuck = by_height.into_iter().flatten().collect::<Vec<_>>();
        stuck.sort_unstable();
        return Err(stuck);
    }
    Ok(())
}

/// Splits a group at every place along one side where no piece reaches across.
fn divide(mut group: Vec<usize>, reach: impl Fn(usize) -> (i64, i64)) -> Vec<Vec<usize>> {
    group.sort_by_key(|&i| (reach(i), i));
    let mut parts: Vec<Vec<usize>> = Vec::new();
    let mut furthest = i64::MIN;
    for i in group {
        let (from, to) = reach(i);
        match parts.last_mut() {
            Some(part) if from < furthest => part.push(i),
            _ => parts.push(vec![i]),
        }
        furthest = furthest.max(to);
    }
    parts
}

#[cfg(test)]
mod tests {
    use rand::rngs::SmallRng;
    use rand::{Rng, SeedableRng};

    use super::*;

    fn rect(x: i64, y: i64, width: i64, height: i64) -> Rect {
        Rect { x, y, width, height }
    }

    /// Tries every clear line first, and after it every other: exponential, obviously right.
    fn by_trying_everything(pieces: &[Rect]) -> bool {
        if pieces.len() < 2 {
            return true;
        }
        let lines =
            pieces.iter().flat_map(|p| [(true, p.x), (true, p.right()), (false, p.y), (false, p.top())]);
        lines.into_iter().any(|(upright, at)| {
            let side = |p: &Rect| if upright { (p.x, p.right()) } else { (p.y, p.top()) };
            if pieces.iter().any(|p| side(p).0 < at && at < side(p).1) {
                return false;
            }
            let (low, high): (Vec<Rect>, Vec<Rect>) = pieces.iter().partition(|p| side(p).1 <= at);
            !low.is_empty() && !high.is_empty() && by_trying_everything(&low) && by_trying_everything(&high)
        })
    }

    #[test]
    fn a_pinwheel_cannot_be_started() {
        let pinwheel = [rect(0, 0, 6, 3), rect(6, 0, 3, 6), rect(3, 6, 6, 3), rect(0, 3, 3, 6)];
        assert_eq!(separate(&pinwheel), Err(vec![0, 1, 2, 3]));
    }

    #[test]
    fn only_the_pieces_that_are_stuck_are_named() {
        let mut pieces = vec![rect(0, 20, 4, 4)];
        pieces.extend([rect(0, 0, 6, 3), rect(6, 0, 3, 6), rect(3, 6, 6, 3), rect(0, 3, 3, 6)]);
        assert_eq!(separate(&pieces), Err(vec![1, 2, 3, 4]));
    }

    #[test]
    fn strips_and_sub_cuts_can_be_cut() {
        let pieces =
            [rect(0, 0, 4, 4), rect(4, 0, 4, 4), rect(0, 4, 2, 4), rect(2, 4, 2, 4), rect(5, 4, 1, 1)];
        assert_eq!(separate(&pieces), Ok(()));
    }

    #[test]
    fn ten_thousand_steps_of_a_stair_do_not_exhaust_the_stack() {
        let stair: Vec<Rect> = (0..10_000).map(|i| rect(i, i, 1, 1)).collect();
        assert_eq!(separate(&stair), Ok(()));
    }

    #[test]
    fn greedy_agrees_with_trying_every_cut_in_every_order() {
        let mut random = SmallRng::seed_from_u64(20);
        let (mut can, mut cannot) = (0, 0);
        for _ in 0..20_000 {
            let mut pieces: Vec<Rect> = Vec::new();
            for _ in 0..random.random_range(2..9) {
                let (width, height) = (random.random_range(1..5), random.random_range(1..5));
                let piece = rect(
                    random.random_range(0..=6 - width),
                    random.random_range(0..=6 - height),
                    width,
                    height,
                );
                if pieces.iter().all(|other| !other.overlaps(&piece)) {
                    pieces.push(piece);
                }
            }
            let expected = by_trying_everything(&pieces);
            assert_eq!(separate(&pieces).is_ok(), expected, "{pieces:?}");
            if expected { can += 1 } else { cannot += 1 }
        }
        assert!(can > 1000 && cannot > 20, "both answers must occur: {can} can, {cannot} cannot");
    }
}
