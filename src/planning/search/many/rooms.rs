//! Do so many fillings of one, two or more sheets go into the prints that there are?

use crate::planning::columns::supply::{Fill, Supplies, Supply};

/// What is taken of every supply.
pub(crate) struct Rooms {
    all: Vec<Room>,
}

struct Room {
    prints: u32,
    /// Sheets in one print.
    copies: usize,
    /// Length in ticks that is not taken, of all.
    free: i64,
    by_length: bool,
    /// How many fillings there are, by their sheets.
    fills: Vec<u32>,
}

impl Rooms {
    pub(crate) fn new(supplies: &Supplies) -> Rooms {
        let room = |supply: &Supply| {
            let prints = u32::try_from(supply.prints.len()).unwrap_or(u32::MAX);
            Room {
                prints,
                copies: supply.copies as usize,
                free: supply.all() * i64::from(prints),
                by_length: supply.kind.by_length,
                fills: vec![0; supply.copies as usize + 1],
            }
        };
        Rooms { all: supplies.all.iter().map(room).collect() }
    }

    /// Takes one filling instead of another if there is room; of yardage, as if lengths could be divided.
    pub(crate) fn exchange(&mut self, out: Option<&Fill>, new: Option<&Fill>) -> bool {
        if let Some(out) = out {
            self.all[out.supply].take(out, false);
        }
        let Some(new) = new else { return true };
        let room = &mut self.all[new.supply];
        room.take(new, true);
        if room.holds() {
            return true;
        }
        room.take(new, false);
        if let Some(out) = out {
            self.all[out.supply].take(out, true);
        }
        false
    }
}

impl Room {
    fn take(&mut self, fill: &Fill, more: bool) {
        let used = fill.used().ticks();
        if !self.by_length {
            let number = &mut self.fills[fill.sheets.len()];
            *number = if more { *number + 1 } else { *number - 1 };
        }
        self.free += if more { -used } else { used };
    }

    /// Largest fillings first, each where it leaves least room.
    fn holds(&self) -> bool {
        if self.free < 0 || self.by_length || self.copies < 3 {
            return self.free >= 0;
        }
        // Prints by sheets that are free.
        let mut free = vec![0; self.copies + 1];
        free[self.copies] = self.prints;
        for sheets in (2..=self.copies).rev() {
            let mut left = self.fills[sheets];
            while left > 0 {
                let Some(room) = (sheets..=self.copies).find(|&room| free[room] > 0) else { return false };
                let here = left.min(free[room]);
                free[room] -= here;
                free[room - sheets] += here;
                left -= here;
            }
        }
        true // single ones go anywhere
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By trying every print for every filling.
    fn goes(fills: &[usize], free: &mut Vec<usize>) -> bool {
        let Some((&first, rest)) = fills.split_first() else { return true };
        (0..free.len()).any(|print| {
            if free[print] < first {
                return false;
            }
            free[print] -= first;
            let goes = goes(rest, free);
            free[print] += first;
            goes
        })
    }

    #[test]
    fn what_is_said_to_go_in_does_and_of_few_sheets_all_that_does_is_said() {
        let (mut yes, mut no) = (0, 0);
        for copies in 1..=6 {
            for numbers in 0..5_u32.pow(4) {
                let fills: Vec<u32> = (0..=6_u32)
                    .map(|n| if (1..=4).contains(&n) { numbers / 5_u32.pow(n - 1) % 5 } else { 0 })
                    .collect();
                let sheets: Vec<usize> = (1..=4).flat_map(|n| vec![n; fills[n] as usize]).rev().collect();
                if sheets.iter().any(|&n| n > copies) || sheets.len() > 9 {
                    continue;
                }
                let all =
                    i64::try_from(3 * copies).unwrap() - i64::try_from(sheets.iter().sum::<usize>()).unwrap();
                let room = Room { prints: 3, copies, free: all, by_length: false, fills };
                let goes = goes(&sheets, &mut vec![copies; 3]);
                // Largest first misses some from six sheets on (three threes and four twos).
                assert!(goes || !room.holds(), "{sheets:?} into three prints of {copies}");
                assert!(room.holds() || !goes || copies > 5, "{sheets:?} into three prints of {copies}");
                if goes { yes += 1 } else { no += 1 }
            }
        }
        assert!(yes > 500 && no > 500, "{yes} {no}");
    }
}
