//! Colours as numbers: what a colour in a file stands for, how light it is, how much two of them differ.
//!
//! sRGB after IEC 61966-2-1; L*a*b* (CIE 1976) with the white of daylight, D65; colour difference CIEDE2000 (Sharma, Wu and Dalal
//! 2005); relative luminance and contrast ratio after WCAG 2.2 (W3C). The formulas are those of the crate `palette`,
//! checked here against published values. Floats stay inside this folder: what leaves it is a whole number, lightness in
//! tenths and contrast and difference in hundredths, all rounded down so that "under 1.50" is exact, and 2.9999999999
//! for 3 on one machine does not count (a part in a thousand million is added first).

mod group;
mod measure;
mod names;

pub use group::{COLOR_WORDS, ColorGroup, color_group};
pub use measure::{contrast, difference};
pub use names::{find, is_code};

/// A colour of sRGB: red, green and blue from 0 to 255.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Color(pub [u8; 3]);

impl Color {
    /// As CSS writes it: `#rrggbb`, in lower case.
    pub fn code(self) -> String {
        let [red, green, blue] = self.0;
        format!("#{red:02x}{green:02x}{blue:02x}")
    }

    /// The grey of the same lightness: what is left when one squints.
    pub fn grey(self) -> Color {
        Color::grey_of(self.lightness())
    }
}
