//! The cutting engine against an enumeration of all guillotine layouts of tiny sheets.
//! The enumeration works from the sheet down, cuts at every whole position and shares no code with the engine.

use std::collections::{BTreeSet, HashMap};

use cutcloth::cutting::{
    Axis, Fit, FitAll, Kind, Layout, Node, Purchasable, Sheet, Wishes, Work, cheapest, fit_all, fit_one,
    knapsack, knapsacks, least_sheet, most_leftover, shortest, steps, tidy, two_stage_knapsack, value_bound,
};
use cutcloth::length::{Length, Units};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

/// A piece as the enumeration sees it: width, height, may turn.
type Piece = (u32, u32, bool);

/// All multisets (within limits) that some guillotine layout of a rectangle yields.
struct Enumeration<'a> {
    pieces: &'a [Piece],
    limits: &'a [u32],
    known: HashMap<(u32, u32), BTreeSet<Vec<u32>>>,
}

impl<'a> Enumeration<'a> {
    fn new(pieces: &'a [Piece], limits: &'a [u32]) -> Enumeration<'a> {
        Enumeration { pieces, limits, known: HashMap::new() }
    }

    fn yields(&mut self, w: u32, h: u32) -> BTreeSet<Vec<u32>> {
        if let Some(known) = self.known.get(&(w, h)) {
            return known.clone();
        }
        let mut all = BTreeSet::from([vec![0; self.pieces.len()]]);
        for (i, &(pw, ph, turn)) in self.pieces.iter().enumerate() {
            if self.limits[i] > 0 && ((pw, ph) == (w, h) || (turn && (ph, pw) == (w, h))) {
                let mut one = vec![0; self.pieces.len()];
                one[i] = 1;
                all.insert(one);
            }
        }
        for x in 1..w {
            let (a, b) = (self.yields(x, h), self.yields(w - x, h));
            self.add(&mut all, &a, &b);
        }
        for y in 1..h {
            let (a, b) = (self.yields(w, y), self.yields(w, h - y));
            self.add(&mut all, &a, &b);
        }
        self.known.insert((w, h), all.clone());
        all
    }

    fn add(&self, all: &mut BTreeSet<Vec<u32>>, a: &BTreeSet<Vec<u32>>, b: &BTreeSet<Vec<u32>>) {
        for first in a {
            for second in b {
                let sum: Vec<u32> = first.iter().zip(second).map(|(x, y)| x + y).collect();
                if sum.iter().zip(self.limits).all(|(n, limit)| n <= limit) {
                    all.insert(sum);
                }
            }
        }
    }
}

/// A length of `n` grid steps; a step of 1/4 in, so that the engine has something to divide out.
fn length(n: u32) -> Length {
    Length::from_eighths(2 * i64::from(n))
}

fn kinds(pieces: &[Piece]) -> Vec<Kind> {
    pieces.iter().map(|&(w, h, turn)| Kind { width: length(w), height: length(h), turn }).collect()
}

fn sheet(w: u32, h: u32) -> Sheet {
    Sheet { width: length(w), height: length(h) }
}

fn plenty() -> Work {
    Work::steps(2_000_000_000)
}

/// Some small pieces with small counts.
fn some_pieces(
    rng: &mut SmallRng,
    most_side: u32,
    most_kinds: usize,
    most_count: u32,
) -> (Vec<Piece>, Vec<u32>) {
    let n = rng.random_range(1..=most_kinds);
    let mut piece =
        || (rng.random_range(1..=most_side), rng.random_range(1..=most_side), rng.random_bool(0.5));
    let pieces: Vec<Piece> = (0..n).map(|_| piece()).collect();
    let counts = (0..n).map(|_| rng.random_range(1..=most_count)).collect();
    (pieces, counts)
}

/// The pieces of a layout, counted; every leaf checked against its kind by hand.
fn counted(layout: &Layout, kinds: &[Kind]) -> Vec<u32> {
    let mut counts = vec![0; kinds.len()];
    for (kind, rect, turned) in layout.pieces() {
        let Kind { width, height, turn } = kinds[kind];
        let lying = if turned { (height, width) } else { (width, height) };
        assert!((rect.width, rect.height) == lying && (!turned || turn));
        counts[kind] += 1;
    }
    counts
}

/// Replays the steps from the whole sheet: every region cut is whole at that moment, and what is left
/// uncut in the end is exactly the layout's leaves.
fn replay(layout: &Layout) {
    let mut whole = BTreeSet::from([layout.whole()]);
    for (i, step) in steps(layout).iter().enumerate() {
        assert_eq!(step.order, i + 1);
        assert!(whole.remove(&step.region), "a region is cut that is not there");
        let side = if step.axis == Axis::Width { step.region.width } else { step.region.height };
        assert!(step.at > Length::ZERO && step.at < side);
        let (off, rest) = step.region.split(step.axis, step.at);
        assert_eq!((step.off.0, step.rest.0), (off, rest));
        assert!(whole.insert(off) && whole.insert(rest));
    }
    let pieces = layout.pieces().into_iter().map(|p| p.1);
    assert_eq!(whole, pieces.chain(layout.leftovers()).collect::<BTreeSet<_>>());
}

/// One question of fit, asked of both; the answer.
fn same_answer(w: u32, h: u32, pieces: &[Piece], counts: &[u32]) -> bool {
    let fits = Enumeration::new(pieces, counts).yields(w, h).contains(counts);
    match fit_one(sheet(w, h), &kinds(pieces), counts, &mut plenty()) {
        Fit::Yes(layout) => {
            assert!(fits, "{w}x{h} {pieces:?} {counts:?}");
            assert_eq!(counted(&layout, &kinds(pieces)), counts);
            replay(&layout);
            replay(&tidy(&layout));
        }
        Fit::No(proof) => assert!(!fits, "{w}x{h} {pieces:?} {counts:?} {proof}"),
        Fit::Unknown => panic!("undecided: {w}x{h} {pieces:?} {counts:?}"),
    }
    fits
}

#[test]
fn one_sheet_is_answered_as_the_enumeration_answers() {
    let mut rng = SmallRng::seed_from_u64(11);
    let mut yes = 0;
    for _ in 0..3_000 {
        let (w, h) = (rng.random_range(2..=9), rng.random_range(2..=9));
        let (pieces, counts) = some_pieces(&mut rng, 6, 4, 3);
        yes += u32::from(same_answer(w, h, &pieces, &counts));
    }
    assert!((300..2_700).contains(&yes), "both answers occur: {yes} yes");
}

#[test]
fn close_calls_on_one_sheet_are_answered_as_the_enumeration_answers() {
    let mut rng = SmallRng::seed_from_u64(12);
    let (mut asked, mut yes) = (0, 0);
    while asked < 1_500 {
        let (w, h) = (rng.random_range(5..=9), rng.random_range(5..=9));
        let (pieces, counts) = some_pieces(&mut rng, 5, 4, 4);
        let area: u32 = pieces.iter().zip(&counts).map(|(p, n)| p.0 * p.1 * n).sum();
        if area <= w * h && 10 * area >= 8 * w * h {
            asked += 1;
            yes += u32::from(same_answer(w, h, &pieces, &counts));
        }
    }
    assert!((200..1_300).contains(&yes), "both answers occur: {yes} yes");
}

/// A sheet cut up at random along straight lines: pieces that come out of it without waste.
fn cut_up(rng: &mut SmallRng, w: u32, h: u32, pieces: usize, turn: bool) -> Vec<Piece> {
    let mut all = vec![(w, h, turn)];
    while all.len() < pieces {
        let at = rng.random_range(0..all.len());
        let (w, h, turn) = all[at];
        let across = if rng.random_bool(0.5) { w } else { h };
        if across > 1 {
            let k = rng.random_range(1..across);
            let both = if across == w { [(k, h), (w - k, h)] } else { [(w, k), (w, h - k)] };
            all[at] = (both[0].0, both[0].1, turn);
            all.push((both[1].0, both[1].1, turn));
        }
    }
    all
}

#[test]
fn sheets_without_waste_are_answered_as_the_enumeration_answers() {
    let mut rng = SmallRng::seed_from_u64(23);
    let mut refused = 0;
    for _ in 0..12 {
        let (w, h) = (rng.random_range(5..=8), rng.random_range(5..=8));
        let mut pieces = cut_up(&mut rng, w, h, 10, false);
        let counts = vec![1; pieces.len()];
        assert!(same_answer(w, h, &pieces, &counts), "it was cut from the sheet");
        // One step of a side moved from one piece to another where the area stays: mostly no longer to be had.
        let moved = (0..pieces.len()).flat_map(|a| (0..pieces.len()).map(move |b| (a, b)));
        let swap = |&(a, b): &(usize, usize)| pieces[a].0 > 1 && pieces[a].1 == pieces[b].1 && a != b;
        let Some((a, b)) = moved.into_iter().find(swap) else { continue };
        pieces[a].0 -= 1;
        pieces[b].0 += 1;
        refused += u32::from(!same_answer(w, h, &pieces, &counts));
    }
    assert!(refused > 0, "some are refused");
}

#[test]
fn puzzles_without_waste_are_put_together_again() {
    let mut rng = SmallRng::seed_from_u64(24);
    for round in 0..6 {
        let turn = round % 2 == 0;
        let pieces = cut_up(&mut rng, 40, 30, 24, turn);
        let (kinds, counts) = (kinds(&pieces), vec![1; pieces.len()]);
        match fit_one(sheet(40, 30), &kinds, &counts, &mut Work::steps(500_000_000)) {
            Fit::Yes(layout) => assert_eq!(counted(&layout, &kinds), counts),
            other => panic!("round {round}: {other:?}"),
        }
    }
}

#[test]
fn the_best_value_is_the_enumerations_best_and_bounds_hold() {
    let mut rng = SmallRng::seed_from_u64(13);
    for _ in 0..2_000 {
        let (w, h) = (rng.random_range(3..=9), rng.random_range(3..=9));
        let (pieces, counts) = some_pieces(&mut rng, 6, 4, 3);
        let values: Vec<i64> = pieces.iter().map(|_| rng.random_range(0..30)).collect();
        let worth = |n: &Vec<u32>| n.iter().zip(&values).map(|(&n, v)| i64::from(n) * v).sum::<i64>();
        let best = Enumeration::new(&pieces, &counts).yields(w, h).iter().map(worth).max().unwrap();
        let answer = knapsack(sheet(w, h), &kinds(&pieces), &values, Some(&counts), &mut plenty());
        assert_eq!((answer.value, answer.bound), (best, best), "{w}x{h} {pieces:?} {counts:?} {values:?}");
        let cut = counted(&answer.layout, &kinds(&pieces));
        assert_eq!(worth(&cut), best);
        assert!(cut.iter().zip(&counts).all(|(n, most)| n <= most));
        assert!(value_bound(sheet(w, h), &kinds(&pieces), &values) >= best);
    }
}

#[test]
fn two_sheets_are_worth_what_the_enumeration_says_and_bounds_hold() {
    let mut rng = SmallRng::seed_from_u64(22);
    let mut best_found = 0;
    for _ in 0..100 {
        let (w, h) = (rng.random_range(3..=7), rng.random_range(3..=7));
        let (pieces, counts) = some_pieces(&mut rng, 5, 3, 4);
        let values: Vec<i64> = pieces.iter().map(|_| rng.random_range(1..30)).collect();
        let worth = |n: &Vec<u32>| n.iter().zip(&values).map(|(&n, v)| i64::from(n) * v).sum::<i64>();
        let mut all = Enumeration::new(&pieces, &counts);
        let one = all.yields(w, h);
        let mut two = BTreeSet::new();
        all.add(&mut two, &one, &one);
        let best = two.iter().map(worth).max().unwrap();
        let answer = knapsacks(sheet(w, h), 2, &kinds(&pieces), &values, &counts, &mut Work::steps(500_000));
        assert!(answer.value <= best && best <= answer.bound, "{w}x{h} {pieces:?} {counts:?} {values:?}");
        let mut cut = vec![0; pieces.len()];
        for layout in &answer.layouts {
            for (sum, n) in cut.iter_mut().zip(counted(layout, &kinds(&pieces))) {
                *sum += n;
            }
        }
        assert!(answer.layouts.len() == 2 && cut.iter().zip(&counts).all(|(n, most)| n <= most));
        assert_eq!(worth(&cut), answer.value);
        best_found += u32::from(answer.value == best);
    }
    assert!(best_found >= 97, "{best_found} of 100 are best");
}

/// All multisets within `limits` that rows across the width yield: pieces side by side, rows one above the other.
fn two_stage_yields(w: u32, h: u32, pieces: &[Piece], limits: &[u32]) -> BTreeSet<Vec<u32>> {
    fn row(
        w: u32,
        from: usize,
        cut: &mut Vec<u32>,
        pieces: &[Piece],
        limits: &[u32],
        all: &mut BTreeSet<Vec<u32>>,
    ) {
        all.insert(cut.clone());
        for k in from..pieces.len() {
            if pieces[k].0 <= w && cut[k] < limits[k] {
                cut[k] += 1;
                row(w - pieces[k].0, k, cut, pieces, limits, all);
                cut[k] -= 1;
            }
        }
    }
    let mut rows = BTreeSet::new();
    row(w, 0, &mut vec![0; pieces.len()], pieces, limits, &mut rows);
    let height =
        |cut: &Vec<u32>| (0..cut.len()).filter(|&k| cut[k] > 0).map(|k| pieces[k].1).max().unwrap_or(0);
    let mut within: Vec<BTreeSet<Vec<u32>>> = vec![BTreeSet::from([vec![0; pieces.len()]])];
    for y in 1..=h {
        let mut here = within[within.len() - 1].clone();
        for cut in rows.iter().filter(|c| height(c) > 0 && height(c) <= y) {
            for below in &within[(y - height(cut)) as usize] {
                let sum: Vec<u32> = below.iter().zip(cut).map(|(a, b)| a + b).collect();
                if sum.iter().zip(limits).all(|(n, limit)| n <= limit) {
                    here.insert(sum);
                }
            }
        }
        within.push(here);
    }
    within.pop().unwrap()
}

#[test]
fn two_stages_are_worth_what_trying_all_rows_says() {
    let mut rng = SmallRng::seed_from_u64(23);
    for _ in 0..400 {
        let (w, h) = (rng.random_range(3..=9), rng.random_range(3..=9));
        let (pieces, counts) = some_pieces(&mut rng, 6, 4, 3);
        let pieces: Vec<Piece> = pieces.into_iter().map(|(a, b, _)| (a, b, false)).collect();
        let values: Vec<i64> = pieces.iter().map(|_| rng.random_range(1..30)).collect();
        let worth = |n: &Vec<u32>| n.iter().zip(&values).map(|(&n, v)| i64::from(n) * v).sum::<i64>();
        let best = two_stage_yields(w, h, &pieces, &counts).iter().map(worth).max().unwrap();
        let answer = two_stage_knapsack(sheet(w, h), &kinds(&pieces), &values, &counts, &mut plenty());
        assert_eq!((answer.value, answer.bound), (best, best), "{w}x{h} {pieces:?} {counts:?} {values:?}");
        assert_eq!(worth(&counted(&answer.layout, &kinds(&pieces))), best);
    }
}

#[test]
fn with_unlimited_copies_the_value_table_is_exact() {
    let mut rng = SmallRng::seed_from_u64(14);
    for _ in 0..600 {
        let (w, h) = (rng.random_range(3..=8), rng.random_range(3..=8));
        let (pieces, _) = some_pieces(&mut rng, 8, 3, 1);
        let pieces: Vec<Piece> = pieces.into_iter().map(|(a, b, t)| (a.max(2), b.max(2), t)).collect();
        let plenty_of_each = vec![16; pieces.len()];
        let values: Vec<i64> = pieces.iter().map(|_| rng.random_range(1..30)).collect();
        let worth = |n: &Vec<u32>| n.iter().zip(&values).map(|(&n, v)| i64::from(n) * v).sum::<i64>();
        let best = Enumeration::new(&pieces, &plenty_of_each).yields(w, h).iter().map(worth).max().unwrap();
        assert_eq!(value_bound(sheet(w, h), &kinds(&pieces), &values), best, "{w}x{h} {pieces:?} {values:?}");
        let answer = knapsack(sheet(w, h), &kinds(&pieces), &values, None, &mut plenty());
        assert_eq!((answer.value, answer.bound), (best, best));
        assert_eq!(worth(&counted(&answer.layout, &kinds(&pieces))), best);
    }
}

#[test]
fn several_sheets_are_answered_as_the_enumeration_answers() {
    let mut rng = SmallRng::seed_from_u64(15);
    let mut yes = 0;
    for round in 0..1_500 {
        let side = |rng: &mut SmallRng| rng.random_range(2..=6);
        let sheets: Vec<(u32, u32)> =
            (0..rng.random_range(1..=3)).map(|_| (side(&mut rng), side(&mut rng))).collect();
        let (pieces, counts) = some_pieces(&mut rng, 5, 3, 4);
        let allowed: Option<Vec<Vec<bool>>> = (round % 3 == 0)
            .then(|| pieces.iter().map(|_| sheets.iter().map(|_| rng.random_bool(0.7)).collect()).collect());
        let may = |k: usize, s: usize| allowed.as_ref().is_none_or(|a| a[k][s]);
        let mut sums = BTreeSet::from([vec![0; pieces.len()]]);
        for (s, &(w, h)) in sheets.iter().enumerate() {
            let limits: Vec<u32> = (0..pieces.len()).map(|k| if may(k, s) { counts[k] } else { 0 }).collect();
            let here = Enumeration::new(&pieces, &limits).yields(w, h);
            let mut more = BTreeSet::new();
            Enumeration::new(&pieces, &counts).add(&mut more, &sums, &here);
            sums = more;
        }
        let fits = sums.contains(&counts);
        let given: Vec<Sheet> = sheets.iter().map(|&(w, h)| sheet(w, h)).collect();
        match fit_all(&given, &kinds(&pieces), &counts, allowed.as_deref(), &mut plenty()) {
            FitAll::Yes(layouts) => {
                assert!(fits && layouts.len() == sheets.len());
                let mut all = vec![0; pieces.len()];
                for (s, layout) in layouts.iter().enumerate() {
                    assert_eq!((layout.width(), layout.height()), (given[s].width, given[s].height));
                    for (k, n) in counted(layout, &kinds(&pieces)).into_iter().enumerate() {
                        assert!(n == 0 || may(k, s));
                        all[k] += n;
                    }
                }
                assert_eq!(all, counts);
                yes += 1;
            }
            FitAll::No(proof) => assert!(!fits, "{sheets:?} {pieces:?} {counts:?} {allowed:?} {proof}"),
            FitAll::Unknown => panic!("undecided: {sheets:?} {pieces:?} {counts:?}"),
        }
    }
    assert!((200..1_300).contains(&yes), "both answers occur: {yes} yes");
}

/// The least cost of cutting `left` from any number of sheets, by trying every yield of every sheet.
fn least_cost(
    left: &[u32],
    yields: &[(i64, BTreeSet<Vec<u32>>)],
    known: &mut HashMap<Vec<u32>, Option<i64>>,
) -> Option<i64> {
    if left.iter().all(|&n| n == 0) {
        return Some(0);
    }
    if let Some(answer) = known.get(left) {
        return *answer;
    }
    let mut best: Option<i64> = None;
    for (cost, all) in yields {
        for cut in all {
            if cut.iter().any(|&n| n > 0) && cut.iter().zip(left).all(|(c, l)| c <= l) {
                let rest: Vec<u32> = left.iter().zip(cut).map(|(l, c)| l - c).collect();
                let total = least_cost(&rest, yields, known).map(|t| t + cost);
                best = [best, total].into_iter().flatten().min();
            }
        }
    }
    known.insert(left.to_vec(), best);
    best
}

#[test]
fn sheets_to_buy_never_cost_less_than_the_enumerations_and_bounds_hold() {
    let mut rng = SmallRng::seed_from_u64(21);
    let (mut cases, mut least, mut proved) = (0, 0, 0);
    for _ in 0..400 {
        let stock: Vec<(u32, u32, i64)> = (0..rng.random_range(1..=3))
            .map(|_| (rng.random_range(3..=6), rng.random_range(3..=6), rng.random_range(5..=12)))
            .collect();
        let (pieces, counts) = some_pieces(&mut rng, 5, 3, 4);
        let yields: Vec<(i64, BTreeSet<Vec<u32>>)> = stock
            .iter()
            .map(|&(w, h, cost)| (cost, Enumeration::new(&pieces, &counts).yields(w, h)))
            .collect();
        let best = least_cost(&counts, &yields, &mut HashMap::new());
        let sheets: Vec<Purchasable> =
            stock.iter().map(|&(w, h, cost)| Purchasable { sheet: sheet(w, h), cost }).collect();
        let answer = cheapest(&sheets, &kinds(&pieces), &counts, &mut Work::steps(1_000_000));
        assert_eq!(answer.cost.is_some(), best.is_some());
        let (Some(cost), Some(best)) = (answer.cost, best) else { continue };
        assert!(answer.bound <= best && best <= cost, "{stock:?} {pieces:?} {counts:?}");
        let mut all = vec![0; pieces.len()];
        for (at, layout) in &answer.layouts {
            assert_eq!(
                (layout.width(), layout.height()),
                (sheets[*at].sheet.width, sheets[*at].sheet.height)
            );
            for (sum, n) in all.iter_mut().zip(counted(layout, &kinds(&pieces))) {
                *sum += n;
            }
        }
        assert_eq!(all, counts);
        assert_eq!(answer.layouts.iter().map(|(at, _)| sheets[*at].cost).sum::<i64>(), cost);
        cases += 1;
        least += u32::from(cost == best);
        proved += u32::from(answer.bound == cost);
    }
    assert!(
        cases > 200 && 100 * least >= 98 * cases && 10 * proved >= 6 * cases,
        "{least}, {proved} of {cases}"
    );
}

#[test]
fn yardage_is_never_shorter_than_the_enumerations_and_bounds_hold() {
    let mut rng = SmallRng::seed_from_u64(16);
    let (mut cases, mut least) = (0, 0);
    for _ in 0..400 {
        let w = rng.random_range(3..=7);
        let (pieces, counts) = some_pieces(&mut rng, w, 3, 2);
        let longest = 16;
        let mut all = Enumeration::new(&pieces, &counts);
        let Some(best) = (1..=longest).find(|&h| all.yields(w, h).contains(&counts)) else { continue };
        let answer =
            shortest(length(w), length(longest), &kinds(&pieces), &counts, &mut Work::steps(20_000_000));
        assert!(answer.bound <= length(best), "bound too high: {w} {pieces:?} {counts:?}");
        let (layout, used) = answer.found.expect("pieces no wider than the fabric fit in enough length");
        assert!(used >= length(best));
        assert_eq!(counted(&layout, &kinds(&pieces)), counts);
        assert!(layout.pieces().iter().all(|p| p.1.y + p.1.height <= used));
        if used < length(longest) {
            let Node::Cut(first) = layout.root() else { panic!("the unused length is cut off") };
            assert_eq!((first.axis, first.at, &first.second), (Axis::Height, used, &Node::Leftover));
        }
        cases += 1;
        least += u32::from(used == length(best));
    }
    assert!(cases > 300 && 100 * least >= 95 * cases, "{least} of {cases} are least");
}

fn wishes(useful_side: u32) -> Wishes {
    Wishes { useful_side: length(useful_side), units: Units::Inches }
}

#[test]
fn the_layout_with_most_left_over_has_exactly_the_pieces_and_its_least_sheet_works() {
    let mut rng = SmallRng::seed_from_u64(17);
    for _ in 0..300 {
        let (w, h) = (rng.random_range(4..=9), rng.random_range(4..=9));
        let (pieces, counts) = some_pieces(&mut rng, 5, 3, 2);
        let fits = Enumeration::new(&pieces, &counts).yields(w, h).contains(&counts);
        let found = most_leftover(sheet(w, h), &kinds(&pieces), &counts, wishes(1), &mut plenty());
        assert_eq!(found.is_some(), fits);
        let Some(layout) = found else { continue };
        assert_eq!(counted(&layout, &kinds(&pieces)), counts);
        replay(&layout);
        assert_eq!(tidy(&layout), layout, "what is handed out is tidy");
        let least = least_sheet(&layout);
        assert!(least.width <= layout.width() && least.height <= layout.height());
        assert!(matches!(fit_one(least, &kinds(&pieces), &counts, &mut plenty()), Fit::Yes(_)));
    }
}

#[test]
fn turning_scaling_or_renaming_everything_changes_no_answer() {
    let mut rng = SmallRng::seed_from_u64(18);
    let fits = |sheet: Sheet, pieces: &[Piece], counts: &[u32]| match fit_one(
        sheet,
        &kinds(pieces),
        counts,
        &mut plenty(),
    ) {
        Fit::Yes(_) => true,
        Fit::No(_) => false,
        Fit::Unknown => panic!("undecided: {pieces:?} {counts:?}"),
    };
    let best = |sheet: Sheet, pieces: &[Piece], values: &[i64], counts: &[u32]| {
        let answer = knapsack(sheet, &kinds(pieces), values, Some(counts), &mut plenty());
        assert_eq!(answer.value, answer.bound);
        answer.value
    };
    for _ in 0..300 {
        let (w, h) = (rng.random_range(8..=16), rng.random_range(8..=16));
        let (pieces, counts) = some_pieces(&mut rng, 9, 5, 2);
        let values: Vec<i64> = pieces.iter().map(|p| i64::from(p.0 * p.1)).collect();
        let fit = fits(sheet(w, h), &pieces, &counts);
        let value = best(sheet(w, h), &pieces, &values, &counts);

        let turned: Vec<Piece> = pieces.iter().map(|p| (p.1, p.0, p.2)).collect();
        assert_eq!(fit, fits(sheet(h, w), &turned, &counts));
        assert_eq!(value, best(sheet(h, w), &turned, &values, &counts));

        let larger: Vec<Piece> = pieces.iter().map(|p| (3 * p.0, 3 * p.1, p.2)).collect();
        assert_eq!(fit, fits(sheet(3 * w, 3 * h), &larger, &counts));

        fn backwards<T: Copy>(all: &[T]) -> Vec<T> {
            all.iter().rev().copied().collect()
        }
        let (renamed, recounted) = (backwards(&pieces), backwards(&counts));
        assert_eq!(fit, fits(sheet(w, h), &renamed, &recounted));
        assert_eq!(value, best(sheet(w, h), &renamed, &backwards(&values), &recounted));

        assert!(!fit || fits(sheet(w + 1, h + 2), &pieces, &counts), "more fabric never hurts");
    }
}

#[test]
fn the_same_question_gets_the_same_answer_to_the_last_cut() {
    let pieces = [(5, 3, true), (4, 4, false), (7, 2, true), (3, 2, true)];
    let counts = [3, 2, 2, 5];
    let ask =
        || most_leftover(sheet(16, 12), &kinds(&pieces), &counts, wishes(2), &mut Work::steps(5_000_000));
    assert!(ask().is_some());
    assert_eq!(ask(), ask());
}
