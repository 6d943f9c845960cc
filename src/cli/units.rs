//! `--units`: the units in which lengths are shown, as they are named to every command.

use clap::ValueEnum;

use crate::app::Units;

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum UnitsName {
    Inches,
    Metric,
}

impl From<UnitsName> for Units {
    fn from(name: UnitsName) -> Units {
        match name {
            UnitsName::Inches => Units::Inches,
            UnitsName::Metric => Units::Metric,
        }
    }
}
