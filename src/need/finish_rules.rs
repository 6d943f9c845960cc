//! How a quilt is to be finished: binding, backing and batting as the quilter wants them, and the bed it is for.

use crate::length::{Length, Units};
use crate::need::batting::{self, Package};
use crate::need::{Join, Lost, backing, binding, ruler};
use crate::pattern::Size;

/// How a quilt is finished.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rules {
    /// Cut width of the binding strips. Usual are 2 1/4 and 2 1/2 in (common practice, no source).
    pub strip_width: Length,
    /// How they are joined.
    pub join: Join,
    /// What is added to the perimeter.
    pub extra: Length,
    /// True for binding on the bias.
    pub bias: bool,
    /// On the bias: side of a square at hand, of which is told how much it gives.
    pub bias_square: Option<Length>,
    /// Batting that may be bought.
    pub packages: Vec<Package>,
    /// The bed the quilt is for.
    pub bed: Option<Bed>,
    /// What backing and batting are larger than the top, both sides together.
    pub overage: Length,
    /// What a seam between panels of the backing takes.
    pub seam_loss: Length,
    /// Usable width of the backing fabric; that of all fabric when not said.
    pub backing_width: Option<Length>,
}

impl Rules {
    /// What is taken when nothing is said. The metric figures are round numbers near those in inches (common practice,
    /// no source).
    pub fn usual(units: Units) -> Rules {
        let metric = ruler::millimetres;
        let (strip_width, extra, overage, seam_loss) = match units {
            Units::Inches => (
                Length::from_eighths(20),
                binding::USUAL_EXTRA,
                backing::USUAL_OVERAGE,
                backing::USUAL_SEAM_LOSS,
            ),
            Units::Metric => (metric(65), metric(250), metric(200), metric(25)),
        };
        Rules {
            strip_width,
            join: Join::Diagonal,
            extra,
            bias: false,
            bias_square: None,
            packages: batting::packaged(),
            bed: None,
            overage,
            seam_loss,
            backing_width: None,
        }
    }
}

impl Default for Rules {
    fn default() -> Rules {
        Rules::usual(Units::Inches)
    }
}

/// A bed and how a quilt is to lie on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bed {
    /// Width and length of the mattress.
    pub mattress: Size,
    /// How far the quilt hangs down at both sides and the foot.
    pub drop: Length,
    /// What it is longer at the head.
    pub tuck: Length,
    /// What it loses in quilting and washing.
    pub shrinks: Lost,
}
