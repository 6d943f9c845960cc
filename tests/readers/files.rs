//! Encodings, delimiters, line ends, headings and rows: the same whatever the file holds.

use crate::{errors, inches, notes, warnings};
use cutcloth::length::Length;
use cutcloth::stash::{self, Stash};

fn read(bytes: &[u8]) -> (Stash, Vec<cutcloth::diagnostic::Diagnostic>) {
    stash::read("shelf.csv", bytes, Length::ZERO)
}

fn summary(stash: &Stash) -> Vec<String> {
    let line = |lot: &stash::Lot| format!("{} {:?}", stash.print(lot.print).name, lot);
    stash.lots.iter().map(line).collect()
}

#[test]
fn delimiters_line_ends_and_encodings_make_no_difference() {
    let rows = [
        ["print", "cut", "count", "width", "note"],
        ["café dot", "fat quarter", "2", "20 ½", "left of the door, top"],
        ["cream", "10-inch square", "1", "", ""],
    ];
    let text = |delimiter: &str, end: &str| {
        let quoted = |cell: &&str| if cell.contains(',') { format!("\"{cell}\"") } else { cell.to_string() };
        let lines: Vec<String> =
            rows.iter().map(|row| row.iter().map(quoted).collect::<Vec<_>>().join(delimiter)).collect();
        lines.join(end) + end
    };
    let expected = summary(&read(text(",", "\n").as_bytes()).0);
    assert_eq!(expected.len(), 2);
    for delimiter in [",", ";", "\t"] {
        for end in ["\n", "\r\n", "\r"] {
            let text = text(delimiter, end);
            let with_mark = [b"\xef\xbb\xbf", text.as_bytes()].concat();
            let western: Vec<u8> = text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect();
            let wide: Vec<u8> =
                [0xff, 0xfe].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
            for bytes in [text.as_bytes(), &with_mark, &western, &wide] {
                let (stash, diagnostics) = read(bytes);
                assert!(errors(&diagnostics).is_empty(), "{diagnostics:?}");
                assert_eq!(summary(&stash), expected, "{delimiter:?} {end:?}");
            }
            assert_eq!(notes(&read(&western).1), [(2, "", "F102")]);
        }
    }
}

#[test]
fn an_empty_file_and_headings_alone_get_a_message_each() {
    assert_eq!(errors(&read(b"").1), [(0, "", "F103")]);
    assert_eq!(errors(&read(b"\n \n\n").1), [(0, "", "F103")]);
    assert_eq!(errors(&read(b",,\n;;\n").1), [(0, "", "F103")]);
    assert_eq!(errors(&read(b"print,cut\n").1), [(1, "", "F104")]);
    assert_eq!(errors(&read(b"print,cut\n,\n").1), [(1, "", "F104")]);
    assert_eq!(errors(&read(b"PK\x03\x04\0\0\0").1), [(0, "", "F101")]);
}

#[test]
fn a_heading_that_stands_twice_is_an_error() {
    assert_eq!(errors(&read(b"print,cut,count,count\na,FQ,1,1\n").1), [(1, "count", "F105")]);
    assert_eq!(errors(&read(b"print,cut,qty,Count\na,FQ,1,1\n").1), [(1, "Count", "F105")]);
    assert_eq!(errors(&read(b"print,cut,Maker,maker\na,FQ,x,y\n").1), [(1, "maker", "F105")]);
}

#[test]
fn a_missing_column_is_named_with_the_one_that_may_be_meant() {
    let (_, diagnostics) = read(b"print of mine,cut\na,FQ\n");
    assert_eq!(errors(&diagnostics), [(1, "print", "F109")]);
    assert!(diagnostics[0].help.contains("\"print of mine\""), "{}", diagnostics[0].help);
    // A slip of the pen is read as what is meant, and told.
    let (stash, diagnostics) = read(b"prnt,cut\na,FQ\n");
    assert_eq!((warnings(&diagnostics), stash.lots.len()), (vec![(1, "prnt", "F118")], 1));
    assert_eq!(errors(&read(b"print,width\na,3\n").1), [(1, "cut", "F109")]);
    assert_eq!(errors(&read(b"teal dot,FQ\ncream,FQ\n").1), [(1, "print", "F109"), (1, "cut", "F109")]);
}

#[test]
fn rows_with_too_few_or_too_many_cells_are_named() {
    let text = "print,cut,count\na,FQ\nb,FQ,1,,\nc,FQ,1,9\nd,FQ,2\n";
    let (stash, diagnostics) = read(text.as_bytes());
    assert_eq!(errors(&diagnostics), [(2, "", "F106"), (4, "", "F106")]);
    let rows: Vec<Option<u32>> = stash.lots.iter().map(|lot| lot.row).collect();
    assert_eq!(rows, [Some(2), Some(4)]);
}

#[test]
fn blank_rows_are_left_out_and_counted_and_the_others_keep_their_lines() {
    let (stash, diagnostics) = read(b"print,cut,count\n\n,,\nteal,FQ,1\n , ,\nrust,FQ,0\n");
    assert_eq!(notes(&diagnostics), [(0, "", "F108")]);
    assert!(diagnostics[0].message.contains("2 blank rows"), "{}", diagnostics[0].message);
    assert_eq!(errors(&diagnostics), [(6, "count", "F205")]);
    assert_eq!(stash.lots[0].row, Some(1));
}

#[test]
fn content_under_no_heading_is_not_dropped_in_silence() {
    assert_eq!(errors(&read(b"print,cut,\na,FQ,old\nb,FQ,\n").1), [(2, "", "F111")]);
}

#[test]
fn a_quotation_mark_that_never_closes_is_an_error_at_its_line() {
    let (_, diagnostics) = read(b"print,cut\na,FQ\n\"b,FQ\nc,FQ\n");
    assert!(errors(&diagnostics).contains(&(3, "", "F107")), "{diagnostics:?}");
}

#[test]
fn headings_are_found_in_any_order_and_may_name_the_unit() {
    let text =
        "Where kept;Length (cm);Fabric name;W [cm];QTY;Colour;Cut of fabric\nB2;50;teal dot;55;3;#2A9D8F;\n";
    let (stash, diagnostics) = read(text.as_bytes());
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    let lot = &stash.lots[0];
    assert_eq!((lot.width, lot.length), (inches("55 cm"), inches("50 cm")));
    assert_eq!((lot.count, lot.place.as_str(), lot.color.as_deref()), (3, "B2", Some("#2a9d8f")));
    assert_eq!(lot.cut.entry().name, "scrap");
}
