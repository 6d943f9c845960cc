//! Every code a reader uses is in the table, and every code of the table is used.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use cutcloth::diagnostic::CODES;

/// String literals of one capital letter and three digits in the sources, the table itself left out.
fn codes_in(folder: &Path, found: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            // The faults of a plan are no diagnostics of an input; they have their own table there.
            if path.ends_with("src/verifying") {
                continue;
            }
            codes_in(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs") && !path.ends_with("diagnostic/codes.rs") {
            let text = fs::read_to_string(&path).unwrap();
            // Tests below the code may mention codes that do not exist.
            let code = text.split("#[cfg(test)]").next().unwrap_or_default();
            let is_code = |literal: &&str| {
                let bytes = literal.as_bytes();
                bytes.len() == 4 && bytes[0].is_ascii_uppercase() && bytes[1..].iter().all(u8::is_ascii_digit)
            };
            found.extend(code.split('"').filter(is_code).map(str::to_string));
        }
    }
}

#[test]
fn the_codes_in_use_are_the_codes_in_the_table() {
    let mut used = BTreeSet::new();
    codes_in(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut used);
    let listed: BTreeSet<String> = CODES.iter().map(|(code, _)| code.to_string()).collect();
    assert_eq!(listed.len(), CODES.len(), "no code stands twice");
    assert_eq!(used, listed);
}
