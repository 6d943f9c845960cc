//! Batting: one piece, a little larger than the quilt top.

use crate::length::{Length, Units, round};
use crate::need::ruler;
use crate::pattern::Size;

/// Packaged sizes as two published lists give them: Kay Stephenson, "Quilt sizes", and Karen Daniel, "Common Quilt
/// and Batting Sizes".
pub fn packaged() -> Vec<Package> {
    let sizes =
        [("crib", 45, 60), ("twin", 72, 90), ("full", 81, 96), ("queen", 90, 108), ("king", 120, 120)];
    let package = |(name, width, height)| {
        let size = Size { width: Length::from_inches(width), height: Length::from_inches(height) };
        Package { name: String::from(name), size }
    };
    sizes.map(package).to_vec()
}

/// Batting as a shop has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Package {
    /// Its name; empty when it has none.
    pub name: String,
    /// Its width and height.
    pub size: Size,
}

/// Batting for a quilt top of `size`: larger by `overage` in all, up to a whole inch or centimetre.
pub fn size(size: Size, overage: Length, units: Units) -> Size {
    let whole = match units {
        Units::Inches => Length::from_inches(1),
        Units::Metric => ruler::millimetres(10),
    };
    let up = |side: Length| round::up(side + overage, whole);
    Size { width: up(size.width), height: up(size.height) }
}

/// The package of least area that `size` comes out of, turned if need be.
pub fn least_package(size: Size, packages: &[Package]) -> Option<&Package> {
    let sides = |size: Size| (size.width.min(size.height), size.width.max(size.height));
    let (short, long) = sides(size);
    let holds = |package: &&Package| {
        let (least, most) = sides(package.size);
        short <= least && long <= most
    };
    packages.iter().filter(holds).min_by_key(|package| package.size.width.by(package.size.height))
}
