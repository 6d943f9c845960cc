//! The options of a run as a person writes them, on a command line or in a form.

use crate::length::{self, Direction, Length, Unit, Units};
use crate::planning::Rules;
use crate::planning::rules::{Aim, Manner, Solver, Weights};

/// What a person may set for one run.
#[derive(Clone, Debug)]
pub struct Options {
    /// What squaring up takes off the width and off the length, for lots that do not give an allowance of their own.
    pub allowance: Length,
    /// Rules of planning; allowance and units are taken from here, whatever they say.
    pub rules: Rules,
    /// In which units lengths are shown.
    pub units: Units,
    /// The most layers cut at once; at least 1.
    pub layers: u32,
    /// Which of the pattern's sizes; `None` for the main one.
    pub size: Option<String>,
    /// The date for the print sheet, as written.
    pub date: Option<String>,
}

impl Default for Options {
    fn default() -> Options {
        Options {
            allowance: Length::ZERO,
            rules: Rules { cutting: Manner::Auto, ..Rules::default() },
            units: Units::Inches,
            layers: 4,
            size: None,
            date: None,
        }
    }
}

/// Longer than any side of fabric that is trued or kept: a yard.
const LONGEST_OPTION: Length = Length::from_inches(36);

/// Reads a length such as `1/2`, `1/4 in` or `5 mm`; a bare number is inches. What lies between two exact lengths
/// is rounded up: a little more is taken off, and a leftover must be a little larger.
///
/// # Errors
/// What was expected.
pub fn length(text: &str) -> Result<Length, String> {
    let read = length::parse(text, Unit::Inch, Direction::Up).map_err(|error| error.to_string())?.length;
    if read < Length::ZERO || read > LONGEST_OPTION {
        return Err(format!("expected a length from 0 to {}", LONGEST_OPTION.show(Units::Inches)));
    }
    Ok(read)
}

/// Reads whole percent such as `5` or `5 %`.
///
/// # Errors
/// What was expected.
pub fn percent(text: &str, least: u32, most: u32) -> Result<u32, String> {
    let number = text.trim().trim_end_matches('%').trim().parse().ok();
    number
        .filter(|percent| (least..=most).contains(percent))
        .ok_or_else(|| format!("expected whole percent from {least} to {most}"))
}

/// Reads weights such as `scrap=50,yardage=200`; those not named keep their usual value.
///
/// # Errors
/// What was expected.
pub fn weights(text: &str) -> Result<Weights, String> {
    let mut weights = Weights::default();
    for part in text.split(',').map(str::trim).filter(|part| !part.is_empty()) {
        let (name, number) = part
            .split_once('=')
            .ok_or_else(|| format!("\"{part}\": expected a name, = and a number, such as scrap=50"))?;
        let number: u32 =
            number.trim().parse().ok().filter(|&number| number <= HEAVIEST).ok_or_else(|| {
                format!("\"{part}\": expected a whole number from 0 to {HEAVIEST} after the =")
            })?;
        let slot = match name.trim().to_lowercase().replace(['_', ' '], "-").as_str() {
            "scrap" | "scraps" => &mut weights.scrap,
            "precut" | "precuts" | "square" | "squares" | "strip" | "strips" => &mut weights.precut,
            "fat-quarter" | "fat-quarters" => &mut weights.fat_quarter,
            "yardage" => &mut weights.yardage,
            other => {
                return Err(format!("\"{other}\": expected scrap, precut, fat-quarter or yardage"));
            }
        };
        *slot = number;
    }
    Ok(weights)
}

/// Reads how yardage is to be cut.
///
/// # Errors
/// What was expected.
pub fn manner(text: &str) -> Result<Manner, String> {
    let known = [Manner::Auto, Manner::Strips, Manner::Nested];
    let named = known.into_iter().find(|manner| manner.name() == text.trim().to_lowercase());
    named.ok_or_else(|| format!("\"{text}\": expected auto, strips or nested"))
}

/// Reads the name of an aim.
///
/// # Errors
/// What was expected.
pub fn aim(text: &str) -> Result<Aim, String> {
    match text.trim().to_lowercase().as_str() {
        "look" => Ok(Aim::Look),
        "save" => Ok(Aim::Save),
        other => Err(format!("\"{other}\": expected look or save")),
    }
}

/// Reads whole percent from 0 to 100, of fabric that may be opened beyond the least.
///
/// # Errors
/// What was expected.
pub fn extra_fabric(text: &str) -> Result<u32, String> {
    percent(text, 0, 100)
}

/// Reads the name of a solver of integer programmes.
///
/// # Errors
/// What was expected, and how to build with a solver that is left out of this program.
pub fn solver(text: &str) -> Result<Solver, String> {
    match text.trim().to_lowercase().as_str() {
        "microlp" => Ok(Solver::Microlp),
        #[cfg(feature = "highs")]
        "highs" => Ok(Solver::Highs),
        #[cfg(not(feature = "highs"))]
        "highs" => Err(
            "this program was built without HiGHS; `cargo build --release --features highs` builds it in, \
                        and takes cmake, a C++ compiler and libclang"
                .to_owned(),
        ),
        other => Err(format!("\"{other}\": expected microlp or highs")),
    }
}

/// A weight above this says nothing more, and could carry sums over a stash past 64 bits.
const HEAVIEST: u32 = 10_000;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_that_are_not_named_keep_their_usual_value() {
        let usual = Weights::default();
        assert_eq!(
            weights("scrap=10, fat quarter=300"),
            Ok(Weights { scrap: 10, fat_quarter: 300, ..usual })
        );
        assert_eq!(weights(""), Ok(usual));
    }

    #[test]
    fn an_aim_that_there_is_not_is_refused_with_those_there_are() {
        assert_eq!([aim("look"), aim(" Save ")], [Ok(Aim::Look), Ok(Aim::Save)]);
        assert!(aim("haste").is_err_and(|said| said.contains("\"haste\": expected look or save")));
        assert_eq!(extra_fabric("7 %"), Ok(7));
        assert!(extra_fabric("101").is_err());
    }

    #[test]
    fn a_solver_that_is_not_built_in_is_refused_with_how_to_build_it() {
        assert_eq!(solver("microlp"), Ok(Solver::Microlp));
        assert!(solver("abacus").is_err_and(|said| said.contains("\"abacus\"")));
        #[cfg(not(feature = "highs"))]
        assert!(solver("highs").is_err_and(|said| said.contains("--features highs")));
        #[cfg(feature = "highs")]
        assert_eq!(solver("HiGHS").map(Solver::name), Ok("highs"));
    }

    #[test]
    fn a_weight_that_cannot_be_read_is_named() {
        assert!(weights("scrap").is_err_and(|said| said.contains("\"scrap\"")));
        assert!(weights("wool=3").is_err_and(|said| said.contains("\"wool\"")));
        assert!(weights("scrap=-1").is_err_and(|said| said.contains("scrap=-1")));
        assert!(weights("scrap=99999").is_err());
    }
}
