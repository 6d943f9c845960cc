//! How prints are painted in drawings: their colours as the stash describes them, and the same in grey.

use crate::looks;
use crate::stash::{PrintId, Stash};

/// What a patch is filled with, as SVG and CSS write it. Made from numbers, so that a text of a file cannot carry
/// anything else into it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Paint {
    /// The colour; nothing where the stash says neither colour nor value.
    pub(crate) color: Option<String>,
    /// The grey of the same lightness.
    pub(crate) grey: Option<String>,
}

impl Paint {
    /// In colour or in grey; white where nothing is known.
    pub(crate) fn fill(&self, ink: Ink) -> &str {
        let fill = match ink {
            Ink::Color => &self.color,
            Ink::Grey => &self.grey,
        };
        fill.as_deref().unwrap_or("#fff")
    }
}

/// How something is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ink {
    /// As the fabrics are.
    Color,
    /// As one sees it who squints: light and dark only.
    Grey,
}

/// The paint of every print of a stash.
pub(crate) struct Paints(Vec<Paint>);

impl Paint {
    /// Of one print.
    pub(crate) fn of(stash: &Stash, print: PrintId) -> Paint {
        let color = looks::color_of(stash, print);
        Paint { color: color.map(|color| color.code()), grey: color.map(|color| color.grey().code()) }
    }
}

impl Paints {
    /// Of all prints.
    pub(crate) fn of(stash: &Stash) -> Paints {
        Paints((0..stash.prints.len()).map(|print| Paint::of(stash, PrintId(print))).collect())
    }

    /// Of one.
    pub(crate) fn print(&self, print: PrintId) -> Paint {
        self.0.get(print.0).cloned().unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;

    #[test]
    fn a_colour_from_a_file_cannot_carry_anything_else() {
        let file = "print,cut,color,value\n\
            a,fat quarter,#2A9D8F,\nb,fat quarter,Sea Green,\nc,fat quarter,url(x),\nd,fat quarter,\"red;width:1px\",\n\
            e,fat quarter,,light\nf,fat quarter,,\n";
        let (stash, _) = crate::stash::read("stash.csv", file.as_bytes(), Length::ZERO);
        let paints = Paints::of(&stash);
        let fills = (0..6).map(|print| paints.print(PrintId(print)).color).collect::<Vec<_>>();
        let expected = [Some("#2a9d8f"), Some("#2e8b57"), None, None, Some("#d4d4d4"), None];
        assert_eq!(fills.iter().map(Option::as_deref).collect::<Vec<_>>(), expected);
        assert_eq!(paints.print(PrintId(0)).fill(Ink::Grey), "#8d8d8d");
        assert_eq!(paints.print(PrintId(5)).fill(Ink::Color), "#fff");
    }
}
