//! Yardage cut in strips: every choice of strips on small demands, what is claimed of the least, and the demo's background.

use std::collections::BTreeMap;

use cutcloth::cutting::{Axis, Kind, Layout, Node, Style, Work, in_strips, length_bound, shortest};
use cutcloth::length::Length;
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

/// Sizes as width, height and count, in eighths of an inch; all may turn.
fn kinds(sizes: &[(i64, i64, u32)]) -> (Vec<Kind>, Vec<u32>) {
    let e = Length::from_eighths;
    let kind = |&(w, h, _): &(i64, i64, u32)| Kind { width: e(w), height: e(h), turn: true };
    (sizes.iter().map(kind).collect(), sizes.iter().map(|size| size.2).collect())
}

fn eighths(length: Length) -> i64 {
    length.ticks() / Length::from_eighths(1).ticks()
}

/// The least height of all strips together, by trying every strip for every rest; `None` where a piece is too wide.
struct Every<'a> {
    width: i64,
    sizes: &'a [(i64, i64, u32)],
    style: Style,
    known: BTreeMap<Vec<u32>, Option<i64>>,
}

impl Every<'_> {
    fn least(&mut self, left: &[u32]) -> Option<i64> {
        if left.iter().all(|&n| n == 0) {
            return Some(0);
        }
        if let Some(known) = self.known.get(left) {
            return *known;
        }
        let mut best: Option<i64> = None;
        let heights: Vec<i64> = self.sizes.iter().flat_map(|&(w, h, _)| [w, h]).collect();
        for height in heights {
            let mut rests = Vec::new();
            self.fill(height, self.width, left.to_vec(), 0, &mut rests);
            for rest in rests.into_iter().filter(|rest| rest != left) {
                let with = self.least(&rest).map(|below| below + height);
                best = best.into_iter().chain(with).min();
            }
        }
        self.known.insert(left.to_vec(), best);
        best
    }

    /// Every rest after a strip with columns of the sizes from `at` on.
    fn fill(&self, height: i64, room: i64, left: Vec<u32>, at: usize, rests: &mut Vec<Vec<u32>>) {
        let Some(&(w, h, _)) = self.sizes.get(at / 2) else {
            rests.push(left);
            return;
        };
        let (w, h) = if at.is_multiple_of(2) { (w, h) } else { (h, w) };
        self.fill(height, room, left.clone(), at + 1, rests);
        let most = match self.style {
            Style::Plain if h != height => 0,
            Style::Plain | Style::Mixed => i64::from(h <= height),
            Style::Stacked => height / h,
        };
        let size = at / 2;
        let taken = left[size].min(u32::try_from(most).expect("a small count"));
        if taken > 0 && w <= room {
            let mut rest = left;
            rest[size] -= taken;
            self.fill(height, room - w, rest, at, rests);
        }
    }
}

/// The styles that a layout keeps to: strips, columns in each, and pieces one above the other in those.
fn keeps_to(layout: &Layout, style: Style) -> bool {
    fn parts<'a>(node: &'a Node, axis: Axis, all: &mut Vec<&'a Node>) {
        match node {
            Node::Cut(split) if split.axis == axis => {
                parts(&split.first, axis, all);
                parts(&split.second, axis, all);
            }
            other => all.push(other),
        }
    }
    let (mut strips, mut columns, mut stacks) = (Vec::new(), Vec::new(), Vec::new());
    parts(layout.root(), Axis::Height, &mut strips);
    strips.iter().for_each(|strip| parts(strip, Axis::Width, &mut columns));
    for column in columns {
        let mut stack = Vec::new();
        parts(column, Axis::Height, &mut stack);
        stacks.push(stack);
    }
    let pieces = |stack: &Vec<&Node>| stack.iter().filter(|node| matches!(node, Node::Piece { .. })).count();
    let deep = stacks.iter().flatten().any(|node| matches!(node, Node::Cut(_)));
    !deep
        && stacks.iter().all(|stack| match style {
            Style::Plain => stack.len() == 1,
            Style::Mixed => stack.len() <= 2 && pieces(stack) <= 1,
            Style::Stacked => true,
        })
}

#[test]
fn small_demands_take_the_least_height_of_all_choices_of_strips() {
    let mut rng = SmallRng::seed_from_u64(17);
    let mut settled = 0;
    for case in 0..120 {
        let width = rng.random_range(14..=30);
        let number = rng.random_range(1..=3);
        let sizes: Vec<(i64, i64, u32)> = (0..number)
            .map(|_| (rng.random_range(3..=14), rng.random_range(3..=14), rng.random_range(1..=4)))
            .collect();
        let (kinds, counts) = kinds(&sizes);
        let longest = Length::from_eighths(400);
        for style in Style::ALL {
            let mut work = Work::steps(1_000_000_000);
            let found = in_strips(Length::from_eighths(width), longest, &kinds, &counts, style, &mut work);
            let every = Every { width, sizes: &sizes, style, known: BTreeMap::new() }.least(&counts);
            let (layout, used) = found.found.expect("every piece is at most as wide as the fabric");
            let every = every.expect("every piece has a strip");
            assert_eq!(layout.pieces().len(), counts.iter().sum::<u32>() as usize);
            assert!(keeps_to(&layout, style), "case {case} {style:?}: {layout:?}");
            assert!(
                eighths(used) == every,
                "case {case} {style:?}: {sizes:?} on {width}: {} for {every}",
                eighths(used)
            );
            assert!(eighths(found.bound) <= every, "case {case} {style:?}: a bound past the least");
            settled += usize::from(eighths(found.bound) == every);
        }
    }
    assert!(settled > 180, "only {settled} of 360 bounds are met");
}

/// The pieces of the demo's background: 44 1/4 in in plain strips and 41 3/4 in in mixed ones; no cutting takes less than
/// 41 1/4 in.
#[test]
fn the_background_of_the_demo_comes_in_strips() {
    let sizes = [(36, 20, 52), (39, 39, 12), (20, 20, 32), (52, 20, 28), (36, 36, 8)];
    let (kinds, counts) = kinds(&sizes);
    let width = Length::from_eighths(328);
    let used = |style| {
        let mut work = Work::steps(1_000_000_000);
        let found = in_strips(width, Length::from_inches(54), &kinds, &counts, style, &mut work);
        let used = found.found.expect("it fits").1;
        assert!(found.bound <= used && length_bound(width, &kinds, &counts) <= used);
        eighths(used)
    };
    assert_eq!([used(Style::Plain), used(Style::Mixed)], [354, 334]);
}

/// A border longer than the fabric is wide goes first, along the length, and what lies beside it is used.
#[test]
fn long_pieces_lie_in_a_band_with_strips_beside_them() {
    let (kinds, counts) = kinds(&[(28, 484, 4), (20, 20, 60), (36, 36, 12)]);
    let width = Length::from_eighths(320);
    let found = in_strips(
        width,
        Length::from_inches(90),
        &kinds,
        &counts,
        Style::Plain,
        &mut Work::steps(1_000_000_000),
    );
    let (layout, used) = found.found.expect("it fits");
    assert_eq!(layout.pieces().len(), 76);
    assert_eq!(eighths(used), 484, "all small pieces go beside the four borders");
}

#[test]
fn what_has_no_room_is_not_found() {
    let (kinds, counts) = kinds(&[(36, 36, 10)]);
    let width = Length::from_eighths(100);
    let mut work = Work::steps(1_000_000_000);
    let short = in_strips(width, Length::from_eighths(140), &kinds, &counts, Style::Stacked, &mut work);
    assert_eq!(short.found, None, "five strips of 4 1/2 in take 22 1/2 in");
    let enough = in_strips(width, Length::from_eighths(180), &kinds, &counts, Style::Stacked, &mut work);
    assert_eq!(enough.found.map(|(_, used)| eighths(used)), Some(180));
    let none = in_strips(
        Length::from_eighths(30),
        Length::from_eighths(900),
        &kinds,
        &counts,
        Style::Plain,
        &mut work,
    );
    assert_eq!(none.found, None, "wider than the fabric, either way");
}

/// Strips are a start for the least length with cuts of any kind.
#[test]
fn no_cutting_of_any_kind_is_longer_than_strips() {
    let (kinds, counts) = kinds(&[(36, 20, 52), (39, 39, 12), (20, 20, 32), (52, 20, 28), (36, 36, 8)]);
    let width = Length::from_eighths(328);
    let any = shortest(width, Length::from_inches(54), &kinds, &counts, &mut Work::steps(300_000_000));
    let used = any.found.expect("it fits").1;
    assert!(eighths(used) <= 334, "{}", eighths(used));
    assert!(any.bound <= used);
}
