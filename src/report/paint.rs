//! Colours as written in the stash file, made safe to print.

use crate::color;

/// A colour for HTML and SVG, as `#rrggbb`; nothing where the text stands for no colour we know.
pub(crate) fn paint(text: &str) -> Option<String> {
    color::find(text).map(color::Color::code)
}

#[cfg(test)]
mod tests {
    use super::paint;

    #[test]
    fn a_colour_from_a_file_cannot_carry_anything_else() {
        assert_eq!(paint("#2A9D8F").as_deref(), Some("#2a9d8f"));
        assert_eq!(paint("Sea Green").as_deref(), Some("#2e8b57"));
        for harmful in ["url(x)", "#12", "red;width:1px", "", "#gggggg"] {
            assert_eq!(paint(harmful), None, "{harmful}");
        }
    }
}
