//! Files far larger, or far more wrong, than any spreadsheet of fabric: told in a few lines, in little time and memory.

use std::time::{Duration, Instant};

use crate::{errors, warnings};
use cutcloth::app::Given;
use cutcloth::diagnostic::limits::{ALIKE, CELL, COLUMNS, FILE_BYTES, ROWS};
use cutcloth::length::Length;
use cutcloth::pattern::read_chart;
use cutcloth::placements;
use cutcloth::stash;

fn read(text: &str) -> (stash::Stash, Vec<cutcloth::diagnostic::Diagnostic>) {
    stash::read("shelf.csv", text.as_bytes(), Length::ZERO)
}

/// Runs `work`, which must not take long: generous by far for what is linear, out of reach for what is not.
fn soon<T>(work: impl FnOnce() -> T) -> T {
    let started = Instant::now();
    let done = work();
    assert!(started.elapsed() < Duration::from_secs(8), "{:?}", started.elapsed());
    done
}

#[test]
fn sixty_thousand_empty_headings_are_read_at_once() {
    let wide = format!("print,cut{}\nteal dot,FQ{}\n", ",".repeat(60_000), ",".repeat(60_000));
    let (stash, said) = soon(|| read(&wide));
    assert!(said.is_empty(), "{:?}", said[0]);
    assert_eq!(stash.lots.len(), 1);
    // As many with names are refused; the same with cells under no heading at all.
    let names: Vec<String> = (0..60_000).map(|number| format!("own {number}")).collect();
    let (_, said) =
        soon(|| read(&format!("print,cut,{}\nteal dot,FQ{}\n", names.join(","), ",".repeat(60_000))));
    assert_eq!(errors(&said), [(1, "", "F115")]);
    assert!(said[0].message.contains("60002 columns; no more than 200"), "{}", said[0].message);
    let (_, said) = soon(|| {
        read(&format!("print,cut{}\n{}x\n", ",".repeat(60_000), "x,FQ,".to_owned() + &"x,".repeat(59_999)))
    });
    assert_eq!(said.len(), ALIKE + 1, "{:?}", said.last());
}

#[test]
fn as_many_columns_and_rows_as_are_allowed_are_read_and_no_more() {
    let names = |own: usize| (0..own).map(|number| format!(",own{number}")).collect::<String>();
    let wide = |own| read(&format!("print,cut{}\nteal,FQ{}\n", names(own), ",x".repeat(own)));
    assert!(wide(COLUMNS - 2).1.is_empty());
    assert_eq!(errors(&wide(COLUMNS - 1).1), [(1, "", "F115")]);
    let long = |rows: usize| soon(|| read(&format!("print,cut\n{}", "teal,FQ\n\n".repeat(rows))));
    let (stash, said) = long(ROWS);
    assert!(errors(&said).is_empty() && stash.lots.len() == ROWS);
    assert_eq!(errors(&long(ROWS + 1).1), [(2 * ROWS as u64 + 2, "", "F117")]);
}

#[test]
fn a_cell_that_is_a_book_is_named_and_the_other_rows_are_read() {
    let text =
        |letters: usize| format!("print,cut,note\nteal,FQ,{}\nrust,FQ,\nsand,XX,\n", "é".repeat(letters));
    assert_eq!(errors(&read(&text(CELL)).1), [(4, "cut", "S101")]);
    let (stash, said) = read(&text(CELL + 1));
    assert_eq!(errors(&said), [(2, "", "F116"), (4, "cut", "S101")]);
    assert!(said[0].message.len() < 200 && stash.lots.len() == 1, "{}", said[0].message);
}

#[test]
fn of_ten_thousand_mistakes_of_a_kind_two_hundred_are_told_and_the_rest_counted() {
    let rows: String =
        (0..10_000).map(|row| format!("print {row},FQ,{}\n", if row == 5 { "1" } else { "0" })).collect();
    let (_, said) = soon(|| read(&format!("print,cut,count\n{rows}sand,XX,1\n")));
    assert_eq!(said.len(), ALIKE + 2);
    assert_eq!(
        said[ALIKE].to_string(),
        "shelf.csv: and 9,799 more like it\n  help: mend those above first: one cause may be behind them all  [F205]"
    );
    assert_eq!(said[ALIKE + 1].code, "S101");
    assert!(said[ALIKE].is_error());
}

#[test]
fn a_chart_of_many_lines_is_read_in_the_time_its_lines_take() {
    let rows: String = (0..20_000).map(|row| format!("Block {row},1,,role {row},2,3,1\n")).collect();
    let (pattern, said) = soon(|| {
        read_chart("big.csv", format!("block,make,label,role,width,height,count\n{rows}").as_bytes())
    });
    assert!(errors(&said).is_empty());
    assert_eq!((pattern.blocks.len(), pattern.roles.len()), (20_000, 20_000));
    // One block, and labels made up for every line of one role.
    let rows = "Block,1,,A,2,3,1\n".repeat(20_000);
    let (pattern, _) = soon(|| {
        read_chart("big.csv", format!("block,make,label,role,width,height,count\n{rows}").as_bytes())
    });
    assert_eq!(pattern.blocks[0].pieces[19_999].label, "A20000");
}

#[test]
fn wrong_words_among_very_many_take_no_time_to_name() {
    let long: String = (0..3_000)
        .map(|row| {
            format!("{} {row},{}\n", "a long name ".repeat(20), "fat quartre of an old kind ".repeat(40))
        })
        .collect();
    let (_, said) = soon(|| read(&format!("print,cut\n{long}")));
    assert_eq!(said.len(), ALIKE + 1);
    let rows: String = (0..20_000).map(|row| format!(",,A,print {row}\n")).collect();
    let (decided, said) =
        soon(|| placements::read("p.csv", format!("block,copy,role,print\n{rows}").as_bytes()));
    assert!(said.is_empty() && decided.rows.len() == 20_000);
}

#[test]
fn a_file_without_end_is_refused_by_the_bytes_that_were_read() {
    let path = std::path::Path::new("/dev/zero");
    if !path.exists() {
        return;
    }
    let refused = Given::open(path).expect_err("it has no end");
    assert_eq!(refused.code, "F100");
    assert_eq!(refused.message, "the file has more than 8,388,608 bytes; no more are read");
    // A file just at the limit is read.
    let file = tempfile::NamedTempFile::new().expect("a file");
    std::fs::write(file.path(), vec![b'x'; usize::try_from(FILE_BYTES).expect("fits")]).expect("written");
    assert!(Given::open(file.path()).is_ok());
}

#[test]
fn a_heading_that_was_not_understood_is_told_once_with_the_one_it_was_taken_as() {
    let rows = "teal dot,FQ,2\nrust leaf,half yard,1\n".repeat(10);
    let (stash, said) = read(&format!("print,What,how meny\n{rows}"));
    assert_eq!(warnings(&said), [(1, "how meny", "F118"), (1, "What", "F118")]);
    assert_eq!(said.len(), 2, "{:?}", said.last());
    assert_eq!(
        said[1].to_string(),
        "shelf.csv, line 1, field \"What\": warning: the heading \"What\" was not understood; it was taken as \"cut\"\n  \
         help: call it \"cut\"; if it is a column of your own, give it a name that is less like it  [F118]"
    );
    assert_eq!((stash.lots.len(), stash.lots[0].count), (20, 2));
    assert!(stash.other_columns.is_empty());
    // Every other mistake is told as it will be once the heading is mended.
    let (_, said) = read("print,What\nteal dot,FQ\nrust leaf,fat quartre\nsand,FQ\n");
    assert_eq!(errors(&said), [(3, "What", "S101")]);
}

#[test]
fn a_column_of_ones_own_stays_ones_own() {
    let (stash, said) = read("print,cut,Maker,Bought at\nteal dot,FQ,FQ,fat quarter\n");
    assert!(said.is_empty(), "{}", said[0]);
    assert_eq!(stash.other_columns, ["Maker", "Bought at"]);
}
