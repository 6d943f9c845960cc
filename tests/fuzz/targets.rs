//! What must hold of whatever a reader makes of a file, be it the demo's or nobody's.

use std::collections::BTreeMap;

use cutcloth::app::{self, Given, Units};
use cutcloth::diagnostic::limits::{ALIKE, PIECES};
use cutcloth::diagnostic::{Diagnostic, Severity, any_error, meaning, visible_line};
use cutcloth::length::Length;
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{self, Pattern};
use cutcloth::stash::{self, Stash};
use cutcloth::verifying::{Inputs, verify};

/// Every diagnostic has a place in the file, a code with a meaning and, if it is an error, a way out; none comes in crowds.
fn told(name: &str, bytes: &[u8], said: &[Diagnostic]) {
    let ends = bytes.iter().filter(|&&byte| byte == b'\n' || byte == b'\r').count();
    let lines = u64::try_from(ends).expect("fits") + 1;
    let mut kinds: BTreeMap<(&str, Severity), usize> = BTreeMap::new();
    for one in said {
        assert_eq!(one.place.file, name, "{one}");
        assert!(one.place.line.is_none_or(|line| (1..=lines).contains(&line)), "{one} of {lines} lines");
        assert!(meaning(one.code).is_some(), "{one}");
        assert!(!one.message.is_empty() && (!one.is_error() || !one.help.is_empty()), "{one}");
        *kinds.entry((one.code, one.severity)).or_insert(0) += 1;
    }
    assert!(kinds.values().all(|&count| count <= ALIKE + 1), "{kinds:?}");
}

/// A name that may be shown as it is.
fn seen(name: &str) {
    assert!(!name.is_empty());
    assert_eq!(visible_line(name.trim()), name, "{name:?}");
}

pub(crate) fn stash(name: &str, bytes: &[u8]) {
    let (stash, said) = stash::read(name, bytes, Length::from_eighths(2));
    told(name, bytes, &said);
    assert!(!stash.lots.is_empty() || any_error(&said), "a stash of nothing is an error");
    for print in &stash.prints {
        seen(&print.name);
    }
    for lot in &stash.lots {
        assert!(lot.count > 0 && lot.print.0 < stash.prints.len());
        assert!(lot.sheet_width() > Length::ZERO && lot.sheet_length() > Length::ZERO);
        assert!(lot.sheet_width() <= lot.width && lot.sheet_length() <= lot.length);
        assert_eq!(lot.other.len(), stash.other_columns.len());
    }
}

/// A chart or a pattern file. What is read without an error can be counted out, and written as a chart that reads the same.
pub(crate) fn pattern(name: &str, bytes: &[u8]) {
    let (read, said) = pattern::read(name, bytes);
    told(name, bytes, &said);
    if any_error(&said) {
        return;
    }
    let demand = Demand::expand(&read, &Loosened::default());
    assert!(!demand.pieces.is_empty() && demand.pieces.len() as u64 <= PIECES);
    for piece in &demand.pieces {
        assert!(piece.width > Length::ZERO && piece.height > Length::ZERO && piece.set.0 < demand.sets.len());
    }
    for name in read.roles.iter().map(|role| &role.name).chain(read.blocks.iter().map(|block| &block.name)) {
        seen(name);
    }
    for size in 0..read.sizes.len() {
        assert!(read.at_size(size).is_some());
    }
    let given = Given { name: name.to_owned(), bytes: bytes.to_vec() };
    let (chart, _) = app::chart(&given, None, Units::Inches).expect("it was read without an error");
    let (again, said) = pattern::read("again.csv", &chart);
    told("again.csv", &chart, &said);
    assert!(!any_error(&said), "{}\n{}", said[0], String::from_utf8_lossy(&chart));
    let again = Demand::expand(&again, &Loosened::default());
    assert_eq!(sizes(&again), sizes(&demand), "{}", String::from_utf8_lossy(&chart));
}

/// How many pieces there are of each size.
fn sizes(demand: &Demand) -> BTreeMap<(Length, Length), usize> {
    let mut sizes = BTreeMap::new();
    for piece in &demand.pieces {
        *sizes.entry((piece.width, piece.height)).or_insert(0) += 1;
    }
    sizes
}

pub(crate) fn placements(against: &[(Stash, Pattern)], name: &str, bytes: &[u8]) {
    let (decided, said) = cutcloth::placements::read(name, bytes);
    told(name, bytes, &said);
    for (stash, pattern) in against {
        let demand = Demand::expand(pattern, &Loosened::default());
        let (pins, said) = cutcloth::placements::pins(&decided, stash, pattern, &demand);
        told(name, bytes, &said);
        assert_eq!(pins.len(), demand.sets.len());
        assert!(pins.iter().flatten().all(|print| print.0 < stash.prints.len()));
        let (places, said) = cutcloth::placements::places(&decided, pattern);
        told(name, bytes, &said);
        let mut taken: Vec<_> = places.values().map(|place| (place.row, place.column)).collect();
        taken.sort_unstable();
        taken.dedup();
        assert_eq!(taken.len(), places.len(), "two copies on one place");
        assert!(places.keys().all(|(block, copy)| (1..=pattern.blocks[block.0].make).contains(copy)));
    }
}

/// The check says what is wrong with a record, each thing in words, and never too many.
pub(crate) fn record(inputs: &Inputs, bytes: &[u8]) {
    let faults = verify(inputs, &String::from_utf8_lossy(bytes));
    let mut kinds: BTreeMap<&str, usize> = BTreeMap::new();
    for fault in &faults {
        assert!(!fault.message.is_empty(), "{fault}");
        *kinds.entry(fault.rule.code()).or_insert(0) += 1;
    }
    assert!(kinds.values().all(|&count| count <= ALIKE + 1), "{kinds:?}");
}
