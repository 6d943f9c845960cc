//! Why a requirement cannot be worked out.

use std::fmt;

use crate::length::{Length, Units};

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NeedError {
    /// A piece goes into the fabric neither way it may lie.
    TooWide {
        /// The fabric.
        role: String,
        /// The piece.
        label: String,
        /// Its width and height.
        size: (Length, Length),
        /// Usable width.
        width: Length,
        /// True when it could lie along the fabric, were its up not kept.
        upright: bool,
    },
    /// A border runs across the fabric, is longer than it is wide, and joins are forbidden.
    NoJoins {
        /// Number of the border, from 1, innermost first.
        border: usize,
        /// Cut length of its two sides.
        sides: Length,
        /// Cut length of its top and bottom.
        tops: Length,
        /// Usable width.
        width: Length,
    },
    /// The pattern has no role of this name.
    NoRole {
        /// What was asked for.
        name: String,
        /// The roles there are, with their titles.
        roles: Vec<String>,
    },
    /// The binding strips are no longer than what a join takes.
    NoBinding,
    /// The backing panels are no wider than what a seam takes.
    NoBacking,
}

impl NeedError {
    /// One sentence with the numbers, lengths in `units`.
    pub fn message(&self, units: Units) -> String {
        match self {
            NeedError::TooWide { role, label, size, width, upright } => {
                let size = format!("{} x {}", size.0.show_bare(units), size.1.show(units));
                let why = if *upright { ", because it keeps its up" } else { "" };
                format!(
                    "\"{label}\" of \"{role}\" ({size}) does not go into fabric of {} usable width{why}",
                    width.show(units)
                )
            }
            NeedError::NoJoins { border, sides, tops, width } => {
                let places = [(sides, "at the sides"), (tops, "at top and bottom")];
                let [(long, at), (other, there)] = if sides > tops { places } else { [places[1], places[0]] };
                format!(
                    "border {border} needs {} in one piece {at} ({} {there}) across fabric of {} usable width, and joins are forbidden",
                    long.show(units),
                    other.show(units),
                    width.show(units)
                )
            }
            NeedError::NoRole { name, roles } => {
                format!("the pattern has no role \"{name}\"; its roles are {}", roles.join(", "))
            }
            NeedError::NoBinding => "binding strips across this fabric are used up by their joins".to_owned(),
            NeedError::NoBacking => "backing panels of this width are used up by their seams".to_owned(),
        }
    }

    /// What to do about it.
    pub fn help(&self) -> &'static str {
        match self {
            NeedError::TooWide { upright: true, .. } => {
                "use wider fabric, or let the pieces of this role be turned"
            }
            NeedError::TooWide { .. } => "use wider fabric, or change the piece in the pattern",
            NeedError::NoJoins { .. } => "allow joins, cut the borders lengthwise, or use wider fabric",
            NeedError::NoRole { .. } => "name a role as the pattern does",
            NeedError::NoBinding | NeedError::NoBacking => "give the usable width of real fabric",
        }
    }
}

impl fmt::Display for NeedError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.message(Units::Inches))
    }
}

impl std::error::Error for NeedError {}
