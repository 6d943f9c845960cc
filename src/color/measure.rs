//! Lightness, contrast and difference of colours. The only file with floats besides its tests.

use palette::color_difference::{Ciede2000, Wcag21RelativeContrast};
use palette::white_point::D65;
use palette::{IntoColor, Lab, Srgb};

use super::Color;

/// Added before rounding down: what is lost in the last places of a float is less, and no two colours differ by so little.
const LAST_PLACES: f64 = 1e-9;

impl Color {
    /// Lightness L* in tenths: 0 is black, 1000 white.
    ///
    /// ```
    /// use cutcloth::color::Color;
    /// assert_eq!(Color([119, 119, 119]).lightness(), 500);
    /// ```
    pub fn lightness(self) -> u32 {
        whole(lab(self).l * 10.0)
    }

    /// The grey whose lightness in tenths is the nearest to this one.
    pub fn grey_of(tenths: u32) -> Color {
        from_lab(Lab::new(f64::from(tenths.min(1000)) / 10.0, 0.0, 0.0))
    }

    /// The same hue and colourfulness, as far as sRGB holds them, at another lightness in tenths.
    ///
    /// For words: "blue" that is said to be light.
    pub fn at_lightness(self, tenths: u32) -> Color {
        let own = lab(self);
        from_lab(Lab::new(f64::from(tenths.min(1000)) / 10.0, own.a, own.b))
    }
}

/// Contrast ratio of two colours in hundredths, from 100 (none) to 2100 (black on white): (L1 + 0.05) / (L2 + 0.05), the
/// lighter first, with L the relative luminance. Source: WCAG 2.2 (W3C 2023), "contrast ratio".
///
/// ```
/// use cutcloth::color::{Color, contrast};
/// assert_eq!(contrast(Color([255; 3]), Color([0; 3])), 2100);
/// ```
pub fn contrast(one: Color, other: Color) -> u32 {
    whole(linear(one).relative_contrast(linear(other)) * 100.0)
}

/// CIEDE2000 of two colours, in hundredths. Source: Sharma, Wu and Dalal 2005.
pub fn difference(one: Color, other: Color) -> u32 {
    whole(between(lab(one), lab(other)) * 100.0)
}

fn between(one: Lab<D65, f64>, other: Lab<D65, f64>) -> f64 {
    one.difference(other)
}

fn linear(Color([red, green, blue]): Color) -> Srgb<f64> {
    Srgb::new(red, green, blue).into_format()
}

fn lab(color: Color) -> Lab<D65, f64> {
    linear(color).into_color()
}

/// The nearest colour of sRGB, part by part.
fn from_lab(lab: Lab<D65, f64>) -> Color {
    let rgb: Srgb<f64> = lab.into_color();
    let rgb: Srgb<u8> = rgb.into_format();
    Color([rgb.red, rgb.green, rgb.blue])
}

/// A number of at least 0, rounded down. What is no number counts as 0.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn whole(number: f64) -> u32 {
    // `as` holds at the ends of the range.
    (number + LAST_PLACES).floor() as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::color::find;

    fn color(code: &str) -> Color {
        find(code).expect("a code")
    }

    /// All 34 pairs of G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference formula: implementation notes,
    /// supplementary test data, and mathematical observations", Color Research and Application 30(1), 21-30, 2005, Table 1.
    #[test]
    fn the_difference_is_that_of_the_published_pairs_to_four_places() {
        let rows = include_str!("../../tests/color/ciede2000.csv").lines().skip(1);
        let mut pairs = 0;
        for row in rows {
            let numbers: Vec<f64> = row.split(',').map(|cell| cell.parse().expect("a number")).collect();
            let [pair, l1, a1, b1, l2, a2, b2, published] = numbers[..] else { panic!("eight cells") };
            let (one, other) = (Lab::new(l1, a1, b1), Lab::new(l2, a2, b2));
            let apart = (between(one, other) - published).abs();
            assert!(apart < 0.000_051, "pair {pair}: {}", between(one, other));
            assert!((between(other, one) - published).abs() < 0.000_051, "pair {pair}, turned");
            pairs += 1;
        }
        assert_eq!(pairs, 34);
    }

    /// The first two follow from the definition in WCAG 2.2 ("contrast ratios can range from 1 to 21"); the rest are printed in the W3C
    /// ACT rule afw4f7, "Text has minimum contrast", which cuts off after the places it gives.
    #[test]
    fn contrast_is_that_of_the_published_examples() {
        for (one, other, hundredths) in [
            ("#000000", "#ffffff", 2100..2101),
            ("#c81e50", "#c81e50", 100..101),
            ("#333333", "#ffffff", 1260..1270),
            ("#0000ee", "#ffffff", 939..940),
            ("#aaaaaa", "#ffffff", 230..240),
            ("#777777", "#eeeeee", 385..386),
        ] {
            let (one, other) = (color(one), color(other));
            assert!(hundredths.contains(&contrast(one, other)), "{one:?} {other:?}");
            assert_eq!(contrast(one, other), contrast(other, one));
        }
        // 2.995 is printed in issue 300 of the Colour Contrast Analyser: it must not pass for 3.
        assert_eq!(contrast(color("#959595"), color("#ffffff")), 299);
    }

    #[test]
    fn greys_have_the_lightness_they_are_made_of() {
        assert_eq!((color("#000000").lightness(), color("#ffffff").lightness()), (0, 1000));
        for tenths in (0..=1000).step_by(25) {
            let grey = Color::grey_of(tenths);
            assert!(grey.0[0] == grey.0[1] && grey.0[1] == grey.0[2], "{grey:?}");
            assert!(grey.lightness().abs_diff(tenths) <= 3, "{tenths}: {}", grey.lightness());
        }
        assert_eq!(color("#777777").grey(), color("#777777"));
        assert_eq!(difference(color("#123456"), color("#123456")), 0);
    }

    #[test]
    fn a_word_can_be_made_lighter_and_keeps_its_hue() {
        let light = color("navy").at_lightness(850);
        assert!(light.lightness() > 600 && light.0[2] > light.0[0], "{light:?}");
        assert_eq!(color("gray").at_lightness(850), Color::grey_of(850));
    }
}
