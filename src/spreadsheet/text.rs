//! Bytes -> text: UTF-8, with or without a byte order mark, UTF-16 with one, else Windows-1252. What could not be seen in it
//! is made visible here, once, so that nothing behind a reader need think of it.

use encoding_rs::{Encoding, WINDOWS_1252};

use crate::diagnostic::{Diagnostic, Gathered, Place, visible};

/// The text of a file, or `None` when it is none; says which encoding was assumed when it had to be assumed.
///
/// Windows-1252 is what spreadsheet programs in western Europe and America write when they do not write UTF-8;
/// it gives every byte a meaning, so it comes last. A table and its NUL bytes: <https://encoding.spec.whatwg.org/>.
pub(super) fn decode(file: &str, bytes: &[u8], diagnostics: &mut Gathered) -> Option<String> {
    let text = if let Some((encoding, mark)) = Encoding::for_bom(bytes) {
        let (text, damaged) = encoding.decode_without_bom_handling(&bytes[mark..]);
        if damaged {
            return refuse(file, diagnostics);
        }
        text.into_owned()
    } else {
        match std::str::from_utf8(bytes) {
            Ok(text) => text.to_string(),
            Err(fault) => {
                let before = &bytes[..fault.valid_up_to()];
                let ends = |(at, &byte): (usize, &u8)| {
                    byte == b'\n' || byte == b'\r' && bytes.get(at + 1) != Some(&b'\n')
                };
                let lines: u64 = before.iter().enumerate().map(|end| u64::from(ends(end))).sum();
                diagnostics.push(Diagnostic::note(
                    "F102",
                    Place::line(file, lines + 1),
                    "the file is not UTF-8; it was read as Windows-1252".to_string(),
                    "check fractions and names with accents; saving as \"CSV UTF-8\" leaves no doubt",
                ));
                WINDOWS_1252.decode_without_bom_handling(bytes).0.into_owned()
            }
        }
    };
    if text.contains('\0') { refuse(file, diagnostics) } else { Some(visible(&text).into_owned()) }
}

fn refuse(file: &str, diagnostics: &mut Gathered) -> Option<String> {
    diagnostics.push(Diagnostic::error(
        "F101",
        Place::file(file),
        "this is not a text file".to_string(),
        "in the spreadsheet program choose Save As and CSV",
    ));
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(bytes: &[u8]) -> (Option<String>, Vec<&'static str>) {
        let mut diagnostics = Gathered::default();
        let text = decode("a.csv", bytes, &mut diagnostics);
        (text, diagnostics.into_list().iter().map(|d| d.code).collect())
    }

    #[test]
    fn text_is_read_in_any_usual_encoding() {
        assert_eq!(read("2½".as_bytes()), (Some("2½".to_string()), vec![]));
        assert_eq!(read(b"\xef\xbb\xbfa"), (Some("a".to_string()), vec![]));
        assert_eq!(read(b"\xff\xfe2\0\xbd\0"), (Some("2½".to_string()), vec![]));
        assert_eq!(read(b"2\xbd caf\xe9"), (Some("2½ café".to_string()), vec!["F102"]));
        assert_eq!(read("a\u{1b}[1m\n\u{202e}b".as_bytes()), (Some("a␛[1m\n[U+202E]b".to_string()), vec![]));
    }

    #[test]
    fn a_workbook_is_refused() {
        assert_eq!(read(b"PK\x03\x04\x14\0\x06\0"), (None, vec!["F101"]));
    }
}
