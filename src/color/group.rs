//! Colour groups: which of eleven plain words a fabric's colour goes by, for rules such as `never = { color = .. }`.
//!
//! The words are the eleven basic colour terms of English (Berlin and Kay, *Basic Color Terms*, 1969). Where one
//! ends and the next begins is a convention, and this one is ours: sectors of the hue, lightness and chroma of sRGB
//! as CSS Color Module Level 4 defines them (W3C, section 7, "HSL Colors"), in whole numbers. With R, G, B from 0 to
//! 255, `high` the largest and `low` the smallest, chroma is `high - low` and hue is the angle of the hexagon, in
//! degrees rounded down. That brown is dark orange and pink is light red follows the ISCC-NBS names (Kelly and Judd,
//! *Color: Universal Language and Dictionary of Names*, NBS Special Publication 440, 1976); the figures are ours, chosen
//! so that the names CSS gives fall where they say. The test lists those that do not.

use std::fmt;

use super::names;

/// One of eleven plain colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum ColorGroup {
    Red,
    Orange,
    Yellow,
    Green,
    Blue,
    Purple,
    Pink,
    Brown,
    Black,
    Grey,
    White,
}

use ColorGroup::{Black, Blue, Brown, Green, Grey, Orange, Pink, Purple, Red, White, Yellow};

/// What a pattern may write for each group; the first spelling of a group is its name.
pub const COLOR_WORDS: &[(&str, ColorGroup)] = &[
    ("red", Red),
    ("orange", Orange),
    ("yellow", Yellow),
    ("green", Green),
    ("blue", Blue),
    ("purple", Purple),
    ("pink", Pink),
    ("brown", Brown),
    ("black", Black),
    ("grey", Grey),
    ("white", White),
    ("gray", Grey),
];

impl ColorGroup {
    /// Its plain word.
    pub fn name(self) -> &'static str {
        COLOR_WORDS.iter().find(|&&(_, group)| group == self).map_or("", |&(word, _)| word)
    }
}

impl fmt::Display for ColorGroup {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str(self.name())
    }
}

/// The group of a colour as a stash states it: `#rrggbb`, or words.
///
/// Of words, those before the first `/`, `&`, `,`, "and", "with" or "on" count, since they name the main colour; the
/// last of them that is a colour decides, as in "sea green". `None` when none is.
///
/// ```
/// use cutcloth::color::{ColorGroup, color_group};
/// assert_eq!(color_group("#1d3557"), Some(ColorGroup::Blue));
/// assert_eq!(color_group("Light Grey"), Some(ColorGroup::Grey));
/// assert_eq!(color_group("navy/white"), Some(ColorGroup::Blue));
/// assert_eq!(color_group("grandmother's"), None);
/// ```
pub fn color_group(text: &str) -> Option<ColorGroup> {
    if text.trim().starts_with('#') {
        return names::find(text).map(|color| of_code(color.0));
    }
    names::by_words(text, of_word)
}

/// A plain word, a word of the trade with the group its table gives, else a name of CSS by its code.
fn of_word(word: &str) -> Option<ColorGroup> {
    let trade =
        || names::trade().iter().find(|known| known.name == word).and_then(|known| plain(known.group));
    plain(word).or_else(trade).or_else(|| names::of_word(word).map(|color| of_code(color.0)))
}

/// The group of a plain word.
fn plain(word: &str) -> Option<ColorGroup> {
    COLOR_WORDS.iter().find(|&&(known, _)| known == word).map(|&(_, group)| group)
}

/// Almost black, almost white and almost grey first, then by hue.
fn of_code(rgb: [u8; 3]) -> ColorGroup {
    let (high, low) = rgb.iter().fold((0, 255), |(high, low), &part| (part.max(high), part.min(low)));
    let chroma = high - low;
    let hue = hue(rgb);
    // What is called slate or steel grey is bluish, and has more chroma than other greys.
    let greyish = if (180..255).contains(&hue) { 34 } else { 20 };
    match (high, low, chroma) {
        (0..48, _, _) => return Black,
        (_, 215.., 0..=28) => return White,
        (_, 0..215, _) if chroma <= greyish => return Grey,
        _ => {}
    }
    match hue {
        // Cream and ecru; peach; tan and chocolate.
        15..40 if low >= 200 => White,
        15..40 if high >= 240 || high >= 220 && chroma >= 110 => Orange,
        15..40 => Brown,
        // Between orange and yellow what is dark or dull is brown, from there on to green it is olive.
        40..50 if high < 200 || high < 230 && chroma < 90 => Brown,
        50..65 if high < 200 => Green,
        40..65 => Yellow,
        65..180 => Green,
        180..255 => Blue,
        255..320 => Purple,
        320..345 if high < 150 => Purple,
        320..345 => Pink,
        _ if low >= 110 && high >= 200 => Pink,
        _ if chroma < 60 => Brown,
        _ => Red,
    }
}

/// Whole degrees from 0 to 359, rounded down; 0 for greys, which have none.
fn hue([red, green, blue]: [u8; 3]) -> i32 {
    let [red, green, blue] = [i32::from(red), i32::from(green), i32::from(blue)];
    let high = red.max(green).max(blue);
    let chroma = high - red.min(green).min(blue);
    if chroma == 0 {
        return 0;
    }
    let (from, towards) = match high {
        _ if high == red => (0, green - blue),
        _ if high == green => (120, blue - red),
        _ => (240, red - green),
    };
    (from + (60 * towards).div_euclid(chroma)).rem_euclid(360)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The group that the end of a CSS name says, as in `darkolivegreen`.
    fn said(name: &str) -> Option<ColorGroup> {
        COLOR_WORDS.iter().find(|(word, _)| name.ends_with(word)).map(|&(_, group)| group)
    }

    #[test]
    fn css_names_that_end_in_a_plain_colour_fall_in_its_group() {
        // One spelling each of those with "grey" and "gray".
        let mut names: Vec<(&str, [u8; 3])> = palette::named::entries()
            .filter(|(name, _)| !name.contains("grey"))
            .map(|(name, rgb)| (name, [rgb.red, rgb.green, rgb.blue]))
            .collect();
        names.sort_unstable();
        assert_eq!(names.len(), 141);
        let ending: Vec<_> = names.iter().filter(|(name, _)| said(name).is_some()).collect();
        assert_eq!(ending.len(), 70);
        let other: Vec<_> = ending
            .iter()
            .filter(|&&&(name, rgb)| said(name) != Some(of_code(rgb)))
            .map(|&&(name, rgb)| (name, of_code(rgb)))
            .collect();
        // Alice blue is nearly white, and #a52a2a, which CSS calls brown, a dark red; the others lie between two groups.
        let expected = [
            ("aliceblue", White),
            ("brown", Red),
            ("greenyellow", Green),
            ("mediumvioletred", Pink),
            ("navajowhite", Orange),
            ("orangered", Orange),
            ("palevioletred", Pink),
            ("sandybrown", Orange),
        ];
        assert_eq!(other, expected);
    }

    #[test]
    fn css_names_without_a_plain_colour_fall_where_people_would_look() {
        let expected = [
            ("navy", Blue),
            ("teal", Blue),
            ("turquoise", Green),
            ("olive", Green),
            ("khaki", Yellow),
            ("gold", Yellow),
            ("coral", Orange),
            ("tan", Brown),
            ("chocolate", Brown),
            ("maroon", Red),
            ("salmon", Pink),
            ("plum", Purple),
            ("indigo", Purple),
            ("silver", Grey),
            ("ivory", White),
            ("beige", White),
        ];
        for (name, group) in expected {
            assert_eq!(color_group(name), Some(group), "{name}");
        }
    }

    #[test]
    fn words_of_a_stash_are_read_from_their_end_and_only_the_main_colour_counts() {
        for (text, group) in [
            ("grey", Grey),
            ("Dark Slate Grey", Grey),
            ("sea green", Green),
            ("blue-green", Green),
            ("pale cream", White),
            ("brown", Brown),
            ("white on red", White),
            ("red with dots", Red),
            ("navy & gold", Blue),
            ("#E0803F", Orange),
            ("#000000", Black),
            ("#ffffff", White),
        ] {
            assert_eq!(color_group(text), Some(group), "{text}");
        }
        for text in ["", "dotty", "#12345", "#ééé", "/ red", "with red"] {
            assert_eq!(color_group(text), None, "{text}");
        }
    }

    #[test]
    fn words_of_the_trade_have_the_group_of_their_table() {
        for (word, group) in
            [("cream", White), ("rust", Orange), ("sage", Green), ("lavender", Purple), ("wine", Red)]
        {
            assert_eq!(color_group(word), Some(group), "{word}");
        }
    }

    #[test]
    fn every_code_has_a_group_and_a_group_its_own_name() {
        for (red, green, blue) in (0..=255u8)
            .step_by(15)
            .flat_map(|r| (0..=255).step_by(15).map(move |g| (r, g)))
            .flat_map(|(r, g)| (0..=255).step_by(15).map(move |b| (r, g, b)))
        {
            let group = of_code([red, green, blue]);
            assert_eq!(of_word(group.name()), Some(group));
            if red == green && green == blue {
                assert!([Black, Grey, White].contains(&group), "{red}: {group}");
            }
        }
    }
}
