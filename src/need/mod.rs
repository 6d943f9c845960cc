//! What must be bought for a pattern, fabric by fabric, every step shown.
//!
//! pieces -> strips across the usable width ([`plain`]) -> exact inches -> spare and squaring up ([`Worked`]) ->
//! rounded up to the shop's step ([`Step`]). Beside it stands the least length that straight cuts of any kind need
//! ([`crate::cutting::shortest`]), with its bound: what sharing between depths saves. Binding, borders, backing and
//! batting are plain functions, one file each. Nothing here knows what is owned.

use crate::cutting::{self, Kind, Layout, Work};
use crate::length::Length;
use crate::pattern::demand::{Demand, Loosened, Piece};
use crate::pattern::rules::Direction;
use crate::pattern::{BlockId, Pattern, RoleId};

mod amount;
mod assumptions;
pub mod backing;
pub mod batting;
pub mod bed;
pub mod bias;
pub mod binding;
pub mod border;
mod cuts;
mod drawn;
mod error;
mod finish;
mod joined;
mod joins;
mod named;
mod strips;
mod width;
mod worked;

pub use amount::{Amount, Step};
pub use assumptions::{Assumptions, Borders, Meeting, Prewash, USUAL_WIDTH};
pub use cuts::{FromCut, Sheets, sheets};
pub use drawn::Cutting;
pub use error::NeedError;
pub use finish::{Bed, BiasNeed, BindingNeed, Covers, Finish};
pub use joined::JoinedBorder;
pub use joins::{Join, strips_joined};
pub use named::{Triangles, told_apart};
pub use strips::{Band, Strips, Wanted, plain};
pub use worked::{Spare, Worked};

/// The requirement of a pattern.
#[derive(Clone, Debug)]
pub struct Need {
    /// Fabric by fabric, in the pattern's order; roles that nothing is cut from are left out.
    pub roles: Vec<RoleNeed>,
    /// Binding, backing and batting; `None` when the pattern does not say how large the quilt is.
    pub finish: Option<Finish>,
}

/// The requirement of one fabric.
#[derive(Clone, Debug)]
pub struct RoleNeed {
    /// The role.
    pub role: RoleId,
    /// Its name in the pattern.
    pub name: String,
    /// What the designer calls it; may be empty.
    pub title: String,
    /// The amounts at the width assumed.
    pub at: AtWidth,
    /// The amounts at the same width if every piece might be turned, where some may not.
    pub free: Option<AtWidth>,
    /// The amounts at the other widths asked for; `None` where a piece does not go into the width.
    pub others: Vec<(Length, Option<AtWidth>)>,
    /// The amount by strips, and the next smaller one, each with the least usable width from which it works.
    pub holds: Vec<(Amount, Option<Length>)>,
    /// The borders joined from strips of it.
    pub joined: Vec<JoinedBorder>,
    /// Which of its squares are then cut corner to corner.
    pub triangles: Vec<Triangles>,
    /// The amount as squares, strips or fat quarters, where the pattern names them for the role.
    pub cuts: Vec<FromCut>,
}

/// One fabric's amounts at one width.
#[derive(Clone, Debug)]
pub struct AtWidth {
    /// Sizes to cut.
    pub wanted: Vec<Wanted>,
    /// The plain strip count.
    pub strips: Strips,
    /// Its length, with spare, rounded up.
    pub by_strips: Worked,
    /// The least length found with straight cuts of any kind; never more than the strips take.
    pub by_least: Worked,
    /// No cutting takes less than this, spare not counted.
    pub bound: Length,
    /// The cutting of the least length; `None` when plain strips are the best known.
    pub layout: Option<Layout>,
}

impl AtWidth {
    /// True when no cutting can take less than the least length found.
    pub fn is_proved(&self) -> bool {
        self.bound == self.by_least.exact
    }
}

/// Works out what `pattern` needs.
///
/// # Errors
/// Everything that has no answer: a piece that does not go into the width, a border that may not be joined, a role
/// that is not there.
pub fn need(pattern: &Pattern, how: &Assumptions) -> Result<Need, Vec<NeedError>> {
    let missing: Vec<NeedError> = how
        .directional
        .iter()
        .filter(|name| !pattern.roles.iter().any(|role| role.name == **name))
        .map(|name| NeedError::NoRole { name: name.clone(), roles: named::roles(pattern) })
        .collect();
    if !missing.is_empty() {
        return Err(missing);
    }
    let main = joined::at_width(pattern, how.width, how).map_err(|error| vec![error])?;
    let mut roles = Vec::new();
    let mut wrong = Vec::new();
    for (role, wanted) in wanted(&main, how) {
        let named = &pattern.roles[role.0];
        match at_width(how.width, wanted.clone(), how) {
            Ok(at) => roles.push(RoleNeed {
                role,
                name: named.name.clone(),
                title: named.title.clone(),
                others: Vec::new(),
                free: free(&at, how),
                holds: holds(&at, pattern, role, how),
                joined: joined::borders(&main, role),
                triangles: named::triangles(&main, role),
                cuts: cuts::from_cuts(&main, role, how),
                at,
            }),
            Err(size) => {
                let one = &wanted[size];
                wrong.push(NeedError::TooWide {
                    role: named.name.clone(),
                    label: one.labels.join(", "),
                    size: (one.width, one.height),
                    width: how.width,
                    upright: !one.turn && one.height <= how.width,
                });
            }
        }
    }
    let finish = finish::finish(pattern, how).map_err(|error| wrong.push(error)).unwrap_or_default();
    if !wrong.is_empty() {
        return Err(wrong);
    }
    for &width in how.other_widths.iter().filter(|width| **width != how.width) {
        // Another width is only for comparing; what does not go into it is told as such.
        let there = joined::at_width(pattern, width, how).map(|pattern| wanted_of(&pattern, how)).ok();
        for role in &mut roles {
            let pieces = there.as_ref().and_then(|all| all.iter().find(|(id, _)| *id == role.role));
            let at = pieces.and_then(|(_, wanted)| at_width(width, wanted.clone(), how).ok());
            role.others.push((width, at));
        }
    }
    Ok(Need { roles, finish })
}

/// The sizes to cut of every role, in the order of the roles; alike sizes are added up.
pub fn wanted(pattern: &Pattern, how: &Assumptions) -> Vec<(RoleId, Vec<Wanted>)> {
    wanted_of(pattern, how)
}

fn wanted_of(pattern: &Pattern, how: &Assumptions) -> Vec<(RoleId, Vec<Wanted>)> {
    let demand = Demand::expand(pattern, &Loosened::default());
    let of = |role: RoleId| demand.pieces.iter().filter(move |piece| piece.role == role);
    let all = (0..pattern.roles.len()).map(RoleId).map(|role| (role, sizes(pattern, of(role), how)));
    all.filter(|(_, sizes)| !sizes.is_empty()).collect()
}

/// The sizes of `pieces`; alike sizes are added up. A label that means other sizes in other blocks is told with its block.
pub fn sizes<'a>(
    pattern: &Pattern,
    pieces: impl Iterator<Item = &'a Piece>,
    how: &Assumptions,
) -> Vec<Wanted> {
    let mut sizes: Vec<(Wanted, Vec<(&str, BlockId)>)> = Vec::new();
    for piece in pieces {
        let role = &pattern.roles[piece.role.0];
        let name = (piece.label.as_str(), piece.block);
        let alike = sizes.iter_mut().find(|(one, _)| (one.width, one.height) == (piece.width, piece.height));
        match alike {
            Some((one, names)) => {
                one.count += 1;
                if !names.contains(&name) {
                    names.push(name);
                }
            }
            None => sizes.push((
                Wanted {
                    labels: Vec::new(),
                    width: piece.width,
                    height: piece.height,
                    turn: role.rules.direction != Direction::Kept && !how.directional.contains(&role.name),
                    count: 1,
                },
                vec![name],
            )),
        }
    }
    let all: Vec<Vec<(&str, BlockId)>> = sizes.iter().map(|(_, names)| names.clone()).collect();
    let told = |(label, block): (&str, BlockId)| {
        let twice = all.iter().filter(|names| names.iter().any(|(other, _)| *other == label)).count() > 1;
        let of = &pattern.blocks[block.0].name;
        if twice { format!("{label} of {of}") } else { label.to_owned() }
    };
    let named = |(mut one, names): (Wanted, Vec<(&str, BlockId)>)| {
        for label in names.into_iter().map(told) {
            if !one.labels.contains(&label) {
                one.labels.push(label);
            }
        }
        one
    };
    sizes.into_iter().map(named).collect()
}

/// Both amounts of one fabric at one width.
///
/// # Errors
/// The index of a size that does not go into the width.
pub fn at_width(width: Length, wanted: Vec<Wanted>, how: &Assumptions) -> Result<AtWidth, usize> {
    let strips = plain(width, &wanted)?;
    let kinds: Vec<Kind> = wanted.iter().map(Wanted::kind).collect();
    let counts: Vec<u32> = wanted.iter().map(|one| one.count).collect();
    let mut work = Work::steps(how.work);
    let least = cutting::shortest(width, strips.length, &kinds, &counts, &mut work);
    let found = least.found.filter(|(_, length)| *length < strips.length);
    let (layout, length) = found.map_or((None, strips.length), |(layout, length)| (Some(layout), length));
    Ok(AtWidth {
        by_strips: how.spare.work_out(strips.length, strips.deepest(), how.step),
        by_least: how.spare.work_out(length, strips.deepest(), how.step),
        bound: least.bound.min(length),
        wanted,
        strips,
        layout,
    })
}

/// The amounts if the pieces that keep their up might be turned; `None` when none does, or turning is no matter.
fn free(at: &AtWidth, how: &Assumptions) -> Option<AtWidth> {
    let bound_up = |one: &Wanted| !one.turn && one.width != one.height;
    if !at.wanted.iter().any(bound_up) {
        return None;
    }
    let wanted = at.wanted.iter().map(|one| Wanted { turn: true, ..one.clone() });
    at_width(how.width, wanted.collect(), how).ok()
}

/// `pattern` with its joined strips worked out for the width assumed, as [`need`] counts it.
pub fn for_width(pattern: &Pattern, how: &Assumptions) -> Pattern {
    joined::at_width(pattern, how.width, how).unwrap_or_else(|_| pattern.clone())
}

/// The least widths for the amount by strips and for the next smaller one.
fn holds(at: &AtWidth, pattern: &Pattern, role: RoleId, how: &Assumptions) -> Vec<(Amount, Option<Length>)> {
    let amount = at.by_strips.amount;
    let amounts = std::iter::once(amount).chain(amount.less());
    amounts.map(|amount| (amount, least_width(amount.length, pattern, role, how))).collect()
}

/// The least usable width from which plain strips of a role, spare included, come out of `length`; joined strips
/// are taken across each width tried.
pub fn least_width(length: Length, pattern: &Pattern, role: RoleId, how: &Assumptions) -> Option<Length> {
    let sizes_of = |pattern: &Pattern| {
        let all = wanted_of(pattern, how);
        all.into_iter().find(|(id, _)| *id == role).map(|(_, sizes)| sizes)
    };
    let holds = |width: Length, sizes: &[Wanted]| {
        plain(width, sizes).is_ok_and(|strips| how.spare.total(strips.length, strips.deepest()) <= length)
    };
    if joined::follows_width(pattern, how) {
        return width::least(how.width, how.units, |width| {
            let there = joined::at_width(pattern, width, how).ok();
            there.and_then(|pattern| sizes_of(&pattern)).is_some_and(|sizes| holds(width, &sizes))
        });
    }
    let sizes = sizes_of(&joined::at_width(pattern, how.width, how).ok()?)?;
    width::least(how.width, how.units, |width| holds(width, &sizes))
}
