//! Every code a diagnostic may carry, with its meaning. Tests hold the source and the documentation to this list.

/// Code -> what it says, in the order of the codes. The letter names the kind of file: F any file, S stash,
/// C cutting chart, T pattern in TOML, P placements, N what a pattern needs.
pub const CODES: &[(&str, &str)] = &[
    ("F100", "the file cannot be opened"),
    ("F101", "the file is not text"),
    ("F102", "the file is not UTF-8; the encoding it was read in"),
    ("F103", "the file is empty"),
    ("F104", "there are headings and no rows"),
    ("F105", "two columns mean the same"),
    ("F106", "a row has not as many cells as there are headings"),
    ("F107", "a quotation mark is never closed"),
    ("F108", "blank rows were left out"),
    ("F109", "a column is missing"),
    ("F110", "a column is not used"),
    ("F111", "a column with content has no heading"),
    ("F112", "lines above the headings were left out"),
    ("F113", "the headings are those of no file known"),
    ("F114", "the file lies in a folder that a run has not done writing into"),
    ("F201", "not a length"),
    ("F202", "a length was rounded to the nearest exact one"),
    ("F203", "a length is not above zero"),
    ("F204", "not a whole number"),
    ("F205", "a number is below one"),
    ("F206", "a number is too large"),
    ("F207", "a word is not one of those expected"),
    ("F208", "a cell is empty that must be filled"),
    ("F209", "a size is given twice"),
    ("S101", "unknown cut of fabric"),
    ("S102", "the size must be measured and is not given"),
    ("S103", "wider than any fabric"),
    ("S104", "longer than any fabric"),
    ("S105", "the squaring-up allowance leaves nothing"),
    ("S106", "not a price"),
    ("S107", "the size given is far from the cut's usual size"),
    ("S108", "one print has two colours or values"),
    ("S109", "one print is directional and is not"),
    ("S110", "two spellings were taken as one print"),
    ("S111", "not a colour; left open"),
    ("S112", "not a value; left open"),
    ("S113", "a length written as the cut was taken as yardage"),
    ("S114", "width and length may have changed places"),
    ("C101", "the first rows name no block"),
    ("C102", "how many copies of a block is not said"),
    ("C103", "two different numbers of copies of one block"),
    ("C104", "count and total disagree"),
    ("C105", "neither count nor total is given"),
    ("C106", "one label means two things in a block"),
    ("C107", "a piece that is cut corner to corner is no square"),
    ("C108", "unknown shape"),
    ("C109", "unknown matching rule"),
    ("C110", "unknown cut of fabric that a role may be taken from"),
    ("C111", "one role may be taken from two different lists of cuts"),
    ("C112", "one role has two matching rules"),
    ("C113", "a total does not divide over the copies of its block"),
    ("C114", "more pieces than can be planned"),
    ("C115", "labels were made up"),
    ("C116", "the block above was taken for rows that name none"),
    ("C117", "longer than any fabric"),
    ("C118", "rows of two quilts in one chart"),
    ("C119", "a rule of one role is said in two ways"),
    ("C120", "a rule names a role that is not there"),
    ("C121", "not a rule of contrast"),
    ("T101", "the pattern is not UTF-8 text"),
    ("T102", "the text is not TOML"),
    ("T103", "a key that means nothing here"),
    ("T104", "a key is missing"),
    ("T105", "a value of the wrong kind"),
    ("T106", "not a length or a size"),
    ("T107", "a number is out of range"),
    ("T108", "a word is not one of those possible"),
    ("T109", "a role that is not declared"),
    ("T110", "one name for two things"),
    ("T111", "a unit cannot be made as asked"),
    ("T112", "a place in a row is nothing known"),
    ("T113", "rows do not make the size they should"),
    ("T114", "two counts of one thing differ"),
    ("T115", "something stands in no row"),
    ("T116", "rows contain themselves"),
    ("T117", "a size lies between two marks of the ruler"),
    ("T118", "the quilt's layout cannot be worked out"),
    ("T119", "nothing to cut"),
    ("T120", "a length was moved to a whole tick"),
    ("T121", "the pattern has no size of that name"),
    ("T130", "a rule names a print the stash does not have"),
    ("T131", "rules leave a role no print"),
    ("T132", "prints not taken because their color or value is not known"),
    ("T133", "no print of the stash stands out as much as a rule asks"),
    ("P101", "unknown block"),
    ("P102", "no such copy of the block"),
    ("P103", "unknown role"),
    ("P104", "no fabric of that print"),
    ("P105", "unknown label"),
    ("P106", "no such piece"),
    ("P107", "two prints for what must come from one"),
    ("P108", "the print is only held as fabric kept back"),
    ("P109", "the print is not held in a cut the role may be taken from"),
    ("P110", "a copy is named without its block, or a piece without its label"),
    ("P111", "rows without a print were left open"),
    ("P112", "a place is not named in full: block, copy, row and column"),
    ("P113", "the layout has no such place"),
    ("P114", "the place is for another block"),
    ("P115", "two places for one copy of a block"),
    ("P116", "two copies for one place"),
    ("N100", "a requirement cannot be worked out as asked"),
];

/// What `code` says, or `None` when it is not in the list.
pub fn meaning(code: &str) -> Option<&'static str> {
    CODES.iter().find(|(known, _)| *known == code).map(|(_, meaning)| *meaning)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_in_order_and_each_stands_once_in_its_group() {
        for pair in CODES.windows(2) {
            let (first, second) = (pair[0].0, pair[1].0);
            assert!(first[..1] != second[..1] || first < second, "{first} before {second}");
        }
        assert_eq!(meaning("F103"), Some("the file is empty"));
        assert_eq!(meaning("Z999"), None);
    }
}
