//! What the check can find wrong, as data: a rule, where it is broken, and the numbers.

use std::collections::BTreeMap;
use std::fmt;

use crate::diagnostic::limits::{ALIKE, grouped};
use crate::length::{Length, Units};

/// Declares [`Rule`] once, so that the list, the codes and the sentences cannot drift apart.
macro_rules! rules {
    ($($(#[$doc:meta])* $name:ident $code:literal $says:literal)*) => {
        /// A rule that a record must keep.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Rule {
            $(#[doc = $says] $name,)*
        }

        impl Rule {
            /// Every rule.
            pub const ALL: &'static [Rule] = &[$(Rule::$name,)*];

            /// Its stable code, such as `V301`.
            pub fn code(self) -> &'static str {
                match self {
                    $(Rule::$name => $code,)*
                }
            }

            /// What it asks, in one sentence.
            pub fn says(self) -> &'static str {
                match self {
                    $(Rule::$name => $says,)*
                }
            }
        }
    };
}

rules! {
    Json "V101" "plan.json is JSON."
    Format "V102" "plan.json is a plan of this format, version and unit."
    Field "V103" "Every field is present and of its kind."
    Inputs "V104" "The copies of the inputs are the ones the record names, and can be read."
    Methods "V105" "Every unit that may be made in several ways is listed with one that the pattern names."
    Files "V106" "The files beside plan.json are the ones it was written with."
    SheetLot "V201" "A sheet is of a lot in the stash, or of a purchase on the list."
    SheetPrint "V202" "A sheet has the print of its lot."
    SheetCut "V203" "A sheet is of the cut of its lot."
    SheetCopy "V204" "A lot has no more sheets than it counts."
    SheetTwice "V205" "No sheet is used twice."
    SheetSize "V206" "A sheet has the size of its lot, less the allowance once off the width and once off the length; the two are not swapped."
    SheetEmpty "V207" "An opened sheet yields at least one piece."
    KeptBack "V208" "A lot the quilter keeps back is used only with leave."
    Outside "V301" "Pieces and leftovers lie on their sheet."
    Overlap "V302" "Pieces and leftovers do not overlap."
    UnknownPiece "V303" "The pattern asks for every piece."
    PieceSize "V304" "A piece has the size the pattern gives."
    Direction "V305" "A piece of a directional print is not turned, unless its role leaves the direction free."
    From "V306" "A piece comes from a cut of fabric its role allows."
    EdgeToEdge "V307" "Straight cuts from edge to edge free every piece."
    Only "V308" "A role takes only the prints that are left to it."
    Never "V309" "A role takes no print that is ruled out for it."
    CutOrder "V401" "Cuts are numbered 1, 2, 3 and so on."
    CutRegion "V402" "A cut goes through a region that exists by then, strictly inside it."
    CutResult "V403" "The cuts leave exactly the pieces and leftovers listed."
    LeftoverArea "V404" "Pieces and leftovers make up the whole sheet."
    CutText "V405" "The text of a cut says where it is cut."
    PieceCount "V501" "Every piece is cut once, unless its set is short; none is spare."
    SetList "V502" "Every set is listed once: with its print, or as short."
    Matching "V503" "What must match comes from one print, the one listed."
    Placement "V504" "What the quilter has decided is kept."
    Totals "V505" "The totals by piece letter close."
    Different "V506" "Roles that must differ share no print in a block copy."
    AtMost "V507" "No more copies of a block take one print for a role than may."
    Contrast "V508" "A role stands out from what the pattern says, as much as it says."
    Used "V601" "The length used of a sheet is right."
    Opened "V602" "The fabric opened is the sum over the sheets."
    Bound "V603" "The bound does not pass the fabric opened, which is claimed to be least only when equal."
    Upright "V604" "What is said of keeping the up of prints has the prints and figures of the plan."
    Preferences "V605" "Leftovers, layouts, ruler settings and stages are those of the sheets."
    PreferenceBound "V606" "What is claimed of the best leftovers and layouts is not past the plan, which is claimed to be best only when equal."
    Verdict "V701" "It fits just when nothing is short."
    Reason "V702" "Every statement to a person says something, and a failure has a reason."
    Proof "V703" "A reason that can be recomputed holds."
    ProofAgain "V704" "What a reason weighs is shown again."
    EveryWay "V705" "It does not fit only if every way of making the units is refused that suits the decisions."
    WorkEnded "V706" "The work this check allows is enough to show again what a reason weighs."
    Change "V801" "A change applies to these inputs, is made use of, and stands only in an alternative."
    Purchases "V802" "What is bought is what the changes list, and is cut from."
    Cost "V803" "The cost follows from the prices."
    Alternative "V804" "An alternative changes something, fits, and is made under the rules of the run."
    Places "V901" "Every place of the quilt has one copy of its own kind of block, once everything is cut."
    PlaceKept "V902" "A block copy that the quilter has placed lies there."
    Crowding "V903" "How crowded like blocks lie and which two are closest is right; it is best only at its bound."
    Looks "V904" "What is said of looks has the figures of the plan, and names every two prints that look alike where they meet."
}

/// One broken rule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The rule.
    pub rule: Rule,
    /// Where: nothing for the whole plan, else such as `sheet 3 (teal dot, lot 2, copy 1)`.
    pub place: String,
    /// What is wrong, with the numbers.
    pub message: String,
    /// The proof that does not hold, where it is one.
    pub claim: Option<Claim>,
}

/// What a record proves by weights; each by its index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Claim {
    /// One of the reasons.
    Reason(usize),
    /// One of the combinations of ways of making units that are refused.
    Ways(usize),
}

impl Claim {
    /// Where it stands.
    pub(super) fn place(self) -> String {
        match self {
            Claim::Reason(index) => format!("reason {}", index + 1),
            Claim::Ways(index) => format!("refused ways {}", index + 1),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "plan.json")?;
        if !self.place.is_empty() {
            write!(out, ", {}", self.place)?;
        }
        write!(out, ": {}  [{}]", self.message, self.rule.code())
    }
}

/// Gathers faults; each part of the check goes on after the first. Of each rule the first [`ALIKE`] are kept and the others
/// counted, so that a record that is wrong all through does not fill the memory.
pub(super) struct Faults {
    whose: String,
    list: Vec<Fault>,
    counts: BTreeMap<Rule, usize>,
}

impl Faults {
    /// Faults of the plan called `whose`; empty for the plan itself.
    pub(super) fn of(whose: &str) -> Faults {
        Faults { whose: whose.to_owned(), list: Vec::new(), counts: BTreeMap::new() }
    }

    /// Adds one.
    pub(super) fn add(&mut self, rule: Rule, place: &str, message: String) {
        self.push(rule, place, message, None);
    }

    /// Adds that a proof does not hold.
    pub(super) fn doubt(&mut self, claim: Claim, rule: Rule, message: String) {
        self.push(rule, &claim.place(), message, Some(claim));
    }

    fn push(&mut self, rule: Rule, place: &str, message: String, claim: Option<Claim>) {
        let place = match (self.whose.is_empty(), place.is_empty()) {
            (true, _) => place.to_owned(),
            (false, true) => self.whose.clone(),
            (false, false) => format!("{}, {place}", self.whose),
        };
        self.keep(Fault { rule, place, message, claim });
    }

    /// Keeps a fault, or counts it. A proof that does not hold is always kept: what it proves is left out by its index.
    fn keep(&mut self, fault: Fault) {
        let count = self.counts.entry(fault.rule).or_insert(0);
        *count += 1;
        if *count <= ALIKE || fault.claim.is_some() {
            self.list.push(fault);
        }
    }

    /// Adds those of another part.
    pub(super) fn join(&mut self, others: Faults) {
        for (rule, count) in &others.counts {
            let kept = others.list.iter().filter(|fault| fault.rule == *rule).count();
            *self.counts.entry(*rule).or_insert(0) += count - kept;
        }
        others.list.into_iter().for_each(|fault| self.keep(fault));
    }

    /// How many so far.
    pub(super) fn count(&self) -> usize {
        self.counts.values().sum()
    }

    /// All of them, in the order found, then how many more there were of each rule.
    pub(super) fn into_list(self) -> Vec<Fault> {
        let Faults { mut list, counts, .. } = self;
        for (rule, count) in counts {
            let kept = list.iter().filter(|fault| fault.rule == rule).count();
            if count > kept {
                let message =
                    format!("and {} more like it", grouped(u64::try_from(count - kept).unwrap_or(u64::MAX)));
                list.push(Fault { rule, place: String::new(), message, claim: None });
            }
        }
        list
    }
}

/// A number of ticks as a person reads it.
pub(super) fn say(ticks: i64) -> String {
    Length::from_ticks(ticks).show(Units::Inches)
}
