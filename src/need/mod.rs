//! What must be bought for a pattern, fabric by fabric, every step shown.
//!
//! pieces -> strips across the usable width ([`plain`]) -> exact inches -> spare and squaring up ([`Worked`]) ->
//! rounded up to the shop's step ([`Step`]). Beside it stands the least length that straight cuts of any kind need
//! ([`crate::cutting::shortest()`]), with its bound: what sharing between depths saves. Binding, borders, backing and
//! batting are plain functions, one file each. Nothing here knows what is owned.

use crate::cutting::{self, Kind, Layout, Work};
use crate::length::Length;
use crate::pattern::demand::{Demand, Loosened, Piece};
use crate::pattern::rules::Direction;
use crate::pattern::setting::Purpose;
use crate::pattern::{BlockId, Pattern, RoleId, geometry};

mod amount;
mod assumptions;
pub mod backing;
pub mod batting;
pub mod bed;
pub mod bias;
pub mod binding;
pub mod border;
mod bordered;
mod cuts;
mod drawn;
mod error;
mod finish;
mod finish_rules;
mod joined;
mod joins;
mod left;
mod lost;
mod named;
mod ruler;
mod strips;
mod width;
mod worked;

pub use amount::{Amount, Step};
pub use assumptions::{Assumptions, Borders, Meeting, Prewash, USUAL_WIDTH};
pub use bordered::{BorderNeed, BorderSide, JoinedBorder, JoinedPair};
pub use cuts::{FromCut, Sheets, sheets};
pub use drawn::Cutting;
pub use error::NeedError;
pub use finish::{BiasNeed, BindingNeed, Covers, Finish};
pub use finish_rules::Bed;
pub use joins::{Join, strips_joined};
pub use lost::{Lost, Percent};
pub use named::{Triangles, told_apart};
pub use ruler::moves as moves_to_marks;
pub use strips::{Band, Strips, Wanted, plain};
pub use width::WIDEST;
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
    /// The borders cut from it.
    pub borders: Vec<BorderNeed>,
    /// True when some of its strips are joined: cut otherwise they may be fewer.
    pub joins_strips: bool,
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
    work_out(&Source { whole: pattern, rest: None }, how)
}

/// Works out what `rest` needs, which a stash leaves of `planned`; nothing is finished by it.
///
/// # Errors
/// As [`need`].
pub fn need_left(rest: &Pattern, planned: &Pattern, how: &Assumptions) -> Result<Need, Vec<NeedError>> {
    work_out(&Source { whole: planned, rest: Some(rest) }, how)
}

/// What is worked out: a pattern, or what is left of it.
#[derive(Clone, Copy)]
struct Source<'a> {
    whole: &'a Pattern,
    rest: Option<&'a Pattern>,
}

impl Source<'_> {
    /// Its pieces on fabric of usable `width`.
    fn at(&self, width: Length, how: &Assumptions) -> Result<Pattern, NeedError> {
        let there = joined::at_width(self.whole, width, how)?;
        Ok(match self.rest {
            None => there,
            Some(rest) => left::at_width(rest, self.whole, &there),
        })
    }

    /// The borders that are cut from a role, of what is left those of which nothing is served.
    fn borders(&self, role: RoleId, how: &Assumptions) -> Vec<BorderNeed> {
        let Ok(there) = joined::at_width(self.whole, how.width, how) else { return Vec::new() };
        let mut borders = bordered::borders(&there, role, how.units);
        if let (Some(rest), Some(before)) = (self.rest, geometry::top(self.whole)) {
            borders.retain(|border| {
                let labels = [Purpose::BorderSide(border.border), Purpose::BorderTop(border.border)]
                    .map(Purpose::label);
                let mut lines = before.lines.iter().filter(|line| labels.contains(&line.label));
                lines.all(|line| left::all_left(rest, line))
            });
        }
        borders
    }
}

fn work_out(source: &Source<'_>, how: &Assumptions) -> Result<Need, Vec<NeedError>> {
    let pattern = source.whole;
    let missing: Vec<NeedError> = how
        .directional
        .iter()
        .filter(|name| !pattern.roles.iter().any(|role| role.name == **name))
        .map(|name| NeedError::NoRole { name: name.clone(), roles: named::roles(pattern) })
        .collect();
    if !missing.is_empty() {
        return Err(missing);
    }
    let main = source.at(how.width, how).map_err(|error| vec![error])?;
    let mut roles = Vec::new();
    let mut wrong = Vec::new();
    for (role, wanted) in wanted_at(&main, how.width, how) {
        let named = &pattern.roles[role.0];
        match at_width(how.width, wanted.clone(), how) {
            Ok(at) => roles.push(RoleNeed {
                role,
                name: named.name.clone(),
                title: named.title.clone(),
                others: Vec::new(),
                free: free(&at, how),
                holds: holds(&at, source, role, how),
                borders: source.borders(role, how),
                joins_strips: joined::joins_strips(pattern, role, how),
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
    let mut finished = None;
    if source.rest.is_none() {
        finished = finish::finish(pattern, how).map_err(|error| wrong.push(error)).unwrap_or_default();
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    for &width in how.other_widths.iter().filter(|width| **width != how.width) {
        // Another width is only for comparing; what does not go into it is told as such.
        let there = source.at(width, how).map(|pattern| wanted_at(&pattern, width, how)).ok();
        for role in &mut roles {
            let pieces = there.as_ref().and_then(|all| all.iter().find(|(id, _)| *id == role.role));
            let at = pieces.and_then(|(_, wanted)| at_width(width, wanted.clone(), how).ok());
            role.others.push((width, at));
        }
    }
    Ok(Need { roles, finish: finished })
}

/// The sizes to cut of every role, in the order of the roles; alike sizes are added up.
pub fn wanted(pattern: &Pattern, how: &Assumptions) -> Vec<(RoleId, Vec<Wanted>)> {
    wanted_at(pattern, how.width, how)
}

fn wanted_at(pattern: &Pattern, width: Length, how: &Assumptions) -> Vec<(RoleId, Vec<Wanted>)> {
    let demand = Demand::expand(pattern, &Loosened::default());
    let of = |role: RoleId| demand.pieces.iter().filter(move |piece| piece.role == role);
    let of_role = |role| (role, ruled(sizes(pattern, of(role), how), width, how));
    let all = (0..pattern.roles.len()).map(RoleId).map(of_role);
    all.filter(|(_, sizes)| !sizes.is_empty()).collect()
}

/// The sizes up to marks of the ruler that is cut with; a strip as long as the fabric is wide stays.
fn ruled(mut sizes: Vec<Wanted>, width: Length, how: &Assumptions) -> Vec<Wanted> {
    let ruled = |side: Length| if side == width { side } else { ruler::up(side, how.units) };
    for one in &mut sizes {
        (one.width, one.height) = (ruled(one.width), ruled(one.height));
    }
    sizes
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

/// `pattern` with its joined strips worked out for the width assumed and its pieces up to marks of the ruler, as
/// [`need`] counts it.
pub fn for_width(pattern: &Pattern, how: &Assumptions) -> Pattern {
    let mut there = joined::at_width(pattern, how.width, how).unwrap_or_else(|_| pattern.clone());
    let ruled = |side: Length| if side == how.width { side } else { ruler::up(side, how.units) };
    for line in there.blocks.iter_mut().flat_map(|block| &mut block.pieces) {
        (line.width, line.height) = (ruled(line.width), ruled(line.height));
    }
    there
}

/// The least widths for the amount by strips and for the next smaller one.
fn holds(
    at: &AtWidth,
    source: &Source<'_>,
    role: RoleId,
    how: &Assumptions,
) -> Vec<(Amount, Option<Length>)> {
    let amount = at.by_strips.amount;
    let amounts = std::iter::once(amount).chain(amount.less());
    amounts.map(|amount| (amount, least(amount.length, source, role, how))).collect()
}

/// The least usable width from which plain strips of a role, spare included, come out of `length`; joined strips
/// are taken across each width tried.
pub fn least_width(length: Length, pattern: &Pattern, role: RoleId, how: &Assumptions) -> Option<Length> {
    least(length, &Source { whole: pattern, rest: None }, role, how)
}

fn least(length: Length, source: &Source<'_>, role: RoleId, how: &Assumptions) -> Option<Length> {
    let sizes_of = |pattern: &Pattern, width: Length| {
        let all = wanted_at(pattern, width, how);
        all.into_iter().find(|(id, _)| *id == role).map(|(_, sizes)| sizes)
    };
    let holds = |width: Length, sizes: &[Wanted]| {
        plain(width, sizes).is_ok_and(|strips| how.spare.total(strips.length, strips.deepest()) <= length)
    };
    if joined::follows_width(source.whole, how) {
        return width::least(how.width, how.units, |width| {
            let there = source.at(width, how).ok();
            there.and_then(|pattern| sizes_of(&pattern, width)).is_some_and(|sizes| holds(width, &sizes))
        });
    }
    let sizes = sizes_of(&source.at(how.width, how).ok()?, how.width)?;
    width::least(how.width, how.units, |width| holds(width, &sizes))
}
