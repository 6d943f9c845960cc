//! Commands, options and their help.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

use crate::app::options;
use crate::app::{Aim, Length, Manner, Solver, Weights};
use crate::cli::need::NeedArguments;
use crate::cli::units::UnitsName;

const EXAMPLES: &str = "\
Examples:
  cutcloth plan chart.csv --stash pack.csv --out plan
      plan the quilt of chart.csv from the fabric in pack.csv; then open plan/sheet.html
  cutcloth check chart.csv pack.csv
      say everything that is wrong with the files, and change nothing
  cutcloth need pattern.toml --width 42
      say what to buy for the quilt, fabric by fabric
  cutcloth verify plan
      recompute the plan in the folder from the copies of its inputs

Exit codes: 0 it fits, or done; 1 it does not fit, or a verified record is wrong; 2 the input or the
command cannot be used; 3 undecided within the work allowed or when stopped; 4 the program found a mistake
of its own; 130 ended by a second Ctrl-C. The first Ctrl-C stops the search and keeps the best plan found.";

const PLAN_EXAMPLE: &str = "\
Example:
  cutcloth plan chart.csv --stash shelf.csv --allowance 1/4 --out plan

Without --out nothing is written and only the summary is shown.";

/// Plans the cutting of a patchwork quilt from the fabric you have: does it fit, how to cut it, what is left,
/// and what would make it fit.
#[derive(Debug, Parser)]
#[command(name = "cutcloth", version, after_help = EXAMPLES, disable_help_subcommand = true)]
pub(super) struct Arguments {
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Plan a quilt from a stash.
    Plan(PlanArguments),
    /// Read files and say everything that is wrong with them.
    Check {
        /// Stashes, cutting charts, pattern files or placements, in any order.
        #[arg(required = true, value_name = "FILE")]
        files: Vec<PathBuf>,
        /// Which of the pattern's sizes to look at; the main one unless given.
        #[arg(long, value_name = "NAME")]
        size: Option<String>,
    },
    /// Recompute a written plan from the copies of its inputs, trusting nothing it says.
    Verify {
        /// The folder that `plan --out` wrote.
        #[arg(value_name = "DIR")]
        folder: PathBuf,
    },
    /// Print the cutting chart of a pattern as CSV.
    Chart {
        /// The pattern.
        #[arg(value_name = "PATTERN")]
        pattern: PathBuf,
        /// Which of the pattern's sizes; the main one unless given.
        #[arg(long, value_name = "NAME")]
        size: Option<String>,
        /// Units in which lengths are shown.
        #[arg(long, value_enum, default_value_t = UnitsName::Inches)]
        units: UnitsName,
    },
    /// Say what fabric a pattern needs bought, every step shown.
    Need(NeedArguments),
}

#[derive(Args, Debug)]
#[command(after_help = PLAN_EXAMPLE)]
pub(super) struct PlanArguments {
    /// The pattern: a cutting chart (CSV) or a pattern file (TOML).
    #[arg(value_name = "PATTERN")]
    pub(super) pattern: PathBuf,
    /// The fabric you have (CSV).
    #[arg(long, value_name = "STASH.csv")]
    pub(super) stash: PathBuf,
    /// Which of the pattern's sizes to plan; the main one unless given.
    #[arg(long, value_name = "NAME")]
    pub(super) size: Option<String>,
    /// What you have decided already: block, copy, role, print (CSV). It is kept to.
    #[arg(long, value_name = "FILE")]
    pub(super) placements: Option<PathBuf>,
    /// Folder for the print sheet, the record and the spreadsheet files.
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// Write to the folder even if it holds no plan but something else, and replace files of the plan that you changed.
    #[arg(long, requires = "out")]
    pub(super) force: bool,
    /// What squaring up takes off the width and, once more, off the length of every sheet whose row does not say. A
    /// strip loses it off its width only (at the ends), yardage off its length only.
    #[arg(long, value_name = "LENGTH", value_parser = options::length, default_value = "0")]
    pub(super) allowance: Length,
    /// What comes first once everything is cut: look, that fabrics which meet look different and blocks differ, or save, that
    /// little fabric is cut into.
    #[arg(long, value_name = "AIM", value_parser = options::aim, default_value = "look")]
    pub(super) aim: Aim,
    /// How much more fabric than the least may be cut into for the sake of looks, in percent.
    #[arg(long, value_name = "PERCENT", value_parser = options::extra_fabric, default_value = "5")]
    pub(super) extra_fabric: u32,
    /// What a square inch of opened fabric counts, in hundredths. The plan that opens least is sought.
    #[arg(
        long,
        value_name = "LIST",
        value_parser = options::weights,
        default_value = "scrap=50,precut=100,fat-quarter=120,yardage=150"
    )]
    pub(super) weights: Weights,
    /// A leftover is worth keeping when its shorter side has at least this length.
    #[arg(long, value_name = "LENGTH", value_parser = options::length, default_value = "2 1/2 in")]
    pub(super) useful: Length,
    /// The most layers of fabric you cut at once.
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1..=20), default_value_t = 4)]
    pub(super) layers: u32,
    /// How yardage is cut: in strips across the width, on the least length with nested cuts, or auto: in strips where they
    /// take at most 2 in or 2 % more.
    #[arg(long, value_name = "HOW", value_parser = options::manner, default_value = "auto")]
    pub(super) cutting: Manner,
    /// Units in which lengths are shown. Files may mix them.
    #[arg(long, value_enum, default_value_t = UnitsName::Inches)]
    pub(super) units: UnitsName,
    /// Date for the revision line of the sheet, printed as you write it.
    #[arg(long, value_name = "TEXT")]
    pub(super) date: Option<String>,
    /// After so many seconds the best plan found is taken, and it is said that the clock stopped the search.
    #[arg(long, value_name = "SECONDS", value_parser = clap::value_parser!(u64).range(1..=86_400))]
    pub(super) time: Option<u64>,
    /// On how many threads the work is done; all processors, but no more than eight, unless given. The plan is the same.
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(1..=64))]
    pub(super) threads: Option<u16>,
    /// How much searching may be done, in percent of the usual.
    #[arg(long, value_name = "PERCENT", value_parser = clap::value_parser!(u32).range(1..=100_000), default_value_t = 100)]
    pub(super) effort: u32,
    /// Who solves the integer programmes of the search: microlp, or highs where the program is built with it.
    #[arg(long, value_name = "NAME", value_parser = options::solver, default_value = "microlp")]
    pub(super) solver: Solver,
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_commands_and_options_are_consistent() {
        Arguments::command().debug_assert();
    }
}
