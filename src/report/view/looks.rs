//! How the quilt looks, in words: what blends, what would mend it, how often each print comes.

use std::collections::{BTreeMap, BTreeSet};

use crate::color::{Color, contrast};
use crate::fabric::Value;
use crate::looks::{Pair, lightness_of_word};
use crate::pattern::{BlockId, RoleId};
use crate::planning::{Verdict, permitted};
use crate::report::looked::{Clash, Looked};
use crate::report::situation::Situation;
use crate::report::view::words;
use crate::stash::PrintId;

/// How a plan looks.
pub(crate) struct LooksView {
    /// What can be said of it, a sentence each.
    pub(crate) sentences: Vec<String>,
    /// What looks alike where it meets.
    pub(crate) clashes: Vec<ClashRow>,
    /// Prints by the number of blocks they come in, the most first.
    pub(crate) repeats: Vec<RepeatRow>,
}

/// Two fabrics that look alike where they meet.
pub(crate) struct ClashRow {
    /// The block copies.
    pub(crate) place: String,
    /// The two prints with what they are used for.
    pub(crate) prints: String,
    /// Contrast, as a ratio.
    pub(crate) contrast: String,
    /// What would mend it; nothing where we know of nothing.
    pub(crate) mend: String,
}

/// Prints that come in as many blocks.
pub(crate) struct RepeatRow {
    /// In how many blocks.
    pub(crate) blocks: usize,
    /// How many prints.
    pub(crate) number: usize,
    /// The prints.
    pub(crate) prints: String,
}

impl LooksView {
    /// Of one plan; nothing where no piece is placed.
    pub(crate) fn of(here: &Situation<'_>) -> Option<LooksView> {
        let looked = Looked::of(here);
        let clashes = looked.clashes(here);
        (looked.figures.prints > 0).then(|| LooksView {
            sentences: sentences(here, &looked, &clashes),
            clashes: rows(here, &looked, &clashes),
            repeats: repeats(here, &looked),
        })
    }
}

/// What is said of the looks of a plan; nothing where no piece is placed.
pub(crate) fn sentences(here: &Situation<'_>, looked: &Looked, clashes: &[Clash]) -> Vec<String> {
    if looked.figures.prints == 0 {
        return Vec::new();
    }
    let mut said = Vec::new();
    let tally = looked.figures.tally;
    if here.pattern.blends {
        said.push("The fabrics are meant to blend, as the pattern says.".to_owned());
    } else if tally.all > 0 {
        said.extend(blending(here, looked, clashes));
        if tally.not_known > 0 {
            let unknown = unknown(here, looked);
            said.push(format!(
                "Not counted, as the stash says neither colour nor value: {}.",
                words::list(&unknown)
            ));
        }
    }
    said.push(variety(here, looked));
    said
}

fn blending(here: &Situation<'_>, looked: &Looked, clashes: &[Clash]) -> Vec<String> {
    let mut said = Vec::new();
    let tally = looked.figures.tally;
    let (copies, few) = lost(here, clashes);
    for clash in clashes.iter().filter(|clash| clash.copy.is_none()) {
        let [one, other] = clash.roles.map(|role| here.pattern.roles[role.0].name.as_str());
        said.push(match clash.pair {
            Pair::Same => {
                format!("{} and {other} are of one print and will not be told apart.", words::capital(one))
            }
            _ => format!("{} and {other} meet and look alike.", words::capital(one)),
        });
    }
    for ([role, other], number) in few {
        let all = here.demand.sets.iter().filter(|set| set.role == role).count();
        let [role, other] = [role, other].map(|role| here.pattern.roles[role.0].name.as_str());
        said.push(format!("{number} of {all} {role} pieces look like the {other} beside them."));
    }
    if copies.is_empty() {
        if said.is_empty() {
            said.push("No two fabrics that meet look alike.".to_owned());
        }
    } else {
        let named = copies_named(here, &copies);
        said.push(format!(
            "In {} of {} fabrics that meet look alike: {named}.",
            copies.len(),
            words::count(looked.copies(), "block", "blocks")
        ));
    }
    if tally.alike > 0 {
        let share = percent(tally.alike, tally.all);
        let of = if looked.figures.by_seam { "the seams" } else { "what meets" };
        said.push(format!("Told apart by colour, not by light and dark: {share} of {of}."));
    }
    said
}

/// Block copies in which fabrics that meet look alike, and how many loose pieces look like what they meet where they are less
/// than half of their kind in a copy: the eye still reads the block.
type Lost = (BTreeSet<(BlockId, u32)>, BTreeMap<[RoleId; 2], usize>);

fn lost(here: &Situation<'_>, clashes: &[Clash]) -> Lost {
    type Side = ((BlockId, u32), [RoleId; 2]);
    let mut prints: BTreeMap<Side, BTreeSet<PrintId>> = BTreeMap::new();
    let (mut copies, mut few) = Lost::default();
    for clash in clashes {
        let Some(copy) = clash.copy else { continue };
        let pieces =
            |role| here.demand.sets.iter().filter(move |set| set.role == role && set.block == Some(copy));
        match (0..2).find(|&side| pieces(clash.roles[side]).count() > 1) {
            Some(side) => {
                let roles = [clash.roles[side], clash.roles[1 - side]];
                prints.entry((copy, roles)).or_default().insert(clash.prints[side]);
            }
            None => {
                copies.insert(copy);
            }
        }
    }
    for ((copy, roles), prints) in prints {
        let sets = here.demand.sets.iter().zip(&here.outcome.plan.prints);
        let pieces = sets.filter(|(set, _)| set.role == roles[0] && set.block == Some(copy));
        let alike: Vec<bool> =
            pieces.map(|(_, print)| print.is_some_and(|print| prints.contains(&print))).collect();
        let number = alike.iter().filter(|&&alike| alike).count();
        if number * 2 < alike.len() {
            *few.entry(roles).or_default() += number;
        } else {
            copies.insert(copy);
        }
    }
    (copies, few)
}

/// The prints of which the stash says neither colour nor value.
fn unknown(here: &Situation<'_>, looked: &Looked) -> Vec<String> {
    let used: BTreeSet<PrintId> = here.outcome.plan.prints.iter().copied().flatten().collect();
    let unknown = used.into_iter().filter(|&print| looked.sight.color(print).is_none());
    unknown.map(|print| here.stash.print(print).name.clone()).collect()
}

fn variety(here: &Situation<'_>, looked: &Looked) -> String {
    let held = here.stash.prints.len();
    let used = format!("{} of {}", looked.figures.prints, words::count(held, "print", "prints"));
    let most = looked.figures.largest_repeat();
    match most {
        0 => format!("{used} used."),
        1 => format!("{used} used, none in more than 1 block."),
        most => format!("{used} used, none in more than {most} blocks."),
    }
}

/// Whole percent, never rounded to none.
fn percent(part: i64, all: i64) -> String {
    match (i128::from(part) * 100 + i128::from(all) / 2) / i128::from(all.max(1)) {
        0 => "less than 1 %".to_owned(),
        share => format!("{share} %"),
    }
}

fn copies_named(here: &Situation<'_>, copies: &BTreeSet<(BlockId, u32)>) -> String {
    let mut by_block: BTreeMap<BlockId, Vec<u32>> = BTreeMap::new();
    for &(block, copy) in copies {
        by_block.entry(block).or_default().push(copy);
    }
    let named = by_block.into_iter().map(|(block, copies)| match here.pattern.blocks[block.0].make {
        1 => here.pattern.blocks[block.0].name.clone(),
        _ => format!("{} {}", here.pattern.blocks[block.0].name, words::ranges(&copies)),
    });
    words::list(&named.collect::<Vec<_>>())
}

/// Clashes of the same two prints in the same roles of one block in one row.
fn rows(here: &Situation<'_>, looked: &Looked, clashes: &[Clash]) -> Vec<ClashRow> {
    type Alike = (Option<BlockId>, [RoleId; 2], [PrintId; 2]);
    let mut rows: BTreeMap<Alike, Vec<&Clash>> = BTreeMap::new();
    for clash in clashes {
        rows.entry((clash.copy.map(|copy| copy.0), clash.roles, clash.prints)).or_default().push(clash);
    }
    let row = |clashes: Vec<&Clash>| {
        let clash = clashes[0];
        let copies: BTreeSet<(BlockId, u32)> = clashes.iter().filter_map(|clash| clash.copy).collect();
        let used = |at: usize| {
            let role = &here.pattern.roles[clash.roles[at].0].name;
            format!("{} ({role})", here.stash.print(clash.prints[at]).name)
        };
        ClashRow {
            place: if copies.is_empty() { "the whole quilt".to_owned() } else { copies_named(here, &copies) },
            prints: format!("{} and {}", used(0), used(1)),
            contrast: match looked.sight.contrast(clash.prints[0], clash.prints[1]) {
                _ if clash.pair == Pair::Same => "one print".to_owned(),
                Some(ratio) => format!("{}.{:02}", ratio / 100, ratio % 100),
                None => String::new(),
            },
            mend: mend(here, looked, clash),
        }
    };
    rows.into_values().map(row).collect()
}

/// What would mend a clash: prints of the stash that stand out there, a swap with another copy, what to buy.
fn mend(here: &Situation<'_>, looked: &Looked, clash: &Clash) -> String {
    let Some(side) = changing(here, clash) else { return String::new() };
    let role = clash.roles[side];
    let beside = looked.beside(here, clash.copy, role);
    let fine = |print: PrintId| beside.iter().all(|&other| looked.sight.pair(print, other) == Pair::Fine);
    let mut ways = Vec::new();
    let held = held(here, looked, role, &fine);
    if !held.is_empty() {
        ways.push(format!("{} in its place", words::either(&held)));
    }
    if let Some(copy) = swap(here, looked, clash, side) {
        ways.push(format!("change prints with {copy}"));
    }
    ways.extend(purchase(here, looked, role, &beside, &fine));
    words::capital(&ways.join("; or "))
}

/// Which of the two roles is easier to change: the one that is not the same everywhere.
fn changing(here: &Situation<'_>, clash: &Clash) -> Option<usize> {
    let everywhere = |role: RoleId| {
        let sets = here.demand.sets.iter().filter(|set| set.role == role);
        sets.into_iter().all(|set| set.block.is_none())
    };
    let [one, other] = clash.roles.map(everywhere);
    Some(if one && !other { 1 } else { 0 })
}

/// Up to two prints of the stash that stand out, those not used yet first.
fn held(here: &Situation<'_>, looked: &Looked, role: RoleId, fine: &dyn Fn(PrintId) -> bool) -> Vec<String> {
    let allowed = permitted(&here.demand.rules[role.0], here.stash);
    let from = &here.pattern.roles[role.0].from;
    let comes = |print: PrintId| {
        let mut lots = here.stash.lots_of(print);
        lots.any(|lot| !lot.keep && lot.row.is_some() && (from.is_empty() || from.contains(&lot.cut)))
    };
    let uses = |print: PrintId| {
        let repeats = looked.figures.repeats.iter().find(|repeat| repeat.print == print);
        let wide = here.outcome.plan.prints.contains(&Some(print));
        repeats.map_or(usize::from(wide), |repeat| repeat.copies.len())
    };
    let all = (0..here.stash.prints.len()).map(PrintId);
    let may = |print: &PrintId| allowed.as_ref().is_none_or(|allowed| allowed.contains(print));
    let mut found: Vec<PrintId> = all.filter(may).filter(|&print| comes(print) && fine(print)).collect();
    found.sort_by_key(|&print| (uses(print), print));
    let named = found.into_iter().take(2).map(|print| {
        let name = &here.stash.print(print).name;
        if uses(print) == 0 { format!("{name} (not used yet)") } else { name.clone() }
    });
    named.collect()
}

/// Another copy of the block with which the role may change prints so that both stand out.
fn swap(here: &Situation<'_>, looked: &Looked, clash: &Clash, side: usize) -> Option<String> {
    let (block, copy) = clash.copy?;
    let role = clash.roles[side];
    let ours = clash.prints[side];
    let beside = |copy: u32| looked.beside(here, Some((block, copy)), role);
    let stands = |print: PrintId, others: &BTreeSet<PrintId>| {
        others.iter().all(|&other| looked.sight.pair(print, other) == Pair::Fine)
    };
    let here_beside = beside(copy);
    let sets = here.demand.sets.iter().zip(&here.outcome.plan.prints);
    // A set of loose pieces changes places with a piece of another copy in the same way.
    let others = sets.filter(|(set, _)| set.role == role);
    let found =
        others.filter_map(|(set, print)| Some((set.block?, (*print)?))).find(|&((kind, other), theirs)| {
            kind == block && other != copy && stands(theirs, &here_beside) && stands(ours, &beside(other))
        });
    found.map(|((kind, other), _)| words::copy_name(here, kind, other))
}

/// What to buy: the values of which any print would stand out, with the colours this role has elsewhere.
fn purchase(
    here: &Situation<'_>,
    looked: &Looked,
    role: RoleId,
    beside: &BTreeSet<PrintId>,
    fine: &dyn Fn(PrintId) -> bool,
) -> Option<String> {
    if here.outcome.verdict == Verdict::Impossible && beside.is_empty() {
        return None;
    }
    let stands = |value: Value| {
        let grey = Color::grey_of(lightness_of_word(value));
        let far = |other: &PrintId| {
            looked
                .sight
                .color(*other)
                .is_some_and(|color| contrast(grey, color) >= looked.sight.thresholds.contrast)
        };
        beside.iter().all(far)
    };
    let values = [(Value::Light, "light"), (Value::Medium, "medium"), (Value::Dark, "dark")];
    let values: Vec<&str> =
        values.into_iter().filter(|(value, _)| stands(*value)).map(|(_, word)| word).collect();
    if values.is_empty() {
        return None;
    }
    let sets = here.demand.sets.iter().zip(&here.outcome.plan.prints).filter(|(set, _)| set.role == role);
    let serving: BTreeSet<PrintId> = sets.filter_map(|(_, print)| *print).collect();
    let groups: BTreeSet<&str> = serving
        .into_iter()
        .filter(|&print| fine(print))
        .filter_map(|print| Some(here.stash.print_color_group(print)?.name()))
        .collect();
    let groups: Vec<String> = groups.into_iter().take(3).map(str::to_owned).collect();
    let family =
        if groups.is_empty() { String::new() } else { format!(", such as {}", words::either(&groups)) };
    Some(format!("buy something {}{family}", values.join(" or ")))
}

fn repeats(here: &Situation<'_>, looked: &Looked) -> Vec<RepeatRow> {
    let mut by_number: BTreeMap<usize, Vec<PrintId>> = BTreeMap::new();
    for repeat in &looked.figures.repeats {
        by_number.entry(repeat.copies.len()).or_default().push(repeat.print);
    }
    let name = |print: &PrintId| here.stash.print(*print).name.clone();
    let rows = by_number.into_iter().rev().map(|(blocks, prints)| RepeatRow {
        blocks,
        number: prints.len(),
        prints: words::list(&prints.iter().map(name).collect::<Vec<_>>()),
    });
    rows.collect()
}
