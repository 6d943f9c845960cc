//! Two prints beside each other, as the stash describes them.

use crate::color::{Color, contrast, difference, find, is_code};
use crate::fabric::Value;
use crate::stash::{PrintId, Stash};

/// From where on two fabrics that meet look alike. Common practice, no source; compared with drawings of blocks in
/// colour and in grey.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Thresholds {
    /// Contrast ratio in hundredths: with less, two fabrics are alike in light and dark.
    pub contrast: u32,
    /// Colour difference (CIEDE2000) in hundredths: with less, they are alike in colour too.
    pub difference: u32,
}

impl Default for Thresholds {
    fn default() -> Thresholds {
        Thresholds { contrast: 150, difference: 2000 }
    }
}

/// How two prints look beside each other, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pair {
    /// One print beside itself: the seam is all one sees.
    Same,
    /// Alike in light and dark and in colour: the shape is lost.
    Blend,
    /// Alike in light and dark only: colour carries the shape, and it is lost when one squints.
    AlikeInValue,
    /// The stash says neither colour nor value of one of them.
    NotKnown,
    /// They stand out from each other.
    Fine,
}

impl Pair {
    /// Every way, the worst first.
    pub const ALL: [Pair; 5] = [Pair::Same, Pair::Blend, Pair::AlikeInValue, Pair::NotKnown, Pair::Fine];

    /// Place in [`Pair::ALL`].
    pub fn index(self) -> usize {
        match self {
            Pair::Same => 0,
            Pair::Blend => 1,
            Pair::AlikeInValue => 2,
            Pair::NotKnown => 3,
            Pair::Fine => 4,
        }
    }
}

/// Lightness, in tenths, of a print of which nothing but its value is said: the middle of what goes by the word.
/// Common practice, no source.
pub fn lightness_of_word(value: Value) -> u32 {
    match value {
        Value::Light => 850,
        Value::Medium => 580,
        Value::Dark => 300,
    }
}

/// What a lightness in tenths goes by: dark under 45, light from 70, medium between. Common practice, no source.
fn value_of(lightness: u32) -> Value {
    match lightness {
        0..450 => Value::Dark,
        450..700 => Value::Medium,
        _ => Value::Light,
    }
}

/// The colour a print counts with. A code counts as it is; of words, which name a hue, the lightness is that of the print's
/// value where the stash says another one; a value alone counts as a grey.
pub fn color_of(stash: &Stash, print: PrintId) -> Option<Color> {
    let value = stash.print_value(print);
    let Some((text, color)) = stash.print_color(print).and_then(|text| Some((text, find(text)?))) else {
        return value.map(|value| Color::grey_of(lightness_of_word(value)));
    };
    match value {
        Some(value) if !is_code(text) && value_of(color.lightness()) != value => {
            Some(color.at_lightness(lightness_of_word(value)))
        }
        _ => Some(color),
    }
}

/// Every two prints of a stash, judged.
#[derive(Clone, Debug)]
pub struct Sight {
    /// What was asked for.
    pub thresholds: Thresholds,
    colors: Vec<Option<Color>>,
    /// Row by row.
    pairs: Vec<Pair>,
}

impl Sight {
    /// Looks at every two prints of `stash`. Fabric that an alternative adds needs a sight of its own.
    pub fn of(stash: &Stash, thresholds: Thresholds) -> Sight {
        let number = stash.prints.len();
        let colors: Vec<Option<Color>> = (0..number).map(|print| color_of(stash, PrintId(print))).collect();
        let mut pairs = vec![Pair::Same; number * number];
        for one in 0..number {
            for other in 0..one {
                let pair = judge(colors[one], colors[other], thresholds);
                pairs[one * number + other] = pair;
                pairs[other * number + one] = pair;
            }
        }
        Sight { thresholds, colors, pairs }
    }

    /// How two prints look beside each other.
    pub fn pair(&self, one: PrintId, other: PrintId) -> Pair {
        self.pairs[one.0 * self.colors.len() + other.0]
    }

    /// The colour a print counts with; `None` where the stash says neither colour nor value.
    pub fn color(&self, print: PrintId) -> Option<Color> {
        self.colors[print.0]
    }

    /// Contrast ratio of two prints in hundredths.
    pub fn contrast(&self, one: PrintId, other: PrintId) -> Option<u32> {
        Some(contrast(self.color(one)?, self.color(other)?))
    }

    /// Colour difference of two prints in hundredths.
    pub fn difference(&self, one: PrintId, other: PrintId) -> Option<u32> {
        Some(difference(self.color(one)?, self.color(other)?))
    }

    /// Lightness of a print in tenths, 0 to 1000.
    pub fn lightness(&self, print: PrintId) -> Option<u32> {
        Some(self.color(print)?.lightness())
    }

    /// Light, medium or dark, as a print counts.
    pub fn value(&self, print: PrintId) -> Option<Value> {
        Some(value_of(self.lightness(print)?))
    }

    /// How many prints there are.
    pub fn prints(&self) -> usize {
        self.colors.len()
    }
}

/// How two different prints of these colours look beside each other.
fn judge(one: Option<Color>, other: Option<Color>, thresholds: Thresholds) -> Pair {
    let (Some(one), Some(other)) = (one, other) else { return Pair::NotKnown };
    if contrast(one, other) >= thresholds.contrast {
        return Pair::Fine;
    }
    if difference(one, other) < thresholds.difference { Pair::Blend } else { Pair::AlikeInValue }
}
