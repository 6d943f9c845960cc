//! What comes out of the sheets of a print, by cutting at every whole inch: the ways to open sheets, each with the sets
//! that can be served from it, as far as no other way gives all of that and more.

use std::collections::HashMap;

use crate::world::{CUTS, Print, World, YARDAGE};

/// Counts: of pieces by size, or of sets by kind.
pub(crate) type Counts = Vec<u32>;

fn within(one: &[u32], other: &[u32]) -> bool {
    one.iter().zip(other).all(|(a, b)| a <= b)
}

/// Adds a count unless another holds it, and drops those it holds.
fn add(all: &mut Vec<Counts>, one: Counts) {
    if !all.iter().any(|other| within(&one, other)) {
        all.retain(|other| !within(other, &one));
        all.push(one);
    }
}

/// A size of piece that some cuts of fabric may serve (any, when the list is empty).
type Piece = ((i64, i64), Vec<usize>);

/// The question of one world: its pieces, how many are wanted, and what is known of rectangles.
pub(crate) struct Yields {
    pieces: Vec<Piece>,
    wanted: Counts,
    /// By kind of set: pieces.
    needs: Vec<Counts>,
    /// By kind of set: how many.
    sets: Counts,
    known: HashMap<(usize, i64, i64, bool), Vec<Counts>>,
}

/// One way to open sheets of a print.
#[derive(Clone, Debug)]
pub(crate) struct Opening {
    pub(crate) cost: i64,
    /// Sets served at most, by kind.
    pub(crate) sets: Counts,
}

impl Yields {
    pub(crate) fn new(world: &World) -> Yields {
        let mut sets = vec![0; world.kinds.len()];
        for block in &world.blocks {
            for &kind in &block.kinds {
                sets[kind] += u32::try_from(block.make).expect("few");
            }
        }
        let of = |size: (i64, i64), from: &[usize]| (size, from.to_vec());
        let all = world.kinds.iter().flat_map(|kind| kind.pieces.iter().map(|&size| of(size, &kind.from)));
        let mut pieces: Vec<Piece> = all.collect();
        pieces.sort();
        pieces.dedup();
        let needs: Vec<Counts> = world
            .kinds
            .iter()
            .map(|kind| {
                let mut need = vec![0; pieces.len()];
                for &size in &kind.pieces {
                    let place = pieces.iter().position(|piece| *piece == of(size, &kind.from));
                    need[place.expect("listed")] += 1;
                }
                need
            })
            .collect();
        let wanted = (0..pieces.len())
            .map(|piece| needs.iter().zip(&sets).map(|(need, count)| need[piece] * count).sum())
            .collect();
        Yields { pieces, wanted, needs, sets, known: HashMap::new() }
    }

    /// The most that can be cut from a rectangle of a cut of fabric: no count within another.
    fn rectangle(&mut self, cut: usize, w: i64, h: i64, turn: bool) -> Vec<Counts> {
        if let Some(known) = self.known.get(&(cut, w, h, turn)) {
            return known.clone();
        }
        let mut all = vec![vec![0; self.pieces.len()]];
        for (place, ((a, b), from)) in self.pieces.iter().enumerate() {
            let fits = (*a <= w && *b <= h) || (turn && *b <= w && *a <= h);
            if fits && self.wanted[place] > 0 && (from.is_empty() || from.contains(&cut)) {
                let mut one = vec![0; self.pieces.len()];
                one[place] = 1;
                add(&mut all, one);
            }
        }
        for x in 1..=w / 2 {
            let parts = (self.rectangle(cut, x, h, turn), self.rectangle(cut, w - x, h, turn));
            self.both(&mut all, &parts.0, &parts.1);
        }
        for y in 1..=h / 2 {
            let parts = (self.rectangle(cut, w, y, turn), self.rectangle(cut, w, h - y, turn));
            self.both(&mut all, &parts.0, &parts.1);
        }
        self.known.insert((cut, w, h, turn), all.clone());
        all
    }

    /// What two parts give together, as far as it is wanted.
    fn both(&self, all: &mut Vec<Counts>, first: &[Counts], second: &[Counts]) {
        for one in first {
            for other in second {
                let sum = one.iter().zip(other).zip(&self.wanted).map(|((a, b), &most)| (a + b).min(most));
                add(all, sum.collect());
            }
        }
    }

    /// Every way to open sheets of a print that is worth it.
    pub(crate) fn openings(&mut self, print: &Print) -> Vec<Opening> {
        let mut ways: Vec<(i64, Vec<Counts>)> = vec![(0, vec![vec![0; self.pieces.len()]])];
        for sheet in &print.sheets {
            let lengths = if sheet.cut == YARDAGE { 1..=sheet.h } else { sheet.h..=sheet.h };
            let before = ways.clone();
            for length in lengths {
                let cost = CUTS[sheet.cut].1 * sheet.w * length;
                let from_it = self.rectangle(sheet.cut, sheet.w, length, print.turn);
                for (spent, pieces) in &before {
                    let mut all = Vec::new();
                    self.both(&mut all, pieces, &from_it);
                    ways.push((spent + cost, all));
                }
            }
        }
        let mut openings: Vec<Opening> = Vec::new();
        ways.sort();
        for (cost, pieces) in ways {
            for sets in self.served(&pieces) {
                if !openings.iter().any(|cheaper| within(&sets, &cheaper.sets)) {
                    openings.push(Opening { cost, sets });
                }
            }
        }
        openings.retain(|opening| opening.sets.iter().any(|&count| count > 0));
        openings
    }

    /// The most sets that any of these counts of pieces serve.
    fn served(&self, pieces: &[Counts]) -> Vec<Counts> {
        let mut all = Vec::new();
        let mut sets = vec![0; self.sets.len()];
        loop {
            let need: Counts = (0..self.pieces.len())
                .map(|piece| self.needs.iter().zip(&sets).map(|(need, count)| need[piece] * count).sum())
                .collect();
            if pieces.iter().any(|most| within(&need, most)) {
                add(&mut all, sets.clone());
            }
            // The next count, as an odometer turns.
            let Some(place) = (0..sets.len()).find(|&kind| sets[kind] < self.sets[kind]) else { return all };
            sets[place] += 1;
            sets[..place].fill(0);
        }
    }
}
