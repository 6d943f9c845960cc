//! No file makes a reader panic, and no fault goes unsaid.

use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

use cutcloth::diagnostic::{any_error, meaning};
use cutcloth::length::Length;
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::read_chart;
use cutcloth::placements;
use cutcloth::stash;

/// Reads `bytes` as everything, and checks what must hold of whatever comes back.
fn read_all_ways(bytes: &[u8]) {
    let (stash, stash_faults) = stash::read("f.csv", bytes, Length::from_eighths(2));
    let (pattern, chart_faults) = read_chart("f.csv", bytes);
    let (decided, placement_faults) = placements::read("f.csv", bytes);
    for lot in &stash.lots {
        assert!(lot.count > 0 && lot.sheet_width() > Length::ZERO && lot.sheet_length() > Length::ZERO);
        assert!(lot.print.0 < stash.prints.len());
        assert_eq!(lot.other.len(), stash.other_columns.len());
    }
    assert!(!stash.lots.is_empty() || any_error(&stash_faults), "a stash of nothing is an error");
    assert!(!pattern.blocks.is_empty() || any_error(&chart_faults), "a chart of nothing is an error");
    if !any_error(&chart_faults) {
        let demand = Demand::expand(&pattern, &Loosened::default());
        assert!(!demand.pieces.is_empty());
        placements::pins(&decided, &stash, &pattern, &demand);
    }
    for fault in stash_faults.iter().chain(&chart_faults).chain(&placement_faults) {
        assert!(meaning(fault.code).is_some());
        assert!(!fault.is_error() || !fault.help.is_empty(), "what to do is said: {fault}");
    }
}

#[test]
fn random_bytes_are_read_or_refused() {
    let mut random = SmallRng::seed_from_u64(2);
    for _ in 0..2000 {
        let length = random.random_range(0..200);
        let bytes: Vec<u8> = (0..length).map(|_| random.random()).collect();
        read_all_ways(&bytes);
    }
}

#[test]
fn random_tables_are_read_or_refused() {
    const WORDS: &[&str] = &[
        "print",
        "cut",
        "count",
        "width",
        "length",
        "size",
        "block",
        "role",
        "make",
        "total",
        "label",
        "matching",
        "from",
        "copy",
        "piece",
        "FQ",
        "10 in square",
        "yardage",
        "2 1/2",
        "2½\"",
        "6 cm",
        "-1",
        "0",
        "3",
        "1 yd",
        "quilt",
        "yes",
        "",
        "",
        "",
        "teal",
        "Teal ",
        "\"",
        "\"a;b\"",
        "é",
        "99999999999999999999",
        "1/0",
        "2,500",
        "#12",
        "cut once",
        " ",
        "\u{0}",
    ];
    let mut random = SmallRng::seed_from_u64(3);
    for _ in 0..4000 {
        let delimiter = [",", ";", "\t"][random.random_range(0..3)];
        let end = ["\n", "\r\n", "\r"][random.random_range(0..3)];
        let columns = random.random_range(1..8);
        let mut text = String::new();
        for _ in 0..random.random_range(0..6) {
            let cells: Vec<&str> = (0..columns).map(|_| WORDS[random.random_range(0..WORDS.len())]).collect();
            text += &(cells.join(delimiter) + end);
        }
        read_all_ways(text.as_bytes());
    }
}

#[test]
fn a_good_file_with_one_byte_changed_is_read_or_refused() {
    let good = ["chart.csv", "pack.csv", "placements.csv", "shelf.csv"]
        .map(|name| std::fs::read(format!("{}/data/tidepool/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap());
    let mut random = SmallRng::seed_from_u64(4);
    for round in 0..600 {
        let mut bytes = good[round % good.len()].clone();
        let at = random.random_range(0..bytes.len());
        match round % 3 {
            0 => bytes[at] = random.random(),
            1 => bytes.truncate(at),
            _ => bytes.insert(at, b"\",;\n0-"[random.random_range(0..6)]),
        }
        read_all_ways(&bytes);
    }
}
