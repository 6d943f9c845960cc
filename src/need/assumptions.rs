//! What a requirement is worked out under.

use crate::length::{Length, Units, round};
use crate::need::{Join, Lost, Spare, Step, finish_rules, ruler};

/// What a requirement is worked out under; printed with it.
#[derive(Clone, Debug)]
pub struct Assumptions {
    /// Usable width of the fabric.
    pub width: Length,
    /// Widths whose amounts are shown as well.
    pub other_widths: Vec<Length>,
    /// The shop's step.
    pub step: Step,
    /// What is added for squaring up and spare.
    pub spare: Spare,
    /// What washing takes first; `None` when the fabric is cut unwashed. [`Assumptions::washed`] sets it.
    pub prewash: Option<Prewash>,
    /// How borders are cut.
    pub borders: Borders,
    /// Whether borders across the fabric may be joined.
    pub joins: bool,
    /// How borders meet in the corners; `None` as the pattern says.
    pub corners: Option<Meeting>,
    /// How border strips are joined; `None` as the pattern says.
    pub border_join: Option<Join>,
    /// Roles whose print has an up, beside those that the pattern says keep theirs.
    pub directional: Vec<String>,
    /// Binding, backing and batting.
    pub finish: finish_rules::Rules,
    /// In which units lengths are shown; marks of this ruler are tried for the least width.
    pub units: Units,
    /// Whether the cuts of the least length are listed.
    pub cutting: bool,
    /// Steps of search for each fabric and width.
    pub work: u64,
}

/// Washing before cutting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Prewash {
    /// What the fabric loses.
    pub lost: Lost,
    /// Usable width before washing.
    pub width: Length,
}

impl Assumptions {
    /// The same for fabric that is washed before it is cut: every width is what is left of it, down to a mark of the
    /// ruler, and every length is bought so much longer that enough is left.
    #[must_use]
    pub fn washed(self, lost: Lost) -> Assumptions {
        let mark = self.units.mark();
        let left = |width: Length| round::down(lost.across.left_of(width), mark);
        let mut how = Assumptions {
            width: left(self.width),
            other_widths: self.other_widths.iter().map(|&width| left(width)).collect(),
            prewash: Some(Prewash { lost, width: self.width }),
            ..self
        };
        how.finish.backing_width = how.finish.backing_width.map(left);
        how.spare.shrinkage = lost.along;
        how
    }
}

impl Assumptions {
    /// What washing leaves of a length bought, down to the finest mark of the ruler; all of it when nothing is washed.
    pub fn left_of(&self, bought: Length) -> Length {
        let Some(wash) = self.prewash else { return bought };
        round::down(wash.lost.along.left_of(bought), self.units.finest_mark())
    }
}

/// How borders are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Borders {
    /// As the pattern says; joined strips are taken across the width at hand.
    AsWritten,
    /// Across the fabric, joined where they are longer than it is wide.
    Crosswise,
    /// Along the fabric, each in one piece.
    Lengthwise,
}

/// How borders meet in the corners where there are no squares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meeting {
    /// Sides first, then top and bottom over them.
    Butted,
    /// Along the diagonal.
    Mitred,
}

/// Usable width taken when none is given: Marsha McCloskey, "How to figure yardage for a quilt", Feathered Star
/// Productions blog, <https://featheredstar.wordpress.com/category/faqs/>; magazines print 42 in.
pub const USUAL_WIDTH: Length = Length::from_inches(40);

/// Steps of search for each fabric and width unless said otherwise: a second or so on an ordinary machine.
const USUAL_WORK: u64 = 60_000_000;

/// With metric units: rounder than 40 in and a little less, so that what suits it suits cotton sold as 110 cm wide
/// (common practice, no source). Beside it stands 105 cm, as 42 in do beside 40.
const USUAL_METRIC: [Length; 2] = [ruler::millimetres(1000), ruler::millimetres(1050)];

impl Assumptions {
    /// What is taken when nothing is said, in round numbers of the units shown.
    pub fn usual(units: Units) -> Assumptions {
        let (widths, step) = match units {
            Units::Inches => ([USUAL_WIDTH, Length::from_inches(42)], Step::EighthYard),
            Units::Metric => (USUAL_METRIC, Step::TenthMetre),
        };
        Assumptions {
            width: widths[0],
            other_widths: widths.to_vec(),
            step,
            spare: Spare::usual(units),
            prewash: None,
            borders: Borders::AsWritten,
            joins: true,
            corners: None,
            border_join: None,
            directional: Vec::new(),
            finish: finish_rules::Rules::usual(units),
            units,
            cutting: false,
            work: USUAL_WORK,
        }
    }
}

impl Default for Assumptions {
    fn default() -> Assumptions {
        Assumptions::usual(Units::Inches)
    }
}
