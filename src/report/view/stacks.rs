//! Stacks: how many sheets that are cut alike lie on one another.

use crate::report::view::words;

/// How sheets that are cut alike are laid on one another.
pub(crate) struct Stacks {
    /// Sheets in each stack; as even as can be, no stack over the limit.
    pub(crate) sizes: Vec<usize>,
    /// The most layers at once.
    pub(crate) layers: u32,
}

impl Stacks {
    /// Stacks for `sheets` sheets of at most `layers` layers. Fabric that must be `folded` to be cut with a
    /// ruler lies double, so only half as many sheets go on one another.
    pub(crate) fn of(sheets: usize, layers: u32, folded: bool) -> Stacks {
        let layers = layers.max(1);
        let limit = if folded { (layers / 2).max(1) } else { layers };
        let limit = usize::try_from(limit).expect("a stack has few layers");
        let number = sheets.div_ceil(limit).max(1);
        let sizes = (0..number).map(|i| sheets / number + usize::from(i < sheets % number)).collect();
        Stacks { sizes, layers }
    }

    /// What to do with `sheets` sheets that are cut alike, in one sentence.
    pub(crate) fn sentence(&self, sheets: usize, folded: bool) -> String {
        let mut kinds: Vec<(usize, usize)> = Vec::new();
        for &size in &self.sizes {
            match kinds.last_mut() {
                Some((known, number)) if *known == size => *number += 1,
                _ => kinds.push((size, 1)),
            }
        }
        let parts: Vec<String> = kinds
            .into_iter()
            .map(|(size, number)| format!("{} of {size}", words::count(number, "stack", "stacks")))
            .collect();
        let why = if folded { " Folding makes two layers of each." } else { "" };
        format!(
            "{sheets} are cut alike: make {}, at most {} layers at once.{why}",
            words::list(&parts),
            self.layers
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twenty_four_sheets_cut_alike_make_six_stacks_of_four() {
        assert_eq!(Stacks::of(24, 4, false).sizes, [4; 6]);
        assert_eq!(Stacks::of(10, 4, false).sizes, [4, 3, 3]);
        assert_eq!(Stacks::of(1, 4, false).sizes, [1]);
    }

    #[test]
    fn a_folded_sheet_counts_as_two_layers() {
        assert_eq!(Stacks::of(4, 4, true).sizes, [2, 2]);
        assert_eq!(Stacks::of(2, 1, true).sizes, [1, 1]);
    }
}
