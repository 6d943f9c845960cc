//! A plan, the reasons why there is none, and changes to what was asked, as plain data.

use crate::cutting::{Layout, Sheet};
use crate::fabric::{Cut, Price};
use crate::length::Length;
use crate::pattern::demand::{PieceId, SetId};
use crate::pattern::rules::Waived;
use crate::pattern::unit::Method;
use crate::pattern::{BlockId, RoleId};
use crate::stash::{LotId, PrintId};

/// Does it fit?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Every piece is placed.
    Fits,
    /// Proved: no plan places every piece.
    Impossible,
    /// The work budget ended before either was shown.
    Undecided,
}

/// A reason in numbers a person can check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reason {
    /// Stable word for the kind of reason, such as `area` or `matching`.
    pub code: &'static str,
    /// The sentence, lengths already as text.
    pub text: String,
    /// What lets it be proved again by whoever can measure what one print serves; `None` where it rests on more
    /// than that.
    pub weighing: Option<Weighing>,
    /// Where no weights prove all of it: cases that are proved one by one.
    pub cases: Vec<Case>,
}

impl Reason {
    /// One that is only said.
    pub(crate) fn new(code: &'static str, text: String) -> Reason {
        Reason { code, text, weighing: None, cases: Vec::new() }
    }
}

/// Weights at which what must be cut weighs more than all fabric can serve.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Weighing {
    /// What has which weight.
    pub items: Vec<(i64, Vec<Weighed>)>,
    /// The weight of all of it.
    pub needed: i64,
    /// However all prints are cut, they serve no more weight.
    pub most: i64,
}

/// One of the cases into which a refusal is divided; after a split come all cases within it, then all beyond it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Case {
    /// Either these prints serve at most so many of these things, or more.
    Split {
        /// The things, each served by one print.
        things: Vec<Weighed>,
        /// The prints, with all their sheets.
        prints: Vec<PrintId>,
        /// Single sheets of other prints, where nothing ties the pieces of a print together.
        sheets: Vec<OneSheet>,
        /// So many, or fewer.
        most: u32,
    },
    /// Weights refute it.
    Refuted {
        /// For each split that leads here, the outermost first: what a thing of it weighs less where it is served by the
        /// prints that the split bounds, these in the first of its two cases, all others in the second.
        prices: Vec<i64>,
        /// The weights, `most` with what the bounds let through at these prices.
        weighing: Weighing,
    },
}

/// One of the sheets of a print that are alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OneSheet {
    /// The print.
    pub print: PrintId,
    /// As it was bought.
    pub cut: Cut,
    /// Squared up.
    pub sheet: Sheet,
    /// Which of them, from 1.
    pub number: u32,
}

/// One thing that is weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weighed {
    /// A set, which one print serves whole.
    Set(SetId),
    /// A piece by itself.
    Piece(PieceId),
}

/// Things that together do not fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// The things; proved: even with everything else given up they do not fit.
    pub things: Vec<Thing>,
    /// Shown by plans: without any one of them the others fit.
    pub minimal: bool,
    /// Whether without any one of them the whole quilt fits, but for what earlier conflicts set aside.
    pub whole: Verdict,
}

/// One thing that was asked for and can be given up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Thing {
    /// The pieces of a role in a block, all copies.
    Asked {
        /// The block.
        block: BlockId,
        /// The role.
        role: RoleId,
    },
    /// One print for a role in each copy of a block, or over the whole quilt.
    Matching {
        /// The block; `None` for the whole quilt.
        block: Option<BlockId>,
        /// The role.
        role: RoleId,
    },
    /// The cuts of fabric that a role is limited to.
    From {
        /// The role.
        role: RoleId,
    },
    /// What the quilter decided.
    Decided {
        /// Row of the placements, from 0.
        row: usize,
    },
    /// A lot is kept back.
    Kept {
        /// The lot.
        lot: LotId,
    },
    /// A rule between fabrics.
    Rule {
        /// Which.
        rule: Waived,
    },
    /// A print keeps its up.
    Up {
        /// The print.
        print: PrintId,
    },
}

/// Sets to prints, pieces to sheets.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    /// The print of each set, by [`SetId`]; `None` when the set is short.
    pub prints: Vec<Option<PrintId>>,
    /// Every opened sheet, in order of lot and copy.
    pub sheets: Vec<SheetPlan>,
    /// Sets not placed.
    pub short: Vec<Short>,
}

/// One opened sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetPlan {
    /// The lot it is a sheet of.
    pub lot: LotId,
    /// Which of the lot's sheets, from 1.
    pub copy: u32,
    /// How it is cut; the leaves name pieces by `PieceId`. Its size is the sheet after squaring up.
    pub layout: Layout,
    /// Length counted as opened: all of it, or for yardage the length up to the last piece.
    pub used: Length,
    /// Of yardage cut in strips: the shortest cutting known that is not.
    pub instead_of: Option<Tighter>,
}

/// A cutting of the same pieces from the same sheet on less or equal length, with cuts in any order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tighter {
    /// The length it uses.
    pub used: Length,
    /// Its cuts.
    pub cuts: usize,
}

/// A set that is not placed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Short {
    /// The set.
    pub set: SetId,
    /// Why, in a few words.
    pub reason: String,
}

/// Fabric opened: area times weight, in square ticks times hundredths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Fabric {
    /// Of this plan.
    pub opened: i128,
    /// No complete plan opens less than this.
    pub bound: i128,
}

/// One change to what the quilter asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A placed set takes another print than the quilter decided.
    OtherPrint {
        /// The set.
        set: SetId,
        /// What was decided.
        decided: PrintId,
    },
    /// A lot the quilter keeps back is used.
    Release {
        /// The lot.
        lot: LotId,
    },
    /// In these block copies the role's pieces may come from several prints.
    MixedPrints {
        /// The block.
        block: BlockId,
        /// The copies, from 1.
        copies: Vec<u32>,
        /// The role.
        role: RoleId,
    },
    /// A role that asks for one print over the whole quilt takes two; each block copy takes one of them.
    TwoPrints {
        /// The role.
        role: RoleId,
        /// The prints.
        prints: [PrintId; 2],
    },
    /// A rule between fabrics is given up.
    Waive {
        /// Which.
        rule: Waived,
    },
    /// A unit is made by a method that the pattern does not name for it.
    OtherMethod {
        /// Its block.
        block: BlockId,
        /// Its index among the block's units.
        unit: usize,
        /// The method.
        method: Method,
    },
    /// The quilt is made in another size the pattern comes in.
    OtherSize {
        /// Index of the size.
        size: usize,
    },
    /// Fewer copies of a block are made.
    FewerCopies {
        /// The block.
        block: BlockId,
        /// As the pattern says.
        was: u32,
        /// As this alternative makes.
        make: u32,
    },
    /// Fabric is bought.
    Buy {
        /// The print: one already held, or a new one.
        print: PrintId,
        /// How it comes.
        cut: Cut,
        /// Width of one.
        width: Length,
        /// Length of one.
        length: Length,
        /// How many.
        count: u32,
        /// Price of one, if known.
        price: Option<Price>,
    },
}
