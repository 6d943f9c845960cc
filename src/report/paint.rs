//! Colours as written in the stash file, made safe to print.

/// A colour for HTML and SVG; nothing unless it is `#rgb`, `#rrggbb` or plain words such as `sea green`. A browser
/// that does not know the words leaves the place empty.
pub(crate) fn paint(color: &str) -> Option<String> {
    let hex = color
        .strip_prefix('#')
        .is_some_and(|digits| matches!(digits.len(), 3 | 6) && digits.chars().all(|c| c.is_ascii_hexdigit()));
    let word = (3..=24).contains(&color.len()) && color.chars().all(|c| c.is_ascii_alphabetic() || c == ' ');
    (hex || word).then(|| color.replace(' ', "").to_ascii_lowercase())
}

#[cfg(test)]
mod tests {
    use super::paint;

    #[test]
    fn a_colour_from_a_file_cannot_carry_anything_else() {
        assert_eq!(paint("#2A9D8F").as_deref(), Some("#2a9d8f"));
        assert_eq!(paint("Sea Green").as_deref(), Some("seagreen"));
        for harmful in ["url(x)", "#12", "red;width:1px", "", "#gggggg"] {
            assert_eq!(paint(harmful), None, "{harmful}");
        }
    }
}
