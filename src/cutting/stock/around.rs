//! The surroundings of a basis: what other columns may come in beside it, and the search for those that have a residue
//! and lose little.

use crate::cutting::stock::basis::Basis;
use crate::cutting::stock::residues::{Residue, Residues};

/// A column outside the basis.
pub(crate) struct Move {
    pub(crate) column: usize,
    pub(crate) residue: Residue,
    /// What it costs more than its pieces do with the basis, times the determinant.
    pub(crate) loss: i64,
    /// How often it spares each member of the basis, times the determinant.
    pub(crate) uses: Vec<i64>,
}

/// A basis and what may come in beside it.
pub(crate) struct Around {
    pub(crate) basis: Basis,
    /// Times the determinant.
    pub(crate) prices: Vec<i128>,
    pub(crate) residues: Residues,
    /// Those that lose most first.
    pub(crate) moves: Vec<Move>,
    /// The least weight of moves with each residue.
    pub(crate) least: Vec<i64>,
    /// What each move weighs beyond its loss.
    pub(crate) extra: i64,
}

impl Around {
    /// What a move counts.
    pub(crate) fn weight(&self, one: &Move) -> i64 {
        one.loss.max(0) + self.extra
    }
}

/// One search for moves of a residue.
pub(crate) struct Search<'a> {
    pub(crate) around: &'a Around,
    /// The column that does not come back.
    pub(crate) banned: usize,
    /// Use of each member of the basis as things stand, times the determinant.
    pub(crate) uses: Vec<i64>,
    pub(crate) taken: Vec<usize>,
    pub(crate) turns: u32,
    /// The best so far: its loss, or what is to be undercut; the moves and the use of the basis then.
    pub(crate) loss: i64,
    pub(crate) found: Option<(Vec<usize>, Vec<i64>)>,
}

impl Search<'_> {
    /// Takes moves from number `from` on that come to `residue` and weigh at most `room` together.
    pub(crate) fn go(&mut self, from: usize, residue: &Residue, room: i64, loss: i64) {
        if self.turns == 0 {
            return;
        }
        self.turns -= 1;
        let around = self.around;
        if around.residues.index(residue) == 0 && loss < self.loss && self.uses.iter().all(|&u| u >= 0) {
            self.loss = loss;
            self.found = Some((self.taken.clone(), self.uses.clone()));
        }
        for (at, one) in around.moves.iter().enumerate().skip(from) {
            let weight = around.weight(one);
            if weight > room || one.column == self.banned || loss + one.loss >= self.loss {
                continue;
            }
            let rest = around.residues.difference(residue, &one.residue);
            if around.least[around.residues.index(&rest)] > room - weight {
                continue;
            }
            self.uses.iter_mut().zip(&one.uses).for_each(|(u, more)| *u -= more);
            self.taken.push(at);
            self.go(at, &rest, room - weight, loss + one.loss);
            self.taken.pop();
            self.uses.iter_mut().zip(&one.uses).for_each(|(u, more)| *u += more);
        }
    }
}
