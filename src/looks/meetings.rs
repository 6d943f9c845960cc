//! Which roles meet: along the seams where the pattern is drawn, else by the rules for a cutting chart.

use std::collections::{BTreeMap, BTreeSet};

use crate::length::Length;
use crate::looks::seams::{self, Seams};
use crate::pattern::{BlockId, Matching, Pattern, RoleId, geometry};

/// Two roles that are sewn to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Meeting {
    /// In every copy of this block; `None` for two fabrics of the whole quilt, such as border and background.
    pub block: Option<BlockId>,
    /// The two, the lower number first.
    pub roles: [RoleId; 2],
    /// How much seam they share, finished, in one copy (where the copy meets others, its share on the average, rounded down)
    /// or over the quilt; `None` where it is not drawn.
    pub seam: Option<Length>,
}

/// Every two roles that meet.
///
/// Where the rows of a block are known, roles meet that share a seam in it; where the layout is known, also those on both sides
/// of a seam between blocks, sashing and borders, as long as one of them is the same everywhere or belongs to the setting
/// (which copies of two blocks lie side by side is settled only later). In a cutting chart every two roles of a block meet, a role of the
/// whole quilt that comes in several block copies meets each of their roles, and two roles of the whole quilt meet each other.
/// Binding meets nothing. What the pattern says itself (`meets`, `blends`) goes before all this: two roles of which one names others
/// only do not meet, and where blending is meant nothing is counted.
pub fn meetings(pattern: &Pattern) -> Vec<Meeting> {
    let mut found = Found { pattern, seams: BTreeMap::new() };
    let between = seams::between(pattern);
    let is_set = |block: BlockId| {
        let places = pattern.layout.as_ref().map(|layout| layout.places()).unwrap_or_default();
        places.iter().any(|(_, cell)| cell.block == block)
    };
    for (id, block) in (0..).map(BlockId).zip(&pattern.blocks) {
        if is_drawn(block) {
            found.inside(id, seams::of_block(block));
        } else if between.is_none() || is_set(id) {
            // What else a drawn quilt lists are the pieces of its setting, whose seams are known, and pieces that it does not show.
            found.listed(id);
        }
    }
    match between {
        Some(between) => found.outside(between),
        None => found.whole_quilt(),
    }
    found.finish()
}

/// True for a role that is the quilt's binding, by its name or title.
pub fn is_binding(pattern: &Pattern, role: RoleId) -> bool {
    let role = &pattern.roles[role.0];
    [&role.name, &role.title].iter().any(|text| text.to_lowercase().contains("binding"))
}

/// True when every patch of a block is known with its fabric.
fn is_drawn(block: &crate::pattern::Block) -> bool {
    let patches = geometry::block(block);
    !patches.is_empty() && patches.iter().all(|patch| patch.role.is_some())
}

/// Is a role one print everywhere?
fn is_quilt_wide(pattern: &Pattern, role: RoleId) -> bool {
    let lines = pattern.blocks.iter().flat_map(|block| &block.pieces);
    lines.filter(|line| line.role == role).any(|line| line.matching == Matching::Quilt)
}

/// Meetings so far: block and roles, with the sum of their seams over the whole quilt.
struct Found<'a> {
    pattern: &'a Pattern,
    seams: BTreeMap<(Option<BlockId>, [RoleId; 2]), Option<Length>>,
}

impl Found<'_> {
    /// Takes note of a meeting with its seam over the whole quilt.
    fn add(&mut self, block: Option<BlockId>, one: RoleId, other: RoleId, seam: Option<Length>) {
        if one == other || [one, other].iter().any(|&role| is_binding(self.pattern, role)) {
            return;
        }
        let both = is_quilt_wide(self.pattern, one) && is_quilt_wide(self.pattern, other);
        let key = (if both { None } else { block }, [one.min(other), one.max(other)]);
        let sum = self.seams.entry(key).or_insert(Some(Length::ZERO));
        *sum = sum.zip(seam).map(|(sum, seam)| sum + seam);
    }

    /// The seams inside a block that is drawn.
    fn inside(&mut self, block: BlockId, seams: Seams) {
        let make = self.pattern.blocks[block.0].make;
        for ((one, other), seam) in seams {
            let all = Length::from_ticks(seam.ticks().saturating_mul(i64::from(make)));
            self.add(Some(block), one, other, Some(all));
        }
    }

    /// A block of which only the pieces are known.
    fn listed(&mut self, block: BlockId) {
        let pattern = self.pattern;
        let roles: BTreeSet<RoleId> = pattern.blocks[block.0].pieces.iter().map(|line| line.role).collect();
        let everywhere = (0..pattern.roles.len()).map(RoleId).filter(|&role| {
            let having =
                pattern.blocks.iter().filter(|block| block.pieces.iter().any(|line| line.role == role));
            is_quilt_wide(pattern, role) && having.map(|block| block.make).sum::<u32>() > 1
        });
        let others: BTreeSet<RoleId> = roles.iter().copied().chain(everywhere).collect();
        for &one in &roles {
            for &other in others.iter().filter(|&&other| other > one || !roles.contains(&other)) {
                self.add(Some(block), one, other, None);
            }
        }
    }

    /// The seams between blocks and what is set around them.
    fn outside(&mut self, between: Vec<seams::Between>) {
        for seams::Between { blocks, roles: [one, other], seam } in between {
            match blocks {
                [None, None] => self.add(None, one, other, Some(seam)),
                [Some(block), None] | [None, Some(block)] => self.add(Some(block), one, other, Some(seam)),
                [Some(here), Some(there)] => {
                    match [one, other].map(|role| is_quilt_wide(self.pattern, role)) {
                        [true, _] => self.add(Some(there), one, other, Some(seam)),
                        [false, true] => self.add(Some(here), one, other, Some(seam)),
                        [false, false] => {}
                    }
                }
            }
        }
    }

    /// Without a layout: every two fabrics of the whole quilt.
    fn whole_quilt(&mut self) {
        let roles = (0..self.pattern.roles.len()).map(RoleId);
        let wide: Vec<RoleId> = roles.filter(|&role| is_quilt_wide(self.pattern, role)).collect();
        for (index, &one) in wide.iter().enumerate() {
            for &other in &wide[index + 1..] {
                if !self.seams.contains_key(&(None, [one, other])) {
                    self.add(None, one, other, None);
                }
            }
        }
    }

    fn finish(self) -> Vec<Meeting> {
        let pattern = self.pattern;
        let counts = |[one, other]: [RoleId; 2]| {
            let [first, second] = [one, other].map(|role| &pattern.roles[role.0].looks);
            let says = |looks: &crate::pattern::RoleLooks, of: RoleId| {
                looks.meets.as_ref().is_none_or(|roles| roles.contains(&of))
            };
            says(first, other) && says(second, one) && !(pattern.blends || first.blends || second.blends)
        };
        let each = self.seams.into_iter().filter(|((_, roles), _)| counts(*roles));
        let meetings = each.map(|((block, roles), seam)| {
            let make = block.map_or(1, |block| i64::from(pattern.blocks[block.0].make.max(1)));
            Meeting { block, roles, seam: seam.map(|seam| Length::from_ticks(seam.ticks() / make)) }
        });
        meetings.filter(|meeting| meeting.seam != Some(Length::ZERO)).collect()
    }
}
