//! Builds small stashes and patterns for the planning tests, sizes in eighths of an inch.
#![allow(dead_code, unreachable_pub)] // each test file uses its own part

use cutcloth::fabric::Cut;
use cutcloth::length::Length;
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{Block, Count, Matching, Pattern, PieceLine, Role, RoleId, Shape};
use cutcloth::placements::Placements;
use cutcloth::planning::{Outcome, Rules, Stop, plan};
use cutcloth::stash::{Lot, Print, PrintId, Stash};

/// Eighths of an inch.
pub fn e(eighths: i64) -> Length {
    Length::from_eighths(eighths)
}

/// A stash and a pattern on one table.
#[derive(Clone, Debug, Default)]
pub struct Table {
    pub stash: Stash,
    pub pattern: Pattern,
    pub rules: Rules,
}

impl Table {
    /// `count` sheets of a print, named by its cut of fabric.
    pub fn lot(&mut self, print: &str, cut: &str, width: i64, length: i64, count: u32) -> &mut Lot {
        let id = match self.stash.prints.iter().position(|known| known.name == print) {
            Some(known) => PrintId(known),
            None => {
                self.stash.prints.push(Print { name: print.into() });
                PrintId(self.stash.prints.len() - 1)
            }
        };
        let row = u32::try_from(self.stash.lots.len() + 1).unwrap();
        let cut = Cut::find(cut).unwrap_or_else(|| panic!("{cut} is a cut of fabric"));
        self.stash.lots.push(Lot { row: Some(row), count, ..Lot::plain(id, cut, e(width), e(length)) });
        self.stash.lots.last_mut().unwrap()
    }

    /// A 10-inch square pack: `prints` prints of `each` squares.
    pub fn pack(&mut self, name: &str, prints: usize, each: u32) {
        for number in 0..prints {
            self.lot(&format!("{name} {number}"), "10-inch square", 80, 80, each);
        }
    }

    /// A block of `make` copies whose pieces, (width, height, count per copy), share one role and matching.
    pub fn block(&mut self, name: &str, make: u32, matching: Matching, pieces: &[(i64, i64, u32)]) {
        let role = RoleId(self.pattern.roles.len());
        self.pattern.roles.push(Role { name: format!("{name} fabric"), ..Role::default() });
        let line = |(number, &(width, height, count)): (usize, &(i64, i64, u32))| PieceLine {
            label: format!("{name}{number}"),
            role,
            width: e(width),
            height: e(height),
            count: Count::PerCopy(count),
            shape: Shape::Rectangle,
            matching,
            line: 0,
        };
        let pieces = pieces.iter().enumerate().map(line).collect();
        self.pattern.blocks.push(Block { name: name.into(), make, pieces, ..Block::default() });
    }

    /// Limits the last block's role to these cuts of fabric.
    pub fn from(&mut self, cuts: &[&str]) {
        let role = self.pattern.roles.last_mut().unwrap();
        role.from = cuts.iter().map(|cut| Cut::find(cut).unwrap()).collect();
    }

    pub fn demand(&self) -> Demand {
        Demand::expand(&self.pattern, &Loosened::default())
    }

    pub fn plan(&self) -> Outcome {
        plan(&self.stash, &self.pattern, &Placements::default(), &self.rules, &Stop::never(), &mut |_| {})
    }
}

/// What opening so many eighths-squared at this weight counts.
pub fn fabric(width: i64, length: i64, count: i128, weight: i128) -> i128 {
    i128::from(e(width).by(e(length)).square_ticks()) * count * weight
}
