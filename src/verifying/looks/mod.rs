//! How the quilt looks, counted once more: which sets meet, which of their prints look alike, how often prints come.
//!
//! Seams are measured from the drawing by other means than the planner's (`seams`), so lengths may differ by what rounding
//! takes; of everything else the figures must be the same. Of the formulas of colour only those of `color` are shared, which
//! are checked against published values.

mod meet;
mod seams;
mod sets;

use std::collections::{BTreeMap, BTreeSet};

use super::changes::Changes;
use super::fault::{Faults, Rule};
use super::record::{Looks, Record};
use super::wanted::share;
use crate::color::{self, Color};
use crate::fabric::Value;
use crate::pattern::Pattern;
use crate::stash::{PrintId, Stash};
use meet::Met;
use sets::Sets;

/// What a meeting counts whose seam is not drawn.
const MEETING: i64 = 1000;

/// Two roles with a print each.
type Seen<'a> = [(&'a str, &'a str); 2];

/// Two sides that look alike in a block copy or over the whole quilt, and whether they are of one print.
type Alike<'a> = (Option<(&'a str, u64)>, Seen<'a>, bool);

/// What was counted.
#[derive(Default)]
struct Counted<'a> {
    /// All, one print, blends, alike in value, not known.
    tally: [i64; 5],
    /// Block copy, both sides, and whether it is one print.
    clashes: BTreeSet<Alike<'a>>,
}

/// Checks what is said of looks.
pub(super) fn check(
    record: &Record,
    pattern: &Pattern,
    stash: &Stash,
    changes: &Changes,
    faults: &mut Faults,
) {
    let said = &record.looks;
    let sets = Sets::of(record, pattern);
    let met = meet::all(pattern);
    let by_seam = met.iter().all(|met| met.seam.is_some());
    let by = if by_seam { "seam" } else { "meeting" };
    if said.by != by {
        faults.add(Rule::Looks, "", format!("looks count by \"{by}\", not by \"{}\"", said.by));
        return;
    }
    let eyes = Eyes { stash, alike: record.rules.alike };
    let counted = count(&met, &sets, pattern, changes, &eyes, by_seam);
    compare_tally(said, &counted, by_seam, faults);
    compare_clashes(said, &counted, faults);
    let used: BTreeSet<&str> = record.sets.iter().map(|set| set.print.as_str()).collect();
    let (most, copies_alike, pieces_alike) = sets.repeats();
    for (what, said, found) in [
        ("prints", said.prints, used.len() as u64),
        ("largest_repeat", said.largest_repeat, most),
        ("copies_alike", said.copies_alike, copies_alike),
        ("pieces_alike", said.pieces_alike, pieces_alike),
    ] {
        if said != found {
            faults.add(Rule::Looks, "", format!("{what} is {said}, counted are {found}"));
        }
    }
}

fn count<'a>(
    met: &[Met],
    sets: &Sets<'a>,
    pattern: &'a Pattern,
    changes: &Changes,
    eyes: &Eyes<'_>,
    by_seam: bool,
) -> Counted<'a> {
    let mut counted = Counted::default();
    for met in met {
        let roles = met.roles.map(|role| pattern.roles[role].name.as_str());
        let weight = if by_seam { met.seam.unwrap_or(0) } else { MEETING };
        let copies: Vec<Option<(&str, u64)>> = match met.block {
            None => vec![None],
            Some(block) => {
                let block = &pattern.blocks[block];
                let made = changes.makes.get(&block.name).copied().unwrap_or(u64::from(block.make));
                // Units made many at a time may leave a copy no piece of its own.
                let has_piece =
                    |copy: &u64| block.pieces.iter().any(|line| share(line.count, made, *copy) > 0);
                (1..=made).filter(has_piece).map(|copy| Some((block.name.as_str(), copy))).collect()
            }
        };
        for copy in copies {
            let sides = roles.map(|role| sets.serving(copy, role));
            let mut looks = [0; 5];
            for &one in sides[0].iter().flatten() {
                for &other in sides[1].iter().flatten() {
                    let look = eyes.look(one, other);
                    looks[look] += 1;
                    if look == SAME || look == BLEND {
                        let mut seen = [(roles[0], one), (roles[1], other)];
                        seen.sort_unstable();
                        counted.clashes.insert((copy, seen, look == SAME));
                    }
                }
            }
            let all: i64 = looks.iter().sum();
            if all > 0 {
                counted.tally[0] += weight;
                for look in [SAME, BLEND, ALIKE, UNKNOWN] {
                    counted.tally[look] += weight * looks[look] / all;
                }
            }
        }
    }
    counted
}

/// Places in [`Counted::tally`]; what stands out is in none.
const FINE: usize = 0;
const SAME: usize = 1;
const BLEND: usize = 2;
const ALIKE: usize = 3;
const UNKNOWN: usize = 4;

/// Lengths of seam are compared up to what rounding takes.
fn compare_tally(said: &Looks, counted: &Counted<'_>, by_seam: bool, faults: &mut Faults) {
    let slack = if by_seam { counted.tally[0] / 500 } else { 0 };
    for (what, (said, found)) in
        ["all", "same", "blends", "alike", "not_known"].iter().zip(said.tally.iter().zip(counted.tally))
    {
        if i128::from(*said).abs_diff(i128::from(found)) > slack.unsigned_abs().into() {
            faults.add(Rule::Looks, "", format!("\"{what}\" of looks is {said}, counted are {found}"));
        }
    }
}

fn compare_clashes(said: &Looks, counted: &Counted<'_>, faults: &mut Faults) {
    let mut told: BTreeMap<_, u64> = BTreeMap::new();
    for clash in &said.clashes {
        let side = |at: usize| (clash.roles[at].as_str(), clash.prints[at].as_str());
        let mut seen = [side(0), side(1)];
        seen.sort_unstable();
        let copy = clash.block.as_deref().zip(clash.copy);
        *told.entry((copy, seen, clash.same)).or_default() += 1;
    }
    let place = |copy: &Option<(&str, u64)>| match copy {
        Some((block, copy)) => format!("{block} copy {copy}"),
        None => "the whole quilt".to_owned(),
    };
    for (key, times) in &told {
        let (copy, [one, other], _) = key;
        if !counted.clashes.contains(key) || *times > 1 {
            let message = format!(
                "{}: {} ({}) and {} ({}) are said to look alike, and {}",
                place(copy),
                one.1,
                one.0,
                other.1,
                other.0,
                if *times > 1 { "that is said twice" } else { "do not, or do not meet" }
            );
            faults.add(Rule::Looks, "", message);
        }
    }
    for key in counted.clashes.iter().filter(|key| !told.contains_key(*key)) {
        let (copy, [one, other], _) = key;
        let message =
            format!("{}: {} ({}) and {} ({}) look alike", place(copy), one.1, one.0, other.1, other.0);
        faults.add(Rule::Looks, "", message);
    }
}

/// Who looks, and when two prints count as alike.
pub(super) struct Eyes<'a> {
    pub(super) stash: &'a Stash,
    /// Contrast and difference in hundredths.
    pub(super) alike: [u64; 2],
}

impl Eyes<'_> {
    fn look(&self, one: &str, other: &str) -> usize {
        if one == other {
            return SAME;
        }
        let (Some(one), Some(other)) = (self.color(one), self.color(other)) else { return UNKNOWN };
        if u64::from(color::contrast(one, other)) >= self.alike[0] {
            FINE
        } else if u64::from(color::difference(one, other)) >= self.alike[1] {
            ALIKE
        } else {
            BLEND
        }
    }

    /// Contrast of two prints in hundredths.
    pub(super) fn contrast(&self, one: &str, other: &str) -> Option<u32> {
        Some(color::contrast(self.color(one)?, self.color(other)?))
    }

    /// Whether the stash has a print of this name.
    pub(super) fn holds(&self, print: &str) -> bool {
        self.stash.prints.iter().any(|held| held.name == print)
    }

    /// A code as it is; a word at the lightness of the value, where they say different things; a value as grey.
    fn color(&self, print: &str) -> Option<Color> {
        let print = PrintId(self.stash.prints.iter().position(|held| held.name == print)?);
        let lots = || self.stash.lots.iter().filter(|lot| lot.print == print);
        let value = lots().find_map(|lot| lot.value);
        let text = lots().find_map(|lot| lot.color.as_deref());
        // Light, medium and dark: the lightness a word stands for, and from where to where it goes, in tenths.
        let range = value.map(|value| match value {
            Value::Light => (850, 700..=1000),
            Value::Medium => (580, 450..=699),
            Value::Dark => (300, 0..=449),
        });
        match (text.and_then(color::find), range) {
            (None, None) => None,
            (None, Some((lightness, _))) => Some(Color::grey_of(lightness)),
            (Some(color), Some((lightness, range)))
                if !text.is_some_and(color::is_code) && !range.contains(&color.lightness()) =>
            {
                Some(color.at_lightness(lightness))
            }
            (Some(color), _) => Some(color),
        }
    }
}
