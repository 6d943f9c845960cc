//! What readers take in at most: one table, which `data/files.md` prints and a test holds to it.
//!
//! Each limit lies far above anything a quilt needs, and low enough that a file named by mistake costs seconds and some
//! hundred megabytes, not the machine. They count what is read, never what a file's size claims.

/// Bytes of a stash, a pattern or placements.
pub const FILE_BYTES: u64 = 8 * 1024 * 1024;
/// Bytes of `plan.json`, which is larger than all its inputs together.
pub const RECORD_BYTES: u64 = 64 * 1024 * 1024;
/// Columns with content, from the first to the last.
pub const COLUMNS: usize = 200;
/// Rows with content below the headings.
pub const ROWS: usize = 50_000;
/// Characters of one cell.
pub const CELL: usize = 2_000;
/// A count in a cell; a larger one is a slip, and would only fill the memory.
pub const COUNT: u32 = 9_999;
/// Pieces of a quilt.
pub const PIECES: u64 = 50_000;
/// Messages of one kind that are told one by one.
pub const ALIKE: usize = 200;

/// One limit, in words.
#[derive(Clone, Copy, Debug)]
pub struct Limit {
    /// What is counted.
    pub what: &'static str,
    /// The most of it.
    pub most: u64,
    /// What happens to more.
    pub beyond: &'static str,
}

/// Every limit, in the order in which a file meets them.
pub const LIMITS: &[Limit] = &[
    limit("bytes of a stash, pattern or placements file", FILE_BYTES, "refused"),
    limit("bytes of `plan.json`", RECORD_BYTES, "refused"),
    limit("columns of a table", COLUMNS as u64, "refused"),
    limit("rows of a table, blank ones not counted", ROWS as u64, "refused"),
    limit("characters in a cell", CELL as u64, "the row is refused"),
    limit("a count in a cell", COUNT as u64, "the row is refused"),
    limit("pieces of a quilt", PIECES, "refused"),
    limit("messages of one kind about a file", ALIKE as u64, "counted in one last message"),
];

const fn limit(what: &'static str, most: u64, beyond: &'static str) -> Limit {
    Limit { what, most, beyond }
}

/// A number as a person reads it: `8431` is `8,431`.
pub fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_set_apart() {
        let said = [0, 999, 1000, 8431, 1_000_000].map(grouped);
        assert_eq!(said, ["0", "999", "1,000", "8,431", "1,000,000"]);
    }
}
